"""Reorder point and trend against worked examples of textbooks and certified values."""

from datetime import date, timedelta

import numpy as np
import pytest
from pytest import approx

from steadbook.figures import reorder, trend

STEVENSON = (
    "W. J. Stevenson, Operations Management, 14th ed., chapter 12, example 8 (seen in a reprint)"
)
STEVENSON_9 = "the same chapter, example 9; question seen in a reprint, answer from memory, check"
HEIZER = "J. Heizer, B. Render, Operations Management, chapter 12, solved problem, equation 12-16"
TAYLOR = (
    "B. W. Taylor, Introduction to Management Science, chapter 16, the carpet store; question seen "
    "in a reprint, answer from memory, check"
)
NORRIS = "NIST StRD, linear regression, Norris.dat: certified values"
HYNDMAN = "R. Hyndman, Y. Fan, Sample Quantiles, The American Statistician 50 (1996), definition 7"

# The books round z to two decimals, so a result holds to half of that times the spread.
ROUNDED_Z = 0.0051


def test_sand_in_a_lead_time():
    stock = reorder.safety_stock(5.0, lead_time=1.0, service_level=0.97)
    assert stock == approx(9.40, abs=ROUNDED_Z * 5.0), STEVENSON
    point = reorder.reorder_point(50.0, 5.0, lead_time=1.0, service_level=0.97)
    assert point == approx(59.40, abs=ROUNDED_Z * 5.0), STEVENSON


def test_jars_a_week_over_two_weeks():
    point = reorder.reorder_point(50.0, 3.0, lead_time=2.0, service_level=0.9)
    assert point == approx(105.43, abs=ROUNDED_Z * 3 * np.sqrt(2)), STEVENSON_9


def test_surgery_packs_with_a_lead_time_that_varies():
    point = reorder.reorder_point(60.0, 0.0, lead_time=6.0, lead_time_spread=2.0, service_level=0.9)
    assert point == approx(513.6, abs=ROUNDED_Z * 120.0), HEIZER


def test_carpet():
    point = reorder.reorder_point(30.0, 5.0, lead_time=10.0, service_level=0.95)
    # z is printed as 1.65; it is 1.645
    assert point == approx(326.1, abs=0.0052 * 5 * np.sqrt(10) + 0.05), TAYLOR


def test_quantiles_of_lead_times():
    """Definition 7 puts quantile p at 1 + (n - 1) p: of 11 values, the sixth and the tenth."""
    first, days = date(2026, 1, 1), [3, 5, 8, 9, 12, 14, 20, 21, 30, 33, 60]
    took = reorder.lead_time([(first, first + timedelta(days=one)) for one in days])
    assert (took.median, took.nine_in_ten) == (14.0, 33.0), HYNDMAN


NORRIS_VALUES = """
0.1 0.2, 338.8 337.4, 118.1 118.2, 888.0 884.6, 9.2 10.1, 228.1 226.5, 668.5 666.3, 998.5 996.3,
449.1 448.6, 778.9 777.0, 559.2 558.2, 0.3 0.4, 0.1 0.6, 778.1 775.5, 668.8 666.9, 339.3 338.0,
448.9 447.5, 10.8 11.6, 557.7 556.0, 228.3 228.1, 998.0 995.8, 888.8 887.6, 119.6 120.2, 0.3 0.3,
0.6 0.3, 557.6 556.8, 339.3 339.1, 888.0 887.2, 998.5 999.0, 778.9 779.0, 10.2 11.1, 117.6 118.3,
228.9 229.2, 668.4 669.1, 449.2 448.9, 0.2 0.5
"""


@pytest.fixture
def norris():
    pairs = np.array([[float(one) for one in pair.split()] for pair in NORRIS_VALUES.split(",")])
    assert pairs.shape == (36, 2)
    return pairs[:, 1], pairs[:, 0]


def test_the_ozone_monitors_line(norris):
    line = trend.least_squares(*norris)
    digits = 1e-9  # certified to 15 digits; ours are those of doubles
    assert line.intercept == approx(-0.262323073774029, rel=digits), NORRIS
    assert line.slope == approx(1.00211681802045, rel=digits), NORRIS
    assert line.intercept_error == approx(0.232818234301152, rel=digits), NORRIS
    assert line.slope_error == approx(0.429796848199937e-03, rel=digits), NORRIS
    assert line.scatter == approx(0.884796396144373, rel=digits), NORRIS


def test_the_median_slope_is_that_of_a_library(norris):
    from scipy.stats import theilslopes

    slope, intercept, *_ = theilslopes(norris[1], norris[0], method="joint")
    line = trend.median_slope(*norris)
    assert (line.slope, line.intercept) == approx((slope, intercept)), "scipy.stats.theilslopes"
