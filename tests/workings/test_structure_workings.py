"""Snow loads and distances, and the fuel of small engines."""

from datetime import date

import pytest

from steadbook.units import NO_BREAK
from steadbook.workings import work_out

AS_OF = date(2026, 3, 1)
STRUCTURE = """\
title: Structure
equipment:
  roof: {kind: roof, name: Roof, plate: {design_load: 40 psf, tube: 3 in}}
  shed:
    kind: building
    name: Shed
    plate:
      distances:
        Pipe to wood: {measured: 7 in, least: 9 in, source: maker}
        Shed to house: {measured: 12 ft, least: 3 m, source: county}
"""
ENGINES = """\
title: Engines
equipment:
  saw: {kind: small engine, name: Saw, plate: {mix: 50}}
  trimmer: {kind: small engine, name: Trimmer, plate: {mix: 40}}
  blower: {kind: small engine, name: Blower, plate: {fuel: gasoline with ethanol}}
  cans:
    kind: fuel cans
    name: Cans
    plate:
      cans:
        red: {filled: 2025-10-31, volume: 2 gal, fuel: gasoline with ethanol, stabilised: yes}
        mix: {filled: 2026-01-31, volume: 1 gal, fuel: two-stroke mix, mix: 50}
"""
CORE = "measurements:\n  - {date: 2026-02-01, machine: roof, spec: snow depth, value: 20 in}\n"


@pytest.fixture
def house(home):
    def make(log="", *changes):
        files = {"structure.yaml": STRUCTURE, "engines.yaml": ENGINES, "fuel.yaml": None}
        made = home(files | {"log/2026.yaml": log or None})
        for file, old, new in changes:
            made.change(file, old, new)
        return work_out(made.read(), AS_OF).house

    return make


def values(pages):
    return {f.key.split(".", 1)[1]: f.value.replace(NO_BREAK, " ") for f in pages.figures}


def test_snow_by_the_trades_rule(house):
    # water weighs 62.4 lb a cubic foot: snow of 300 kg/m3 weighs 18.7 psf a foot
    rows = dict(house().structure.tables[0].rows)
    foot = rows[next(depth for depth in rows if depth.startswith("12"))]
    assert foot[1].replace(NO_BREAK, " ") == "19 lbf/ft² (0.90 kPa), 47%"
    assert round(62.4 * 0.3, 1) == 18.7


def test_wet_snow_that_fills_the_roof(house):
    # 40 psf / (62.4 * 0.5) = 1.28 ft
    assert values(house().structure)["full"] == "1.3 ft (0.39 m)"


def test_a_core_is_weighed(house):
    log = CORE + "  - {date: 2026-02-01, machine: roof, spec: snow core, value: 1.53 lb}\n"
    # 1.53 lb over 7.07 in2 is 31.2 psf, whatever the depth: 78 % of 40
    assert values(house(log).structure)["snow"] == "31 lbf/ft² (1.5 kPa), 78% of its design load"


def test_without_a_core_of_that_day_the_snow_is_taken_as_wet(house):
    log = CORE + "  - {date: 2026-01-01, machine: roof, spec: snow core, value: 0.5 lb}\n"
    # 500 kg/m3 * 20 in * g = 2.49 kPa = 52 psf
    assert values(house(log).structure)["snow"].startswith("52 lbf/ft²")
    assert values(house(CORE).structure)["snow"] == values(house(log).structure)["snow"]


def test_a_core_heavier_than_ice_is_told_and_not_believed(house):
    log = CORE + "  - {date: 2026-02-01, machine: roof, spec: snow core, value: 15 lb}\n"
    made = house(log).structure
    assert values(made)["snow"].startswith("52 lbf/ft²")
    assert "at most 917, ice" in made.figures[-1].working[0]


def test_a_roof_without_a_design_load_still_has_its_table(house):
    made = house("", ("structure.yaml", "design_load: 40 psf, ", "")).structure
    assert values(made) == {}
    assert made.tables[0].rows[0][1][0].replace(NO_BREAK, " ") == "2.2 lbf/ft² (0.10 kPa)"


def test_a_distance_that_is_short_is_told(house):
    short, kept = house().structure.distances
    assert (short.verdict.replace(NO_BREAK, " "), short.is_short) == ("2 in (51 mm) SHORT", True)
    assert (kept.verdict, kept.is_short) == ("kept", False)  # 12 ft is 3.66 m


def test_oil_for_the_mix_by_the_cans_own_table(house):
    tables = {table.ratio: table for table in house().engines.mixes}
    assert list(tables) == [50, 40]
    assert [machine.id for machine in tables[50].machines] == ["saw"]
    # a US gallon is 128 fl oz: 2.56 at 50 to 1, 3.2 at 40 to 1 (the common label's table)
    oil = {ratio: dict(table.rows) for ratio, table in tables.items()}
    gallon = next(key for key in oil[50] if key.startswith("1 gal") or key.startswith("1\u00a0gal"))
    assert oil[50][gallon].startswith("2.56") and oil[40][gallon].startswith("3.20")


def test_a_metric_home_gets_litres(house):
    made = house("", ("homestead.yaml", "elevation: 3000 ft\n", "elevation: 3000 ft\nunits: metric\n"))  # fmt: skip
    rows = dict(made.engines.mixes[0].rows)
    five = next(value for key, value in rows.items() if key.startswith("5"))
    assert five.startswith("100")  # 5 L at 50 to 1 take 100 mL


def test_a_ratio_the_wrong_way_round_is_told(house):
    made = house("", ("engines.yaml", "name: Saw, plate: {mix: 50}", "name: Saw, plate: {mix: 5}"))
    assert "parts of gasoline to one of oil" in made.engines.mixes[-1].rows[0][1]


def test_cans_are_used_up_by_the_short_end_of_what_is_said(house):
    # common practice: stabilised E10 six months, mix without stabiliser one; month ends kept
    assert values(house().engines) == {"red-use-by": "30 Apr 2026", "mix-use-by": "28 Feb 2026"}
