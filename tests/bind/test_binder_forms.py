"""Blank forms, cards, dividers and the spine label, measured on the finished sheets."""

from __future__ import annotations

import io
from datetime import date
from itertools import pairwise

import pdfplumber
import pypdfium2
import pytest

from steadbook.bind import forms
from steadbook.bind.binder import Binder, Tab, bind
from steadbook.bind.forms import Card

MM = 72 / 25.4


def bound(tab: Tab, paper: str = "letter") -> Binder:
    return bind(
        [tab],
        title="Larch Hollow",
        subtitle="Systems manual",
        paper=paper,  # type: ignore[arg-type]
        as_of=date(2026, 5, 12),
        roots=[],
    )


def sheets_of(binder: Binder, tab: Tab) -> list[pdfplumber.page.Page]:
    pdf = pdfplumber.open(io.BytesIO(binder.pdf))
    return [p for p, s in zip(pdf.pages, binder.sheets, strict=True) if s.tab == tab.key]


EACH = [forms.RUN_LOG, forms.SERVICE_RECORD, forms.FUEL_LOG, forms.gravity_sheet(24)]


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("form", EACH, ids=[form.key for form in EACH])
def test_a_form_is_one_sheet_with_lines_of_eight_millimetres_or_more(form: forms.Form, paper: str):
    tab = forms.forms_tab([(form, "Main genset in the new shed behind the barn")])
    sheet, back = sheets_of(bound(tab, paper), tab)
    text = sheet.extract_text()
    assert f"{form.title}: Main genset" in text
    assert "Notes" in back.extract_text()
    lines = sorted({round(edge["top"], 1) for edge in sheet.horizontal_edges})
    gaps = [(b - a) / MM for a, b in pairwise(lines) if b - a > 2 * MM]
    assert sum(gap >= 7.99 for gap in gaps) >= form.lines
    for word, _ in form.columns:
        assert word.split()[0] in text


def test_the_columns_of_each_form_fill_its_width():
    for form in EACH:
        assert sum(width for _, width in form.columns) == 100


def test_the_mark_of_a_form_names_form_and_machine():
    reader = pytest.importorskip("zxingcpp", reason="reads QR marks: pip install zxing-cpp")
    tab = forms.forms_tab([(forms.RUN_LOG, "Main genset"), (forms.FUEL_LOG, "Tank n° 2 & 3")])
    binder = bound(tab)
    document = pypdfium2.PdfDocument(binder.pdf)
    read = []
    for number, sheet in enumerate(binder.sheets):
        if sheet.tab == tab.key:
            # As a telephone sees it: a coarse picture in grey.
            picture = document[number].render(scale=120 / 72).to_pil().convert("L")
            read += [code.text for code in reader.read_barcodes(picture)]
    document.close()
    assert read == ["run-log: Main genset", "fuel-log: Tank n° 2 & 3"]


def test_cards_are_two_to_a_sheet_in_large_type():
    cards = [Card(f"Card {n}", ("Shut the valve.", "Call from far away.")) for n in range(4)]
    tab = forms.cards_tab(cards)
    sheets = sheets_of(bound(tab), tab)
    assert [sheet.extract_text().count("Card ") for sheet in sheets] == [2, 2]
    for sheet in sheets:
        body = sheet.crop((sheet.bbox[0], 22 * MM, sheet.bbox[2], sheet.height - 20 * MM))
        assert min(char["size"] for char in body.chars) >= 14


def test_a_card_too_long_for_half_a_sheet_is_not_cut():
    long = Card("Long", tuple(f"Step {n}: shut the valve, wait and look." for n in range(14)))
    tab = forms.cards_tab([long, Card("Next", ("Go.",))])
    first, second = sheets_of(bound(tab), tab)
    words = first.extract_text()
    assert "Step 13" in words
    assert "Next" in second.extract_text()
    lowest = max(char["bottom"] for char in first.chars if char["size"] > 14)
    assert lowest < first.height - 20 * MM


@pytest.mark.parametrize("duplex", [True, False])
def test_dividers_step_down_the_edge(duplex: bool):
    names = ["Power", "Fuel", "Water", "Heat & hot water"]
    tab = forms.dividers_tab(names, duplex=duplex)
    sheets = sheets_of(bound(tab), tab)
    fronts = sheets[::2] if duplex else sheets
    tops = []
    for name, sheet in zip(names, fronts, strict=False):
        assert name in sheet.extract_text()
        tops.append(min(c["top"] for c in sheet.chars if c["size"] == pytest.approx(30)))
    assert tops == sorted(set(tops))
    for back in sheets[1::2] if duplex else []:
        assert "This side is left blank." in back.extract_text()


def test_the_spine_label_is_as_high_as_asked():
    tab = forms.spine_tab("Larch Hollow", "Systems manual", height=25)
    sheet, _ = sheets_of(bound(tab), tab)
    frame = max(sheet.rects + sheet.curves, key=lambda shape: shape["width"] * shape["height"])
    assert frame["width"] / MM == pytest.approx(230, abs=1)
    assert frame["height"] / MM == pytest.approx(25, abs=1)
