"""The sun by the clock: where it stands at a moment, when it rises, stands highest and sets.

`pvlib` does the work, by NREL's solar position algorithm; it is imported when first asked.
"""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np

from steadbook.figures._declare import require, units

_CLOCK_DRIFT = 69.2
"""Terrestrial time less universal time in the 2020s [s]; a second more moves the sun 0.004 deg."""


@units(
    when="", latitude="deg", longitude="deg", altitude="m", pressure="kPa", temperature="degC",
    returns="deg",
)  # fmt: skip
def position(
    when: datetime,
    latitude: float,
    longitude: float,
    altitude: float = 0.0,
    pressure: float = 101.325,
    temperature: float = 12.0,
) -> tuple[float, float]:
    """Zenith angle, with refraction, and azimuth of the sun at a moment.

    Parameters
    ----------
    when : datetime
        With its time zone.
    latitude : float
        [deg]
    longitude : float
        East positive. [deg]
    altitude : float
        Above the sea. [m]
    pressure : float
        Of the air, for refraction. [kPa]
    temperature : float
        Of the air, for refraction. [degC]

    Returns
    -------
    tuple of float
        Zenith and azimuth. [deg]

    Source: Reda & Andreas, NREL/TP-560-34302, as computed by pvlib.
    """
    from pvlib import spa

    require(when.tzinfo is not None, "moment", str(when), "", "given with its time zone")
    found = spa.solar_position(
        np.array([when.timestamp()]),
        latitude, longitude, altitude, 10 * pressure, temperature, _CLOCK_DRIFT, 0.5667,
    )  # fmt: skip
    return float(found[0][0]), float(found[4][0])


@units(day="", latitude="deg", longitude="deg", returns="")
def sunrise_noon_sunset(
    day: date, latitude: float, longitude: float
) -> tuple[datetime, datetime, datetime]:
    """Moments of sunrise, highest sun and sunset as seen on a level horizon.

    Parameters
    ----------
    day : date
        In universal time.
    latitude : float
        [deg]
    longitude : float
        East positive. [deg]

    Returns
    -------
    tuple of datetime
        Rise, noon, set; in UTC.

    Raises
    ------
    OutOfRange
        The sun does not rise or does not set on that day.

    Source: Reda & Andreas, NREL/TP-560-34302, as computed by pvlib.
    """
    from pvlib import spa

    midnight = datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp()
    found = spa.transit_sunrise_sunset(np.array([midnight]), latitude, longitude, _CLOCK_DRIFT, 1)
    noon, rise, end = (float(part[0]) for part in found)
    exists = bool(np.isfinite([noon, rise, end]).all())
    require(exists, "latitude", latitude, "deg", "where the sun rises and sets that day")
    moments = [datetime.fromtimestamp(second, UTC) for second in (rise, noon, end)]
    return moments[0], moments[1], moments[2]
