"""Lets words break that are too long for their place, such as part numbers in a narrow column.

The engine breaks any word at the end of a line where words may break at all. So only the long
ones are allowed to, each in a span of its own.
"""

from __future__ import annotations

import re

from lxml import etree
from lxml import html as lxml_html
from lxml.html import HtmlElement

# Narrowest text of the papers known, upright and sideways. [mm]
UPRIGHT, SIDEWAYS = 170.0, 249.0

INDENT = 30.0
"""What lists and boxes may take off the width. [mm]"""

PADDING = 3.4
"""Left and right of the text in a cell, with its line. [mm]"""

# Widths of letters at 10 pt in the bold face, generously. [mm]
WIDE_LETTER, LETTER = 3.0, 2.45

_PERCENT = re.compile(r"width:\s*([\d.]+)%")


def free_long_words(body: HtmlElement, text_width: float) -> None:
    """Put each word that is too long for its place in a span that lets it break."""
    for table in body.iter("table"):
        shares = column_shares(table)
        for row in table.iter("tr"):
            place = 0
            for cell in row.iterchildren("td", "th"):
                span = int(cell.get("colspan") or 1)
                _free(cell, sum(shares[place : place + span]) * text_width - PADDING)
                place += span
    _free(body, text_width - INDENT)


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


def _free(root: HtmlElement, room: float) -> None:
    if not any(_is_long(word, room) for word in root.text_content().split()):
        return
    for element in list(root.iter(etree.Element)):
        if element.tag in ("svg", "style", "pre") or element.get("class") == "long":
            continue
        if element is not root and _has_long(element.tail, room):
            _free_tail(element, room)
        if _has_long(element.text, room) and not any(True for _ in element.iterancestors("svg")):
            _free_text(element, room)


def _has_long(text: str | None, room: float) -> bool:
    return text is not None and any(_is_long(word, room) for word in text.split())


def _is_long(word: str, room: float) -> bool:
    wide = sum(letter.isupper() or letter in "mw@%—" for letter in word)
    return len(word) * LETTER + wide * (WIDE_LETTER - LETTER) > room


def _free_text(element: HtmlElement, room: float) -> None:
    plain, spans = _pieces(element.text or "", room)
    element.text = plain
    for place, span in enumerate(spans):
        element.insert(place, span)


def _free_tail(element: HtmlElement, room: float) -> None:
    plain, spans = _pieces(element.tail or "", room)
    element.tail = plain
    for span in reversed(spans):
        tail, span.tail = span.tail, None
        element.addnext(span)
        span.tail = tail


def _pieces(text: str, room: float) -> tuple[str, list[HtmlElement]]:
    """The text before the first long word, and the long words with what follows each."""
    plain = ""
    spans: list[HtmlElement] = []
    for piece in re.split(r"(\s+)", text):
        if _is_long(piece, room) and not piece.isspace():
            spans.append(lxml_html.Element("span"))
            spans[-1].set("class", "long")
            spans[-1].text = piece
        elif spans:
            spans[-1].tail = (spans[-1].tail or "") + piece
        else:
            plain += piece
    return plain, spans
