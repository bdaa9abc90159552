"""The sheets of fuel and engine: there where there is something to tell, true on any day."""

import re
from datetime import date
from pathlib import Path

import pytest

from steadbook.errors import PageError
from steadbook.making import made_manual

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)
SHEETS = [
    "fuel/reserve.md", "fuel/gas-in-the-cold.md", "fuel/stored-fuels.md", "fuel/gas-lines.md",
    "power/genset-output.md", "power/exhaust-and-air.md", "power/carbon-monoxide.md",
    "power/cost.md",
]  # fmt: skip
BARE = "name: Small place\nwhere: Here\nlatitude: 45\nlongitude: -110\nelevation: 900 m\n"


def pages(home, day=DAY, edition="owner"):
    manual = made_manual(home, as_of=day, edition=edition).manual
    return {page.path: page.markdown for page in manual.pages}


@pytest.fixture(scope="module")
def home(tmp_path_factory, demo_copy):
    return demo_copy(tmp_path_factory.mktemp("demo"))


@pytest.fixture(scope="module")
def demo(home):
    return pages(home)


@pytest.fixture
def small(tmp_path):
    """A home with files of texts, among them the bare homestead."""

    def make(**files):
        data = tmp_path / "site_data"
        data.mkdir()
        (data / "homestead.yaml").write_text(BARE)
        for name, text in files.items():
            (data / f"{name}.yaml").write_text(text)
        return tmp_path

    return make


def test_the_demo_has_every_sheet(demo):
    assert [path for path in SHEETS if path not in demo] == []


def test_no_sheet_shows_a_hole(demo):
    for path in SHEETS:
        assert not re.search(r"\bnan\b|\binf\b|None|not known\*|\{\{|\{%", demo[path]), path


def test_each_number_of_the_reserve_has_its_unit(demo):
    text = demo["fuel/reserve.md"].replace("\N{NO-BREAK SPACE}", " ")
    assert "693 gal (2,620 L)" in text  # 1,000 gal x 66 % x 1.0506
    assert "| 1 Dec 2026 | 63 % |" in text


def test_only_the_owner_reads_of_money(demo, home):
    assert "USD" in demo["power/cost.md"]
    for edition in ("sitter", "technician"):
        found = pages(home, edition=edition)
        assert "power/cost.md" not in found
        assert [path for path, text in found.items() if "USD" in text] == []


def test_a_day_that_passes_moves_only_today(demo, home):
    later = pages(home, day=date(2026, 11, 26))
    assert [path for path in SHEETS if demo[path] != later[path]] == []


def test_a_home_with_nothing_but_a_place_has_none_of_the_sheets(small):
    found = pages(small())
    assert [path for path in SHEETS if path in found] == ["power/carbon-monoxide.md"]


def test_a_genset_of_nothing_but_its_power_is_told(small):
    power = (
        "title: Power\nequipment:\n  set:\n    kind: genset\n    name: Set\n"
        "    plate: {power: 5 kW}\n"
    )
    found = pages(small(power=power))
    assert "5\N{NO-BREAK SPACE}kW" in found["power/genset-output.md"]
    assert "fuel/reserve.md" not in found


def test_a_tank_without_a_reading_says_so(small):
    fuel = (
        "title: Fuel\nequipment:\n  tank:\n    kind: tank\n    name: Tank\n"
        "    plate: {contents: propane, capacity: 500 gal}\n"
    )
    found = pages(small(fuel=fuel))
    assert "no reading" in found["fuel/reserve.md"]
    assert "no gauge reading yet" in found["fuel/stored-fuels.md"]


def test_a_metric_home_reads_metric_first(small):
    fuel = (
        "title: Fuel\nequipment:\n  heater:\n    kind: load\n    name: Heater\n"
        "    plate: {input: 6 kW}\n    use:\n      - {hours: 4 h}\n  tank:\n    kind: tank\n"
        "    name: Tank\n    feeds: [heater]\n"
        "    plate: {contents: propane, capacity: 1900 L, reserve: 20 %}\n"
    )
    home = small(fuel=fuel)
    place = home / "site_data" / "homestead.yaml"
    place.write_text(BARE + "units: metric\ncoldest: -20 degC\n")
    (home / "site_data" / "log").mkdir()
    (home / "site_data" / "log" / "2026.yaml").write_text(
        "levels:\n  - {date: 2026-11-01, tank: tank, level: 60 %, temperature: 5 degC}\n"
    )
    found = pages(home)
    text = found["fuel/reserve.md"].replace("\N{NO-BREAK SPACE}", " ")
    assert "1,170 L (310 gal)" in text  # 1,140 L x 1.0298 at 5 degC
    assert "kW (" in found["fuel/gas-in-the-cold.md"].replace("\N{NO-BREAK SPACE}", " ")


def test_a_need_that_nothing_tells_is_an_error(small):
    home = small()
    (home / "content").mkdir()
    (home / "content" / "own.md").write_text("---\ntitle: Own\ntab: Own\nneeds: fuel.stoks\n---\n")
    with pytest.raises(PageError, match=r"needs: fuel\.stoks"):
        pages(home)
