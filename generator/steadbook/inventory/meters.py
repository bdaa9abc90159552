"""Hour-meter readings of a machine, made continuous over replaced meters."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import NamedTuple

from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Reading, Service

HOURS_OF_A_DAY = 24.0
DAYS_OF_A_YEAR = 365.25


class Mark(NamedTuple):
    """A day and the hours that the machine had run since its meter began.

    ``shown`` is what the meter showed; ``hours`` goes on over a replaced meter. ``entry`` is the
    reading or service of the log, or None for the day the machine came here.
    """

    day: date
    hours: float
    shown: float
    entry: Reading | Service | None = None


@dataclass(frozen=True)
class Backwards:
    """A reading lower than ``before``, without a replaced meter between them.

    Before the day the machine came here it is one higher than what the machine came with.
    """

    entry: Reading | Service
    shown: float
    before: Mark


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
    entries: dict[str, list[Reading | Service]] = defaultdict(list)
    for reading in homestead.log.readings:
        entries[reading.machine].append(reading)
    for service in homestead.log.services:
        if service.hours is not None:
            entries[service.machine].append(service)
    found: dict[str, list[Mark]] = {}
    wrong: list[Backwards] = []
    for name, machine in homestead.machines.items():
        if machine.meter is None:
            continue
        begin = machine.meter.installed_at.to("h")
        line: list[Mark] = []
        mine = entries.get(name, [])
        if machine.installed:
            came = Mark(machine.installed, begin, begin)
            line = [*_brought([one for one in mine if one.date < came.day], came, wrong), came]
            mine = [one for one in mine if one.date >= came.day]
        found[name] = _line(line, mine, wrong)
    return found, wrong


# `type(entry) is Reading` where isinstance would do: on these classes it takes ten times as long.


def _order(entry: Reading | Service) -> tuple[date, int, float]:
    replaced = type(entry) is Reading and entry.old_meter is not None
    assert entry.hours is not None
    return entry.date, int(replaced), entry.hours.to("h")


def _brought(entries: list[Reading | Service], came: Mark, wrong: list[Backwards]) -> list[Mark]:
    """Marks from before the machine came here, as a seller's service book tells them."""
    marks_so_far = _line([], entries, wrong)
    for mark in marks_so_far:
        if mark.shown > came.shown and mark.entry is not None:
            wrong.append(Backwards(mark.entry, mark.shown, came))
    return [mark for mark in marks_so_far if mark.shown <= came.shown]


def _line(line: list[Mark], entries: list[Reading | Service], wrong: list[Backwards]) -> list[Mark]:
    offset = 0.0
    for entry in _in_order(entries):
        assert entry.hours is not None
        shown = entry.hours.to("h")
        if type(entry) is Reading and entry.old_meter is not None:
            old = entry.old_meter.to("h")
            if line and old < line[-1].shown:
                wrong.append(Backwards(entry, old, line[-1]))
            offset += old - shown
        elif line and shown < line[-1].shown:
            wrong.append(Backwards(entry, shown, line[-1]))
            continue
        line.append(Mark(entry.date, offset + shown, shown, entry))
    return line


def _in_order(entries: list[Reading | Service]) -> list[Reading | Service]:
    """By day; on a day with a replaced meter, what is below the new meter's first reading plus a
    day's running counts as the new meter's."""
    ordered = sorted(entries, key=_order)
    for place, entry in enumerate(ordered):
        if type(entry) is Reading and entry.old_meter is not None:
            first = entry.hours.to("h")
            low = [
                other
                for other in ordered[:place]
                if other.date == entry.date
                and other.hours is not None
                and first <= other.hours.to("h") <= first + 24 < entry.old_meter.to("h")
            ]
            if low:
                rest = [other for other in ordered[:place] if other not in low]
                return [*rest, entry, *low, *ordered[place + 1 :]]
    return ordered
