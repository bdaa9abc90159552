"""One figure shows one value, wherever it stands; totals add up; a machine's numbers have an origin.

What is covered: every link to a working, on every page of every edition and in the binder's text;
every table with a row `Together`, `All`, `All together` or `Total`, and the column `Together`; every
number with a unit on the machines' pages, which must be a value of the inventory (as written, or
shown in the other system of units), part of a figure's value or working, or a meter's hours; how far
a measured value stands from its spec is reckoned again. Not covered: the yearly change in the table
of trends, numbers in safety messages and captions, drawings (tables beside them hold the same).
"""

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from lxml import html as lxml_html
from pydantic import BaseModel
from pypdf import PdfReader

from steadbook import units
from steadbook.bind.markdown import to_html
from steadbook.bind.results import build
from steadbook.inventory.redact import EDITIONS
from steadbook.inventory.year import LISTS
from steadbook.making import made_manual
from steadbook.starting import start_home
from steadbook.workings import words

ROOT = Path(__file__).parents[1]
DAY = date(2026, 11, 25)


TYPED = {"lbf*": "lbf·", "N*m": "N·m", "inH2O": "inH₂O", "degF": "°F", "degC": "°C"}


def plain(text: str) -> str:
    """The words alone, a unit in them as it is printed."""
    for typed, printed in TYPED.items():
        text = text.replace(typed, printed)
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())


@pytest.fixture(scope="module")
def home(tmp_path_factory, demo_copy):
    """The demo's inputs, in a folder of their own."""
    return demo_copy(tmp_path_factory.mktemp("numbers"))


@pytest.fixture(scope="module")
def demo(home):
    """The demo's owner's edition, and its pages as HTML trees by path."""
    made = made_manual(home, as_of=DAY)
    return made, trees(made.manual)


def trees(manual):
    return {
        page.path: lxml_html.fragment_fromstring(to_html(page.markdown), create_parent="section")
        for page in manual.pages
    }


# --- one figure, one value ----------------------------------------------------------------------


def links_to_workings(pages) -> Iterator[tuple[str, str, str]]:
    """(page, anchor, text) of every link to a working."""
    for path, tree in pages.items():
        for link in tree.iter("a"):
            target, _, anchor = (link.get("href") or "").partition("#")
            if "workings/workings-" in target or (not target and anchor.startswith("w-")):
                yield path, anchor, plain(link.text_content())


def test_a_figure_shows_its_own_value_wherever_it_stands(demo):
    made, pages = demo
    values = {f.anchor: plain(f.value) for f in made.workings.figures.values()}
    assert len(values) == len(made.workings.figures), "two figures share an anchor"
    links = list(links_to_workings(pages))
    assert len(links) > 200
    wrong = [(path, anchor, text) for path, anchor, text in links if text != values.get(anchor)]
    assert wrong == []


def test_the_working_of_every_figure_begins_with_its_value(demo):
    made, pages = demo
    shown = {}
    for path, tree in pages.items():
        if path.startswith("workings/"):
            for entry in tree.xpath(".//*[starts-with(@id, 'w-')]"):
                assert entry.get("id") not in shown, f"{entry.get('id')} twice"
                shown[entry.get("id")] = plain(entry.text_content())
    for figure in made.workings.figures.values():
        assert shown[figure.anchor].startswith(plain(f"{figure.title}: {figure.value}.")), (
            figure.key
        )


@pytest.mark.parametrize("edition", [one for one in EDITIONS if one != "owner"])
def test_other_editions_show_the_values_of_the_owner(home, demo, edition):
    """A figure that two editions have is the same in both (prices are the owner's alone)."""
    ours = demo[0].workings.figures
    theirs = made_manual(home, as_of=DAY, edition=edition).workings.figures
    assert len(theirs) > 50
    assert {key: one.value for key, one in theirs.items()} == {
        key: ours[key].value for key in theirs
    }


def test_the_binder_prints_the_same_values(tmp_path):
    start_home(tmp_path / "place")
    results = build(tmp_path / "place", as_of=DAY, with_site=False)
    assert results.binder is not None
    printed = re.sub(r"\s+", "", "".join(p.extract_text() for p in PdfReader(results.binder).pages))
    figures = results.made.workings.figures.values()
    assert len(figures) > 10
    for figure in figures:
        entry = re.sub(r"\s+", "", f"{figure.title}: {figure.value}.")
        assert entry.replace("-", "") in printed.replace("-", ""), figure.key


# --- totals -------------------------------------------------------------------------------------

TOTAL = re.compile(r"(together|all|all together|total|sum)\b", re.IGNORECASE)
NUMBER = re.compile(r"[-−]?\d[\d,]*(?:\.\d+)?")


def leading(cell: str) -> tuple[float, float] | None:
    """The first number of a cell, and half a unit of its last digit."""
    found = NUMBER.match(cell)
    if found is None:
        return None
    text = found[0].replace(",", "").replace("−", "-")
    decimals = len(text.partition(".")[2])
    digits = len(text.replace(".", "").strip("-0"))
    trailing = len(text) - len(text.rstrip("0")) if "." not in text and digits < len(text) else 0
    return float(text), 0.5 * 10.0 ** (trailing - decimals)


def adds_up(parts: list[tuple[float, float]], total: tuple[float, float]) -> bool:
    """Whether the parts make the total, as far as all of them are rounded."""
    slack = sum(half for _, half in parts) + total[1]
    return abs(sum(value for value, _ in parts) - total[0]) <= slack * 1.001


def rows_of(table) -> list[list[str]]:
    return [[plain(cell.text_content()) for cell in row] for row in table.iter("tr")]


def test_totals_add_up(demo):
    checked = []
    for path, tree in demo[1].items():
        for table in tree.iter("table"):
            rows = rows_of(table)
            for number, row in enumerate(rows):
                if number < 2 or not TOTAL.fullmatch(row[0]):
                    continue
                for place in range(1, len(row)):
                    total = leading(row[place])
                    parts = [leading(above[place]) for above in rows[1:number]]
                    if total is not None and any(parts):
                        kept = [one for one in parts if one is not None]
                        assert adds_up(kept, total), (path, row, rows)
                        checked.append(path)
            if rows and rows[0][-1] == "Together":
                for row in rows[1:]:
                    parts, total = [leading(cell) for cell in row[1:-1]], leading(row[-1])
                    if total is not None and all(parts):
                        assert adds_up([one for one in parts if one], total), (path, row)
                        checked.append(path)
    assert len(checked) >= 8, checked
    assert len(set(checked)) >= 4


def test_the_sum_itself_can_fail():
    assert adds_up([(970, 0.5), (202, 0.5), (295, 0.5)], (1466, 0.5))
    assert not adds_up([(970, 0.5), (202, 0.5), (295, 0.5)], (1470, 0.5))
    assert leading("1,466 USD") == (1466.0, 0.5)
    assert leading("160,000 Btu/h (47.0 kW)") == (160000.0, 5000.0)


# --- every number of a machine has an origin ----------------------------------------------------

UNIT = (
    r"(?:lbf·ft|lbf·in|N·m|psi|kPa|bar|mbar|inH₂O|kW|W|kWh|V|A|Ah|mA|Hz|rpm|h|min|gal|qt|L|mL|fl oz"
    r"|US gal|lb|kg|g|oz|in|ft|mm|m|cm|°F|°C|%|Btu/h|gal/h|L/h|gal/min|L/min|USD|cu in|cm³|VA)"
)
MEASURED = re.compile(
    rf"(?<![\w.,/–-])(\d[\d,]*(?:\.\d+)?(?: \d+/\d+)?|\d+/\d+)[  ]({UNIT})(?![\w·/³²])"
)


def quantities(value: object) -> Iterator[units.Quantity]:
    """Every quantity in a part of the inventory."""
    if isinstance(value, units.Quantity):
        yield value
    elif isinstance(value, BaseModel):
        for _, one in value:
            yield from quantities(one)
    elif isinstance(value, dict):
        for one in value.values():
            yield from quantities(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from quantities(one)


def texts(value: object) -> Iterator[str]:
    """Every text of a file as read."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for one in value.values():
            yield from texts(one)
    elif isinstance(value, list):
        for one in value:
            yield from texts(one)


def measured(text: str) -> set[tuple[str, str]]:
    return set(MEASURED.findall(plain(text)))


def origins(workings) -> set[tuple[str, str]]:
    """Every number with a unit that the inventory or a figure has."""
    homestead = workings.homestead
    known: set[tuple[str, str]] = set()
    things = [homestead.place, homestead.machines, homestead.parts]
    things += [getattr(homestead.log, name) for name in LISTS]
    for quantity in quantities(things):
        for system in ("us", "metric"):
            known |= measured(words.quantity(quantity, system))
        known |= measured(quantity.text)
        if quantity.kind == "hours":
            known |= measured(words.hours(quantity.to("h")))
    for text in texts(list(homestead.files.trees.values())):
        known |= measured(text)
    for figure in workings.figures.values():
        known |= measured(figure.value)
        for step in figure.working:
            known |= measured(step)
    for running in workings.running.values():
        if running.marks:
            known |= measured(
                words.hours(running.last.hours) + " " + words.hours(running.last.shown)
            )
        if running.rate:
            known |= measured(words.hours(running.rate.year) + " " + running.rate.evidence)
    for state in workings.tasks:
        if state.done.hours is not None:
            known |= measured(words.hours(state.done.hours))
    return known


def column_of(table, heading: str) -> list[str]:
    rows = rows_of(table)
    return [row[rows[0].index(heading)] for row in rows[1:]] if heading in rows[0] else []


def test_how_far_a_measured_value_stands_from_its_spec(demo):
    """`below by 2.5 %` is the difference between the two cells before it, by hand."""
    checked = 0
    for path, tree in demo[1].items():
        for table in tree.iter("table"):
            cells = [column_of(table, name) for name in ("Specified", "Measured", "Stands")]
            if not all(cells):
                continue
            for limit, value, stands in zip(*cells, strict=True):
                found = re.fullmatch(r"(below|above) by ([\d.]+) %", stands)
                ends = re.match(
                    rf"({NUMBER.pattern})(?: ?[–-] ?({NUMBER.pattern}))? ({UNIT})", limit
                )
                got = re.match(rf"({NUMBER.pattern}) ({UNIT})", value)
                if not (found and ends and got and ends[3] == got[2]):
                    continue
                edge = leading(ends[1] if found[1] == "below" or not ends[2] else ends[2])
                reading = leading(got[1])
                assert edge is not None and reading is not None
                gap = 100 * abs(reading[0] - edge[0]) / abs(edge[0])
                assert float(found[2]) == pytest.approx(gap, abs=0.051), (path, limit, value)
                assert (found[1] == "below") == (reading[0] < edge[0]), (path, limit, value)
                checked += 1
    assert checked >= 10


def test_every_number_of_a_machine_page_has_an_origin(demo):
    made, pages = demo
    known = origins(made.workings)
    seen, strange = 0, []
    for path, tree in pages.items():
        if not path.startswith("machines/"):
            continue
        for box in tree.xpath(".//*[contains(@class, 'signal') or contains(@class, 'caption')]"):
            box.drop_tree()  # safety messages have numbers of their own; captions tell the chart's
        for table in tree.iter("table"):
            for heading in ("Stands", "A year"):  # the first is reckoned above
                for row, _ in zip(
                    list(table.iter("tr"))[1:], column_of(table, heading), strict=False
                ):
                    row[rows_of(table)[0].index(heading)].text = ""
        for block in tree.iter("p", "td", "li"):
            for one in measured(block.text_content()):
                seen += 1
                if one not in known:
                    strange.append((path, one, plain(block.text_content())[:90]))
    assert seen > 300
    assert not strange, "\n".join(map(str, strange))
