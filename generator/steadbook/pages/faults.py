"""Fault finding as it is written: content/faults*.yaml -> checked steps, or every problem at once.

A fault asks one question a step; each answer leads on, to something to do, to somebody to call, or
to a stop. Nothing may end in the air: dead ends, ways round in a circle, steps that no answer
leads to and unknown names are problems with file and line.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from pathlib import Path
from typing import Literal, get_args

from pydantic import BaseModel, ConfigDict, Field, RootModel, ValidationError

from steadbook.errors import InventoryErrors, Problem
from steadbook.inventory import explain
from steadbook.inventory.explain import dotted, listing, nearest
from steadbook.inventory.fields import Line, Name, Text
from steadbook.inventory.read import Map, line_of, read_file

VALUE = re.compile(r"\{([^{}|]+)(?:\|([^{}]*))?\}")
# Whom `call:` may name beside people of the place: the words to look for in what they are.
TRADES = {
    "first": (),
    "emergency": (),
    "mechanic": ("mechanic", "genset", "engine"),
    "electrician": ("electric",),
    "plumber": ("plumb", "pump", "well"),
    "gas supplier": ("propane", "gas supplier", "gas fitter"),
}
Edition = Literal["owner", "sitter", "technician"]
# What all machines of a fault may have in common, or the home: steps of their own words.
Sort = Literal["flooded", "AGM", "gel", "LFP", "spark", "diesel", "air-cooled", "no fuel gas"]


class Answer(BaseModel):
    """What an answer leads to. `do` with `go`: where that does not cure it, go on there."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    go: Name | None = Field(None, description="The next step")
    do: Text | None = Field(None, description="Something to do")
    see: Name | None = Field(None, description="A procedure")
    call: Line | None = Field(None, description="Somebody of the place, or a trade")
    stop: Text | None = Field(None, description="Why it is not safe to go on")


class Step(BaseModel):
    """A question with two answers."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    check: Text
    yes: Answer
    no: Answer
    instead: dict[Sort, Step] = Field(
        default_factory=dict, description="The step for banks of one chemistry alone, one engine"
    )

    def answers(self) -> tuple[tuple[str, Answer], ...]:
        """Both answers with their names."""
        return ("yes", self.yes), ("no", self.no)


class Fault(BaseModel):
    """One symptom and its steps; the first step is asked first."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    title: Line
    about: Line = Field(
        description="A kind of machine (genset, diesel genset), or a system file (water)"
    )
    only_with: list[Line] = Field(
        default_factory=list, description="Left out of a home that has none of these"
    )
    editions: list[Edition] = Field(default=["owner", "technician"])
    cautions: list[Line] = Field(default_factory=list)
    cautions_instead: dict[Sort, list[Line]] = Field(default_factory=dict)
    steps: dict[Name, Step] = Field(min_length=1)

    def of_sorts(self, sorts: Collection[str]) -> Fault:
        """The fault as it reads for machines that are all of these sorts."""
        steps = {
            name: next((one for sort, one in step.instead.items() if sort in sorts), step)
            for name, step in self.steps.items()
        }
        cautions = next(
            (names for sort, names in self.cautions_instead.items() if sort in sorts),
            self.cautions,
        )
        return self.model_copy(update={"steps": steps, "cautions": cautions})

    def variants(self) -> Iterator[Fault]:
        """The fault for each sort that has words of its own."""
        for sort in get_args(Sort):
            if sort in self.cautions_instead or any(sort in s.instead for s in self.steps.values()):
                yield self.of_sorts({sort})

    def order(self) -> list[str]:
        """The steps so that every answer leads forward, as near as may be to the file's order."""
        place = {name: number for number, name in enumerate(self.steps)}
        graph: dict[str, set[str]] = {name: set() for name in self.steps}
        for name, step in self.steps.items():
            for _, answer in step.answers():
                if answer.go in graph:
                    graph[str(answer.go)].add(name)
        sorter = TopologicalSorter(graph)
        sorter.prepare()
        ready, found = list(sorter.get_ready()), list[str]()
        while ready:
            ready.sort(key=place.__getitem__)
            found.append(ready.pop(0))
            sorter.done(found[-1])
            ready += sorter.get_ready()
        return found


class Faults(RootModel[dict[Name, Fault]]):
    """A whole file."""


@dataclass(frozen=True)
class FaultFile:
    """A file of faults as read, with its lines."""

    name: str
    tree: Map
    faults: dict[str, Fault]


def read_faults(folders: list[Path]) -> list[FaultFile]:
    """All files of faults, the home's own first. Raises InventoryErrors."""
    found: list[Problem] = []
    files = []
    for folder in folders:
        for path in sorted(folder.glob("faults*.yaml")):
            name = f"content/{path.name}"
            tree, problems = read_file(path, name)
            found += problems
            try:
                if not problems:
                    files.append(FaultFile(name, tree, Faults.model_validate(tree).root))
            except ValidationError as error:
                found += explain.problems(error, Faults, tree, name)
    if found:
        raise InventoryErrors(found)
    return files


def chosen_faults(files: list[FaultFile]) -> dict[str, tuple[FaultFile, Fault]]:
    """Each fault with its file; of two with one name that of the first file counts."""
    chosen: dict[str, tuple[FaultFile, Fault]] = {}
    for file in files:
        for key, fault in file.faults.items():
            chosen.setdefault(key, (file, fault))
    return chosen


def check_faults(
    files: list[FaultFile],
    *,
    procedures: Iterable[str],
    cautions: Iterable[str],
    people: Iterable[str],
) -> list[Problem]:
    """Every problem within and between steps, with file and line."""
    names = {
        "see": ("procedure", sorted(procedures)),
        "call": ("person or trade", sorted({*people, *TRADES})),
    }
    known = sorted(cautions)
    return [
        Problem(file.name, line_of(file.tree, (key, *inside)), dotted((key, *inside)), *words)
        for file in files
        for key, whole in file.faults.items()
        for fault in (whole, *whole.variants())
        for inside, words in [
            *_circle(fault),
            *_answers(fault, names),
            *_unreached(fault),
            *(
                (("cautions", number), _unknown("caution", word, known))
                for number, word in enumerate(fault.cautions)
                if word not in known
            ),
        ]
    ]


Words = tuple[str, str, str]
Finding = tuple[tuple[str | int, ...], Words]


def _unknown(what: str, word: str, known: list[str]) -> Words:
    return (
        f"the {what} {word!r}, which does not exist",
        listing(known),
        nearest(word, known) or "correct the name",
    )


def _answers(fault: Fault, names: dict[str, tuple[str, list[str]]]) -> Iterator[Finding]:
    steps = list(fault.steps)
    for name, step in fault.steps.items():
        for word, answer in step.answers():
            at = ("steps", name, word)
            if answer.go is not None and answer.go not in steps:
                yield (*at, "go"), _unknown("step", answer.go, steps)
            for key, (what, known) in names.items():
                value = getattr(answer, key)
                if value is not None and value not in known:
                    yield (*at, key), _unknown(what, value, known)
            if not any((answer.go, answer.do, answer.see, answer.call, answer.stop)):
                yield (
                    at,
                    (
                        "a dead end",
                        "go, do, see, call or stop",
                        "write what to do, whom to call, or where to go on",
                    ),
                )
            if answer.stop and answer.go:
                yield (
                    (*at, "go"),
                    (
                        "a way on after a stop",
                        "a stop, with somebody to call or a page",
                        "remove one of the two",
                    ),
                )


def _circle(fault: Fault) -> Iterator[Finding]:
    try:
        fault.order()
    except CycleError as error:
        circle: list[str] = error.args[1]
        last, first = circle[-2], circle[-1]
        word = next(w for w, answer in fault.steps[last].answers() if answer.go == first)
        yield (
            ("steps", last, word, "go"),
            (
                f"the circle {' -> '.join(circle)}",
                "answers that lead forward alone",
                "end one of these answers with something to do or somebody to call",
            ),
        )


def _unreached(fault: Fault) -> Iterator[Finding]:
    first = next(iter(fault.steps))
    seen, waiting = set[str](), [first]
    while waiting:
        name = waiting.pop()
        if name in seen or name not in fault.steps:
            continue
        seen.add(name)
        waiting += [str(answer.go) for _, answer in fault.steps[name].answers() if answer.go]
    for name in fault.steps:
        if name not in seen:
            yield (
                ("steps", name),
                (
                    "a step that no answer leads to",
                    f"steps that can be reached from {first!r}",
                    f"add `go: {name}` to an answer, or remove the step",
                ),
            )
