"""The examples that `steadbook add` leaves: in the home's units, of a size that such a machine has."""

import re
from datetime import date

import pytest

from steadbook.adding import KIND_OF, add_equipment, plate_lines, starters
from steadbook.inventory import read_inventory
from steadbook.plate_examples import KINDS, STARTERS
from steadbook.workings.doubts import doubts

DAY = date(2026, 11, 25)
PLACE = "name: Here\nwhere: There\nlatitude: 45\nlongitude: 10\nelevation: 900 m\nunits: {}\n"
US_ONLY = r"\d (gal|ft|in|lb|psi|psf|hp|fl oz|ft3|in3|inH2O|gal/h|gal/min|Btu/h|degF)\b"
METRIC_ONLY = r"\d (L|m|mm|cm|kg|bar|kPa|cm3|L/h|L/min|°C)( |,|}|$)"


def example_values(starter, prefer):
    """`key: value` of each example, without the words behind it."""
    return [re.sub(r"\s+# .*", "", line.lstrip("# ")) for line in plate_lines(starter, prefer)]


@pytest.fixture
def home(tmp_path):
    def made(prefer):
        (tmp_path / "site_data").mkdir()
        (tmp_path / "site_data" / "homestead.yaml").write_text(PLACE.format(prefer))
        return tmp_path

    return made


@pytest.mark.parametrize("prefer", ["us", "metric"])
@pytest.mark.parametrize("name", starters())
def test_the_examples_taken_as_they_are_make_a_machine_without_a_doubt(home, name, prefer):
    place = home(prefer)
    path = place / added(place, name)
    text = re.sub(r"(?m)^    #   (\w+:)", r"      \1", path.read_text())  # keys of the plate
    text = re.sub(r"(?m)^    # plate:", "    plate:", text)
    assert not re.search(r"(?m)^ *#   \w", text)
    path.write_text(text)
    made = read_inventory(place / "site_data", as_of=DAY)
    keys = {one.key.rsplit(".", 1)[-1] for one in doubts(made)}
    assert not keys & {"absorption", "float", "equalise", "cells_in_series", "mix"}
    plate = getattr(made.machines["new-one"], "plate", None)
    assert plate is not None


def added(place, name):
    return add_equipment(place, name, None, DAY, name="new-one").file


@pytest.mark.parametrize("name", starters())
def test_the_examples_are_in_the_units_of_the_home(name):
    starter = starters()[name]
    assert not [one for one in example_values(starter, "metric") if re.search(US_ONLY, one)]
    assert not [one for one in example_values(starter, "us") if re.search(METRIC_ONLY, one)]


def test_a_metric_home_gets_metric_examples(home):
    place = home("metric")
    text = (place / added(place, "chainsaw")).read_text()
    assert "tank: 0.5 L" in text
    assert "mix: 50" in text
    assert "500 gal" not in text


def test_no_example_stands_for_a_key_or_kind_that_is_not_there():
    kinds = {KIND_OF.get(name, "other") for name in starters()}
    assert set(KINDS) <= kinds
    assert set(STARTERS) <= set(starters())
    for starter in starters().values():
        wanted = KINDS.get(starter.kind, {}) | STARTERS.get(starter.name, {})
        shown = {one.split(":")[0].strip() for one in example_values(starter, "us")}
        assert {key for key, value in wanted.items() if value} <= shown, starter.name
