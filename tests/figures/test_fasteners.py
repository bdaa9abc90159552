"""Threads, their areas and torques: designations, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import fasteners
from steadbook.figures.fasteners import SparkPlug, Thread, parse_thread


@pytest.mark.parametrize(
    ("text", "diameter", "pitch"),
    [
        ("M8", 8.0, 1.25),
        ("m14 x 1.5", 14.0, 1.5),
        ("M14×1.5", 14.0, 1.5),
        (" M6 ", 6.0, 1.0),
        ("M10x1.25", 10.0, 1.25),
        ("3/8-16", 9.525, 1.5875),
        ("3/8-24 UNF", 9.525, 25.4 / 24),
        ('1/4"-20 UNC', 6.35, 1.27),
        ("1/2-13", 12.7, 25.4 / 13),
        ("1-8", 25.4, 3.175),
        ("1-1/8-7", 28.575, 25.4 / 7),
        ("1 1/8-7", 28.575, 25.4 / 7),
        ("#10-24", 4.826, 25.4 / 24),
        ("10-32", 4.826, 25.4 / 32),
    ],
)
def test_a_designation_is_read(text, diameter, pitch):
    thread = parse_thread(text)
    assert (thread.diameter, thread.pitch) == approx((diameter, pitch))
    assert thread.series == ("metric" if "m" in text.lower() else "inch")


@pytest.mark.parametrize(
    ("text", "plug"),
    [
        ("14 mm gasket", SparkPlug(14, "gasket")),
        ("18mm Taper", SparkPlug(18, "taper")),
        ("14 mm spark plug, gasket", SparkPlug(14, "gasket")),
    ],
)
def test_a_plug_is_read(text, plug):
    assert parse_thread(text) == plug


@pytest.mark.parametrize(
    "text",
    [
        "",
        "M",
        "M7.3",
        "M8x8",
        "M8x0.1",
        "3/8",
        "3/0-16",
        "3/8-0",
        "3/8-2",
        "#7-20",
        "16 mm gasket",
        "10 mm taper",
        "4-8",
        "9-9",
        "hex",
        "8",
        "M8 8.8",
    ],
)
def test_what_names_no_thread_is_refused(text):
    with pytest.raises(OutOfRange, match=r"thread is '.*'; it must be a thread such as M8"):
        parse_thread(text)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: fasteners.stress_area(0.0, 1.0), r"thread diameter is 0\.0 mm"),
        (lambda: fasteners.stress_area(8.0, 8.0), r"thread pitch is 8\.0 mm"),
        (lambda: fasteners.stress_area(8.0, 1.0, "pipe"), r"thread series is 'pipe'"),
        (
            lambda: fasteners.proof_stress(parse_thread("M8"), "grade 5"),
            r"grade of a metric bolt is 'grade 5'; it must be one of 4\.6, 5\.8, 8\.8",
        ),
        (
            lambda: fasteners.proof_stress(parse_thread("3/8-16"), "8.8"),
            r"grade of an inch bolt is '8\.8'; it must be one of grade 2, grade 5",
        ),
        (
            lambda: fasteners.proof_stress(Thread(45.0, 4.5, "metric"), "8.8"),
            r"bolt diameter is 45\.0 mm; it must be at most 39 for 8\.8",
        ),
        (lambda: fasteners.torque(0.0, 1.0), r"thread diameter is 0\.0 mm"),
        (lambda: fasteners.torque(8.0, -1.0), r"clamping force is -1\.0 N"),
        (lambda: fasteners.torque(8.0, 1.0, 20.0), r"nut factor is 20\.0"),
        (
            lambda: fasteners.clamping_force(parse_thread("M8"), "8.8", 75.0),
            r"share of proof load is 75\.0; it must be above 0, at most 1",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_torque_by_hand():
    # 10 mm, 10 kN, K 0.2: 0.2 x 0.010 x 10,000.
    assert fasteners.torque(10.0, 10_000.0) == approx(20.0)


def test_a_thick_bolt_takes_the_stress_of_its_size():
    assert fasteners.proof_stress(parse_thread("M16"), "8.8") == 580
    assert fasteners.proof_stress(parse_thread("M18"), "8.8") == 600


def test_array_equals_scalar():
    pulls = np.array([0.0, 5e3, 2e4])
    assert fasteners.torque(8.0, pulls) == approx(
        [fasteners.torque(8.0, float(pull)) for pull in pulls]
    )


@given(st.sampled_from(sorted(fasteners.COARSE_PITCHES)))
def test_the_stressed_area_lies_between_core_and_shank(diameter):
    area = fasteners.stress_area(float(diameter), fasteners.COARSE_PITCHES[diameter])
    core = diameter - 1.2269 * fasteners.COARSE_PITCHES[diameter]
    assert np.pi / 4 * core**2 < area < np.pi / 4 * diameter**2
