"""Two-stroke oil against published mixing charts."""

import pytest
from pytest import approx

from steadbook.figures import small_engines

GALLON, IMPERIAL_GALLON, OUNCE, IMPERIAL_OUNCE = 3.785412, 4.54609, 29.57353, 28.41306


@pytest.mark.parametrize(
    ("ratio", "ounces", "imperial", "millilitres"),
    [(32, 4.0, 5.0, 31.25), (40, 3.2, 4.0, 25), (50, 2.6, 3.2, 20)],
)
def test_chart(ratio, ounces, imperial, millilitres):
    source = "two-cycle mixture chart: oil for a US gallon, an imperial gallon and a litre"
    assert small_engines.mix_oil(GALLON, ratio) / OUNCE == approx(ounces, abs=0.05), source
    oil = small_engines.mix_oil(IMPERIAL_GALLON, ratio) / IMPERIAL_OUNCE
    assert oil == approx(imperial, abs=0.05), source
    assert small_engines.mix_oil(1.0, ratio) == approx(millilitres, abs=0.005), source


@pytest.mark.parametrize(
    ("gallons", "ounces"), [(1, 2.6), (2, 5.1), (3, 7.7), (4, 10.2), (5, 12.8), (6, 15.4)]
)
def test_fifty_to_one(gallons, ounces):
    source = "mixture chart for 50:1, US gallons and ounces"
    oil = small_engines.mix_oil(gallons * GALLON, 50) / OUNCE
    assert oil == approx(ounces, abs=0.05), source


@pytest.mark.parametrize(("ratio", "millilitres"), [(25, 200), (32, 156), (40, 125), (50, 100)])
def test_five_litres(ratio, millilitres):
    source = "mixing table: oil for 5 litres"
    assert small_engines.mix_oil(5.0, ratio) == approx(millilitres, abs=0.5), source
