"""How fast a propane tank or cylinder can make gas in the cold.

Only heat through the wetted steel turns liquid into gas. A cold, low tank holds fuel it cannot
give: these tables of the LP-gas handbooks say when.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import (
    BTU_PER_HOUR,
    INCH,
    POUND,
    Number,
    celsius,
    fahrenheit,
)

FILL_FACTORS = {60: 100, 50: 90, 40: 80, 30: 70, 20: 60, 10: 45}
"""K of D x L x K by percent full. Source: LP-gas service handbooks; from memory, check. Two
published figures agree: 276,500 Btu/h of a 1,000 gal tank at 30 % and -10 F, and 33,000 against
50,400 Btu/h of one tank at 20 and 50 %."""

AIR_FACTORS = {-15: 0.25, -10: 0.50, -5: 0.75, 0: 1.00, 5: 1.25, 10: 1.50, 15: 1.75, 20: 2.00}
"""Multiplier by air temperature in F: (T + 20) / 20. Source: LP-gas vaporisation table in a
vehicle owner's handbook prints the rows -15, -10, -5, 0, 10 and 20 as percent."""

NO_SUPPLY_BELOW = celsius(-20.0)  # degC; the rule lets the liquid cool to -20 F

CYLINDER_TEMPERATURES = (0, 20, 40, 60, 70)  # F
CYLINDER_RATES = {  # lb in a 100 lb cylinder: Btu/h at those temperatures
    100: (113_000, 167_000, 214_000, 277_000, 300_000),
    90: (104_000, 152_000, 200_000, 247_000, 277_000),
    80: (94_000, 137_000, 180_000, 214_000, 236_000),
    70: (83_000, 122_000, 160_000, 199_000, 214_000),
    60: (75_000, 109_000, 140_000, 176_000, 192_000),
    50: (64_000, 94_000, 125_000, 154_000, 167_000),
    40: (55_000, 79_000, 105_000, 131_000, 141_000),
    30: (45_000, 66_000, 85_000, 107_000, 118_000),
    20: (36_000, 51_000, 68_000, 83_000, 92_000),
    10: (28_000, 38_000, 49_000, 60_000, 66_000),
}
"""Approximate continuous draw. Source: LP-gas handbook table, seen in a torch maker's reprint."""


@units(fill="%", returns="")
def fill_factor(fill: Number) -> Any:
    """K of the D x L x K rule.

    Parameters
    ----------
    fill : float or array
        Percent of water capacity, 0 to 100. [%]

    Returns
    -------
    float or array
        Factor between the rows of `FILL_FACTORS`; held at 100 above 60 %, 0 below 10 %, where
        the table ends and no supply is promised.

    Raises
    ------
    OutOfRange
        A fill outside 0 to 100 %.

    Examples
    --------
    >>> float(fill_factor(25.0))
    65.0

    Source: LP-gas service handbooks; from memory, check.
    """
    require((fill >= 0) & (fill <= 100), "fill", fill, "%", "from 0 to 100")
    rows = sorted(FILL_FACTORS)
    return np.interp(fill, rows, [FILL_FACTORS[row] for row in rows]) * (np.asarray(fill) >= 10)


@units(air="degC", returns="")
def air_factor(air: Number) -> Any:
    """Multiplier of the D x L x K rule for the temperature of the air.

    Parameters
    ----------
    air : float or array
        Temperature of the air around the tank, -60 to 60. [degC]

    Returns
    -------
    float or array
        1 at 0 F; held at 2 above 20 F, where the table ends; 0 at -20 F and below.

    Raises
    ------
    OutOfRange
        A temperature outside -60 to 60 degC.

    Examples
    --------
    >>> round(float(air_factor(-23.3333)), 2)     # -10 F
    0.5

    Source: LP-gas vaporisation table in a vehicle owner's handbook, read as (T + 20) / 20.
    """
    require((air >= -60) & (air <= 60), "air temperature", air, "degC", "from -60 to 60")
    return np.clip((fahrenheit(air) + 20.0) / 20.0, 0.0, 2.0)


@units(diameter="mm", length="mm", fill="%", air="degC", returns="kW")
def tank_supply(diameter: Number, length: Number, fill: Number, air: Number) -> Any:
    """Heat of the gas an upright or lying tank can make, hour after hour.

    Parameters
    ----------
    diameter : float or array, shape (n,)
        Outside diameter; > 0. [mm]
    length : float or array, shape (n,)
        Overall length; > 0. [mm]
    fill : float or array, shape (n,)
        Percent of water capacity, 0 to 100. [%]
    air : float or array, shape (n,)
        Temperature of the air around the tank. [degC]

    Returns
    -------
    float or array, shape (n,)
        Gross heat of the gas; 0 at -20 F and below, and below 10 % full. [kW]

    Raises
    ------
    OutOfRange
        A size of zero or less, a fill outside 0 to 100 %.

    Examples
    --------
    >>> round(float(tank_supply(38 * 25.4, 118 * 25.4, 20.0, -17.7778)), 1)    # 269,040 Btu/h
    78.8

    Source: LP-gas service handbooks, D x L x K in inches and Btu/h; from memory, check.
    """
    require(diameter > 0, "tank diameter", diameter, "mm", "more than 0")
    require(length > 0, "tank length", length, "mm", "more than 0")
    size = diameter / INCH * length / INCH
    return size * fill_factor(fill) * air_factor(air) * BTU_PER_HOUR


@units(diameter="mm", length="mm", fill="%", demand="kW", returns="degC")
def coldest_supply(diameter: Number, length: Number, fill: Number, demand: Number) -> Any:
    """Lowest air temperature at which a tank still feeds a demand.

    Parameters
    ----------
    diameter : float or array, shape (n,)
        Outside diameter; > 0. [mm]
    length : float or array, shape (n,)
        Overall length; > 0. [mm]
    fill : float or array, shape (n,)
        Percent of water capacity, 0 to 100. [%]
    demand : float or array, shape (n,)
        Gross heat of the gas wanted; > 0. [kW]

    Returns
    -------
    float or array, shape (n,)
        Air temperature; infinite where even the warmest row of the table, 20 F, is too
        little. [degC]

    Raises
    ------
    OutOfRange
        A size or demand of zero or less, a fill outside 0 to 100 %.

    Examples
    --------
    >>> round(float(coldest_supply(32 * 25.4, 87 * 25.4, 20.0, 24.478)), 1)     # -10 F
    -23.3

    Source: the D x L x K rule, solved for the temperature.
    """
    require(demand > 0, "gas demand", demand, "kW", "more than 0")
    at_zero = tank_supply(diameter, length, fill, celsius(0.0))
    with np.errstate(divide="ignore"):
        share = np.divide(demand, at_zero)
    return np.where(share <= 2.0, celsius(20.0 * share - 20.0), np.inf)[()]


@units(propane="kg", temperature="degC", returns="kW")
def cylinder_supply(propane: Number, temperature: Number) -> Any:
    """Heat of the gas one 100 lb cylinder can make, hour after hour.

    Parameters
    ----------
    propane : float or array, shape (n,)
        Propane in the cylinder, 0 to 45.36. [kg]
    temperature : float or array, shape (n,)
        Temperature of the cylinder, -60 to 60. [degC]

    Returns
    -------
    float or array, shape (n,)
        Gross heat of the gas, between the rows of the table; 0 below 10 lb or 0 F, where the
        table ends; held at its 70 F column above. [kW]

    Raises
    ------
    OutOfRange
        More than 100 lb, or less than nothing, in the cylinder.

    Examples
    --------
    >>> round(float(cylinder_supply(22.68, -17.7777)), 2)      # 50 lb at 0 F: 64,000 Btu/h
    18.76

    Source: LP-gas handbook table, vaporisation rate of 100 lb cylinders; seen in a reprint.
    """
    most = 100 * POUND
    require(
        (propane >= 0) & (propane <= most),
        "propane in a cylinder",
        propane,
        "kg",
        f"from 0 to {most:.2f}",
    )
    require(
        (temperature >= -60) & (temperature <= 60),
        "cylinder temperature",
        temperature,
        "degC",
        "from -60 to 60",
    )
    pounds, degrees = np.broadcast_arrays(
        np.asarray(propane) / POUND, fahrenheit(np.asarray(temperature))
    )
    rows = sorted(CYLINDER_RATES)
    # First along the temperature for each row of contents, then between the two rows.
    at_rows = np.stack(
        [np.interp(degrees, CYLINDER_TEMPERATURES, CYLINDER_RATES[row]) for row in rows]
    )
    below = np.clip(np.searchsorted(rows, pounds, side="right") - 1, 0, len(rows) - 2)
    part = np.clip((pounds - np.take(rows, below)) / 10.0, 0.0, 1.0)
    low = np.take_along_axis(at_rows, below[np.newaxis], 0)[0]
    high = np.take_along_axis(at_rows, below[np.newaxis] + 1, 0)[0]
    listed = (pounds >= 10 - 1e-9) & (degrees >= -0.5)  # half a degree for rounded readings
    return (listed * (low + part * (high - low)) * BTU_PER_HOUR)[()]


@units(supplies="kW", returns="kW")
def manifold_supply(supplies: Number) -> Any:
    """Heat of the gas of several tanks or cylinders feeding one line together.

    Parameters
    ----------
    supplies : array, shape (tanks,) or (tanks, n)
        What each can make; >= 0. [kW]

    Returns
    -------
    float or array, shape (n,)
        Their sum: equal pressure shares the draw by what each can make. [kW]

    Raises
    ------
    OutOfRange
        A negative supply.

    Examples
    --------
    >>> float(manifold_supply(np.array([18.8, 18.8])))
    37.6

    Source: definition; valves all open and lines without much loss.
    """
    supplies = np.asarray(supplies, dtype=float)
    require(supplies >= 0, "gas supply", supplies, "kW", "0 or more")
    return supplies.sum(axis=0)


@units(demand="kW", each="kW", returns="")
def units_needed(demand: Number, each: Number) -> Any:
    """How many like tanks or cylinders a demand needs on one manifold.

    Parameters
    ----------
    demand : float or array, shape (n,)
        Gross heat of the gas wanted; >= 0. [kW]
    each : float or array, shape (n,)
        What one can make at that cold and level; > 0. [kW]

    Returns
    -------
    float or array, shape (n,)
        Whole number of them.

    Raises
    ------
    OutOfRange
        Negative demand, or a unit that makes no gas.

    Examples
    --------
    >>> float(units_needed(40.0, 18.8))
    3.0

    Source: definition.
    """
    require(demand >= 0, "gas demand", demand, "kW", "0 or more")
    require(each > 0, "gas supply of one", each, "kW", "more than 0")
    return np.ceil(np.divide(demand, each) - 1e-9)


@units(demand="kW", supply="kW", returns="")
def feeds(demand: Number, supply: Number) -> Any:
    """Whether the tank can make gas as fast as it is drawn.

    Parameters
    ----------
    demand : float or array, shape (n,)
        Gross heat of the gas drawn; >= 0. [kW]
    supply : float or array, shape (n,)
        What the tank can make, from `tank_supply`; >= 0. [kW]

    Returns
    -------
    bool or array of bool, shape (n,)
        True when the supply is enough.

    Raises
    ------
    OutOfRange
        A negative demand or supply.

    Examples
    --------
    >>> feeds(40.0, 24.5)
    False

    Source: definition.
    """
    require(demand >= 0, "gas demand", demand, "kW", "0 or more")
    require(supply >= 0, "gas supply", supply, "kW", "0 or more")
    return supply >= demand
