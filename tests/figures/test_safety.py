"""Safety dates: month ends, what was done last, errors."""

from datetime import date

import numpy as np
import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st

from steadbook.errors import OutOfRange
from steadbook.figures import safety


@settings(max_examples=200)
@given(st.dates(date(1990, 1, 1), date(2090, 1, 1)), st.integers(0, 25), st.integers(0, 30))
def test_later_agrees_with_dateutil(day, years, months):
    assert safety.later(day, years, months) == day + relativedelta(years=years, months=months)


def test_later_by_hand():
    assert safety.later(date(2026, 1, 31), months=1) == date(2026, 2, 28)
    assert safety.later(date(2028, 1, 31), months=1) == date(2028, 2, 29)
    assert safety.later(date(2026, 12, 15), months=1) == date(2027, 1, 15)
    assert safety.later(date(2026, 12, 15), 0.5) == date(2027, 6, 15)
    assert safety.later(date(2026, 12, 15)) == date(2026, 12, 15)


def test_hydrostatic_test_restarts_the_internal_examination():
    dates = safety.extinguisher_dates(
        date(2008, 5, 1), opened=date(2014, 5, 1), tested=date(2020, 6, 1)
    )
    assert dates.internal == date(2026, 6, 1)
    assert dates.hydrostatic == date(2032, 6, 1)


def test_last_look_and_service_count():
    dates = safety.extinguisher_dates(
        date(2020, 5, 1), looked_at=date(2026, 1, 31), serviced=date(2025, 11, 2)
    )
    assert dates.look == date(2026, 2, 28)
    assert dates.service == date(2026, 11, 2)


def test_unmarked_gas_alarms_take_the_short_life():
    made = date(2021, 2, 1)
    assert safety.gas_detector_replacement(made) == date(2026, 2, 1)
    assert safety.gas_detector_replacement(made, 7) == date(2028, 2, 1)


def test_no_people_need_no_water():
    assert safety.stored_water(0, 14) == 0
    assert safety.stored_water(0, 2, other=10.0) == 20
    assert safety.stored_water(np.array([1, 2]), 1, daily=4.0).tolist() == [4, 8]


@settings(max_examples=50)
@given(st.floats(0.1, 200), st.floats(5, 9))
def test_cloudy_water_takes_about_twice_the_drops(volume, strength):
    clear, cloudy = (safety.bleach_drops(volume, strength, dim) for dim in (False, True))
    assert 2 * clear - 2 <= cloudy <= 2 * clear + 1  # each is rounded up by itself


def test_boiling_as_array():
    assert safety.boiling_time(np.array([0.0, 3000.0])).tolist() == [1, 3]


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: safety.later(date(9999, 1, 1), 1), "year of a date is 10000.*9999"),
        (lambda: safety.extinguisher_dates(date(2020, 5, 1), "foam"), "kind is foam.*dry chemical"),
        (
            lambda: safety.extinguisher_dates(date(2020, 5, 1), tested=date(2019, 1, 1)),
            "date done is 2019-01-01; it must be not before 2020-05-01",
        ),
        (lambda: safety.smoke_alarm_replacement(date(2020, 5, 1), 0), "life is 0 years"),
        (lambda: safety.gas_detector_replacement(date(2020, 5, 1), -1), "life is -1 years"),
        (
            lambda: safety.cylinder_requalification(date(2020, 5, 1), None, "X"),
            "method is X.*external visual",
        ),
        (
            lambda: safety.cylinder_requalification(date(2020, 5, 1), date(2020, 4, 1)),
            "requalification is 2020-04-01; it must be not before 2020-05-01",
        ),
        (lambda: safety.stored_water(-1, 1), "people is -1"),
        (lambda: safety.stored_water(1, -1), "days is -1 d"),
        (lambda: safety.stored_water(1, 1, -1.0), "daily water is -1.0 L/d"),
        (lambda: safety.stored_water(1, 1, 1.0, -1.0), "other water is -1.0 L/d"),
        (lambda: safety.bleach_drops(0.0, 6.0), "volume is 0.0 L"),
        (lambda: safety.bleach_drops(1.0, 12.5), "strength is 12.5 %; it must be 5 to 9"),
    ],
)
def test_limits(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
