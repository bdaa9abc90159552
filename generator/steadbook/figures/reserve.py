"""Level of fuel tanks day by day: when the reserve mark comes, what a winter asks."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures._declare import require, units


@units(start="L", daily_use="L", deliveries="L", ceiling="L", returns="L")
def tank_level(
    start: ArrayLike,
    daily_use: ArrayLike,
    deliveries: ArrayLike = 0.0,
    ceiling: ArrayLike = np.inf,
) -> Any:
    """Fuel in each tank at the end of each day.

    A delivery comes in the morning; what passes the ceiling is not pumped. Use after the tank
    is empty is not made up later.

    Parameters
    ----------
    start : float or array, shape (tanks,)
        Fuel before the first day; from 0 to the ceiling. [L]
    daily_use : array, shape (days,) or (tanks, days)
        Fuel wanted on each day; >= 0. [L]
    deliveries : float or array, shape (days,) or (tanks, days)
        Fuel the truck brings on each day; >= 0. [L]
    ceiling : float or array, shape (tanks,)
        Fuel in the tank at its filling limit; > 0. [L]

    Returns
    -------
    array, shape (days,) or (tanks, days)
        Fuel at the end of each day, never below 0 nor above the ceiling. [L]

    Raises
    ------
    OutOfRange
        A negative use or delivery, or a start below 0 or above the ceiling.

    Examples
    --------
    >>> tank_level(100.0, [30.0, 30.0, 30.0, 30.0], deliveries=[0.0, 0.0, 500.0, 0.0], ceiling=400.0)
    array([ 70.,  40., 370., 340.])

    Source: definition, a balance day by day.
    """
    level, top = np.asarray(start, dtype=float), np.asarray(ceiling, dtype=float)
    use, brought = np.asarray(daily_use, dtype=float), np.asarray(deliveries, dtype=float)
    require(top > 0, "filling limit", top, "L", "more than 0")
    require((level >= 0) & (level <= top), "fuel at the start", level, "L", "from 0 to the limit")
    require(use >= 0, "daily use", use, "L", "0 or more")
    require(brought >= 0, "delivery", brought, "L", "0 or more")
    # Days first, so that each step works on one run of memory.
    tanks = np.broadcast_shapes(level.shape, top.shape, use.shape[:-1], brought.shape[:-1])
    shape = (*tanks, use.shape[-1])
    use = np.moveaxis(np.broadcast_to(use, shape), -1, 0)
    brought = np.moveaxis(np.broadcast_to(brought, shape), -1, 0)
    levels = np.empty((use.shape[0], *tanks))
    for day in range(use.shape[0]):
        level = np.maximum(np.minimum(level + brought[day], top) - use[day], 0.0)
        levels[day] = level
    return np.moveaxis(levels, 0, -1)


@units(monthly_use="L", days_in_month="d", returns="L")
def daily_from_monthly(monthly_use: ArrayLike, days_in_month: ArrayLike) -> Any:
    """Use of each day when only the use of each month is known.

    Parameters
    ----------
    monthly_use : array, shape (months,) or (tanks, months)
        Fuel in each month; >= 0. [L]
    days_in_month : array of int, shape (months,)
        Days in each of those months, 28 to 31. [d]

    Returns
    -------
    array, shape (days,) or (tanks, days)
        Fuel in each day, the same all through a month. [L]

    Raises
    ------
    OutOfRange
        Negative use, or a month that is none.

    Examples
    --------
    >>> daily_from_monthly([310.0, 140.0], [31, 28])[[0, 30, 31]]
    array([10., 10.,  5.])

    Source: definition.
    """
    use, days = np.asarray(monthly_use, dtype=float), np.asarray(days_in_month)
    require(use >= 0, "monthly use", use, "L", "0 or more")
    require((days >= 28) & (days <= 31), "days in a month", days, "d", "from 28 to 31")
    return np.repeat(use / days, days, axis=-1)


@units(levels="L", days_in_month="d", returns="L")
def month_end_level(levels: ArrayLike, days_in_month: ArrayLike) -> Any:
    """Level on the last day of each month of a forecast that starts on the first of one.

    Parameters
    ----------
    levels : array, shape (days,) or (tanks, days)
        From `tank_level`. [L]
    days_in_month : array of int, shape (months,)
        Days in each of those months; together no more than the days forecast. [d]

    Returns
    -------
    array, shape (months,) or (tanks, months)
        Fuel at the end of each month. [L]

    Raises
    ------
    OutOfRange
        More days in the months than the forecast has.

    Examples
    --------
    >>> month_end_level(np.arange(59.0, 0.0, -1.0), [31, 28])
    array([29.,  1.])

    Source: definition.
    """
    levels, ends = np.asarray(levels, dtype=float), np.cumsum(days_in_month)
    days = levels.shape[-1]
    require(ends <= days, "days in the months", ends, "d", f"at most {days}, the days forecast")
    return levels[..., ends - 1]


@units(levels="L", mark="L", returns="d")
def day_reached(levels: ArrayLike, mark: ArrayLike) -> Any:
    """Index of the first day that ends at or below the reserve mark.

    Parameters
    ----------
    levels : array, shape (days,) or (tanks, days)
        From `tank_level`. [L]
    mark : float or array, shape (tanks,)
        Fuel at the reserve mark; >= 0. [L]

    Returns
    -------
    int or array of int, shape (tanks,)
        0 for the first day of the forecast; the number of days forecast when the mark is not
        reached in it. [d]

    Raises
    ------
    OutOfRange
        A negative mark.

    Examples
    --------
    >>> int(day_reached([70.0, 40.0, 10.0], 40.0)), int(day_reached([70.0, 40.0, 10.0], 5.0))
    (1, 3)

    Source: definition.
    """
    levels, mark = np.asarray(levels, dtype=float), np.asarray(mark, dtype=float)
    require(mark >= 0, "reserve mark", mark, "L", "0 or more")
    low = levels <= mark[..., np.newaxis]
    return np.where(low.any(axis=-1), low.argmax(axis=-1), levels.shape[-1])[()]


@units(daily_use="L", mark="L", delivery_day="d", returns="L")
def level_needed(daily_use: ArrayLike, mark: ArrayLike, delivery_day: int) -> Any:
    """Fuel needed today to come to a delivery day without passing the reserve mark.

    Parameters
    ----------
    daily_use : array, shape (days,) or (tanks, days)
        Fuel wanted on each day from today; >= 0. [L]
    mark : float or array, shape (tanks,)
        Fuel at the reserve mark; >= 0. [L]
    delivery_day : int
        Days without a truck: it comes in the morning of the day with this index. [d]

    Returns
    -------
    float or array, shape (tanks,)
        Fuel that must be in the tank now; what is there less this is the margin. [L]

    Raises
    ------
    OutOfRange
        A negative use or mark, or a day outside the forecast.

    Examples
    --------
    >>> float(level_needed([30.0, 30.0, 20.0], 100.0, 2))      # two days before the truck
    160.0

    Source: definition.
    """
    use, mark = np.asarray(daily_use, dtype=float), np.asarray(mark, dtype=float)
    require(use >= 0, "daily use", use, "L", "0 or more")
    require(mark >= 0, "reserve mark", mark, "L", "0 or more")
    days = use.shape[-1]
    require(0 <= delivery_day <= days, "delivery day", delivery_day, "d", f"from 0 to {days}")
    return mark + use[..., :delivery_day].sum(axis=-1)
