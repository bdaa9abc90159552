"""Whether a torque can belong to a thread: slips of the pen, edges, errors."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from steadbook.errors import OutOfRange
from steadbook.figures._factors import FOOT_POUND
from steadbook.figures.plausible import plausible, torque_range


@pytest.mark.parametrize(
    ("value", "thread", "grade", "word"),
    [
        (25.0, "M8", "8.8", "within"),
        (2.5, "M8", "8.8", "low"),
        (250.0, "M8", "8.8", "high"),
        (25.0 * FOOT_POUND, "M8", "8.8", "high"),  # lbf*ft taken for N*m
        (31.0 * FOOT_POUND, "3/8-16", "grade 5", "within"),
        (310.0 * FOOT_POUND, "3/8-16", None, "high"),
        (31.0 * FOOT_POUND / 12, "3/8-16", None, "low"),  # lbf*in taken for lbf*ft
        (25.0, "M8", None, "within"),
        (10.0, "M6", None, "within"),
        (100.0, "M6", None, "high"),
    ],
)
def test_a_slip_of_the_pen_is_caught(value, thread, grade, word):
    assert plausible(value, thread, grade).word == word


def test_a_plug_by_its_head():
    assert plausible(26 * FOOT_POUND, "14 mm gasket", head="aluminium").word == "high"
    assert plausible(26 * FOOT_POUND, "14 mm gasket", head="cast iron").word == "within"
    assert plausible(26 * FOOT_POUND, "14 mm gasket").word == "within"
    assert plausible(26 * FOOT_POUND, "14 mm taper").word == "high"


def test_the_ends_of_the_range_are_within():
    limits = torque_range("M8", "8.8")
    assert plausible(limits.least, "M8", "8.8").word == "within"
    assert plausible(limits.most, "M8", "8.8").word == "within"
    assert plausible(limits.most, "M8", "8.8").range == limits


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: plausible(0.0, "M8"), r"torque is 0\.0 N\*m; it must be more than 0"),
        (lambda: plausible(1.0, "bolt"), r"thread is 'bolt'"),
        (lambda: torque_range("M8", "soft"), r"grade of a metric bolt is 'soft'"),
        (
            lambda: torque_range("14 mm gasket", head="steel"),
            r"cylinder head is 'steel'; .* aluminium",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


@given(
    st.sampled_from(["M6", "M8", "M12x1.5", "1/4-20", "1/2-13", "14 mm gasket", "18 mm taper"]),
    st.floats(0.01, 2000),
)
def test_the_word_follows_the_range(thread, value):
    word, limits = plausible(value, thread)
    assert 0 < limits.least < limits.most
    assert (word == "low") == (value < limits.least)
    assert (word == "high") == (value > limits.most)


@given(st.sampled_from(["4.6", "5.8", "8.8", "10.9", "12.9"]))
def test_any_grade_lies_inside_the_range_of_an_unknown_one(grade):
    known, unknown = torque_range("M10", grade), torque_range("M10")
    # The ends allow for lubricant; the 30 % of scatter may stick out at either end.
    assert unknown.least < (known.least + known.most) / 2 < unknown.most
