"""The starter battery against published figures."""

import pytest
from pytest import approx

from steadbook.figures import starter
from steadbook.figures._factors import celsius


@pytest.mark.parametrize(("degf", "left"), [(80, 1.00), (30, 0.65), (0, 0.40)])
def test_cranking_power_left_in_the_cold(degf, left):
    source = "US Army TM 5-1185, cranking power of a full battery"
    assert starter.cranking_power_left(celsius(degf)) == approx(left, abs=0.005), source


@pytest.mark.parametrize(("degf", "volts"), [(70, 9.6), (0, 8.5)])
def test_voltage_kept_in_the_load_test(degf, volts):
    source = "truck maintenance column: half the cold cranking current for 15 s"
    assert starter.load_test_voltage(celsius(degf)) == approx(volts, abs=0.05), source


def test_a_standing_battery_is_recharged_every_month():
    source = "US Army TM 5-1185: about 0.001 of gravity a day in store, recharge every 30 days"
    assert starter.daily_loss(100.0) / 100 * 0.145 == approx(0.001, abs=5e-5), source
    assert 30 <= starter.standing_days(100.0) <= 40, source


def test_label_current_is_for_0_degf():
    source = "SAE J537 as battery glossaries give it: 30 s at 0 degF, full and new"
    assert starter.cranking_current(650.0, 1.0, celsius(0.0)) == approx(650, abs=0.5), source
