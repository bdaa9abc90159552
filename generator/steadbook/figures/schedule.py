"""When a task falls due: hours or calendar, whichever comes first; and which tasks go together.

Pure arithmetic on dates and hours: the day of today, `as_of`, is an argument.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Generic, Literal, TypeVar

from steadbook.figures.usage import HoursForecast
from steadbook.units import CalendarInterval, add_interval

Status = Literal["past due", "due now", "order now", "coming up", "in hand", "no record"]
STATUSES: tuple[Status, ...] = (
    "past due", "no record", "due now", "order now", "coming up", "in hand",
)  # fmt: skip
Decider = Literal["calendar", "hours", "season", "purchase", "nothing"]
DUE_NOW_DAYS = 7
K = TypeVar("K")


@dataclass(frozen=True)
class Season:
    """The part of the year in which a task is done: (month, day) of its first and last day."""

    first: tuple[int, int]
    last: tuple[int, int]

    def last_day_before(self, day: date) -> date:
        """The season's last day on or before ``day``."""
        last = _in_year(day.year, self.last)
        return last if last <= day else _in_year(day.year - 1, self.last)

    def next_day_in(self, day: date) -> date:
        """``day`` itself if it lies in the season, else the season's next first day."""
        if self.holds(day):
            return day
        first = _in_year(day.year, self.first)
        if first <= day:
            first = _in_year(day.year + 1, self.first)
        return first if self.holds(first) else first + timedelta(days=1)

    def last_day_out(self, day: date) -> date:
        """``day`` itself if it lies outside the season, else the last day before the season began;
        ``day`` too where the season is the whole year."""
        if not self.holds(day):
            return day
        first = _in_year(day.year, self.first)
        eve = (first if first <= day else _in_year(day.year - 1, self.first)) - timedelta(days=1)
        return day if self.holds(eve) else eve

    def next_day_out(self, day: date) -> date:
        """``day`` itself if it lies outside the season, else the first day after the season."""
        if not self.holds(day):
            return day
        last = _in_year(day.year, self.last)
        after = (last if last >= day else _in_year(day.year + 1, self.last)) + timedelta(days=1)
        return day if self.holds(after) else after

    def holds(self, day: date) -> bool:
        """Whether ``day`` lies in the season."""
        here = (day.month, day.day)
        if self.first <= self.last:
            return self.first <= here <= self.last
        return here >= self.first or here <= self.last


def _in_year(year: int, month_day: tuple[int, int]) -> date:
    month, day = month_day
    try:
        return date(year, month, day)
    except ValueError:  # 29 February
        return date(year, 2, 28)


@dataclass(frozen=True)
class Rule:
    """An interval by hours [h], by calendar, or both; the first one may be shorter."""

    hours: float | None = None
    calendar: CalendarInterval | None = None
    first_hours: float | None = None
    first_calendar: CalendarInterval | None = None
    season: Season | None = None

    def is_first(self) -> bool:
        """Whether a first (break-in) interval is set."""
        return self.first_hours is not None or self.first_calendar is not None

    def is_round(self) -> bool:
        """Whether the task comes so often that it belongs to a daily, weekly or monthly round.

        One by hours too if it comes every fortnight: a look at the oil before the next run.
        """
        if self.calendar is None:
            return False
        days = self.calendar.months * 31 + self.calendar.days
        return days <= (45 if self.hours is None else 14)


@dataclass(frozen=True)
class Done:
    """When a task was last done: the day, and the machine's hours if it has a meter. [h]

    ``recorded`` is false where nothing is in the log and the counting starts from the day the
    machine came into service. ``used`` is true where it was not new on that day.
    """

    day: date | None
    hours: float | None = None
    recorded: bool = True
    used: bool = False


@dataclass(frozen=True)
class Due:
    """When a task is next due, and how that was found.

    ``day`` is None where neither a date nor a use rate is known. ``earliest`` and ``latest``
    bound the day where it hangs on the use rate. ``by`` names what decided: the calendar, the
    hours, the season that ends before either, or the purchase of a used machine without a record.
    """

    day: date | None
    by: Decider
    calendar_day: date | None = None
    hours_day: date | None = None
    at_hours: float | None = None
    hours_left: float | None = None
    earliest: date | None = None
    latest: date | None = None
    first_interval: bool = False


def next_due(rule: Rule, done: Done, forecast: HoursForecast | None = None) -> Due:
    """The next due day of a task.

    A task without a record is due since the day a used machine was bought: nobody can tell when
    it was last done.

    Parameters
    ----------
    rule : Rule
    done : Done
        When it was last done, or the start of counting.
    forecast : HoursForecast, optional
        Needed for an interval in hours.

    Returns
    -------
    Due

    Examples
    --------
    The trade's "two years or 200 h, whichever first":

    >>> from steadbook.figures.usage import UseRate, hours_forecast
    >>> slow = hours_forecast([(date(2026, 3, 1), 120.0)], UseRate((0.2,) * 12))
    >>> rule = Rule(hours=200.0, calendar=CalendarInterval(months=24))
    >>> next_due(rule, Done(date(2026, 3, 1), 120.0), slow).day
    datetime.date(2028, 3, 1)

    Source: common practice, no source ("whichever first"); calendar arithmetic after ISO 8601.
    """
    if done.used and not done.recorded and done.day is not None:
        return Due(done.day, "purchase", earliest=done.day, latest=done.day)
    first = rule.is_first() and not done.recorded
    hours = rule.first_hours if first and rule.first_hours is not None else rule.hours
    calendar = rule.first_calendar if first and rule.first_calendar is not None else rule.calendar

    calendar_day = add_interval(done.day, calendar) if calendar and done.day else None
    at_hours = done.hours + hours if hours is not None and done.hours is not None else None
    hours_day = early = late = left = None
    if at_hours is not None and forecast is not None:
        left = at_hours - forecast.hours
        hours_day = forecast.day_reaching(at_hours)
        early, late = forecast.days_between(at_hours)

    day = _sooner(calendar_day, hours_day)
    by: Decider = "nothing" if day is None else "calendar" if day == calendar_day else "hours"
    begin = done.day
    snapped = [_into_season(rule, begin, one) for one in (
        day, _sooner(calendar_day, early), _sooner(calendar_day, late))]  # fmt: skip
    if snapped[0] != day:
        by = "season"
    return Due(
        day=snapped[0],
        by=by,
        calendar_day=calendar_day,
        hours_day=hours_day,
        at_hours=at_hours,
        hours_left=left,
        earliest=snapped[1],
        latest=snapped[2],
        first_interval=first,
    )


def _sooner(one: date | None, other: date | None) -> date | None:
    return min(one, other) if one and other else one or other


def _into_season(rule: Rule, begin: date | None, day: date | None) -> date | None:
    """Back to the end of the last season, unless that would halve the interval or more.

    Then it waits for the next season, but for hours, which may run out before.
    """
    season = rule.season
    if season is None or day is None or season.holds(day):
        return day
    end = season.last_day_before(day)
    if begin is not None and (end - begin) <= (day - end):
        return season.next_day_in(day) if rule.hours is None else day
    return end


def in_this_season(due: Due, season: Season, as_of: date) -> Due:
    """The due day of a round in its present season, or in the coming one.

    What an earlier season left undone is over with it: nobody clears last winter's snow. The round
    then counts from the first day of the season that holds `as_of`, or of the one to come.

    Parameters
    ----------
    due : Due
    season : Season
    as_of : date

    Returns
    -------
    Due

    Examples
    --------
    >>> winter = Season((11, 1), (4, 30))
    >>> in_this_season(Due(date(2026, 12, 15), "calendar"), winter, date(2027, 6, 15)).day
    datetime.date(2027, 11, 1)

    Source: definition.
    """
    eve = season.last_day_out(as_of)
    if due.day is None or season.holds(eve):  # or it is the whole year
        return due
    first = season.next_day_in(eve + timedelta(days=1))
    if due.day >= first:
        return due
    return replace(due, day=first, by="season", earliest=first, latest=first)


def status(
    due: Due, done: Done, as_of: date, *, soon: date, order_by: date | None = None
) -> Status:
    """The status word of a task.

    ``soon`` is the last day that counts as coming up; ``order_by`` the day by which missing parts
    must be ordered (None: nothing is missing). A task that was never recorded is `no record`
    once its first due day has passed, or where no due day can be told.

    Source: definition; the words and the days they stand for are this project's choice.
    """
    if due.day is None:
        return "no record" if not done.recorded else "in hand"
    if due.day <= as_of and not done.recorded:
        return "no record"
    if due.day < as_of:
        return "past due"
    if due.day <= as_of + timedelta(days=DUE_NOW_DAYS):
        return "due now"
    if order_by is not None and order_by <= as_of:
        return "order now"
    return "coming up" if due.day <= soon else "in hand"


@dataclass(frozen=True)
class Job(Generic[K]):
    """A task as the planner sees it: its key, rule, last time, forecast and the keys it covers.

    ``covers`` holds all that it includes, also through the tasks it covers.
    """

    key: K
    rule: Rule
    done: Done
    forecast: HoursForecast | None = None
    covers: frozenset[K] = frozenset()


@dataclass(frozen=True)
class Visit(Generic[K]):
    """Tasks done on one day. ``covered`` are done within another one of the same visit."""

    day: date
    keys: tuple[K, ...]
    covered: frozenset[K] = field(default_factory=frozenset)


def visits(
    jobs: Iterable[Job[K]],
    as_of: date,
    until: date,
    *,
    window: int = 21,
    catch_up: date | None = None,
) -> list[Visit[K]]:
    """Visits from `as_of` to `until`: each takes what falls due within ``window`` days after it.

    Each visit is taken as done on its day when the ones after it are planned. What is overdue
    falls on ``catch_up`` (`as_of` itself if not given), or on the first day of its season. Rounds
    (a month or less) are left out. Order of ``jobs`` breaks ties.

    Source: definition.
    """
    state = {job.key: job for job in jobs if not job.rule.is_round()}
    order = {key: place for place, key in enumerate(state)}
    planned: dict[K, date] = {}  # what the queue holds besides is out of date
    queue: list[tuple[date, int, K]] = []

    def plan(job: Job[K], earliest: date) -> None:
        planned.pop(job.key, None)
        due = next_due(job.rule, job.done, job.forecast).day
        if due is None:
            return
        day = (catch_up or as_of) if due < as_of else max(due, earliest)
        if job.rule.season is not None:
            day = job.rule.season.next_day_in(day)
        if day <= until:
            planned[job.key] = day
            heapq.heappush(queue, (day, order[job.key], job.key))

    def taken_on(day: date) -> list[K]:
        keys, later = [], []
        while queue and queue[0][0] <= day + timedelta(days=window):
            item = heapq.heappop(queue)
            season = state[item[2]].rule.season
            if planned.get(item[2]) != item[0]:
                continue
            if season is None or season.holds(day):
                keys.append(item[2])
                del planned[item[2]]
            else:  # its season has not begun
                later.append(item)
        for item in later:
            heapq.heappush(queue, item)
        return sorted(keys, key=order.__getitem__)

    for job in state.values():
        plan(job, as_of)
    found: list[Visit[K]] = []
    while queue:
        day, _, next_key = queue[0]
        if planned.get(next_key) != day:
            heapq.heappop(queue)
            continue
        keys = taken_on(day)
        covered = frozenset(inner for key in keys for inner in state[key].covers if inner in state)
        found.append(Visit(day, tuple(keys), covered & frozenset(keys)))
        for key in [*keys, *sorted(covered - set(keys), key=order.__getitem__)]:
            job = state[key]
            hours = job.forecast.hours_on(day) if job.forecast else None
            state[key] = replace(job, done=Done(day, hours))
            plan(state[key], day + timedelta(days=1))
    return found


def all_covered(covers: Mapping[K, Iterable[K]], key: K) -> frozenset[K]:
    """All that ``key`` covers, also through what it covers. Circles do no harm.

    Source: definition.
    """
    found: set[K] = set()
    waiting = list(covers.get(key, ()))
    while waiting:
        inner = waiting.pop()
        if inner not in found:
            found.add(inner)
            waiting.extend(covers.get(inner, ()))
    return frozenset(found - {key})


def month_starts(begin: date, months: int) -> list[date]:
    """First days of ``months`` months from that of ``begin`` on.

    Source: definition.
    """
    first = begin.replace(day=1)
    return [add_interval(first, CalendarInterval(months=n)) for n in range(months)]
