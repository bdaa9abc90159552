"""Air for an enclosure and carbon monoxide against published values."""

import pytest
from pytest import approx

from steadbook.figures import airflow, atmosphere, carbon_monoxide
from steadbook.figures._factors import (
    BTU,
    BTU_PER_HOUR,
    CUBIC_FOOT,
    CUBIC_FOOT_PER_MINUTE,
    FOOT,
    GALLON,
    POUND,
    SQUARE_FOOT,
)

VENTILATION = "industrial ventilation article: CFM = Btu/h / (1.08 x rise in F)"
ENERGY = "Handbook of Energy Engineering Calculations, engine-room ventilation of a 60 kW set"
HANDBOOK = "LP-gas handbook table: 36.38 ft3/gal, 23.86 volumes of air"
OSHA = "OSHA chemical sampling information, carbon monoxide"
UL = "UL 2034 alarm points, several agreeing pages"


def test_rule_of_1_08():
    flow = airflow.cooling_air(50_000 * BTU_PER_HOUR, 20 / 1.8)
    assert flow / CUBIC_FOOT_PER_MINUTE == approx(2_314.8, abs=0.05), VENTILATION


def test_rule_of_1_08_at_5_000_feet():
    density = airflow.STANDARD_DENSITY * 0.8617
    flow = airflow.cooling_air(50_000 * BTU_PER_HOUR, 20 / 1.8, density)
    assert flow / CUBIC_FOOT_PER_MINUTE == approx(2_686.3, abs=0.1), VENTILATION
    height = 5_000 * FOOT
    ratio = atmosphere.air_density(
        atmosphere.pressure(height), atmosphere.temperature(height)
    ) / atmosphere.air_density(101.325, 15.0)
    assert ratio == approx(0.8617, abs=5e-5), "ICAO Doc 7488"


def test_engine_room_of_the_energy_handbook():
    # 2,625 Btu/min, 15 F, K = 60: air of 1 / (0.24 x 60) lb/ft3.
    density = POUND / CUBIC_FOOT / (0.24 * 60)
    flow = airflow.cooling_air(2_625 * BTU / 60, 15 / 1.8, density)
    assert flow / CUBIC_FOOT_PER_MINUTE == approx(10_500, rel=1e-9), ENERGY


def test_rise_of_the_energy_handbook():
    density = POUND / CUBIC_FOOT / (0.24 * 60)
    rise = airflow.temperature_rise(2_625 * BTU / 60, 10_500 * CUBIC_FOOT_PER_MINUTE, density)
    assert rise * 1.8 == approx(15.0, rel=1e-9), ENERGY


def test_stack_effect_of_the_energy_handbook():
    flow = airflow.stack_flow(30 * SQUARE_FOOT, 5 * FOOT, 15 / 1.8)
    # Printed 2,445; 9.4 x 30 x root of 75 is 2,442.
    assert flow / CUBIC_FOOT_PER_MINUTE == approx(2_445, rel=0.002), ENERGY


def test_air_to_burn_propane():
    flow = airflow.combustion_air(1.5 * GALLON)
    assert flow / CUBIC_FOOT_PER_MINUTE == approx(21.70, abs=0.02), HANDBOOK


def test_air_to_burn_propane_by_stoichiometry():
    # C3H8 + 5 O2: 5 / 0.2095 volumes of air to one of gas.
    assert pytest.approx(5 / 0.2095, rel=1e-3) == airflow.AIR_FOR_PROPANE, "chemistry"


def test_louvre_for_a_genset():
    free = airflow.free_area(2_314.8 * CUBIC_FOOT_PER_MINUTE)
    assert free / SQUARE_FOOT == approx(4.63, abs=0.005), "2,315 cfm at 500 ft/min"
    assert airflow.gross_area(free) / SQUARE_FOOT == approx(9.26, abs=0.005), "50 % free"


def test_specific_heat_of_air():
    # 1.006 kJ/(kg K) dry air at 20 C.
    assert pytest.approx(1.006, rel=2e-3) == airflow.SPECIFIC_HEAT, "textbook value of dry air"


@pytest.mark.parametrize(("parts", "milligrams"), [(35, 40), (50, 55), (200, 229)])
def test_limits_by_mass(parts, milligrams):
    # OSHA rounds 57.3 down to 55 in its table.
    ours = carbon_monoxide.mass_concentration(float(parts))
    assert ours == approx(milligrams, rel=0.045), OSHA
    assert parts in {limit.concentration for limit in carbon_monoxide.LIMITS}, OSHA


def test_a_hundred_parts_by_mass():
    # 28.01 / 24.45 = 1.1456.
    assert carbon_monoxide.mass_concentration(100.0) == approx(114.6, abs=0.05), OSHA


@pytest.mark.parametrize(("parts", "minutes"), [(70, 240), (150, 50), (400, 15)])
def test_alarm_points(parts, minutes):
    assert carbon_monoxide.alarm_delay(float(parts)) == minutes, UL
