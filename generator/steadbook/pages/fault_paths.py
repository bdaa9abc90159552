"""Faults of a home as its pages show them: numbered steps, its own values, its own people."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from steadbook.errors import InventoryErrors, Problem
from steadbook.inventory.explain import dotted, nearest
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Machine, Person, Spec, Supplier
from steadbook.inventory.read import line_of
from steadbook.pages.called import FUEL_GAS, answers_to, home_answers_to
from steadbook.pages.escape import as_text, phone_link
from steadbook.pages.faults import TRADES, VALUE, Answer, Fault, FaultFile
from steadbook.units import Quantity
from steadbook.workings import words


@dataclass(frozen=True)
class Outcome:
    """What an answer leads to, in plain words; ``go`` is the number of a step."""

    go: int | None = None
    do: str = ""
    see: str = ""
    call: str = ""
    phone: str = ""
    stop: str = ""

    @property
    def is_end(self) -> bool:
        """Whether there is more to it than going on."""
        return bool(self.do or self.see or self.call or self.stop)


@dataclass(frozen=True)
class Row:
    """One numbered step."""

    number: int
    check: str
    yes: Outcome
    no: Outcome


@dataclass(frozen=True)
class FaultPath:
    """A fault worked out for a home."""

    key: str
    title: str
    about: str
    cautions: tuple[str, ...]
    machines: tuple[Machine, ...]
    rows: tuple[Row, ...]


def fault_paths(
    homestead: Homestead,
    faults: Mapping[str, tuple[FaultFile, Fault]],
    machine: str | None = None,
) -> list[FaultPath]:
    """The faults of an edition that the home has machines for. Raises InventoryErrors."""
    found, problems = list[FaultPath](), list[Problem]()
    has = home_answers_to(homestead.machines.values())
    for key, (file, fault) in faults.items():
        subjects = _subjects(homestead, fault, machine)
        if fault.only_with and not has.intersection(fault.only_with):
            continue
        if homestead.edition in fault.editions and subjects:
            fault = fault.of_sorts(_sorts(subjects, has))
            teller = _Teller(homestead, subjects)
            found.append(_path(key, fault, subjects, teller))
            problems += [
                Problem(
                    file.name,
                    line_of(file.tree, (key, *inside)),
                    dotted((key, *inside)),
                    f"the value {word!r}, which no {fault.about} of this home has",
                    "values of the inventory, or words after a bar: {" + word + "|by the manual}",
                    nearest(word, teller.names) or "add it to the inventory, or add the words",
                )
                for inside, word in _missing(fault, teller)
            ]
    if problems:
        raise InventoryErrors(problems)
    return found


def _subjects(homestead: Homestead, fault: Fault, machine: str | None) -> tuple[Machine, ...]:
    return tuple(
        one
        for one in homestead.machines.values()
        if fault.about in answers_to(one) and machine in (None, one.id)
    )


def _sorts(subjects: tuple[Machine, ...], home: set[str]) -> set[str]:
    """What all of them are: `LFP`, `diesel`; and `no fuel gas` where the home has none."""
    shared = set.intersection(*(answers_to(one) for one in subjects))
    return shared if FUEL_GAS in home else {*shared, f"no {FUEL_GAS}"}


def _path(key: str, fault: Fault, subjects: tuple[Machine, ...], teller: _Teller) -> FaultPath:
    order = fault.order()
    number = {name: place for place, name in enumerate(order, start=1)}
    rows = tuple(
        Row(
            number[name],
            teller.told(fault.steps[name].check),
            teller.outcome(fault.steps[name].yes, number),
            teller.outcome(fault.steps[name].no, number),
        )
        for name in order
    )
    return FaultPath(key, fault.title, fault.about, tuple(fault.cautions), subjects, rows)


def _missing(fault: Fault, teller: _Teller) -> Iterator[tuple[tuple[str, ...], str]]:
    for name, step in fault.steps.items():
        texts: list[tuple[tuple[str, ...], str]] = [(("check",), step.check)]
        for word, answer in step.answers():
            texts += [((word, "do"), answer.do or ""), ((word, "stop"), answer.stop or "")]
        for inside, text in texts:
            for found in VALUE.finditer(text):
                if found[2] is None and not teller.values(found[1].strip()):
                    yield ("steps", name, *inside), found[1].strip()


class _Teller:
    """Puts a home's values and people into the words of a fault."""

    def __init__(self, homestead: Homestead, subjects: tuple[Machine, ...]) -> None:
        self.homestead = homestead
        self.subjects = subjects
        self.names = sorted(
            {
                f"{name}.{part}"
                for one in subjects
                for name, spec in one.specs.items()
                for part in spec.model_fields_set
            }
        )

    def told(self, text: str | None) -> str:
        """A text with the values in."""
        return VALUE.sub(
            lambda found: self._shown(found[1].strip()) or (found[2] or "").strip(), text or ""
        )

    def _shown(self, name: str) -> str:
        found = self.values(name)
        if len({text for _, text in found}) == 1:
            return found[0][1]
        return "; ".join(f"{machine.name}: {text}" for machine, text in found)

    def values(self, name: str) -> list[tuple[Machine, str]]:
        """What `spark plug.gap` or `plate.power` is on each machine that has it."""
        base, _, part = name.rpartition(".")
        found = []
        for machine in self.subjects:
            owner: Any = getattr(machine, "plate", None) if base == "plate" else None
            owner = owner or machine.specs.get(base)
            if isinstance(owner, Spec) and part not in Spec.model_fields:
                owner = None
            value = owner.get(part) if isinstance(owner, dict) else getattr(owner, part, None)
            if isinstance(value, Quantity):
                found.append((machine, words.quantity(value, self.homestead.place.units)))
            elif isinstance(value, str | int) and value != "":
                found.append((machine, str(value)))
        return found

    def outcome(self, answer: Answer, number: Mapping[str, int]) -> Outcome:
        """An answer in plain words."""
        call, phone = self._whom(answer.call) if answer.call else ("", "")
        return Outcome(
            go=number[answer.go] if answer.go else None,
            do=self.told(answer.do),
            see=answer.see or "",
            call=call,
            phone=phone,
            stop=self.told(answer.stop),
        )

    def _whom(self, word: str) -> tuple[str, str]:
        place = self.homestead.place
        if word == "emergency":
            return "the emergency number", place.emergency or ""
        if word in place.people:
            return _named(place.people[word])
        first = [place.people[name] for name in place.call_first if name in place.people]
        if word == "first":
            return _named(first[0]) if first else ("the owner", "")
        others = [one for one in place.people.values() if one not in first]
        for stem in TRADES[word]:
            for one in (*first, *others):
                if stem in one.role.lower():
                    return _named(one)
            for seller in self.homestead.suppliers.values():
                if stem in (seller.sells or "").lower() and word == "gas supplier":
                    return _named(seller)
        return {"mechanic": "a genset mechanic", "electrician": "a licensed electrician",
                "plumber": "a plumber or well driller",
                "gas supplier": "the gas supplier"}[word], ""  # fmt: skip


def _named(one: Person | Supplier) -> tuple[str, str]:
    return one.name, one.phone or ""


NO_PAGE = "How: by the maker's manual, or call."


def outcome_cell(outcome: Outcome, see: Markup) -> Markup:
    """An outcome as a cell of the table: what to do, the page, whom to call, where to go on."""
    parts = []
    if outcome.stop:
        parts.append(Markup("**STOP.** {}").format(as_text(outcome.stop)))
    if outcome.do:
        parts.append(as_text(outcome.do))
    if outcome.see and see:
        parts.append(Markup("See {}.").format(see))
    elif outcome.see and not outcome.call:  # this home has no such page
        parts.append(Markup(NO_PAGE))
    if outcome.call:
        number = Markup(" {}").format(phone_link(outcome.phone)) if outcome.phone else ""
        parts.append(Markup("Call {}{}.").format(as_text(outcome.call), number))
    if outcome.go:
        lead = "Not cured: go to" if outcome.is_end else "Go to"
        parts.append(Markup("{} **{}**.").format(lead, outcome.go))
    return Markup(" ").join(parts)


def path_data(path: FaultPath, titles: Mapping[str, str]) -> tuple[dict[str, Any], str, str]:
    """The drawing of a path: its boxes, a text for who cannot see it, a caption."""
    data = {
        "rows": [
            {
                "number": row.number,
                "check": row.check,
                "answers": [
                    {"word": word, **_box(outcome, titles)}
                    for word, outcome in (("yes", row.yes), ("no", row.no))
                ],
            }
            for row in path.rows
        ]
    }
    count = len(path.rows)
    alt = f"Decision path for: {path.title}. {count} checks; the table holds the same words."
    caption = "Questions stand on the left. Double frame: call. Black: stop, it is not safe."
    return data, alt, caption


def _box(outcome: Outcome, titles: Mapping[str, str]) -> dict[str, Any]:
    lines = [outcome.stop or outcome.do]
    if outcome.see in titles:
        lines.append(f"See: {titles[outcome.see]}.")
    elif outcome.see and not outcome.call:
        lines.append(NO_PAGE)
    if outcome.call:
        lines.append(f"Call {outcome.call}{' ' + outcome.phone if outcome.phone else ''}.")
    if outcome.go and outcome.is_end:
        lines.append(f"Not cured: go to {outcome.go}.")
    kind = "stop" if outcome.stop else "call" if outcome.call else "do" if outcome.is_end else "go"
    return {"go": outcome.go, "kind": kind, "lines": [line for line in lines if line]}
