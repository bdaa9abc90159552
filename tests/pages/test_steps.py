"""No step of a page is swallowed into the step above it, in any edition of demo and starter."""

from __future__ import annotations

import re
import shutil
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest

from steadbook.bind.markdown import to_html
from steadbook.inventory.redact import Edition
from steadbook.making import made_manual
from steadbook.pages import Page

ROOT = Path(__file__).parents[2]
STARTER = ROOT / "generator" / "steadbook" / "starter"
HOMES = ("demo", "starter")
EDITIONS: tuple[Edition, ...] = ("owner", "sitter", "technician")
SWALLOWED = re.compile(r"[.!?:)*] \d{1,2}\. [A-Z*]")
STEP = re.compile(r"^(\d+)\. ", re.MULTILINE)


class Steps(HTMLParser):
    """Counts the items of the numbered lists that stand in no other list."""

    def __init__(self) -> None:
        super().__init__()
        self.lists: list[str] = []
        self.count = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("ol", "ul"):
            self.lists.append(tag)
        self.count += tag == "li" and self.lists == ["ol"]

    def handle_endtag(self, tag: str) -> None:
        if tag in ("ol", "ul"):
            self.lists.pop()


def steps_shown(markdown: str) -> int:
    found = Steps()
    found.feed(to_html(markdown))
    found.close()
    return found.count


def problems(page: Page) -> list[str]:
    """Each place of a page where a step is not a step of its own."""
    found = [line for line in page.markdown.split("\n") if SWALLOWED.search(line)]
    if not page.path.startswith("procedures/"):
        return found
    for section in re.split(r"^## ", page.markdown, flags=re.MULTILINE):
        typed = [int(number) for number in STEP.findall(section)]
        if typed != list(range(1, len(typed) + 1)) or steps_shown(section) != len(typed):
            found.append(section)
    return found


@pytest.fixture(scope="module")
def homes(tmp_path_factory, demo_copy) -> dict[str, Path]:
    place = tmp_path_factory.mktemp("homes")
    shutil.copytree(STARTER, place / "starter")
    return {"demo": demo_copy(place / "demo"), "starter": place / "starter"}


@pytest.fixture(scope="module", params=[(h, e) for h in HOMES for e in EDITIONS], ids="-".join)
def pages(request, homes) -> list[Page]:
    name, edition = request.param
    manual = made_manual(homes[name], as_of=date(2026, 11, 25), edition=edition).manual
    return list(manual.pages)


def test_every_step_stands_by_itself(pages):
    for page in pages:
        assert not problems(page), page.path


@pytest.mark.parametrize(
    "text",
    [
        "1. Call. 2. Turn it off.\n",  # in the middle of a line
        "1. Read.\n\n    **If not:** call.\n2. Turn it off.\n",  # right under a paragraph
        "1. Read.\n\n3. Turn it off.\n",  # a number left out
    ],
)
def test_a_swallowed_step_is_found(text):
    assert problems(Page("procedures/one.md", "One", "Procedures", (1, ""), f"## A. Do\n\n{text}"))
