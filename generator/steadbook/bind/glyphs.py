"""Characters that the binder's fonts lack: each prints as an empty box, and is told of.

A picture character in a note must not cost the binder, and must not vanish in silence either.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from steadbook.bind.resources import FACES, FONTS
from steadbook.errors import Problem
from steadbook.inventory.explain import dotted
from steadbook.inventory.read import line_of

BOX = "\N{WHITE SQUARE}"
BELOW = 0x180  # Basic Latin to Latin Extended-A: the fonts have all that shows

# They turn the direction of all that follows, so a sheet would no longer read as it was written.
_TURNING = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")

# Set without a mark of their own: they join or part letters, or choose the look of the one before.
_UNSEEN = re.compile(
    "[\\s\u00ad\u034f\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufe00-\ufe0f\ufeff"
    "\U000e0000-\U000e0fff]"
)


def unprintable(text: str) -> dict[str, str]:
    """The characters of ``text`` that the fonts lack, each with the word it stands in."""
    found = sorted(_lacking(_UNSEEN.sub("", text)))
    return {one: next(word for word in text.split() if one in word) for one in found}


def printable(text: str) -> str:
    """``text`` with a box for each character that the fonts lack, and nothing that turns it.

    >>> printable("Gas valve \\N{FIRE} shut")
    'Gas valve □ shut'
    """
    text = _TURNING.sub("", text)
    lacking = _lacking(text)
    if not lacking:
        return text
    table = {ord(one): None if _UNSEEN.match(one) else BOX for one in lacking}
    return text.translate(table)


def box_warnings(found: Mapping[str, tuple[str, str]], trees: Mapping[str, Any]) -> list[Problem]:
    """A warning for each place of the inventory that has such a character.

    ``found`` gives for each character a tab that has it and the word there, which is told where
    the inventory has none: the character is then a page's own. ``trees`` are the files as read.
    """
    told = []
    left = dict(found)
    for file, tree in trees.items():
        for path, text in _texts(tree, ()):
            for character in sorted(found.keys() & set(text)):
                word = next(one for one in text.split() if character in one)
                told.append(_warning(file, line_of(tree, path), dotted(path), character, word))
                left.pop(character, None)
    told += [
        _warning(f"binder, tab {tab}", 0, "", character, word)
        for character, (tab, word) in left.items()
    ]
    return sorted(told)


def _warning(file: str, line: int, key: str, character: str, word: str) -> Problem:
    return Problem(
        file,
        line,
        key,
        f"the character {character!r} ({name_of(character)}) in {word[:40]!r}",
        "characters that the binder's fonts have: Latin, Greek, Cyrillic, the usual symbols",
        f"write it in words; the binder prints {BOX} in its place, the site shows it",
        warning=True,
    )


def _texts(tree: Any, path: tuple[str | int, ...]) -> Iterator[tuple[tuple[str | int, ...], str]]:
    if isinstance(tree, str):
        yield path, tree
    elif isinstance(tree, dict):
        for key, value in tree.items():
            yield from _texts(value, (*path, key))
            if isinstance(key, str):
                yield (*path, key), key
    elif isinstance(tree, list):
        for number, value in enumerate(tree):
            yield from _texts(value, (*path, number))


def name_of(character: str) -> str:
    """What Unicode calls a character: `FIRE, U+1F525`.

    >>> name_of("\\N{FIRE}")
    'FIRE, U+1F525'
    """
    name = unicodedata.name(character, "")
    return f"{name}, U+{ord(character):04X}" if name else f"U+{ord(character):04X}"


def _lacking(text: str) -> set[str]:
    strange = {one for one in set(text) if ord(one) >= BELOW}
    return strange - _glyphs() if strange else strange


@cache
def _glyphs() -> frozenset[str]:
    """Characters that the upright face can print."""
    from fontTools.ttLib import TTFont

    with TTFont(FONTS / f"{FACES[0]}.ttf", lazy=True) as font:
        return frozenset(map(chr, font.getBestCmap()))
