"""When to order a part that is used at random: reorder point, safety stock, learned lead times."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures._declare import require, units

FEWEST_ORDERS = 3
"""Receipts from which a lead time is learned; with fewer the promise counts. Common practice, no
source."""


@units(
    use_spread="1/day", lead_time="day", daily_use="1/day", lead_time_spread="day", service_level="",
    returns="",
)  # fmt: skip
def safety_stock(
    use_spread: ArrayLike,
    lead_time: ArrayLike,
    daily_use: ArrayLike = 0.0,
    lead_time_spread: ArrayLike = 0.0,
    service_level: ArrayLike = 0.95,
) -> Any:
    """What is kept beyond the mean use of a lead time, so that the shelf seldom runs out.

    Use of each day and lead time are taken as independent and their sum as normal: good for small
    parts used often. A part used once a year needs the visits' own dates instead.

    Parameters
    ----------
    use_spread : float or array
        Standard deviation of the use of one day; >= 0. [1/day]
    lead_time : float or array
        Mean time from order to receipt; >= 0. [day]
    daily_use : float or array
        Mean use of one day; it counts where the lead time varies; >= 0. [1/day]
    lead_time_spread : float or array
        Standard deviation of the lead time; >= 0. [day]
    service_level : float or array
        Share of lead times in which the shelf holds out; from 0.5, below 1.

    Returns
    -------
    float or array
        Safety stock, in the unit in which the part is counted.

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    Sand: in a lead time 5 t of spread, a risk of 3 percent:

    >>> float(safety_stock(5.0, lead_time=1.0, service_level=0.97))
    9.40

    Source: W. J. Stevenson, Operations Management, 14th ed., chapter 12, formulas 12-12 to 12-15.
    """
    from scipy.special import ndtri  # type: ignore[import-untyped,unused-ignore]

    spread, lead = np.asarray(use_spread, dtype=float), np.asarray(lead_time, dtype=float)
    use, lead_spread = np.asarray(daily_use, dtype=float), np.asarray(lead_time_spread, dtype=float)
    level = np.asarray(service_level, dtype=float)
    require(spread >= 0, "spread of use", spread, "1/day", "0 or more")
    require(lead >= 0, "lead time", lead, "day", "0 or more")
    require(use >= 0, "daily use", use, "1/day", "0 or more")
    require(lead_spread >= 0, "spread of lead time", lead_spread, "day", "0 or more")
    require((level >= 0.5) & (level < 1), "service level", level, "", "from 0.5, below 1")
    return ndtri(level) * np.sqrt(lead * spread**2 + (use * lead_spread) ** 2)


@units(
    daily_use="1/day", use_spread="1/day", lead_time="day", lead_time_spread="day", service_level="",
    returns="",
)  # fmt: skip
def reorder_point(
    daily_use: ArrayLike,
    use_spread: ArrayLike,
    lead_time: ArrayLike,
    lead_time_spread: ArrayLike = 0.0,
    service_level: ArrayLike = 0.95,
) -> Any:
    """The amount on the shelf (and on order) at which to order again.

    Parameters
    ----------
    daily_use : float or array
        Mean use of one day; >= 0. [1/day]
    use_spread : float or array
        Standard deviation of the use of one day; >= 0. [1/day]
    lead_time : float or array
        Mean time from order to receipt; >= 0. [day]
    lead_time_spread : float or array
        Standard deviation of the lead time; >= 0. [day]
    service_level : float or array
        Share of lead times in which the shelf holds out; from 0.5, below 1.

    Returns
    -------
    float or array
        In the unit in which the part is counted; round up to whole pieces.

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    30 yd of carpet a day with a spread of 5 yd, 10 days to receive, 95 percent:

    >>> float(reorder_point(30.0, 5.0, lead_time=10.0))
    326.0

    Source: W. J. Stevenson, Operations Management, 14th ed., chapter 12, formulas 12-12 to 12-15.
    """
    extra = safety_stock(use_spread, lead_time, daily_use, lead_time_spread, service_level)
    return np.asarray(daily_use) * np.asarray(lead_time) + extra


@dataclass(frozen=True)
class LeadTime:
    """Days from order to receipt as they were: the middle one, nine in ten, and spread. [day]"""

    median: float
    nine_in_ten: float
    mean: float
    spread: float
    orders: int


def lead_time(orders: Sequence[tuple[date, date]]) -> LeadTime | None:
    """What a supplier's orders of the past took; None for fewer than three.

    Parameters
    ----------
    orders : sequence of (date, date)
        Day of the order and day of the receipt, on or after it.

    Returns
    -------
    LeadTime or None
        Quantiles by straight line between the values. `spread` is the standard deviation of the
        sample.

    Raises
    ------
    OutOfRange
        A receipt before its order.

    Examples
    --------
    >>> march = date(2026, 3, 1)
    >>> took = lead_time([(march, march.replace(day=1 + days)) for days in (10, 12, 20)])
    >>> took.median, took.nine_in_ten
    (12.0, 18.4)

    Source: definition; quantiles as Hyndman and Fan (1996), definition 7.
    """
    days = np.array([(received - ordered).days for ordered, received in orders], dtype=float)
    require(days >= 0, "days from order to receipt", days, "day", "0 or more")
    if days.size < FEWEST_ORDERS:
        return None
    median, nine = np.quantile(days, [0.5, 0.9])
    return LeadTime(
        float(median), float(nine), float(days.mean()), float(days.std(ddof=1)), days.size
    )
