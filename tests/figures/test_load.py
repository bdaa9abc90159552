"""The house's load: hand cases, energy kept, errors."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import load


def test_an_appliance_that_runs_overnight_in_winter():
    blanket = load.appliance_profile(0.1, (22, 6), months=(12, 1))
    assert blanket[0].sum() == approx(0.8)
    assert np.flatnonzero(blanket[11]).tolist() == [0, 1, 2, 3, 4, 5, 22, 23]
    assert blanket[5].sum() == 0


def test_house_energy_is_the_metered_one():
    energy = np.linspace(6, 12, 12)
    profile = load.house_profile(energy, [1] * 17 + [3] * 5 + [1] * 2)
    assert profile.sum(axis=1) == approx(energy)
    assert profile[3, 18] == approx(3 * profile[3, 0])


@given(
    house=arrays(float, (12, 24), elements=st.floats(0, 5)),
    part=st.floats(0, 1),
    first=st.integers(0, 22),
    length=st.integers(1, 8),
)
@settings(max_examples=40)
def test_moving_heavy_loads_keeps_each_days_energy(house, part, first, length):
    hours = (first, min(24, first + length))
    moved = load.moved_to_genset_hours(house, part * house, hours)
    assert moved.sum(axis=1) == approx(house.sum(axis=1), abs=1e-9)
    assert moved.min() >= 0


def test_the_load_follows_the_calendar():
    profile = np.zeros((12, 24))
    profile[1] = 1.0  # February alone
    series = load.hourly_load(profile, date(2028, 1, 31), 31)  # a leap year
    assert series.shape == (31 * 24,)
    assert series.sum() == 29 * 24
    assert series[:24].sum() == 0
    assert series[-24:].sum() == 0


def test_errors_name_the_quantity():
    with pytest.raises(OutOfRange, match=r"power is -1.0 kW; it must be 0 or more"):
        load.appliance_profile(-1.0)
    with pytest.raises(OutOfRange, match=r"hours of use is \(25, 3\)"):
        load.appliance_profile(1.0, (25, 3))
    with pytest.raises(OutOfRange, match=r"daily hours is 5.0 h; it must be within its hours"):
        load.appliance_profile(1.0, (8, 12), 5.0)
    with pytest.raises(OutOfRange, match=r"months of use is \(13,\)"):
        load.appliance_profile(1.0, months=(13,))
    with pytest.raises(OutOfRange, match=r"heavy load is 2.0 kW; it must be 0 to the house's load"):
        load.moved_to_genset_hours(np.ones((12, 24)), np.full((12, 24), 2.0), (16, 20))
    with pytest.raises(OutOfRange, match=r"shape of the load profile is \(24,\)"):
        load.hourly_load(np.ones(24), date(2026, 1, 1), 2)
    with pytest.raises(OutOfRange, match=r"daily energy is -3.0"):
        load.house_profile(-3.0, np.ones(24))
    with pytest.raises(OutOfRange, match=r"weight of a day is 0.0"):
        load.house_profile(3.0, np.zeros(24))
    with pytest.raises(OutOfRange, match=r"days is 0 d"):
        load.months_of_days(date(2026, 1, 1), 0)
