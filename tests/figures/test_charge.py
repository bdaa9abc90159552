"""The two-stage charge: integrated independently, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import charge

chemistries = st.sampled_from(["flooded", "agm", "lfp"])
currents = st.floats(5, 250)


@pytest.mark.parametrize("chemistry", ["flooded", "agm", "lfp"])
@pytest.mark.parametrize("current", [20.0, 60.0, 150.0])
def test_charge_time_is_the_integral_of_what_the_bank_accepts(chemistry, current):
    """Independent way: scipy's quadrature of d(charge) / (accepted current)."""
    from scipy.integrate import quad

    kept = charge.ACCEPTANCE[chemistry].efficiency

    def hours_per_charge(state):
        flowing = min(current, float(charge.accepted_current(state, 600.0, chemistry)))
        return 600.0 / (flowing * kept)

    knee = float(charge.taper_start(current, 600.0, chemistry))
    expected, _ = quad(hours_per_charge, 0.3, 1.0, points=[max(knee, 0.31)], epsabs=1e-10)
    assert charge.charge_time(0.3, 1.0, current, 600.0, chemistry) == approx(expected, rel=1e-7)


@given(chemistry=chemistries, start=st.floats(0, 0.95), hours=st.floats(0, 12), current=currents)
@settings(max_examples=80)
def test_charge_after_and_charge_time_are_inverse(chemistry, start, hours, current):
    reached = charge.charge_after(start, hours, current, 600.0, chemistry)
    if reached < 1:
        found = charge.charge_time(start, reached, current, 600.0, chemistry)
        assert found == approx(hours, rel=1e-6, abs=1e-6)


@given(chemistry=chemistries, stop=st.floats(0.1, 1), hours=st.floats(0, 12), current=currents)
@settings(max_examples=80)
def test_charge_before_leads_to_the_stop(chemistry, stop, hours, current):
    start = charge.charge_before(stop, hours, current, 600.0, chemistry)
    if start > 0:
        reached = charge.charge_after(start, hours, current, 600.0, chemistry)
        assert reached == approx(stop, abs=1e-7)
    else:
        assert charge.charge_after(0.0, hours, current, 600.0, chemistry) >= stop - 1e-9


@given(start=st.floats(0, 0.9), current=currents)
@settings(max_examples=40)
def test_more_current_is_never_slower(start, current):
    slow = charge.charge_time(start, 1.0, current, 600.0)
    assert charge.charge_time(start, 1.0, current * 1.3, 600.0) <= slow + 1e-9


@given(start=st.floats(0, 0.9), mid=st.floats(0, 1), current=currents)
@settings(max_examples=40)
def test_a_charge_in_two_parts_takes_the_same_time(start, mid, current):
    between = start + mid * (1 - start)
    parts = charge.charge_time(start, between, current, 600.0) + charge.charge_time(
        between, 1.0, current, 600.0
    )
    assert charge.charge_time(start, 1.0, current, 600.0) == approx(parts, rel=1e-9)


def test_arrays_equal_scalars():
    starts = np.array([0.2, 0.5, 0.95])
    each = [charge.charge_time(s, 1.0, 60.0, 600.0) for s in starts]
    assert charge.charge_time(starts, 1.0, 60.0, 600.0).tolist() == each
    cold = charge.charge_time(0.5, 0.9, 60.0, 600.0, "lfp", np.array([-5.0, 5.0]))
    assert np.isinf(cold).tolist() == [True, False]


def test_a_charged_bank_takes_no_time():
    assert charge.charge_time(0.9, 0.8, 60.0, 600.0) == 0
    assert charge.charge_time(0.9, 0.9, 60.0, 600.0, "lfp", -10.0) == 0
    assert charge.charge_after(1.0, 5.0, 60.0, 600.0) == 1


def test_break_point_leaves_the_rest_to_the_sun():
    stop = float(charge.break_point(0.95, 60.0, 40.0, 6.0, 60.0, 600.0))
    morning = stop - 60 / 600
    assert charge.charge_after(morning, 6.0, 40.0, 600.0) == approx(0.95, abs=1e-9)


def test_break_point_without_sun_is_where_the_taper_makes_it_pointless():
    stop = charge.break_point(1.0, 60.0, 0.0, 0.0, 60.0, 600.0)
    assert stop == approx(charge.taper_start(30.0, 600.0))  # half of 60 A
    assert charge.accepted_current(stop, 600.0) == approx(30.0)


@given(hours=st.floats(0, 8), more=st.floats(0, 4), night=st.floats(0, 200))
@settings(max_examples=40)
def test_more_sun_never_stops_the_genset_later(hours, more, night):
    usual = charge.break_point(0.95, night, 40.0, hours, 60.0, 600.0)
    assert charge.break_point(0.95, night, 40.0, hours + more, 60.0, 600.0) <= usual + 1e-12


def test_errors_name_the_quantity():
    with pytest.raises(OutOfRange, match=r"charging current is 0.0 A; it must be more than 0"):
        charge.charge_time(0.5, 0.8, 0.0, 600.0)
    with pytest.raises(OutOfRange, match=r"state of charge is 80.0"):
        charge.charge_time(0.5, 80, 60.0, 600.0)
    with pytest.raises(OutOfRange, match=r"charge efficiency is 1.2"):
        charge.charge_time(0.5, 0.8, 60.0, 600.0, efficiency=1.2)
    with pytest.raises(OutOfRange, match=r"hours of charging is -1.0 h"):
        charge.charge_after(0.5, -1, 60.0, 600.0)
    with pytest.raises(OutOfRange, match=r"capacity is 0.0 A\*h"):
        charge.accepted_current(0.5, 0.0)
    with pytest.raises(OutOfRange, match=r"one of flooded, agm, lfp"):
        charge.charging_is_allowed(5.0, "gel")
    with pytest.raises(OutOfRange, match=r"least share is 0"):
        charge.break_point(0.9, 0.0, 0.0, 0.0, 60.0, 600.0, least_share=0)
