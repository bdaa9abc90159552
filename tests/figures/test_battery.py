"""Batteries: hand cases, edges, errors and properties."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import battery, battery_care, battery_cold, discharge

fractions = st.floats(0, 1)


@pytest.mark.parametrize("chemistry", ["flooded", "agm", "lfp"])
@given(fraction=fractions)
@settings(max_examples=40)
def test_voltage_and_charge_are_inverse(chemistry, fraction):
    volts = battery.rested_voltage(fraction, 48.0, chemistry)
    assert battery.charge_from_voltage(volts, 48.0, chemistry) == approx(fraction, abs=1e-9)


@given(fraction=fractions, full=st.sampled_from([1.265, 1.280]))
@settings(max_examples=40)
def test_gravity_and_charge_are_inverse(fraction, full):
    gravity = battery.gravity_from_charge(fraction, full)
    assert battery.charge_from_gravity(gravity, full_gravity=full) == approx(fraction, abs=1e-9)


def test_arrays_equal_scalars():
    volts = np.linspace(46.0, 51.0, 7)
    each = [battery.charge_from_voltage(v, 48.0) for v in volts]
    assert battery.charge_from_voltage(volts, 48.0).tolist() == each
    cold = np.linspace(-40, 50, 19)
    assert battery_cold.capacity_left(cold).tolist() == [
        battery_cold.capacity_left(t) for t in cold
    ]
    amps = np.array([10.0, 60.0])
    assert discharge.discharge_hours(amps, 600.0).tolist() == [
        discharge.discharge_hours(a, 600.0) for a in amps
    ]


def test_a_reading_below_the_table_is_flat():
    assert battery.charge_from_voltage(9.0) == 0


def test_a_charging_bank_is_not_read_as_full():
    with pytest.raises(OutOfRange, match=r"voltage at rest is 54.2 V.*at most 52.8.*not rested"):
        battery.charge_from_voltage(54.2, 48.0)
    with pytest.raises(OutOfRange, match=r"at most 52.8"):
        battery.charge_bounds(54.2, 0.1, 48.0)
    with pytest.raises(OutOfRange, match=r"reading error is -1 V; it must be 0 or more"):
        battery.charge_bounds(50.0, -1, 48.0)


def test_other_chemistries_are_named_in_the_error():
    with pytest.raises(OutOfRange, match=r"one of flooded, agm, lfp"):
        battery.charge_from_voltage(12.5, chemistry="nickel")
    with pytest.raises(OutOfRange, match=r"full specific gravity is 1.3.*1.265, 1.28"):
        battery.charge_from_gravity(1.2, full_gravity=1.3)


def test_errors_name_quantity_and_limits():
    with pytest.raises(OutOfRange, match=r"state of charge is 1.2; it must be between 0 and 1"):
        battery.rested_voltage([0.5, 1.2])
    with pytest.raises(OutOfRange, match=r"specific gravity is 1265"):
        battery.charge_from_gravity(1265)
    with pytest.raises(OutOfRange, match=r"specific gravity is 1.3; it must be 1.000 to 1.280"):
        battery_cold.freezing_point(1.3)
    with pytest.raises(OutOfRange, match=r"battery temperature is -41.0 degC"):
        battery_cold.capacity_left(-41)
    with pytest.raises(OutOfRange, match=r"load current is 0.0 A; it must be more than 0"):
        discharge.discharge_hours(0, 100.0)
    with pytest.raises(OutOfRange, match=r"Peukert exponent is 0.9"):
        discharge.discharge_hours(5.0, 100.0, 0.9)
    with pytest.raises(OutOfRange, match=r"depth is 0"):
        discharge.needed_capacity(10.0, 3.0, depth=0)
    with pytest.raises(
        OutOfRange, match=r"second current is 5.0 A; it must be not the first again"
    ):
        discharge.peukert_exponent(5.0, 20.0, 5.0, 20.0)


def test_bounds_hold_the_reading():
    low, high = battery.charge_bounds(12.24, 0.06)
    # 0.06 V up is 0.06/0.21 of a quarter, down 0.06/0.18 of a quarter
    assert (low, high) == approx((0.5 - 0.25 / 3, 0.5 + 0.25 * 0.06 / 0.21))


@given(temperature=st.floats(-45, 10), margin=st.floats(0, 8))
@settings(max_examples=60)
def test_the_charge_against_freezing_does_not_freeze(temperature, margin):
    charge = battery_cold.charge_against_freezing(temperature, margin)
    freezes_at = battery_cold.freezing_point(battery.gravity_from_charge(charge))
    assert freezes_at <= temperature - margin + 1e-9
    if charge > 0:
        assert freezes_at == approx(temperature - margin, abs=1e-9)


def test_no_charge_helps_below_the_freezing_point_of_a_full_battery():
    assert np.isnan(battery_cold.charge_against_freezing(-59.0))


@given(current=st.floats(1, 300), exponent=st.floats(1.0, 1.6))
@settings(max_examples=50)
def test_faster_discharge_never_delivers_more(current, exponent):
    slow = discharge.delivered_share(current, 400.0, exponent)
    assert discharge.delivered_share(current * 1.5, 400.0, exponent) <= slow * (1 + 1e-12)


@given(exponent=st.floats(1.0, 1.8))
@settings(max_examples=30)
def test_exponent_is_found_again_from_two_discharges(exponent):
    amps = (8.0, 70.0)
    hours = [discharge.discharge_hours(a, 400.0, exponent) for a in amps]
    found = discharge.peukert_exponent(amps[0], hours[0], amps[1], hours[1])
    assert found == approx(exponent, abs=1e-9)


def test_lfp_and_agm_are_never_equalised():
    assert battery_care.set_points("agm", 24).equalise is None
    assert battery_care.set_points("lfp", 16).equalise is None


def test_voltage_is_not_compensated_without_end():
    with pytest.raises(OutOfRange, match=r"battery temperature is 60.0 degC; it must be -20 to 50"):
        battery_care.set_points("flooded", 24, 60.0)


@given(
    ohms=st.lists(st.floats(0.001, 0.1), min_size=1, max_size=6),
    volts=st.floats(45, 52),
    amps=st.floats(-200, 200),
)
@settings(max_examples=60)
def test_strings_share_the_whole_current_at_one_voltage(ohms, volts, amps):
    open_volts = volts + 0.1 * np.arange(len(ohms))
    shares = battery_care.string_currents(amps, ohms, open_volts)
    assert shares.sum() == approx(amps, abs=1e-7)
    terminal = open_volts - shares * np.array(ohms)
    assert np.ptp(terminal) < 1e-9


def test_unequal_strings_work_each_other_at_rest():
    # 0.2 V over 0.04 ohm in the loop
    assert battery_care.string_currents(0.0, [0.02, 0.02], [50.0, 50.2]) == approx([-5, 5])
    assert battery_care.string_mismatch([5.0, 5.0]) == 0
    with pytest.raises(OutOfRange, match=r"current of the strings is 0.0 A"):
        battery_care.string_mismatch([0.0, 0.0])


def test_service_is_due_by_days_or_by_throughput():
    days = battery_care.days_to_service
    assert days(10, 0.0, 0.0, 30, 5000.0) == 20
    assert days(10, 4900.0, 200.0, 30, 5000.0) == 0.5
    assert days(10, 6000.0, 200.0, 30, 5000.0) == 0
    assert days(31, 0.0, 200.0, 30, 5000.0) == -1
    assert days([10, 31], 0.0, 0.0, 30, 5000.0).tolist() == [20, -1]


def test_cycles_follow_the_makers_points_and_keep_the_throughput_beyond():
    depths, cycles = [0.2, 0.5, 0.8], [3000, 1500, 1000]
    assert battery_care.cycle_life(0.5, depths, cycles) == approx(1500)
    assert battery_care.cycle_life(0.1, depths, cycles) == approx(6000)  # 3000 x 0.2 / 0.1
    assert battery_care.cycle_life(1.0, depths, cycles) == approx(800)
    with pytest.raises(OutOfRange, match=r"depths of the table"):
        battery_care.cycle_life(0.5, [0.8, 0.2], [3000, 1000])
    with pytest.raises(OutOfRange, match=r"cycles of the table"):
        battery_care.cycle_life(0.5, [0.2, 0.8], [1000, 3000])


@given(depth=st.floats(0.05, 0.95))
@settings(max_examples=40)
def test_deeper_cycles_are_fewer(depth):
    table = ([0.2, 0.5, 0.8], [3000, 1500, 1000])
    assert battery_care.cycle_life(depth + 0.04, *table) < battery_care.cycle_life(depth, *table)


def test_life_ends_by_wear_or_by_age():
    assert battery_care.service_life(100.0, 1000.0, 15.0) == approx(10)
    assert battery_care.service_life(10.0, 1000.0, 15.0) == approx(15)
    assert battery_care.service_life(10.0, 1000.0, 15.0, 45.0) == approx(3.75)
    assert battery_care.service_life(10.0, 1000.0, 15.0, 5.0) == approx(15)


def test_replacement_from_capacity_tests():
    assert battery_care.replacement_year([2020, 2024], [1.0, 0.9]) == approx(2028)
    assert battery_care.replacement_year([2020, 2024], [0.9, 0.9]) == float("inf")
    with pytest.raises(OutOfRange, match=r"two or more apart"):
        battery_care.replacement_year([2020.0], [1.0])
