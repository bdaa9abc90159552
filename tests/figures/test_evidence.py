"""Two forecasts put together by the weight of the evidence."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from steadbook.errors import OutOfRange
from steadbook.figures.evidence import blended, weight_of_log

SOURCE = "by hand: n/(n + 1), one made-up time against n measured ones"


def test_nothing_seen_leaves_the_made_up_one():
    assert blended(80.0, 100.0, 0.0) == 100.0


def test_four_times_seen_count_four_fifths():
    assert blended(80.0, 100.0, 4.0) == pytest.approx(84.0), SOURCE


@given(st.floats(0, 1e4), st.floats(0, 1e4), st.floats(0, 100))
def test_it_lies_between_the_two(measured, made_up, seen):
    low, high = sorted((measured, made_up))
    assert low - 1e-9 <= blended(measured, made_up, seen) <= high + 1e-9


@given(st.floats(0, 100), st.floats(0.01, 100))
def test_more_seen_weighs_more(seen, more):
    assert weight_of_log(seen) < weight_of_log(seen + more) < 1


@pytest.mark.parametrize("seen", [-1.0, math.nan])
def test_less_than_nothing_cannot_be_seen(seen):
    with pytest.raises(OutOfRange, match=r"times seen is .*; it must be 0 or more"):
        weight_of_log(seen)
