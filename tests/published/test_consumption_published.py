"""Fuel use against published values."""

import pytest
from pytest import approx

from steadbook.figures import consumption, fuel, propane, tank
from steadbook.figures._factors import BTU, CUBIC_FOOT, GALLON, HORSEPOWER

HANDBOOK = "LP-gas handbook table: 91,502 Btu/gal gross, 36.38 ft3/gal"
DOE = "US DOE Alternative Fuels Data Center, Properties of Fuels: 84,250 Btu/gal lower"
CHART = "approximate diesel genset fuel chart, 100 kW row: 9.9, 15.6, 22.0, 28.5 L/h"
IRRIGATION = "Purdue University extension AE-111, Table 1: hp-hours per gallon"
LINE = "worked by hand from the two points"

PROPANE = fuel.heating_value("propane")


def test_gallons_an_hour_from_gross_efficiency():
    rate = consumption.burn_rate(5.0, 0.22, PROPANE)
    assert rate / GALLON == approx(0.8475, abs=5e-5), HANDBOOK


def test_cubic_feet_an_hour_from_gross_efficiency():
    # 31.17 ft3/h at 2,488 Btu/ft3; by volume of liquid it is 30.83: the handbook's own
    # figures are 1.1 % apart (36.38 x 2,488 is 90,513, not 91,502).
    rate = consumption.burn_rate(5.0, 0.22, 2_488 * BTU / 1000 / (CUBIC_FOOT * 1000))
    assert rate / (CUBIC_FOOT * 1000) == approx(31.17, abs=0.005), HANDBOOK
    by_liquid = propane.vapour_volume(consumption.burn_rate(5.0, 0.22, PROPANE)) / CUBIC_FOOT
    assert by_liquid == approx(31.17, rel=0.012), HANDBOOK


def test_gallons_an_hour_from_net_efficiency():
    rate = consumption.burn_rate(10.0, 0.25, fuel.heating_value("propane", "lower"))
    assert rate / GALLON == approx(1.6200, abs=5e-5), DOE


def test_load_line_of_a_propane_set():
    line = consumption.load_line(10.0, 0.95 * GALLON, 1.50 * GALLON)
    assert line.no_load_rate / GALLON == approx(0.400), LINE
    assert line.rate_per_kilowatt / GALLON == approx(0.1100), LINE
    assert consumption.line_burn_rate(2.5, *line) / GALLON == approx(0.675), LINE
    assert consumption.line_burn_rate(7.5, *line) / GALLON == approx(1.225), LINE


@pytest.mark.parametrize(("load", "percent"), [(10.0, 24.86), (5.0, 19.63), (2.5, 13.81)])
def test_efficiency_along_the_line(load, percent):
    line = consumption.load_line(10.0, 0.95 * GALLON, 1.50 * GALLON)
    rate = consumption.line_burn_rate(load, *line)
    assert consumption.efficiency(load, rate, PROPANE) * 100 == approx(percent, abs=0.005), LINE


def test_a_line_holds_on_a_published_chart():
    line = consumption.load_line(100.0, 15.6, 28.5)
    assert consumption.line_burn_rate(75.0, *line) == approx(22.0, rel=0.01), CHART
    # Below half load real sets use more than the line: 9.9 on the chart.
    assert consumption.line_burn_rate(25.0, *line) == approx(9.9, rel=0.10), CHART
    assert consumption.line_burn_rate(25.0, *line) < 9.9, CHART
    assert consumption.line_burn_rate(75.0, *line) == approx(22.05), LINE
    assert consumption.line_burn_rate(25.0, *line) == approx(9.15), LINE


def test_days_of_a_500_gallon_tank():
    usable = tank.usable_fuel(500 * GALLON, 80.0, 20.0)
    line = consumption.load_line(10.0, 0.95 * GALLON, 1.50 * GALLON)
    rate = consumption.line_burn_rate(5.0, *line)
    assert consumption.runtime(usable, rate) == approx(315.8, abs=0.05), LINE
    assert consumption.days_left(usable, 4.0 * rate) == approx(78.9, abs=0.05), LINE


@pytest.mark.parametrize(
    ("name", "yield_", "higher", "lower"),
    [
        ("propane", 8.92, 24.8, 26.9),
        ("gasoline", 11.3, 23.1, 24.8),
        ("diesel", 14.7, 27.2, 29.1),
    ],
)
def test_efficiency_of_irrigation_engines(name, yield_, higher, lower):
    power = yield_ * HORSEPOWER
    for basis, percent in (("higher", higher), ("lower", lower)):
        share = consumption.efficiency(power, GALLON, fuel.heating_value(name, basis))
        assert share * 100 == approx(percent, abs=0.07), IRRIGATION  # yields printed to 3 digits


def test_shaft_work_in_a_gallon_of_propane():
    assert approx(6.652, abs=5e-4) == 8.92 * HORSEPOWER, IRRIGATION
    share = consumption.efficiency(8.92 * HORSEPOWER, GALLON, PROPANE)
    assert share * 100 == approx(24.80, abs=0.005), IRRIGATION
