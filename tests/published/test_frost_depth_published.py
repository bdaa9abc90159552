"""Frost depth against Neumann's solution, an independent simulation and field values."""

import numpy as np
import pytest
from pytest import approx

from steadbook.figures import frost_depth as frost

INCH = 0.0254


@pytest.mark.parametrize(
    ("stefan_number", "root"), [(0.1, 0.2200), (0.2, 0.3064), (0.5, 0.4648), (1.0, 0.6201)]
)
def test_one_phase_roots(stefan_number, root):
    source = (
        "Stefan problem, one phase: roots of x exp(x^2) erf(x) = St/sqrt(pi); from memory, check"
    )
    factor = frost.berggren_factor(0.0, stefan_number)
    assert factor * np.sqrt(stefan_number / 2) == approx(root, abs=6e-5), source


@pytest.mark.parametrize("parameter", [0.02, 0.1, 0.2])
def test_aldrich_approximation_where_it_holds(parameter):
    source = "Aldrich and Paynter (1953) eq. 2-33: 1/sqrt(1 + mu (alpha + 0.5)), for small alpha"
    approximate = 1 / np.sqrt(1 + parameter * 0.5)
    assert frost.berggren_factor(0.0, parameter) == approx(approximate, rel=0.02), source


def simulated_depth(ground, surface, days, capacity, fusion, conductivity):
    """Depth of frost by an enthalpy method: explicit steps in 25 mm cells, no formula of ours."""
    step, cells = 0.025, 480
    time_step = 0.4 * step**2 * capacity / conductivity
    heat = np.full(cells, fusion + capacity * ground)  # 0 is frozen soil at 0 degC
    for _ in range(int(days * 86400 / time_step)):
        warm = np.where(heat > fusion, (heat - fusion) / capacity, np.minimum(heat, 0) / capacity)
        padded = np.concatenate([[2 * -surface - warm[0]], warm, [warm[-1]]])
        heat += time_step * conductivity / step**2 * np.diff(padded, 2)
    return step * np.sum(1 - np.clip(heat / fusion, 0, 1))


@pytest.mark.parametrize(
    ("index", "season", "mean", "density", "moisture", "conductivity"),
    [(700.0, 150.0, 5.0, 1600.0, 0.15, 1.4), (1500.0, 180.0, 1.0, 1500.0, 0.25, 1.3)],
)
def test_against_simulation(index, season, mean, density, moisture, conductivity):
    capacity = density * (0.17 + 0.75 * moisture) * 4186.8
    fusion = 334000.0 * density * moisture
    simulated = simulated_depth(mean, index / season, season, capacity, fusion, conductivity)
    given = frost.frost_depth(index, season, mean, density, moisture, conductivity)
    assert given == approx(simulated, rel=0.03), "enthalpy simulation of the same ground"


def test_lake_ice_without_snow():
    source = "cold-climate engineering text: inches = 0.983 sqrt(degF days)"
    # water freezing to ice of 2.2 W/(m K); the text's ice conducts a little less
    given = frost.stefan_depth(100 / 1.8, 2.2, 334000.0 * 1000) / INCH
    assert given == approx(0.983 * 10, rel=0.02), source


@pytest.mark.parametrize(("pounds", "percent"), [(62.4, 100), (100, 15), (130, 5)])
def test_soil_fusion_heat(pounds, percent):
    source = "TM 5-852-6: 144 Btu/lb x dry density x water content, Btu/ft3"
    by_rule = 144 * pounds * percent / 100
    given = frost.soil_fusion_heat(pounds * 16.01846, percent / 100) / 37258.95
    assert given == approx(by_rule, rel=4e-3), source


@pytest.mark.parametrize("index", [300.0, 1000.0, 1800.0])
def test_measured_under_roads(index):
    # a scatter plot with a straight line: only the order of magnitude can be asked for
    source = "FHWA-HRT-06-121 figure 1: measured frost under roads, 0.0014 m for each degC day"
    given = frost.frost_depth(index, 40 * (index / 300) ** 0.5, 6.0, 1900.0, 0.10, 1.8, 0.7)
    assert 0.5 < given / (0.0014 * index) < 2.0, source
