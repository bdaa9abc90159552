"""Carbon monoxide: limits, and what a home alarm is built to do.

DANGER: a genset's exhaust kills within minutes, without smell or warning. Run it outdoors, far
from every opening, its exhaust pointing away, with an alarm where people sleep.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import FOOT, Number

MOLAR_MASS = 28.01  # g/mol
MOLAR_VOLUME = 24.45  # L/mol at 25 degC and 1 atm, as exposure limits are stated


class Limit(NamedTuple):
    """A concentration not to be passed, over a time."""

    concentration: float  # ppm
    minutes: float  # 0 for never at all
    who: str


LIMITS = (
    Limit(9, 8 * 60, "EPA outdoor air standard, 8 h; seen second-hand"),
    Limit(25, 8 * 60, "ACGIH, working day; seen on the OSHA page"),
    Limit(35, 8 * 60, "NIOSH, working day"),
    Limit(35, 60, "EPA outdoor air standard, 1 h; seen second-hand"),
    Limit(50, 8 * 60, "OSHA, 29 CFR 1910.1000 Table Z-1, working day"),
    Limit(200, 0, "NIOSH, ceiling"),
    Limit(400, 60, "National Research Council 1987, emergency"),
    Limit(800, 30, "National Research Council 1987, emergency"),
    Limit(1_200, 0, "NIOSH, immediately dangerous to life or health"),
    Limit(1_500, 10, "National Research Council 1987, emergency"),
)
"""Source: OSHA chemical sampling information and the NIOSH documentation of May 1994 (which had
1,500 ppm as immediately dangerous); the 1,200 seen on a university's safety page."""


class AlarmPoint(NamedTuple):
    """When a home alarm must sound at a steady concentration."""

    concentration: float  # ppm
    earliest: float  # min
    latest: float  # min


ALARM_POINTS = (AlarmPoint(70, 60, 240), AlarmPoint(150, 10, 50), AlarmPoint(400, 4, 15))
"""Source: UL 2034, seen on several agreeing pages. At 30 ppm it must stay silent for 30 days:
silence is no proof of clean air."""

DISTANCE = 20 * FOOT  # m; US CPSC and CDC: at least, from house, window, door and vent


@units(concentration="ppm", returns="mg/m3")
def mass_concentration(concentration: Number) -> Any:
    """Carbon monoxide by mass.

    Parameters
    ----------
    concentration : float or array
        Parts in a million by volume, 0 to 1,000,000. [ppm]

    Returns
    -------
    float or array
        At 25 degC and 1 atm. [mg/m3]

    Raises
    ------
    OutOfRange
        A concentration outside 0 to 1,000,000.

    Examples
    --------
    >>> round(mass_concentration(100.0), 1)
    114.6

    Source: definition, with the molar volume of 24.45 L at 25 degC.
    """
    require(
        (concentration >= 0) & (concentration <= 1e6),
        "carbon monoxide",
        concentration,
        "ppm",
        "from 0 to 1,000,000",
    )
    return concentration * MOLAR_MASS / MOLAR_VOLUME


@units(concentration="ppm", returns="min")
def alarm_delay(concentration: Number) -> Any:
    """Longest time a home alarm may stay silent.

    Parameters
    ----------
    concentration : float or array
        Steady concentration, 0 to 1,000,000. [ppm]

    Returns
    -------
    float or array
        Minutes of the highest alarm point reached; infinite below 70 ppm. [min]

    Raises
    ------
    OutOfRange
        A concentration outside 0 to 1,000,000.

    Examples
    --------
    >>> float(alarm_delay(70.0)), float(alarm_delay(65.0))
    (240.0, inf)

    Source: UL 2034, seen on several agreeing pages.
    """
    require(
        (concentration >= 0) & (concentration <= 1e6),
        "carbon monoxide",
        concentration,
        "ppm",
        "from 0 to 1,000,000",
    )
    reached = np.searchsorted(
        [point.concentration for point in ALARM_POINTS], concentration, "right"
    )
    return np.array([np.inf, *(point.latest for point in ALARM_POINTS)])[reached]
