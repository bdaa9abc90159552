"""Tank level day by day: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import reserve

USES = arrays(float, st.tuples(st.integers(1, 4), st.integers(1, 20)), elements=st.floats(0, 50))


def test_ten_days_by_hand():
    levels = reserve.tank_level(100.0, np.full(10, 10.0))
    assert levels == approx([90, 80, 70, 60, 50, 40, 30, 20, 10, 0])


def test_an_empty_tank_owes_nothing_later():
    levels = reserve.tank_level(10.0, [30.0, 0.0, 5.0], deliveries=[0.0, 20.0, 0.0])
    assert levels == approx([0.0, 20.0, 15.0])


def test_a_delivery_stops_at_the_filling_limit():
    levels = reserve.tank_level(350.0, [10.0, 10.0], deliveries=[500.0, 0.0], ceiling=400.0)
    assert levels == approx([390.0, 380.0])


def test_many_tanks_at_once():
    levels = reserve.tank_level(np.array([100.0, 50.0]), np.array([[10.0, 10.0], [5.0, 5.0]]))
    assert levels == approx(np.array([[90.0, 80.0], [45.0, 40.0]]))


def test_one_weather_for_many_tanks():
    levels = reserve.tank_level(np.array([100.0, 50.0]), np.array([10.0, 20.0, 30.0]))
    assert levels.shape == (2, 3)
    assert levels[1] == approx([40.0, 20.0, 0.0])


def test_no_days_is_no_forecast():
    assert reserve.tank_level(100.0, []).shape == (0,)


def test_the_mark_is_reached_on_the_day_it_is_touched():
    levels = [70.0, 40.0, 10.0]
    assert reserve.day_reached(levels, 40.0) == 1
    assert reserve.day_reached(levels, 39.9) == 2
    assert reserve.day_reached(levels, 9.0) == 3
    assert reserve.day_reached(levels, 80.0) == 0


def test_the_mark_of_each_tank():
    levels = np.array([[3.0, 2.0, 1.0], [9.0, 8.0, 7.0]])
    assert reserve.day_reached(levels, np.array([2.0, 7.0])).tolist() == [1, 2]
    assert reserve.day_reached(levels, 2.5).tolist() == [1, 3]


def test_months_of_a_year_make_its_days():
    days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
    daily = reserve.daily_from_monthly(np.arange(12.0), days)
    assert daily.shape == (365,)
    assert daily.sum() == approx(66.0)
    levels = reserve.tank_level(100.0, daily)
    assert reserve.month_end_level(levels, days) == approx(100.0 - np.cumsum(np.arange(12.0)))


def test_what_is_needed_before_the_truck_is_just_enough():
    use = np.linspace(5.0, 15.0, 90)
    needed = reserve.level_needed(use, 200.0, 75)
    before = reserve.tank_level(needed, use)[:75]
    assert before[-1] == approx(200.0)
    assert reserve.level_needed(use, 200.0, 0) == 200.0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: reserve.tank_level(-1.0, [1.0]), r"fuel at the start is -1\.0 L"),
        (lambda: reserve.tank_level(9.0, [1.0], ceiling=8.0), r"fuel at the start is 9\.0 L"),
        (lambda: reserve.tank_level(0.0, [1.0], ceiling=0.0), r"filling limit is 0\.0 L"),
        (
            lambda: reserve.tank_level(9.0, [1.0, -2.0]),
            r"daily use is -2\.0 L; it must be 0 or more",
        ),
        (
            lambda: reserve.tank_level(9.0, [1.0], [-3.0]),
            r"delivery is -3\.0 L; it must be 0 or more",
        ),
        (lambda: reserve.tank_level(9.0, [np.nan]), r"daily use is nan L"),
        (lambda: reserve.daily_from_monthly([-1.0], [31]), r"monthly use is -1\.0 L"),
        (lambda: reserve.daily_from_monthly([1.0], [27]), r"days in a month is 27 d"),
        (lambda: reserve.month_end_level([1.0], [31]), r"days in the months is 31 d; .* at most 1"),
        (lambda: reserve.day_reached([1.0], -1.0), r"reserve mark is -1\.0 L"),
        (lambda: reserve.level_needed([-1.0], 1.0, 1), r"daily use is -1\.0 L"),
        (lambda: reserve.level_needed([1.0], -1.0, 1), r"reserve mark is -1\.0 L"),
        (
            lambda: reserve.level_needed([1.0], 1.0, 2),
            r"delivery day is 2 d; it must be from 0 to 1",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


@given(USES, st.floats(0, 500))
def test_array_equals_tank_by_tank(uses, start):
    together = reserve.tank_level(start, uses, 7.0, 600.0)
    alone = [reserve.tank_level(start, use, 7.0, 600.0) for use in uses]
    assert together == approx(np.array(alone))


@given(USES, st.floats(0, 500))
def test_without_a_truck_the_level_only_falls_and_nothing_is_lost(uses, start):
    levels = reserve.tank_level(start, uses)
    assert np.all(np.diff(levels, axis=-1) <= 0)
    assert levels[:, -1] == approx(np.maximum(start - uses.sum(axis=-1), 0.0), abs=1e-9)


@given(USES, st.floats(0, 500), st.floats(0, 100))
def test_the_mark_comes_when_the_needed_level_passes_the_start(uses, start, mark):
    day = reserve.day_reached(reserve.tank_level(start, uses[0]), mark)
    # Before that day there was more than enough to come so far; a hair of rounding apart.
    if day > 0:
        assert reserve.level_needed(uses[0], mark, day) <= start + 1e-9
    if day < uses.shape[1]:
        assert reserve.level_needed(uses[0], mark, day + 1) >= start - 1e-9
