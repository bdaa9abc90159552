"""The pages of electricity: of the demo, of a starter home, of each edition."""

import re
import shutil
from datetime import date, timedelta
from pathlib import Path

import pytest

from steadbook.making import made_manual
from steadbook.starting import start_home
from steadbook.workings import what_if, winter

ROOT = Path(__file__).parents[2]
AS_OF = date(2026, 11, 25)


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """The demo's pages by path, with few winters, and its workings."""
    home = tmp_path_factory.mktemp("demo")
    shutil.copytree(ROOT / "site_data", home / "site_data")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(winter, "COUNT", 60)
        patch.setattr(winter, "LEDGER_COUNT", 3)
        patch.setattr(winter, "SUN_COUNT", 30)
        patch.setattr(what_if, "COUNT", 30)
        made = made_manual(home, as_of=AS_OF)
        sitter = made_manual(home, as_of=AS_OF, edition="sitter").manual
        later = made_manual(home, as_of=AS_OF + timedelta(days=1)).manual
    return (
        pages_of(made.manual), made.workings, pages_of(sitter), pages_of(later)
    )  # fmt: skip


def pages_of(manual):
    return {page.path: page.markdown for page in manual.pages}


def test_every_page_of_power_is_there(demo):
    pages, _, _, _ = demo
    assert {
        "power/tonight.md", "power/winter.md", "power/energy.md", "power/what-if.md",
        "power/battery.md", "power/battery-charging.md", "power/battery-care.md",
        "power/battery-log.md", "power/starter-batteries.md",
    } <= set(pages)  # fmt: skip


def test_simulation_and_meter_of_the_demo_tell_one_story(demo):
    _, workings, _, _ = demo
    power = workings.power
    made = power.ahead.whole["genset_hours"].mean + 12 * power.other_hours
    assert made == pytest.approx(sum(power.log_hours), rel=0.25)


def test_a_december_kilowatt_is_what_such_a_place_gives(demo):
    """About 1.4 kWh a day for each kW, tilted to the winter sun at 49 N under 0.9 kWh/m2."""
    _, workings, _, _ = demo
    row = workings.power.energy.of(12)
    per_kilowatt = row.arrays / sum(power for power, _, _ in workings.power.plant.case.arrays)
    assert 1.1 < per_kilowatt < 1.8


def test_the_winter_page_holds_the_numbers_of_its_chart(demo):
    pages, workings, _, _ = demo
    text = pages["power/winter.md"]
    row = workings.power.ahead.of("genset_hours", 12)
    shown = f"{row.mean + workings.power.other_hours:.0f}"
    assert re.search(rf"\| Dec \| {shown}\s*h \|", text.replace("\u00a0", " "))
    assert "n/(n" in text
    assert "drawings/winter-hours.svg" in text


def test_the_card_is_one_block(demo):
    pages, _, _, _ = demo
    text = pages["power/tonight.md"]
    assert text.count('<div class="card" markdown="1">') == 1
    assert text.count("no run") >= 2
    assert "gal" in text


def test_today_tells_what_to_do_tonight(demo):
    pages, _, _, _ = demo
    assert "## Tonight" in pages["index.md"]


def test_the_cautions_stand_before_the_battery(demo):
    pages, _, _, _ = demo
    for name in ("battery", "battery-care", "battery-log", "starter-batteries"):
        text = pages[f"power/{name}.md"]
        assert text.index("signal danger") < 300


def test_the_log_sheet_has_a_line_for_each_cell(demo):
    pages, _, _, _ = demo
    text = pages["power/battery-log.md"]
    for cell in range(1, 49):
        assert f"| {cell} |" in text


def test_money_is_the_owner_s_alone(demo):
    pages, _, sitter, _ = demo
    assert "USD" in pages["power/what-if.md"]
    assert "power/what-if.md" not in sitter
    assert not any("USD" in text for path, text in sitter.items() if path.startswith("power/"))


def test_a_page_does_not_change_because_a_day_passed(demo):
    pages, _, _, later = demo
    for path, text in later.items():
        if path.startswith("power/") and path != "power/battery-care.md":
            assert text == pages[path], path


def test_a_home_without_a_climate_is_told_what_to_enter(tmp_path):
    start_home(tmp_path / "home")
    pages = {
        page.path: page.markdown
        for page in made_manual(tmp_path / "home", as_of=AS_OF).manual.pages
    }
    text = pages["power/winter.md"]
    assert "climate.yaml with the light by month, the load and the run rule" in text
    assert "an inverter with its charge current from the genset" in text
    assert "power/energy.md" not in pages
    assert "power/tonight.md" not in pages
    assert "## Tonight" not in pages["index.md"]
    assert "Voltage at rest" in pages["power/battery.md"]
