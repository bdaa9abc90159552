"""Trends and their crossings: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import trend
from steadbook.figures.trend import Crossing, crossing, least_squares, median_slope

BOTH = pytest.mark.parametrize("method", [least_squares, median_slope])


@BOTH
def test_points_of_a_line_give_the_line(method):
    line = method([10, 20, 40], [5.0, 4.0, 2.0])
    assert (line.slope, line.intercept) == approx((-0.1, 6.0))
    assert line.scatter == approx(0.0, abs=1e-12)
    assert line.at([0, 60]) == approx([6.0, 0.0], abs=1e-12)


def test_a_line_by_hand():
    # 0, 1, 2 and 1, 1, 4: slope 1.5, mean 2 at 1; rests 0.5, -1, 0.5
    line = least_squares([0, 1, 2], [1.0, 1.0, 4.0])
    assert (line.slope, line.intercept) == approx((1.5, 0.5))
    assert line.scatter == approx(np.sqrt(1.5))
    assert line.slope_error == approx(np.sqrt(1.5 / 2))


def test_one_bad_reading_does_not_turn_the_median_slope():
    times = np.arange(10.0)
    values = 2.0 * times
    values[7] = 500.0
    assert median_slope(times, values).slope == approx(2.0)
    assert abs(least_squares(times, values).slope - 2.0) > 5


def test_two_readings_of_one_day_are_no_pair():
    assert median_slope([0, 0, 1], [1.0, 3.0, 4.0]).slope == approx(2.0)


def test_when_a_limit_is_met():
    rising, falling = (
        least_squares([0, 10, 20], [0.0, sign * 1.0, sign * 2.0]) for sign in (1, -1)
    )
    assert crossing(rising, 5.0, after=20, horizon=100).time == approx(50.0)
    assert crossing(falling, -5.0, 20, 100, "lowest").time == approx(50.0)
    # going away from the limit, or not there in time
    assert crossing(rising, -5.0, 20, 100, "lowest") == Crossing(None, None, None)
    assert crossing(rising, 50.0, 20, 100) == Crossing(None, None, None)


def test_past_the_limit_already():
    line = least_squares([0, 10, 20], [0.0, 1.0, 2.0])
    assert crossing(line, 1.0, after=20, horizon=100) == Crossing(20.0, 20.0, 20.0)


def test_a_level_line_never_arrives():
    assert crossing(least_squares([0, 1, 2], [3.0, 3.0, 3.0]), 4.0, 2, 1000).time is None


def test_the_range_holds_the_next_value_eight_times_in_ten():
    """4,000 lines of 8 values each: the ninth lies below the upper and above the lower end."""
    chance = np.random.default_rng(3)
    inside = 0
    for _ in range(4000):
        times = np.arange(8.0)
        line = least_squares(times, 0.5 * times + chance.normal(0, 1, 8))
        limit = 0.5 * 12 + chance.normal(0, 1)  # the value met at 12
        found = crossing(line, limit, after=0.0, horizon=400.0)
        early = found.earliest if found.earliest is not None else np.inf
        late = found.latest if found.latest is not None else np.inf
        inside += early <= 12 <= late
    assert inside / 4000 == approx(0.8, abs=0.02)


@given(
    st.lists(st.floats(-100, 100), min_size=3, max_size=12),
    st.floats(-5, 5), st.floats(-100, 100), st.floats(0.1, 10),
)  # fmt: skip
def test_shifting_and_scaling_shift_and_scale_the_line(values, tilt, lift, stretch):
    times = np.arange(len(values), dtype=float)
    for method in (least_squares, median_slope):
        line = method(times, values)
        moved = method(times, stretch * np.array(values) + tilt * times + lift)
        assert moved.slope == approx(stretch * line.slope + tilt, abs=1e-6)
        assert moved.intercept == approx(stretch * line.intercept + lift, abs=1e-6)


@given(st.floats(0.01, 5), st.floats(0, 3), st.floats(1, 50))
def test_the_ends_of_the_range_lie_about_the_time(slope, noise, limit):
    times = np.arange(6.0)
    values = slope * times + noise * np.array([1, -1, 1, -1, 1, -1])
    found = crossing(least_squares(times, values), limit, after=5, horizon=300)
    ends = [1e9 if one is None else one for one in (found.earliest, found.time, found.latest)]
    assert ends == sorted(ends)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: least_squares([0, 1], [1, 2]), "count of values is 2; it must be 3 or more"),
        (lambda: least_squares([0, 1, 2], [1, 2]), "shape of the values"),
        (lambda: median_slope([5, 5, 5], [1, 2, 3]), r"span of the times is 0\.0"),
        (lambda: least_squares([0, 1, 2], [1, np.nan, 3]), "value is nan; it must be a finite"),
        (lambda: crossing(least_squares([0, 1, 2], [1, 2, 3]), 5, 2, 0), "horizon is 0"),
        (lambda: crossing(least_squares([0, 1, 2], [1, 2, 3]), 5, 2, 9, "left"),
         "side is left; it must be one of highest, lowest"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_importing_it_loads_no_scipy():
    import subprocess
    import sys

    words = f"import sys, {trend.__name__}; print('scipy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", words], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
