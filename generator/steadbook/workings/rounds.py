"""Rounds in walking order, and the year's jobs shared out over the weekends."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from steadbook.figures import rounds as sharing
from steadbook.figures.schedule import Season
from steadbook.inventory.homestead import Homestead
from steadbook.units import CalendarInterval, add_interval
from steadbook.workings.tasks import TaskState

if TYPE_CHECKING:
    from steadbook.workings import PlannedVisit

ASSUMED_MINUTES = 15.0
"""For a task without `minutes:` [min]. Source: common practice, no source."""
PLANNED_MONTHS = 12
NO_PLACE = "No place given"
Frequency = Literal["daily", "weekly", "monthly"]
# A season that ends in these months belongs to the round, north of the equator.
SPRING, BEFORE_DARK = (3, 4, 5, 6), (9, 10, 11)


@dataclass(frozen=True)
class RoundJob:
    """A task where it is met on the round. ``is_assumed``: its minutes are not entered."""

    state: TaskState
    stop: str
    minutes: float
    is_assumed: bool

    @property
    def or_hours(self) -> str:
        """Its interval in the owner's words where hours may come before the round does."""
        return self.state.task.every.text if self.state.rule.hours is not None else ""


@dataclass(frozen=True)
class Round:
    """Tasks to walk in one go, by the places they are at."""

    title: str
    stops: tuple[tuple[str, tuple[RoundJob, ...]], ...]

    @property
    def jobs(self) -> tuple[RoundJob, ...]:
        """All of it, in walking order."""
        return tuple(job for _, jobs in self.stops for job in jobs)

    @property
    def minutes(self) -> float:
        """Work of the round [min]."""
        return sum(job.minutes for job in self.jobs)


@dataclass(frozen=True)
class PlannedWeekend:
    """A weekend with its jobs in walking order."""

    saturday: date
    jobs: tuple[RoundJob, ...]

    @property
    def minutes(self) -> float:
        """Work of the weekend [min]."""
        return sum(job.minutes for job in self.jobs)


@dataclass(frozen=True)
class RoundPlan:
    """The rounds of the place, and its weekends for a year from the next month on.

    ``this_month`` is what is due before the weekends begin.
    """

    regular: tuple[Round, ...]
    seasonal: tuple[Round, ...]
    this_month: Round
    weekends: tuple[PlannedWeekend, ...]
    unplaced: tuple[tuple[RoundJob, date, str], ...]
    hours: float

    @property
    def assumed(self) -> int:
        """How many tasks of rounds and weekends have no minutes entered."""
        jobs = [job for one in (*self.regular, self.this_month) for job in one.jobs]
        jobs += [job for weekend in self.weekends for job in weekend.jobs]
        return len({job.state.key for job in jobs if job.is_assumed})


def stop_of(place: str | None, walk: Sequence[str]) -> str:
    """The stop of the walk that a place belongs to: the first that its words name, of two at one
    spot the longer. A place that names none is a stop of its own.

    >>> stop_of("Battery room, north side of the barn", ["Barn", "Battery room"])
    'Battery room'
    >>> stop_of("Buried behind the barn", ["Barn"])
    'Barn'
    """
    if not place:
        return NO_PLACE
    text = place.casefold()
    found = [(hit.start(), -len(stop), stop) for stop in walk if (hit := _named(stop, text))]
    return min(found)[2] if found else place


def _named(stop: str, text: str) -> re.Match[str] | None:
    return re.search(rf"\b{re.escape(stop.casefold())}\b", text)


def round_plan(
    homestead: Homestead,
    states: Iterable[TaskState],
    visits: Iterable[PlannedVisit],
    as_of: date,
) -> RoundPlan:
    """Every round, and the plan of the weekends; both change from month to month, not by the day."""
    walk = homestead.place.walk
    listed = list(states)
    begin = add_interval(as_of.replace(day=1), CalendarInterval(months=1))
    planned = list(visits)
    due_now = [state for visit in planned if visit.day < begin for state in visit.tasks]
    weekends, unplaced = _weekends(homestead, planned, begin)
    return RoundPlan(
        regular=tuple(_regular(listed, walk)),
        seasonal=tuple(_seasonal(homestead, listed, as_of.replace(day=1))),
        this_month=_round(
            "This month", [state for state in _once(due_now) if not state.rule.is_round()], walk
        ),
        weekends=weekends,
        unplaced=unplaced,
        hours=homestead.place.weekend_hours.to("h"),
    )


def _once(states: Iterable[TaskState]) -> list[TaskState]:
    return list({state.key: state for state in states}.values())


def _job(state: TaskState, walk: Sequence[str]) -> RoundJob:
    entered = state.task.minutes
    return RoundJob(
        state,
        stop_of(state.machine.place, walk),
        entered.to("min") if entered else ASSUMED_MINUTES,
        is_assumed=entered is None,
    )


def _round(title: str, states: Iterable[TaskState], walk: Sequence[str]) -> Round:
    jobs = [_job(state, walk) for state in states]
    rank = {stop: number for number, stop in enumerate(walk)}
    stops = sorted({job.stop for job in jobs}, key=lambda stop: (rank.get(stop, len(rank)), stop))
    return Round(
        title, tuple((stop, tuple(job for job in jobs if job.stop == stop)) for stop in stops)
    )


def frequency(state: TaskState) -> Frequency | None:
    """Which of the rounds a task belongs to.

    Every day; up to every fortnight weekly; up to every 45 days monthly.
    """
    calendar = state.rule.calendar
    if not state.rule.is_round() or calendar is None:
        return None
    days = calendar.months * 31 + calendar.days
    return "daily" if days <= 1 else "weekly" if days <= 14 else "monthly"


def _regular(states: list[TaskState], walk: Sequence[str]) -> Iterable[Round]:
    titles: dict[Frequency, str] = {
        "daily": "Daily round",
        "weekly": "Weekly round",
        "monthly": "Monthly round",
    }
    for name, title in titles.items():
        chosen = [state for state in states if frequency(state) == name]
        if chosen:
            yield _round(title, chosen, walk)


def _seasonal(homestead: Homestead, states: list[TaskState], begin: date) -> Iterable[Round]:
    turn = 0 if homestead.place.latitude >= 0 else 6  # the other half of the year in the south
    for title, months in (("Spring round", SPRING), ("Before the dark season", BEFORE_DARK)):
        ends = {(month + turn - 1) % 12 + 1 for month in months}
        chosen = [
            state
            for state in states
            if state.rule.season is not None
            and not state.rule.is_round()
            and state.rule.season.last[0] in ends
            and _is_due_in_it(state, state.rule.season, begin)
        ]
        if chosen:
            yield _round(title, chosen, homestead.place.walk)


def _is_due_in_it(state: TaskState, season: Season, begin: date) -> bool:
    """Whether a task is due by the next end of its season."""
    if state.due.day is None:
        return True
    return state.due.day <= season.last_day_before(
        add_interval(begin, CalendarInterval(months=12, days=-1))
    )


def _weekends(
    homestead: Homestead, visits: list[PlannedVisit], begin: date
) -> tuple[tuple[PlannedWeekend, ...], tuple[tuple[RoundJob, date, str], ...]]:
    walk = homestead.place.walk
    end = add_interval(begin, CalendarInterval(months=PLANNED_MONTHS, days=-1))
    known: dict[str, tuple[RoundJob, date]] = {}
    jobs = []
    seen: set[tuple[str, str]] = set()
    for visit in visits:
        for state in visit.tasks:
            day = visit.day if state.key in seen else _last_day(state, visit.day)
            key = f"{state.id} {visit.day}"
            if not begin <= visit.day <= end or state.rule.is_round() or key in known:
                continue
            job = _job(state, walk)
            known[key] = job, visit.day
            earliest = max(begin, _earliest(state, day, homestead.place.visit_days))
            jobs.append(sharing.Job(key, job.minutes, job.stop, earliest, min(day, end)))
        seen.update(state.key for state in (*visit.tasks, *visit.covered))
    hours = homestead.place.weekend_hours.to("h")
    if not jobs or hours <= 0:
        return (), ()
    plan = sharing.balanced_plan(jobs, begin, end, hours, walk, gather=_gather(hours))
    weekends = tuple(
        PlannedWeekend(weekend.saturday, tuple(known[job.key][0] for job in weekend.jobs))
        for weekend in plan.weekends
        if weekend.jobs
    )
    left_over = tuple(
        (known[job.key][0], known[job.key][1], reason) for job, reason in plan.unplaced
    )
    return weekends, left_over


def _last_day(state: TaskState, visit: date) -> date:
    """The day a task falls due, where its visit goes ahead of that; else the day of the visit."""
    return max(visit, state.due.day) if state.due.day else visit


def _gather(hours: float) -> float:
    """How much fuller a weekend may get to spare a walk: a quarter of its hours [min]."""
    return hours * 60 / 4


def _earliest(state: TaskState, day: date, window: int) -> date:
    """The first day on which a job due on ``day`` may be done: within the window and its season."""
    season = state.rule.season
    first = day
    for back in range(1, window + 1):
        before = day - timedelta(days=back)
        if season is not None and season.holds(day) and not season.holds(before):
            break
        first = before
    return first
