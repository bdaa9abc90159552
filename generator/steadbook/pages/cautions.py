"""Safety messages after ANSI Z535.6: signal word, hazard, consequence, how to avoid it."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from markupsafe import Markup
from pydantic import BaseModel, ConfigDict, RootModel, ValidationError

from steadbook.errors import InventoryErrors, PageError
from steadbook.inventory import explain
from steadbook.inventory.fields import Line
from steadbook.inventory.read import read_file
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


def box(messages: dict[str, Message], names: list[str]) -> Markup:
    """The messages named, the gravest first, each a box of HTML."""
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
    return Markup("\n").join(_one(message) for message in chosen)


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
