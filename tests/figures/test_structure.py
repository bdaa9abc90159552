"""Snow, chimney, clearances: hand cases, properties, errors."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import structure


def test_no_snow_no_load():
    assert structure.snow_load(0.0, 300.0) == 0


@settings(max_examples=40)
@given(st.floats(0.01, 0.9), st.floats(60, 200), st.floats(50, 1500))
def test_a_weighed_core_gives_the_load_whatever_its_depth(share_of_ice, tube, depth):
    area = np.pi / 4 * (tube / 1000) ** 2
    mass = share_of_ice * 917 * area * depth / 1000
    density = structure.snow_density(mass, tube, depth)
    load = structure.snow_load(depth / 1000, density)
    assert load == approx(mass / area * 9.80665 / 1000)


@settings(max_examples=40)
@given(st.floats(0, 2), st.floats(0, 20))
def test_chimney_is_never_under_three_feet_and_rises_with_the_slope(slope, distance):
    height = structure.chimney_height(slope, distance)
    assert height >= 3 * 0.3048
    assert structure.chimney_height(slope + 0.1, distance) >= height


def test_clearance_kept():
    assert structure.clearance_short("stove without a listing", 1000.0) == 0


def test_array_equals_scalars():
    depths = np.array([0.0, 0.5, 2.0])
    each = [structure.snow_load(depth, 250.0) for depth in depths]
    assert structure.snow_load(depths, 250.0) == approx(each)
    assert structure.share_of_design_load(np.array([1.0, 2.0]), 2.0) == approx([0.5, 1.0])


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: structure.snow_density(-1.0, 100.0, 500.0), "mass is -1.0 kg"),
        (lambda: structure.snow_density(1.0, 0.0, 500.0), "tube diameter is 0.0 mm"),
        (lambda: structure.snow_density(1.0, 100.0, 0.0), "snow depth is 0.0 mm"),
        (lambda: structure.snow_density(9.0, 100.0, 500.0), "snow density is 2291.*917, ice"),
        (lambda: structure.snow_load(-1.0, 300.0), "snow depth is -1.0 m"),
        (lambda: structure.snow_load(1.0, 1000.0), "snow density is 1000.0"),
        (lambda: structure.share_of_design_load(-1.0, 2.0), "snow load is -1.0 kPa"),
        (lambda: structure.share_of_design_load(1.0, 0.0), "design load is 0.0 kPa"),
        (lambda: structure.chimney_height(-1.0, 2.0), "roof slope is -1.0"),
        (lambda: structure.chimney_height(1.0, -2.0), "distance to ridge is -2.0 m"),
        (lambda: structure.clearance_short("wall", 2.0), "thing is wall.*masonry chimney"),
        (lambda: structure.clearance_short("masonry chimney outside", -2.0), "distance is -2.0"),
    ],
)
def test_limits(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
