"""Sharing the year's jobs out over weekends, and the order to walk them in.

Longest job first onto the emptiest weekend of its window: with equal windows no weekend gets more
than 4/3 of what the best possible plan would give its fullest one (R. L. Graham, 1969).
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from steadbook.figures._declare import require


@dataclass(frozen=True)
class Job:
    """Something to do within a window of days; ``minutes`` of work at a place."""

    key: str
    minutes: float
    place: str
    earliest: date
    latest: date


@dataclass(frozen=True)
class Weekend:
    """The jobs of a Saturday and the Sunday after, in walking order."""

    saturday: date
    jobs: tuple[Job, ...]

    @property
    def minutes(self) -> float:
        """Work of the weekend [min]."""
        return sum(job.minutes for job in self.jobs)


@dataclass(frozen=True)
class Plan:
    """Weekends with their jobs, and the jobs that found no room, each with the reason."""

    weekends: tuple[Weekend, ...]
    unplaced: tuple[tuple[Job, str], ...]


TOO_LONG = "longer than a weekend: split it or get help"
NO_ROOM = "no weekend of its window has room"
NO_WEEKEND = "no weekend to plan"


@dataclass
class _Slot:
    """A weekend while it is filled; its jobs are kept in order of their minutes."""

    saturday: date
    jobs: list[Job] = field(default_factory=list)
    minutes: float = 0.0
    places: Counter[str] = field(default_factory=Counter)

    def put(self, job: Job) -> None:
        insort(self.jobs, job, key=_size)
        self.minutes += job.minutes
        self.places[job.place] += 1

    def take(self, job: Job) -> None:
        self.jobs.remove(job)
        self.minutes = sum(one.minutes for one in self.jobs)
        self.places[job.place] -= 1

    def has_room(self, job: Job, room: float) -> bool:
        return self.minutes + job.minutes <= room


def _size(job: Job) -> tuple[float, str]:
    return job.minutes, job.key


def saturdays(begin: date, end: date) -> list[date]:
    """Saturdays of the weekends that touch the days from ``begin`` to ``end``.

    >>> saturdays(date(2026, 6, 7), date(2026, 6, 13))
    [datetime.date(2026, 6, 6), datetime.date(2026, 6, 13)]

    Source: definition.
    """
    require(begin <= end, "begin", begin, "", f"not after {end}")
    first = begin - timedelta(days=(begin.weekday() - 5) % 7)
    if first + timedelta(days=1) < begin:
        first += timedelta(days=7)
    return [first + timedelta(days=day) for day in range(0, (end - first).days + 1, 7)]


def walking_order(jobs: Iterable[Job], places: Sequence[str]) -> tuple[Job, ...]:
    """Jobs in the order of the places of a round; places not named there come last, by name.

    >>> day = date(2026, 6, 6)
    >>> shed, house = (Job(name, 10, name, day, day) for name in ("shed", "house"))
    >>> [job.key for job in walking_order([shed, house], ["house", "shed"])]
    ['house', 'shed']

    Source: definition.
    """
    rank = {place: number for number, place in enumerate(places)}
    return tuple(sorted(jobs, key=lambda job: (rank.get(job.place, len(rank)), job.place, job.key)))


def balanced_plan(
    jobs: Iterable[Job],
    begin: date,
    end: date,
    hours: float,
    places: Sequence[str] = (),
    gather: float = 0.0,
) -> Plan:
    """Share jobs out over the weekends so that none is longer than the hours given to it.

    A job overdue at the start goes to the first weekend with room; one whose window holds no
    weekend, to the last weekend before its window ends. The same jobs give the same plan, in
    whatever order they come.

    Parameters
    ----------
    jobs : iterable of Job
        Minutes 0 or more, ``earliest`` not after ``latest``, keys different.
    begin, end : date
        First and last day to plan.
    hours : float
        Work that fits into a weekend; > 0. [h]
    places : sequence of str
        Order of the round.
    gather : float
        How much fuller a weekend may get because its round passes the place anyway; >= 0. [min]

    Returns
    -------
    Plan
        Every weekend of the time, also the empty ones.

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    >>> window = date(2026, 6, 1), date(2026, 6, 14)
    >>> jobs = [Job("oil", 45, "shed", *window), Job("roof", 60, "house", *window)]
    >>> [weekend.minutes for weekend in balanced_plan(jobs, *window, hours=1.0).weekends]
    [60, 45]

    Source: R. L. Graham (1969), longest job first.
    """
    require(hours > 0, "hours", hours, "h", "more than 0")
    require(gather >= 0, "gather", gather, "min", "0 or more")
    # few choices first, then the longest: the rest fills the gaps
    slots = [_Slot(saturday) for saturday in saturdays(begin, end)]
    queue = sorted(
        _checked(jobs),
        key=lambda job: (len(_window(job, slots)), -job.minutes, job.latest, job.key),
    )
    room = hours * 60
    unplaced: list[tuple[Job, str]] = []
    for job in queue:
        reason = _place(job, slots, room, gather)
        if reason:
            unplaced.append((job, reason))
    return Plan(
        tuple(Weekend(slot.saturday, walking_order(slot.jobs, places)) for slot in slots),
        tuple(sorted(unplaced, key=lambda pair: pair[0].key)),
    )


def _checked(jobs: Iterable[Job]) -> list[Job]:
    listed = list(jobs)
    seen: set[str] = set()
    for job in listed:
        require(job.minutes >= 0, f"minutes of {job.key}", job.minutes, "min", "0 or more")
        ordered = job.earliest <= job.latest
        require(ordered, f"window of {job.key}", job.earliest, "", f"not after {job.latest}")
        require(job.key not in seen, "key", job.key, "", "different for every job")
        seen.add(job.key)
    return listed


def _window(job: Job, slots: list[_Slot]) -> list[_Slot]:
    """The weekends on which a job may be done, in order."""
    first = bisect_left(slots, job.earliest, key=lambda slot: slot.saturday + timedelta(days=1))
    after = bisect_right(slots, job.latest, key=lambda slot: slot.saturday)
    if first < after:
        return slots[first:after]
    return slots[after - 1 : after] if after else slots


def _is_overdue(job: Job, slots: list[_Slot]) -> bool:
    return bool(slots) and job.latest < slots[0].saturday


def _place(job: Job, slots: list[_Slot], room: float, gather: float) -> str:
    """Put a job into a weekend; returns why not, or nothing."""
    if not slots:
        return NO_WEEKEND
    if job.minutes > room:
        return TOO_LONG
    window = _window(job, slots)
    free = [slot for slot in window if slot.has_room(job, room)]
    if not free:
        return "" if _make_room(job, window, slots, room) else NO_ROOM
    if _is_overdue(job, slots):
        free[0].put(job)
        return ""
    least = min(slot.minutes for slot in free)
    near = [slot for slot in free if slot.minutes <= least + gather]

    def preference(slot: _Slot) -> tuple[bool, float, date]:
        return (not slot.places[job.place], slot.minutes, slot.saturday)

    min(near, key=preference).put(job)
    return ""


def _make_room(job: Job, window: list[_Slot], slots: list[_Slot], room: float) -> bool:
    """Move one job placed before to another weekend of its own window, so that this one fits."""
    emptiest = min(slots, key=lambda slot: slot.minutes)
    for slot in sorted(window, key=lambda slot: (slot.minutes, slot.saturday)):
        lacking = slot.minutes + job.minutes - room
        for other in slot.jobs[bisect_left(slot.jobs, lacking, key=lambda one: one.minutes) :]:
            if not emptiest.has_room(other, room):
                break  # nor has any weekend for the longer ones after it
            for target in _window(other, slots):
                if target is not slot and target.has_room(other, room):
                    slot.take(other)
                    target.put(other)
                    slot.put(job)
                    return True
    return False
