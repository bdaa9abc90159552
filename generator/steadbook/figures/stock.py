"""What must be ordered, and by when, so that the parts are there on the day of the work."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True)
class Need:
    """An amount of one part that is needed on a day."""

    day: date
    amount: float


@dataclass(frozen=True)
class Shortage:
    """An amount that the shelf and the orders under way leave missing on a day.

    ``order_by`` is the last day to order so that it comes in time, or None where it is on order
    already and ``arrives`` after the need. ``late`` is true where it cannot come in time.
    """

    need: Need
    missing: float
    order_by: date | None
    late: bool
    arrives: date | None = None


def shortages(
    needs: Sequence[Need],
    on_hand: float,
    incoming: Sequence[Need],
    lead_time: timedelta,
    as_of: date,
    last_arrival: Callable[[date], date] = lambda day: day,
) -> list[Shortage]:
    """Which needs the shelf cannot meet, each with the day to order by.

    Parameters
    ----------
    needs : sequence of Need
        What the work takes, any order.
    on_hand : float
        On the shelf on `as_of`; >= 0.
    incoming : sequence of Need
        Orders under way: the day each is expected and its amount.
    lead_time : timedelta
        From order to receipt.
    as_of : date
    last_arrival : callable
        The last day on which something can arrive for a need: earlier than it where the road is
        closed on that day. Without it, the day of the need.

    Returns
    -------
    list of Shortage
        In order of day. What is on order but comes after the need is a late shortage of its own
        and is not ordered a second time.

    Examples
    --------
    >>> short = shortages([Need(date(2027, 1, 20), 1)], 0, [], timedelta(days=30), date(2026, 12, 1))
    >>> short[0].order_by, short[0].late
    (datetime.date(2026, 12, 21), False)

    Source: definition.
    """
    shelf = on_hand
    arriving = sorted((one for one in incoming if one.amount > 0), key=lambda one: one.day)
    found: list[Shortage] = []
    for need in sorted(needs, key=lambda one: one.day):
        while arriving and arriving[0].day <= need.day:
            shelf += arriving.pop(0).amount
        missing = max(0.0, need.amount - shelf)
        shelf = max(0.0, shelf - need.amount)
        if missing <= 1e-9:
            continue
        while arriving and missing > 1e-9:
            day, used = _take_late(arriving, missing)
            missing -= used
            found.append(Shortage(need, used, None, True, arrives=day))
        if missing > 1e-9:
            order_by = last_arrival(need.day) - lead_time
            found.append(Shortage(need, missing, order_by, order_by < as_of))
    return found


def _take_late(arriving: list[Need], missing: float) -> tuple[date, float]:
    """Serve a need from the first order that comes after it; what it leaves stays under way."""
    first = arriving.pop(0)
    used = min(first.amount, missing)
    if first.amount - used > 1e-9:
        arriving.insert(0, Need(first.day, first.amount - used))
    return first.day, used
