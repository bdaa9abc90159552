"""No sentence of the manual's own pages holds a number of one system alone."""

import re
from pathlib import Path

import pytest

from steadbook.content import content_folders

CONTENT = Path(__file__).parents[2] / "content"
JINJA = re.compile(r"\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\}|`[^`]*`", re.DOTALL)
US_ALONE = re.compile(
    r"\d[\d.,]*[ \u00a0](?:°F|degF|ft|psi|gal|lb|in(?! \d)|inH2O|mph|miles)\b(?! \()"
)
PAGES = sorted(
    path.relative_to(CONTENT).as_posix()
    for path in CONTENT.rglob("*.md")
    if "help" not in path.relative_to(CONTENT).parts  # help shows what people type
)


def alone(text):
    return US_ALONE.findall(JINJA.sub("", text))


def test_the_content_is_where_the_manual_reads_it():
    assert CONTENT in content_folders(CONTENT.parent)
    assert len(PAGES) > 60


@pytest.mark.parametrize("page", PAGES)
def test_a_number_has_its_unit_by_the_home_s_own_system(page):
    assert alone((CONTENT / page).read_text("utf-8")) == []


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("Never charge below 32 °F.", 1),
        ("rake 30 ft around, brush 100 ft", 2),
        ('below {{ value(0, "degC") }}', 0),
        ("write `35-50 psi` there", 0),
    ],
)
def test_the_search_finds_what_it_should(text, count):
    assert len(alone(text)) == count
