"""Forms and cards come from the inventory, and their lines are wide enough to write on."""

from datetime import date
from pathlib import Path

import pdfplumber
import pytest

from steadbook.bind.forms import LEAST_LINE
from steadbook.bind.stationery import _that_fit, blank_forms, cards, stationery
from steadbook.making import made_manual

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def made():
    return made_manual(ROOT, as_of=date(2026, 11, 25))


@pytest.fixture(scope="module")
def pdf(made, tmp_path_factory):
    path = tmp_path_factory.mktemp("forms") / "forms.pdf"
    path.write_bytes(stationery(made).pdf)
    with pdfplumber.open(path) as opened:
        yield opened


def test_each_machine_has_the_forms_it_needs(made):
    forms = {(form.key, subject) for form, subject in blank_forms(made)}
    assert ("run-log", "Main genset") in forms
    assert ("service-record", "Main genset") in forms
    assert ("fuel-log", "North tank") in forms
    assert ("specific-gravity", "Battery bank, string 2") in forms
    assert not any(subject == "Cistern" for _, subject in forms)  # water is no fuel


def test_a_form_is_one_sheet_with_lines_to_write_on(pdf):
    sheets = [page for page in pdf.pages if "Gravity sheet" in (page.extract_text() or "")[:200]]
    assert len(sheets) == 2
    for sheet in sheets:
        rows = sheet.find_tables()[0].rows
        assert len(rows) == 25  # the head and 24 cells
        heights = [(row.bbox[3] - row.bbox[1]) / 72 * 25.4 for row in rows[1:]]
        assert min(heights) >= 8.0  # the least for handwriting asked of a form
        assert min(heights) == pytest.approx(LEAST_LINE, abs=0.1)


def test_cards_say_whom_to_call_and_what_to_shut_off(made):
    titles = [card.title for card in cards(made)]
    assert titles[:2] == ["Call", "Shut off: gas"]
    assert "Shut off: water" in titles and "Shut off" not in titles
    assert cards(made)[0].lines[0].startswith("Fire, ambulance, police: 911")
    assert "valve" in " ".join(cards(made)[1].lines)


def test_cards_are_in_large_type(pdf):
    card = next(page for page in pdf.pages if (page.extract_text() or "").count("Shut off"))
    sizes = {
        round(char["size"], 1)
        for char in card.chars
        if char["text"].isalpha() and 60 < char["top"] < 700
    }
    assert min(sizes) >= 14


def test_what_does_not_fit_on_half_a_sheet_goes_on():
    assert list(_that_fit([])) == []
    parts = list(_that_fit(["x" * 46] * 14))
    assert [len(part) for part in parts] == [13, 1]
    assert list(_that_fit(["y" * 1000])) == [["y" * 1000]]


def test_every_side_is_one_to_use(made, pdf):
    texts = [page.extract_text() for page in pdf.pages]
    assert not [text for text in texts if "Notes" in text or "Contents" in text or "blank" in text]
    dividers = [text.splitlines()[1] for text in texts if "Dividers" in text.splitlines()[0]]
    assert dividers == list(made.manual.tabs())
    assert len(texts) == len(blank_forms(made)) + len(dividers) + 1 + sum(
        "Cards" in text.splitlines()[0] for text in texts
    )
    assert str(pdf.doc.catalog["ViewerPreferences"]["Duplex"]) == "/'Simplex'"
