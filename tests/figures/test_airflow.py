"""Air for an enclosure: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import airflow

HEAT, RISE = st.floats(0.1, 50), st.floats(1, 60)


def test_heat_into_the_room_by_hand():
    # 3.6 L/h of 25 MJ/L is 25 kW; four tenths of it.
    assert airflow.room_heat(3.6, 25.0) == approx(10.0)


def test_one_square_metre_at_a_metre_a_second():
    assert airflow.free_area(3600.0, 1.0) == approx(1.0)
    assert airflow.opening_flow(1.0, 1.0, 0.0, 1.0) == approx(3600.0)


def test_snow_over_half_the_louvre_doubles_the_rise():
    clear = airflow.temperature_rise(10.0, airflow.opening_flow(1.0))
    snowed = airflow.temperature_rise(10.0, airflow.opening_flow(1.0, blocked=0.5))
    assert snowed == approx(2 * clear)


def test_no_warmth_no_draught():
    assert airflow.stack_flow(1.0, 2.0, 0.0) == 0.0
    assert airflow.natural_rise(0.0, 1.0, 2.0) == 0.0
    assert airflow.combustion_air(0.0) == 0.0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: airflow.room_heat(0.0, 25.0), r"burn rate is 0\.0 L/h"),
        (lambda: airflow.room_heat(1.0, 0.0), r"heating value is 0\.0 MJ/L"),
        (lambda: airflow.room_heat(1.0, 25.0, 40.0), r"share of heat to the room is 40\.0"),
        (lambda: airflow.cooling_air(-1.0, 10.0), r"heat is -1\.0 kW"),
        (lambda: airflow.cooling_air(1.0, 0.0), r"temperature rise is 0\.0 K; .* more than 0"),
        (lambda: airflow.cooling_air(1.0, 10.0, 0.0), r"air density is 0\.0 kg/m3"),
        (lambda: airflow.temperature_rise(-1.0, 10.0), r"heat is -1\.0 kW"),
        (lambda: airflow.temperature_rise(1.0, 0.0), r"air flow is 0\.0 m3/h; .* more than 0"),
        (lambda: airflow.temperature_rise(1.0, 1.0, 0.0), r"air density is 0\.0 kg/m3"),
        (lambda: airflow.combustion_air(-1.0), r"burn rate is -1\.0 L/h"),
        (lambda: airflow.free_area(0.0), r"air flow is 0\.0 m3/h"),
        (lambda: airflow.free_area(1.0, 0.0), r"face velocity is 0\.0 m/s"),
        (lambda: airflow.gross_area(0.0), r"free area is 0\.0 m2"),
        (lambda: airflow.gross_area(1.0, 0.0), r"free share of the louvre is 0\.0"),
        (lambda: airflow.gross_area(1.0, 0.5, 1.0), r"blocked share is 1\.0; .* below 1"),
        (lambda: airflow.opening_flow(0.0), r"louvre area is 0\.0 m2"),
        (lambda: airflow.opening_flow(1.0, velocity=0.0), r"face velocity is 0\.0 m/s"),
        (lambda: airflow.opening_flow(1.0, 2.0), r"free share of the louvre is 2\.0"),
        (lambda: airflow.opening_flow(1.0, blocked=-0.1), r"blocked share is -0\.1"),
        (lambda: airflow.stack_flow(0.0, 1.0, 1.0), r"opening is 0\.0 m2"),
        (lambda: airflow.stack_flow(1.0, 0.0, 1.0), r"height between openings is 0\.0 m"),
        (lambda: airflow.stack_flow(1.0, 1.0, -1.0), r"temperature rise is -1\.0 K"),
        (lambda: airflow.natural_rise(-1.0, 1.0, 1.0), r"heat is -1\.0 kW"),
        (lambda: airflow.natural_rise(1.0, 1.0, 1.0, 0.0), r"air density is 0\.0 kg/m3"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_array_equals_scalar():
    rises = np.array([5.0, 10.0, 20.0])
    assert airflow.cooling_air(10.0, rises) == approx(
        [airflow.cooling_air(10.0, float(rise)) for rise in rises]
    )
    assert airflow.stack_flow(1.0, 2.0, rises) == approx(
        [airflow.stack_flow(1.0, 2.0, float(rise)) for rise in rises]
    )


@given(HEAT, RISE)
def test_rise_undoes_cooling_air(heat, rise):
    assert airflow.temperature_rise(heat, airflow.cooling_air(heat, rise)) == approx(rise)


@given(HEAT, st.floats(0.05, 3), st.floats(0.3, 4))
def test_the_draught_carries_what_the_engine_gives(heat, area, height):
    rise = airflow.natural_rise(heat, area, height)
    flow = airflow.stack_flow(area, height, rise)
    assert airflow.temperature_rise(heat, flow) == approx(rise)


@given(st.floats(0.01, 5), st.floats(0.1, 1), st.floats(0, 0.9))
def test_the_louvre_bought_gives_the_clear_area(free, share, blocked):
    gross = airflow.gross_area(free, share, blocked)
    assert airflow.free_area(airflow.opening_flow(gross, share, blocked)) == approx(free)
