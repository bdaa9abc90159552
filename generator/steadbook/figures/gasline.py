"""Pressure lost in a low-pressure propane line, for a first look.

DANGER: a gas line that leaks or starves a burner can burn, explode or poison. A licensed fitter
sizes, tests and signs it under the local code; the printed table of that code wins over this.
"""

from __future__ import annotations

from typing import Any

from steadbook.errors import OutOfRange
from steadbook.figures._declare import require, units
from steadbook.figures._factors import BTU_PER_HOUR, FOOT, INCH, INCH_WATER, PSI, Number
from steadbook.figures.pipe import SCHEDULE_40

GAS_FACTOR = 1.2462  # C_r of undiluted propane: 0.00354 S T (Z / S)^0.152, S 1.50, Z 0.008 cP
GAS_HEAT = 2_488  # Btu/ft3 gross; LP-gas handbook table
USUAL_DROP = 0.5 * INCH_WATER  # kPa; from second-stage regulator to appliance
HIGHEST_PRESSURE = 1.5 * PSI  # kPa, gauge; the equation is for less

_CUBIC_FEET_PER_KILOWATT = 1 / (GAS_HEAT * BTU_PER_HOUR)


def _require_line(diameter: Number, length: Number) -> None:
    require(diameter > 0, "pipe bore", diameter, "mm", "more than 0")
    require(length > 0, "line length", length, "m", "more than 0")


@units(diameter="mm", length="m", drop="kPa", returns="kW")
def line_capacity(diameter: Number, length: Number, drop: Number = USUAL_DROP) -> Any:
    """Gross heat of the gas a line passes at a loss of pressure.

    Parameters
    ----------
    diameter : float or array
        Inside diameter of smooth pipe or tube; > 0. [mm]
    length : float or array
        Length to the farthest appliance, fittings as extra length; > 0. [m]
    drop : float or array
        Loss allowed, above 0 and below 10.3; 0.5 inch of water unless said. [kPa]

    Returns
    -------
    float or array
        Gross heat. [kW]

    Raises
    ------
    OutOfRange
        No bore or length, a drop that is not of a low-pressure line.

    Examples
    --------
    >>> round(line_capacity(15.8, 3.048))      # 1/2 inch, 10 ft: 291,000 Btu/h in the code
    86

    Source: International Fuel Gas Code 2018 and NFPA 54, low-pressure equation D = Q^0.381 /
    (19.17 (H / (C_r L))^0.206); equation from memory, tables 402.4(28), (30), (35) seen.
    """
    _require_line(diameter, length)
    require(
        (drop > 0) & (drop < HIGHEST_PRESSURE), "pressure drop", drop, "kPa", "above 0, below 10.34"
    )
    slope = drop / INCH_WATER / (GAS_FACTOR * length / FOOT)
    cubic_feet = (19.17 * diameter / INCH * slope**0.206) ** (1 / 0.381)
    return cubic_feet / _CUBIC_FEET_PER_KILOWATT


@units(load="kW", diameter="mm", length="m", returns="kPa")
def line_drop(load: Number, diameter: Number, length: Number) -> Any:
    """Pressure a low-pressure line loses when its appliances all burn.

    Parameters
    ----------
    load : float or array
        Gross heat of the gas drawn; > 0. [kW]
    diameter : float or array
        Inside diameter of smooth pipe or tube; > 0. [mm]
    length : float or array
        Length to the farthest appliance, fittings as extra length; > 0. [m]

    Returns
    -------
    float or array
        Loss of pressure. [kPa]

    Raises
    ------
    OutOfRange
        No load, bore or length; a loss past what a low-pressure line has.

    Examples
    --------
    >>> round(line_drop(40.0, 20.9, 12.0), 3)
    0.031

    Source: as `line_capacity`, solved for the loss.
    """
    _require_line(diameter, length)
    require(load > 0, "gas load", load, "kW", "more than 0")
    cubic_feet = load * _CUBIC_FEET_PER_KILOWATT
    slope = (cubic_feet**0.381 / (19.17 * diameter / INCH)) ** (1 / 0.206)
    drop = slope * GAS_FACTOR * length / FOOT * INCH_WATER
    require(
        drop < HIGHEST_PRESSURE,
        "pressure drop",
        drop,
        "kPa",
        "below 10.34, the end of the low-pressure equation",
    )
    return drop


@units(load="kW", length="m", drop="kPa", returns="")
def line_size(load: float, length: float, drop: float = USUAL_DROP) -> str:
    """Smallest schedule 40 pipe that feeds a load within a loss of pressure.

    Parameters
    ----------
    load : float
        Gross heat of the gas drawn; > 0. [kW]
    length : float
        Length to the farthest appliance, fittings as extra length; > 0. [m]
    drop : float
        Loss allowed; 0.5 inch of water unless said. [kPa]

    Returns
    -------
    str
        Nominal size in inches, a name of `pipe.SCHEDULE_40`.

    Raises
    ------
    OutOfRange
        As `line_capacity`; or a load no listed pipe feeds.

    Examples
    --------
    >>> line_size(40.0, 12.0)
    '1/2'

    Source: as `line_capacity`, tried from the smallest pipe up.
    """
    require(load > 0, "gas load", load, "kW", "more than 0")
    capacities = {name: line_capacity(bore, length, drop) for name, bore in SCHEDULE_40.items()}
    for name, capacity in capacities.items():
        if load <= capacity:
            return name
    raise OutOfRange("gas load", load, "kW", f"at most {max(capacities.values()):.0f} here")
