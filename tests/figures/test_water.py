"""Pressure tank, cistern, lamp and filter: hand cases, edges, properties, errors."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import water


def test_empty_tank_gives_nothing():
    assert water.drawdown(0.0, 193.0, 207.0, 345.0) == 0


def test_hand_case_in_round_pressures():
    # air 101.325 kPa; precharge and cut-in double it, cut-out four times: 1 - 2/4 of the tank
    one = 101.325
    assert water.drawdown(100.0, one, one, 3 * one) == approx(50.0)


def test_higher_site_gives_more():
    low, high = water.drawdown(100.0, 193.0, 207.0, 345.0, np.array([0.0, 2000.0]))
    assert high > low


def test_acceptance_is_more_than_drawdown():
    assert water.acceptance_factor(193.0, 345.0) > water.drawdown(1.0, 193.0, 207.0, 345.0)
    assert water.acceptance_factor(193.0, 193.0) == 0


def test_array_equals_scalars():
    volumes = np.array([20.0, 160.0, 320.0])
    given_water = water.drawdown(volumes, 193.0, 207.0, 345.0)
    assert given_water == approx([water.drawdown(v, 193.0, 207.0, 345.0) for v in volumes])


@settings(max_examples=50)
@given(st.floats(70, 400), st.floats(50, 300), st.floats(1, 60))
def test_smallest_tank_runs_the_pump_just_long_enough(cut_in, spread, flow):
    air, cut_out = water.precharge(cut_in), cut_in + spread
    tank = water.smallest_tank(flow, air, cut_in, cut_out)
    assert water.run_time(water.drawdown(tank, air, cut_in, cut_out), flow) == approx(1.0)


@settings(max_examples=50)
@given(st.floats(0.05, 0.95))
def test_cycle_is_shortest_at_half_the_pump_flow(share):
    assert water.cycle_time(40.0, 20.0, 20.0 * share) >= water.cycle_time(40.0, 20.0, 10.0) - 1e-9


def test_cistern():
    assert water.cistern_days(0.0, 4, 100.0) == 0
    assert water.cistern_days(1000.0, 0, 100.0, 50.0) == 20


def test_lamp_and_filter_take_the_nearer_limit():
    assert water.lamp_life_used(0.0, 12.0) == 1
    assert water.lamp_life_used(9000.0, 0.0) == 1
    assert water.filter_life_used(0.0, 100.0, 50.0, 100.0) == 0.5
    assert water.filter_life_used(90.0, 100.0, 50.0, 100.0) == 0.9


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: water.drawdown(-1.0, 193.0, 207.0, 345.0), "tank volume is -1.0 L.*0 or more"),
        (lambda: water.drawdown(80.0, -5.0, 207.0, 345.0), "precharge is -5.0 kPa.*0 or more"),
        (lambda: water.drawdown(80.0, 250.0, 207.0, 345.0), "precharge is 250.0 kPa.*runs dry"),
        (lambda: water.drawdown(80.0, 193.0, 345.0, 345.0), "cut-out is 345.0 kPa.*above the cut"),
        (lambda: water.precharge(10.0), "cut-in is 10.0 kPa.*over 13.8"),
        (lambda: water.acceptance_factor(193.0, 100.0), "cut-out is 100.0 kPa.*at least"),
        (lambda: water.acceptance_factor(-1.0, 100.0), "precharge is -1.0 kPa"),
        (
            lambda: water.drawdown(80.0, 193.0, 207.0, 345.0, 12000.0),
            "height above sea level is 12000.0 m",
        ),
        (lambda: water.run_time(40.0, 20.0, 20.0), "pump flow is 20.0 L/min.*never stops"),
        (lambda: water.run_time(-1.0, 20.0), "drawdown is -1.0 L"),
        (lambda: water.run_time(1.0, 20.0, -1.0), "demand is -1.0 L/min"),
        (lambda: water.cycle_time(40.0, 20.0, 0.0), "demand is 0.0 L/min.*more than 0"),
        (lambda: water.smallest_tank(0.0, 193.0, 207.0, 345.0), "pump flow is 0.0 L/min"),
        (lambda: water.smallest_tank(9.0, 193.0, 207.0, 345.0, 0.0, 0.0), "run is 0.0 min"),
        (lambda: water.cistern_days(-1.0, 4, 100.0), "usable water is -1.0 L"),
        (lambda: water.cistern_days(1.0, -4, 100.0), "people is -4"),
        (lambda: water.cistern_days(1.0, 4, -100.0), "daily use is -100.0 L"),
        (lambda: water.cistern_days(1.0, 4, 100.0, -1.0), "other use is -1.0 L"),
        (lambda: water.cistern_days(1.0, 0, 100.0), "use of water is 0.0 L/d"),
        (lambda: water.lamp_life_used(-1.0, 1.0), "lamp hours is -1.0 h"),
        (lambda: water.lamp_life_used(1.0, -1.0), "lamp age is -1.0 months"),
        (lambda: water.lamp_life_used(1.0, 1.0, 0.0), "rated hours is 0.0 h"),
        (lambda: water.lamp_life_used(1.0, 1.0, 1.0, 0.0), "rated months is 0.0 months"),
        (lambda: water.filter_life_used(-1.0, 1.0, 1.0, 1.0), "water passed is -1.0 L"),
        (lambda: water.filter_life_used(1.0, 0.0, 1.0, 1.0), "rated volume is 0.0 L"),
        (lambda: water.filter_life_used(1.0, 1.0, -1.0, 1.0), "pressure loss is -1.0 kPa"),
        (lambda: water.filter_life_used(1.0, 1.0, 1.0, 0.0), "largest loss is 0.0 kPa"),
    ],
)
def test_limits(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
