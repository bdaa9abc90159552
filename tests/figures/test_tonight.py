"""Tonight's card: cases by hand, the promise kept at dawn, properties, errors."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import battery, charge
from steadbook.figures.tonight import (
    NightPlant,
    Tomorrow,
    card,
    charging_current,
    expected_sun,
    tonight,
)

PLANT = NightPlant(48.0, 600.0, 60.0, 11.0, idle_fuel=1.1, fuel_per_energy=0.28)
SUN = Tomorrow(40.0, 4.0)
NONE = Tomorrow(0.0, 0.0)
HALF_KILOWATT = 1000 * 0.5 / 0.9 / 48  # A out of the bank


def test_a_bank_that_lasts_needs_no_genset():
    night = tonight(PLANT, 0.80, 0.5, 14.0, SUN)
    assert not night.run
    assert night.fuel == night.hours == 0
    assert night.dawn == night.dawn_if_not_run == approx(0.80 - 14 * HALF_KILOWATT / 600)


def test_a_low_bank_is_run_to_where_the_sun_finishes():
    night = tonight(PLANT, 0.60, 0.5, 14.0, SUN)
    assert night.run
    assert night.reason == "tomorrow's sun finishes from there"
    evening = charge.charge_after(night.dawn, 4.0, 40.0, 600.0)
    assert evening == approx(0.90, abs=0.002)  # a minute of the run is 0.0014


def test_without_sun_it_stops_where_the_taper_makes_it_dear():
    night = tonight(PLANT, 0.60, 0.5, 14.0, NONE)
    assert night.reason == "beyond it the bank takes too little to be worth the fuel"
    assert night.stop_current == approx(30.0, abs=0.5)  # half of 60 A
    assert night.stop_at == approx(charge.taper_start(30.0, 600.0), abs=0.002)
    # by hand: bulk to 0.8 in 0.2 x 600 / 51 = 2.35 h, then 2.5 / 0.85 x ln 2 = 2.04 h
    assert night.hours == approx(2.353 + 2.039, abs=0.02)


def test_the_mark_comes_before_the_price_of_fuel():
    night = tonight(replace(PLANT, mark=0.85), 0.60, 0.5, 14.0, NONE)
    assert night.reason == "to keep the mark until the sun"
    assert night.dawn == approx(0.85, abs=0.002)


def test_a_run_is_never_shorter_than_the_engine_likes():
    # a quarter hour would keep the mark, and the sun is plenty
    night = tonight(replace(PLANT, target=0.6), 0.75, 0.5, 14.0, Tomorrow(80.0, 6.0))
    assert night.hours == approx(1.0)
    assert night.reason == "the shortest run that does the engine no harm"


def test_a_bank_that_cannot_be_saved_is_told():
    night = tonight(PLANT, 0.05, 0.5, 2.0, SUN)
    assert night.hours == approx(2.0)
    assert night.reason == "all night, and the bank is still below its mark at dawn"
    assert night.dawn < 0.5


def test_cold_lithium_is_not_charged():
    cold = replace(PLANT, chemistry="lfp", nominal_voltage=51.2, temperature=-2.0)
    night = tonight(cold, 0.3, 0.5, 14.0, SUN)
    assert not night.run
    assert "warm it" in night.reason
    assert tonight(replace(cold, temperature=2.0), 0.3, 0.5, 14.0, SUN).run


def test_a_house_that_takes_all_leaves_nothing_for_the_bank():
    small = replace(PLANT, genset_power=2.0)
    # (2.0 - 1.0) kW x 0.85 over 24 x 2.40 V
    assert charging_current(small, 1.0) == approx(850 / 57.6)
    night = tonight(small, 0.5, 2.0, 10.0, SUN)
    assert not night.run
    assert night.reason == "the house takes all the genset gives: shed load"


def test_fuel_is_that_of_hours_and_energy():
    night = tonight(PLANT, 0.60, 0.5, 14.0, NONE)
    put_in = (night.stop_at - 0.60) * 600 / 0.85 * 57.6 / 1000  # kWh at the absorption voltage
    expected = 1.1 * night.hours + 0.28 * (0.5 * night.hours + put_in / 0.85)
    assert night.fuel == approx(expected)


@given(
    now=st.floats(0.2, 1.0),
    load=st.floats(0.1, 2.0),
    hours=st.floats(4.0, 16.0),
    current=st.floats(0, 80),
)
@settings(max_examples=60, deadline=None)
def test_the_card_keeps_its_promise_at_dawn(now, load, hours, current):
    night = tonight(PLANT, now, load, hours, Tomorrow(current, 4.0))
    drawn = 1000 * load / 0.9 / 48 / 600
    left = charge.charge_after(now, night.hours, 60.0, 600.0) if night.run else now
    assert night.dawn == approx(max(0.0, left - drawn * (hours - night.hours)), abs=1e-9)
    assert night.run == (night.dawn_if_not_run < 0.5)
    if night.run and not night.reason.startswith("all night"):
        assert night.dawn >= 0.5
        assert night.hours >= 1.0


@given(now=st.floats(0.25, 0.9), more=st.floats(0.0, 0.1), load=st.floats(0.1, 1.5))
@settings(max_examples=50, deadline=None)
def test_a_fuller_bank_never_takes_more_fuel(now, more, load):
    less = tonight(PLANT, now, load, 14.0, SUN)
    fuller = tonight(PLANT, now + more, load, 14.0, SUN)
    assert fuller.hours <= less.hours + 1 / 60 + 1e-9  # the card counts whole minutes
    assert fuller.dawn_if_not_run >= less.dawn_if_not_run


@given(now=st.floats(0.25, 0.9), sun=st.floats(0, 60), more=st.floats(0, 40))
@settings(max_examples=40, deadline=None)
def test_more_sun_tomorrow_never_runs_the_genset_longer_tonight(now, sun, more):
    usual = tonight(PLANT, now, 0.6, 14.0, Tomorrow(sun, 4.0))
    assert tonight(PLANT, now, 0.6, 14.0, Tomorrow(sun + more, 4.0)).hours <= usual.hours + 1e-9


def test_the_card_reads_volts_or_percent():
    by_volts = card(PLANT, [48.24, 48.96, 50.6], [0.4, 0.8], 14.0, SUN, by="voltage")
    by_charge = card(PLANT, [0.25, 0.50, 1.00], [0.4, 0.8], 14.0, SUN)
    for row, other in zip(by_volts, by_charge, strict=True):
        assert [night.charge for night in row] == approx([night.charge for night in other])
        assert [night.run for night in row] == [night.run for night in other]
    assert battery.charge_from_voltage(48.24, 48.0) == approx(0.25)


def test_errors_name_the_quantity():
    with pytest.raises(OutOfRange, match=r"hours to the sun is 0"):
        tonight(PLANT, 0.5, 0.5, 0.0, SUN)
    with pytest.raises(OutOfRange, match=r"state of charge is 50.0"):
        tonight(PLANT, 50.0, 0.5, 14.0, SUN)
    with pytest.raises(OutOfRange, match=r"load is -1.0 kW"):
        tonight(PLANT, 0.3, -1.0, 14.0, SUN)
    with pytest.raises(OutOfRange, match=r"reading by is gravity; it must be one of charge, volt"):
        card(PLANT, [1.2], [0.5], 14.0, SUN, by="gravity")


def test_a_day_without_surplus_has_no_sun_for_the_bank():
    assert expected_sun(np.full(24, 0.3), np.full(24, 0.5), 48.0) == NONE
    light = np.zeros(24)
    light[[11, 12]] = 1.0, 3.0
    # 0.45 kW at the sockets is 0.5 kW from the bus: 0.5 and 2.5 kW over, mean 1.5 kW at 48 V
    found = expected_sun(light, np.full(24, 0.45), 48.0)
    assert (found.current, found.hours) == approx((31.25, 2.0))
