"""Where the sun stands, what light there is above the air, and how clouds split it.

Hours are solar time: the sun is highest at 12. Azimuth runs from north through east (south 180).
Latitude is north positive. The day of the year is 1 on 1 January.

The short formulas of the solar textbooks, good for a whole day's energy; clock times are in
`sun_clock`.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures._choice import choice
from steadbook.figures._declare import require, units

SOLAR_CONSTANT = 1367.0
"""[W/m²], the value of the textbooks cited (newer measurements: 1361)."""

MEAN_DAYS = (17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344)
"""Day of the year that stands for each month. Source: Klein 1977; Duffie & Beckman Table 1.6.1."""

STANDARD_RIM = -0.833
"""Height of the sun's centre when its upper edge rises, with usual refraction [deg]."""


def _cooper(day: Any) -> Any:
    return 23.45 * np.sin(np.radians(360.0 * (284.0 + day) / 365.0))


def _spencer(day: Any) -> Any:
    turn = 2 * np.pi * (day - 1.0) / 365.0
    return np.degrees(
        0.006918 - 0.399912 * np.cos(turn) + 0.070257 * np.sin(turn)
        - 0.006758 * np.cos(2 * turn) + 0.000907 * np.sin(2 * turn)
        - 0.002697 * np.cos(3 * turn) + 0.00148 * np.sin(3 * turn)
    )  # fmt: skip


def _fao(day: Any) -> Any:
    return np.degrees(0.409 * np.sin(2 * np.pi * day / 365.0 - 1.39))


_DECLINATION = {"cooper": _cooper, "spencer": _spencer, "fao": _fao}


@units(day="", method="", returns="deg")
def declination(day: ArrayLike, method: str = "cooper") -> Any:
    """Angle of the sun above the equator at noon.

    Parameters
    ----------
    day : float or array
        Day of the year, 1 to 366.
    method : str
        "cooper", "spencer" or "fao"; in autumn cooper is off by up to 1.2 deg, spencer by 0.2.

    Returns
    -------
    float or array
        North positive. [deg]

    Examples
    --------
    >>> round(float(declination(172)), 2), round(float(declination(355)), 2)
    (23.45, -23.45)

    Source: Cooper 1969 and Spencer 1971 in Duffie & Beckman, eq. 1.6.1; FAO-56, eq. 24.
    """
    formula = choice(_DECLINATION, method, "method")
    value = np.asarray(day, dtype=float)
    require((value >= 1) & (value <= 366), "day of the year", value, "", "1 to 366")
    return formula(value)


@units(day="", returns="min")
def equation_of_time(day: ArrayLike) -> Any:
    """Minutes by which the sun is ahead of an even clock.

    Parameters
    ----------
    day : float or array
        Day of the year.

    Returns
    -------
    float or array
        Solar time less mean time. [min]

    Examples
    --------
    >>> round(float(equation_of_time(318)), 1)
    15.3

    Source: Spencer 1971.
    """
    turn = 2 * np.pi * (np.asarray(day, dtype=float) - 1.0) / 365.0
    return 229.18 * (
        0.0000075 + 0.001868 * np.cos(turn) - 0.032077 * np.sin(turn)
        - 0.014615 * np.cos(2 * turn) - 0.040849 * np.sin(2 * turn)
    )  # fmt: skip


@units(day="", returns="W/m²")
def extraterrestrial_normal(day: ArrayLike) -> Any:
    """Sunlight above the air on a surface that faces the sun.

    Parameters
    ----------
    day : float or array
        Day of the year.

    Returns
    -------
    float or array
        [W/m²]

    Examples
    --------
    >>> round(float(extraterrestrial_normal(1)), 1)
    1412.1

    Source: Duffie & Beckman, eq. 1.4.1a.
    """
    angle = np.radians(360.0 * np.asarray(day, dtype=float) / 365.0)
    return SOLAR_CONSTANT * (1.0 + 0.033 * np.cos(angle))


@units(latitude="deg", sun_declination="deg", rim="deg", returns="deg")
def sunset_angle(latitude: ArrayLike, sun_declination: ArrayLike, rim: float = 0.0) -> Any:
    """Hour angle at which the sun sets; 15 deg are an hour.

    Parameters
    ----------
    latitude : float or array
        -90 to 90. [deg]
    sun_declination : float or array
        [deg]
    rim : float
        Height of the sun's centre at setting; `STANDARD_RIM` for what is seen. [deg]

    Returns
    -------
    float or array
        0 in the polar night, 180 where the sun does not set. [deg]

    Examples
    --------
    >>> float(sunset_angle(0.0, 10.0))
    90.0

    Source: Duffie & Beckman, eq. 1.6.10.
    """
    phi = np.radians(np.asarray(latitude, dtype=float))
    require(np.abs(phi) <= np.pi / 2, "latitude", np.degrees(phi), "deg", "-90 to 90")
    dec = np.radians(sun_declination)
    height = np.sin(np.radians(rim)) - np.sin(phi) * np.sin(dec)
    across = np.maximum(np.cos(phi) * np.cos(dec), 1e-12)
    return np.degrees(np.arccos(np.clip(height / across, -1.0, 1.0)))


@units(latitude="deg", day="", method="", rim="deg", returns="h")
def daylength(latitude: ArrayLike, day: ArrayLike, method: str = "cooper", rim: float = 0.0) -> Any:
    """Hours from sunrise to sunset on a level horizon.

    Parameters
    ----------
    latitude : float or array
        [deg]
    day : float or array
        Day of the year.
    method : str
        Of the declination: "cooper", "spencer" or "fao".
    rim : float
        0 for the sun's centre without refraction; `STANDARD_RIM` for what is seen. [deg]

    Returns
    -------
    float or array
        [h]

    Examples
    --------
    >>> round(float(daylength(55.0, 172)), 3)
    17.104

    Source: Duffie & Beckman, eq. 1.6.11; FAO-56, eq. 34.
    """
    return sunset_angle(latitude, declination(day, method), rim) * 2.0 / 15.0


@units(latitude="deg", day="", method="", returns="kWh/m²")
def daily_extraterrestrial(latitude: ArrayLike, day: ArrayLike, method: str = "cooper") -> Any:
    """Energy of a day on a level surface above the air.

    Parameters
    ----------
    latitude : float or array
        [deg]
    day : float or array
        Day of the year.
    method : str
        Of the declination: "cooper", "spencer" or "fao".

    Returns
    -------
    float or array
        [kWh/m²]

    Examples
    --------
    >>> round(3.6 * float(daily_extraterrestrial(43.0, 105)), 1)    # MJ/m²
    33.8

    Source: Duffie & Beckman, eq. 1.10.3.
    """
    dec = declination(day, method)
    phi, dec_angle = np.radians(latitude), np.radians(dec)
    sunset = np.radians(sunset_angle(latitude, dec))
    turned = np.cos(phi) * np.cos(dec_angle) * np.sin(sunset)
    lifted = sunset * np.sin(phi) * np.sin(dec_angle)
    return np.maximum(0.0, 24 / np.pi * extraterrestrial_normal(day) / 1000 * (turned + lifted))


@units(latitude="deg", day="", first_hour="h", last_hour="h", method="", returns="kWh/m²")
def hourly_extraterrestrial(
    latitude: ArrayLike,
    day: ArrayLike,
    first_hour: ArrayLike,
    last_hour: ArrayLike,
    method: str = "cooper",
) -> Any:
    """Energy between two hours of daylight on a level surface above the air.

    Parameters
    ----------
    latitude : float or array
        [deg]
    day : float or array
        Day of the year.
    first_hour : float or array
        Solar time; hours before sunrise and after sunset count nothing. [h]
    last_hour : float or array
        Solar time. [h]
    method : str
        Of the declination.

    Returns
    -------
    float or array
        [kWh/m²]

    Examples
    --------
    >>> round(3.6 * float(hourly_extraterrestrial(43.0, 105, 10, 11)), 2)    # MJ/m²
    3.79

    Source: Duffie & Beckman, eq. 1.10.4.
    """
    dec = declination(day, method)
    limit = sunset_angle(latitude, dec)
    phi, dec_angle = np.radians(latitude), np.radians(dec)
    start, end = (
        np.radians(np.clip(15.0 * (np.asarray(hour, dtype=float) - 12.0), -limit, limit))
        for hour in (first_hour, last_hour)
    )
    turned = np.cos(phi) * np.cos(dec_angle) * (np.sin(end) - np.sin(start))
    lifted = (end - start) * np.sin(phi) * np.sin(dec_angle)
    return 12 / np.pi * extraterrestrial_normal(day) / 1000 * (turned + lifted)


@units(latitude="deg", sun_declination="deg", hour_angle="deg", returns="deg")
def elevation(latitude: ArrayLike, sun_declination: ArrayLike, hour_angle: ArrayLike) -> Any:
    """Height of the sun's centre above a level horizon, without refraction.

    Parameters
    ----------
    latitude : float or array
        [deg]
    sun_declination : float or array
        [deg]
    hour_angle : float or array
        15 deg an hour, negative before noon. [deg]

    Returns
    -------
    float or array
        Negative below the horizon. [deg]

    Examples
    --------
    >>> round(float(elevation(45.0, -23.45, 0.0)), 2)
    21.55

    Source: Duffie & Beckman, eq. 1.6.5.
    """
    phi, dec, turn = (np.radians(a) for a in (latitude, sun_declination, hour_angle))
    sine = np.cos(phi) * np.cos(dec) * np.cos(turn) + np.sin(phi) * np.sin(dec)
    return np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0)))


@units(latitude="deg", sun_declination="deg", hour_angle="deg", returns="deg")
def sun_azimuth(latitude: ArrayLike, sun_declination: ArrayLike, hour_angle: ArrayLike) -> Any:
    """Direction of the sun, from north through east.

    Parameters
    ----------
    latitude : float or array
        [deg]
    sun_declination : float or array
        [deg]
    hour_angle : float or array
        15 deg an hour, negative before noon. [deg]

    Returns
    -------
    float or array
        0 to 360; 180 is south. [deg]

    Examples
    --------
    >>> round(float(sun_azimuth(43.0, -14.0, -37.5)), 1)
    139.9

    Source: spherical triangle of pole, zenith and sun.
    """
    phi, dec, turn = (np.radians(a) for a in (latitude, sun_declination, hour_angle))
    east = -np.cos(dec) * np.sin(turn)
    north = np.sin(dec) * np.cos(phi) - np.cos(dec) * np.sin(phi) * np.cos(turn)
    return np.degrees(np.arctan2(east, north)) % 360.0


@units(
    latitude="deg", sun_declination="deg", hour_angle="deg", tilt="deg", azimuth="deg", returns="",
)  # fmt: skip
def incidence(
    latitude: ArrayLike,
    sun_declination: ArrayLike,
    hour_angle: ArrayLike,
    tilt: ArrayLike,
    azimuth: ArrayLike,
) -> Any:
    """Cosine of the angle between the sun and a panel's normal.

    Parameters
    ----------
    latitude : float or array
        [deg]
    sun_declination : float or array
        [deg]
    hour_angle : float or array
        [deg]
    tilt : float or array
        From level; 90 is upright. [deg]
    azimuth : float or array
        Direction the panel faces; 180 is south. [deg]

    Returns
    -------
    float or array
        Negative when the sun is behind the panel.

    Examples
    --------
    >>> round(float(incidence(43.0, -14.0, -22.5, 45.0, 195.0)), 3)
    0.817

    Source: Duffie & Beckman, eq. 1.6.3.
    """
    height = np.radians(elevation(latitude, sun_declination, hour_angle))
    bearing = np.radians(sun_azimuth(latitude, sun_declination, hour_angle) - azimuth)
    slope = np.radians(tilt)
    return np.sin(height) * np.cos(slope) + np.cos(height) * np.sin(slope) * np.cos(bearing)
