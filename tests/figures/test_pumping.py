"""Pump power, surge and pipe: hand cases, edges, properties, errors."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import pumping


def test_no_head_needs_no_energy():
    assert pumping.pumping_energy(0.0, 0.5) == 0


def test_energy_by_hand():
    # 367 m of lift is 1 Wh/L (3600 / 9.81) for a perfect pump; half efficiency doubles it
    assert pumping.pumping_energy(367.1, 1.0) == approx(1.0, rel=2e-3)
    assert pumping.pumping_energy(367.1, 0.5) == approx(2.0, rel=2e-3)


def test_power_is_flow_times_energy():
    assert pumping.pump_power(60.0, 50.0, 0.5) == approx(3600 * pumping.pumping_energy(50.0, 0.5))


def test_total_head_by_hand():
    assert pumping.total_head(10.0) == 10
    assert pumping.total_head(0.0, 97.97) == approx(10.0, rel=1e-3)


@pytest.mark.parametrize("method", ["hazen-williams", "darcy"])
def test_water_at_rest_loses_nothing(method):
    assert pumping.friction_head(0.0, 100.0, 25.0, method=method) == 0
    assert pumping.gravity_flow(0.0, 100.0, 25.0, method=method) == approx(0.0, abs=1e-9)


@pytest.mark.parametrize("method", ["hazen-williams", "darcy"])
@settings(max_examples=25, deadline=None)
@given(head=st.floats(0.5, 80), length=st.floats(10, 1000), diameter=st.floats(12, 80))
def test_gravity_flow_undoes_friction(method, head, length, diameter):
    flow = pumping.gravity_flow(head, length, diameter, method=method)
    # 2 %: where the flow turns turbulent the friction factor jumps
    found = pumping.friction_head(flow, length, diameter, method=method)
    assert found == approx(head, rel=0.02) or (method == "darcy" and _turning(flow, diameter))


def _turning(flow, diameter):
    reynolds = 999 * 4 * flow / 60000 / (np.pi * diameter / 1000 * pumping._viscosity(10.0))
    return 2000 < reynolds < 4100


def test_laminar_flow_is_hagen_poiseuille():
    # exact: head = 128 mu L Q / (pi rho g d^4), honey-slow flow in a 20 mm pipe
    mu = pumping._viscosity(10.0)
    by_hand = 128 * mu * 10 * (0.5 / 60000) / (np.pi * 999 * 9.80665 * 0.02**4)
    head = pumping.friction_head(0.5, 10.0, 20.0, method="darcy")
    assert head == approx(by_hand, rel=1e-6)


def test_cold_water_loses_more():
    cold, warm = (
        pumping.friction_head(40.0, 100.0, 26.6, method="darcy", temperature=t) for t in (1.0, 30.0)
    )
    assert cold > warm


@pytest.mark.parametrize("method", ["hazen-williams", "darcy"])
def test_array_equals_scalars(method):
    flows = np.array([5.0, 20.0, 60.0])
    lost = pumping.friction_head(flows, 100.0, 26.6, method=method)
    assert lost == approx([pumping.friction_head(q, 100.0, 26.6, method=method) for q in flows])
    back = pumping.gravity_flow(lost, 100.0, 26.6, method=method)
    assert back == approx(flows, rel=0.01)


def test_letters_rise():
    bounds = list(pumping.LOCKED_ROTOR_KVA_PER_HP.values())
    assert bounds == sorted(bounds) and len(bounds) == 18


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: pumping.total_head(1.0, -1.0), "pressure is -1.0 kPa"),
        (lambda: pumping.total_head(1.0, 1.0, -1.0), "friction head is -1.0 m"),
        (lambda: pumping.pumping_energy(-1.0, 0.5), "head is -1.0 m"),
        (lambda: pumping.pumping_energy(1.0, 0.0), "efficiency is 0.0.*above 0, at most 1"),
        (lambda: pumping.pumping_energy(1.0, 40.0), "efficiency is 40.0"),
        (lambda: pumping.pump_power(-1.0, 1.0, 0.5), "flow is -1.0 L/min"),
        (lambda: pumping.starting_surge(0.0, "K"), "rated power is 0.0 kW"),
        (lambda: pumping.starting_surge(1.0, "I"), "code letter is I; it must be one of"),
        (lambda: pumping.friction_head(-1.0, 1.0, 1.0), "flow is -1.0 L/min"),
        (lambda: pumping.friction_head(1.0, 0.0, 1.0), "pipe length is 0.0 m"),
        (lambda: pumping.friction_head(1.0, 1.0, 0.0), "inside diameter is 0.0 mm"),
        (lambda: pumping.friction_head(1.0, 1.0, 1.0, coefficient=0.0), "coefficient C is 0.0"),
        (lambda: pumping.friction_head(1.0, 1.0, 1.0, method="x"), "method is x.*or darcy"),
        (lambda: pumping.gravity_flow(1.0, 1.0, 1.0, method="x"), "method is x.*or darcy"),
        (lambda: pumping.gravity_flow(-1.0, 1.0, 1.0), "head is -1.0 m"),
        (lambda: pumping.gravity_flow(1.0, 1.0, 1.0, coefficient=0.0), "coefficient C is 0.0"),
        (
            lambda: pumping.friction_head(1.0, 1.0, 9.0, method="darcy", temperature=-5.0),
            "water temperature is -5.0 degC",
        ),
    ],
)
def test_limits(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
