"""When to order a part that is used at random: reorder point, safety stock, learned lead times.

Plain numbers, so that a quick look at what is due loads no array library.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import sqrt
from statistics import NormalDist, fmean, median, quantiles, stdev

from steadbook.figures._declare import require, units

FEWEST_ORDERS = 3
"""Receipts from which a lead time is learned; with fewer the promise counts. Common practice, no
source."""


@units(
    use_spread="1/day", lead_time="day", daily_use="1/day", lead_time_spread="day", service_level="",
    returns="",
)  # fmt: skip
def safety_stock(
    use_spread: float,
    lead_time: float,
    daily_use: float = 0.0,
    lead_time_spread: float = 0.0,
    service_level: float = 0.95,
) -> float:
    """What is kept beyond the mean use of a lead time, so that the shelf seldom runs out.

    Use of each day and lead time are taken as independent and their sum as normal: good for small
    parts used often. A part used once a year needs the visits' own dates instead.

    Parameters
    ----------
    use_spread : float
        Standard deviation of the use of one day; >= 0. [1/day]
    lead_time : float
        Mean time from order to receipt; >= 0. [day]
    daily_use : float
        Mean use of one day; it counts where the lead time varies; >= 0. [1/day]
    lead_time_spread : float
        Standard deviation of the lead time; >= 0. [day]
    service_level : float
        Share of lead times in which the shelf holds out; from 0.5, below 1.

    Returns
    -------
    float
        Safety stock, in the unit in which the part is counted.

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    Sand: in a lead time 5 t of spread, a risk of 3 percent:

    >>> safety_stock(5.0, lead_time=1.0, service_level=0.97)
    9.40

    Source: W. J. Stevenson, Operations Management, 14th ed., chapter 12, formulas 12-12 to 12-15.
    """
    require(use_spread >= 0, "spread of use", use_spread, "1/day", "0 or more")
    require(lead_time >= 0, "lead time", lead_time, "day", "0 or more")
    require(daily_use >= 0, "daily use", daily_use, "1/day", "0 or more")
    require(lead_time_spread >= 0, "spread of lead time", lead_time_spread, "day", "0 or more")
    require(0.5 <= service_level < 1, "service level", service_level, "", "from 0.5, below 1")
    spread = sqrt(lead_time * use_spread**2 + (daily_use * lead_time_spread) ** 2)
    return NormalDist().inv_cdf(service_level) * spread


@units(
    daily_use="1/day", use_spread="1/day", lead_time="day", lead_time_spread="day", service_level="",
    returns="",
)  # fmt: skip
def reorder_point(
    daily_use: float,
    use_spread: float,
    lead_time: float,
    lead_time_spread: float = 0.0,
    service_level: float = 0.95,
) -> float:
    """The amount on the shelf (and on order) at which to order again.

    Parameters
    ----------
    daily_use : float
        Mean use of one day; >= 0. [1/day]
    use_spread : float
        Standard deviation of the use of one day; >= 0. [1/day]
    lead_time : float
        Mean time from order to receipt; >= 0. [day]
    lead_time_spread : float
        Standard deviation of the lead time; >= 0. [day]
    service_level : float
        Share of lead times in which the shelf holds out; from 0.5, below 1.

    Returns
    -------
    float
        In the unit in which the part is counted; round up to whole pieces.

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    30 yd of carpet a day with a spread of 5 yd, 10 days to receive, 95 percent:

    >>> reorder_point(30.0, 5.0, lead_time=10.0)
    326.0

    Source: W. J. Stevenson, Operations Management, 14th ed., chapter 12, formulas 12-12 to 12-15.
    """
    extra = safety_stock(use_spread, lead_time, daily_use, lead_time_spread, service_level)
    return daily_use * lead_time + extra


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
    days = [float((received - ordered).days) for ordered, received in orders]
    require(min(days, default=0.0) >= 0, "days from order to receipt", min(days, default=0.0), "day",
            "0 or more")  # fmt: skip
    if len(days) < FEWEST_ORDERS:
        return None
    nine_in_ten = quantiles(days, n=10, method="inclusive")[-1]
    return LeadTime(median(days), nine_in_ten, fmean(days), stdev(days), len(days))
