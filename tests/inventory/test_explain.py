"""What a field refuses is told with file, line, key, what was found, what is allowed, the fix."""

import pytest

from steadbook.errors import Problem
from steadbook.inventory.explain import dotted, listing, nearest

POWER = "site_data/power.yaml"


def test_the_small_home_is_good(home):
    inventory = home().read()
    assert list(inventory.machines) == ["tank", "genset"]
    assert inventory.warnings == ()


def test_a_torque_without_its_unit_with_its_whole_message(home):
    changed = home().change("power.yaml", "26 lbf*ft", "26")
    problem = changed.problem()
    line = changed.line("power.yaml", "drain plug:")
    assert str(problem) == (
        f"site_data/power.yaml:{line}: equipment.genset.specs.drain plug.torque\n"
        "  found:   26\n"
        "  allowed: a torque with its unit, such as 26 lbf*ft or 35 N*m\n"
        f"  fix:     {problem.fix}"
    )
    assert "write" in problem.fix and "unit" in problem.fix


CASES = [
    # file, old, new, words on the line, key, found, allowed, fix
    ("power.yaml", "26 lbf*ft", "26 mm", "drain plug:",
     "equipment.genset.specs.drain plug.torque", "26 mm", "a torque with its unit", "torque"),
    ("power.yaml", "power: 8 kW", "powr: 8 kW", "powr",
     "equipment.genset.plate.powr", "the unknown key 'powr'", "cooling, cylinders",
     "did you mean 'power'?"),
    ("power.yaml", "power: 8 kW", "zzz: 8 kW", "zzz",
     "equipment.genset.plate.zzz", "the unknown key 'zzz'", "cooling, cylinders",
     "correct or remove the key; free words go under `notes:`"),
    ("power.yaml", "kind: genset", "kind: gensett", "kind:",
     "equipment.genset.kind", "gensett", "genset, battery bank, inverter, array, tank, load, other",
     "did you mean 'genset'?"),
    ("power.yaml", "kind: genset", "kind: [genset]", "kind:",
     "equipment.genset.kind", "a list", "genset, battery bank", "What is none of them is `kind: other`"),
    ("power.yaml", "    kind: genset\n", "", "  genset:",
     "equipment.genset", "no `kind:`", "the key 'kind' is needed here",
     "add `kind:`, such as `kind: genset`"),
    ("power.yaml", "    name: Genset\n", "", "  genset:",
     "equipment.genset.name", "nothing", "the key 'name' is needed here",
     "add `name:` with its value"),
    ("power.yaml", "name: Genset", "name: {a: b}", "name: {a: b}",
     "equipment.genset.name", "a group of keys", "a text", "write the text on the same line"),
    ("power.yaml", "name: Genset", "name:", "    name:",
     "equipment.genset.name", "nothing", "a text", "write the text on the same line"),
    ("power.yaml", "covers: [oil-change]", "covers: oil-change", "covers",
     "equipment.genset.tasks.annual-service.covers", "oil-change", "a list",
     "write [oil-change]"),
    ("power.yaml", "plate: {power: 8 kW}", "plate: 8 kW", "plate",
     "equipment.genset.plate", "8 kW", "a group of keys",
     "write `key: value` lines indented under it"),
    ("power.yaml", "  genset:", "  Gen_Set:", "Gen_Set",
     "equipment.Gen_Set", "Gen_Set", "a name of small letters, digits and single hyphens",
     "rename it; the name is used to refer to it and as a file name"),
    ("power.yaml", "installed: 2024-01-01", "installed: 2026-02-30", "installed:",
     "equipment.genset.installed", "2026-02-30", "a date of the calendar",
     "that day does not exist; check day and month"),
    ("power.yaml", "installed: 2024-01-01", "installed: 3/1/2024", "installed:",
     "equipment.genset.installed", "3/1/2024", "a date such as 2026-03-01",
     "write year-month-day with two digits each"),
    ("power.yaml", "installed: 2024-01-01", "installed: 15.11.2023", "installed:",
     "equipment.genset.installed", "15.11.2023", "a date such as 2026-03-01",
     "write 2023-11-15"),
    ("power.yaml", "installed: 2024-01-01", "installed: 11/15/2023", "installed:",
     "equipment.genset.installed", "11/15/2023", "a date such as 2026-03-01",
     "write 2023-11-15"),
    ("power.yaml", "installed: 2024-01-01", "installed: 2018", "installed:",
     "equipment.genset.installed", "2018", "a date such as 2026-03-01",
     "write 2018-01-01 where only the year is known, and say so in `notes:`"),
    ("power.yaml", "installed: 2024-01-01", "installed: 2018-05", "installed:",
     "equipment.genset.installed", "2018-05", "a date such as 2026-03-01",
     "write 2018-05-01 where only the month is known, and say so in `notes:`"),
    ("power.yaml", "every: 12 months", "every: 12", "every: 12",
     "equipment.genset.tasks.annual-service.every", "12",
     "running hours, calendar time or both", "write h for running hours, or months"),
    ("power.yaml", "every: 12 months", "every: 1.5 years", "every: 1.5",
     "equipment.genset.tasks.annual-service.every", "1.5 years", "running hours, calendar time",
     "write whole numbers: 18 months, not 1.5 years"),
    ("power.yaml", "every: 12 months", "every: 12 months\n        season: Octember to May",
     "season", "equipment.genset.tasks.annual-service.season", "Octember",
     "a day of the year such as 15 October", "write the day, then the month's name"),
    ("power.yaml", "every: 12 months", "every: 12 months\n        season: 31 April to 1 May",
     "season", "equipment.genset.tasks.annual-service.season", "31 April",
     "a day of the year such as 15 October", "write the day, then the month's name"),
    ("power.yaml", "oil-filter: 1", "oil-filter: 1-2 qt", "parts:",
     "equipment.genset.tasks.oil-change.parts.oil-filter", "1-2 qt",
     "one amount, such as 2 or 3.2 qt", "write the larger of the two"),
    ("power.yaml", "oil-filter: 1", "oil-filter: one", "parts:",
     "equipment.genset.tasks.oil-change.parts.oil-filter", "one", "a volume",
     "write a number and a unit"),
    ("homestead.yaml", "latitude: 45.0", "latitude: 95", "latitude",
     "latitude", "95", "degrees north, from -90 to 90", "correct the number"),
    ("homestead.yaml", "latitude: 45.0", "latitude:", "latitude",
     "latitude", "nothing", "a number such as 44.21", "write digits and a point"),
    ("homestead.yaml", "longitude: -110.0", "longitude: 250", "longitude",
     "longitude", "250", "degrees east, from -180 to 180", "correct the number"),
    ("homestead.yaml", "elevation: 3000 ft", "elevation: 3000 ft\nunits: imperial", "units",
     "units", "imperial", "us, metric", "use one of these words"),
    ("homestead.yaml", "elevation: 3000 ft", "elevation: 3000 ft\nvisit_days: few", "visit_days",
     "visit_days", "few", "a whole number such as 4", "write digits only"),
    ("log/2026.yaml", "level: 60 %", "level: 60", "levels", "levels[1].level", "60",
     "a percentage with its unit, such as 60 %", "write the unit after the number"),
    ("log/2026.yaml", "level: 60 %", "level: 160 %", "levels", "levels[1].level", "160 %",
     "a level from 0 to 100 %, such as 60 %", "write what the gauge shows"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("file", "old", "new", "words", "key", "found", "allowed", "fix"),
    CASES,
    ids=[f"{case[0]}:{case[2][:24]}" for case in CASES],
)
def test_one_thing_wrong(home, file, old, new, words, key, found, allowed, fix):
    changed = home().change(file, old, new)
    problem = changed.problem()
    line = changed.line(file, words) + (words == "levels")
    assert (problem.file, problem.line, problem.key) == (f"site_data/{file}", line, key)
    assert problem.found.startswith(found)
    assert problem.allowed.startswith(allowed)
    assert fix in problem.fix
    assert problem.found and problem.allowed and problem.fix


PLATE = "plate: {power: 8 kW}"
BRACES = [
    # file, old, new, key, found, allowed, fix
    ("power.yaml", PLATE, "plate: {power: 8,000 W}", "plate.power",
     "8,000 W, cut at its comma", "numbers without a comma inside {braces}", "write 8000 W"),
    ("power.yaml", PLATE, "plate: {power: 8,5 kW}", "plate.power",
     "8,5 kW, cut at its comma", "numbers without a comma inside {braces}", "write 8.5 kW"),
    ("power.yaml", PLATE, "plate: {speed: 3,600 rpm, power: 8 kW}", "plate.speed",
     "3,600 rpm, cut at its comma", "numbers without a comma inside {braces}", "write 3600 rpm"),
    ("power.yaml", "{torque: 26 lbf*ft}", "{torque: 26 lbf*ft, pressure: 1,200 to 1,300 psi}",
     "specs.drain plug.pressure", "1,200 to 1,300 psi, cut at its comma",
     "numbers without a comma inside {braces}", "write 1200 to 1300 psi"),
    ("power.yaml", "{torque: 26 lbf*ft}", "{torque: 26 lbf*ft, notes: Steel plug, in aluminum}",
     "specs.drain plug.notes", "Steel plug, in aluminum, cut at its comma",
     "text with a comma inside {braces} in quotation marks", 'write "Steel plug, in aluminum"'),
    ("power.yaml", "engine-oil: 2.5 qt}", "engine-oil: 2,5 qt}",
     "tasks.oil-change.parts.engine-oil", "2,5 qt, cut at its comma",
     "numbers without a comma inside {braces}", "write 2.5 qt"),
    ("power.yaml", PLATE, "plate: {power:8 kW}", "plate.power:8 kW",
     "power:8 kW, without a blank after the colon", "`key: value`", "write power: 8 kW"),
    ("power.yaml", "{oil-filter: 1,", "{oil-filter:1,", "tasks.oil-change.parts.oil-filter:1",
     "oil-filter:1, without a blank after the colon", "`key: value`", "write oil-filter: 1"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("file", "old", "new", "key", "found", "allowed", "fix"),
    BRACES,
    ids=[case[2] for case in BRACES],
)
def test_a_slip_inside_braces_is_one_message(home, file, old, new, key, found, allowed, fix):
    changed = home().change(file, old, new)
    line = changed.line(file, new)
    assert changed.problem() == Problem(
        f"site_data/{file}", line, f"equipment.genset.{key}", found, allowed, fix
    )


def test_a_key_that_seems_to_be_missing_is_the_one_without_a_blank(home):
    changed = home().change(
        "log/2026.yaml", "{date: 2026-01-01, machine", "{date:2026-01-01, machine"
    )
    assert changed.problem().fix == "write date: 2026-01-01"


def test_other_slips_beside_one_in_braces_are_still_told(home):
    changed = home().change("power.yaml", PLATE, "plate: {power: 8,000 W, sped: 1800 rpm}")
    assert [one.key.removeprefix("equipment.genset.") for one in changed.problems()] == [
        "plate.power",
        "plate.sped",
    ]


def test_a_name_without_its_amount_is_no_slip_of_a_comma(home):
    changed = home().change(
        "power.yaml", "{oil-filter: 1, engine-oil: 2.5 qt}", "{oil-filter: 1, engine-oil}"
    )
    assert changed.problem().key.endswith("parts.engine-oil")


def test_the_nearest_word_keeps_its_capitals():
    assert nearest("agn", ["flooded", "AGM"]) == "did you mean 'AGM'?"
    assert nearest("xxxx", ["flooded", "AGM"]) == ""


def test_a_long_list_is_cut():
    assert listing(str(n) for n in range(20)).endswith("13 and 6 more")
    assert listing([]) == "nothing yet"


def test_items_are_counted_from_one():
    assert dotted(("services", 0, "parts", "oil-filter")) == "services[1].parts.oil-filter"


def test_all_problems_of_all_files_sorted_and_counted(home):
    changed = home({"water.yaml": "a: 1\na: 2\n", "heat.yaml": "", "fuel.yml": "title: Fuel\n"})
    changed.change("power.yaml", "26 lbf*ft", "26")
    changed.change("power.yaml", "power: 8 kW", "powr: 8 kW")
    changed.change("log/2026.yaml", "hours: 100 h", "hours: 100")
    changed.change("parts.yaml", "on_hand: 1,", "on_hand: x,")
    found = changed.problems()
    places = [(one.file, one.line) for one in found]
    assert places == sorted(places)
    assert [one.file.removeprefix("site_data/") for one in found] == [
        "fuel.yml", "heat.yaml", "log/2026.yaml", "parts.yaml", "power.yaml", "power.yaml",
        "water.yaml", "water.yaml", "water.yaml", "water.yaml",
    ]  # fmt: skip


def test_the_count_at_the_end(home):
    from steadbook.errors import InventoryErrors

    one = Problem("a.yaml", 1, "k", "f", "a", "x")
    assert str(InventoryErrors([one])).endswith("\n\n1 problem found")
    assert str(InventoryErrors([one, one])).endswith("\n\n2 problems found")


@pytest.mark.parametrize(
    ("written", "first"),
    [
        ("propane tank", "tank"),
        ("taank", "tank"),
        ("cistern", "tank"),
        ("battery", "battery bank"),
        ("solar panel", "array"),
        ("charge controller", "other"),
        ("chainsaw", "small engine"),
        ("pump", "well pump"),
    ],
)
def test_an_unknown_kind_names_the_nearest_first_and_leaves_none_out(home, written, first):
    text = f"title: Fuel\nequipment:\n  thing: {{kind: {written}, name: Thing}}\n"
    found = home({"fuel.yaml": text}).problem()
    kinds = found.allowed.split(", ")
    assert (found.file[-9:], found.line, found.found) == ("fuel.yaml", 3, written)
    assert kinds[0] == first and {"tank", "other", "genset", "fuel cans"} <= set(kinds)
    assert len(kinds) == len(set(kinds)) == 26  # as many as there are kinds of machine
    assert f"did you mean {first!r}?" in found.fix and "`kind: other`" in found.fix


def test_a_kind_like_none_is_told_of_other(home):
    text = "title: Fuel\nequipment:\n  thing: {kind: zzz, name: Thing}\n"
    found = home({"fuel.yaml": text}).problem()
    assert found.fix.startswith("What is none of them is `kind: other`")


@pytest.mark.parametrize(
    ("system", "examples"),
    [("us", "26 lbf*ft or 35 N*m"), ("metric", "35 N*m or 26 lbf*ft")],
)
def test_a_home_is_shown_its_own_units_first(home, system, examples):
    changed = home().change("power.yaml", "26 lbf*ft", "26")
    changed.change("homestead.yaml", "name: Test place\n", f"name: Test place\nunits: {system}\n")
    assert changed.problem().allowed == f"a torque with its unit, such as {examples}"


def test_kilowatts_stay_before_horsepower_in_a_metric_home(home):
    changed = home().change("power.yaml", "plate: {power: 8 kW}", "plate: {power: 8}")
    changed.change("homestead.yaml", "name: Test place\n", "name: Test place\nunits: metric\n")
    assert changed.problem().allowed.endswith("such as 7.5 kW or 10 hp")
