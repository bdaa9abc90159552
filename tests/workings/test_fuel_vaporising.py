"""How cold a tank of the inventory still feeds what hangs on it."""

from datetime import date

import numpy as np
import pytest

from steadbook.units import convert
from steadbook.workings import work_out
from steadbook.workings.fuels import fuel_state

DAY = date(2026, 3, 1)
SOURCE = (
    "LP-gas service handbooks, D x L x K; 250 gal tank 32 x 87 in at 20 % and -10 F: 83,520 Btu/h"
)
HEATER = """\
title: Heat
equipment:
  heater:
    kind: load
    name: Heater
    fed_by: tank
    plate: {input: 83520 Btu/h}
"""
PLATE = "plate: {contents: propane, capacity: 500 gal, reserve: 20 %}"
SMALL = (
    "plate: {contents: propane, capacity: 250 gal, diameter: 32 in, length: 87 in, reserve: 20 %}"
)


def supply(home, plate=SMALL, coldest=None):
    made = home({"heat.yaml": HEATER}).change("fuel.yaml", PLATE, plate)
    if coldest:
        made.change("homestead.yaml", "call_first:", f"coldest: {coldest}\ncall_first:")
    homestead = made.read()
    return next(iter(fuel_state(homestead, {}, DAY).gas), None)


def fahrenheit(air):
    return convert(air, "degC", "degF")


def test_the_published_draw_is_met_down_to_ten_below(home):
    found = supply(home)
    at_twenty = next(row for row in found.rows if row.fill == 20)
    assert fahrenheit(at_twenty.everything) == pytest.approx(-10, abs=0.01), SOURCE
    assert at_twenty.genset is None


def test_the_fuller_the_colder(home):
    cold = [row.everything for row in supply(home).rows]
    assert cold == sorted(cold)


@pytest.mark.parametrize(
    ("coldest", "starves"), [("-9.9 degF", False), ("-10.1 degF", True), ("-40 degF", True)]
)
def test_the_caution_comes_where_the_mark_is_too_low(home, coldest, starves):
    assert supply(home, coldest=coldest).starves is starves


def test_without_a_design_temperature_no_caution(home):
    assert not supply(home).starves


def test_a_tank_without_measures_takes_the_usual_size(home):
    found = supply(home, PLATE)
    # propane council table: 38 x 118 in; 38 x 118 x 100 Btu/h at 0 F and 60 %
    assert found.shell.source == "the usual size of a 500 gal tank"
    assert convert(found.supply(60, -160 / 9), "kW", "Btu/h") == pytest.approx(448_400)


def test_two_tanks_on_a_manifold_give_twice_as_much(home):
    one = supply(home)
    two = supply(home, SMALL.replace("250 gal", "250 gal, count: 2"))
    assert two.supply(30, -10) == pytest.approx(2 * one.supply(30, -10))


def test_cylinders_follow_their_own_table(home):
    found = supply(home, "plate: {contents: propane, capacity: 28.5 gal, count: 2, reserve: 20 %}")
    assert found.shell.source == "the table for 100 lb cylinders"
    # LP-gas handbook table: 100 lb held, 0 F: 113,000 Btu/h; two of them
    assert convert(found.supply(100, -160 / 9), "kW", "Btu/h") == pytest.approx(226_000)
    ten = next(row for row in found.rows if row.fill == 10)
    # 2.85 gal = 12.05 lb each: 28,000 to 36,000 Btu/h at 0 F, 83,520 asked for of the two
    assert 10 < fahrenheit(ten.everything) < 40
    assert np.isfinite(found.rows[0].everything)


def test_a_tank_of_no_known_size_is_left_out(home):
    assert supply(home, "plate: {contents: propane, capacity: 700 gal}") is None


def test_the_working_holds_the_numbers(home):
    made = home({"heat.yaml": HEATER}).change("fuel.yaml", PLATE, SMALL)
    figure = work_out(made.read(), DAY).figures["tank.coldest"]
    assert figure.value.replace("\N{NO-BREAK SPACE}", " ").startswith("−10 °F")
    assert "32 in x 87 in x 60 = 167,040 Btu/h at 0 °F" in " ".join(figure.working)
