"""Pages that end on a sheet nearly empty are set closer, if that saves the sheet."""

import base64
import io
from datetime import date
from itertools import pairwise

import pdfplumber
import pytest
from pypdf import PdfReader

from steadbook.bind.binder import Tab, bind

MM = 72 / 25.4
USUAL = 13 + 2 * MM  # 10 pt by 1.3, and the air between paragraphs
LINE = "Check the level on flat ground with the genset stopped for ten minutes, then write it down."


def page(number: int, lines: int, more: str = "") -> str:
    air = " new-sheet" if number else ""
    rest = "".join(f"<p>{LINE}</p>" for _ in range(lines))
    return f'<section class="page{air}"><h1 id="p{number}">Page {number}</h1>{more}{rest}</section>'


def bound(*pages: str, **more):
    return bind(
        [Tab("power", "Power", "".join(pages))],
        title="Place",
        subtitle="",
        paper="a4",
        as_of=date(2026, 5, 12),
        roots=[],
        with_front=False,
        duplex=False,
        **more,
    )


def texts(binder):
    return [one.extract_text() for one in PdfReader(io.BytesIO(binder.pdf)).pages]


def steps(binder, place):
    """The least distance of two lines on a sheet. [pt]"""
    with pdfplumber.open(io.BytesIO(binder.pdf)) as pdf:
        chars = [c for c in pdf.pages[place].chars if round(c["size"], 1) == 10]
    tops = sorted({round(c["top"], 1) for c in chars})
    return min(round(b - a, 1) for a, b in pairwise(tops))


@pytest.fixture(scope="module")
def fits():
    """How many paragraphs a sheet takes as it is usually set."""
    return texts(bound(page(0, 60)))[0].count("Check")


def test_a_page_a_little_too_long_is_set_closer_and_no_other(fits):
    binder = bound(page(0, fits + 2), page(1, fits - 1), page(2, 3))
    sheets = texts(binder)
    assert len(sheets) == 3
    assert [text.count("Check") for text in sheets] == [fits + 2, fits - 1, 3]
    assert steps(binder, 0) == pytest.approx(12 + 1.3 * MM, abs=0.3)  # 10 pt by 1.2
    assert steps(binder, 1) == pytest.approx(USUAL, abs=0.3)


def test_a_page_is_not_set_closer_for_nothing(fits):
    binder = bound(page(0, fits + fits // 2))
    assert len(binder.sheets) == 2
    assert steps(binder, 0) == pytest.approx(USUAL, abs=0.3)


def test_the_same_pages_give_the_same_bytes_whatever_was_kept(fits, tmp_path):
    link = '<p><a href="#p2">See there</a></p>'
    pages = page(0, fits + 1, link), page(1, 70), page(2, 2)
    first = bound(*pages, cache_dir=tmp_path)
    assert bound(*pages, cache_dir=tmp_path).pdf == first.pdf == bound(*pages).pdf
    bound(page(0, 5, link), page(2, 2), cache_dir=tmp_path)  # another binding's labels are kept
    assert bound(*pages, cache_dir=tmp_path).pdf == first.pdf


def test_a_drawing_takes_its_room_where_only_the_layout_is_asked_for(fits):
    svg = (
        '<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" width="300pt" height="{}pt"'
        ' viewBox="0 0 300 200"><path d="M0 0L300 200" stroke="black"/></svg>'
    )

    def with_drawing(high: int) -> list[str]:
        code = base64.b64encode(svg.format(high).encode()).decode()
        link = f'<p><a href="#p1">See</a></p><img src="data:image/svg+xml;base64,{code}">'
        return texts(bound(page(0, fits - 4, link), page(1, 2)))

    assert len(with_drawing(10)) == 2
    assert len(with_drawing(400)) == 3
