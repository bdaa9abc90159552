"""Pressure, density and volume of propane: edges, errors, properties."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import propane

TEMPERATURE = st.floats(-60, 59)


def test_volume_at_the_reference_itself_is_unchanged():
    assert propane.volume_factor(propane.REFERENCE_TEMPERATURE) == approx(1.0, abs=1e-12)


def test_reference_temperature_is_60_fahrenheit():
    assert propane.vapour_pressure(15.5556) == approx(
        propane.vapour_pressure(propane.REFERENCE_TEMPERATURE), rel=1e-5
    )


@pytest.mark.parametrize("temperature", [-60.1, 60.1, math.nan, -300.0])
@pytest.mark.parametrize("figure", [propane.vapour_pressure, propane.liquid_density])
def test_outside_the_correlation_is_refused(figure, temperature):
    with pytest.raises(
        OutOfRange, match=r"propane temperature is .* degC; it must be from -60 to 60"
    ):
        figure(temperature)


def test_negative_liquid_is_refused():
    with pytest.raises(OutOfRange, match=r"liquid propane is -1\.0 L; it must be 0 or more"):
        propane.vapour_volume(-1.0)


def test_array_equals_scalar():
    temperatures = np.array([-40.0, 0.0, 15.5, 43.3])
    for figure in (propane.vapour_pressure, propane.liquid_density, propane.volume_factor):
        assert figure(temperatures) == approx([figure(float(t)) for t in temperatures], rel=1e-14)


@given(TEMPERATURE, st.floats(0.01, 1.0))
def test_warmer_means_more_pressure_and_less_density(temperature, step):
    assert propane.vapour_pressure(temperature + step) > propane.vapour_pressure(temperature)
    assert propane.liquid_density(temperature + step) < propane.liquid_density(temperature)


@given(TEMPERATURE, TEMPERATURE)
def test_there_and_back_is_no_change(one, other):
    assert propane.volume_factor(one, other) * propane.volume_factor(other, one) == approx(1.0)
