"""Threads, proof loads and torques against published tables."""

import pytest
from pytest import approx

from steadbook.figures import fasteners
from steadbook.figures._factors import FOOT_POUND, INCH, INCH_POUND, POUND_FORCE
from steadbook.figures.plausible import torque_range

ISO = "ISO 898-1, stress areas and proof loads, seen in a distributor's table"
SAE = "SAE J429 clamp loads and dry torques, seen in a hardware supplier's table"
TENSION = "torque against tension of SAE J429 bolts, engineering reference, K 0.15"
PLUGS = "LSU AgCenter, Spark plug tightening torque, 2006"
SI = "exact by definition of the inch, the pound and standard gravity"


def test_units_of_torque():
    assert approx(14.7512, rel=1e-5) == 20 / FOOT_POUND, SI
    assert approx(27.1164, rel=1e-5) == 20 * FOOT_POUND, SI
    assert approx(11.2985, rel=1e-5) == 100 * INCH_POUND, SI
    assert approx(1.3558179483314004, rel=1e-15) == FOOT_POUND, SI


@pytest.mark.parametrize(
    ("thread", "area"),
    [
        ("M3", 5.03),
        ("M5", 14.2),
        ("M6", 20.1),
        ("M8", 36.6),
        ("M10", 58.0),
        ("M12", 84.3),
        ("M14", 115),
        ("M16", 157),
        ("M20", 245),
        ("M24", 353),
    ],
)
def test_metric_stress_area(thread, area):
    read = fasteners.parse_thread(thread)
    # Half of the third printed digit.
    assert fasteners.stress_area(*read) == approx(area, rel=0.004), ISO


@pytest.mark.parametrize(
    ("thread", "square_inches"),
    [("1/4-20", 0.0318), ("5/16-18", 0.0524), ("3/8-16", 0.0775), ("1/2-13", 0.1419)],
)
def test_inch_stress_area(thread, square_inches):
    read = fasteners.parse_thread(thread)
    area = fasteners.stress_area(*read) / INCH**2
    assert area == approx(square_inches, abs=1e-4), SAE


@pytest.mark.parametrize(
    ("thread", "loads"),
    [
        ("M6", {"4.6": 4520, "5.8": 7640, "8.8": 11_600, "10.9": 16_700, "12.9": 19_500}),
        ("M8", {"4.6": 8240, "5.8": 13_900, "8.8": 21_200, "10.9": 30_400, "12.9": 35_500}),
        ("M10", {"4.6": 13_000, "5.8": 22_000, "8.8": 33_700, "10.9": 48_100, "12.9": 56_300}),
        ("M12", {"4.6": 19_000, "5.8": 32_000, "8.8": 48_900, "10.9": 70_000, "12.9": 81_800}),
        ("M16", {"4.6": 35_300, "5.8": 59_700, "8.8": 91_000, "10.9": 130_000, "12.9": 152_000}),
        ("M20", {"4.6": 55_100, "5.8": 93_100, "8.8": 147_000, "10.9": 203_000, "12.9": 238_000}),
    ],
)
def test_metric_proof_load(thread, loads):
    read = fasteners.parse_thread(thread)
    for grade, load in loads.items():
        # Areas and loads are each cut to three digits in the standard.
        assert fasteners.clamping_force(read, grade, 1.0) == approx(load, rel=0.007), (ISO, grade)


@pytest.mark.parametrize(
    ("thread", "grade", "pounds", "foot_pounds"),
    [
        ("1/4-20", "grade 2", 1_312, 5.4),
        ("3/8-16", "grade 2", 3_197, 20.0),
        ("3/4-16", "grade 2", 15_366, 192),
        ("7/8-9", "grade 2", 11_435, 167),
        ("1/4-20", "grade 5", 2_027, 8.4),
        ("1/4-28", "grade 5", 2_321, 9.6),
        ("5/16-18", "grade 5", 3_341, 17.4),
        ("3/8-16", "grade 5", 4_941, 30.9),
        ("3/8-24", "grade 5", 5_597, 35.0),
        ("1/2-13", "grade 5", 9_046, 75.4),
        ("1/2-20", "grade 5", 10_200, 85.0),
    ],
)
def test_inch_clamping_force_and_torque(thread, grade, pounds, foot_pounds):
    read = fasteners.parse_thread(thread)
    force = fasteners.clamping_force(read, grade)
    # The table rounds the stress area to four decimals of a square inch.
    assert force / POUND_FORCE == approx(pounds, rel=0.002), SAE
    torque = fasteners.torque(read.diameter, force) / FOOT_POUND
    # The table cuts to a tenth of a lbf*ft, and above 100 to a whole one.
    assert torque == approx(foot_pounds, rel=0.006, abs=0.1), SAE


@pytest.mark.parametrize(
    ("thread", "newton_metres"),
    [("M6", 10.44), ("M8", 25.44), ("M10", 50.55), ("M12", 88.02)],
)
def test_metric_torque_from_the_proof_load(thread, newton_metres):
    # 0.75 of the printed proof load, K 0.20.
    read = fasteners.parse_thread(thread)
    loads = {"M6": 11_600, "M8": 21_200, "M10": 33_700, "M12": 48_900}
    assert fasteners.torque(read.diameter, 0.75 * loads[thread]) == approx(newton_metres), ISO
    ours = fasteners.torque(read.diameter, fasteners.clamping_force(read, "8.8"))
    assert ours == approx(newton_metres, rel=0.007), ISO  # as the proof loads


def test_m8_of_class_8_8_in_three_steps():
    read = fasteners.parse_thread("M8")
    force = fasteners.clamping_force(read, "8.8")
    assert force == approx(15_900, rel=0.002), ISO  # 21,200 is rounded from 21,234
    assert fasteners.torque(8.0, 15_900.0) == approx(25.44, rel=1e-9), ISO
    assert fasteners.torque(8.0, 15_900.0) / FOOT_POUND == approx(18.76, abs=0.005), ISO


@pytest.mark.parametrize(
    ("thread", "foot_pounds"), [("1/4-20", 76 / 12), ("3/8-16", 23), ("1/2-13", 57)]
)
def test_oiled_torque(thread, foot_pounds):
    read = fasteners.parse_thread(thread)
    force = fasteners.clamping_force(read, "grade 5")
    torque = fasteners.torque(read.diameter, force, fasteners.NUT_FACTORS["oiled"])
    assert torque / FOOT_POUND == approx(foot_pounds, rel=0.012), TENSION  # two printed digits


@pytest.mark.parametrize(
    ("plug", "head", "least", "most"),
    [
        ("14 mm gasket", "aluminium", 20.3, 29.8),
        ("14 mm taper", "aluminium", 9.5, 20.3),
        ("18 mm gasket", "aluminium", 38.0, 46.1),
        ("12 mm gasket", "aluminium", 14.9, 25.8),
        ("14 mm gasket", "cast iron", 26 * FOOT_POUND, 29 * FOOT_POUND),
    ],
)
def test_spark_plug_torque(plug, head, least, most):
    assert torque_range(plug, head=head) == approx((least, most), abs=0.05), PLUGS
