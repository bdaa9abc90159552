"""What a sitter is told of water that may not be safe, of charge, and of where help must come."""

import re
import shutil
from datetime import date

import pytest

from steadbook.making import made_manual
from steadbook.workings.treatment import is_fine

SOURCE = "CDC and EPA, emergency disinfection of drinking water: 1 min, 3 min above 6,500 ft"
DAY = date(2026, 11, 25)
WATER = """\
title: Water
equipment:
  lamp:
    kind: uv lamp
    name: UV lamp
    plate: {power: 39 W}
    tasks:
      change: {title: Change the lamp, every: 12 months}
      look: {title: Lamp lit, every: 1 day}
"""
POWER = "title: Power\nequipment:\n  genset: {kind: genset, name: Genset, plate: {fuel: diesel}}\n"
LOG = "services:\n  - {date: DONE, machine: lamp, tasks: [change]}\n"


@pytest.fixture
def told(home):
    """Pages of the two editions of a home whose lamp was changed on a day."""

    def told(done):
        place = home({"power.yaml": POWER, "water.yaml": WATER})
        (place.site_data / "fuel.yaml").unlink()
        for log in (place.site_data / "log").glob("*.yaml"):
            log.unlink()
        (place.site_data / "log" / f"{done[:4]}.yaml").write_text(LOG.replace("DONE", done))
        return {
            (edition, one.path): one.markdown
            for edition in ("owner", "sitter")
            for one in made_manual(place.folder, as_of=DAY, edition=edition).manual.pages
        }

    return told


SEEN = [("owner", "index.md"), ("sitter", "index.md"), ("sitter", "round.md")]


def test_water_is_boiled_while_the_lamp_is_past_due(told):
    pages = told("2025-11-08")
    for one in SEEN:
        assert "Do not drink the water as it comes" in pages[one], one
        assert "change the lamp (since 8 Nov 2026)" in pages[one].replace("\u00a0", " ")
        assert "rolling boil for 1 minute, 3 minutes above 6,500 ft (2,000 m)" in pages[one], SOURCE


def test_water_is_not_boiled_for_a_lamp_that_is_good(told):
    pages = told("2026-06-01")
    assert not [one for one in SEEN if "Do not drink" in pages[one]]


@pytest.mark.parametrize(
    ("rating", "fine"),
    [
        ("0.5 micron", True),
        ("1 micron absolute", True),
        ("1.04 micron", False),
        ("5 micron", False),
        (None, False),
    ],
)
def test_a_filter_that_holds_back_cysts_makes_water_safe(rating, fine):
    assert is_fine(rating) is fine


def test_the_place_is_told_as_numbers(told):
    assert re.search(
        r"Tell them:.*\d° [NS], [\d.]+° [EW]", told("2026-06-01")["sitter", "index.md"]
    )


@pytest.fixture(scope="module")
def demo(tmp_path_factory, request):
    place = tmp_path_factory.mktemp("demo")
    root = request.config.rootpath
    shutil.copytree(root / "site_data", place / "site_data")
    shutil.copy(root / "mkdocs.yml", place / "mkdocs.yml")
    pages = made_manual(place, as_of=DAY, edition="sitter").manual.pages
    return {one.path: one.markdown.replace("\u00a0", " ") for one in pages}


def test_the_sitter_reads_when_the_genset_starts_in_quiet_hours_and_for_how_long(demo):
    page = demo["round.md"]
    assert "in the quiet hours (21:00 to 6:00) only below 48 %" in page
    assert "at the Inverter-charger, Power room, barn" in page  # not in the battery room
    assert re.search(r"\| 50 % \| \*\*run [^|]*stop at \d+ %", page)


def test_a_usual_winter_brings_no_call(demo):
    (row,) = [line for line in demo["round.md"].splitlines() if "North tank, gauge" in line]
    call = row.split("|")[3]
    assert "below 40 %" not in call and "at once below 20 %" in call


def test_each_daily_job_has_a_box_a_day(demo):
    (row,) = [line for line in demo["round.md"].splitlines() if "Lamp lit, no alarm" in line]
    assert row.count("tick") == 7


def test_the_breaker_of_each_pump_stands_beside_no_water(demo):
    (row,) = [line for line in demo["index.md"].splitlines() if line.startswith("| No water")]
    assert "Breaker 9" in row and "Breaker 11" in row
