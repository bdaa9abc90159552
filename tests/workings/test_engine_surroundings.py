"""Exhaust pipe, air of the shed and gas lines of an inventory."""

from datetime import date

import pytest

from steadbook.units import convert
from steadbook.workings import work_out
from steadbook.workings.gensets import engine_state

DAY = date(2026, 3, 1)
GENSET = "    plate: {power: 8 kW}\n"
PLATE = """\
    plate:
      power: 8 kW
      fuel: propane
      fuel_at_half_load: 0.88 gal/h
      fuel_at_full_load: 1.36 gal/h
      displacement: 0.420 L
      speed: 3600 rpm
      exhaust_limit: {limit}
"""
PIPE = "    exhaust: {pipe: 1-1/2, length: 3 m, bends: {90 short: 2}, silencer: 1 kPa, gas_temperature: 450 degC}\n"  # fmt: skip


def state(home, extra, plate=PLATE, limit="5 kPa", place="elevation: 0 ft"):
    made = home().change("power.yaml", GENSET, plate.replace("{limit}", limit) + extra)
    made.change("homestead.yaml", "elevation: 3000 ft", place)
    return engine_state(made.read())


# --- exhaust ----------------------------------------------------------------------------------


def test_the_gas_flow_is_that_of_the_worked_example(home):
    """By hand: 0.42 L x 3,600 / 2 x 0.85 = 0.6426 m3/min; x 723.15/298.15 x 1.0638 = 1.6581."""
    (found,) = state(home, PIPE).exhausts
    assert found.flow == pytest.approx(1.6581, abs=1e-4)


def test_bends_count_as_straight_pipe(home):
    """Silencer maker's worksheet: 33 bores for a short bend; 1-1/2 in schedule 40 is 1.610 in."""
    (found,) = state(home, PIPE).exhausts
    assert found.there.run == pytest.approx(3 + 2 * 33 * 1.610 * 0.0254)


def test_the_loss_is_near_that_of_the_worked_example(home):
    """638 Pa in 38.1 mm (fluids library, roughness 0.046 mm); 40.9 mm loses (38.1/40.9)^5 of it,
    its longer equivalent length and its flow regime within a tenth."""
    (found,) = state(home, PIPE).exhausts
    assert found.there.new == pytest.approx(0.638 * (38.1 / 40.894) ** 5, rel=0.1)


def test_soot_and_silencer_come_on_top(home):
    there = state(home, PIPE).exhausts[0].there
    assert there.sooty > there.new
    assert there.total == pytest.approx(there.sooty + 1)


@pytest.mark.parametrize(
    ("limit", "fits", "size"), [("5 kPa", True, "1-1/2"), ("1.2 kPa", False, "2"), ("1 kPa", False, None)]
)  # fmt: skip
def test_the_limit_of_the_plate_decides(home, limit, fits, size):
    (found,) = state(home, PIPE, limit=limit).exhausts
    assert (found.there.fits, found.next_size) == (fits, size)


def test_a_larger_pipe_loses_less(home):
    losses = [row.total for row in state(home, PIPE).exhausts[0].rows]
    assert losses == sorted(losses, reverse=True)


def test_without_a_limit_no_verdict(home):
    plate = PLATE.replace("      exhaust_limit: {limit}\n", "")
    (found,) = state(home, PIPE, plate=plate).exhausts
    assert (found.there.fits, found.next_size) == (None, None)


# --- air --------------------------------------------------------------------------------------

SHED = "    shed: {inlet: 10 ft2, outlet: 10 ft2, height: 4 ft}\n"
WARM = "elevation: 0 ft\nhottest: 70 degF"


def test_the_rise_is_that_of_the_ventilation_rule(home):
    """CFM = Btu/h / (1.08 x rise): 0.40 x 1.36 x 91,502 Btu/h, 10 ft2 half clear at 500 ft/min."""
    (found,) = state(home, SHED, place=WARM).sheds
    heat = 0.40 * 1.36 * 91_502
    assert convert(found.rows[0].flow, "m3/h", "cfm") == pytest.approx(2500)
    # 1.08 holds for 0.075 lb/ft3; dry air at 70 F is 0.0749
    assert found.rows[0].rise * 1.8 == pytest.approx(heat / (1.08 * 2500), rel=0.005)


def test_half_a_louvre_under_snow_doubles_the_rise(home):
    rows = {row.blocked: row for row in state(home, SHED, place=WARM).sheds[0].rows}
    assert rows[0.5].rise == pytest.approx(2 * rows[0].rise)
    assert rows[0.75].rise == pytest.approx(4 * rows[0].rise)


def test_draught_alone_carries_the_heat_at_its_own_rise(home):
    """Stack rule, 9.4 x ft2 x root of (ft x F) in cfm, against 1.08 x cfm x F in Btu/h."""
    (found,) = state(home, SHED, place=WARM).sheds
    rise = found.rows[0].draught_rise * 1.8
    cfm = 9.4 * 5 * (4 * rise) ** 0.5
    assert 1.08 * cfm * rise == pytest.approx(0.40 * 1.36 * 91_502, rel=0.005)


def test_a_radiator_outside_leaves_a_quarter_of_the_heat(home):
    high = "elevation: 6000 ft"
    inside = state(home, SHED, place=high).sheds[0]
    outside = state(home, SHED.replace("4 ft}", "4 ft, radiator: outside}"), place=high).sheds[0]
    assert outside.heat == pytest.approx(inside.heat / 4)
    assert outside.is_enough
    assert not inside.is_enough


def test_thin_air_carries_less(home):
    low = state(home, SHED, place="elevation: 0 ft").sheds[0]
    high = state(home, SHED, place="elevation: 6000 ft").sheds[0]
    assert high.rows[0].rise > low.rows[0].rise * 1.2


# --- gas lines --------------------------------------------------------------------------------

HEATER = """\
title: Heat
equipment:
  heater: {kind: load, name: Heater, plate: {input: INPUT}}
"""
TANK = "    plate: {contents: propane, capacity: 500 gal, reserve: 20 %}\n"
LINE = "    lines: {house-line: {length: 10 ft, pipe: 1/2, feeds: [heater]}}\n"


@pytest.mark.parametrize(
    ("demand", "enough", "size"),
    [("288000 Btu/h", True, "1/2"), ("295000 Btu/h", False, "3/4"), ("100000000 Btu/h", False, None)],
)  # fmt: skip
def test_a_line_is_held_against_the_codes_table(home, demand, enough, size):
    """International Fuel Gas Code 2018, schedule 40, 0.5 in of water, 10 ft: 291,000 Btu/h."""
    made = home({"heat.yaml": HEATER.replace("INPUT", demand)})
    made.change("fuel.yaml", TANK, TANK + LINE)
    (found,) = engine_state(made.read()).lines
    assert (found.is_enough, found.size) == (enough, size)


def test_a_loss_beyond_the_equation_is_told_in_words(home):
    made = home({"heat.yaml": HEATER.replace("INPUT", "100000000 Btu/h")})
    made.change("fuel.yaml", TANK, TANK + LINE)
    figure = work_out(made.read(), DAY).figures["tank.house-line-drop"]
    assert figure.value.replace("\u00a0", " ") == "more than 1.5 psi (10 kPa)"


def test_a_line_to_something_of_no_input_is_left_out(home):
    made = home({"heat.yaml": HEATER.replace(", plate: {input: INPUT}", "")})
    made.change("fuel.yaml", TANK, TANK + LINE)
    assert engine_state(made.read()).lines == ()


def test_a_bare_home_has_none_of_it(home):
    found = engine_state(home().read())
    assert (found.exhausts, found.sheds, found.lines, found.air) == ((), (), (), False)
