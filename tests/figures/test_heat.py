"""Heat: hand cases, properties, errors."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import heat


def test_warm_days_count_nothing():
    days = heat.degree_days(np.array([30.0, 18.3, 0.0]), np.array([20.0, 18.3, -10.0]))
    assert days == approx([0.0, 0.0, 23.3])


@settings(max_examples=50)
@given(st.floats(20, 800), st.floats(4, 24), st.floats(5, 60))
def test_a_measured_night_gives_back_the_loss(loss, hours, difference):
    burned = loss * difference * hours / 1000
    assert heat.measured_heat_loss(burned, hours, 20.0, 20.0 - difference) == approx(loss)


def test_a_house_that_cooled_lost_more_than_the_stove_gave():
    even = heat.measured_heat_loss(40.0, 10.0, 20.0, -20.0)
    assert heat.measured_heat_loss(40.0, 10.0, 20.0, -20.0, cooling=4.0) == approx(1.1 * even)


def test_one_day_of_the_night_is_the_season_of_one_day():
    # 100 W/K at a steady 20 K below base for a day: 48 kWh, both ways
    assert heat.season_heat(100.0, 20.0) == 48
    assert heat.measured_heat_loss(48.0, 24.0, 20.0, 0.0) == 100


def test_no_degree_days_need_no_fuel():
    assert heat.fuel_needed(heat.season_heat(200.0, 0.0), 7.09, 0.9) == 0


def test_loss_by_hand():
    assert heat.heat_loss(100.0, 0.5, 0.0, 0.0) == 50
    assert heat.heat_loss(0.0, 0.0, 100.0, 2.0) == approx(67.0)


@settings(max_examples=30)
@given(st.floats(0, 0.49))
def test_wetter_wood_gives_less(moisture):
    assert heat.moisture_factor(moisture + 0.01) < heat.moisture_factor(moisture) <= 1


def test_array_equals_scalars():
    wet = np.array([0.0, 0.2, 0.5])
    each = [heat.heat_per_cord("beech", share) for share in wet]
    assert heat.heat_per_cord("beech", wet) == approx(each)


def test_split_by_undoes_ready_from():
    assert heat.split_by(heat.ready_from(date(2026, 4, 1), "beech"), "beech") == date(2026, 4, 1)
    assert heat.split_by(date(2026, 3, 31), "hemlock") == date(2025, 9, 30)


def test_glaze_and_thick_deposit_stop_the_fire():
    assert heat.sweep_advice(0.1, is_glazed=True) == "do not burn"
    assert heat.sweep_advice(6.4) == "do not burn"
    assert heat.sweep_advice(0.0) == "burn on"


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: heat.degree_days(0.0, 5.0), "low is 5.0 degC; it must be at most the high"),
        (lambda: heat.heat_loss(-1.0, 1.0, 0.0, 0.0), "area is -1.0 m2"),
        (lambda: heat.heat_loss(1.0, -1.0, 0.0, 0.0), "U-value is -1.0"),
        (lambda: heat.heat_loss(1.0, 1.0, -1.0, 0.0), "volume is -1.0 m3"),
        (lambda: heat.heat_loss(1.0, 1.0, 1.0, -1.0), "air changes is -1.0"),
        (lambda: heat.measured_heat_loss(0.0, 8.0, 20.0, 0.0), "heat is 0.0 kWh"),
        (lambda: heat.measured_heat_loss(9.0, 0.0, 20.0, 0.0), "time is 0.0 h"),
        (lambda: heat.measured_heat_loss(9.0, 8.0, 20.0, 18.0), "difference is 2.0 K.*5 or more"),
        (lambda: heat.season_heat(-1.0, 1.0), "heat loss is -1.0 W/K"),
        (lambda: heat.season_heat(1.0, -1.0), "degree days is -1.0"),
        (lambda: heat.fuel_needed(-1.0, 1.0, 1.0), "heat is -1.0 kWh"),
        (lambda: heat.fuel_needed(1.0, 0.0, 1.0), "heating value is 0.0"),
        (lambda: heat.fuel_needed(1.0, 1.0, 70.0), "efficiency is 70.0.*at most 1"),
        (lambda: heat.moisture_factor(20.0), "moisture is 20.0.*0 to 0.5"),
        (lambda: heat.heat_per_cord("teak"), "species is teak.*hickory"),
        (lambda: heat.split_by(date(2026, 1, 1), "teak"), "species is teak.*hickory"),
        (lambda: heat.cords(-1.0, 1.0, 1.0), "stack length is -1.0 m"),
        (lambda: heat.sweep_advice(-1.0), "deposit is -1.0 mm"),
    ],
)
def test_limits(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_heat_by_weight_grows_with_the_wood_and_falls_with_its_water():
    masses = np.array([0.0, 10.0, 20.0])
    assert heat.heat_by_weight(masses).tolist() == [heat.heat_by_weight(m) for m in masses]
    assert heat.heat_by_weight(0.0) == 0
    assert heat.heat_by_weight(10.0, 0.4) == pytest.approx(heat.heat_by_weight(10.0, 0.2) * 0.75)
    with pytest.raises(OutOfRange, match=r"mass of wood.*-1"):
        heat.heat_by_weight(-1.0)
    with pytest.raises(OutOfRange, match=r"moisture.*0\.7"):
        heat.heat_by_weight(1.0, 0.7)
