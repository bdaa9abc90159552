"""Snow loads and chimney heights against published values."""

import numpy as np
import pytest
from pytest import approx

from steadbook.figures import structure

PSF, PCF, FOOT, INCH = 0.04788026, 16.01846, 0.3048, 25.4  # kPa, kg/m3, m, mm


@pytest.mark.parametrize(
    ("feet", "pounds", "load", "source"),
    [
        (1.5, 10, 15, "snow load guide: 1.5 ft at 10 lb/ft3 is 15 lb/ft2"),
        (1, 20, 20, "condominium engineer: a 12 in cube weighs 20 lb"),
        (3, 20, 60, "same: three feet of wet snow with ice 50 to 60 lb/ft2"),
        (1 / 12, 62.4, 5.2, "handbook: an inch of water is 5.2 lb/ft2"),
    ],
)
def test_snow_load(feet, pounds, load, source):
    if pounds == 62.4:  # water is denser than ice: reach the inch by twice half the density
        given = 2 * structure.snow_load(feet * FOOT, pounds / 2 * PCF)
    else:
        given = structure.snow_load(feet * FOOT, pounds * PCF)
    assert given / PSF == approx(load, rel=1e-3), source


@pytest.mark.parametrize(
    ("name", "light", "heavy"), [("new, dry", 3.12, 4.37), ("settled", 12.49, 18.73)]
)
def test_density_ranges(name, light, heavy):
    source = "snow density article: 3.12 to 4.37 and 12.49 to 18.73 lb/ft3"
    given = np.array(structure.SNOW_DENSITY[name]) / PCF
    assert given == approx(np.array([light, heavy]), abs=0.006), source


@pytest.mark.parametrize(
    ("rise_in_12", "feet_to_ridge", "height"),
    [
        (0, 20, 3),
        (4, 20, 2 + 40 / 12),
        (6, 20, 7),
        (12, 20, 12),
        (12, 4, 6),  # the ridge is nearer than 10 ft: 4 ft of rise and 2 ft over it
        (1, 20, 3),  # 2 ft 10 in by the second rule, so the first counts
    ],
)
def test_chimney(rise_in_12, feet_to_ridge, height):
    source = "NFPA 211: 3 ft above the roof and 2 ft above anything within 10 ft; by hand"
    given = structure.chimney_height(rise_in_12 / 12, feet_to_ridge * FOOT)
    assert given / FOOT == approx(height), source


def test_masonry_clearances():
    source = "NFPA 211: 2 in inside the house, 1 in outside"
    short = structure.clearance_short("masonry chimney inside the house", 0.0)
    assert short / INCH == approx(2), source
    assert structure.clearance_short("masonry chimney outside", 0.0) / INCH == approx(1), source
