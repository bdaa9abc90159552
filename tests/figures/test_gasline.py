"""Pressure lost in a gas line: edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import gasline
from steadbook.figures.pipe import SCHEDULE_40


def test_the_pipe_chosen_is_the_smallest_that_feeds():
    sizes = list(SCHEDULE_40)
    chosen = gasline.line_size(120.0, 30.0)
    smaller = sizes[sizes.index(chosen) - 1]
    assert gasline.line_drop(120.0, SCHEDULE_40[chosen], 30.0) <= gasline.USUAL_DROP
    assert gasline.line_drop(120.0, SCHEDULE_40[smaller], 30.0) > gasline.USUAL_DROP


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: gasline.line_capacity(0.0, 1.0), r"pipe bore is 0\.0 mm"),
        (lambda: gasline.line_capacity(20.0, 0.0), r"line length is 0\.0 m"),
        (lambda: gasline.line_capacity(20.0, 1.0, 0.0), r"pressure drop is 0\.0 kPa"),
        (
            lambda: gasline.line_capacity(20.0, 1.0, 70.0),
            r"pressure drop is 70\.0 kPa; .* below 10\.34",
        ),
        (lambda: gasline.line_drop(0.0, 20.0, 1.0), r"gas load is 0\.0 kW"),
        (lambda: gasline.line_drop(500.0, 8.0, 50.0), r"pressure drop is .* kPa; .* below 10\.34"),
        (lambda: gasline.line_size(0.0, 1.0), r"gas load is 0\.0 kW"),
        (lambda: gasline.line_size(1e6, 10.0), r"gas load is 1000000\.0 kW; it must be at most"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_array_equals_scalar():
    bores = np.array([15.8, 20.9, 26.6])
    assert gasline.line_capacity(bores, 10.0) == approx(
        [gasline.line_capacity(float(bore), 10.0) for bore in bores]
    )


@given(st.floats(5, 100), st.floats(12, 60), st.floats(2, 40))
def test_drop_undoes_capacity(share, bore, length):
    capacity = gasline.line_capacity(bore, length)
    assert gasline.line_drop(capacity, bore, length) == approx(gasline.USUAL_DROP)
    assert gasline.line_drop(capacity * share / 101, bore, length) < gasline.USUAL_DROP
