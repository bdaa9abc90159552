"""Heat of fuels against published tables."""

import pytest
from pytest import approx

from steadbook.figures import fuel, tank
from steadbook.figures._factors import BTU, GALLON

DOE = "US DOE Alternative Fuels Data Center, Properties of Fuels (seen in a copy)"
EIA = "US EIA, Btu conversion factors, 2021 (seen in reprints)"
HANDBOOK = "LP-gas handbook table of properties, commercial propane, seen in a reprint"
FORESTRY = "University of Kentucky forestry, Comparison of properties affecting firewood"

BTU_PER_GALLON = BTU / 1000 / GALLON  # MJ/L in a Btu/gal


@pytest.mark.parametrize(
    ("name", "lower", "higher"),
    [
        ("gasoline", 116_090, 124_340),
        ("ethanol", 76_330, 84_530),
        ("diesel", 128_450, 137_380),
        ("gasoline E10", 112_114, 120_359),
    ],
)
def test_heat_of_the_energy_department(name, lower, higher):
    assert fuel.heating_value(name, "lower") / BTU_PER_GALLON == approx(lower, abs=0.5), DOE
    assert fuel.heating_value(name) / BTU_PER_GALLON == approx(higher, abs=0.5), DOE


def test_e10_is_a_tenth_ethanol():
    for basis in ("lower", "higher"):
        mixed = 0.9 * fuel.heating_value("gasoline", basis) + 0.1 * fuel.heating_value(
            "ethanol", basis
        )
        assert fuel.heating_value("gasoline E10", basis) == approx(mixed, rel=1e-5), DOE


@pytest.mark.parametrize(
    ("name", "expected", "tolerance"),
    [
        ("propane", 91_452, 0.001),
        ("diesel", 137_381, 1e-4),
        ("heating oil", 138_690, 0.002),
        # Supplier's table; they spread by 2.5 %.
        ("kerosene", 131_890, 0.025),
        ("gasoline E10", 120_238, 0.002),
    ],
)
def test_heat_agrees_with_the_energy_statistics(name, expected, tolerance):
    assert fuel.heating_value(name) / BTU_PER_GALLON == approx(expected, rel=tolerance), EIA


def test_propane_heat_of_the_handbook():
    assert fuel.heating_value("propane") / BTU_PER_GALLON == approx(91_502, abs=0.5), HANDBOOK
    # The two bases come from two tables; 84,250 / 91,420 in the energy department's own.
    ratio = fuel.heating_value("propane", "lower") / fuel.heating_value("propane")
    assert ratio == approx(84_250 / 91_420, rel=0.002), DOE


def test_propane_heat_of_a_chemical_library():
    # 50,342 kJ/kg gas at 25 C and 4.2285 lb/gal of pure liquid at 60 F; commercial differs 0.7 %.
    source = "chemicals 1.5.2, combustion of C3H8; CoolProp density"
    assert fuel.heating_value("propane") == approx(50.342 * 0.50669, rel=0.007), source


def test_gallons_of_propane_in_a_gallon_of_gasoline():
    ratio = fuel.heating_value("gasoline", "lower") / fuel.heating_value("propane", "lower")
    assert ratio == approx(1.38, abs=0.005), "gallon equivalents, printed 1.38, DOE values"


def test_heat_from_a_full_tank_to_its_reserve():
    gallons = tank.usable_fuel(500 * GALLON, 80.0, 20.0)
    heat = fuel.energy(gallons, fuel.heating_value("propane"))
    assert heat / BTU * 1000 == approx(27_450_600, rel=1e-9), HANDBOOK


@pytest.mark.parametrize(
    ("species", "million"),
    [("osage-orange", 30.5), ("white oak", 27.9), ("sugar maple", 25.9), ("white pine", 15.0)],
)
def test_heat_of_a_cord(species, million):
    assert fuel.cordwood_heat(species) * fuel.CORD / BTU / 1000 == approx(million), FORESTRY


def test_no_digit_of_the_cordwood_table_is_mistyped():
    # Sum of a second, separate transcription of the table.
    second = [305, 293, 283, 279, 263, 263, 259, 259, 246, 226, 217, 205, 205, 202, 193, 173, 173]
    assert sum(fuel.CORDWOOD.values()) == approx((sum(second) + 152 + 150) / 10), FORESTRY


@pytest.mark.parametrize(
    ("species", "million"),
    [("bur oak", 24.9), ("red oak", 24.0), ("hackberry", 21.0), ("sycamore", 19.5)],
)
def test_another_state_s_list_agrees_within_8_percent(species, million):
    source = "Kansas State research and extension, heat values per cord"
    ours = fuel.cordwood_heat(species) * fuel.CORD / BTU / 1000
    assert ours == approx(million, rel=0.085), source


def test_average_cord_of_the_energy_statistics():
    # 20 million Btu is an average of what is sold; it must lie inside the table.
    assert min(fuel.CORDWOOD.values()) < 20.0 < max(fuel.CORDWOOD.values()), EIA


def test_propane_that_heats_like_a_cord_of_white_oak():
    heat = fuel.cordwood_heat("white oak") * fuel.CORD
    gallons = fuel.equivalent_fuel(heat, 0.65, fuel.heating_value("propane"), 0.90) / GALLON
    assert gallons == approx(220.2, abs=0.05), FORESTRY  # 27.9e6 x 0.65 / (91,502 x 0.90)
