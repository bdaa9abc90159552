"""Hour-meter readings of a machine, made continuous over replaced meters."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import pairwise, repeat
from operator import attrgetter
from typing import NamedTuple

from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Reading, Service
from steadbook.inventory.year import METERED, Year

HOURS_OF_A_DAY = 24.0
DAYS_OF_A_YEAR = 365.25


class Mark(NamedTuple):
    """A day and the hours that the machine had run since its meter began.

    ``shown`` is what the meter showed; ``hours`` goes on over a replaced meter. ``at`` is where
    its entry stands (a year of the log, a list of `METERED`, a place in it), or None for the day
    the machine came here.
    """

    day: date
    hours: float
    shown: float
    at: tuple[Year, int, int] | None = None

    @property
    def entry(self) -> Reading | Service | None:
        """The reading or service of the log."""
        if self.at is None:
            return None
        year, number, place = self.at
        entry: Reading | Service = year.of(METERED[number])[place]
        return entry


@dataclass(frozen=True)
class Backwards:
    """A reading lower than ``before``, without a replaced meter between them.

    Before the day the machine came here it is one higher than what the machine came with.
    """

    mark: Mark
    shown: float
    before: Mark

    @property
    def entry(self) -> Reading | Service:
        """The entry that says so."""
        assert self.mark.entry is not None
        return self.mark.entry


@dataclass(frozen=True)
class Step:
    """From one mark of a meter to the next.

    ``most`` are all hours of those days, the first and the last one whole, since a reading has no
    time of day.
    """

    mark: Mark
    before: Mark

    @property
    def days(self) -> int:
        """Days from one to the other, both counted."""
        return (self.mark.day - self.before.day).days + 1

    @property
    def most(self) -> float:
        """The hours that they have."""
        return HOURS_OF_A_DAY * self.days

    @property
    def hours(self) -> float:
        """The hours run between them, by the meter."""
        return self.mark.hours - self.before.hours

    @property
    def words(self) -> str:
        """`812 h on 2026-11-01, 40 h more than on 2026-10-01`."""
        return (
            f"{self.mark.shown:.7g} h on {self.mark.day}, {self.hours:.7g} h more than on "
            f"{self.before.day}"
        )

    @property
    def hours_a_year(self) -> float:
        """The hours of a year that went on like this."""
        return self.hours / self.days * DAYS_OF_A_YEAR


def steps(line: list[Mark]) -> Iterator[Step]:
    """Each step of the marks of one machine."""
    for before, mark in pairwise(line):
        yield Step(mark, before)


def too_fast(line: list[Mark]) -> Iterator[Step]:
    """Where the marks of one machine rise faster than time goes."""
    for before, mark in pairwise(line):
        if mark.hours - before.hours > HOURS_OF_A_DAY:  # else no day is too short for it
            step = Step(mark, before)
            if step.hours > step.most + 1e-6:
                yield step


def marks(homestead: Homestead) -> tuple[dict[str, list[Mark]], list[Backwards]]:
    """The marks of each machine with a meter, in order of time, and the readings that go back.

    Readings of one day are taken in order of hours; the first reading of a new meter (it names
    the `old_meter`'s last reading) comes after all readings of the old one on that day.
    """
    found: dict[str, list[Mark]] = {}
    wrong: list[Backwards] = []
    for name, machine in homestead.machines.items():
        if machine.meter is None:
            continue
        begin = machine.meter.installed_at.to("h")
        stretches = _in_order(homestead.log.years, name)
        line: list[Mark] = []
        if machine.installed:
            came = Mark(machine.installed, begin, begin)
            before, stretches = _parted(stretches, came.day)
            line = [*_brought(before, came, wrong), came]
        found[name] = _line(line, stretches, wrong)
    return found, wrong


class _Stretch:
    """What a meter showed in some time, in order of time; ``old`` as in `Shown`."""

    def __init__(self, marks: list[Mark], old: Mapping[int, float], is_steady: bool) -> None:
        self.marks = marks
        self.old = old
        self.is_steady = is_steady

    def from_to(self, first: int, end: int) -> _Stretch:
        """A part of it."""
        old = {at - first: hours for at, hours in self.old.items() if first <= at < end}
        return _Stretch(self.marks[first:end], old, self.is_steady)


def _stretch(year: Year, name: str) -> _Stretch:
    """What a year of the log tells of a meter; made once."""
    known: dict[str, _Stretch] = year.worked_out.setdefault("meters", {})
    if name not in known:
        told = year.carried.shown[name]
        days = map(date.fromordinal, told.days)
        entries = zip(repeat(year), told.lists, told.places, strict=False)
        marks = list(map(Mark, days, told.hours, told.hours, entries))
        known[name] = _Stretch(marks, told.old, told.is_steady)
    return known[name]


def _in_order(years: Iterable[Year], name: str) -> list[_Stretch]:
    """One stretch after the other; where years run into each other, all of them as one."""
    told = [_stretch(year, name) for year in years if name in year.carried.shown]
    found = sorted(told, key=lambda one: one.marks[0].day)
    if all(one.marks[-1].day < after.marks[0].day for one, after in pairwise(found)):
        return found
    rows = [(mark, one.old.get(number)) for one in told for number, mark in enumerate(one.marks)]
    rows.sort(
        key=lambda row: (row[0].day, row[1] is not None, row[0].shown, row[0].at and row[0].at[1])
    )
    old = {number: hours for number, (_, hours) in enumerate(rows) if hours is not None}
    return [_Stretch([mark for mark, _ in rows], old, False)]


def _parted(stretches: list[_Stretch], day: date) -> tuple[list[_Stretch], list[_Stretch]]:
    """What lies before a day, and the rest."""
    before, rest = [], []
    for one in stretches:
        at = bisect_left(one.marks, day, key=attrgetter("day"))
        if at == 0:
            rest.append(one)
        elif at == len(one.marks):
            before.append(one)
        else:
            before.append(one.from_to(0, at))
            rest.append(one.from_to(at, len(one.marks)))
    return before, rest


def _brought(stretches: list[_Stretch], came: Mark, wrong: list[Backwards]) -> list[Mark]:
    """Marks from before the machine came here, as a seller's service book tells them."""
    marks_so_far = _line([], stretches, wrong)
    for mark in marks_so_far:
        if mark.shown > came.shown:
            wrong.append(Backwards(mark, mark.shown, came))
    return [mark for mark in marks_so_far if mark.shown <= came.shown]


def _line(line: list[Mark], stretches: list[_Stretch], wrong: list[Backwards]) -> list[Mark]:
    offset = 0.0
    for stretch in stretches:
        if (
            stretch.is_steady
            and not offset
            and (not line or stretch.marks[0].shown >= line[-1].shown)
        ):
            line += stretch.marks
            continue
        for mark, old in _of_each_meter(stretch):
            if old is not None:
                if line and old < line[-1].shown:
                    wrong.append(Backwards(mark, old, line[-1]))
                offset += old - mark.shown
            elif line and mark.shown < line[-1].shown:
                wrong.append(Backwards(mark, mark.shown, line[-1]))
                continue
            line.append(Mark(mark.day, offset + mark.shown, mark.shown, mark.at))
    return line


def _of_each_meter(stretch: _Stretch) -> list[tuple[Mark, float | None]]:
    """Each mark with the last reading of the meter that was replaced before it, if one was.

    On a day with a replaced meter, what is below the new meter's first reading plus a day's
    running counts as the new meter's.
    """
    rows = [(mark, stretch.old.get(number)) for number, mark in enumerate(stretch.marks)]
    for place, (first, old) in enumerate(rows):
        if old is not None:
            low = [
                row
                for row in rows[:place]
                if row[0].day == first.day
                and first.shown <= row[0].shown <= first.shown + HOURS_OF_A_DAY < old
            ]
            if low:
                rest = [row for row in rows[:place] if row not in low]
                return [*rest, rows[place], *low, *rows[place + 1 :]]
    return rows
