"""Septic tank: between the table's rows, measured solids, flow, errors."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import septic

GAL = 3.785411784


def test_halfway_between_two_tanks():
    # 1000 gal 2.6 and 1250 gal 3.4 years for four people
    assert septic.pumping_interval(1125 * GAL, 4) == approx(3.0)


def test_part_of_a_person_counts_whole():
    assert septic.pumping_interval(1000 * GAL, 3.2) == septic.pumping_interval(1000 * GAL, 4)


def test_a_tank_above_the_table_counts_as_its_largest():
    given_years = septic.pumping_interval(4000 * GAL, 6, cap=99.0)
    assert given_years == approx(4.8)


def test_half_the_year_doubles_the_interval():
    assert septic.pumping_interval(1000 * GAL, 5, occupancy=0.5) == approx(4.0)


def test_too_small_for_ten():
    assert septic.pumping_interval(500 * GAL, 10) == 0


@settings(max_examples=60)
@given(st.floats(500, 2500), st.integers(1, 9), st.floats(0, 500))
def test_longer_with_tank_and_shorter_with_people(gallons, people, more):
    base = septic.pumping_interval(gallons * GAL, people, cap=99.0)
    assert septic.pumping_interval((gallons + more) * GAL, people, cap=99.0) >= base - 1e-9
    assert septic.pumping_interval(gallons * GAL, people + 1, cap=99.0) <= base


def test_measured_rule_of_three():
    assert septic.years_left_by_measure(0.10, 1.0) == approx(1.5)
    assert septic.years_left_by_measure(0.0, 1.0) == 4  # clean: the cap decides
    assert septic.years_left_by_measure(0.01, 6.0) == 0  # past the cap
    shares = np.array([0.05, 0.125, 0.3])
    each = [septic.years_left_by_measure(share, 2.0) for share in shares]
    assert septic.years_left_by_measure(shares, 2.0) == approx(each)


def test_measure_as_array():
    due = septic.is_due_by_measure(np.array([0.1, 0.3]), 300.0, 600.0)
    assert due.tolist() == [False, True]


def test_flow_and_retention():
    assert septic.daily_flow(0) == 0
    assert septic.retention(1000.0, 500.0) == 2
    assert septic.retention(1000.0, 500.0, 1.0) == 0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: septic.pumping_interval(1000.0, 4), "tank volume is 1000.0 L.*500 US gal"),
        (lambda: septic.pumping_interval(4000.0, 11), "people is 11.*at most 10"),
        (lambda: septic.pumping_interval(4000.0, 0), "people is 0"),
        (lambda: septic.pumping_interval(4000.0, 4, 0.0), "occupancy is 0.0"),
        (lambda: septic.pumping_interval(4000.0, 4, 1.0, 1.0), "extra solids is 1.0"),
        (lambda: septic.pumping_interval(4000.0, 4, cap=0.0), "cap is 0.0 years"),
        (lambda: septic.solids_share(-1.0, 0.0, 1200.0), "sludge is -1.0 mm"),
        (lambda: septic.solids_share(0.0, -1.0, 1200.0), "scum is -1.0 mm"),
        (lambda: septic.solids_share(0.0, 0.0, 0.0), "liquid depth is 0.0 mm"),
        (lambda: septic.solids_share(900.0, 400.0, 1200.0), "sludge and scum is 1300.0 mm"),
        (lambda: septic.is_due_by_measure(25.0, 1.0, 1.0), "solids is 25.0.*0 to 1"),
        (lambda: septic.years_left_by_measure(2.0, 1.0), "solids is 2.0"),
        (lambda: septic.years_left_by_measure(0.1, 0.0), "time since pumping is 0.0 years"),
        (lambda: septic.years_left_by_measure(0.1, 1.0, 0.0), "cap is 0.0 years"),
        (lambda: septic.daily_flow(-1), "people is -1"),
        (lambda: septic.daily_flow(1, -1.0), "daily use is -1.0 L"),
        (lambda: septic.retention(0.0, 1.0), "tank volume is 0.0 L"),
        (lambda: septic.retention(1.0, 0.0), "daily flow is 0.0 L/d"),
        (lambda: septic.retention(1.0, 1.0, 2.0), "solids is 2.0"),
    ],
)
def test_limits(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
