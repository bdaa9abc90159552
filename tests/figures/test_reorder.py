"""Reorder point and learned lead times: hand cases, edges, a simulated shelf, properties."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import reorder

FIRST = date(2026, 1, 1)


def _orders(*days):
    return [(FIRST, FIRST + timedelta(days=one)) for one in days]


def test_without_any_spread_it_is_use_in_the_lead_time():
    assert reorder.reorder_point(2.0, 0.0, lead_time=7.0) == 14.0
    assert reorder.safety_stock(0.0, lead_time=7.0) == 0.0
    assert reorder.reorder_point(2.0, 1.0, lead_time=0.0) == 0.0


def test_half_of_the_lead_times_need_no_safety_stock():
    assert reorder.safety_stock(3.0, 4.0, 2.0, 5.0, service_level=0.5) == approx(0.0)


def test_both_spreads_add_as_squares():
    # 3 a day over 16 days: 12; 2 a day and 2.5 days: 5; together 13.
    ninety = reorder.safety_stock(3.0, 16.0, 2.0, 2.5, service_level=0.9)
    assert ninety == approx(13 * reorder.safety_stock(1.0, 1.0, service_level=0.9))


@pytest.mark.parametrize("level", [0.8, 0.95])
def test_a_simulated_shelf_holds_out_as_often_as_promised(level):
    """200,000 lead times: use of a day a Poisson count, lead time 30 days give or take 6.

    Pieces are whole: rounded up the point does at least as well, a piece fewer no better.
    """
    chance = np.random.default_rng(1)
    days = np.rint(chance.normal(30.0, 6.0, 200_000)).clip(0)
    used = chance.poisson(0.8 * days)
    point = np.ceil(reorder.reorder_point(0.8, np.sqrt(0.8), 30.0, 6.0, level))
    assert np.mean(used <= point) >= level - 0.006
    assert np.mean(used <= point - 1) <= level + 0.006


def test_a_lead_time_is_learned_by_hand():
    took = reorder.lead_time(_orders(10, 20, 30))
    assert (took.median, took.mean, took.orders) == (20.0, 20.0, 3)
    assert took.nine_in_ten == approx(28.0)
    assert took.spread == approx(10.0)


def test_too_few_orders_teach_nothing():
    assert reorder.lead_time([]) is None
    assert reorder.lead_time(_orders(10, 20)) is None


@given(st.lists(st.integers(0, 400), min_size=3, max_size=30))
def test_a_lead_time_lies_within_what_was(days):
    took = reorder.lead_time(_orders(*days))
    assert min(days) <= took.median <= took.nine_in_ten <= max(days)
    turned = reorder.lead_time(_orders(*days[::-1]))
    assert (took.median, took.nine_in_ten) == (turned.median, turned.nine_in_ten)


@given(
    st.floats(0, 50), st.floats(0, 20), st.floats(0, 300), st.floats(0, 60), st.floats(0.5, 0.999)
)
def test_more_doubt_never_asks_for_less(use, spread, lead, lead_spread, level):
    point = reorder.reorder_point(use, spread, lead, lead_spread, level)
    slack = 1e-9 * (1 + point)
    assert point >= use * lead - slack
    assert reorder.reorder_point(use, spread + 1, lead, lead_spread, level) >= point - slack
    assert reorder.reorder_point(use, spread, lead, lead_spread + 1, level) >= point - slack
    assert reorder.reorder_point(use, spread, lead, lead_spread, (level + 1) / 2) >= point - slack


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: reorder.reorder_point(-1.0, 0.0, 1.0), r"daily use is -1\.0 1/day; it must be 0"),
        (lambda: reorder.safety_stock(-1.0, 1.0), r"spread of use is -1\.0 1/day"),
        (lambda: reorder.safety_stock(1.0, -1.0), r"lead time is -1\.0 day; it must be 0 or more"),
        (lambda: reorder.safety_stock(1.0, 1.0, 1.0, -2.0), r"spread of lead time is -2\.0 day"),
        (lambda: reorder.safety_stock(1.0, 1.0, service_level=1.0), r"service level is 1\.0; .*below 1"),
        (lambda: reorder.safety_stock(1.0, 1.0, service_level=0.4), r"service level is 0\.4"),
        (lambda: reorder.lead_time(_orders(3, -2)), r"days from order to receipt is -2\.0 day"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
