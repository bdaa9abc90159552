"""Lets words break that are too long for their place, such as part numbers in a narrow column.

The engine breaks any word at the end of a line where words may break at all. So only the long
ones are allowed to, each in a span of its own.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from lxml import etree
from lxml import html as lxml_html
from lxml.html import HtmlElement

from steadbook.bind.letters import Face, text_width, widest_face
from steadbook.bind.together import JOINED, NO_BREAK, let_go

# Narrowest text of the papers known, upright and sideways. [mm]
UPRIGHT, SIDEWAYS = 170.0, 249.0

INDENT = 30.0
"""What lists and boxes may take off the width. [mm]"""

LIST_INDENT = 8.0
"""What one list takes off the width. [mm]"""

PADDING, TIGHT_PADDING = 3.4, 2.4
"""Left and right of the text in a cell, with its line; and in a tight table. [mm]"""

LARGE_TYPE, TIGHT_TYPE = 1.5, 0.9
"""Letters on a card, and in a table that would be too wide otherwise, against those elsewhere."""

_HYPHEN = re.compile(r"(?<=\w[-–])(?=\w)")
_PERCENT = re.compile(r"width:\s*([\d.]+)%")


@dataclass(frozen=True)
class _Place:
    """Room for words in one face. [mm]"""

    room: float
    face: Face

    def takes(self, text: str) -> bool:
        return all(text_width(piece, self.face) <= self.room for piece in unbroken(text))


def unbroken(text: str) -> list[str]:
    """What of a text stays on one line: words, and the parts of one with a hyphen.

    A part number is whole: with a hyphen at the end of a line nobody knows what it is.

    >>> unbroken("Twin-stage regulator BH-1302-G")
    ['Twin-', 'stage', 'regulator', 'BH-1302-G']
    """
    return [
        piece
        for word in text.split(" ")
        for piece in ([word] if any(map(str.isdigit, word)) else _HYPHEN.split(word))
    ]


def free_long_words(body: HtmlElement, room: float) -> None:
    """Put each word that is too long for its place in a span that lets it break."""
    for table in body.iter("table"):
        shares = column_shares(table)
        scale = type_of(table)
        padding = PADDING if scale >= 1 else TIGHT_PADDING
        wide = table_room(table, room)
        for row in table.iter("tr"):
            column = 0
            for cell in row.iterchildren("td", "th"):
                span = int(cell.get("colspan") or 1)
                across = sum(shares[column : column + span]) * wide - padding
                place = _Place(across / scale, widest_face(cell))
                _part(cell, place)
                _free(cell, place)
                column += span
    _free(body, _Place(room - INDENT, "bold"))


def table_room(table: HtmlElement, room: float) -> float:
    """How wide a table comes out where the text is `room` wide. [mm]"""
    return room - LIST_INDENT * sum(one.tag in ("ul", "ol") for one in table.iterancestors())


def type_of(table: HtmlElement) -> float:
    """The size of a table's letters against those elsewhere."""
    if table.xpath("ancestor::*[contains(@class, 'card')]"):
        return LARGE_TYPE
    return TIGHT_TYPE if "tight" in table.get("class", "") else 1.0


def _part(cell: HtmlElement, place: _Place) -> None:
    """Let lines end even inside what is read as one, where it is too wide for its cell."""
    for element in cell.iter(etree.Element):
        if element.tag == "svg":
            continue
        if element.text and (NO_BREAK in element.text or JOINED in element.text):
            element.text = _parted(element.text, place)
        if element.tail and (NO_BREAK in element.tail or JOINED in element.tail):
            element.tail = _parted(element.tail, place)


def _parted(text: str, place: _Place) -> str:
    return " ".join(one if place.takes(one) else let_go(one) for one in text.split(" "))


def column_shares(table: HtmlElement) -> list[float]:
    """The share of the table's width each column has; equal where none is set."""
    first = next(table.iter("tr"), None)
    if first is None:
        return []
    columns = list(table.iter("col")) or list(first.iterchildren("td", "th"))
    widths = [_PERCENT.search(column.get("style") or "") for column in columns]
    spans = [int(column.get("span") or column.get("colspan") or 1) for column in columns]
    count = sum(spans)
    return [
        float(width[1]) / 100 / span if width else 1 / count
        for width, span in zip(widths, spans, strict=True)
        for _ in range(span)
    ]


def _free(root: HtmlElement, place: _Place) -> None:
    if not any(_is_long(word, place) for word in root.text_content().split()):
        return
    for element in list(root.iter(etree.Element)):
        if element.tag in ("svg", "style", "pre") or element.get("class") == "long":
            continue
        if element is not root and _has_long(element.tail, place):
            _free_tail(element, place)
        if _has_long(element.text, place) and not any(True for _ in element.iterancestors("svg")):
            _free_text(element, place)


def _has_long(text: str | None, place: _Place) -> bool:
    return text is not None and any(_is_long(word, place) for word in text.split())


def _is_long(word: str, place: _Place) -> bool:
    return not place.takes(word)


def _free_text(element: HtmlElement, place: _Place) -> None:
    plain, spans = _pieces(element.text or "", place)
    element.text = plain
    for number, span in enumerate(spans):
        element.insert(number, span)


def _free_tail(element: HtmlElement, place: _Place) -> None:
    plain, spans = _pieces(element.tail or "", place)
    element.tail = plain
    for span in reversed(spans):
        tail, span.tail = span.tail, None
        element.addnext(span)
        span.tail = tail


def _pieces(text: str, place: _Place) -> tuple[str, list[HtmlElement]]:
    """The text before the first long word, and the long words with what follows each."""
    plain = ""
    spans: list[HtmlElement] = []
    for piece in re.split(r"(\s+)", text):
        if _is_long(piece, place) and not piece.isspace():
            spans.append(lxml_html.Element("span"))
            spans[-1].set("class", "long")
            spans[-1].text = piece
        elif spans:
            spans[-1].tail = (spans[-1].tail or "") + piece
        else:
            plain += piece
    return plain, spans
