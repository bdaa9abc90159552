"""The log, year by year: its entries, made when they are asked for, and what each year carries
forward so that few of them are.

A ledger carries its sums to the next page; so does a year of the log. What `record` and `due` ask
of twenty years (who is named, when a task was last done, what a meter showed) stands there, and
the entries themselves stay unread.
"""

from __future__ import annotations

import hashlib
from abc import ABC, abstractmethod
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from operator import attrgetter
from typing import Any, NamedTuple

from steadbook.inventory import models
from steadbook.inventory.models import LogYear

LISTS = tuple(LogYear.model_fields)
NAMED_BY = {
    "readings": "machine", "services": "machine", "runs": "machine", "measurements": "machine",
    "events": "machine", "levels": "tank", "deliveries": "tank", "orders": "supplier",
    "counts": "part",
}  # fmt: skip
METERED = ("readings", "services")  # the lists whose entries tell what an hour meter showed


@dataclass(frozen=True)
class Shown:
    """What a machine's hour meter showed in a year, in order of time: columns of one length.

    Days as their numbers; of one day in order of hours, a replaced meter after all of the old one.
    ``lists`` and ``places`` say where each entry stands, ``old`` has the last reading of the old
    meter at the number of the first one of the new. ``is_steady``: no meter replaced, none running
    back.
    """

    days: list[int]
    hours: list[float]
    lists: list[int]
    places: list[int]
    old: dict[int, float]
    is_steady: bool


class Last(NamedTuple):
    """The last service of a year that did a task: its day as a number, its meter, its place."""

    day: int
    hours: float
    place: int


@dataclass(frozen=True)
class Carried:
    """What a year carries forward.

    ``days`` are the first and the last day of each list that has entries, as numbers; ``names``
    what its entries name (a machine, a tank, a supplier, a part), each once.
    """

    days: dict[str, tuple[int, int]] = field(default_factory=dict)
    names: dict[str, list[str]] = field(default_factory=dict)
    done: dict[str, dict[str, Last]] = field(default_factory=dict)
    shown: dict[str, Shown] = field(default_factory=dict)


def carried(year: LogYear) -> Carried:
    """What these entries carry forward."""
    days, names = {}, {}
    for key in LISTS:
        entries = getattr(year, key)
        if entries:
            numbers = [one.date.toordinal() for one in entries]
            days[key] = min(numbers), max(numbers)
            named = dict.fromkeys(getattr(one, NAMED_BY[key]) for one in entries)
            names[key] = [one for one in named if one is not None]
    return Carried(days, names, _done(year.services), _shown(year))


def _done(services: Sequence[models.Service]) -> dict[str, dict[str, Last]]:
    found: dict[str, dict[str, Last]] = {}
    for place, one in enumerate(services):
        mine = found.setdefault(one.machine, {})
        hours = one.hours.to("h") if one.hours else 0.0
        last = Last(one.date.toordinal(), hours, place)
        for task in one.tasks:
            if task not in mine or last[:2] > mine[task][:2]:  # of like ones the first
                mine[task] = last
    return found


def _shown(year: LogYear) -> dict[str, Shown]:
    rows: dict[str, list[tuple[int, bool, float, int, int, float | None]]] = {}
    for number, key in enumerate(METERED):
        for place, one in enumerate(getattr(year, key)):
            if one.hours is not None:
                old = getattr(one, "old_meter", None)
                rows.setdefault(one.machine, []).append((
                    one.date.toordinal(), old is not None, one.hours.to("h"), number, place,
                    old.to("h") if old is not None else None,
                ))  # fmt: skip
    return {name: shown(each) for name, each in rows.items()}


def shown(rows: list[tuple[int, bool, float, int, int, float | None]]) -> Shown:
    """Columns of rows (day, whether a meter was replaced, hours, list, place, the old meter)."""
    rows.sort(key=lambda row: row[:3])
    days, _, hours, lists, places, olds = (list(column) for column in zip(*rows, strict=True))
    old = {number: one for number, one in enumerate(olds) if one is not None}
    return Shown(days, hours, lists, places, old, not old and hours == sorted(hours))


class Year(ABC):
    """A year of the log. ``worked_out`` holds what was made of it and is the same each time."""

    def __init__(self, carries: Carried) -> None:
        self.carried = carries
        self.worked_out: dict[str, Any] = {}

    @abstractmethod
    def of(self, key: str) -> Sequence[Any]:
        """The entries of a list, as written."""

    @abstractmethod
    def having(self, key: str, word: str) -> Sequence[Any]:
        """Those entries of a list in which a key is written."""

    @abstractmethod
    def fingerprint(self, key: str) -> str:
        """A hash of the entries of a list."""

    @abstractmethod
    def made(self) -> Iterator[tuple[str, int, Any]]:
        """The entries made so far: their list, their place in it, themselves."""


class WrittenYear(Year):
    """A year as it was read from its file."""

    def __init__(self, model: LogYear) -> None:
        super().__init__(carried(model))
        self.model = model

    def of(self, key: str) -> Sequence[Any]:
        """The entries of a list, as written."""
        entries: list[Any] = getattr(self.model, key)
        return entries

    def having(self, key: str, word: str) -> Sequence[Any]:
        """Those entries of a list in which a key is written."""
        return [one for one in self.of(key) if word in one.model_fields_set]

    def fingerprint(self, key: str) -> str:
        """A hash of the entries of a list."""
        return hashlib.sha256(repr(self.of(key)).encode()).hexdigest()

    def made(self) -> Iterator[tuple[str, int, Any]]:
        """The entries: their list, their place in it, themselves."""
        for key in LISTS:
            for place, entry in enumerate(self.of(key)):
                yield key, place, entry


@dataclass(frozen=True, eq=False)
class Log:
    """All years of the log; each list in order of date (entries of one day as written)."""

    years: tuple[Year, ...] = ()

    @cached_property
    def readings(self) -> tuple[models.Reading, ...]:
        """Hour meters read."""
        return self._all("readings")

    @cached_property
    def services(self) -> tuple[models.Service, ...]:
        """Work done."""
        return self._all("services")

    @cached_property
    def runs(self) -> tuple[models.Run, ...]:
        """Runs of a machine."""
        return self._all("runs")

    @cached_property
    def levels(self) -> tuple[models.Level, ...]:
        """Tank gauges read."""
        return self._all("levels")

    @cached_property
    def deliveries(self) -> tuple[models.Delivery, ...]:
        """Fuel delivered."""
        return self._all("deliveries")

    @cached_property
    def orders(self) -> tuple[models.Order, ...]:
        """Parts ordered."""
        return self._all("orders")

    @cached_property
    def counts(self) -> tuple[models.Count, ...]:
        """Stock-takes."""
        return self._all("counts")

    @cached_property
    def measurements(self) -> tuple[models.Measurement, ...]:
        """Values measured."""
        return self._all("measurements")

    @cached_property
    def events(self) -> tuple[models.Event, ...]:
        """Anything else worth keeping."""
        return self._all("events")

    def _all(self, key: str) -> tuple[Any, ...]:
        return _by_day(year.of(key) for year in self.years if key in year.carried.days)

    def having(self, key: str, word: str) -> tuple[Any, ...]:
        """Those entries of a list in which a key is written, in order of date."""
        return _by_day(year.having(key, word) for year in self.years if key in year.carried.days)

    def around(self, key: str, day: date) -> Iterator[Any]:
        """The entries of a list in the years that have any before and after a day, or on it."""
        number = day.toordinal()
        for year in self.years:
            first, last = year.carried.days.get(key, (0, 0))
            if first <= number <= last:
                yield from year.of(key)

    def after(self, key: str, day: date) -> Iterator[Any]:
        """The entries of a list that are of a later day."""
        number = day.toordinal()
        for year in self.years:
            if year.carried.days.get(key, (0, 0))[1] > number:
                yield from (one for one in year.of(key) if one.date > day)

    def last_day(self, key: str) -> date | None:
        """The day of the last entry of a list."""
        days = [year.carried.days[key][1] for year in self.years if key in year.carried.days]
        return date.fromordinal(max(days)) if days else None

    def last(self, key: str, name: str, until: date = date.max) -> Any:
        """The last entry of a list up to a day that names a machine, tank, supplier or part."""
        found, at, end = None, 0, until.toordinal()
        years = [year for year in reversed(self.years) if name in year.carried.names.get(key, ())]
        for year in sorted(years, key=lambda year: -year.carried.days[key][1]):
            if year.carried.days[key][1] <= at:
                break
            for one in reversed(year.of(key)):
                if getattr(one, NAMED_BY[key]) == name and at < one.date.toordinal() <= end:
                    found, at = one, one.date.toordinal()
        return found

    def last_done(self, machine: str, tasks: Sequence[str]) -> models.Service | None:
        """The last service that did any of a machine's tasks; of one day that with most hours."""
        best: tuple[Last, Year] | None = None
        for task in tasks:
            for year in self.years:
                last = year.carried.done.get(machine, {}).get(task)
                if last is not None and (best is None or last[:2] > best[0][:2]):
                    best = last, year
        return best[1].of("services")[best[0].place] if best else None

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Log):
            return NotImplemented
        return all(getattr(self, key) == getattr(other, key) for key in LISTS)

    __hash__ = None  # type: ignore[assignment]


def _by_day(lists: Iterator[Sequence[Any]]) -> tuple[Any, ...]:
    return tuple(sorted((one for entries in lists for one in entries), key=attrgetter("date")))
