"""Made-up but likely weather: daily clearness over many winters from a table of monthly means.

Each month's days follow the distribution that days of such a mean follow everywhere (Bendt,
Collares-Pereira and Rabl 1981); each day remembers a little of the day before (Graham, Hollands and
Huget 1988). The same seed gives the same winters. One winter differs from another by the chain
alone: a slow drift of the climate, or a cold that stays, is not in it.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from steadbook.figures._declare import require, units

DULLEST = 0.05
"""Clearness of the dullest day. Source: Bendt and others 1981 (Duffie & Beckman, section 2.9)."""

DAY_TO_DAY = 0.29
"""Correlation of one day with the next. Source: Graham, Hollands & Huget 1988, from memory, check."""


@units(mean="", returns="")
def clearest_day(mean: ArrayLike) -> Any:
    """Clearness of the clearest day of a month.

    Parameters
    ----------
    mean : float or array
        Mean clearness of the month, 0.1 to 0.8.

    Returns
    -------
    float or array

    Examples
    --------
    >>> round(float(clearest_day(0.5)), 3)
    0.765

    Source: Hollands & Huget 1983 (Duffie & Beckman, eq. 2.9.7).
    """
    share = np.asarray(mean, dtype=float)
    require((share >= 0.1) & (share <= 0.8), "mean clearness", share, "", "0.1 to 0.8")
    return 0.6313 + 0.267 * share - 11.9 * (share - 0.75) ** 8


def _mean_of(steepness: NDArray[np.float64], top: NDArray[np.float64]) -> NDArray[np.float64]:
    """Mean of an exponential density cut off at the dullest and the clearest day."""
    width = top - DULLEST
    turn = steepness * width
    small = np.abs(turn) < 1e-3
    safe = np.where(small, 1.0, turn)
    fraction = np.where(small, 0.5 + turn / 12, 1 / -np.expm1(-safe) - 1 / safe)
    return DULLEST + width * fraction


@units(mean="", returns="")
def steepness(mean: ArrayLike) -> Any:
    """How the days of a month lean to the clear (positive) or the dull (negative) end.

    Parameters
    ----------
    mean : float or array
        Mean clearness of the month, 0.1 to 0.8.

    Returns
    -------
    float or array
        Exponent of the density; the distribution's mean is then `mean` itself.

    Examples
    --------
    >>> bool(steepness(0.3) < 0 < steepness(0.6))
    True

    Source: Bendt and others 1981 (Duffie & Beckman, eq. 2.9.6), solved by halving.
    """
    share = np.asarray(mean, dtype=float)
    top = clearest_day(share)
    low, high = np.full_like(share, -200.0), np.full_like(share, 200.0)
    for _ in range(60):
        middle = (low + high) / 2
        under = _mean_of(middle, top) < share
        low, high = np.where(under, middle, low), np.where(under, high, middle)
    return ((low + high) / 2)[()]


@units(share_of_days="", mean="", returns="")
def clearness_of_rank(share_of_days: ArrayLike, mean: ArrayLike) -> Any:
    """Clearness that a share of a month's days stay below.

    Parameters
    ----------
    share_of_days : float or array
        0 to 1.
    mean : float or array
        Mean clearness of the month; 0 in the polar night.

    Returns
    -------
    float or array

    Examples
    --------
    >>> round(float(clearness_of_rank(0.0, 0.5)), 2), round(float(clearness_of_rank(1.0, 0.5)), 3)
    (0.05, 0.765)

    Source: Bendt and others 1981 (Duffie & Beckman, eq. 2.9.4), turned round.
    """
    share = np.asarray(mean, dtype=float)
    lit = np.where(share == 0, 0.5, share)
    lean = np.asarray(steepness(lit))
    lean = np.where(np.abs(lean) < 1e-6, 1e-6, lean)
    span = lean * (clearest_day(lit) - DULLEST)
    rank = np.asarray(share_of_days, dtype=float)
    found = DULLEST + np.log1p(rank * np.expm1(span)) / lean
    return np.where(share == 0, 0.0, found)[()]


@units(monthly="", months="", winters="", seed="", day_to_day="", returns="")
def daily_clearness(
    monthly: ArrayLike,
    months: ArrayLike,
    winters: int,
    seed: int,
    day_to_day: float = DAY_TO_DAY,
) -> NDArray[np.float64]:
    """Clearness of each day of many winters.

    Parameters
    ----------
    monthly : array, shape (12,)
        Mean clearness, January first.
    months : array of int, shape (days,)
        Month of each day, 1 to 12.
    winters : int
        How many to make; > 0.
    seed : int
        Same seed, same winters; the first winters do not change when more are asked.
    day_to_day : float
        Correlation of one day with the next, 0 up to 1.

    Returns
    -------
    array, shape (days, winters)
        0 to 1.

    Source: Graham, Hollands & Huget 1988: a first-order chain of normal numbers, given the rank
    they have in the month's distribution.
    """
    from scipy.special import ndtr  # type: ignore[import-untyped]

    require(winters > 0, "winters", winters, "", "more than 0")
    require(0 <= day_to_day < 1, "day-to-day correlation", day_to_day, "", "0 up to 1")
    month = np.asarray(months, dtype=np.intp)
    table = np.asarray(monthly, dtype=float)
    fresh = np.random.default_rng(seed).standard_normal((winters, month.size)).T
    state = np.empty((month.size, winters))
    state[0] = fresh[0]
    kept = np.sqrt(1.0 - day_to_day**2)
    for day in range(1, month.size):
        state[day] = day_to_day * state[day - 1] + kept * fresh[day]
    for number in np.unique(month):
        rows = month == number
        state[rows] = clearness_of_rank(ndtr(state[rows]), table[number - 1])
    return state
