"""Safety messages after ANSI Z535.6: signal word, hazard, consequence, how to avoid it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Literal

from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, RootModel, ValidationError

from steadbook.errors import InventoryErrors, PageError
from steadbook.inventory import explain
from steadbook.inventory.fields import Line
from steadbook.inventory.models import BatteryBank, Genset, Machine, Other, SmallEngine
from steadbook.inventory.read import read_file
from steadbook.pages.called import FUEL_GAS, home_answers_to
from steadbook.pages.escape import as_text


class Message(BaseModel):
    """One safety message of content/cautions.yaml."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    word: Literal["danger", "warning", "caution", "notice"]
    hazard: Line
    consequence: Line
    avoid: list[Line]


class Messages(RootModel[dict[str, Message]]):
    """The whole file."""


LEAD_ACID_ALONE = ("battery", "frozen battery", "steam and acid")
"""Messages that tell of acid, hydrogen or ice in a battery."""

WITHOUT_COOLANT = {"hot parts": "hot parts, air-cooled"}
"""Messages that have another for an engine without coolant."""

RANK = ("danger", "warning", "caution", "notice")


def read_cautions(path: Path) -> dict[str, Message]:
    """Read content/cautions.yaml. Raises InventoryErrors."""
    name = "content/cautions.yaml"
    tree, problems = read_file(path, name)
    if problems:
        raise InventoryErrors(problems)
    try:
        return Messages.model_validate(tree).root
    except ValidationError as error:
        raise InventoryErrors(explain.problems(error, Messages, tree, name)) from None


def box(messages: dict[str, Message], names: list[str], *, in_brief: bool = False) -> Markup:
    """The messages named, the gravest first, each a box of HTML; in brief all but the first."""
    missing = [name for name in names if name not in messages]
    if missing:
        raise PageError(
            "",
            0,
            f"the caution {missing[0]!r}, which content/cautions.yaml does not have",
            explain.nearest(missing[0], messages) or f"use one of {', '.join(sorted(messages))}",
        )
    chosen = sorted(
        (messages[name] for name in dict.fromkeys(names)), key=lambda m: RANK.index(m.word)
    )
    whole = chosen[:1] if in_brief else chosen
    rest = Markup(" ").join(_brief(message) for message in chosen[len(whole) :])
    brief = [Markup('<p role="note">{}</p>\n').format(rest)] if rest else []
    return Markup("\n").join([_one(message) for message in whole] + brief)


def fitting(
    names: Iterable[str],
    subject: Machine | None,
    machines: Iterable[Machine],
    *,
    by_chemistry: bool = True,
) -> list[str]:
    """The messages named that fit this home and what the page is about.

    Of gas where there is any; of coolant where an engine is cooled by it; of batteries by the
    chemistry of those worked on, unless the page has chosen them itself.
    """
    every = list(machines)
    told = list(names)
    if FUEL_GAS not in home_answers_to(every):
        told = [name for name in told if name != FUEL_GAS]
    if not _has_coolant(subject, every):
        told = [WITHOUT_COOLANT.get(name, name) for name in told if name != "coolant"]
    if by_chemistry:
        told = _by_chemistry(told, subject, every)
    return list(dict.fromkeys(told))


def _has_coolant(subject: Machine | None, machines: list[Machine]) -> bool:
    """Whether the engine worked on, else one of the gensets, may be cooled by a liquid."""
    if isinstance(subject, SmallEngine):
        return True
    gensets = [one for one in machines if isinstance(one, Genset)]
    asked = [subject] if isinstance(subject, Genset) else gensets
    return not asked or any(one.plate.cooling != "air" for one in asked)


def _by_chemistry(names: list[str], subject: Machine | None, machines: list[Machine]) -> list[str]:
    """Those of batteries by the chemistry of the batteries worked on.

    These are the starter batteries of an engine, which are lead-acid, or a single battery of no
    kind of its own; else the bank that the page is about; else the banks of the place. One whose
    chemistry is not entered may hold acid.
    """
    if isinstance(subject, Genset | SmallEngine) or _is_single_battery(subject):
        return names
    one = isinstance(subject, BatteryBank)
    banks = [m for m in ([subject] if one else machines) if isinstance(m, BatteryBank)]
    lithium = any(bank.plate.chemistry == "LFP" for bank in banks)
    acid = not lithium or any(bank.plate.chemistry != "LFP" for bank in banks)
    told: list[str] = []
    for name in names:
        if acid or name not in LEAD_ACID_ALONE:
            told.append(name)
        if lithium and name == "battery":
            told += ["lithium battery", "cold lithium"]
    return told


def _is_single_battery(subject: Machine | None) -> bool:
    return isinstance(subject, Other) and "battery" in f"{subject.id} {subject.name}".lower()


def _brief(message: Message) -> Markup:
    """Signal word, hazard and the first thing to do to avoid it."""
    return Markup("<strong>{caps}: {hazard}</strong> {avoid}").format(
        caps=message.word.upper(),
        hazard=as_text(message.hazard),
        avoid=as_text(message.avoid[0].split(". ")[0].removesuffix(".") + "."),
    )


def _one(message: Message) -> Markup:
    avoid = Markup(" ").join(as_text(line) for line in message.avoid)
    return Markup(
        '<div class="signal {word}" role="note">'
        '<p class="signal-word">{caps}</p>'
        "<p><strong>{hazard}</strong> {consequence}</p><p>{avoid}</p></div>\n"
    ).format(
        word=message.word,
        caps=message.word.upper(),
        hazard=as_text(message.hazard),
        consequence=as_text(message.consequence),
        avoid=avoid,
    )
