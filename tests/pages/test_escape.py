"""Data shows as the text it is: in a paragraph, a table cell, an HTML block, an attribute."""

import html
from pathlib import Path

import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from steadbook.bind.markdown import EXTENSIONS
from steadbook.errors import PageError
from steadbook.pages.escape import as_text, phone_link, pretty

HOSTILE = [
    "<script>alert(1)</script>",
    "a|b|c",
    "`code` and ``more``",
    "{{ 7 * 7 }} {% raw %}",
    "[link](javascript:alert(1))",
    "![x](http://example.org/x.png)",
    "**bold** _under_ *star*",
    "# not a heading",
    "&amp; &#60;",
    '" onmouseover="alert(1)',
    "back\\slash",
]


def _shown(page: str) -> str:
    import re

    made = markdown.markdown(page, extensions=EXTENSIONS)
    assert "<script" not in made and "<img" not in made and "<a " not in made, made
    return html.unescape(re.sub(r"<[^>]*>", "", made))


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_shows_as_text_in_a_paragraph(text):
    assert text in _shown(f"Before {as_text(text)} after")


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_stays_in_its_table_cell(text):
    made = markdown.markdown(
        f"| A | B |\n|---|---|\n| {as_text(text)} | end |", extensions=EXTENSIONS
    )
    assert made.count("<td>") == 2
    assert text in html.unescape(made)


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_stays_in_its_attribute(text):
    made = markdown.markdown(f'<span title="{as_text(text)}">x</span>')
    assert made.count('="') == 1, made


@given(st.text(max_size=80))
def test_any_text_keeps_its_table_whole(text):
    page = f"| A | B |\n|---|---|\n| x{as_text(text)}x | end |"
    assert markdown.markdown(page, extensions=EXTENSIONS).count("<td>") == 2


def test_marks_that_turn_the_direction_of_text_are_dropped():
    assert as_text("safe\u202etxt.exe\u2066") == "safetxt.exe"


def test_a_whole_object_on_a_page_is_an_error():
    with pytest.raises(PageError, match="a whole object where a single value is shown"):
        as_text({"a": 1})


def test_markup_is_left_alone_and_nothing_shows_nothing():
    assert as_text(Markup("<b>x</b>")) == "<b>x</b>"
    assert as_text(None) == ""


def test_a_phone_number_is_a_link_to_tap():
    assert phone_link("555-0117") == '<a href="tel:5550117">555-0117</a>'
    assert phone_link(None) == ""


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("torque wrench to 50 lbf*ft", "torque wrench to 50 lbf·ft"),
        ("11.0 inH2O", "11.0 inH₂O"),
        ("-36 degF at -20 degC", "&#45;36 °F at &#45;20 °C"),
        ("84 lbf*in or 9 N*m", "84 lbf·in or 9 N·m"),
        ("a 5*6 grid, N*mx", "a 5&#42;6 grid, N&#42;mx"),
        ("<degF>", "&#60;°F&#62;"),
    ],
)
def test_a_unit_in_the_user_s_words_is_printed_as_everywhere(typed, shown):
    assert pretty(typed).replace("&#45;", "-") == shown.replace("&#45;", "-")


def test_what_is_told_to_be_typed_stays_as_it_is_typed():
    for name in ("parts/keys.md", "help/quantities.md", "help/glossary.md"):
        page = (Path(__file__).parents[2] / "content" / name).read_text("utf-8")
        for cell in ("one", "unit", "term.units"):
            assert f"{{{{ {cell} }}}}" not in page
