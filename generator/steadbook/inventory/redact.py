"""What an edition may hold: private parts go before the models are made of the files."""

from __future__ import annotations

from typing import Any, Literal

from steadbook.inventory.read import Map, Seq

Edition = Literal["owner", "sitter", "technician"]
EDITIONS: tuple[Edition, ...] = ("owner", "sitter", "technician")


def redact(tree: Map, edition: Edition) -> Map:
    """The tree without any `private:` unless the edition is the owner's.

    The tree itself is left as it was; lines stay where they were.
    """
    return tree if edition == "owner" else _without_private(tree)


def _without_private(value: Any) -> Any:
    if isinstance(value, Map):
        kept = Map(value.line)
        for key, inner in value.items():
            if key != "private":
                kept[key] = _without_private(inner)
                kept.lines[key] = value.lines[key]
        return kept
    if isinstance(value, Seq):
        items = Seq(value.line)
        items.extend(_without_private(inner) for inner in value)
        items.lines = value.lines
        return items
    return value
