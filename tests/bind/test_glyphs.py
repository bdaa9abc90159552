"""A character that the fonts lack costs neither the binder nor its place on the sheet."""

import io
import re
from datetime import date

import pytest
from pypdf import PdfReader

from steadbook.bind.binder import bind
from steadbook.bind.glyphs import BOX, box_warnings, printable, unprintable
from steadbook.bind.sheets import Tab
from steadbook.inventory.read import read_text

DAY = date(2026, 11, 25)


def bound(html, title="A place"):
    return bind(
        [Tab("power", "Power", html)],
        title=title, subtitle="A valley", paper="letter", as_of=DAY, roots=[],
    )  # fmt: skip


def sheets_text(binder):
    return "".join(page.extract_text() for page in PdfReader(io.BytesIO(binder.pdf)).pages)


def test_a_character_without_a_glyph_prints_as_a_box_and_is_told_of():
    binder = bound("<h1 id='a'>Genset \N{FIRE}</h1><p>Valve \u6f22 shut</p>", title="Home \N{FIRE}")
    words = sheets_text(binder)
    assert f"Genset {BOX}" in words
    assert f"Valve {BOX} shut" in words
    assert f"Home {BOX}" in words
    assert binder.unprintable == {
        "\N{FIRE}": ("Front", "\N{FIRE}"),
        "\u6f22": ("Power", "\u6f22"),
    }


def test_what_the_fonts_have_is_left_alone_and_told_of_by_nobody():
    text = "½ in · 5 Ω · −20 °C → “low” – Größe, łódź, Ελλάδα, кран, עברית, العربية"
    assert printable(text) == text
    assert unprintable(text) == {}
    assert bound(f"<h1 id='a'>T</h1><p>{text}</p>").unprintable == {}


@pytest.mark.parametrize(
    "word",
    [
        *("\N{COMBINING ACUTE ACCENT}", "x\u0301\u0302", "a\x81b", "\x9b31m", "zero\u200bwidth"),
        *("a\u202eb", "abcעברית12.5kW", "עברית(abc)", "السلام", "\ue000x\ue001", "\U0010ffff"),
        *("\N{WOMAN}\u200d\N{WRENCH}", "देवनागरी", "หน้า", "□", "a\u2028b", "𝐀", "x" * 3000),
    ],
    ids=ascii,
)
def test_no_word_stops_the_binder(word):
    assert len(bound(f"<h1 id='a'>T</h1><p>{word}</p><p><b>{word}</b></p>").sheets) >= 2


def test_marks_that_turn_the_text_are_left_out():
    assert printable("shut \u202egnihton\u202c \u2067open\u2069") == "shut gnihton open"


def test_the_warning_names_the_character_and_every_line_that_has_it():
    tree, problems = read_text("a:\n  notes: oil \N{FIRE}\n  rows:\n    - \N{FIRE} x\n", "f.yaml")
    assert not problems
    first, second = box_warnings(
        {"\N{FIRE}": ("Power", "\N{FIRE}")}, {"site_data/power.yaml": tree}
    )
    assert str(first) == (
        "site_data/power.yaml:2: a.notes  (warning)\n"
        "  found:   the character '\N{FIRE}' (FIRE, U+1F525) in '\N{FIRE}'\n"
        "  allowed: characters that the binder's fonts have: Latin, Greek, Cyrillic, the usual "
        "symbols\n"
        "  fix:     write it in words; the binder prints □ in its place, the site shows it"
    )
    assert (second.line, second.key) == (4, "a.rows[1]")


def test_a_character_of_a_page_is_named_by_its_tab():
    [told] = box_warnings({"\u6f22": ("Power", "\u6f22")}, {})
    assert (told.file, told.line) == ("binder, tab Power", 0)


@pytest.mark.parametrize("name", ["größe", "\u6f22", "a b", "\N{FIRE}"])
def test_a_link_leads_to_an_id_of_any_letters(name):
    binder = bound(
        f"<h1 id='a'>T</h1><h2 id='{name}'>There</h2><p>See <a href='#{name}'>it</a></p>"
    )
    assert re.search(r"See it \(Power\s1\)", sheets_text(binder))
