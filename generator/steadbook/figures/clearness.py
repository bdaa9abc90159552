"""What clouds leave of the light: clearness, its diffuse part, its spread over the hours.

Clearness is the light on level ground as a share of the light above the air (the clearness index).
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures import sun
from steadbook.figures._declare import require, units

_WINTER_SUNSET = 81.4  # deg; Erbs' correlations change season here


def _require_clearness(clearness: ArrayLike) -> Any:
    value = np.asarray(clearness, dtype=float)
    require((value >= 0) & (value <= 1), "clearness", value, "", "between 0 and 1")
    return value


@units(monthly_global="kWh/m²", latitude="deg", returns="")
def monthly_clearness(monthly_global: ArrayLike, latitude: float) -> Any:
    """Clearness of each month from a table of mean daily light on level ground.

    Parameters
    ----------
    monthly_global : array, shape (12,)
        Mean of a day, January first. [kWh/m²]
    latitude : float
        [deg]

    Returns
    -------
    array, shape (12,)
        0 to 1; 0 in the polar night.

    Examples
    --------
    >>> above = sun.daily_extraterrestrial(45.0, sun.MEAN_DAYS)
    >>> monthly_clearness(0.5 * above, 45.0).round(2).tolist()
    [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]

    Source: definition (Duffie & Beckman, eq. 2.9.1).
    """
    light = np.asarray(monthly_global, dtype=float)
    require(light.shape == (12,), "months of light", light.shape[0] if light.ndim else 1, "", "12")
    require(light >= 0, "light of a day", light, "kWh/m²", "0 or more")
    above = sun.daily_extraterrestrial(latitude, sun.MEAN_DAYS)
    share = np.divide(light, above, out=np.zeros(12), where=above > 0)
    require(share <= 0.85, "clearness of a month", share, "", "at most 0.85 (is the unit right?)")
    return share


@units(clearness="", returns="")
def diffuse_share_of_hour(clearness: ArrayLike) -> Any:
    """Share of an hour's light that comes from the whole sky.

    Parameters
    ----------
    clearness : float or array
        Of the hour, 0 to 1.

    Returns
    -------
    float or array
        0.165 to 1.

    Examples
    --------
    >>> round(float(diffuse_share_of_hour(0.445)), 3)
    0.766

    Source: Erbs, Klein & Duffie 1982 (Duffie & Beckman, eq. 2.10.1).
    """
    k = _require_clearness(clearness)
    middle = 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)))
    return np.where(k <= 0.22, 1.0 - 0.09 * k, np.where(k <= 0.80, middle, 0.165))[()]


@units(clearness="", sunset="deg", returns="")
def diffuse_share_of_day(clearness: ArrayLike, sunset: ArrayLike) -> Any:
    """Share of a day's light that comes from the whole sky.

    Parameters
    ----------
    clearness : float or array
        Of the day, 0 to 1.
    sunset : float or array
        Hour angle of sunset; tells winter from the other seasons. [deg]

    Returns
    -------
    float or array
        0.143 to 1.

    Examples
    --------
    >>> round(float(diffuse_share_of_day(0.5, 70.0)), 3)
    0.569

    Source: Erbs, Klein & Duffie 1982 (Duffie & Beckman, eq. 2.11.1).
    """
    k = _require_clearness(clearness)
    winter = 1.0 + k * (-0.2727 + k * (2.4495 + k * (-11.9514 + k * 9.3879)))
    winter = np.where(k < 0.715, winter, 0.143)
    other = 1.0 + k * (0.2832 + k * (-2.5557 + k * 0.8448))
    other = np.where(k < 0.722, other, 0.175)
    return np.minimum(1.0, np.where(np.asarray(sunset) <= _WINTER_SUNSET, winter, other))


@units(clearness="", sunset="deg", returns="")
def diffuse_share_of_month(clearness: ArrayLike, sunset: ArrayLike) -> Any:
    """Share of a mean month's light that comes from the whole sky.

    Parameters
    ----------
    clearness : float or array
        Monthly mean; outside 0.3 to 0.8, the range measured, the nearest end is used.
    sunset : float or array
        Hour angle of sunset on the mean day. [deg]

    Returns
    -------
    float or array
        0 to 1.

    Examples
    --------
    >>> round(float(diffuse_share_of_month(0.5, 70.0)), 3)
    0.391

    Source: Erbs, Klein & Duffie 1982 (Duffie & Beckman, eq. 2.12.1).
    """
    k = np.clip(_require_clearness(clearness), 0.3, 0.8)
    winter = 1.391 + k * (-3.560 + k * (4.189 - k * 2.137))
    other = 1.311 + k * (-3.022 + k * (3.427 - k * 1.821))
    return np.where(np.asarray(sunset) <= _WINTER_SUNSET, winter, other)[()]


@units(hour_angle="deg", sunset="deg", returns="1/h")
def global_share_of_hour(hour_angle: ArrayLike, sunset: ArrayLike) -> Any:
    """Share of a day's light that falls in the hour about a moment.

    Parameters
    ----------
    hour_angle : float or array
        Middle of the hour. [deg]
    sunset : float or array
        Hour angle of sunset. [deg]

    Returns
    -------
    float or array
        0 by night. [1/h]

    Examples
    --------
    >>> round(float(global_share_of_hour(0.0, 90.0)), 3)
    0.142

    Source: Collares-Pereira & Rabl 1979 (Duffie & Beckman, eq. 2.13.1).
    """
    about = np.sin(np.radians(np.subtract(sunset, 60.0)))
    peak = 0.409 + 0.5016 * about + (0.6609 - 0.4767 * about) * np.cos(np.radians(hour_angle))
    return diffuse_share_by_hour(hour_angle, sunset) * peak


@units(hour_angle="deg", sunset="deg", returns="1/h")
def diffuse_share_by_hour(hour_angle: ArrayLike, sunset: ArrayLike) -> Any:
    """Share of a day's diffuse light that falls in the hour about a moment.

    Parameters
    ----------
    hour_angle : float or array
        Middle of the hour. [deg]
    sunset : float or array
        Hour angle of sunset. [deg]

    Returns
    -------
    float or array
        0 by night. [1/h]

    Examples
    --------
    >>> round(float(diffuse_share_by_hour(0.0, 90.0)), 4)    # pi / 24
    0.1309

    Source: Liu & Jordan 1960 (Duffie & Beckman, eq. 2.13.4).
    """
    end = np.radians(np.asarray(sunset, dtype=float))
    height = np.maximum(0.0, np.cos(np.radians(hour_angle)) - np.cos(end))
    under = np.maximum(np.sin(end) - end * np.cos(end), 1e-12)
    return np.pi / 24 * height / under


@units(zenith="deg", returns="W/m²")
def clear_sky(zenith: ArrayLike) -> Any:
    """Light on level ground under a clear sky.

    Parameters
    ----------
    zenith : float or array
        Angle of the sun from straight up. [deg]

    Returns
    -------
    float or array
        0 when the sun is down. [W/m²]

    Examples
    --------
    >>> round(float(clear_sky(60.0)), 2)
    487.89

    Source: Haurwitz 1945.
    """
    height = np.cos(np.radians(np.asarray(zenith, dtype=float)))
    up = np.maximum(height, 1e-3)
    return np.where(height > 1e-3, 1098.0 * up * np.exp(-0.059 / up), 0.0)[()]


@units(latitude="deg", day="", returns="kWh/m²")
def clear_day(latitude: float, day: float) -> float:
    """Light of a clear day on level ground.

    Parameters
    ----------
    latitude : float
        [deg]
    day : float
        Day of the year.

    Returns
    -------
    float
        [kWh/m²]

    Examples
    --------
    >>> round(clear_day(45.0, 355), 2)
    1.8

    Source: Haurwitz 1945, summed minute by minute.
    """
    angles = (np.arange(1440) + 0.5) / 4.0 - 180.0
    height = sun.elevation(latitude, sun.declination(day, "spencer"), angles)
    return float(np.sum(clear_sky(90.0 - height)) / 60.0 / 1000.0)
