"""Power left at height and heat: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import engine

HEIGHT, HEAT = st.floats(0, 4000), st.floats(-40, 50)


def test_nothing_is_lost_at_and_below_the_base():
    assert engine.rule_of_thumb_share(0.0, 20.0) == 1.0
    assert engine.rule_of_thumb_share(-200.0, -40.0) == 1.0
    assert engine.rule_of_thumb_share(150.0, 20.0, base_height=152.4) == 1.0


def test_ten_percent_by_hand():
    # 10 %/km over 1 km, and 0.5 %/K over 20 K: 0.9 x 0.9.
    share = engine.rule_of_thumb_share(1000.0, 40.0, 10.0, 0.0, 0.5, 20.0)
    assert share == approx(0.81)


def test_reference_conditions_change_nothing():
    for kind in engine.ENGINE_KINDS.values():
        assert engine.indicated_power_ratio(100.0, 25.0, kind) == approx(1.0)
        assert engine.indicated_power_ratio(100.0, 25.0, kind, humidity=0.30) == approx(1.0)
    assert engine.adjusted_power_share(1.0) == 1.0
    assert engine.adjusted_fuel_factor(1.0) == 1.0
    assert engine.correction_factor(99.0, 25.0) == approx(1.0)


def test_an_engine_limited_by_heat_does_not_mind_pressure():
    kind = engine.ENGINE_KINDS["diesel limited by heat"]
    assert engine.indicated_power_ratio(70.0, 25.0, kind) == approx(1.0)


def test_moist_air_takes_power():
    dry = engine.indicated_power_ratio(95.0, 35.0, humidity=0.0)
    assert engine.indicated_power_ratio(95.0, 35.0, humidity=0.9) < dry


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: engine.rule_of_thumb_share(7000.0, 20.0), r"height above sea level is 7000\.0 m"),
        (lambda: engine.rule_of_thumb_share(0.0, 70.0), r"air temperature is 70\.0 degC"),
        (lambda: engine.rule_of_thumb_share(0.0, 20.0, -1.0), r"loss by height is -1\.0 %/km"),
        (
            lambda: engine.rule_of_thumb_share(0.0, 20.0, temperature_loss=-1.0),
            r"loss by temperature is -1\.0 %/K",
        ),
        (lambda: engine.indicated_power_ratio(30.0, 25.0), r"air pressure is 30\.0 kPa"),
        (lambda: engine.indicated_power_ratio(90.0, 75.0), r"air temperature is 75\.0 degC"),
        (
            lambda: engine.indicated_power_ratio(90.0, 25.0, humidity=30.0),
            r"relative humidity is 30\.0; it must be from 0 to 1",
        ),
        (lambda: engine.adjusted_power_share(0.0), r"indicated power ratio is 0\.0"),
        (lambda: engine.adjusted_power_share(0.9, 80.0), r"mechanical efficiency is 80\.0"),
        (lambda: engine.adjusted_fuel_factor(0.1), r"share of power left is 0\.0; .* above 0"),
        (lambda: engine.correction_factor(50.0, 25.0), r"dry air pressure is 50\.0 kPa"),
        (lambda: engine.correction_factor(90.0, 65.0), r"air temperature is 65\.0 degC"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_array_equals_scalar():
    heights = np.array([0.0, 1000.0, 3000.0])
    assert engine.rule_of_thumb_share(heights, 35.0) == approx(
        [engine.rule_of_thumb_share(float(height), 35.0) for height in heights]
    )
    pressures = np.array([70.0, 85.0, 100.0])
    assert engine.correction_factor(pressures, 30.0) == approx(
        [engine.correction_factor(float(pressure), 30.0) for pressure in pressures]
    )


@given(HEIGHT, HEIGHT, HEAT, HEAT)
def test_higher_and_hotter_never_gives_more(one, other, cold, warm):
    (low, high), (colder, hotter) = sorted((one, other)), sorted((cold, warm))
    assert engine.rule_of_thumb_share(high, hotter) <= engine.rule_of_thumb_share(low, colder)


@given(st.floats(0.5, 1.0))
def test_the_shaft_loses_more_than_the_cylinder(ratio):
    assert engine.adjusted_power_share(ratio) <= ratio
    assert engine.adjusted_fuel_factor(ratio) >= 1.0
