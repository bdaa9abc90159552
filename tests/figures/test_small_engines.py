"""Two-stroke mix and fuel in store: hand cases, errors."""

from datetime import date

import numpy as np
import pytest

from steadbook.errors import OutOfRange
from steadbook.figures import small_engines


def test_no_fuel_no_oil():
    assert small_engines.mix_oil(0.0, 50) == 0


def test_array_equals_scalars():
    assert small_engines.mix_oil(np.array([1.0, 2.0]), 40).tolist() == [25, 50]


def test_stabiliser_never_shortens():
    for fuel, _ in small_engines.SHELF_MONTHS:
        plain, kept = (
            small_engines.use_by(date(2026, 1, 31), fuel, is_stabilised=side)
            for side in (False, True)
        )
        assert kept > plain


@pytest.mark.parametrize(
    ("fuel", "plain", "stabilised"),
    [
        ("gasoline with ethanol", date(2026, 5, 1), date(2026, 10, 1)),
        ("gasoline without ethanol", date(2026, 7, 1), date(2027, 4, 1)),
        ("two-stroke mix", date(2026, 5, 1), date(2026, 7, 1)),
    ],
)
def test_months_that_fuel_keeps(fuel, plain, stabilised):
    source = "common practice, no source: 1 and 6, 3 and 12, 1 and 3 months, counted by hand"
    assert small_engines.use_by(date(2026, 4, 1), fuel) == plain, source
    assert small_engines.use_by(date(2026, 4, 1), fuel, is_stabilised=True) == stabilised, source


@pytest.mark.parametrize("ratio", [10, 100])
def test_the_ends_of_the_ratio_are_good(ratio):
    assert small_engines.mix_oil(1.0, ratio) == 1000 / ratio


@pytest.mark.parametrize("ratio", [9.9, 100.1])
def test_past_the_ends_of_the_ratio(ratio):
    with pytest.raises(OutOfRange, match=f"mix ratio is {ratio}"):
        small_engines.mix_oil(1.0, ratio)


def test_month_end():
    bought = date(2026, 1, 31)
    assert small_engines.use_by(bought, "two-stroke mix") == date(2026, 2, 28)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: small_engines.mix_oil(-1.0, 50), "gasoline is -1.0 L"),
        (lambda: small_engines.mix_oil(1.0, 0.02), "mix ratio is 0.02"),
        (
            lambda: small_engines.use_by(date(2026, 1, 1), "kerosene"),
            "fuel is kerosene.*two-stroke",
        ),
    ],
)
def test_limits(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
