"""Fuel used by genset, appliances and heating: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import consumption


def test_the_line_passes_through_both_points():
    line = consumption.load_line(8.0, 3.0, 5.0)
    assert line == (1.0, 0.5, 8.0)
    assert consumption.line_burn_rate(np.array([0.0, 4.0, 8.0]), *line) == approx([1.0, 3.0, 5.0])


def test_one_kilowatt_for_an_hour_is_3_6_megajoules():
    assert consumption.burn_rate(1.0, 0.36, 10.0) == approx(1.0)
    assert consumption.efficiency(1.0, 1.0, 10.0) == approx(0.36)


def test_heating_by_hand():
    # 100 W/K over 10 K for a day is 1 kW x 24 h = 86.4 MJ.
    assert consumption.heating_use(10.0, 100.0, 0.5, 86.4) == approx(2.0)


def test_appliance_by_hand():
    assert consumption.appliance_use(5.0, 4.0, 0.5, 36.0) == approx(1.0)
    assert consumption.appliance_use(5.0, 0.0, 1.0, 36.0) == 0.0


def test_no_degree_days_in_summer():
    assert consumption.degree_days(25.0) == 0.0
    assert consumption.degree_days(np.array([18.0, 8.0]), 18.0) == approx([0.0, 10.0])


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: consumption.load_line(0.0, 1.0, 2.0), r"genset rating is 0\.0 kW"),
        (lambda: consumption.load_line(5.0, 0.0, 2.0), r"fuel at half load is 0\.0 L/h"),
        (lambda: consumption.load_line(5.0, 2.0, 2.0), r"fuel at full load is 2\.0 L/h"),
        (
            lambda: consumption.load_line(5.0, 2.0, 4.1),
            r"fuel at full load is 4\.1 .* twice it \(4\)",
        ),
        (
            lambda: consumption.line_burn_rate(10.1, 1.0, 0.4, 10.0),
            r"genset load is 10\.1 kW; it must be from 0 to the rating of 10",
        ),
        (lambda: consumption.line_burn_rate(-1.0, 1.0, 0.4, 10.0), r"genset load is -1\.0 kW"),
        (lambda: consumption.line_burn_rate(1.0, -1.0, 0.4, 10.0), r"fuel at no load is -1\.0"),
        (lambda: consumption.line_burn_rate(1.0, 1.0, 0.0, 10.0), r"fuel for a kWh is 0\.0 L/kWh"),
        (lambda: consumption.burn_rate(-1.0, 0.2, 25.0), r"load is -1\.0 kW"),
        (lambda: consumption.burn_rate(1.0, 22.0, 25.0), r"efficiency is 22\.0; .* below 1"),
        (lambda: consumption.burn_rate(1.0, 0.2, 0.0), r"heating value is 0\.0 MJ/L"),
        (lambda: consumption.efficiency(-1.0, 1.0, 25.0), r"load is -1\.0 kW"),
        (lambda: consumption.efficiency(1.0, 0.0, 25.0), r"burn rate is 0\.0 L/h"),
        (lambda: consumption.efficiency(1.0, 1.0, 0.0), r"heating value is 0\.0 MJ/L"),
        (
            lambda: consumption.efficiency(10.0, 1.0, 25.0),
            r"efficiency is 1\.44; it must be below 1",
        ),
        (lambda: consumption.runtime(-1.0, 1.0), r"usable fuel is -1\.0 L; it must be 0 or more"),
        (lambda: consumption.runtime(1.0, 0.0), r"burn rate is 0\.0 L/h; it must be more than 0"),
        (lambda: consumption.days_left(-1.0, 1.0), r"usable fuel is -1\.0 L"),
        (lambda: consumption.days_left(1.0, 0.0), r"daily use is 0\.0 L/d; it must be more than 0"),
        (lambda: consumption.appliance_use(-1.0, 1.0, 0.5, 25.0), r"appliance rating is -1\.0 kW"),
        (lambda: consumption.appliance_use(1.0, 25.0, 0.5, 25.0), r"hours in a day is 25\.0 h/d"),
        (
            lambda: consumption.appliance_use(1.0, 1.0, 1.5, 25.0),
            r"duty is 1\.5; it must be from 0",
        ),
        (lambda: consumption.appliance_use(1.0, 1.0, 0.5, 0.0), r"heating value is 0\.0 MJ/L"),
        (lambda: consumption.degree_days(-99.0), r"mean temperature is -99\.0 degC"),
        (lambda: consumption.heating_use(-1.0, 1.0, 0.9, 25.0), r"degree days is -1\.0 K\*d"),
        (lambda: consumption.heating_use(1.0, -1.0, 0.9, 25.0), r"heat loss is -1\.0 W/K"),
        (
            lambda: consumption.heating_use(1.0, 1.0, 0.0, 25.0),
            r"efficiency is 0\.0; it must be above",
        ),
        (lambda: consumption.heating_use(1.0, 1.0, 0.9, 0.0), r"heating value is 0\.0 MJ/L"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_array_equals_scalar():
    loads = np.array([0.5, 2.0, 4.0])
    assert consumption.burn_rate(loads, 0.2, 25.0) == approx(
        [consumption.burn_rate(float(load), 0.2, 25.0) for load in loads]
    )
    assert consumption.runtime(loads, 2.0) == approx([0.25, 1.0, 2.0])


@given(st.floats(1, 50), st.floats(0.5, 20), st.floats(1.01, 2), st.floats(0, 1))
def test_more_load_never_uses_less(rating, half, times, share):
    line = consumption.load_line(rating, half, half * times)
    at_part = consumption.line_burn_rate(rating * share, *line)
    assert line.no_load_rate - 1e-9 <= at_part <= half * times * (1 + 1e-9)


@given(st.floats(0.1, 50), st.floats(0.05, 0.5))
def test_efficiency_undoes_burn_rate(load, share):
    rate = consumption.burn_rate(load, share, 25.0)
    assert consumption.efficiency(load, rate, 25.0) == approx(share)
