"""Casing volumes and chlorine doses against published tables."""

import pytest
from pytest import approx

from steadbook.figures import chlorination

GAL, IMPERIAL_GAL, QUART, FOOT, INCH = 3.785412, 4.54609, 0.946353, 0.3048, 25.4

VOLUMES = "Mesa County, Colorado, health laboratory: US gal per foot of casing"


@pytest.mark.parametrize(
    ("inches", "gallons", "digit"),
    [
        (2, 0.16, 0.01), (4, 0.65, 0.01), (5, 1.02, 0.01), (6, 1.47, 0.01), (8, 2.61, 0.01),
        (10, 4.08, 0.01), (12, 5.88, 0.01), (24, 23.5, 0.1), (36, 52.87, 0.02),
    ],
)  # fmt: skip
def test_casing(inches, gallons, digit):
    # last printed digit; 36 in is printed 0.01 under the circle's 52.88
    given = chlorination.casing_volume(inches * INCH, FOOT) / GAL
    assert given == approx(gallons, abs=digit), VOLUMES


DOSES = "well treatment table, quarts of 5.25 % bleach for about 100 ppm, by casing and water depth"


@pytest.mark.parametrize(
    ("inches", "feet", "quarts"),
    [
        (4, 50, 0.25), (4, 100, 0.5), (4, 150, 0.75), (4, 200, 1), (6, 50, 0.5), (6, 100, 1),
        (6, 150, 1.5), (6, 200, 2), (8, 50, 1), (8, 100, 2),
    ],
)  # fmt: skip
def test_dose(inches, feet, quarts):
    given = chlorination.well_dose(inches * INCH, feet * FOOT, 5.25) / QUART
    # the table rounds to kitchen measures, up to 12 % low for 6 in
    assert given == approx(quarts, rel=0.13), DOSES


@pytest.mark.parametrize(("feet", "quarts"), [(150, 2), (200, 3)])
def test_table_underdoses_deep_eight_inch_wells(feet, quarts):
    # these two cells of the same table give only 67 and 75 ppm: ours must not follow them down
    assert chlorination.well_dose(8 * INCH, feet * FOOT, 5.25) / QUART > 1.3 * quarts, DOSES


ALBERTA = (
    "Alberta Agdex 716 (A10) module 6, table 1: 200 ppm in twice the casing, per foot of water"
)


@pytest.mark.parametrize(
    ("inches", "gallons", "household", "strong", "grams"),
    [(4, 1.1, 0.019, 0.008, 1.44), (6, 2.4, 0.042, 0.018, 3.12), (8, 4.2, 0.072, 0.032, 5.46)],
)
def test_alberta(inches, gallons, household, strong, grams):
    diameter = inches * INCH
    water = 2 * chlorination.casing_volume(diameter, FOOT)
    # from the bore the table's rounded gallons part by up to 4 % (8 in: 4.35 printed 4.2)
    assert water / IMPERIAL_GAL == approx(gallons, rel=0.04), ALBERTA
    for strength, litres in ((5.25, household), (12.0, strong)):
        given = chlorination.well_dose(diameter, FOOT, strength, 200.0, casings=2)
        assert given == approx(litres, rel=0.05), ALBERTA
        own = chlorination.bleach_volume(gallons * IMPERIAL_GAL, 200.0, strength)
        assert own == approx(litres, rel=0.0125, abs=5e-4), ALBERTA  # litres printed cut off
    # grams are printed 0.8 % above the row's own gallons
    own = chlorination.granules_mass(gallons * IMPERIAL_GAL, 200.0, 70.0)
    assert own == approx(grams, rel=0.01), ALBERTA


def test_alberta_hundred_feet_of_six_inch():
    water = 2 * chlorination.casing_volume(6 * INCH, 100 * FOOT) / IMPERIAL_GAL
    assert water == approx(240, rel=0.02), ALBERTA
    bleach = chlorination.well_dose(6 * INCH, 100 * FOOT, 5.25, 200.0, casings=2)
    assert bleach == approx(4.2, rel=0.02), ALBERTA


def test_alberta_large_bore():
    source = "same: 200 imp gal with 1.5 L of 12 % or 0.26 kg of 70 %"
    water = 200 * IMPERIAL_GAL
    assert chlorination.bleach_volume(water, 200.0, 12.0) == approx(1.5, abs=0.05), source
    assert chlorination.granules_mass(water, 200.0, 70.0) == approx(260, abs=5), source
