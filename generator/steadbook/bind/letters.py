"""How wide words come out on paper, from the binder's own font."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Literal

from lxml.html import HtmlElement

from steadbook.bind.resources import FACES, FONTS

SIZE = 10.0
"""The letters' size the widths are given for. [pt]"""

Face = Literal["plain", "bold", "code"]
_FILES = {"plain": FACES[0], "bold": FACES[1], "code": FACES[4]}

POINT = 25.4 / 72
"""A point. [mm]"""


@cache
def _advances(face: Face) -> tuple[dict[int, float], float]:
    """The width of each character at `SIZE`, and that of one the face lacks. [mm]"""
    from fontTools.ttLib import TTFont

    with TTFont(FONTS / f"{_FILES[face]}.ttf", lazy=True) as font:
        scale = SIZE * POINT / font["head"].unitsPerEm
        wide = font["hmtx"].metrics
        found = {code: wide[name][0] * scale for code, name in font.getBestCmap().items()}
        return found, wide[".notdef"][0] * scale


@lru_cache(maxsize=1 << 16)
def text_width(text: str, face: Face = "plain") -> float:
    """How wide a text is on one line, at `SIZE`. [mm]

    >>> round(text_width("months"), 1), round(text_width("months", "bold"), 1)
    (13.3, 14.9)
    """
    found, other = _advances(face)
    return sum(found.get(ord(one), other) for one in text)


def widest_face(element: HtmlElement) -> Face:
    """The widest face that a part of the element is set in."""
    inside = {one.tag for one in element.iter()}
    if inside & {"code", "kbd", "samp", "tt"}:
        return "code"
    return "bold" if inside & {"th", "strong", "b"} else "plain"
