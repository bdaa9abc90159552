"""Cost of energy, upkeep and replacement: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import cost

DUE = arrays(float, st.integers(1, 15), elements=st.floats(0, 5000))


def test_a_kilowatt_hour_by_hand():
    # 4 L at 1.00 for 8 kWh; 40 a service in 100 h; 1,600 in 2,000 h.
    parts = cost.energy_cost(8.0, 4.0, 1.0, 40.0, 100.0, 1600.0, 2000.0)
    assert parts == approx((0.5, 0.05, 0.1))
    assert parts.total == approx(0.65)


def test_half_the_load_wears_twice_for_each_kilowatt_hour():
    loads = np.array([2.0, 4.0])
    parts = cost.energy_cost(loads, 2.0, 1.0, 40.0, 100.0)
    assert parts.service[0] == approx(2 * parts.service[1])
    assert parts.total == approx([parts.total[0], parts.total[1]])


def test_upkeep_by_hand():
    assert cost.annual_upkeep([100.0, 50.0], [2.0, 0.5]) == approx(150.0)
    assert cost.annual_upkeep([], []) == 0.0


def test_payback_by_hand():
    assert cost.simple_payback(900.0, 300.0) == 3.0
    assert cost.simple_payback(0.0, 300.0) == 0.0


def test_replacements_fall_in_their_years():
    # One due now, one in 3.5 years, one at the end of year 2 and again at 7.
    due = cost.replacement_years([10.0, 20.0, 40.0], [20.0, 5.0, 5.0], [25.0, 1.5, 3.0])
    assert due == approx([10, 40, 0, 20, 0, 0, 40, 0, 20, 0])


def test_payment_without_interest_by_hand():
    # 1,000 by year 2 asks 500 a year, though the ten years ask 100.
    due = np.array([0.0, 1000.0, *[0.0] * 8])
    assert cost.level_payment(due) == approx(500.0)
    assert cost.level_payment(due, balance=400.0) == approx(300.0)
    assert cost.level_payment(due, balance=2000.0) == 0.0
    assert cost.level_payment([]) == 0.0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: cost.energy_cost(0.0, 1.0, 1.0), r"load is 0\.0 kW"),
        (lambda: cost.energy_cost(1.0, 0.0, 1.0), r"burn rate is 0\.0 L/h"),
        (lambda: cost.energy_cost(1.0, 1.0, -1.0), r"fuel price is -1\.0 money/L"),
        (lambda: cost.energy_cost(1.0, 1.0, 1.0, -1.0), r"cost of a service is -1\.0"),
        (lambda: cost.energy_cost(1.0, 1.0, 1.0, 1.0, 0.0), r"service interval is 0\.0 h"),
        (lambda: cost.energy_cost(1.0, 1.0, 1.0, overhaul_cost=-1.0), r"overhaul is -1\.0"),
        (lambda: cost.energy_cost(1.0, 1.0, 1.0, overhaul_interval=0.0), r"hours to overhaul is 0"),
        (lambda: cost.annual_upkeep([-1.0], [1.0]), r"cost of a job is -1\.0"),
        (lambda: cost.annual_upkeep([1.0], [0.0]), r"interval is 0\.0 yr"),
        (lambda: cost.sinking_fund(-1.0, 1.0), r"cost of replacement is -1\.0"),
        (lambda: cost.sinking_fund(1.0, 0.0), r"years to replacement is 0\.0 yr"),
        (lambda: cost.sinking_fund(1.0, 1.0, 5.0), r"interest is 5\.0 1/yr; .* from 0 to 1"),
        (lambda: cost.replacement_years([-1.0], [5.0], [1.0]), r"cost of replacement is -1\.0"),
        (lambda: cost.replacement_years([1.0], [0.5], [1.0]), r"life is 0\.5 yr"),
        (lambda: cost.replacement_years([1.0], [5.0], [-1.0]), r"age is -1\.0 yr"),
        (lambda: cost.replacement_years([1.0], [5.0], [1.0], 0), r"years ahead is 0 yr"),
        (lambda: cost.level_payment([-1.0]), r"money due is -1\.0"),
        (lambda: cost.level_payment([1.0], -1.0), r"balance of the fund is -1\.0"),
        (lambda: cost.level_payment([1.0], 0.0, -0.1), r"interest is -0\.1 1/yr"),
        (lambda: cost.simple_payback(-1.0, 1.0), r"extra cost is -1\.0"),
        (lambda: cost.simple_payback(1.0, 0.0), r"yearly saving is 0\.0 money/yr"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_array_equals_scalar():
    years = np.array([1.0, 5.0, 10.0])
    for interest in (0.0, 0.05):
        assert cost.sinking_fund(1000.0, years, interest) == approx(
            [cost.sinking_fund(1000.0, float(year), interest) for year in years]
        )


@given(DUE, st.floats(0, 2000), st.sampled_from([0.0, 0.03]))
def test_the_fund_never_runs_dry_and_not_a_coin_is_too_much(due, balance, interest):
    payment = cost.level_payment(due, balance, interest)
    fund, lowest = balance, float("inf")
    for owed in due:
        fund = fund * (1 + interest) + payment - owed
        lowest = min(lowest, fund)
    assert lowest >= -1e-6
    assert payment == 0 or lowest == approx(0.0, abs=1e-6)


@given(st.floats(1, 30), st.floats(0, 30), st.integers(1, 30))
def test_as_many_replacements_as_lives_passed(life, age, years):
    count = cost.replacement_years([1.0], [life], [age], years).sum()
    expected = (years - max(life - age, 0.0)) / life + 1
    assert count == approx(expected, abs=1.0) or count == 0
