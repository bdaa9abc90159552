"""The site as people use it: from a stick or sent as a file, on a phone, in the dark, on paper."""

from __future__ import annotations

import io
import re

import pytest
from PIL import Image, ImageStat

PHONE = {"width": 360, "height": 740}
PAGES = {
    "sitter": ["index", "round", "map", "calls", "faults/no-water", "procedures/co-alarm"],
    "owner": ["index", "schedule", "faults", "faults/genset-will-not-crank",
              "machines/power/main-genset", "procedures/genset-annual-service"],
}  # fmt: skip
EVERY = [(edition, name) for edition, names in PAGES.items() for name in names]

# what happened -> words on the page that answers it; none may be further than two clicks away
SITUATIONS = {
    "the lights went out": (["Lights out"], "Stand still and put your headlamp on."),
    "very cold in the house": (["No heat"], "Is there a wood stove that may be lit?"),
    "carbon monoxide alarm": (["CO alarm"], "Shout:"),
    "smell of gas": (["Smell of gas"], "Touch no switch"),
    "no water": (["No water"], "Is the pump's breaker ON?"),
    "water on the floor": (["Shut-offs"], "Pressure tank"),
    "inverter alarm, then restart": (["Inverter alarm", "Restart the inverter"], "Restart it"),
    "genset to be started": (["Start the genset by hand"], "Pull the oil stick"),
    "gas ran out": (["No gas"], "clockwise until it stops"),
    "chimney fire": (["Wood stove, part D"], "roars like a train"),
    "snow over the exhaust": (["Snow"], "end of its exhaust"),
    "whom to call, and when": (["Whom to call"], "555-0117"),
    "normal battery reading at dawn": (["The daily round"], "Battery bank at dawn"),
    "what never to touch": (["Whom to call"], "Never touch"),
}


@pytest.mark.parametrize("situation", SITUATIONS)
def test_every_situation_is_answered_in_two_clicks(opened, sites, situation):
    links, answer = SITUATIONS[situation]
    assert len(links) <= 2
    page = opened(sites["sitter"] / "index.html", **PHONE)
    for link in links:
        page.locator("article").get_by_role("link", name=link, exact=True).first.click()
        page.wait_for_load_state()
    assert answer in page.locator("article").inner_text()


def test_the_danger_comes_first_on_a_phone(opened, sites):
    """Without scrolling: whom to ring, and the first of the situations."""
    page = opened(sites["sitter"] / "index.html", **PHONE)
    for words in ("People first.", "The lights went out"):
        box = page.get_by_text(words, exact=False).first.bounding_box()
        assert box["y"] + box["height"] <= PHONE["height"], words


@pytest.mark.parametrize(
    ("edition", "words", "path"),
    [
        ("sitter", "monoxide alarm", "co-alarm"),
        ("owner", "valve lash", "valve-lash"),
        ("owner", "shelf", "shelf.html"),
    ],
)
def test_the_search_finds_a_page_from_a_stick(opened, sites, edition, words, path):
    page = opened(sites[edition] / "index.html")
    page.locator("input.md-search__input").click()
    page.keyboard.type(words, delay=10)
    result = page.locator(f".md-search-result__link[href*='{path}']").first
    result.wait_for(timeout=15000)
    result.click()
    page.wait_for_load_state()
    assert path in page.url


def test_one_walks_from_tab_to_tab(opened, sites):
    page = opened(sites["owner"] / "index.html")
    for tab in ("Power", "Fuel", "Faults", "Procedures"):
        page.locator(".md-tabs").get_by_role("link", name=tab, exact=True).click()
        page.wait_for_load_state()
        assert page.locator(".md-tabs__item--active").inner_text().strip() == tab
        assert page.locator("article h1").count() == 1


@pytest.mark.parametrize(("edition", "name"), EVERY)
def test_nothing_is_wider_than_a_phone(opened, sites, edition, name):
    page = opened(sites[edition] / f"{name}.html", **PHONE)
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    wide = page.evaluate(
        """() => [...document.querySelectorAll('article *')].filter(one =>
             one.getBoundingClientRect().right > innerWidth + 1 &&
             !one.closest('.md-typeset__scrollwrap, p.chart, .headerlink')).map(one => one.outerHTML.slice(0, 90))"""
    )
    assert wide == []


def test_a_table_wider_than_a_phone_shows_that_there_is_more(opened, sites):
    """Its right edge is shaded and "more" stands under it until it is scrolled to its end."""
    page = opened(sites["owner"] / "index.html", **PHONE)
    table = page.locator(".md-typeset__scrollwrap").first
    table.wait_for()

    def edges():
        """How dark the strips at the left and the right edge are, just under the table's text."""
        with Image.open(io.BytesIO(table.screenshot())) as picture:
            grey = picture.convert("L")
        top = grey.height // 2  # the page's header may stand over the upper half
        strips = ((0, top, 4, grey.height), (grey.width - 4, top, grey.width, grey.height))
        foot = grey.crop((grey.width - 70, grey.height - 18, grey.width - 14, grey.height - 4))
        return [255 - ImageStat.Stat(grey.crop(box)).mean[0] for box in strips], foot.getextrema()[
            0
        ]

    (left, right), sign = edges()
    assert left < 5 and right > 40 and sign < 160
    table.evaluate("one => one.scrollLeft = one.scrollWidth")
    (left, right), sign = edges()
    assert left > 40 and right < 5 and sign > 240


def test_phone_numbers_are_links_to_dial(opened, sites):
    page = opened(sites["sitter"] / "calls.html", **PHONE)
    numbers = page.locator("article a[href^='tel:']")
    assert numbers.count() >= 7
    assert numbers.first.get_attribute("href") == "tel:911"
    bare = re.findall(r"555-01\d\d", page.locator("article").inner_text())
    assert len(bare) <= numbers.count()


@pytest.mark.parametrize(
    ("edition", "name"), [("owner", "procedures/genset-annual-service"), ("sitter", "round")]
)
def test_ticks_stay_until_they_are_cleared(opened, sites, edition, name):
    page = opened(sites[edition] / f"{name}.html", **PHONE)
    boxes = page.locator("article input[type=checkbox]")
    assert boxes.count() > 1
    boxes.nth(1).check()
    page.reload()
    assert boxes.nth(1).is_checked() and not boxes.nth(0).is_checked()
    page.get_by_role("button", name="Clear all ticks").click()
    assert not boxes.nth(1).is_checked()
    page.reload()
    assert not boxes.nth(1).is_checked()


def test_ticks_of_one_page_are_not_those_of_another(opened, sites):
    page = opened(sites["sitter"] / "procedures/co-alarm.html")
    page.locator("article input[type=checkbox]").first.check()
    page.goto((sites["sitter"] / "procedures/gas-leak.html").as_uri())
    assert page.locator("article input:checked").count() == 0


def test_a_printed_page_is_black_on_white_without_the_frame(opened, sites):
    page = opened(sites["owner"] / "procedures/genset-annual-service.html", scheme="dark")
    page.emulate_media(media="print", color_scheme="dark")
    for part in (".md-header", ".md-tabs", ".md-sidebar--primary", ".tick-reset"):
        assert not page.locator(part).first.is_visible(), part
    colours = page.evaluate(
        "() => [getComputedStyle(document.body).backgroundColor, "
        "getComputedStyle(document.querySelector('article p')).color]"
    )
    light = [sum(int(n) for n in re.findall(r"\d+", colour)[:3]) for colour in colours]
    assert light[0] > 3 * 240 and light[1] < 3 * 90, colours
    assert page.pdf().startswith(b"%PDF")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("edition", "name"), EVERY)
def test_no_grave_finding_of_axe(opened, sites, edition, name, scheme):
    """axe-core's rules of the grades serious and critical."""
    from axe_playwright_python.sync_playwright import Axe

    page = opened(sites[edition] / f"{name}.html", scheme=scheme)
    dark = page.evaluate("document.body.dataset.mdColorScheme") == "slate"
    assert dark == (scheme == "dark")
    page.wait_for_load_state("networkidle")
    found = Axe().run(page).response["violations"]
    grave = [
        f"{one['id']}: {node['html'][:110]} ({node['failureSummary'].splitlines()[-1].strip()[:150]})"
        for one in found
        if one["impact"] in ("serious", "critical")
        for node in one["nodes"]
    ]
    assert not grave, "\n".join(grave[:12])
