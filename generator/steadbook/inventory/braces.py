"""What YAML makes of a slip inside {braces}: a comma that cuts a value, a colon without a blank."""

from __future__ import annotations

import re
from dataclasses import dataclass

from steadbook.inventory.read import Map

NUMBER_CUT = re.compile(r"[-+]?\d+,\d.*", re.DOTALL)
KEY_AND_VALUE = re.compile(r"([A-Za-z][\w -]*):(\S.*)")
MOST_KEYS = 100  # of one pair of braces; nobody writes more by hand

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Slip:
    """A slip at a key: what was found, what is allowed, the fix, and the paths it explains."""

    at: Path
    found: str
    allowed: str
    fix: str
    covers: frozenset[Path]


def slip(tree: Map, path: Path, keys: frozenset[str] | None) -> Slip | None:
    """The slip that explains a wrong key without a value, if one does.

    ``keys`` are those known beside it; None where any name may stand.
    """
    owner = _owner(tree, path)
    word = path[-1] if path else None
    if owner is None or not isinstance(word, str) or owner.get(word, "") is not None:
        return None
    if keys is not None and word in keys:
        return None
    return _no_blank(path, word, keys) or _cut(owner, path)


def _owner(tree: Map, path: Path) -> Map | None:
    """The map that holds the last step of the path."""
    inner: object = tree
    for step in path[:-1]:
        if isinstance(inner, Map) and step in inner:
            inner = inner[str(step)]
        elif isinstance(inner, list) and isinstance(step, int) and step < len(inner):
            inner = inner[step]
        else:
            return None
    return inner if isinstance(inner, Map) and path[-1:] != () and path[-1] in inner else None


def _no_blank(path: Path, word: str, keys: frozenset[str] | None) -> Slip | None:
    """`{power:6 kW}`, which YAML takes for a key without a value."""
    found = KEY_AND_VALUE.fullmatch(word)
    if found is None or (found[1] not in keys if keys is not None else " " in found[1]):
        return None
    key, value = found.groups()
    covers = frozenset({path, (*path[:-1], key)})  # the second: the key that seems to be missing
    return Slip(
        path, f"{word}, without a blank after the colon", "`key: value`",
        f"write {key}: {value}", covers,
    )  # fmt: skip


def _cut(owner: Map, path: Path) -> Slip | None:
    """`{capacity: 1,9 L}`, which YAML takes for `capacity: 1` and a key `9 L` without a value."""
    if len(owner) > MOST_KEYS:
        return None
    names = list(owner)
    first = last = names.index(str(path[-1]))
    while first > 0 and owner[names[first]] is None:
        first -= 1
    if not isinstance(owner[names[first]], str):
        return None
    while last + 1 < len(names) and owner[names[last + 1]] is None:
        last += 1
    pieces = [owner[names[first]], *names[first + 1 : last + 1]]
    text = pieces[0]
    for piece in pieces[1:]:
        is_number = text[-1:].isdigit() and piece[:1].isdigit()
        text += f",{piece}" if is_number else f", {piece}"
    at = (*path[:-1], names[first])
    covers = frozenset((*path[:-1], name) for name in names[first : last + 1])
    if NUMBER_CUT.fullmatch(text) and ", " not in text:
        return Slip(
            at, f"{text}, cut at its comma", "numbers without a comma inside {braces}",
            f"write {_without_comma(text)}", covers,
        )  # fmt: skip
    if not any(" " in piece for piece in pieces[1:]):
        return None
    return Slip(
        at, f"{text}, cut at its comma",
        "text with a comma inside {braces} in quotation marks", f'write "{text}"', covers,
    )  # fmt: skip


def _without_comma(text: str) -> str:
    """`3,600 rpm` -> `3600 rpm`, `1,9 L` -> `1.9 L`."""
    text = re.sub(r"(?<=\d),(?=\d{3}(?!\d))", "", text)
    return re.sub(r"(?<=\d),(?=\d)", ".", text)
