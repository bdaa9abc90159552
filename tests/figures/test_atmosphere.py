"""Standard atmosphere, density and moisture of air: edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import atmosphere

HEIGHT = st.floats(-1000, 10_999)


def test_sea_level_is_the_definition():
    assert atmosphere.pressure(0.0) == 101.325
    assert atmosphere.temperature(0.0) == approx(15.0)
    assert atmosphere.air_density(101.325, 15.0) == approx(1.2250, abs=5e-5)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: atmosphere.pressure(12_000.0), r"height above sea level is 12000\.0 m"),
        (lambda: atmosphere.temperature(-1001.0), r"height above sea level is -1001\.0 m"),
        (lambda: atmosphere.pressure_height(10.0), r"pressure is 10\.0 kPa"),
        (lambda: atmosphere.air_density(0.0, 20.0), r"air pressure is 0\.0 kPa; .* more than 0"),
        (lambda: atmosphere.air_density(100.0, -273.0), r"air temperature is -273\.0 degC"),
        (lambda: atmosphere.saturation_pressure(61.0), r"air temperature is 61\.0 degC"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_array_equals_scalar():
    heights = np.array([-500.0, 0.0, 1500.0])
    assert atmosphere.pressure(heights) == approx(
        [atmosphere.pressure(float(height)) for height in heights]
    )


@given(HEIGHT)
def test_height_undoes_pressure(height):
    assert atmosphere.pressure_height(atmosphere.pressure(height)) == approx(height, abs=1e-6)


@given(HEIGHT, st.floats(1, 100))
def test_higher_air_is_thinner(height, step):
    upper = min(height + step, 11_000.0)
    assert atmosphere.pressure(upper) < atmosphere.pressure(height)
