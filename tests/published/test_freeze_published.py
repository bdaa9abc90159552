"""Freezing of pipes, heat loss and ice against published values."""

import numpy as np
import pytest
from pytest import approx

from steadbook.figures import freeze

INCH, FOOT = 25.4, 0.3048
K_INCH = 0.1442279  # Btu in/(h ft2 degF) to W/(m K)
PIPE, OUTSIDE = 2.067 * INCH, 2.375 * INCH  # 2 in iron pipe, bore and outside


def celsius(fahrenheit):
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize(("air", "hours"), [(-18, 1.4), (20, 4.6)])
def test_two_inch_pipe(air, hours):
    source = (
        "ASHRAE Fundamentals, time to freeze table and equation, as worked by a forensic engineer: "
        "2 in pipe, 1.5 in insulation of k 0.30, water 42 degF"
    )
    given = freeze.pipe_time_to_freezing(
        PIPE, OUTSIDE, OUTSIDE + 3 * INCH, 0.30 * K_INCH, celsius(42), celsius(air)
    )
    assert given == approx(hours, abs=0.06), source


@pytest.mark.parametrize(
    ("conductivity", "over", "difference"), [(0.27, 1.0, 50), (0.25, 0.5, 70), (0.30, 2.0, 40)]
)
def test_heat_loss_in_trade_units(conductivity, over, difference):
    source = "Process Heating, Jan 2006: W/ft = 2 pi k dT / (40.944 ln(Do/Di)), k in Btu in"
    outer = 2.375 + 2 * over
    by_rule = 2 * np.pi * conductivity * difference / (40.944 * np.log(outer / 2.375))
    given = freeze.pipe_heat_loss(
        OUTSIDE, outer * INCH, conductivity * K_INCH, difference / 1.8, 0.0
    )
    assert given * FOOT == approx(by_rule, rel=1e-3), source


def test_heat_loss_example():
    source = "heat trace guide: 2 in pipe, 1 in of 0.04 W/(m K), 40 over -10 degF: about 4 W/ft"
    given = freeze.pipe_heat_loss(OUTSIDE, OUTSIDE + 2 * INCH, 0.04, celsius(40), celsius(-10))
    assert given * FOOT == approx(4, abs=0.6), source


def test_ice_takes_nine_per_cent_more():
    assert freeze.ice_volume(100.0) == approx(109, abs=0.5), "handbook: water swells by 9 %"


def test_fusion_heat():
    source = "TM 5-852: 144 Btu/lb, and 8986 Btu/ft3 of water"
    assert approx(144, abs=0.5) == freeze.FUSION_HEAT / 2326, source
    in_cubic_foot = freeze.FUSION_HEAT / 2326 * 62.4
    assert in_cubic_foot == approx(8986, rel=4e-3), source


@pytest.mark.parametrize(
    ("surface", "factor"),
    [
        ("snow", 1.0), ("concrete", 0.75), ("asphalt", 0.7), ("bare soil", 0.7), ("shaded", 0.9),
        ("turf", 0.5), ("trees", 0.3),
    ],
)  # fmt: skip
def test_surface_factors(surface, factor):
    source = "TM 5-852-4, table 4-1, freezing conditions"
    assert freeze.SURFACE_FACTOR[surface] == factor, source
