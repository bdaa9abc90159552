"""The whole inventory, checked and typed, and where each entry stands in its file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from pydantic import BaseModel

from steadbook.errors import Problem
from steadbook.inventory import explain, models
from steadbook.inventory.climate import Climate, WhatIf
from steadbook.inventory.read import Map, line_of
from steadbook.inventory.redact import Edition
from steadbook.inventory.year import Log, Year

if TYPE_CHECKING:
    from steadbook.inventory.meters import Backwards, Mark

Place = tuple[str, tuple[str | int, ...]]
"""A file, and the keys that lead to an entry in it."""


class Trees(Mapping[str, Map]):
    """The values of each file as written; some files are read when they are first asked for."""

    def __init__(self) -> None:
        self._made: dict[str, Map | Callable[[], Map]] = {}

    def put(self, name: str, tree: Map | Callable[[], Map]) -> None:
        """Add a file, or what reads it when it is asked for."""
        self._made[name] = tree

    def take(self, name: str, others: Trees) -> None:
        """Add a file as it is among others, read or not yet."""
        self._made[name] = others._made[name]

    def __getitem__(self, name: str) -> Map:
        tree = self._made[name]
        if not isinstance(tree, Map):
            self._made[name] = tree = tree()
        return tree

    def __contains__(self, name: object) -> bool:
        return name in self._made

    def __iter__(self) -> Iterator[str]:
        return iter(self._made)

    def __len__(self) -> int:
        return len(self._made)


@dataclass
class Files:
    """The files as read: where each entry stands.

    ``unread`` are the kinds of names (machine, part, ...) of which some may stand in a file that
    has errors; ``made`` what was made of each file (None where it has errors).
    """

    trees: Trees = field(default_factory=Trees)
    places: dict[int, Place] = field(default_factory=dict)
    unread: set[str] = field(default_factory=set)
    made: dict[str, BaseModel | Year | None] = field(default_factory=dict)

    def place(self, entry: object) -> Place:
        """Where an entry stands. The log's many are looked up when one of them is asked for."""
        if id(entry) not in self.places:
            for name, year in self.made.items():
                if isinstance(year, Year):
                    for key, number, one in year.made():
                        self.places[id(one)] = (name, (key, number))
        return self.places[id(entry)]

    def where(self, entry: object, *inside: str | int) -> str:
        """`file:line` of an entry of the log, a machine, a part or a supplier, or a key in it."""
        name, path = self.place(entry)
        return f"{name}:{line_of(self.trees[name], (*path, *inside))}"

    def problem(
        self,
        entry: object,
        inside: tuple[str | int, ...],
        found: str,
        allowed: str,
        fix: str,
        warning: bool = False,
    ) -> Problem:
        """A problem at a key inside an entry."""
        name, path = self.place(entry)
        full = (*path, *inside)
        line = line_of(self.trees[name], full)
        return Problem(name, line, explain.dotted(full), found, allowed, fix, warning)


@dataclass(frozen=True)
class Homestead:
    """Everything that the inventory says, checked and typed."""

    place: models.Place
    systems: dict[str, models.System]
    machines: dict[str, models.Machine]
    suppliers: dict[str, models.Supplier]
    parts: dict[str, models.Part]
    log: Log
    files: Files
    edition: Edition = "owner"
    climate: Climate | None = None
    what_if: WhatIf | None = None
    warnings: tuple[Problem, ...] = ()

    @cached_property
    def marks(self) -> tuple[dict[str, list[Mark]], list[Backwards]]:
        """The marks of each machine with a meter, and the readings that go back."""
        from steadbook.inventory.meters import marks

        return marks(self)

    def tasks(self) -> Iterator[tuple[models.Machine, str, models.Task]]:
        """Every task: its machine, its name, itself."""
        for machine in self.machines.values():
            for name, task in machine.tasks.items():
                yield machine, name, task
