"""What solar panels give: from light on level ground to power, hour by hour and month by month.

The sky is taken as equally bright all over (isotropic); the beam comes round the horizon's hills
or not at all. Hours are solar time.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from steadbook.figures import clearness as clear
from steadbook.figures import sun
from steadbook.figures._declare import require, units

_STEPS = 60  # moments looked at in an hour; a low winter sun needs them at sunrise


@dataclass(frozen=True, slots=True)
class Array:
    """A group of panels that look the same way, on one charge controller.

    `rated_power` [kW] at 1000 W/m² and 25 degC; `tilt` from level and `azimuth` from north through
    east [deg]; `losses`: share lost to wire, dirt, mismatch, controller; `temperature_effect` on
    power [1/degC]; `noct`: cell temperature at 800 W/m² and 20 degC [degC]; `horizon`: hills and
    trees as (azimuth, height) pairs [deg]; `most_power` the controller lets through [kW].
    """

    rated_power: float
    tilt: float
    azimuth: float = 180.0
    losses: float = 0.14
    temperature_effect: float = -0.0035
    noct: float = 45.0
    horizon: tuple[tuple[float, float], ...] = ()
    most_power: float = float("inf")


@units(irradiance="W/m²", air_temperature="degC", noct="degC", returns="degC")
def cell_temperature(
    irradiance: ArrayLike, air_temperature: ArrayLike, noct: ArrayLike = 45.0
) -> Any:
    """Temperature of a panel's cells in light wind.

    Parameters
    ----------
    irradiance : float or array
        On the panel; >= 0. [W/m²]
    air_temperature : float or array
        [degC]
    noct : float or array
        Cell temperature at 800 W/m² and 20 degC, from the maker's sheet. [degC]

    Returns
    -------
    float or array
        [degC]

    Examples
    --------
    >>> float(cell_temperature(1000.0, -10.0))
    21.25

    Source: Ross 1976, nominal operating cell temperature.
    """
    rise = (np.asarray(noct, dtype=float) - 20.0) / 800.0
    return np.add(air_temperature, rise * np.asarray(irradiance, dtype=float))


@units(
    irradiance="W/m²", temperature="degC", rated_power="W", temperature_effect="1/degC",
    returns="W",
)  # fmt: skip
def direct_power(
    irradiance: ArrayLike,
    temperature: ArrayLike,
    rated_power: ArrayLike,
    temperature_effect: ArrayLike = -0.0035,
) -> Any:
    """Power at a panel's terminals before any loss.

    Parameters
    ----------
    irradiance : float or array
        On the panel; >= 0. [W/m²]
    temperature : float or array
        Of the cells. [degC]
    rated_power : float or array
        At 1000 W/m² and 25 degC. [W]
    temperature_effect : float or array
        Share of power gained a degree; negative. [1/degC]

    Returns
    -------
    float or array
        [W]

    Examples
    --------
    >>> round(float(direct_power(800.0, 50.0, 9000.0)), 1)
    6570.0

    Source: PVWatts version 5 (Dobos 2014, NREL/TP-6A20-62641).
    """
    light = np.asarray(irradiance, dtype=float)
    require(light >= 0, "irradiance", light, "W/m²", "0 or more")
    warmed = 1.0 + np.multiply(temperature_effect, np.asarray(temperature, dtype=float) - 25.0)
    return np.multiply(rated_power, light / 1000.0) * np.maximum(0.0, warmed)


@units(
    beam="W/m²", diffuse="W/m²", beam_ratio="", tilt="deg", albedo="", returns="W/m²",
)  # fmt: skip
def on_the_plane(
    beam: ArrayLike,
    diffuse: ArrayLike,
    beam_ratio: ArrayLike,
    tilt: ArrayLike,
    albedo: ArrayLike = 0.2,
) -> Any:
    """Light on a tilted plane under an even sky.

    Parameters
    ----------
    beam : float or array
        Straight from the sun, on level ground. [W/m²]
    diffuse : float or array
        From the whole sky, on level ground. [W/m²]
    beam_ratio : float or array
        Beam on the plane for each unit of beam on the level.
    tilt : float or array
        From level. [deg]
    albedo : float or array
        Share the ground throws back: 0.2 grass, 0.6 to 0.8 snow.

    Returns
    -------
    float or array
        Same kind as given: power or energy. [W/m²]

    Examples
    --------
    >>> round(float(on_the_plane(0.244, 0.796, 1.713, 60.0, 0.60)), 2)    # MJ/m²
    1.17

    Source: Liu & Jordan 1963 (Duffie & Beckman, eq. 2.15.1).
    """
    lean = np.cos(np.radians(np.asarray(tilt, dtype=float)))
    sky, ground = (1.0 + lean) / 2.0, (1.0 - lean) / 2.0
    level = np.add(beam, diffuse)
    return (
        np.multiply(beam, beam_ratio)
        + np.multiply(diffuse, sky)
        + np.multiply(level, albedo) * ground
    )


@units(horizon="deg", azimuth="deg", returns="deg")
def horizon_height(horizon: Sequence[tuple[float, float]], azimuth: ArrayLike) -> Any:
    """Height of the hills in a direction, straight between the points measured.

    Parameters
    ----------
    horizon : sequence of (azimuth, height)
        Any order; none for a level horizon. [deg]
    azimuth : float or array
        [deg]

    Returns
    -------
    float or array
        [deg]

    Examples
    --------
    >>> float(horizon_height([(90.0, 10.0), (270.0, 20.0)], 0.0))
    15.0

    Source: definition.
    """
    if not horizon:
        return np.zeros(np.shape(azimuth))
    bearings, heights = np.array(sorted(horizon), dtype=float).T
    return np.interp(np.asarray(azimuth, dtype=float), bearings, heights, period=360.0)


@units(array="", latitude="deg", day="", returns="")
def beam_ratio(array: Array, latitude: float, day: float) -> NDArray[np.float64]:
    """Beam on the array for each unit of beam on level ground, for each hour of a day.

    Parameters
    ----------
    array : Array
        Its tilt, azimuth and horizon count.
    latitude : float
        [deg]
    day : float
        Day of the year.

    Returns
    -------
    array, shape (24,)
        Mean over each solar hour; 0 by night and behind the hills.

    Examples
    --------
    >>> level = beam_ratio(Array(1.0, tilt=0.0), 40.0, 51)
    >>> float(level[12]), float(level[0])
    (1.0, 0.0)

    Source: Duffie & Beckman, eq. 2.14.6, the hour's mean.
    """
    moments = (np.arange(24 * _STEPS) + 0.5) / _STEPS
    angle, dec = 15.0 * (moments - 12.0), sun.declination(day)
    height = sun.elevation(latitude, dec, angle)
    hills = horizon_height(array.horizon, sun.sun_azimuth(latitude, dec, angle))
    facing = sun.incidence(latitude, dec, angle, array.tilt, array.azimuth)
    seen = np.where((height > 0) & (height >= hills), np.maximum(0.0, facing), 0.0)
    level = np.maximum(0.0, np.sin(np.radians(height)))
    on_plane, on_level = (part.reshape(24, _STEPS).mean(axis=1) for part in (seen, level))
    ratio: NDArray[np.float64] = np.zeros(24)
    np.divide(on_plane, on_level, out=ratio, where=on_level > 1e-9)
    return ratio


@units(latitude="deg", day="", clearness="", returns="kWh/m²")
def hourly_light(
    latitude: float, day: float, clearness: ArrayLike
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Beam and diffuse light on level ground for each hour of a day.

    Parameters
    ----------
    latitude : float
        [deg]
    day : float
        Day of the year.
    clearness : float or array, shape (n,)
        Of the day, 0 to 1.

    Returns
    -------
    tuple of array, shape (24,) or (n, 24)
        Beam and diffuse; the day's sum is its clearness times the light above the air. [kWh/m²]

    Examples
    --------
    >>> beam, diffuse = hourly_light(45.0, 355, 0.5)
    >>> round(float((beam + diffuse).sum() / sun.daily_extraterrestrial(45.0, 355)), 9)
    0.5

    Source: Collares-Pereira & Rabl 1979, Liu & Jordan 1960; diffuse after Erbs and others 1982.
    """
    share = np.asarray(clearness, dtype=float)[..., np.newaxis]
    sunset = sun.sunset_angle(latitude, sun.declination(day))
    angle = 15.0 * ((np.arange(24 * _STEPS) + 0.5) / _STEPS - 12.0)
    total = share * sun.daily_extraterrestrial(latitude, day)
    diffuse_total = total * clear.diffuse_share_of_day(share, sunset)
    light, diffuse = (
        _even(part(angle, sunset).reshape(24, _STEPS).sum(axis=1))
        for part in (clear.global_share_of_hour, clear.diffuse_share_by_hour)
    )
    hourly = total * light
    from_sky = np.minimum(hourly, diffuse_total * diffuse)
    return hourly - from_sky, from_sky


def _even(parts: NDArray[np.float64]) -> NDArray[np.float64]:
    """Parts of a day made to add up to one; all nil in the polar night."""
    whole = parts.sum()
    return parts / whole if whole > 0 else parts


@units(
    arrays="", latitude="deg", day="", clearness="", air_temperature="degC", albedo="",
    returns="kW",
)  # fmt: skip
def hourly_output(
    arrays: Sequence[Array],
    latitude: float,
    day: float,
    clearness: ArrayLike,
    air_temperature: float = 0.0,
    albedo: float = 0.2,
) -> NDArray[np.float64]:
    """Mean power of all arrays in each hour of a day.

    Parameters
    ----------
    arrays : sequence of Array
        Each with its own aim and controller.
    latitude : float
        [deg]
    day : float
        Day of the year.
    clearness : float or array, shape (n,)
        Of the day, 0 to 1.
    air_temperature : float
        By day. [degC]
    albedo : float
        Share the ground throws back.

    Returns
    -------
    array, shape (24,) or (n, 24)
        Into the bank and the house, before the bank's and inverter's losses. [kW]

    Examples
    --------
    >>> power = hourly_output([Array(9.0, tilt=45.0)], 45.0, 355, [0.2, 0.6], -5.0)
    >>> power.shape, float(power[1, 0]), bool(power[1].sum() > 3 * power[0].sum())
    ((2, 24), 0.0, True)

    Source: composed of the figures of this module.
    """
    beam, diffuse = hourly_light(latitude, day, clearness)
    power = np.zeros_like(beam)
    for array in arrays:
        ratio = beam_ratio(array, latitude, day)
        light = 1000.0 * on_the_plane(beam, diffuse, ratio, array.tilt, albedo)
        cells = cell_temperature(light, air_temperature, array.noct)
        made = direct_power(light, cells, array.rated_power, array.temperature_effect)
        power += np.minimum(array.most_power, made * (1.0 - array.losses))
    return power
