"""Data shows as the text it is: in a paragraph, a table cell, an HTML block, an attribute."""

import html

import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from steadbook.bind.markdown import EXTENSIONS
from steadbook.errors import PageError
from steadbook.pages.escape import as_text, phone_link

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
