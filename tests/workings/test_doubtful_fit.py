"""Tasks, hazards and instructions of another machine are doubted, with their line."""

from pathlib import Path

import pytest

from steadbook.inventory import read_inventory
from steadbook.starting import start_home
from steadbook.workings.doubtful_fit import doubtful_fit

ROOT = Path(__file__).parents[2]
HEAD = "title: Power\nequipment:\n"


@pytest.fixture
def told(home):
    """The doubts about one machine, by key."""

    def of(machine):
        made = home({"power.yaml": f"{HEAD}  one: {{{machine}}}\n", "log/2026.yaml": None})
        found = list(doubtful_fit(made.read()))
        assert all(one.warning and one.line == 3 for one in found)
        return {one.key.removeprefix("equipment.one."): one for one in found}

    return of


WATER = (
    "tasks: {a: {title: Top up the cells, every: 2 months}, b: {title: Wipe it, every: 1 month}}"
)


@pytest.mark.parametrize("chemistry", ["AGM", "gel", "LFP"])
def test_sealed_cells_are_not_opened(told, chemistry):
    found = told(f"kind: battery bank, name: B, plate: {{chemistry: {chemistry}}}, {WATER}")
    assert list(found) == ["tasks.a"]
    assert "never opened" in found["tasks.a"].fix


def test_flooded_cells_are_opened_and_nothing_is_said_where_the_kind_is_not_known(told):
    assert not told(f"kind: battery bank, name: B, plate: {{chemistry: flooded}}, {WATER}")
    assert not told(f"kind: battery bank, name: B, {WATER}")


GAS = (
    "kind: genset, name: G, hazards: [carbon monoxide, fuel gas], how_to_start: [Open the gas cock], "
    "how_to_stop: Switch to OFF and close the gas valve, plate: {{fuel: {}}}"
)


@pytest.mark.parametrize("fuel", ["gasoline", "diesel"])
def test_no_gas_at_an_engine_that_burns_none(told, fuel):
    found = told(GAS.format(fuel))
    assert list(found) == ["hazards[2]", "how_to_start", "how_to_stop"]
    assert "gas valve" in found["how_to_stop"].found
    assert fuel in found["how_to_start"].found


def test_gas_at_an_engine_that_burns_it(told):
    assert not told(GAS.format("propane"))
    gasoline = "kind: genset, name: G, hazards: [gasoline], how_to_stop: Gasoline valve shut"
    assert not told(f"{gasoline}, plate: {{fuel: gasoline}}")


def test_neither_the_demo_nor_a_new_home_is_doubted(tmp_path):
    start_home(tmp_path / "new")
    for place in (ROOT, tmp_path / "new"):
        assert not list(doubtful_fit(read_inventory(place / "site_data")))
