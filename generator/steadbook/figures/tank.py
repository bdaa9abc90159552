"""What is in a propane tank, what of it is usable, how much a delivery can bring."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from steadbook.errors import OutOfRange
from steadbook.figures._declare import require, units
from steadbook.figures._factors import GALLON, INCH, Number
from steadbook.figures.propane import REFERENCE_TEMPERATURE, liquid_density, volume_factor

FILL_LIMIT = 80.0  # percent of water capacity; the everyday filling rule after NFPA 58


class Tank(NamedTuple):
    """Nominal sizes of a tank; makers differ by a few percent, so a user may give their own."""

    water_capacity: float  # L
    diameter: float  # mm, outside
    length: float  # mm, overall


def _nominal(gallons: float, diameter: float, length: float) -> Tank:
    return Tank(gallons * GALLON, diameter * INCH, length * INCH)


NOMINAL_TANKS = {
    "120 gal horizontal": _nominal(120, 24, 66),
    "120 gal vertical": _nominal(120, 30, 53),
    "250 gal": _nominal(250, 32, 87),
    "320 gal": _nominal(320, 30, 114),
    "500 gal": _nominal(500, 38, 118),
    "1000 gal": _nominal(1000, 41, 191),
}
"""Source: propane council, tank type and size table; seen in a dealer's reprint."""


def _require_gauge(gauge: Number, highest: float) -> None:
    require((gauge >= 0) & (gauge <= highest), "tank gauge", gauge, "%", f"from 0 to {highest:g}")


def _require_water_capacity(water_capacity: Number) -> None:
    require(water_capacity > 0, "water capacity", water_capacity, "L", "more than 0")


@units(water_capacity="L", gauge="%", highest="%", returns="L")
def contents(water_capacity: Number, gauge: Number, highest: float = FILL_LIMIT) -> Any:
    """Liquid in the tank at the temperature it has now.

    Parameters
    ----------
    water_capacity : float or array, shape (n,)
        Volume of the empty tank, as its data plate gives it; > 0. [L]
    gauge : float or array, shape (n,)
        Reading of the level gauge, 0 to `highest`. [%]
    highest : float
        Highest reading believed; a properly filled tank may pass 80 when its liquid warms,
        so give 95 for a tank in summer sun. [%]

    Returns
    -------
    float or array, shape (n,)
        Liquid propane, as it stands. [L]

    Raises
    ------
    OutOfRange
        No capacity, or a reading below 0 or above `highest`.

    Examples
    --------
    >>> round(contents(1892.7, 40.0), 1)     # 500 gal tank: 200 gal
    757.1

    Source: definition; filling rule of 80 % after NFPA 58, common practice of the trade.
    """
    _require_water_capacity(water_capacity)
    _require_gauge(gauge, highest)
    return water_capacity * gauge / 100.0


@units(
    water_capacity="L",
    gauge="%",
    temperature="degC",
    reference="degC",
    highest="%",
    returns="L",
)
def contents_at_reference(
    water_capacity: Number,
    gauge: Number,
    temperature: Number,
    reference: Number = REFERENCE_TEMPERATURE,
    highest: float = FILL_LIMIT,
) -> Any:
    """Liquid in the tank, stated at the temperature at which fuel is sold.

    Parameters
    ----------
    water_capacity : float or array, shape (n,)
        Volume of the empty tank; > 0. [L]
    gauge : float or array, shape (n,)
        Reading of the level gauge, 0 to `highest`. [%]
    temperature : float or array, shape (n,)
        Temperature of the liquid; after a steady day, that of the air. [degC]
    reference : float
        Temperature at which the volume is stated; 60 F unless said. [degC]
    highest : float
        Highest reading believed, as in `contents`. [%]

    Returns
    -------
    float or array, shape (n,)
        Liquid propane at the reference temperature; pure propane. [L]

    Raises
    ------
    OutOfRange
        As `contents`; or a temperature outside -60 to 60 degC.

    Examples
    --------
    >>> round(float(contents_at_reference(1892.7, 40.0, -17.7778)), 0)   # 200 gal at 0 F
    824.0

    Source: definition (the mass stays), with the density of `propane.liquid_density`.
    """
    return contents(water_capacity, gauge, highest) * volume_factor(temperature, reference)


@units(water_capacity="L", gauge="%", reserve="%", highest="%", returns="L")
def usable_fuel(
    water_capacity: Number, gauge: Number, reserve: Number = 20.0, highest: float = FILL_LIMIT
) -> Any:
    """Liquid above the reserve mark, at the temperature it has now.

    Parameters
    ----------
    water_capacity : float or array, shape (n,)
        Volume of the empty tank; > 0. [L]
    gauge : float or array, shape (n,)
        Reading of the level gauge, 0 to `highest`. [%]
    reserve : float or array, shape (n,)
        Reading at which the owner wants the next delivery there, 0 to 80. [%]
    highest : float
        Highest reading believed, as in `contents`. [%]

    Returns
    -------
    float or array, shape (n,)
        Fuel down to the mark; 0 when the level is below it. [L]

    Raises
    ------
    OutOfRange
        As `contents`; or a reserve outside 0 to 80 %.

    Examples
    --------
    >>> round(float(usable_fuel(1892.7, 80.0)), 1)     # 300 gal of a 500 gal tank
    1135.6

    Source: definition; a mark of 20 to 30 % is common practice, no source.
    """
    require((reserve >= 0) & (reserve <= FILL_LIMIT), "reserve mark", reserve, "%", "from 0 to 80")
    above = contents(water_capacity, gauge, highest) - water_capacity * reserve / 100.0
    return np.maximum(above, 0.0)


@units(water_capacity="L", gauge="%", fill_to="%", highest="%", returns="L")
def delivery(
    water_capacity: Number,
    gauge: Number,
    fill_to: Number = FILL_LIMIT,
    highest: float = FILL_LIMIT,
) -> Any:
    """Fuel a delivery can bring before the tank is at its filling limit.

    Parameters
    ----------
    water_capacity : float or array, shape (n,)
        Volume of the empty tank; > 0. [L]
    gauge : float or array, shape (n,)
        Reading of the level gauge before the delivery, 0 to `highest`. [%]
    fill_to : float or array, shape (n,)
        Level after it, above 0 and at most 80. [%]
    highest : float
        Highest reading believed, as in `contents`. [%]

    Returns
    -------
    float or array, shape (n,)
        Room for liquid; 0 when the level is already there. [L]

    Raises
    ------
    OutOfRange
        As `contents`; or a fill above 80 %, which leaves no room for warming liquid.

    Examples
    --------
    >>> round(float(delivery(1892.7, 25.0)), 1)
    1041.0

    Source: definition; filling rule of 80 % after NFPA 58, common practice of the trade.
    """
    require((fill_to > 0) & (fill_to <= FILL_LIMIT), "fill", fill_to, "%", "above 0, at most 80")
    room = water_capacity * fill_to / 100.0 - contents(water_capacity, gauge, highest)
    return np.maximum(room, 0.0)


@units(fill="%", filled_at="degC", temperature="degC", returns="%")
def warmed_fill(fill: Number, filled_at: Number, temperature: Number) -> Any:
    """Level of the same fuel when the liquid has taken another temperature.

    Parameters
    ----------
    fill : float or array
        Level when it was read, above 0 and at most 80. [%]
    filled_at : float or array
        Temperature of the liquid then. [degC]
    temperature : float or array
        Temperature of the liquid now. [degC]

    Returns
    -------
    float or array
        Level now; at 100 and above the tank is full of liquid, its relief valve opens. [%]

    Raises
    ------
    OutOfRange
        A fill above 80 %, or a temperature outside -60 to 60 degC.

    Examples
    --------
    >>> round(float(warmed_fill(80.0, 4.4444, 54.4444)), 1)    # 40 F to 130 F
    95.0

    Source: definition (the mass stays); the steel's own growth, some 0.2 %, is left out.
    """
    require((fill > 0) & (fill <= FILL_LIMIT), "fill", fill, "%", "above 0, at most 80")
    return fill * liquid_density(filled_at) / liquid_density(temperature)


@units(water_capacity="L", returns="%")
def filling_density(water_capacity: float, underground: bool = False) -> float:
    """Largest mass of propane in a tank, as a share of the mass of water it holds at 60 F.

    Parameters
    ----------
    water_capacity : float
        Volume of the empty tank; > 0. [L]
    underground : bool
        Whether the tank is buried, where it stays cooler.

    Returns
    -------
    float
        Filling density for a specific gravity of 0.504 to 0.510. [%]

    Raises
    ------
    OutOfRange
        No capacity.

    Examples
    --------
    >>> filling_density(1892.7), filling_density(1892.7, underground=True)
    (42.0, 46.0)

    Source: Washington Administrative Code 296-307, Table U-4; the code of the place decides.
    """
    _require_water_capacity(water_capacity)
    if underground:
        return 46.0
    return 42.0 if water_capacity <= 1200 * GALLON else 45.0


@units(water_capacity="L", density_share="%", relative_density="", temperature="degC", returns="L")
def permitted_contents(
    water_capacity: Number,
    density_share: Number = 42.0,
    relative_density: Number = 0.510,
    temperature: Number = 40.0 / 9.0,
) -> Any:
    """Most liquid the filling density allows in a tank, at the temperature of the liquid.

    Parameters
    ----------
    water_capacity : float or array
        Volume of the empty tank; > 0. [L]
    density_share : float or array
        Filling density, from `filling_density`; above 0, at most 46. [%]
    relative_density : float or array
        Specific gravity of the liquid at 60 F, 0.50 to 0.60.
    temperature : float or array
        Temperature of the liquid; the rule sets dip tubes at 40 F. [degC]

    Returns
    -------
    float or array
        Liquid as measured at that temperature. [L]

    Raises
    ------
    OutOfRange
        No capacity, a share above 46 %, a specific gravity that is not propane's.

    Examples
    --------
    >>> round(float(permitted_contents(100.0)), 1)
    79.9

    Source: 29 CFR 1910.110(b)(19)(v).
    """
    _require_water_capacity(water_capacity)
    require(
        (density_share > 0) & (density_share <= 46),
        "filling density",
        density_share,
        "%",
        "above 0, at most 46",
    )
    require(
        (relative_density >= 0.5) & (relative_density <= 0.6),
        "specific gravity of propane",
        relative_density,
        "",
        "from 0.50 to 0.60",
    )
    at_reference = water_capacity * density_share / 100.0 / relative_density
    return at_reference / volume_factor(temperature)


HEADS = ("hemispherical", "ellipsoidal")


@units(diameter="mm", length="mm", returns="L")
def shell_capacity(diameter: Number, length: Number, heads: str = "hemispherical") -> Any:
    """Volume of a cylinder with two domed heads, from its outside measures.

    Parameters
    ----------
    diameter : float or array
        Outside diameter; > 0. [mm]
    length : float or array
        Overall length, heads included; at least the two heads. [mm]
    heads : str
        ``hemispherical`` or ``ellipsoidal`` (2:1); small tanks have the second.

    Returns
    -------
    float or array
        Volume; a few percent above the water capacity, since the steel is not taken off. [L]

    Raises
    ------
    OutOfRange
        A shell shorter than its heads, or heads of another kind.

    Examples
    --------
    >>> round(shell_capacity(38 * 25.4, 118 * 25.4) / 3.785411784)     # gal
    517

    Source: geometry.
    """
    if heads not in HEADS:
        raise OutOfRange("heads", heads, "", " or ".join(HEADS))
    depth = diameter / 2 if heads == "hemispherical" else diameter / 4
    require(diameter > 0, "tank diameter", diameter, "mm", "more than 0")
    require(length >= 2 * depth, "tank length", length, "mm", "at least the depth of both heads")
    area = np.pi / 4 * diameter**2  # mm2
    # A half ellipsoid holds two thirds of the cylinder around it.
    return area * (length - 2 * depth + 4 / 3 * depth) / 1e6
