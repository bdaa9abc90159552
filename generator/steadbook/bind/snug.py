"""Sets a page closer where that saves it a sheet: a last sheet with three lines on it helps nobody.

The letters stay as large as they are; only the air round them is less.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

from steadbook.bind.flow import Flow
from steadbook.bind.press import Proof

_PAGE = re.compile(r'<section class="page( new-sheet)?">')
_FIRST = re.compile(r'<section class="page(?: new-sheet)?">\s*(?:<div[^>]*>\s*)?<h1 id="([^"]+)"')

SetAs = Callable[[str, Sequence[str]], Proof]
"""Sets HTML and tells on which sheets these ids stand."""


def snug(flow: Flow, set_as: SetAs) -> Flow:
    """The flow with those pages set closer that come out on fewer sheets so.

    Each page of a tab begins a sheet, so that one page's setting moves no other's lines.
    """
    names = _FIRST.findall(flow.html)
    if not names or len(names) != len(_PAGE.findall(flow.html)):
        return flow
    labels = {name: f"{flow.tab.title} 00" for name in flow.links}
    plain = flow.filled(labels)
    before = _sheets(set_as(plain, names), names)
    after = _sheets(set_as(_closer(plain, [True] * len(names)), names), names)
    saves = [new < old for old, new in zip(before, after, strict=True)]
    return replace(flow, html=_closer(flow.html, saves)) if any(saves) else flow


def _sheets(proof: Proof, names: Sequence[str]) -> list[int]:
    starts = [proof.places[name].number for name in names] + [proof.sheets + 1]
    return [following - first for first, following in pairwise(starts)]


def _closer(html: str, chosen: Sequence[bool]) -> str:
    left = iter(chosen)
    return _PAGE.sub(
        lambda page: f'<section class="page{page[1] or ""} snug">' if next(left) else page[0], html
    )
