"""From a tank's last gauge reading on: when the reserve mark comes, when to order, what lasts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

import numpy as np

from steadbook.figures import reserve, tank
from steadbook.figures.schedule import Season
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Supplier
from steadbook.units import add_interval
from steadbook.workings import words
from steadbook.workings.fuel_users import Days, Draw

HORIZON = 730  # days from the reading
MONTHS_SHOWN = 14
FULL = 100.0  # percent of capacity: fuels other than propane
Verdict = Literal["yes", "with usual use", "no"]


@dataclass(frozen=True)
class Window:
    """A stretch of days on which no truck comes: its first and last day."""

    first: date
    last: date

    def holds(self, day: date) -> bool:
        """Whether a day lies in it."""
        return self.first <= day <= self.last


@dataclass(frozen=True)
class Levels:
    """Fuel at the end of each day from the reading on. [L at 60 F]"""

    begin: date
    start: float
    expected: Days
    low: Days
    high: Days

    def on(self, day: date) -> tuple[float, float, float]:
        """As expected, with heavy use, with light use, in the morning of a day."""
        place = (day - self.begin).days - 1
        if place < 0:
            return self.start, self.start, self.start
        place = min(place, len(self.expected) - 1)
        return float(self.expected[place]), float(self.low[place]), float(self.high[place])

    def reached(self, mark: float) -> tuple[date | None, date | None, date | None]:
        """The day a mark is reached: as expected, the earliest, the latest. None: not in sight."""
        found = []
        for levels in (self.expected, self.low, self.high):
            place = int(reserve.day_reached(levels, mark))
            found.append(None if place == len(levels) else self.begin + timedelta(days=place))
        return found[0], found[1], found[2]


@dataclass(frozen=True)
class ShutIn:
    """No delivery up to a day: what is left then (L at 60 F) and whether the mark is kept."""

    until: date
    start: float
    expected: float
    low: float
    needed: float
    verdict: Verdict


@dataclass(frozen=True)
class OrderDay:
    """The last day to order so that the truck comes in time, and why then."""

    order_by: date
    arrives_by: date
    needed: date
    closed: Window | None


NOT_REACHED = "not within two years"


def on_mark_day(day: date | None) -> str:
    """`on 14 Jan 2027`, the day on which a tank falls to a mark, or that it does not."""
    return f"on {words.day(day)}" if day else NOT_REACHED


@dataclass(frozen=True)
class LateTruck:
    """A truck that, ordered today, comes after the day it was to be here by.

    ``lasts`` tells whether the tank keeps its mark until a closed road opens; None: not known.
    """

    order: OrderDay
    comes: date
    lasts: Verdict | None

    def words(self) -> str:
        """`too late for this road: the next truck can come on 21 Apr 2027; ...`."""
        if self.order.closed is None:
            return (
                f"too late for the reserve mark of {words.day(self.order.needed)}: ordered today "
                f"the truck comes on {words.day(self.comes)}; use less or ask for an early truck"
            )
        told = {
            "yes": "it does, even with heavy use",
            "with usual use": "with usual use it does, with heavy use not",
            "no": "it does not",
            None: "not known",
        }[self.lasts]
        advice = "" if self.lasts == "yes" else "; use less or ask for an early truck"
        return (
            f"too late for this road: the next truck can come on {words.day(self.comes)}; until "
            f"then the tank must last: {told}{advice}"
        )


def late_truck(
    order: OrderDay | None,
    supplier: Supplier | None,
    closed: Sequence[Window],
    as_of: date,
    verdict: tuple[Window | None, Verdict | None],
) -> LateTruck | None:
    """The truck ordered today, where it comes too late; None where it comes in time.

    ``verdict`` tells of one closed stretch whether the tank lasts through it.
    """
    if order is None or supplier is None or order.order_by >= as_of:
        return None
    comes = add_interval(as_of, supplier.lead_time)
    window = next((one for one in closed if one.holds(comes)), None)
    if window is not None:
        comes = window.last + timedelta(days=1)
    lasts = verdict[1] if window is not None and window == verdict[0] else None
    return LateTruck(order, comes, lasts) if comes > order.arrives_by else None


def levels(start: float, found: Sequence[Draw], begin: date) -> Levels:
    """Levels from a start, by the sums of what all users take."""
    return Levels(
        begin,
        start,
        *(
            np.asarray(reserve.tank_level(start, daily(sum_of(found, part))))
            for part in ("expected", "heavy", "light")
        ),
    )


def sum_of(found: Sequence[Draw], part: str) -> Days:
    """What all users together have taken by the end of each day."""
    total: Days = np.zeros(HORIZON)
    for one in found:
        total = total + getattr(one, part)
    return total


def daily(total: Days) -> Days:
    """Use of each day from the running sum."""
    return np.maximum(np.diff(total, prepend=0.0), 0.0)


def days_from(begin: date) -> list[date]:
    """The days of a forecast."""
    return [begin + timedelta(days=place) for place in range(HORIZON)]


def closures(homestead: Homestead, begin: date) -> list[Window]:
    """The stretches without a truck that end after a day, in order."""
    closed = homestead.place.road_closed
    if closed is None:
        return []
    season = Season(closed.season.first, closed.season.last)
    found: list[Window] = []
    first: date | None = None
    day = begin
    for _ in range(366):  # a closure under way counts from its first day
        if not (season.holds(day - timedelta(days=1)) and season.holds(day)):
            break
        day -= timedelta(days=1)
    for _ in range(HORIZON + 400):
        inside = season.holds(day)
        if inside and first is None:
            first = day
        if not inside and first is not None:
            found.append(Window(first, day - timedelta(days=1)))
            first = None
        day += timedelta(days=1)
    return found


def order_day(
    needed: date, supplier: Supplier | None, closed: Sequence[Window], begin: date
) -> OrderDay | None:
    """The last day to order for a truck that must be there on ``needed``; None when no truck can
    come between the reading and that day, or when the supplier's lead time is not known."""
    if supplier is None:
        return None
    window = next((one for one in closed if one.holds(needed)), None)
    arrives = window.first - timedelta(days=1) if window else needed
    if arrives < begin and window is not None:
        return None
    lead = add_interval(arrives, supplier.lead_time) - arrives
    return OrderDay(arrives - lead, arrives, needed, window)


def order_before(
    mark_days: tuple[date | None, date | None, date | None],
    supplier: Supplier | None,
    closed: Sequence[Window],
    begin: date,
) -> OrderDay | None:
    """The last day to order before a mark is reached, with heavy use if that reaches it."""
    needed = mark_days[1] or mark_days[0]
    return order_day(needed, supplier, closed, begin) if needed else None


def shut_in(
    start: float, found: Sequence[Draw], begin: date, until: date, mark: float, first: date
) -> ShutIn | None:
    """Whether fuel of ``start`` on ``first`` lasts to the morning of ``until`` without a truck."""
    skip, days = (first - begin).days, (until - begin).days
    if not 0 <= skip < days <= HORIZON:
        return None
    usual = daily(sum_of(found, "expected"))[skip:days]
    heavy = daily(sum_of(found, "heavy"))[skip:days]
    expected, low = (
        float(np.asarray(reserve.tank_level(start, use))[-1]) for use in (usual, heavy)
    )
    needed = float(reserve.level_needed(heavy, mark, len(heavy)))
    verdict: Verdict = "yes" if low >= mark else "with usual use" if expected >= mark else "no"
    return ShutIn(until, start, expected, low, needed, verdict)


def fill_limit(contents: str | None) -> float:
    """Highest level a delivery may bring: liquid propane needs room to swell. [%]"""
    return tank.FILL_LIMIT if contents == "propane" else FULL


def filled(capacity: float, contents: str | None, factor: float) -> float:
    """Fuel in a tank at its filling limit. [L at 60 F]"""
    return capacity * fill_limit(contents) / 100 * factor


def month_starts(begin: date, count: int = MONTHS_SHOWN) -> list[date]:
    """First days of the months after a day."""
    year, month = begin.year, begin.month
    found = []
    for _ in range(count):
        year, month = year + month // 12, month % 12 + 1
        found.append(date(year, month, 1))
    return found


def monthly(total: Days, begin: date) -> tuple[float, ...]:
    """Mean use of a day in each month of the year from a running sum, January first. [L/d]"""
    use = daily(total)[:365]
    months = np.array([day.month for day in days_from(begin)[:365]])
    return tuple(float(use[months == month].mean()) for month in range(1, 13))
