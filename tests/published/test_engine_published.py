"""Standard atmosphere and power derating against published values."""

import CoolProp.CoolProp as coolprop
import numpy as np
import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from pytest import approx

from steadbook.figures import atmosphere, engine
from steadbook.figures._factors import FOOT, celsius

ICAO = "ICAO Doc 7488 / ISO 2533 standard atmosphere"
WEATHER = "International Standard Atmosphere table, ICAO 1964, heights of pressure surfaces"
FARM = "agricultural-engineering text, chapters Altitude and Temperature"
ISO = "ISO 3046-1 power adjustment, worked by hand from the formula (dry)"
SAE = "SAE J1349, June 1990, formula seen in a reprint"


@pytest.mark.parametrize(
    ("feet", "kpa", "degrees", "density"),
    [
        (0, 101.325, 15.00, 1.2250),
        (1_000, 97.717, 13.02, 1.1896),
        (3_000, 90.812, 9.06, 1.1210),
        (5_000, 84.307, 5.09, 1.0555),
        (8_000, 75.262, -0.85, 0.9629),
        (10_000, 69.682, -4.81, 0.9046),
    ],
)
def test_standard_atmosphere(feet, kpa, degrees, density):
    height = feet * FOOT
    pressure, temperature = atmosphere.pressure(height), atmosphere.temperature(height)
    assert pressure == approx(kpa, abs=6e-4), ICAO
    assert temperature == approx(degrees, abs=0.0051), ICAO
    assert atmosphere.air_density(pressure, temperature) == approx(density, abs=6e-5), ICAO


@pytest.mark.parametrize("geometric", [0.0, 500.0, 1500.0, 3000.0, 6000.0])
def test_standard_atmosphere_of_a_library(geometric):
    source = "fluids.atmosphere.ATMOSPHERE_1976 (takes geometric height)"
    library = ATMOSPHERE_1976(geometric)
    height = 6_356_766.0 * geometric / (6_356_766.0 + geometric)  # geopotential
    assert atmosphere.pressure(height) == approx(library.P / 1000, rel=2e-4), source
    assert atmosphere.temperature(height) == approx(library.T - 273.15, abs=0.01), source


@pytest.mark.parametrize(("hectopascal", "metres"), [(850, 1_457), (800, 1_949), (700, 3_012)])
def test_height_of_pressure_surfaces(hectopascal, metres):
    assert atmosphere.pressure_height(hectopascal / 10) == approx(metres, abs=1.0), WEATHER


@pytest.mark.parametrize("degrees", np.arange(1.0, 60.0, 7.0))
def test_saturated_vapour_of_a_reference_library(degrees):
    expected = coolprop.PropsSI("P", "T", degrees + 273.15, "Q", 1, "Water") / 1000
    # Buck fits moist air, the library pure steam: they part by up to 0.15 %.
    assert atmosphere.saturation_pressure(degrees) == approx(expected, rel=2e-3), "CoolProp"


def test_height_rule_of_the_farm_text():
    # 225 hp at 4,500 ft, 3 % for each 1,000 ft above 500 ft.
    share = engine.rule_of_thumb_share(
        4_500 * FOOT, 20.0, height_loss=3.0 * engine.PER_THOUSAND_FEET, base_height=500 * FOOT
    )
    assert 225 * share == approx(198.0, rel=1e-9), FARM


def test_heat_rule_of_the_farm_text():
    # 165 bhp spark ignition at 100 F, 1 % for each 10 F above 85 F; printed 162.5.
    assert 165 * engine.rule_of_thumb_share(0.0, celsius(100.0)) == approx(162.525), FARM


def test_both_rules_together():
    # 10 kW, 6,000 ft, 95 F, 3.5 % from sea level, 1 % from 85 F: 10 x 0.79 x 0.99.
    share = engine.rule_of_thumb_share(6_000 * FOOT, celsius(95.0))
    assert 10 * share == approx(7.821, abs=5e-4), "worked by hand from both rules"


@pytest.mark.parametrize(
    ("pressure", "degrees", "kind", "k", "alpha", "beta"),
    [
        (84.56, 35.0, "diesel limited by air", 0.8249, 0.7943, 1.0386),
        (84.56, 25.0, "diesel limited by air", 0.8456, 0.8186, 1.0330),
        (84.56, 35.0, "spark ignition", 0.8501, 0.8239, 1.0318),
    ],
)
def test_power_adjustment(pressure, degrees, kind, k, alpha, beta):
    ratio = engine.indicated_power_ratio(pressure, degrees, engine.ENGINE_KINDS[kind])
    assert ratio == approx(k, abs=1e-4), ISO
    assert engine.adjusted_power_share(ratio) == approx(alpha, abs=1e-4), ISO
    assert engine.adjusted_fuel_factor(ratio) == approx(beta, abs=1e-4), ISO


def test_power_adjustment_in_moist_air():
    kind = engine.ENGINE_KINDS["diesel limited by air"]
    ratio = engine.indicated_power_ratio(84.56, 35.0, kind, humidity=0.50)
    source = f"{ISO}, with vapour pressures 5.629 and 3.170 kPa of CoolProp"
    assert ratio == approx(0.8051, abs=2e-4), source
    assert engine.adjusted_power_share(ratio) == approx(0.7710, abs=2e-4), source
    assert engine.adjusted_fuel_factor(ratio) == approx(1.0442, abs=2e-4), source


@pytest.mark.parametrize(
    ("pressure", "degrees", "factor", "left"),
    [(90.0, 30.0, 1.1288, 0.8859), (84.0, 35.0, 1.2339, 0.8105)],
)
def test_correction_to_standard_power(pressure, degrees, factor, left):
    assert engine.correction_factor(pressure, degrees) == approx(factor, abs=5e-5), SAE
    assert 1 / engine.correction_factor(pressure, degrees) == approx(left, abs=5e-5), SAE


def test_correction_in_inches_of_mercury():
    # The reprint states its standard as 990 mbar, 25 C, and 29.23 inHg, 77 F for the same air.
    factor = engine.correction_factor(29.23 * 3.386389, celsius(77.0))
    assert factor == approx(1.0, abs=4e-4), SAE  # 0.01 inHg is 0.0004
