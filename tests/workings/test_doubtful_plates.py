"""A charging voltage, a mix or a pressure that no such machine has is doubted, with its line."""

from pathlib import Path

import pytest

from steadbook.workings.doubtful_plates import doubtful_plates
from steadbook.workings.doubts import doubts

ROOT = Path(__file__).parents[2]


@pytest.fixture
def bank(home):
    """The doubts about the plate of a bank, by key."""

    def told(plate):
        text = f"title: Power\nequipment:\n  bank: {{kind: battery bank, name: B, plate: {{{plate}}}}}\n"
        made = home({"power.yaml": text, "log/2026.yaml": None})
        return {one.key.rsplit(".", 1)[1]: one for one in doubtful_plates(made.read())}

    return told


@pytest.mark.parametrize(
    ("plate", "keys"),
    [
        ("chemistry: LFP, voltage: 24 V, absorption: 57.6 V", {"absorption"}),
        ("chemistry: LFP, voltage: 24 V, absorption: 14.2 V", {"absorption"}),
        ("voltage: 24 V, absorption: 57.6 V", {"absorption"}),  # no chemistry takes it
        # equalising voltage of lead-acid on lithium: 31 V is 3.88 V a cell
        ("chemistry: LFP, voltage: 24 V, absorption: 31 V, float: 27 V", {"absorption"}),
        ("chemistry: flooded, voltage: 48 V, float: 62 V", {"float"}),
        ("chemistry: flooded, voltage: 12 V, equalise: 31.2 V", {"equalise"}),
        ("chemistry: LFP, voltage: 24 V, equalise: 30 V", {"equalise"}),
        ("chemistry: LFP, voltage: 24 V, absorption: 27.2 V, float: 28.0 V", {"float"}),  # exchanged
        ("chemistry: LFP, voltage: 24 V, cells_in_series: 16", {"cells_in_series"}),
        ("chemistry: flooded, voltage: 48 V, cells_in_series: 8", {"cells_in_series"}),
    ],
)  # fmt: skip
def test_a_voltage_of_another_bank_is_doubted(bank, plate, keys):
    found = bank(plate)
    assert set(found) == keys
    assert all(one.warning and one.line for one in found.values())


@pytest.mark.parametrize(
    "plate",
    [
        # Set-points as makers print them, from memory, check: 14.6 V and 13.6 V for four LFP cells;
        # flooded deep-cycle 2.40 to 2.50 V a cell, float 2.20 to 2.25, equalise 2.58 to 2.67;
        # AGM up to 2.45 V, gel 2.35 V.
        "chemistry: LFP, voltage: 12 V, absorption: 14.6 V, float: 13.6 V",
        "chemistry: LFP, voltage: 24 V, cells_in_series: 8, absorption: 28.4 V, float: 27.0 V",
        "chemistry: LFP, voltage: 51.2 V, absorption: 58.4 V, float: 54.0 V",
        "chemistry: LFP, voltage: 48 V, cells_in_series: 15, absorption: 53.2 V",
        "chemistry: flooded, voltage: 48 V, absorption: 59.2 V, float: 52.8 V, equalise: 64 V",
        "chemistry: AGM, voltage: 24 V, absorption: 29.4 V, float: 27.2 V",
        "chemistry: gel, voltage: 12 V, absorption: 14.1 V, float: 13.5 V",
        "voltage: 24 V, absorption: 28.4 V",
        "chemistry: LFP, absorption: 28.4 V",  # nothing to hold it against
    ],
)
def test_what_makers_set_is_not(bank, plate):
    assert bank(plate) == {}


def test_the_range_is_told(bank):
    found = bank("chemistry: LFP, voltage: 24 V, absorption: 57.6 V")["absorption"]
    # 3.45 to 3.50 V a cell are usual, 3.65 the most that makers name: 8 cells, 29.2 V
    assert "57.6 V" in found.found
    assert found.allowed == "from 26.4 to 29.2 V by its maker"


CONTROLLER = """\
title: Power
equipment:
  bank: {{kind: battery bank, name: Bank, plate: {{chemistry: {chemistry}, voltage: {volts}}}}}
  controller:
    kind: {kind}
    name: {name}
    specs:
      {spec}
"""


@pytest.fixture
def charger(home):
    """The doubts about the settings of a charger beside a bank."""

    def told(spec, chemistry="LFP", volts="24 V", kind="other", name="Charge controller"):
        words = {"spec": spec, "chemistry": chemistry, "volts": volts, "kind": kind, "name": name}
        made = home({"power.yaml": CONTROLLER.format(**words), "log/2026.yaml": None})
        return list(doubts_of_plates(made))

    return told


def doubts_of_plates(made):
    return [one for one in doubts(made.read()) if ".specs." in one.key]


@pytest.mark.parametrize(
    ("spec", "other"),
    [
        ("absorption: {voltage: 57.6 V}", {}),  # of 48 V lead-acid
        ("absorption: {voltage: 14.2 V}", {}),
        ("Absorption voltage: {voltage: 28.4 to 31 V}", {}),  # 31 V is 3.88 V a cell
        ("bulk: {voltage: 57.6 V}", {"kind": "inverter"}),
        ("float: {voltage: 29.6 V}", {}),  # above 8 x (3.37 + 0.15) = 28.2 V
        ("equalise: {voltage: 30 V}", {}),
        ("equalize: {voltage: 28 V}", {"chemistry": "AGM"}),
        ("float: {voltage: 62 V}", {"chemistry": "flooded", "volts": "48 V"}),
    ],
)
def test_a_chargers_setting_of_another_bank_is_doubted(charger, spec, other):
    (found,) = charger(spec, **other)
    assert found.warning and found.file.endswith("power.yaml") and found.line == 8
    assert found.key.startswith("equipment.controller.specs.")
    assert found.key.endswith(".voltage")
    assert "which charges a bank of " in found.found and "maker" in found.fix


def test_the_range_of_a_chargers_setting_is_told(charger):
    """8 cells of 3.45 to 3.50 V, makers 0.15 V beside: 26.4 to 29.2 V."""
    (found,) = charger("absorption: {voltage: 57.6 V}")
    assert found.found == (
        "57.6 V as absorption of Charge controller, which charges a bank of 24 V LFP"
    )
    assert found.allowed == "from 26.4 to 29.2 V by its maker"
    (found,) = charger("equalise: {voltage: 30 V}")
    assert found.allowed == "no equalising of such a battery"


@pytest.mark.parametrize(
    ("spec", "other"),
    [
        ("absorption: {voltage: 28.4 V}", {}),
        ("float: {voltage: 27.0 V}", {}),
        ("equalise: {voltage: 62.4 V}", {"chemistry": "flooded", "volts": "48 V"}),
        ("float switch: {voltage: 12 V}", {}),  # of a cistern
        ("absorption: {value: by the app}", {}),
        ("float: {voltage: 13.6 V}", {"name": "Charger of the starting battery"}),
    ],
)
def test_a_chargers_setting_that_fits_is_not(charger, spec, other):
    assert charger(spec, **other) == []


def test_a_second_bank_of_the_system_may_be_the_one_it_charges(home):
    text = CONTROLLER.format(
        spec="absorption: {voltage: 14.4 V}", chemistry="LFP", volts="24 V", kind="other", name="C"
    )
    second = "  van: {kind: battery bank, name: Van, plate: {chemistry: AGM, voltage: 12 V}}\n"
    made = home({"power.yaml": text, "log/2026.yaml": None})
    assert len(doubts_of_plates(made)) == 1
    made = home({"power.yaml": text + second, "log/2026.yaml": None})
    assert doubts_of_plates(made) == []


@pytest.mark.parametrize(
    ("mix", "doubted"), [(2, 1), (12, 1), (16, 0), (50, 0), (100, 0), (500, 1)]
)
def test_a_mix_is_held_against_what_two_strokes_take(home, mix, doubted):
    text = (
        f"title: E\nequipment:\n  saw: {{kind: small engine, name: Saw, plate: {{mix: {mix}}}}}\n"
    )
    assert len(list(doubtful_plates(home({"engines.yaml": text}).read()))) == doubted


@pytest.mark.parametrize(
    ("low", "high", "doubted"),
    [
        ("30 psi", "50 psi", 0),
        ("50 psi", "30 psi", 1),
        ("3 bar", "3 bar", 1),
        ("2 bar", "50 psi", 0),
    ],
)
def test_a_pump_starts_below_where_it_stops(home, low, high, doubted):
    text = (
        "title: Water\nequipment:\n  vessel:\n    kind: pressure tank\n    name: V\n    specs:\n"
        f"      cut-in: {{pressure: {low}}}\n      cut-out: {{pressure: {high}}}\n"
    )
    found = [one for one in doubts(home({"water.yaml": text}).read()) if "cut-out" in one.key]
    assert len(found) == doubted


def test_none_in_demo_and_starter():
    from datetime import date

    from steadbook.inventory import read_inventory

    for folder in ("site_data", "generator/steadbook/starter/site_data"):
        names = {path.stem for path in (ROOT / "content" / "procedures").glob("*.md")}
        made = read_inventory(ROOT / folder, as_of=date(2026, 11, 25), procedures=names)
        assert not list(doubtful_plates(made))
