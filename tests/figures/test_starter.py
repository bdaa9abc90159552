"""The starter battery: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import starter


@pytest.mark.parametrize(
    ("volts", "coldest", "word"),
    [
        (12.65, -40.0, "ready"),
        (12.45, -20.0, "ready"),
        (12.30, -10.0, "charge soon"),
        (12.10, -5.0, "charge now"),
        (12.10, -25.0, "may freeze"),  # SG about 1.163, freezes near 0 degF (-18 degC)
        (11.00, -10.0, "may freeze"),
    ],
)
def test_the_word_for_a_rested_voltage(volts, coldest, word):
    assert starter.condition(volts, coldest).word == word


def test_the_margin_to_freezing_is_the_one_that_is_told():
    freezes = starter.condition(12.4, 0.0).freezes_at
    at = freezes + starter.FREEZE_MARGIN
    assert starter.condition(12.4, at + 0.1).word != "may freeze"
    assert starter.condition(12.4, at - 0.1).word == "may freeze"
    assert starter.FREEZE_MARGIN == 5  # common practice, no source


def test_a_charging_battery_is_not_judged():
    with pytest.raises(OutOfRange, match=r"voltage at rest is 14.1 V"):
        starter.condition(14.1, -10.0)


@given(temperature=st.floats(-40, 51))
@settings(max_examples=40)
def test_warmer_never_cranks_weaker(temperature):
    left = starter.cranking_power_left(temperature)
    assert starter.cranking_power_left(temperature + 1) >= left
    assert 0 <= left <= 1


def test_no_credit_is_taken_for_warm_weather():
    assert starter.cranking_current(800.0, 1.0, 25.0) == 800
    # 30 degF below the table's end: 0.40 - 30 x 0.25 / 30 = 0.15 of 0.40
    assert starter.cranking_current(800.0, 1.0, (-30 - 32) / 1.8) == approx(800 * 0.15 / 0.40)


def test_a_day_of_standing():
    assert starter.daily_loss(145.0) == approx(1.0)  # 0.001 of 0.145 of gravity
    assert starter.standing_days(145.0) == approx(0.25 * 145)
    assert starter.standing_days(145.0, start=0.5, stop=0.75) == 0
    assert starter.standing_days(145.0, drain=1 / 24) == approx(0.25 * 145 / 2)


@given(capacity=st.floats(30, 200), drain=st.floats(0, 0.1), hours=st.floats(0.2, 4))
@settings(max_examples=40)
def test_the_panel_puts_back_what_the_day_takes(capacity, drain, hours):
    power = starter.holding_panel(capacity, hours, drain)
    put_back = power / 18.0 * hours * 0.5
    assert put_back == approx(starter.daily_loss(capacity, drain))


def test_arrays_equal_scalars():
    cold = np.linspace(-40, 40, 9)
    each = [starter.cranking_current(700.0, 0.9, t) for t in cold]
    assert starter.cranking_current(700.0, 0.9, cold).tolist() == each


def test_errors_name_the_quantity():
    with pytest.raises(OutOfRange, match=r"battery temperature is -45.0 degC"):
        starter.cranking_power_left(-45)
    with pytest.raises(OutOfRange, match=r"cold cranking current is 0"):
        starter.cranking_current(0, 1.0, 0.0)
    with pytest.raises(OutOfRange, match=r"sun hours is 0"):
        starter.holding_panel(100.0, 0)
    with pytest.raises(OutOfRange, match=r"derate is 1.5"):
        starter.holding_panel(100.0, 1.0, derate=1.5)
    with pytest.raises(OutOfRange, match=r"panel voltage is 0"):
        starter.holding_panel(100.0, 1.0, panel_voltage=0)
    with pytest.raises(OutOfRange, match=r"drain is -1"):
        starter.daily_loss(100.0, -1)
    with pytest.raises(OutOfRange, match=r"capacity is 0"):
        starter.daily_loss(0)
