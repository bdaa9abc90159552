"""Charging against worked figures and facts of the trade."""

import pytest
from pytest import approx

from steadbook.figures import charge


@pytest.mark.parametrize(("efficiency", "hours"), [(0.85, 3.53), (1.0, 3.00)])
def test_half_to_80_percent_of_600_ah_at_60_a(efficiency, hours):
    source = "(0.80 - 0.50) x 600 / (60 x efficiency), by hand"
    found = charge.charge_time(0.5, 0.8, 60.0, 600.0, efficiency=efficiency)
    assert found == approx(hours, rel=0.005), source


def test_bulk_ends_near_80_percent():
    source = "charging article: bulk ends at about 80 %, typically less (seen)"
    assert charge.taper_start(60.0, 600.0) == approx(0.80, abs=0.005), source  # C/10
    assert 0.5 <= charge.taper_start(120.0, 600.0) < 0.80, source  # C/5


def test_absorption_takes_its_real_time():
    source = "common practice, no source: 2 to 4 h of absorption after bulk at C/10"
    hours = charge.charge_time(0.8, 0.98, 60.0, 600.0, efficiency=1.0)
    assert 2 <= hours <= 4, source
    tail = charge.accepted_current(1.0, 600.0) / 600
    assert 0.01 <= tail <= 0.03, "common practice: end of absorption at 1 to 3 % of the capacity"


def test_lfp_is_not_charged_below_freezing():
    source = "no charge of lithium iron phosphate below 0 degC: several makers' articles (seen)"
    assert charge.accepted_current(0.5, 300.0, "lfp", -0.1) == 0, source
    assert charge.charge_time(0.5, 0.9, 60.0, 300.0, "lfp", -0.1) == float("inf"), source
    assert charge.charge_time(0.5, 0.9, 60.0, 300.0, "lfp", 0.0) < 3


def test_an_11_kw_genset_at_60_a_raises_the_bank_ten_percent_an_hour():
    """Common practice, no source: 60 A raises the bank 10 %/h, half to full in about five hours.

    Ten percent an hour from 60 A (DC) is a 600 A*h bank. The saying leaves out losses and taper:
    with neither it is five hours exactly, and that is the least any lead-acid bank can do.
    """
    gained = charge.charge_after(0.5, 1.0, 60.0, 600.0, efficiency=1.0) - 0.5
    assert gained == approx(0.10, abs=0.001)
    # What the saying calls full: a bank without taper, as lfp nearly is
    assert charge.charge_time(0.5, 1.0, 60.0, 600.0, "lfp") == approx(5.0, abs=0.25)
    # a flooded bank is near enough full at 95 %, where the current has fallen to a third
    assert charge.charge_time(0.5, 0.95, 60.0, 600.0, efficiency=1.0) == approx(5.0, abs=0.5)
    # and to the last percent, flooded, it takes much longer: here the taper shows
    assert charge.charge_time(0.5, 1.0, 60.0, 600.0) > 7
    # 60 A at 54 V is under a third of 11 kW: the charger, not the genset, sets the pace
    assert approx(0.29, abs=0.01) == 60 * 54 / 11_000


def test_a_9_kw_array_fills_the_bank_in_three_hours_of_full_sun():
    """Common practice, no source: 70 to 90 A for about three hours of full sun.

    210 to 270 A*h are 35 to 45 % of 600 A*h: from 55 to 65 % to full before taper and losses.
    """
    for current in (70.0, 80.0, 90.0):
        start = charge.charge_before(0.97, 3.0, current, 600.0, "lfp")
        assert 0.50 <= start <= 0.65
    flooded = charge.charge_after(0.60, 3.0, 80.0, 600.0)
    assert 0.85 <= flooded < 0.95  # the taper of a flooded bank leaves the rest to the afternoon
