"""Lifting and leading water: pump power and energy, starting surge, head lost in pipe, gravity feed.

Two methods for friction: Hazen-Williams (a fit for water near 16 degC in full pipe) and
Darcy-Weisbach (any temperature; cold water loses more).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import HORSEPOWER, KELVIN, Number

GRAVITY = 9.80665
WATER_DENSITY = 999.0
"""Density of water near 15 degC [kg/m3]; within 0.3 % from 0 to 25 degC."""

ROUGHNESS_COEFFICIENT = {"plastic": 150, "copper": 150, "new steel": 120, "old steel": 100}
"""Hazen-Williams C, usual handbook values."""

LOCKED_ROTOR_KVA_PER_HP = {
    "A": 3.15, "B": 3.55, "C": 4.0, "D": 4.5, "E": 5.0, "F": 5.6, "G": 6.3, "H": 7.1, "J": 8.0,
    "K": 9.0, "L": 10.0, "M": 11.2, "N": 12.5, "P": 14.0, "R": 16.0, "S": 18.0, "T": 20.0,
    "U": 22.4,
}  # fmt: skip
"""Apparent power a motor draws at standstill, upper bound by the code letter on its plate.

Source: NFPA 70 (NEC) table 430.7(B) after NEMA MG 1, seen in a reprint. V has no upper bound."""


@units(head="m", returns="kPa")
def water_pressure(head: Number) -> Number:
    """Pressure at the foot of a column of still water.

    Parameters
    ----------
    head : float or array
        Height of the water surface above the gauge. [m]

    Returns
    -------
    float or array
        Gauge pressure. [kPa]

    Examples
    --------
    >>> round(water_pressure(2.31 * 0.3048) / 6.894757, 2)
    1.0

    Source: definition.
    """
    return WATER_DENSITY * GRAVITY * head / 1000


@units(lift="m", pressure="kPa", friction="m", returns="m")
def total_head(lift: Number, pressure: Number = 0.0, friction: Number = 0.0) -> Number:
    """Head a pump works against.

    Parameters
    ----------
    lift : float or array
        From the pumping level in the well up to the tank. [m]
    pressure : float or array
        Gauge pressure at the tank; >= 0. [kPa]
    friction : float or array
        Head lost in the pipe; >= 0. [m]

    Returns
    -------
    float or array
        Total dynamic head. [m]

    Raises
    ------
    OutOfRange
        Negative pressure or friction.

    Examples
    --------
    >>> round(total_head(60.0, 345.0, 3.0), 1)
    98.2

    Source: definition.
    """
    require(np.asarray(pressure) >= 0, "pressure", pressure, "kPa", "0 or more")
    require(np.asarray(friction) >= 0, "friction head", friction, "m", "0 or more")
    return lift + pressure * 1000 / (WATER_DENSITY * GRAVITY) + friction


@units(head="m", efficiency="", returns="Wh/L")
def pumping_energy(head: Number, efficiency: Number) -> Number:
    """Energy to pump a litre of water.

    Parameters
    ----------
    head : float or array
        Total dynamic head; >= 0. [m]
    efficiency : float or array
        Of pump and motor together, 0 to 1: small well pumps 0.3 to 0.5.

    Returns
    -------
    float or array
        Energy at the motor's leads (the same number in kWh/m3). [Wh/L]

    Raises
    ------
    OutOfRange
        Negative head, or an efficiency outside (0, 1].

    Examples
    --------
    >>> round(pumping_energy(100.0, 0.4), 2)
    0.68

    Source: definition; the efficiencies are common practice, no source.
    """
    require(np.asarray(head) >= 0, "head", head, "m", "0 or more")
    good = (np.asarray(efficiency) > 0) & (np.asarray(efficiency) <= 1)
    require(good, "efficiency", efficiency, "", "above 0, at most 1")
    return WATER_DENSITY / 1000 * GRAVITY * head / 3600 / efficiency


@units(flow="L/min", head="m", efficiency="", returns="W")
def pump_power(flow: Number, head: Number, efficiency: Number) -> Number:
    """Power a pump draws.

    Parameters
    ----------
    flow : float or array
        Water delivered; >= 0. [L/min]
    head : float or array
        Total dynamic head; >= 0. [m]
    efficiency : float or array
        Of pump and motor together, above 0, at most 1.

    Returns
    -------
    float or array
        Running power. [W]

    Raises
    ------
    OutOfRange
        Negative flow or head, or an efficiency outside (0, 1].

    Examples
    --------
    >>> round(pump_power(40.0, 60.0, 0.45), 1)
    870.8

    Source: definition.
    """
    require(np.asarray(flow) >= 0, "flow", flow, "L/min", "0 or more")
    return flow * 60 * pumping_energy(head, efficiency)


@units(rated_power="kW", code_letter="", returns="kVA")
def starting_surge(rated_power: Number, code_letter: str) -> Number:
    """Largest apparent power a motor draws in the moment it starts across the line.

    Parameters
    ----------
    rated_power : float or array
        Shaft power on the data plate; > 0. [kW]
    code_letter : str
        Locked-rotor code letter on the data plate, A to U.

    Returns
    -------
    float or array
        Upper bound for the letter; a soft start or drive needs far less. [kVA]

    Raises
    ------
    OutOfRange
        A power of 0 or less, or a letter not in the table.

    Examples
    --------
    >>> round(starting_surge(0.746, "K"), 2)
    9.0

    Source: NFPA 70 (NEC) table 430.7(B), seen in a reprint.
    """
    require(np.asarray(rated_power) > 0, "rated power", rated_power, "kW", "more than 0")
    known = code_letter in LOCKED_ROTOR_KVA_PER_HP
    require(known, "code letter", code_letter, "", "one of A to H, J to N, P, R to U")
    return rated_power / HORSEPOWER * LOCKED_ROTOR_KVA_PER_HP[code_letter]


def _require_pipe(length: Number, diameter: Number) -> None:
    require(np.asarray(length) > 0, "pipe length", length, "m", "more than 0")
    require(np.asarray(diameter) > 0, "inside diameter", diameter, "mm", "more than 0")


@units(
    flow="L/min",
    length="m",
    diameter="mm",
    method="",
    coefficient="",
    roughness="mm",
    temperature="degC",
    returns="m",
)
def friction_head(
    flow: Number,
    length: Number,
    diameter: Number,
    method: str = "hazen-williams",
    coefficient: Number = 150.0,
    roughness: Number = 0.0015,
    temperature: Number = 10.0,
) -> Number:
    """Head lost to friction in straight pipe running full.

    Parameters
    ----------
    flow : float or array
        Water through the pipe; >= 0. [L/min]
    length : float or array
        Pipe length, with an allowance for fittings; > 0. [m]
    diameter : float or array
        *Inside* diameter; > 0. [mm]
    method : str
        ``hazen-williams`` or ``darcy``.
    coefficient : float or array
        Hazen-Williams C (`ROUGHNESS_COEFFICIENT`); > 0. Not used by ``darcy``.
    roughness : float or array
        Height of the wall's roughness, for ``darcy``: plastic 0.0015, steel 0.045. [mm]
    temperature : float or array
        Water temperature, for ``darcy``; 0 to 100. [degC]

    Returns
    -------
    float or array
        Head lost. [m]

    Raises
    ------
    OutOfRange
        A negative flow, a pipe of no size, or a method not named above.

    Examples
    --------
    >>> round(friction_head(10 * 3.785412, 100.0, 1.049 * 25.4, coefficient=100.0), 2)
    11.64
    >>> print(f"{friction_head(40.0, 100.0, 26.6, method='darcy'):.1f}")
    6.7

    Source: Hazen-Williams in SI (10.67 Q^1.852 L / C^1.852 d^4.8704); Darcy-Weisbach with the
    friction factor of the `fluids` library (laminar flow, else Clamond's solution of Colebrook).
    """
    _require_pipe(length, diameter)
    require(np.asarray(flow) >= 0, "flow", flow, "L/min", "0 or more")
    require(np.asarray(coefficient) > 0, "coefficient C", coefficient, "", "more than 0")
    if method == "darcy":
        return _darcy_head(flow, length, diameter, roughness, temperature)
    require(method == "hazen-williams", "method", method, "", "hazen-williams or darcy")
    cubic_metres, bore = flow / 60000, diameter / 1000  # m3/s, m: the formula's own units
    return 10.67 * length * cubic_metres**1.852 / (coefficient**1.852 * bore**4.8704)


def _viscosity(temperature: Number) -> Number:
    """Dynamic viscosity of water at a temperature in degC [Pa s]; within 3 % from 0 to 100 degC."""
    good = (np.asarray(temperature) >= 0) & (np.asarray(temperature) <= 100)
    require(good, "water temperature", temperature, "degC", "0 to 100")
    thinning: Number = 2.414e-5 * 10 ** (247.8 / (temperature + KELVIN - 140))
    return thinning


def _darcy_head(
    flow: Number, length: Number, diameter: Number, roughness: Number, temperature: Number
) -> Number:
    from fluids.friction import friction_factor

    bore = diameter / 1000
    velocity = flow / 60000 / (np.pi / 4 * bore**2)
    reynolds = WATER_DENSITY * velocity * bore / _viscosity(temperature)
    # friction factor has no meaning at rest: any positive Reynolds number gives 0 head there
    factor: Callable[..., Any] = np.vectorize(friction_factor, otypes=[float])
    f = factor(np.maximum(reynolds, 1e-9), roughness / diameter)
    head: Number = (f * length / bore * velocity**2 / (2 * GRAVITY))[()]
    return head


@units(
    head="m",
    length="m",
    diameter="mm",
    method="",
    coefficient="",
    roughness="mm",
    temperature="degC",
    returns="L/min",
)
def gravity_flow(
    head: Number,
    length: Number,
    diameter: Number,
    method: str = "hazen-williams",
    coefficient: Number = 150.0,
    roughness: Number = 0.0015,
    temperature: Number = 10.0,
) -> Number:
    """Flow at the open end of a gravity-fed pipe.

    Parameters
    ----------
    head : float or array
        Fall left to overcome friction: height of the source above the outlet, less the head that
        the outlet must still have; >= 0. [m]
    length : float or array
        Pipe length, with an allowance for fittings; > 0. [m]
    diameter : float or array
        *Inside* diameter; > 0. [mm]
    method : str
        ``hazen-williams`` or ``darcy``, as in `friction_head`.
    coefficient : float or array
        Hazen-Williams C; > 0.
    roughness : float or array
        Height of the wall's roughness, for ``darcy``. [mm]
    temperature : float or array
        Water temperature, for ``darcy``; 0 to 100. [degC]

    Returns
    -------
    float or array
        Steady flow, pipe full; an air lock at a high spot stops it. [L/min]

    Raises
    ------
    OutOfRange
        Negative head, a pipe of no size, or a method not named above.

    Examples
    --------
    >>> gpm = 3.785412
    >>> round(gravity_flow(11.63 * 0.3048, 30.48, 1.049 * 25.4, coefficient=100.0) / gpm, 1)
    10.0

    Source: Hazen-Williams solved for the flow; ``darcy`` by halving the interval.
    """
    _require_pipe(length, diameter)
    require(np.asarray(head) >= 0, "head", head, "m", "0 or more")
    require(np.asarray(coefficient) > 0, "coefficient C", coefficient, "", "more than 0")
    bore = diameter / 1000
    grade = head / length
    flow = 60000 * coefficient * bore ** (4.8704 / 1.852) * (grade / 10.67) ** (1 / 1.852)
    if method == "hazen-williams":
        return flow
    require(method == "darcy", "method", method, "", "hazen-williams or darcy")
    low, high = 0.0 * flow, 20.0 * flow  # brackets the root for any pipe of a house
    for _ in range(60):
        middle = (low + high) / 2
        loses_more = _darcy_head(middle, length, diameter, roughness, temperature) > head
        low, high = np.where(loses_more, low, middle), np.where(loses_more, middle, high)
    found: Number = ((low + high) / 2)[()]
    return found
