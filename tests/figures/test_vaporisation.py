"""Gas from a cold tank: table edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import vaporisation
from steadbook.figures._factors import BTU_PER_HOUR, POUND, celsius


def test_the_table_of_fill_ends_are_held_or_end():
    assert vaporisation.fill_factor(80.0) == 100.0
    assert vaporisation.fill_factor(10.0) == 45.0
    assert vaporisation.fill_factor(9.9) == 0.0


def test_nothing_is_promised_at_minus_20_fahrenheit():
    assert vaporisation.air_factor(celsius(-20.0)) == approx(0.0, abs=1e-12)
    assert vaporisation.air_factor(-40.0) == 0.0
    assert vaporisation.air_factor(40.0) == 2.0


def test_coldest_is_where_supply_meets_demand():
    cold = vaporisation.coldest_supply(800.0, 2200.0, 35.0, 20.0)
    assert vaporisation.tank_supply(800.0, 2200.0, 35.0, cold) == approx(20.0)


def test_a_demand_past_the_table_is_never_fed():
    assert np.isinf(vaporisation.coldest_supply(800.0, 2200.0, 35.0, 500.0))
    assert np.isinf(vaporisation.coldest_supply(800.0, 2200.0, 5.0, 1.0))


def test_coldest_per_fill_level_is_an_array():
    fills = np.array([60.0, 40.0, 20.0, 5.0])
    coldest = vaporisation.coldest_supply(800.0, 2200.0, fills, 20.0)
    assert coldest.shape == (4,)
    assert np.all(np.diff(coldest[:3]) > 0) and np.isinf(coldest[3])


def test_cylinder_between_rows_and_columns():
    # Half way between 20 and 30 lb, half way between 20 and 40 F:
    # (51 + 68 + 66 + 85) / 4 thousand Btu/h.
    supply = vaporisation.cylinder_supply(25 * POUND, celsius(30.0))
    assert supply == approx(67_500 * BTU_PER_HOUR)


def test_cylinder_off_the_table_promises_nothing():
    assert vaporisation.cylinder_supply(5 * POUND, celsius(40.0)) == 0.0
    assert vaporisation.cylinder_supply(50 * POUND, celsius(-5.0)) == 0.0
    assert vaporisation.cylinder_supply(100 * POUND, celsius(90.0)) == approx(
        300_000 * BTU_PER_HOUR
    )


def test_cylinders_on_one_manifold_add():
    each = vaporisation.cylinder_supply(np.array([10.0, 20.0, 30.0]), 0.0)
    assert vaporisation.manifold_supply(each) == approx(sum(each))


def test_whole_tanks_are_counted():
    assert vaporisation.units_needed(0.0, 10.0) == 0
    assert vaporisation.units_needed(30.0, 10.0) == 3
    assert vaporisation.units_needed(30.1, 10.0) == 4


def test_array_equals_scalar():
    fills, airs = np.array([10.0, 33.0, 70.0]), np.array([-25.0, -10.0, 5.0])
    both = vaporisation.tank_supply(800.0, 2200.0, fills, airs)
    assert both == approx(
        [
            vaporisation.tank_supply(800.0, 2200.0, float(f), float(a))
            for f, a in zip(fills, airs, strict=True)
        ]
    )
    masses = np.array([5.0, 20.0, 45.0])
    assert vaporisation.cylinder_supply(masses, airs) == approx(
        [
            vaporisation.cylinder_supply(float(m), float(a))
            for m, a in zip(masses, airs, strict=True)
        ]
    )


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: vaporisation.fill_factor(101.0), r"fill is 101\.0 %; it must be from 0 to 100"),
        (lambda: vaporisation.air_factor(-70.0), r"air temperature is -70\.0 degC"),
        (lambda: vaporisation.tank_supply(0.0, 1.0, 20.0, 0.0), r"tank diameter is 0\.0 mm"),
        (lambda: vaporisation.tank_supply(1.0, -1.0, 20.0, 0.0), r"tank length is -1\.0 mm"),
        (lambda: vaporisation.coldest_supply(1.0, 1.0, 20.0, 0.0), r"gas demand is 0\.0 kW"),
        (lambda: vaporisation.cylinder_supply(46.0, 0.0), r"propane in a cylinder is 46\.0 kg"),
        (lambda: vaporisation.cylinder_supply(1.0, 99.0), r"cylinder temperature is 99\.0 degC"),
        (lambda: vaporisation.manifold_supply(np.array([-1.0])), r"gas supply is -1\.0 kW"),
        (lambda: vaporisation.units_needed(1.0, 0.0), r"gas supply of one is 0\.0 kW"),
        (lambda: vaporisation.feeds(-1.0, 0.0), r"gas demand is -1\.0 kW"),
        (lambda: vaporisation.feeds(1.0, -2.0), r"gas supply is -2\.0 kW"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


@given(st.floats(10, 100), st.floats(10, 100), st.floats(-50, 50))
def test_a_fuller_tank_never_gives_less(one, other, air):
    low, high = sorted((one, other))
    assert vaporisation.tank_supply(800.0, 2200.0, low, air) <= vaporisation.tank_supply(
        800.0, 2200.0, high, air
    )


@given(st.floats(4.6, 45), st.floats(4.6, 45), st.floats(-17, 25), st.floats(-17, 25))
def test_a_fuller_warmer_cylinder_never_gives_less(one, other, cold, warm):
    (low, high), (colder, warmer) = sorted((one, other)), sorted((cold, warm))
    assert (
        vaporisation.cylinder_supply(low, colder)
        <= vaporisation.cylinder_supply(high, warmer) + 1e-9
    )
