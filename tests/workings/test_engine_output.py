"""What a genset of the inventory gives at the place, and what of it runs or charges."""

from datetime import date

import pytest

from steadbook.workings import work_out
from steadbook.workings.gensets import engine_state

DAY = date(2026, 3, 1)
GENSET = "    plate: {power: 8 kW}\n"
POWER = """\
title: Loads
equipment:
  bank:
    kind: battery bank
    name: Bank
    plate: {voltage: 48 V, absorption: 58 V}
  charger:
    kind: inverter
    name: Charger
    plate: {charge_current: 100 A}
    charge_limit: 60 A
  chiller:
    kind: load
    name: Chiller
    plate: {power: 1.6 kW, starting: 6.5 kW, voltage: 240 V}
  welder:
    kind: load
    name: Welder
    plate: {power: 5 kW, starting: 5 kW, voltage: 240 V}
  lamp:
    kind: load
    name: Lamp
    plate: {power: 40 W}
"""


def output(home, plate="{power: 10 kW, fuel: propane, cooling: liquid}", genset="", place=""):
    made = home({"loads.yaml": POWER})
    made.change("power.yaml", GENSET, f"    plate: {plate}\n{genset}")
    made.change("homestead.yaml", "elevation: 3000 ft", f"elevation: 6000 ft\n{place}")
    (found,) = engine_state(made.read()).outputs
    return found


def test_the_rules_of_thumb_take_their_percent_for_a_thousand_feet(home):
    """Agricultural-engineering text: 3 % for 1,000 ft above 500 ft; 225 hp at 4,500 ft: 12 %."""
    plate = "{power: 10 kW, fuel: propane, rated_elevation: 500 ft, rated_temperature: 85 degF}"
    row = output(home, plate).rows[0]
    assert row.thumb[0] == pytest.approx(1 - 0.03 * 5.5)
    assert row.thumb[1] == pytest.approx(1 - 0.035 * 5.5)


def test_a_hot_day_takes_one_percent_for_ten_degrees(home):
    rows = output(home, place="hottest: 95 degF").rows
    # 10 kW, 6,000 ft, 95 F, 3.5 % from sea level, 1 % for 10 F from 85 F: 7.821 kW, worked by hand
    assert rows[-1].thumb[1] * 10 == pytest.approx(7.821, abs=5e-4)


def test_the_standard_gives_one_at_the_conditions_of_the_rating(home):
    plate = "{power: 10 kW, fuel: diesel, rated_elevation: 6000 ft, rated_temperature: 77 degF}"
    assert output(home, plate).rows[0].standard == pytest.approx(1)


def test_the_standard_follows_pressure_for_a_diesel(home):
    """ISO 3046-1, m 1, n 0.75: 1,500 m (84.56 kPa), 298 K: alpha 0.8186, from 100 kPa, 298 K."""
    made = (
        home()
        .change("power.yaml", GENSET, "    plate: {power: 10 kW, fuel: diesel}\n")
        .change("homestead.yaml", "elevation: 3000 ft", "elevation: 1500 m")
    )
    (found,) = engine_state(made.read()).outputs
    assert found.rows[0].standard == pytest.approx(0.8186, abs=2e-4)


def test_the_least_of_the_rules_is_reckoned_with_and_the_plate_is_the_top(home):
    found = output(home, place="coldest: -40 degF\nhottest: 100 degF")
    for row in found.rows:
        assert row.power == pytest.approx(10 * min(*row.thumb, row.standard, 1))
    low = home().change("homestead.yaml", "elevation: 3000 ft", "elevation: -200 ft")
    low.change("homestead.yaml", "people:", "coldest: -40 degF\npeople:")
    assert engine_state(low.read()).outputs[0].rows[0].power == pytest.approx(8)


def test_charging_gets_what_the_house_leaves_of_the_steady_load(home):
    found = output(home, genset="    house_load: 1 kW\n")
    row = found.worst
    assert row.charging == pytest.approx(row.power * 0.80 - 1)
    assert row.current == pytest.approx(min(row.charging * 0.9 * 1000 / 58, 60))


def test_the_lower_of_two_charge_limits_holds(home):
    charger = output(home).charger
    assert charger.limit == 60
    assert charger.demand == pytest.approx(60 * 58 / 1000 / 0.9)


def test_a_house_that_takes_all_leaves_nothing(home):
    assert output(home, genset="    house_load: 9 kW\n").worst.charging == 0


def test_a_small_air_cooled_set_runs_at_less(home):
    assert output(home, "{power: 10 kW, cooling: air}").steady_share == 0.65


def test_what_runs_together(home):
    """7.9 kW here (6,000 ft, 3.5 % for 1,000 ft): the chiller's 6.5 kW go, with the welder not."""
    rows = {row.names: row for row in output(home).together}
    assert set(rows) == {("Chiller",), ("Welder",), ("Chiller", "Welder")}
    assert rows["Chiller",].verdict == "yes"
    assert rows["Chiller", "Welder"].peak == pytest.approx(11.5)  # 5 + 6.5
    assert rows["Chiller", "Welder"].verdict == "no: the start is too hard"


def test_a_surge_rating_lets_the_motor_start(home):
    found = output(home, "{power: 10 kW, cooling: liquid, surge: 15 kW}")
    rows = {row.names: row.verdict for row in found.together}
    assert rows["Chiller", "Welder"] == "for a short time"  # 6.6 kW of 6.3 steady


def test_a_start_that_is_not_entered_is_not_called_good(home):
    text = POWER.replace("starting: 6.5 kW, ", "")
    made = home({"loads.yaml": text}).change("power.yaml", GENSET, "    plate: {power: 10 kW, cooling: liquid}\n")  # fmt: skip
    (found,) = engine_state(made.read()).outputs
    rows = {row.names: row for row in found.together}
    assert rows["Chiller",].verdict == "not known without its starting surge"
    assert rows["Chiller",].peak is None
    assert rows["Welder", "Chiller"].verdict == "not known without the starting surge of Chiller"
    assert rows["Welder",].verdict == "yes"
    text = text.replace("power: 1.6 kW", "power: 16 kW")
    made = home({"loads.yaml": text}).change("power.yaml", GENSET, "    plate: {power: 10 kW, cooling: liquid}\n")  # fmt: skip
    (found,) = engine_state(made.read()).outputs
    assert {row.names: row.verdict for row in found.together}["Chiller",] == "no: too much running"


def test_a_load_for_240_volts_does_not_run_on_120(home):
    found = output(home, '{power: 10 kW, voltage: "120 V, one phase"}')
    assert found.unfit == ("Chiller", "Welder")
    assert found.together == ()


def test_a_home_without_a_plate_has_none(home):
    made = home().change("power.yaml", GENSET, "")
    assert engine_state(made.read()).outputs == ()
    assert "genset.power-here" not in work_out(made.read(), DAY).figures
