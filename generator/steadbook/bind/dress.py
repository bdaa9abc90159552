"""Dresses a tab's HTML for the press: page format, running heads, feet, the side for notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from steadbook.bind.paper import Format
from steadbook.bind.press import STYLE
from steadbook.bind.sheets import FRONT_KEY, Sheet, Tab, written_date

NOTE_LINE = 9.0
"""Distance of ruled lines to write on by hand. [mm]"""


@cache
def style() -> str:
    return STYLE.read_text(encoding="utf-8")


def document(body: str, form: Format, rules: Sequence[str] = (), *, language: str = "en") -> str:
    """A whole HTML document for one tab. `rules` dress its sheets; they move nothing on them."""
    sheet_style = "\n".join([style(), _format_rule(form), *rules])
    return (
        f'<!doctype html><html lang="{language}"><head><meta charset="utf-8">'
        f"<style>{sheet_style}</style></head><body>{body}</body></html>"
    )


@dataclass(frozen=True)
class Dress:
    """What runs along the head and foot of the sheets of one tab."""

    title: str
    tab: Tab
    form: Format

    def undated(self, sheets: int) -> list[str]:
        """Dress for a proof: nothing on it changes by itself."""
        return [self._rule(number, self._edges(number)) for number in range(1, sheets + 1)]

    def dated(self, sheets: Sequence[Sheet]) -> list[str]:
        """Dress as printed: also the day each sheet was revised, and its fingerprint."""
        return [
            self._rule(
                sheet.number,
                [
                    *self._edges(sheet.number),
                    _box("bottom", "center", f"Revised {written_date(sheet.revised)}"),
                    _box("bottom", self._inner(sheet.number), sheet.fingerprint),
                ],
            )
            for sheet in sheets
        ]

    def _edges(self, number: int) -> list[str]:
        inner, outer = self._inner(number), self._outer(number)
        boxes = [_box("bottom", outer, f"{self.tab.title} {number}", bold=True)]
        is_cover = self.tab.key == FRONT_KEY and number == 1
        if not is_cover:
            boxes.append(_box("top", outer, self.tab.title, bold=True))
            boxes.append(_box("top", inner, self.title))
        return boxes

    def _rule(self, number: int, boxes: Sequence[str]) -> str:
        return f"@page :nth({number}) {{ {' '.join(boxes)} }}"

    def _outer(self, number: int) -> str:
        return "left" if self.form.duplex and number % 2 == 0 else "right"

    def _inner(self, number: int) -> str:
        return "right" if self._outer(number) == "left" else "left"


def notes_side(form: Format) -> str:
    """A ruled side for notes, for the back of a tab's last leaf."""
    lines = int((form.text_height - 8) // NOTE_LINE)
    ruled = "<div></div>" * lines
    return f'<section class="notes"><p class="notes-title">Notes</p>{ruled}</section>'


def _format_rule(form: Format) -> str:
    m = form.margins
    return (
        f"@page {{ size: {form.width}mm {form.height}mm;"
        f" margin: {m.top}mm {m.right}mm {m.bottom}mm {m.left}mm; }}"
    )


def _box(edge: str, side: str, text: str, *, bold: bool = False) -> str:
    weight = 700 if bold else 400
    align = (
        "vertical-align: bottom; padding-bottom: 3mm"
        if edge == "top"
        else ("vertical-align: top; padding-top: 4mm")
    )
    return (
        f"@{edge}-{side} {{ content: {css_text(text)}; font-size: 9pt; font-weight: {weight};"
        f" text-align: {side}; {align}; }}"
    )


def css_text(text: str) -> str:
    """A CSS string: quotes, backslashes, angle brackets and line ends cannot end it early.

    >>> css_text('Tom "T" & Ann')
    '"Tom \\\\22 T\\\\22  \\\\26  Ann"'
    """
    kept = "".join(f"\\{ord(c):x} " if c in '"\\<>&\n\r\f' or ord(c) < 32 else c for c in text)
    return f'"{kept}"'
