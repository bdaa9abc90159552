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
