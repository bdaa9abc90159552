"""What feeds what: every slip an error with its line."""

import pytest

from steadbook.figures.tank import filling_density
from steadbook.units import parse

TANK = "    plate: {contents: propane, capacity: 500 gal, reserve: 20 %}\n"
GENSET = "    plate: {power: 8 kW}\n"


@pytest.mark.parametrize(
    ("line", "found", "fix"),
    [
        ("feeds: [gennset]", "'gennset', which is no genset and no load", "did you mean 'genset'?"),
        ("feeds: [tank]", "'tank', which is no genset and no load", "name a machine that burns fuel"),
        ("supplier: part-shop", "the supplier 'part-shop', which does not exist", "did you mean 'parts-shop'?"),
        ("lines: {a: {length: 20 ft, pipe: 3/4, feeds: [stove]}}", "'stove', which is no genset and no load", "name a machine that burns fuel"),
    ],
)  # fmt: skip
def test_a_tank_names_what_there_is(home, line, found, fix):
    made = home().change("fuel.yaml", TANK, f"{TANK}    {line}\n")
    problem = made.problem()
    assert (problem.found, problem.fix) == (found, fix)
    assert problem.line == made.line("fuel.yaml", line.split(":")[0])


def test_a_manifold_has_one_tank_or_more(home):
    made = home().change("fuel.yaml", "capacity: 500 gal,", "capacity: 500 gal, count: 0,")
    assert made.problem().allowed == "1 or more"


@pytest.mark.parametrize(("charge", "water"), [
    # A full 20 lb cylinder is stamped WC 47.6 lb, a 45 kg one about 108 L: common practice, no source
    ("20 lb", 47.6 * 0.45359237),
    ("45 kg", 108.0),
    ("100 lb", 239.0 * 0.45359237),
], ids=str)  # fmt: skip
def test_a_propane_cylinder_may_be_told_by_its_full_charge(home, charge, water):
    made = home().change("fuel.yaml", "capacity: 500 gal,", f"capacity: {charge},")
    size = made.read().machines["tank"].plate.capacity
    assert size.to("L") == pytest.approx(water, rel=0.02)
    assert (size.kind, size.text) == ("volume", charge)
    # the same rule the other way about: its filling density times its water is the charge
    share = filling_density(size.to("L")) / 100
    assert share * size.to("L") == pytest.approx(parse(charge, "mass").to("kg"), rel=0.02)


def test_any_other_tank_is_told_by_volume(home):
    made = home().change(
        "fuel.yaml", "contents: propane, capacity: 500 gal,", "contents: diesel, capacity: 45 kg,"
    )
    problem = made.problem()
    assert (problem.found, problem.allowed) == ("45 kg, a weight", "how much it holds by volume")
    assert problem.line == made.line("fuel.yaml", "capacity: 45 kg")
    ounces = "contents: gasoline, capacity: 500 oz,"  # of a liquid: they are no weight
    home().change("fuel.yaml", "contents: propane, capacity: 500 gal,", ounces).read()
    made = home().change("fuel.yaml", "capacity: 500 gal,", "capacity: 45 to 47 kg,")
    assert "a volume with its unit" in made.problem().allowed


def test_a_machine_is_fed_by_a_tank(home):
    made = home().change("power.yaml", GENSET, f"{GENSET}    fed_by: tnak\n")
    problem = made.problem()
    assert problem.found == "the tank 'tnak', which does not exist"
    assert problem.fix == "did you mean 'tank'?"


@pytest.mark.parametrize("side", ["tank", "genset"])
def test_a_genset_is_fed_its_own_fuel(home, side):
    made = home().change("power.yaml", GENSET, "    plate: {power: 8 kW, fuel: gasoline}\n")
    if side == "tank":
        made.change("fuel.yaml", TANK, f"{TANK}    feeds: [genset]\n")
    else:
        made.change("power.yaml", "    kind: genset\n", "    kind: genset\n    fed_by: tank\n")
    assert made.problem().found == "a genset for gasoline on a tank of propane"


def test_two_tanks_do_not_feed_one_machine(home):
    made = home().change("fuel.yaml", TANK, f"{TANK}    feeds: [genset]\n  other:\n    kind: tank\n    name: Other\n")  # fmt: skip
    made.change("power.yaml", GENSET, f"{GENSET}    fed_by: other\n")
    assert made.problem().found == "'genset', which says itself that 'other' feeds it"


@pytest.mark.parametrize("full", ["0.7 gal/h", "1.9 gal/h"])
def test_two_points_of_fuel_no_engine_has_are_doubted(home, full):
    plate = (
        f"    plate: {{power: 8 kW, fuel_at_half_load: 0.88 gal/h, fuel_at_full_load: {full}}}\n"
    )
    (warning,) = home().change("power.yaml", GENSET, plate).read().warnings
    assert warning.found == f"{full} at full load, 0.88 gal/h at half"
    assert warning.key.endswith("plate.fuel_at_full_load")


def test_a_heat_loss_needs_the_coldest_temperature(home):
    heat = (
        "title: Heat\nequipment:\n  heater:\n    kind: load\n    name: Heater\n"
        "    heating: {loss: 18000 Btu/h, efficiency: 80 %}\n"
    )
    assert home({"heat.yaml": heat}).problem().allowed == "`coldest:` in homestead.yaml"


@pytest.mark.parametrize(
    ("file", "old", "new", "key", "found"),
    [
        ("homestead.yaml", "elevation: 3000 ft", "elevation: 25000 ft", "elevation", "25000 ft"),
        ("homestead.yaml", "people:", "coldest: -99 degF\npeople:", "coldest", "-99 degF"),
        ("homestead.yaml", "people:", "hottest: 92 degC\npeople:", "hottest", "92 degC"),
        ("log/2026.yaml", "level: 60 %", "level: 60 %, temperature: 300 degF", "temperature", "300 degF"),
    ],
)  # fmt: skip
def test_what_no_homestead_has_is_refused(home, file, old, new, key, found):
    problem = home().change(file, old, new).problem()
    assert (problem.key.split(".")[-1], problem.found) == (key, found)


@pytest.mark.parametrize("key", ["typical_load", "house_load"])
def test_a_genset_carries_no_more_than_its_power(home, key):
    made = home().change("power.yaml", GENSET, f"{GENSET}    {key}: 47 kW\n")
    assert made.problem().found == "47 kW, more than its power of 8 kW"


HEATER = """\
title: Heat
equipment:
  heater:
    kind: load
    name: Heater
    plate: {input: 22000 Btu/h}
    use:
      - {hours: 3 h}
"""


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        ("{hours: 3 h}", "{hours: 30 h}", "30 h"),
        ("    plate: {input: 22000 Btu/h}\n", "", "hours of use, and no `input:` on its plate"),
    ],
)
def test_hours_of_use_are_those_of_a_day_and_of_a_rate(home, old, new, found):
    assert home({"heat.yaml": HEATER.replace(old, new)}).problem().found == found


@pytest.mark.parametrize(
    ("old", "new", "allowed"),
    [
        ("20 ft", "0 ft", "more than 0"),
        ("feeds: [genset]", "feeds: [genset], drop: 2 psi", "above 0, below 1.5 psi"),
    ],
)
def test_a_gas_line_is_a_low_pressure_one(home, old, new, allowed):
    line = "    lines: {a: {length: 20 ft, pipe: 3/4, feeds: [genset]}}\n".replace(old, new)
    assert home().change("fuel.yaml", TANK, TANK + line).problem().allowed == allowed


def test_errors_of_the_place_bring_no_others(home):
    heat = HEATER.replace("    use:", "    heating: {loss: 9000 Btu/h, efficiency: 80 %}\n    use:")
    made = home({"heat.yaml": heat}).change(
        "homestead.yaml", "elevation: 3000 ft", "elevation: high"
    )
    assert made.problem().found == "high"
