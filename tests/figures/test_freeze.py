"""Freezing: hand cases, properties, errors."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import freeze

LIMITS = (50.0, 60.0, 110.0, 0.04, 10.0, -10.0)


def test_water_at_the_freezing_point_has_no_time_left():
    assert freeze.pipe_time_to_freezing(50.0, 60.0, 110.0, 0.04, 0.0, -10.0) == 0


def test_bare_pipe_without_film_freezes_at_once_and_with_film_later():
    assert freeze.pipe_time_to_freezing(50.0, 60.0, 60.0, 0.04, 10.0, -10.0) == 0
    held = freeze.WATER_HEAT * np.pi / 4 * 0.05**2
    lost = 10 * np.pi * 0.06
    by_hand = held / lost * np.log(2) / 3600
    given_hours = freeze.pipe_time_to_freezing(50.0, 60.0, 60.0, 0.04, 10.0, -10.0, film=10.0)
    assert given_hours == approx(by_hand)


@settings(max_examples=40)
@given(st.floats(0.1, 40), st.floats(-40, -1), st.floats(1, 80))
def test_thicker_insulation_holds_longer(water, air, thickness):
    thin, thick = (
        freeze.pipe_time_to_freezing(50.0, 60.0, 60.0 + side, 0.04, water, air)
        for side in (thickness, 2 * thickness)
    )
    assert thick > thin


def test_heat_loss_is_even_in_the_difference():
    one, two = freeze.pipe_heat_loss(60.0, 110.0, 0.04, np.array([10.0, 20.0]), 0.0)
    assert two == approx(2 * one)


def test_tape_by_hand():
    assert freeze.heat_tape_energy(20.0, 10.0, 5.0) == 1
    assert freeze.heat_tape_energy(20.0, 0.0, 5.0) == 0


@settings(max_examples=40)
@given(st.floats(5, 200), st.floats(0.5, 24), st.floats(-40, 0))
def test_measured_cooling_gives_back_the_time_constant(constant, hours, outside):
    end = outside + (20 - outside) * np.exp(-hours / constant)
    assert freeze.measured_cooling_time(20.0, end, outside, hours) == approx(constant, rel=1e-6)


def test_room_by_hand():
    # halfway between 20 and -20 is 0: time constant times ln 2
    assert freeze.room_time_to_freezing(20.0, -20.0, 10.0) == approx(10 * np.log(2))
    assert freeze.room_time_to_freezing(0.0, -20.0, 10.0) == 0
    assert freeze.room_time_to_freezing(20.0, 5.0, 10.0) == np.inf
    assert freeze.room_time_to_freezing(20.0, 5.0, 10.0, limit=8.0) == approx(10 * np.log(5))


def test_room_as_array():
    hours = freeze.room_time_to_freezing(20.0, np.array([-20.0, 2.0]), 10.0)
    assert hours == approx([10 * np.log(2), np.inf])


def test_time_constant_is_capacity_over_loss():
    assert freeze.cooling_time(100.0, 5.0) == 50


def test_no_water_no_ice():
    assert freeze.ice_volume(0.0) == 0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: freeze.pipe_time_to_freezing(0.0, *LIMITS[1:]), "bore is 0.0 mm"),
        (
            lambda: freeze.pipe_time_to_freezing(70.0, *LIMITS[1:]),
            "pipe outside is 60.0 mm; it must be at least the bore",
        ),
        (lambda: freeze.pipe_time_to_freezing(*LIMITS[:4], -1.0, -10.0), "water temperature is -1"),
        (lambda: freeze.pipe_time_to_freezing(*LIMITS[:5], 3.0), "air temperature is 3.0 degC"),
        (lambda: freeze.pipe_heat_loss(0.0, 110.0, 0.04, 4.0, 0.0), "pipe outside is 0.0 mm"),
        (lambda: freeze.pipe_heat_loss(60.0, 50.0, 0.04, 4.0, 0.0), "insulation outside is 50.0"),
        (lambda: freeze.pipe_heat_loss(60.0, 110.0, 0.0, 4.0, 0.0), "conductivity is 0.0"),
        (lambda: freeze.pipe_heat_loss(60.0, 110.0, 0.04, 4.0, 0.0, 0.0), "film is 0.0"),
        (lambda: freeze.heat_tape_energy(-1.0, 1.0, 1.0), "tape power is -1.0 W/m"),
        (lambda: freeze.heat_tape_energy(1.0, -1.0, 1.0), "tape length is -1.0 m"),
        (lambda: freeze.heat_tape_energy(1.0, 1.0, -1.0), "time is -1.0 h"),
        (lambda: freeze.cooling_time(0.0, 1.0), "heat loss is 0.0 W/K"),
        (lambda: freeze.cooling_time(1.0, 0.0), "heat capacity is 0.0 kWh/K"),
        (lambda: freeze.measured_cooling_time(20.0, 21.0, 0.0, 1.0), "end temperature is 21.0"),
        (lambda: freeze.measured_cooling_time(20.0, -1.0, 0.0, 1.0), "end temperature is -1.0"),
        (lambda: freeze.measured_cooling_time(20.0, 10.0, 0.0, 0.0), "time is 0.0 h"),
        (lambda: freeze.room_time_to_freezing(-1.0, -20.0, 9.0), "start temperature is -1.0 degC"),
        (lambda: freeze.room_time_to_freezing(9.0, -20.0, 0.0), "time constant is 0.0 h"),
        (lambda: freeze.ice_volume(-1.0), "volume is -1.0 L"),
    ],
)
def test_limits(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
