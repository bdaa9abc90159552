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
    listed = _checked(jobs)
    slots = [_Slot(saturday) for saturday in saturdays(begin, end)]
    sharing = _Sharing(listed, slots, hours * 60, gather)
    tried = [(job, sharing.place(job)) for job in sharing.queue(listed)]
    unplaced = [(job, reason) for job, reason in tried if reason]
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


class _Sharing:
    """Weekends while they are filled. Each job's window is looked up once."""

    def __init__(self, jobs: list[Job], slots: list[_Slot], room: float, gather: float) -> None:
        self.slots, self.room, self.gather = slots, room, gather
        self.windows = {job.key: _window(job, slots) for job in jobs}
        self.movable: dict[date, list[tuple[Job, _Slot]]] = {}

    def queue(self, jobs: list[Job]) -> list[Job]:
        """Few choices first, then the longest: the rest fills the gaps."""
        return sorted(
            jobs,
            key=lambda job: (len(self.windows[job.key]), -job.minutes, job.latest, job.key),
        )

    def place(self, job: Job) -> str:
        """Put a job into a weekend; returns why not, or nothing."""
        if not self.slots:
            return NO_WEEKEND
        if job.minutes > self.room:
            return TOO_LONG
        free = [slot for slot in self.windows[job.key] if slot.has_room(job, self.room)]
        if not free:
            return "" if self._make_room(job) else NO_ROOM
        self.movable.clear()
        if job.latest < self.slots[0].saturday:  # overdue
            free[0].put(job)
            return ""
        least = min(slot.minutes for slot in free)
        near = [slot for slot in free if slot.minutes <= least + self.gather]

        def preference(slot: _Slot) -> tuple[bool, float, date]:
            return (not slot.places[job.place], slot.minutes, slot.saturday)

        min(near, key=preference).put(job)
        return ""

    def _make_room(self, job: Job) -> bool:
        """Move one job placed before to another weekend of its own window, so that this one fits."""
        window = self.windows[job.key]
        for slot in sorted(window, key=lambda slot: (slot.minutes, slot.saturday)):
            lacking = slot.minutes + job.minutes - self.room
            for other, target in self._movable(slot):
                if other.minutes >= lacking:
                    slot.take(other)
                    target.put(other)
                    slot.put(job)
                    self.movable.clear()
                    return True
        return False

    def _movable(self, slot: _Slot) -> list[tuple[Job, _Slot]]:
        """The jobs of a weekend that another one has room for, by size; kept until a job moves."""
        if slot.saturday not in self.movable:
            targets = (
                (other, (one for one in self.windows[other.key] if one is not slot))
                for other in slot.jobs
            )
            self.movable[slot.saturday] = [
                (other, target)
                for other, ones in targets
                if (target := next((one for one in ones if one.has_room(other, self.room)), None))
            ]
        return self.movable[slot.saturday]


def _window(job: Job, slots: list[_Slot]) -> list[_Slot]:
    """The weekends on which a job may be done, in order."""
    first = bisect_left(slots, job.earliest, key=lambda slot: slot.saturday + timedelta(days=1))
    after = bisect_right(slots, job.latest, key=lambda slot: slot.saturday)
    if first < after:
        return slots[first:after]
    return slots[after - 1 : after] if after else slots
