"""The kinds of equipment of a house: what their plates take, and what they refuse."""

import pytest

WATER = """\
title: Water
equipment:
  well-pump:
    kind: well pump
    name: Well pump
    plate: {shaft_power: 1 hp, code_letter: K, casing: 6 in, well_depth: 265 ft, flow: 8 gpm}
"""
SAFETY = """\
title: Safety
equipment:
  smoke-alarms:
    kind: alarms
    name: Smoke alarms
    plate:
      senses: smoke
      units:
        loft: {place: Loft, made: 2021-09-01, life: 10 years}
  roof:
    kind: roof
    name: Roof
    plate: {design_load: 55 psf, slope: 27 deg}
"""


def test_a_well_is_read_with_its_units(home):
    plate = home({"water.yaml": WATER}).read().machines["well-pump"].plate
    assert plate.shaft_power.to("kW") == pytest.approx(0.7457, abs=5e-5)
    assert plate.flow.to("gal/min") == 8
    assert plate.code_letter == "K"


def test_alarms_carry_the_dates_of_each(home):
    machines = home({"safety.yaml": SAFETY}).read().machines
    unit = machines["smoke-alarms"].plate.units["loft"]
    assert (unit.made.isoformat(), unit.life.months) == ("2021-09-01", 120)


def test_a_snow_load_is_read_in_pounds_a_square_foot(home):
    load = home({"safety.yaml": SAFETY}).read().machines["roof"].plate.design_load
    # NIST SP 811, appendix B: 1 lbf/ft2 = 47.88026 Pa
    assert load.to("kPa") == pytest.approx(55 * 0.04788026, rel=1e-6)


@pytest.mark.parametrize(
    ("old", "new", "found", "allowed"),
    [
        ("casing: 6 in", "casing: 6", "6", "a length with its unit"),
        ("casing: 6 in", "bore: 6 in", "the unknown key 'bore'", "casing"),
        ("code_letter: K", "code_letter: I", "I", "A, B, C"),
        ("flow: 8 gpm", "flow: 8 gal", "8 gal", "a flow with its unit"),
    ],
)
def test_a_wrong_plate_is_told_with_its_line(home, old, new, found, allowed):
    wrong = home({"water.yaml": WATER}).change("water.yaml", old, new)
    problem = wrong.problem()
    assert (problem.file, problem.line) == ("site_data/water.yaml", wrong.line("water.yaml", new))
    assert found in problem.found and allowed in problem.allowed


def test_alarms_say_what_they_sense(home):
    wrong = home({"safety.yaml": SAFETY.replace("      senses: smoke\n", "")})
    assert wrong.problem().allowed == "the key 'senses' is needed here"
