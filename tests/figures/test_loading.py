"""What a genset carries: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import loading

LOADS = st.lists(st.tuples(st.floats(0, 5), st.floats(0, 5)), min_size=1, max_size=6)


def test_charging_power_by_hand():
    assert loading.charging_power(10.0, 0.8, 2.0, 0.75) == approx(4.0)
    assert loading.charging_power(10.0, 0.8, 7.0) == 0.0


def test_the_charger_limit_or_the_power_whichever_is_less():
    assert loading.charge_current(4.0, 50.0, 60.0, 1.0) == approx(60.0)
    assert loading.charge_current(4.0, 50.0, 100.0, 1.0) == approx(80.0)
    assert loading.charge_current(0.0, 50.0, 100.0) == 0.0


def test_the_hardest_start_comes_last():
    # A pump of 1 kW that starts at 3, a freezer of 0.2 that starts at 1: 1.2 + 2.
    assert loading.peak_load([1.0, 0.2], [3.0, 1.0]) == approx(3.2)
    assert loading.peak_load([], []) == 0.0


def test_running_loads_alone_can_be_too_much():
    assert not loading.can_run_together([3.0, 2.0], [3.0, 2.0], 4.0, 10.0)
    assert loading.can_run_together([2.0, 2.0], [2.0, 2.0], 4.0)
    assert not loading.can_run_together([2.0, 1.5], [2.0, 2.5], 4.0)
    assert loading.can_run_together([2.0, 1.5], [2.0, 2.5], 4.0, 4.5)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: loading.charging_power(0.0, 1.0, 0.0), r"genset rating is 0\.0 kW"),
        (lambda: loading.charging_power(5.0, 1.2, 0.0), r"share of power left is 1\.2"),
        (lambda: loading.charging_power(5.0, 1.0, 0.0, 0.0), r"continuous loading is 0\.0"),
        (
            lambda: loading.charging_power(5.0, 0.8, 4.5),
            r"house load is 4\.5 kW; it must be from 0 to 4, what the genset can give here",
        ),
        (lambda: loading.charging_power(5.0, 0.8, -1.0), r"house load is -1\.0 kW"),
        (lambda: loading.peak_load([-1.0], [1.0]), r"running load is -1\.0 kW"),
        (lambda: loading.peak_load([1.0, 2.0], [1.0, 1.5]), r"starting load is 1\.5 kW"),
        (lambda: loading.can_run_together([1.0], [1.0], 0.0), r"genset rating is 0\.0 kW"),
        (lambda: loading.can_run_together([1.0], [1.0], 2.0, 1.0), r"surge rating is 1\.0 kW"),
        (lambda: loading.charge_current(-1.0, 50.0, 60.0), r"charging power is -1\.0 kW"),
        (lambda: loading.charge_current(1.0, 0.0, 60.0), r"battery voltage is 0\.0 V"),
        (lambda: loading.charge_current(1.0, 50.0, 0.0), r"charger limit is 0\.0 A"),
        (lambda: loading.charge_current(1.0, 50.0, 60.0, 90.0), r"charger efficiency is 90\.0"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_array_equals_scalar():
    loads = np.array([0.0, 1.0, 5.0])
    assert loading.charging_power(10.0, 0.8, loads) == approx(
        [loading.charging_power(10.0, 0.8, float(load)) for load in loads]
    )
    assert loading.charge_current(loads, 50.0, 60.0) == approx(
        [loading.charge_current(float(load), 50.0, 60.0) for load in loads]
    )


@given(LOADS)
def test_the_order_of_starts_never_beats_the_peak(loads):
    running = np.array([min(pair) for pair in loads])
    starting = np.array([max(pair) for pair in loads])
    peak = loading.peak_load(running, starting)
    for last in range(len(loads)):
        assert running.sum() - running[last] + starting[last] <= peak + 1e-9
