"""Gives the columns of a table their room, after the widths of the words that stand in them.

Nothing that is read as one breaks: each column has room for its widest piece first, then as much
of the rest as makes the rows low. A list of short pairs is set two pairs side by side.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import ceil, log, sqrt

from lxml import html as lxml_html
from lxml.html import HtmlElement

from steadbook.bind.letters import text_width, widest_face
from steadbook.bind.longwords import (
    PADDING,
    SIDEWAYS,
    TIGHT_PADDING,
    UPRIGHT,
    table_room,
    type_of,
    unbroken,
)
from steadbook.bind.together import NO_BREAK, let_go

SLACK = 0.6
"""Room left beside the widest piece of a column, for whole percents round its share. [mm]"""

TICK = "xx "
"""As wide as a box to tick."""

SHEET_LABEL = " (Procedures_00)"
"""What a link gets behind it when its sheet is known; in tables only procedures do."""

STEP = 1.2
"""Usual lengths of cells count in steps of this ratio, so that a small edit moves nothing."""

FEWEST_FOLDED = 6
"""Rows from which on a list of pairs is folded."""

WORTH_FOLDING = 0.72
"""Height of the folded list against the plain one, above which it is left as it is."""

_SPACES = re.compile(rf"[^\S{NO_BREAK}]+")
_OWN_LINES = ("p", "li", "div")


@dataclass
class _Column:
    least: float = 0.0
    """Room for the widest piece that does not break. [mm]"""
    natural: float = 0.0
    """Room for the widest line. [mm]"""
    lengths: list[float] = field(default_factory=list)
    """How long the text of each cell is. [mm]"""

    @property
    def usual(self) -> float:
        """Length of a cell, the long ones weighing more."""
        mean = (sum(length**4 for length in self.lengths) / len(self.lengths)) ** 0.25
        return float(STEP ** ceil(log(max(mean, 1.0), STEP)))


def set_columns(table: HtmlElement, *, landscape: bool = False) -> None:
    """Give a table's columns their room, in whole percents; a table with joined cells has none."""
    rows = [[cell for cell in row if cell.tag in ("td", "th")] for row in table.iter("tr")]
    if not rows or any(cell.get("colspan") for row in rows for cell in row):
        return
    room = table_room(table, SIDEWAYS if landscape else UPRIGHT)
    columns = _measured(rows)
    if type_of(table) == 1:
        if _fold(table, rows, columns, room):
            return
        if sum(column.least + PADDING + SLACK for column in columns) > room:
            table.set("class", " ".join(filter(None, (table.get("class"), "tight"))))
    scale = type_of(table)
    around = (PADDING if scale >= 1 else TIGHT_PADDING) + SLACK
    if sum(column.least * scale + around for column in columns) > room:
        columns = _measured(rows, together=False)
    least = [column.least * scale + around for column in columns]
    natural = [column.natural * scale + around for column in columns]
    usual = [column.usual * scale + around for column in columns]
    _put_widths(
        table,
        whole_percents(
            shared(least, natural, usual, room), [100 * width / room for width in least]
        ),
    )


def shared(
    least: Sequence[float], natural: Sequence[float], usual: Sequence[float], room: float
) -> list[float]:
    """The share of each column in percent: about as many lines in each, and no room idle.

    >>> shared([10, 10], [20, 200], [20, 150], 100)
    [20.0, 80.0]
    """
    if sum(natural) <= room:
        widths = list(natural)
    elif sum(least) >= room:
        widths = list(least)
    else:
        few, many = 0.01, 1000.0
        for _ in range(40):
            lines = sqrt(few * many)
            widths = [
                min(most, max(need, length / lines))
                for need, most, length in zip(least, natural, usual, strict=True)
            ]
            few, many = (lines, many) if sum(widths) > room else (few, lines)
    return [round(100 * width / sum(widths), 6) for width in widths]


def whole_percents(shares: Sequence[float], least: Sequence[float] = ()) -> list[int]:
    """Whole numbers that add up to a hundred, none below its `least` while there is room.

    >>> whole_percents([33.4, 33.3, 33.3]), whole_percents([10.2, 89.8], [10.2, 20])
    ([34, 33, 33], [11, 89])
    """
    needs = [ceil(need - 1e-9) for need in least] or [0] * len(shares)
    if sum(needs) > 100:
        needs = [0] * len(shares)
    whole = [max(int(share), need) for share, need in zip(shares, needs, strict=True)]
    places = range(len(shares))
    while sum(whole) < 100:
        whole[min(places, key=lambda place: (whole[place] - shares[place], place))] += 1
    while sum(whole) > 100:
        spare = [place for place in places if whole[place] > needs[place]]
        whole[max(spare, key=lambda place: (whole[place] - shares[place], -place))] -= 1
    return whole


def _measured(rows: list[list[HtmlElement]], *, together: bool = True) -> list[_Column]:
    columns = [_Column() for _ in range(max(map(len, rows)))]
    for row in rows:
        for cell, column in zip(row, columns, strict=False):
            face = widest_face(cell)
            lines = _lines(cell) if together else [let_go(line) for line in _lines(cell)]
            pieces = [text_width(piece, face) for line in lines for piece in unbroken(line)]
            lengths = [text_width(line, face) for line in lines]
            column.least = max(column.least, *pieces)
            column.natural = max(column.natural, *lengths)
            column.lengths.append(sum(lengths))
    return columns


def _lines(cell: HtmlElement) -> list[str]:
    """The text of a cell, a line for each that begins anew."""
    return [line.strip(" ") for line in "".join(_texts(cell)).split("\n")]


def _texts(element: HtmlElement) -> Iterator[str]:
    kind = element.get("class", "")
    text = _SPACES.sub(" ", element.text or "")
    yield text.replace(" ", NO_BREAK) if "status" in kind else text
    for child in element:
        if not isinstance(child.tag, str):
            continue
        begins_anew = child.tag in _OWN_LINES
        yield "\n" if begins_anew or child.tag == "br" else ""
        yield TICK if "tick" in child.get("class", "") or child.tag == "input" else ""
        yield from _texts(child)
        if child.get("href", "").startswith("#") and "bare" not in child.get("class", ""):
            yield SHEET_LABEL.replace("_", NO_BREAK)
        yield "\n" if begins_anew else ""
        yield _SPACES.sub(" ", child.tail or "")


def _put_widths(table: HtmlElement, percents: Sequence[int]) -> None:
    group = lxml_html.Element("colgroup")
    for percent in percents:
        column = lxml_html.Element("col")
        column.set("style", f"width:{percent}%")
        group.append(column)
    table.insert(0, group)


def _fold(
    table: HtmlElement, rows: list[list[HtmlElement]], columns: list[_Column], room: float
) -> bool:
    """Set a list of pairs two side by side, down the left and on down the right, if that pays."""
    head, body = rows[0], rows[1:]
    if (
        len(columns) != 2
        or len(body) < FEWEST_FOLDED
        or any(cell.tag != "th" for cell in head)
        or any(len(row) != 2 for row in body)
        or table.xpath(".//input|.//*[contains(@class, 'tick')]|self::*[@class]")
    ):
        return False
    least = [column.least + PADDING + SLACK for column in columns]
    natural = [column.natural + PADDING + SLACK for column in columns]
    usual = [column.usual + PADDING for column in columns]
    narrowest, widest = ceil(100 * least[0] / room), 50 - ceil(100 * least[1] / room)
    if narrowest > widest:
        return False
    shares = shared(least, natural, usual, room / 2)
    second = ceil(len(body) / 2)
    plain = _heights(columns, shared(least, natural, usual, room), room)
    folded = _heights(columns, shares, room / 2)
    pairs = zip(folded[:second], [*folded[second:], 1][:second], strict=True)
    if sum(map(max, pairs)) > WORTH_FOLDING * sum(plain):
        return False
    for left, right in zip(body[:second], [*body[second:], []], strict=False):
        row = left[0].getparent()
        assert row is not None
        if right:
            old = right[0].getparent()
            assert old is not None
            row.extend(right)
            old.drop_tree()
        else:
            row.extend([lxml_html.Element("td"), lxml_html.Element("td")])
        row[2].set("class", "second")
    top = head[0].getparent()
    assert top is not None
    top.extend(copy.deepcopy(head))
    top[2].set("class", "second")
    name = max(narrowest, min(widest, round(shares[0] / 2)))
    _put_widths(table, [name, 50 - name] * 2)
    return True


def _heights(columns: list[_Column], shares: Sequence[float], room: float) -> list[int]:
    """Lines of each row but the first, which is the head."""
    wide = [max(share * room / 100 - PADDING, 1.0) for share in shares]
    lines = [
        [ceil(length / width) for length in c.lengths[1:]]
        for c, width in zip(columns, wide, strict=True)
    ]
    return [max(1, *row) for row in zip(*lines, strict=True)]
