"""A bank of lithium iron phosphate is told as one: no acid, no correction, no charge in frost."""

from datetime import date
from pathlib import Path

import pytest

from steadbook.making import made_manual
from steadbook.pages.faults import chosen_faults, read_faults

ROOT = Path(__file__).parents[2]
AS_OF = date(2026, 3, 1)


@pytest.fixture
def pages(plant_home):
    """Markdown of the pages of a home with a bank of one chemistry, by path."""

    def make(chemistry, floor=", floor: 30 %"):
        home = plant_home()
        home.change("power.yaml", "chemistry: flooded", f"chemistry: {chemistry}")
        home.change("power.yaml", ", floor: 30 %", floor)
        made = made_manual(home.folder, as_of=AS_OF)
        return {page.path: page.markdown.replace("\u00a0", " ") for page in made.manual.pages}

    return make


@pytest.fixture
def lithium(pages):
    """Those of lithium, the floor not entered."""
    return pages("LFP", "")


def test_lithium_is_not_charged_in_frost(lithium):
    care = lithium["power/battery-care.md"]
    assert "| 32 °F (0 °C) or below | **do not charge** | **do not charge** |" in care
    assert "corrects them as below" not in care


def test_lithium_has_no_acid(lithium):
    for name in ("battery", "battery-care", "battery-charging"):
        text = lithium[f"power/{name}.md"].lower()
        for word in ("acid", "hydrogen", "peukert", "plates"):
            assert word not in text, (name, word)
    working = lithium["workings/workings-power.md"].split("capacity to reckon with")[1]
    assert "US Army" not in working.split("\n#")[0]
    assert "short circuit" in lithium["power/battery-care.md"]
    assert "heavy" in lithium["power/battery-care.md"]


def test_the_floor_taken_is_told(lithium, pages):
    assert "10 %" in lithium["power/battery.md"].split("carries the house")[1]
    assert "taken because none is entered" in lithium["power/battery.md"]
    flooded = pages("flooded")["power/battery.md"]
    assert "30 %" in flooded.split("carries the house")[1]
    assert "none is entered" not in flooded
    assert "Peukert" in flooded


def test_only_flooded_banks_are_told_to_equalise(lithium, pages):
    def told(found):
        return found["faults/bank-will-not-charge.md"].split("| No. |")[1].lower()

    assert "equalise" not in told(lithium)
    assert "hydrogen" not in lithium["faults/bank-will-not-charge.md"]
    assert "top up and equalise" in told(pages("flooded"))


@pytest.mark.parametrize("chemistry", ["flooded", "AGM", "gel", "LFP"])
def test_every_variant_ends_in_an_action_or_a_call(chemistry):
    fault = chosen_faults(read_faults([ROOT / "content"]))["bank-will-not-charge"][1]
    variant = fault.of_sorts({chemistry})
    sees = [answer.see for step in variant.steps.values() for _, answer in step.answers()]
    assert ("equalise" in sees) == (chemistry == "flooded")
    for step in variant.steps.values():
        assert all(one.go in variant.steps for _, one in step.answers() if one.go)
