"""Well chlorination: hand cases, cautions, errors."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import chlorination


def test_dry_well_needs_no_bleach():
    assert chlorination.well_dose(152.4, 0.0, 5.25) == 0


def test_volume_by_hand():
    # 1 m of 112.84 mm bore is 10 L
    assert chlorination.casing_volume(112.838, 1.0) == approx(10.0, abs=1e-3)


def test_dose_by_hand():
    # 1 L of 1 % bleach holds 10,000 mg: it brings 100 L to 100 mg/L
    assert chlorination.bleach_volume(100.0, 100.0, 1.0) == 1
    assert chlorination.granules_mass(100.0, 100.0, 50.0) == 20


@settings(max_examples=40)
@given(st.floats(50, 900), st.floats(0, 200), st.floats(1, 12), st.floats(0, 500))
def test_plumbing_adds_its_own_share(diameter, depth, strength, plumbing):
    alone = chlorination.well_dose(diameter, depth, strength)
    extra = chlorination.bleach_volume(plumbing, chlorination.TARGET, strength)
    both = chlorination.well_dose(diameter, depth, strength, plumbing=plumbing)
    assert both == approx(alone + extra)


def test_array_equals_scalars():
    bores = np.array([101.6, 152.4, 203.2])
    each = [chlorination.well_dose(bore, 30.0, 6.0) for bore in bores]
    assert chlorination.well_dose(bores, 30.0, 6.0) == approx(each)


def test_cautions_are_whole_and_worst_first():
    order = ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    words = [caution.word for caution in chlorination.CAUTIONS]
    assert words == sorted(words, key=order.index)
    assert all(part.endswith(".") for caution in chlorination.CAUTIONS for part in caution[1:])


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: chlorination.casing_volume(0.0, 1.0), "casing diameter is 0.0 mm"),
        (lambda: chlorination.casing_volume(100.0, -1.0), "water depth is -1.0 m"),
        (lambda: chlorination.bleach_volume(-1.0, 100.0, 5.0), "water is -1.0 L"),
        (lambda: chlorination.bleach_volume(1.0, 5000.0, 5.0), "target is 5000.0 mg/L"),
        (lambda: chlorination.bleach_volume(1.0, 100.0, 0.0), "strength is 0.0 %"),
        (lambda: chlorination.granules_mass(1.0, 100.0, 120.0), "strength is 120.0 %"),
        (lambda: chlorination.well_dose(1.0, 1.0, 5.0, plumbing=-1.0), "in the plumbing is -1.0"),
        (lambda: chlorination.well_dose(1.0, 1.0, 5.0, casings=0.5), "casing volumes is 0.5"),
    ],
)
def test_limits(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
