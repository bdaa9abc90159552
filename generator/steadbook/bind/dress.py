"""Dresses a tab's HTML for the press: page format, running heads, feet, the side for notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from steadbook.bind.glyphs import printable
from steadbook.bind.paper import Format
from steadbook.bind.resources import STYLE
from steadbook.bind.sheets import FRONT_KEY, Sheet, Tab, fingerprint, written_date

LONGEST_TITLE, LONGEST_TAB = 56, 30
"""Letters that the heads and feet of a sheet have room for; the rest is cut off there."""

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
    """What runs along the head and foot of the sheets of one tab (or part of one).

    ``before`` is the number of sheets of the tab that come before this part.
    """

    title: str
    tab: Tab
    form: Format
    before: int = 0

    def undated(self) -> list[str]:
        """Dress for a proof: the label counts by itself, and nothing changes with the day."""
        first = self._edges(self.before + 1, None)
        later = {
            "left" if n % 2 == 0 else "right": self._edges(self.before + n, None) for n in (2, 3)
        }
        return [
            f"@page :first {{ counter-reset: page {self.before + 1}; {first} }}",
            *(f"@page :{side} {{ {boxes} }}" for side, boxes in later.items()),
        ]

    def dated(self, sheets: Sequence[Sheet]) -> list[str]:
        """Dress as printed: also the day each sheet was revised, and its fingerprint."""
        rules = []
        for place, sheet in enumerate(sheets, start=1):
            boxes = (
                self._edges(sheet.number, sheet.label),
                _box("bottom", "center", css_text(f"Revised {written_date(sheet.revised)}")),
                _box("bottom", self._inner(sheet.number), css_text(sheet.fingerprint)),
            )
            rules.append(f"@page :nth({place}) {{ {' '.join(boxes)} }}")
        return rules

    def notes_mark(self, number: int) -> str:
        """The fingerprint of a side for notes: all it shows but the day."""
        shown = (style(), notes_side(self.form), _format_rule(self.form), self._edges(number, None))
        return fingerprint("\n".join((*shown, str(number))).encode())

    def _edges(self, number: int, label: str | None) -> str:
        inner, outer = self._inner(number), self._outer(number)
        tab = shortened(self.tab.title, LONGEST_TAB)
        counted = f"{css_text(tab + ' ')} counter(page)"
        if label is not None:
            title, space, count = label.rpartition(" ")
            counted = css_text(f"{shortened(title, LONGEST_TAB)}{space}{count}")
        boxes = [_box("bottom", outer, counted, bold=True)]
        is_cover = self.tab.key == FRONT_KEY and number == 1
        if not is_cover:
            boxes.append(_box("top", outer, css_text(tab), bold=True))
            boxes.append(_box("top", inner, css_text(shortened(self.title, LONGEST_TITLE))))
        return " ".join(boxes)

    def _outer(self, number: int) -> str:
        return "left" if self.form.duplex and number % 2 == 0 else "right"

    def _inner(self, number: int) -> str:
        return "right" if self._outer(number) == "left" else "left"


def shortened(text: str, most: int) -> str:
    """``text``, cut to so many characters where it is longer.

    >>> shortened("The long house by the river", 15)
    'The long house…'
    """
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


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


def _box(edge: str, side: str, content: str, *, bold: bool = False) -> str:
    weight = 700 if bold else 400
    align = (
        "vertical-align: bottom; padding-bottom: 3mm"
        if edge == "top"
        else ("vertical-align: top; padding-top: 4mm")
    )
    return (
        f"@{edge}-{side} {{ content: {content}; font-size: 9pt; font-weight: {weight};"
        # each letter of a fingerprint is compared by eye
        " font-variant-ligatures: none;"
        f" text-align: {side}; {align}; }}"
    )


def css_text(text: str) -> str:
    """A CSS string: quotes, backslashes, angle brackets and line ends cannot end it early.

    >>> css_text('Tom "T" & Ann')
    '"Tom \\\\22 T\\\\22  \\\\26  Ann"'
    """
    kept = "".join(f"\\{ord(c):x} " if c in '"\\<>&\n\r\f' or ord(c) < 32 else c for c in text)
    return f'"{printable(kept)}"'
