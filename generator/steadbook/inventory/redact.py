"""What an edition may hold: private parts go before the models are made of the files.

A private value stays where its owner hands it out for some days::

    private:
      code: 4471
      visible: {code: {to: sitter, first_day: 2026-12-01, last_day: 2026-12-14}}

Whatever is not plainly handed out (a misspelt day, another edition, a day outside) goes.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any, Literal

from steadbook.errors import Problem, QuantityError
from steadbook.inventory.explain import dotted, listing, nearest
from steadbook.inventory.fields import read_date
from steadbook.inventory.read import Map, Seq, line_of

Edition = Literal["owner", "sitter", "technician"]
EDITIONS: tuple[Edition, ...] = ("owner", "sitter", "technician")
NEVER_SHOWN = ("price", "replacement", "account")
Path = tuple[str | int, ...]


def redact(tree: Map, edition: Edition, as_of: date | None = None) -> Map:
    """The tree without any `private:` unless the edition is the owner's.

    What `visible:` hands to the edition on the day ``as_of`` stays, with its `visible:`.
    The tree itself is left as it was; lines stay where they were.
    """
    return tree if edition == "owner" else _redacted(tree, edition, as_of)


def _redacted(value: Any, edition: Edition, as_of: date | None) -> Any:
    if isinstance(value, Map):
        kept = Map(value.line)
        for key, inner in value.items():
            new = _granted(inner, edition, as_of) if key == "private" else (
                _redacted(inner, edition, as_of)
            )  # fmt: skip
            if key != "private" or new:
                _put(kept, key, new, value)
        return kept
    if isinstance(value, Seq):
        items = Seq(value.line)
        items.extend(_redacted(inner, edition, as_of) for inner in value)
        items.lines = value.lines
        return items
    return value


def _put(kept: Map, key: str, value: Any, source: Map) -> None:
    kept[key] = value
    kept.lines[key] = source.lines[key]


def _granted(private: Any, edition: Edition, as_of: date | None) -> Map | None:
    """The texts of a `private:` that are handed to the edition on that day, or None."""
    grants = private.get("visible") if isinstance(private, Map) else None
    if not isinstance(grants, Map) or as_of is None:
        return None
    kept, shown = Map(private.line), Map(grants.line)
    for key, grant in grants.items():
        if isinstance(private.get(key), str) and _holds(key, grant, edition, as_of):
            _put(kept, key, private[key], private)
            _put(shown, key, grant, grants)
    if not shown:
        return None
    _put(kept, "visible", shown, private)
    return kept


def _holds(key: str, grant: Any, edition: Edition, as_of: date) -> bool:
    if key in NEVER_SHOWN or not isinstance(grant, Map) or grant.get("to") != edition:
        return False
    try:
        return read_date(grant.get("first_day")) <= as_of <= read_date(grant.get("last_day"))
    except QuantityError:
        return False


def handed_out(tree: Any, path: Path = ()) -> Iterator[tuple[Path, str, str, str]]:
    """Each private text that a redacted tree still holds: where, its key, itself, its last day."""
    if isinstance(tree, Map):
        private = tree.get("private")
        if isinstance(private, Map) and isinstance(private.get("visible"), Map):
            for key, grant in private["visible"].items():
                yield path, key, private[key], grant["last_day"]
        for key, inner in tree.items():
            if key != "private":
                yield from handed_out(inner, (*path, key))
    elif isinstance(tree, Seq):
        for number, inner in enumerate(tree):
            yield from handed_out(inner, (*path, number))


def grant_problems(name: str, tree: Any) -> list[Problem]:
    """What is wrong with the `visible:` of a file: names and days that do not fit."""
    return [
        Problem(name, line_of(tree, path), dotted(path), *words) for path, words in _wrong(tree, ())
    ]


def _wrong(value: Any, path: Path) -> Iterator[tuple[Path, tuple[str, str, str]]]:
    if isinstance(value, Map):
        for key, inner in value.items():
            at = (*path, key)
            if key == "private" and isinstance(inner, Map):
                grants = inner.get("visible")
                if isinstance(grants, Map):
                    for word, grant in grants.items():
                        for words in _wrong_grant(inner, word, grant):
                            yield (*at, "visible", word), words
            else:
                yield from _wrong(inner, at)
    elif isinstance(value, Seq):
        for number, inner in enumerate(value):
            yield from _wrong(inner, (*path, number))


def _wrong_grant(private: Map, word: str, grant: Any) -> Iterator[tuple[str, str, str]]:
    can_be_shown = [key for key in private if key != "visible" and key not in NEVER_SHOWN]
    if word in NEVER_SHOWN:
        yield (
            f"{word!r}, which no other edition may show",
            listing(can_be_shown),
            "remove it; prices and accounts stay with the owner",
        )
    elif not isinstance(private.get(word), str) or word == "visible":
        fix = nearest(word, can_be_shown) or f"add `{word}:` beside `visible:`, or remove it"
        yield f"{word!r}, which this private part does not hold", listing(can_be_shown), fix
    try:
        first, last = read_date(grant["first_day"]), read_date(grant["last_day"])
    except (QuantityError, KeyError, TypeError):
        return  # told where the entry itself is read
    if last < first:
        yield (
            f"a last day {last}, before the first day {first}",
            "a last day on or after the first",
            "correct one of the two days",
        )
