"""Sinking fund against printed tables of interest factors."""

import pytest
from pytest import approx

from steadbook.figures import cost

TABLES = "compound interest factor tables of an engineering-economy text, column A/F"
MEMORY = "the same tables; from memory, check"


@pytest.mark.parametrize(
    ("interest", "years", "factor"),
    [
        (0.0025, 10, 0.09888), (0.0025, 20, 0.04882), (0.0025, 25, 0.03881), (0.0025, 1, 1.0),
        (0.35, 2, 0.4255), (0.35, 5, 0.1005), (0.35, 10, 0.0183),
    ],
)  # fmt: skip
def test_sinking_fund_factor(interest, years, factor):
    digits = 5e-6 if interest < 0.1 else 5.1e-5
    assert cost.sinking_fund(1.0, float(years), interest) == approx(factor, abs=digits), TABLES


@pytest.mark.parametrize(
    ("interest", "years", "factor"), [(0.05, 10, 0.07950), (0.06, 10, 0.07587), (0.08, 20, 0.02185)]
)
def test_sinking_fund_factor_of_usual_rates(interest, years, factor):
    assert cost.sinking_fund(1.0, float(years), interest) == approx(factor, abs=5.1e-6), MEMORY


def test_one_replacement_at_the_end_is_a_sinking_fund():
    due = [0.0] * 9 + [1000.0]
    assert cost.level_payment(due, 0.0, 0.0025) == approx(98.88, abs=0.005), TABLES
