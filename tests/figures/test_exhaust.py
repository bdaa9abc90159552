"""Exhaust gas and the loss of its pipe: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import exhaust, exhaust_gas
from steadbook.figures.pipe import SCHEDULE_40


def test_two_turns_fill_one_litre():
    assert exhaust_gas.intake_flow(1.0, 2000.0, 1.0) == approx(1.0)


def test_gas_as_hot_as_the_air_without_fuel_flows_as_the_air():
    assert exhaust_gas.exhaust_flow(1.0, 25.0, 25.0, np.inf) == approx(1.0)
    # Twice the kelvins, twice the flow.
    assert exhaust_gas.exhaust_flow(1.0, 2 * 298.15 - 273.15, 25.0, np.inf) == approx(2.0)


def test_a_run_by_hand():
    # 2 m, a flexible metre that counts twice, 20 bores of 50 mm.
    assert exhaust.equivalent_length(2.0, 50.0, {"90 long": 1}, 1.0) == approx(5.0)
    assert exhaust.equivalent_length(2.0, 50.0) == 2.0


def test_laminar_flow_by_poiseuille():
    # 128 mu L Q / (pi D^4), known without a friction factor.
    flow, bore, length = 0.01, 0.1, 10.0
    mu = exhaust_gas.viscosity(20.0)
    expected = 128 * mu * length * flow / 60 / (np.pi * bore**4) / 1000
    assert exhaust.back_pressure(flow, 20.0, 100.0, length) == approx(expected, rel=1e-6)


def test_the_pipe_chosen_is_the_smallest_that_holds():
    sizes = list(SCHEDULE_40)
    chosen = exhaust.pipe_size(1.6581, 450.0, 3.0, 0.5, {"90 short": 2})

    def loss(name):
        run = exhaust.equivalent_length(3.0, SCHEDULE_40[name], {"90 short": 2})
        return exhaust.back_pressure(1.6581, 450.0, SCHEDULE_40[name], run)

    assert loss(chosen) <= 0.5 < loss(sizes[sizes.index(chosen) - 1])


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: exhaust_gas.intake_flow(0.0, 3600.0), r"displacement is 0\.0 L"),
        (lambda: exhaust_gas.intake_flow(1.0, 0.0), r"engine speed is 0\.0 1/min"),
        (lambda: exhaust_gas.intake_flow(1.0, 1.0, 85.0), r"volumetric efficiency is 85\.0"),
        (lambda: exhaust_gas.exhaust_flow(0.0, 450.0), r"intake flow is 0\.0 m3/min"),
        (lambda: exhaust_gas.exhaust_flow(1.0, 1200.0), r"exhaust temperature is 1200\.0 degC"),
        (lambda: exhaust_gas.exhaust_flow(1.0, 450.0, 99.0), r"intake temperature is 99\.0 degC"),
        (lambda: exhaust_gas.exhaust_flow(1.0, 450.0, 25.0, 0.5), r"air to fuel ratio is 0\.5"),
        (lambda: exhaust_gas.viscosity(-5.0), r"exhaust temperature is -5\.0 degC"),
        (lambda: exhaust.equivalent_length(-1.0, 50.0), r"straight pipe is -1\.0 m"),
        (lambda: exhaust.equivalent_length(1.0, 0.0), r"pipe bore is 0\.0 mm"),
        (lambda: exhaust.equivalent_length(1.0, 50.0, flexible=-1.0), r"flexible pipe is -1\.0 m"),
        (
            lambda: exhaust.equivalent_length(1.0, 50.0, {"tee": 1}),
            r"fitting is 'tee'; it must be one of 90 short, 90 long, 45, 90 mitre",
        ),
        (lambda: exhaust.equivalent_length(1.0, 50.0, {"45": -1}), r"count of 45 is -1"),
        (lambda: exhaust.back_pressure(0.0, 450.0, 50.0, 3.0), r"exhaust flow is 0\.0 m3/min"),
        (lambda: exhaust.back_pressure(1.0, 450.0, 0.0, 3.0), r"pipe bore is 0\.0 mm"),
        (lambda: exhaust.back_pressure(1.0, 450.0, 50.0, 0.0), r"pipe length is 0\.0 m"),
        (lambda: exhaust.back_pressure(1.0, 450.0, 50.0, 3.0, 5.0), r"roughness is 5\.0 mm"),
        (
            lambda: exhaust.back_pressure(1.0, 450.0, 50.0, 3.0, pressure=0.0),
            r"air pressure is 0\.0",
        ),
        (
            lambda: exhaust.handbook_back_pressure(1.0, -450.0, 50.0, 3.0),
            r"exhaust temperature is -450\.0 degC; it must be from 0 to 1000",
        ),
        (
            lambda: exhaust.handbook_back_pressure(1.0, 450.0, 50.0, 3.0, "psi form"),
            r"form is 'psi form'; it must be one of kPa form",
        ),
        (lambda: exhaust.pipe_size(1.0, 450.0, 3.0, 0.0), r"allowed back pressure is 0\.0 kPa"),
        (
            lambda: exhaust.pipe_size(500.0, 450.0, 30.0, 0.1),
            r"allowed back pressure is 0\.1 kPa; it must be at least .* of a 4 inch pipe",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_array_equals_scalar():
    flows, bores = np.array([1.0, 2.0, 4.0]), np.array([38.0, 50.0, 80.0])
    assert exhaust.back_pressure(flows, 450.0, bores, 5.0) == approx(
        [
            exhaust.back_pressure(float(f), 450.0, float(d), 5.0)
            for f, d in zip(flows, bores, strict=True)
        ]
    )


@given(st.floats(0.5, 5), st.floats(25, 100), st.floats(1, 20))
def test_a_wider_pipe_loses_less_and_a_longer_more(flow, bore, length):
    here = exhaust.back_pressure(flow, 450.0, bore, length)
    assert exhaust.back_pressure(flow, 450.0, bore * 1.1, length) < here
    assert exhaust.back_pressure(flow, 450.0, bore, 2 * length) == approx(2 * here)
