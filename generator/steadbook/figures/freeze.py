"""Frost: how long a pipe or a room holds out, how deep the ground freezes, what heat tape uses.

WARNING: the times are for a sudden cold at a steady temperature and no draught. Wind, a gap in the
insulation or a cold corner shortens them; drain what must not burst.
"""

from __future__ import annotations

import math

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import Number

WATER_HEAT = 999.0 * 4187.0
"""Heat to warm water [J/(m3*K)]."""
FUSION_HEAT = 334000.0
"""Heat given off by freezing water [J/kg]. Source: handbook value, 144 Btu/lb."""
ICE_EXPANSION = 1000.0 / 916.7 - 1
"""Share by which freezing water swells: 9 %. Source: densities of water and ice at 0 degC."""

SURFACE_FACTOR = {
    "snow": 1.0, "shaded": 0.9, "concrete": 0.75, "asphalt": 0.7, "bare soil": 0.7, "turf": 0.5,
    "trees": 0.3,
}  # fmt: skip
"""Surface freezing index over air freezing index. Source: TM 5-852-4, table 4-1."""


@units(
    bore="mm",
    inner="mm",
    outer="mm",
    conductivity="W/(m*K)",
    water="degC",
    air="degC",
    film="W/(m2*K)",
    returns="h",
)
def pipe_time_to_freezing(
    bore: Number,
    inner: Number,
    outer: Number,
    conductivity: Number,
    water: Number,
    air: Number,
    film: Number = math.inf,
) -> Number:
    """Hours until standing water in a pipe reaches 0 degC; ice then begins to form.

    Parameters
    ----------
    bore : float or array
        Inside diameter of the pipe; > 0. [mm]
    inner : float or array
        Inside diameter of the insulation, the pipe's outside; at least the bore. [mm]
    outer : float or array
        Outside diameter of the insulation; at least the inner. [mm]
    conductivity : float or array
        Of the insulation: foam or fibre 0.04; > 0. [W/(m*K)]
    water : float or array
        Temperature of the water at first; 0 or more. [degC]
    air : float or array
        Temperature around the pipe; below 0. [degC]
    film : float or array
        Heat passing from surface to air: still indoor air 10; without it none is counted, which is
        the safe side, but a bare pipe then freezes at once. [W/(m2*K)]

    Returns
    -------
    float or array
        Time to the freezing point. [h]

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    >>> print(f"{pipe_time_to_freezing(52.5, 60.3, 136.5, 0.0433, 5.56, -27.8):.1f}")
    1.4

    Source: ASHRAE Fundamentals 2009, chapter 23, equation 1, seen in reprints.
    """
    require(np.asarray(bore) > 0, "bore", bore, "mm", "more than 0")
    require(np.asarray(water) >= 0, "water temperature", water, "degC", "0 or more")
    require(np.asarray(air) < 0, "air temperature", air, "degC", "below 0")
    require(np.asarray(inner) >= np.asarray(bore), "pipe outside", inner, "mm", "at least the bore")
    lost = _loss(inner, outer, conductivity, film)  # W/(m K)
    held = WATER_HEAT * np.pi / 4 * (bore / 1000) ** 2  # J/(m K)
    time: Number = held / lost * np.log((water - air) / (0.0 - air)) / 3600
    return time


def _loss(inner: Number, outer: Number, conductivity: Number, film: Number) -> Number:
    """Heat from a metre of insulated pipe for each degree [W/(m*K)]."""
    require(np.asarray(inner) > 0, "pipe outside", inner, "mm", "more than 0")
    thick = np.asarray(outer) >= np.asarray(inner)
    require(thick, "insulation outside", outer, "mm", "at least the pipe's outside")
    require(np.asarray(conductivity) > 0, "conductivity", conductivity, "W/(m*K)", "more than 0")
    require(np.asarray(film) > 0, "film", film, "W/(m2*K)", "more than 0")
    insulation = np.log(outer / inner) / (2 * np.pi * conductivity)
    surface = 1 / (film * np.pi * outer / 1000)
    with np.errstate(divide="ignore"):
        loss: Number = np.divide(1.0, insulation + surface)
    return loss


@units(
    inner="mm",
    outer="mm",
    conductivity="W/(m*K)",
    inside="degC",
    air="degC",
    film="W/(m2*K)",
    returns="W/m",
)
def pipe_heat_loss(
    inner: Number,
    outer: Number,
    conductivity: Number,
    inside: Number,
    air: Number,
    film: Number = math.inf,
) -> Number:
    """Heat an insulated pipe loses; heat tape must give more, with a tenth or two in hand.

    Parameters
    ----------
    inner : float or array
        Outside diameter of the pipe; > 0. [mm]
    outer : float or array
        Outside diameter of the insulation; more than the inner. [mm]
    conductivity : float or array
        Of the insulation; > 0. [W/(m*K)]
    inside : float or array
        Temperature to hold, usually 4. [degC]
    air : float or array
        Coldest temperature around the pipe. [degC]
    film : float or array
        Heat passing from surface to air; > 0, without it none is counted. [W/(m2*K)]

    Returns
    -------
    float or array
        Heat for each metre of pipe. [W/m]

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    >>> print(f"{pipe_heat_loss(60.3, 111.1, 0.039, 4.4, -23.3):.1f}")
    11.1

    Source: conduction through a cylinder; Process Heating, Jan 2006.
    """
    return _loss(inner, outer, conductivity, film) * (inside - air)


@units(power="W/m", length="m", hours="h", returns="kWh")
def heat_tape_energy(power: Number, length: Number, hours: Number) -> Number:
    """Energy a heat tape uses; a thermostat or a self-regulating tape uses less.

    WARNING: a crossed or covered tape can start a fire. Use one made for the pipe, on a
    ground-fault protected circuit, as its maker says.

    Parameters
    ----------
    power : float or array
        Rating; >= 0. [W/m]
    length : float or array
        Heated length; >= 0. [m]
    hours : float or array
        Time it is on; >= 0. [h]

    Returns
    -------
    float or array
        Energy. [kWh]

    Raises
    ------
    OutOfRange
        A negative value.

    Examples
    --------
    >>> heat_tape_energy(10.0, 20.0, 24.0)
    4.8

    Source: definition.
    """
    require(np.asarray(power) >= 0, "tape power", power, "W/m", "0 or more")
    require(np.asarray(length) >= 0, "tape length", length, "m", "0 or more")
    require(np.asarray(hours) >= 0, "time", hours, "h", "0 or more")
    return power * length * hours / 1000


@units(heat_loss="W/K", heat_capacity="kWh/K", returns="h")
def cooling_time(heat_loss: Number, heat_capacity: Number) -> Number:
    """Hours in which an unheated room loses 63 % of its warmth over the outside.

    Parameters
    ----------
    heat_loss : float or array
        Loss for each degree; > 0. [W/K]
    heat_capacity : float or array
        Heat kept by the building for each degree: about 0.02 to 0.1 a m2 of floor; > 0. [kWh/K]

    Returns
    -------
    float or array
        Time constant. [h]

    Raises
    ------
    OutOfRange
        A value of 0 or less.

    Examples
    --------
    >>> cooling_time(150.0, 4.5)
    30.0

    Source: definition.
    """
    require(np.asarray(heat_loss) > 0, "heat loss", heat_loss, "W/K", "more than 0")
    require(np.asarray(heat_capacity) > 0, "heat capacity", heat_capacity, "kWh/K", "more than 0")
    return heat_capacity * 1000 / heat_loss


@units(start="degC", end="degC", outside="degC", hours="h", returns="h")
def measured_cooling_time(start: Number, end: Number, outside: Number, hours: Number) -> Number:
    """Time constant of a room from one evening with the stove out.

    Parameters
    ----------
    start : float or array
        Inside temperature at first. [degC]
    end : float or array
        Inside temperature after the time; lower than at first, above outside. [degC]
    outside : float or array
        Mean temperature outside. [degC]
    hours : float or array
        Time between; > 0. [h]

    Returns
    -------
    float or array
        Time constant. [h]

    Raises
    ------
    OutOfRange
        Temperatures out of order, or no time.

    Examples
    --------
    >>> print(f"{measured_cooling_time(20.0, 14.0, -10.0, 6.0):.1f}")
    26.9

    Source: definition.
    """
    require(np.asarray(hours) > 0, "time", hours, "h", "more than 0")
    order = (np.asarray(start) > np.asarray(end)) & (np.asarray(end) > np.asarray(outside))
    require(order, "end temperature", end, "degC", "between outside and the first reading")
    time: Number = hours / np.log((start - outside) / (end - outside))
    return time


@units(start="degC", outside="degC", time_constant="h", limit="degC", returns="h")
def room_time_to_freezing(
    start: Number, outside: Number, time_constant: Number, limit: Number = 0.0
) -> Number:
    """Hours until an unheated room falls to 0 degC or another limit.

    Parameters
    ----------
    start : float or array
        Inside temperature when the heat stops; at least the limit. [degC]
    outside : float or array
        Steady temperature outside. [degC]
    time_constant : float or array
        From `cooling_time` or, better, `measured_cooling_time`; > 0. [h]
    limit : float or array
        Temperature not to fall under: pipes in an outside wall freeze while the room is at 4 or
        more. [degC]

    Returns
    -------
    float or array
        Time; infinite when it is not that cold outside. [h]

    Raises
    ------
    OutOfRange
        A room already under the limit, or no time constant.

    Examples
    --------
    >>> print(f"{room_time_to_freezing(20.0, -20.0, 30.0):.1f}")
    20.8

    Source: definition (one warm mass, cooling by Newton's law).
    """
    require(np.asarray(time_constant) > 0, "time constant", time_constant, "h", "more than 0")
    warm = np.asarray(start) >= np.asarray(limit)
    require(warm, "start temperature", start, "degC", "at least the limit")
    over = np.asarray(limit, dtype=float) - outside
    with np.errstate(divide="ignore", invalid="ignore"):
        fall = time_constant * np.log((start - outside) / over)
    time: Number = np.where(over > 0, fall, np.inf)[()]
    return time


@units(volume="L", returns="L")
def ice_volume(volume: Number) -> Number:
    """Room that water takes when it freezes: leave a tenth of every vessel empty.

    Parameters
    ----------
    volume : float or array
        Water; >= 0. [L]

    Returns
    -------
    float or array
        Ice. [L]

    Raises
    ------
    OutOfRange
        A negative volume.

    Examples
    --------
    >>> round(ice_volume(100.0))
    109

    Source: densities of water and ice at 0 degC, 1000 and 916.7 kg/m3.
    """
    require(np.asarray(volume) >= 0, "volume", volume, "L", "0 or more")
    return volume * (1 + ICE_EXPANSION)
