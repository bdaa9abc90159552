"""Wells, tanks, lamps and lines on the way from the inventory to their pages."""

from datetime import date
from pathlib import Path

import pytest
from pytest import approx

from steadbook.inventory import read_inventory
from steadbook.making import made_manual
from steadbook.units import NO_BREAK
from steadbook.workings import work_out

DEMO = Path(__file__).parents[2] / "site_data"
AS_OF = date(2026, 3, 1)
MEANS = "month_means:\n" + "".join(
    f"  {month}: {mean} degC\n"
    for month, mean in zip(
        ["January", "February", "March", "April", "May", "June", "July", "August", "September",
         "October", "November", "December"],
        [-10, -8, 0, 5, 10, 14, 17, 16, 12, 5, -2, -9], strict=True,
    )
)  # fmt: skip

WATER = """\
title: Water
equipment:
  well:
    kind: well pump
    name: Well
    plate: {power: 1.4 kW, flow: 13 gpm, shaft_power: 1 hp, code_letter: K, casing: 6 in, well_depth: 265 ft, pumping_level: 139 ft, lift: 42 ft}
    specs: {static water level: {length: 118 ft}}
  tank:
    kind: pressure tank
    name: Tank
    plate: {capacity: 44 gal, pump_flow: 8 gpm}
    specs: {cut-in: {pressure: 30 psi}, cut-out: {pressure: 50 psi}}
  cistern:
    kind: tank
    name: Cistern
    plate: {contents: water, capacity: 1500 gal, reserve: 20 %, daily_use: 150 gal}
  lamp:
    kind: uv lamp
    name: Lamp
    installed: 2025-06-01
  filter:
    kind: water filter
    name: Filter
    installed: 2026-01-01
    plate: {rated_volume: 3000 gal, daily_use: 100 gal}
  line:
    kind: water line
    name: Line
    plate: {fall: 60 ft, length: 480 ft, bore: 1.06 in, outside: 1.32 in, pipe: plastic, insulation: 1 in, exposed: 18 ft, heat_tape: tape, buried: 5 ft, soil: silt or clay, surface: turf}
  tape: {kind: load, name: Tape, plate: {power: 120 W}}
"""
LOG = "levels:\n  - {date: 2026-02-01, tank: cistern, level: 60 %}\n"


@pytest.fixture
def figures(home):
    def make(*changes):
        made = home({"water.yaml": WATER, "fuel.yaml": None, "log/2026.yaml": LOG})
        made.change("homestead.yaml", "elevation: 3000 ft\n", f"elevation: 3770 ft\ncoldest: -20 degF\n{MEANS}")  # fmt: skip
        for file, old, new in changes:
            made.change(file, old, new)
        found = work_out(made.read(), AS_OF).house.water
        return {figure.key: figure for figure in found.figures}

    return make


def value(figure):
    return figure.value.replace(NO_BREAK, " ")


def steps(figure):
    return " ".join(figure.working).replace(NO_BREAK, " ")


def test_the_pump_by_hand(figures):
    found = figures()
    # 1400 W / (13 gal/min * 60) = 1.795 Wh/gal
    assert value(found["well.energy"]) == "1.79 Wh/gal (0.47 Wh/L)"
    assert value(found["well.head"]) == "181 ft (55.2 m)"
    # lifting a US gallon 181 ft: 8.337 lb * 181 ft = 1509 ft*lbf = 0.5683 Wh
    assert value(found["well.efficiency"]) == f"{0.5683 / 1.795:.0%}"
    # NEC table 430.7(B): letter K is 8.0 to 8.99 kVA a horsepower
    assert value(found["well.surge"]) == "9.0 kVA"


def test_water_in_the_well_by_the_trades_rule(figures):
    # drillers' table: a 6 in casing holds 1.47 gal a foot
    assert value(figures()["well.standing-water"]).startswith("216 gal")
    assert abs(1.47 * (265 - 118) - 216) < 0.5


def test_a_later_measurement_of_the_level_counts(figures):
    log = LOG + "measurements:\n  - {date: 2026-02-02, machine: well, spec: static water level, value: 165 ft}\n"  # fmt: skip
    found = figures(("log/2026.yaml", LOG, log))["well.standing-water"]
    assert value(found).startswith("147 gal")  # 1.47 gal a foot, 100 ft
    assert [one.where for one in found.inputs if one.name == "static water level"] == [
        "site_data/log/2026.yaml:4"
    ]


def test_a_measurement_in_words_is_passed_over(figures):
    log = LOG + "measurements:\n  - {date: 2026-02-02, machine: well, spec: static water level, value: sounder stuck}\n"  # fmt: skip
    assert value(figures(("log/2026.yaml", LOG, log))["well.standing-water"]).startswith("216 gal")


def test_a_level_below_the_bottom_gives_no_dose(figures):
    found = figures(("water.yaml", "{length: 118 ft}", "{length: 300 ft}"))
    assert "well.bleach" not in found and "well.standing-water" not in found


def test_the_pressure_tank_at_the_site_by_hand(figures):
    found = figures()
    assert value(found["tank.precharge"]) == "28 psi (193 kPa)"
    # US standard atmosphere, 3770 ft: 12.80 psi; 44 * 40.80 * (1/42.80 - 1/62.80) = 13.36
    assert value(found["tank.drawdown"]).startswith("13.4 gal")
    assert value(found["tank.cycle"]) == "100 s"
    assert "large enough" in steps(found["tank.smallest"])


def test_the_owner_s_precharge_comes_before_the_rule_s(figures):
    found = figures(("water.yaml", "cut-in: {p", "precharge: {pressure: 24 psi}, cut-in: {p"))
    assert value(found["tank.precharge"]) == "24 psi (165 kPa); the rule gives 28 psi (193 kPa)"
    assert "4 psi (27.6 kPa) below the rule's" in found["tank.precharge"].caution.replace(
        NO_BREAK, " "
    )
    # as above with the owner's 24 psi: 44 * 36.80 * (1/42.80 - 1/62.80) = 12.05
    assert value(found["tank.drawdown"]).startswith("12.0 gal")
    same = figures(("water.yaml", "cut-in: {p", "precharge: {pressure: 28 psi}, cut-in: {p"))
    assert same["tank.precharge"].caution == ""


def test_pressures_in_bar_stay_in_bar(figures):
    found = figures(
        ("water.yaml", "cut-in: {pressure: 30 psi}", "cut-in: {pressure: 2 bar}"),
        ("water.yaml", "cut-out: {pressure: 50 psi}", "cut-out: {pressure: 3.5 bar}"),
        ("homestead.yaml", "elevation: 3770 ft", "units: metric\nelevation: 3770 ft"),
    )["tank.precharge"]
    # 2 psi is 0.138 bar
    assert value(found) == "1.86 bar (27.0 psi)"
    assert "2 bar (29.0 psi) - 0.138 bar (2 psi) = 1.86 bar (27.0 psi)" in steps(found)


def test_a_small_tank_is_told(figures):
    found = figures(("water.yaml", "capacity: 44 gal, pump_flow: 8 gpm", "capacity: 20 gal, pump_flow: 8 gpm"))["tank.smallest"]  # fmt: skip
    assert "TOO SMALL" in steps(found) and found.caution.startswith("Too small")


def test_pressures_out_of_order_are_told_and_nothing_breaks(figures):
    found = figures(("water.yaml", "cut-out: {pressure: 50 psi}", "cut-out: {pressure: 25 psi}"))
    assert value(found["tank.drawdown"]) == "not worked out"
    assert "cut-out" in steps(found["tank.drawdown"])


def test_the_cistern_lasts_by_hand(figures):
    # 1500 * (60 - 20) % = 600 gal; 600 / 150 = 4 days
    found = figures()["cistern.days"]
    assert value(found) == "4.0 days" and steps(found).endswith("until 5 Feb 2026.")


def test_lamp_and_cartridge_end_on_a_day(figures):
    found = figures()
    # 9000 h at 24 h a day is 375 days: the 12 months end first
    assert value(found["lamp.life"]) == "1 Jun 2026"
    assert value(found["filter.life"]) == "31 Jan 2026"  # 30 days from 1 January
    assert value(found["lamp.boil"]) == "1 min"


def test_a_lamp_change_in_the_log_counts(figures):
    water = ("water.yaml", "    installed: 2025-06-01\n", "    installed: 2025-06-01\n    tasks: {lamp-change: {title: Lamp, every: 12 months}}\n")  # fmt: skip
    log = LOG + "services:\n  - {date: 2026-02-10, machine: lamp, tasks: [lamp-change]}\n"
    assert value(figures(water, ("log/2026.yaml", LOG, log))["lamp.life"]) == "10 Feb 2027"


def test_the_gravity_line_by_hand(figures):
    found = figures()
    # 2.31 ft of water to the psi: 60 / 2.31 = 25.97
    assert value(found["line.pressure"]).startswith("26.0 psi")
    # Hazen-Williams in US units: h100 = 0.2083 (100/C)^1.852 q^1.852 / d^4.8655
    h100 = 0.2083 * (100 / 150) ** 1.852 * 16.0**1.852 / 1.06**4.8655
    assert h100 * 4.8 == approx(60, rel=0.02)
    assert value(found["line.flow"]).startswith("16.0 gal/min")


def test_the_winter_by_hand(figures):
    frost = steps(figures()["line.frost"])
    # 31 * 10 + 28 * 8 + 30 * 2 + 31 * 9 = 873 degree days, in 31 + 28 + 30 + 31 days
    assert "873 °C·days" in frost and "120 days" in frost


def test_a_shallow_line_is_told(figures):
    assert "NOT ENOUGH" in steps(figures(("water.yaml", "buried: 5 ft", "buried: 2 ft"))["line.bury"])  # fmt: skip
    assert "deep: enough" in steps(figures(("water.yaml", "buried: 5 ft", "buried: 9 ft"))["line.bury"])  # fmt: skip


@pytest.mark.parametrize(
    ("power", "word"),
    [("40 W", "TOO LITTLE"), ("50 W", "TOO LITTLE"), ("60 W", "enough"), ("120 W", "enough")],
)
def test_a_heat_tape_needs_a_fifth_in_hand(figures, power, word):
    # 45 W are lost: 54 W are wanted
    found = figures(("water.yaml", "power: 120 W", f"power: {power}"))["line.heat"]
    assert value(found) == "45 W" and steps(found).endswith(f"{power}: {word}.")


def test_a_tape_on_for_a_day(figures):
    assert value(figures()["line.tape"]) == "2.9 kWh"  # 120 W * 24 h = 2.88 kWh


def test_a_place_without_water_has_no_page_of_it(home):
    made = home()
    made.change("power.yaml", "        procedure: genset-oil\n", "")
    paths = {page.path for page in made_manual(made.folder, as_of=AS_OF).manual.pages}
    assert not paths & {"water.md", "water-freezing.md", "procedures/shock-chlorination.md"}


def test_a_bare_well_pump_builds(home):
    water = "title: Water\nequipment:\n  well: {kind: well pump, name: Well}\n  line: {kind: water line, name: Line}\n"  # fmt: skip
    made = home({"water.yaml": water})
    made.change("power.yaml", "        procedure: genset-oil\n", "")
    pages = {
        page.path: page.markdown for page in made_manual(made.folder, as_of=AS_OF).manual.pages
    }
    assert "water.md" not in pages
    assert "once the casing, the depth" in pages["procedures/shock-chlorination.md"]


def test_every_input_of_the_demo_leads_to_a_line():
    demo = work_out(read_inventory(DEMO, as_of=date(2026, 11, 25)), date(2026, 11, 25))
    for figure in demo.house.water.figures:
        assert figure.working and figure.source
        for one in figure.inputs:
            file, line = one.where.rsplit(":", 1)
            assert (DEMO.parent / file).exists() and int(line) > 0
