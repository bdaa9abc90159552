"""Frost depth: hand cases, properties, errors."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import frost_depth as frost

SILT = {"season": 150.0, "mean_annual": 4.0, "dry_density": 1600.0, "moisture": 0.15}


def test_no_frost_no_depth():
    assert frost.freezing_index(np.array([1.0, 20.0])) == 0
    assert frost.stefan_depth(0.0, 2.0, 1e8) == 0
    assert frost.frost_depth(0.0, conductivity=1.4, **SILT) == 0


def test_stefan_by_hand():
    # 2 x 1 x 86400 x 500 / 8.64e7 is 1 m2
    assert frost.stefan_depth(500.0, 1.0, 8.64e7) == approx(1.0)


@settings(max_examples=40)
@given(st.floats(0, 5), st.floats(0.01, 1))
def test_factor_is_a_share_and_falls_with_warm_ground(ratio, parameter):
    factor = frost.berggren_factor(ratio, parameter)
    assert 0 < frost.berggren_factor(ratio + 0.5, parameter) < factor <= 1


@settings(max_examples=30)
@given(st.floats(50, 2500))
def test_deeper_with_cold_and_bare_ground(index):
    bare = frost.frost_depth(index, conductivity=1.4, **SILT)
    assert frost.frost_depth(index + 100, conductivity=1.4, **SILT) > bare
    assert frost.frost_depth(index, conductivity=1.4, surface_factor=0.5, **SILT) < bare


def test_never_deeper_than_stefan():
    fusion = frost.soil_fusion_heat(1600.0, 0.15)
    assert frost.frost_depth(900.0, conductivity=1.4, **SILT) < frost.stefan_depth(
        900.0, 1.4, fusion
    )


def test_array_equals_scalars():
    index = np.array([100.0, 800.0, 2000.0])
    each = [frost.frost_depth(one, conductivity=1.4, **SILT) for one in index]
    assert frost.frost_depth(index, conductivity=1.4, **SILT) == approx(each)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: frost.soil_fusion_heat(0.0, 0.1), "dry density is 0.0"),
        (lambda: frost.soil_fusion_heat(1600.0, 0.0), "soil moisture is 0.0"),
        (lambda: frost.stefan_depth(-1.0, 1.0, 1.0), "freezing index is -1.0"),
        (lambda: frost.stefan_depth(1.0, 0.0, 1.0), "conductivity is 0.0"),
        (lambda: frost.stefan_depth(1.0, 1.0, 0.0), "fusion heat is 0.0"),
        (lambda: frost.berggren_factor(-1.0, 0.1), "thermal ratio is -1.0"),
        (lambda: frost.berggren_factor(1.0, 0.0), "fusion parameter is 0.0"),
        (lambda: frost.frost_depth(-1.0, conductivity=1.0, **SILT), "freezing index is -1.0"),
        (
            lambda: frost.frost_depth(9.0, conductivity=1.0, **{**SILT, "season": 0.0}),
            "season is 0.0 d",
        ),
        (
            lambda: frost.frost_depth(9.0, conductivity=1.0, **{**SILT, "mean_annual": -2.0}),
            "mean temperature is -2.0 degC",
        ),
        (
            lambda: frost.frost_depth(9.0, conductivity=1.0, surface_factor=0.0, **SILT),
            "surface factor is 0.0",
        ),
        (lambda: frost.bury_depth(-1.0), "frost depth is -1.0 m"),
        (lambda: frost.bury_depth(1.0, -1.0), "cover is -1.0 m"),
    ],
)
def test_limits(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
