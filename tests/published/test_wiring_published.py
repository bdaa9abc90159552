"""Voltage lost in cables against published examples."""

import pytest
from pytest import approx

from steadbook.figures import wiring
from steadbook.figures._factors import FOOT

TABLE = "NEC chapter 9 table 8, annotated reprint"
RULE = "voltage-drop pages on the NEC: V = 2 K I L / CM, K 12.9"
AMPACITY = "NEC table 310.16, 2023, two pages agreeing"


def test_40_amperes_150_feet_240_volts():
    drop = wiring.voltage_drop(40.0, 150 * FOOT, wiring.resistance("6"))
    assert drop == approx(5.892, abs=5e-4), TABLE
    assert wiring.drop_percent(drop, 240.0) == approx(2.455, abs=5e-4), TABLE
    assert wiring.circular_mil_drop(40.0, "6", 150 * FOOT) == approx(5.899, abs=5e-4), RULE


def test_30_amperes_40_feet_24_volts():
    drop = wiring.voltage_drop(30.0, 40 * FOOT, wiring.resistance("6"))
    assert drop == approx(1.178, abs=5e-4), TABLE
    assert wiring.drop_percent(drop, 24.0) == approx(4.91, abs=5e-3), TABLE


def test_20_amperes_100_feet_120_volts():
    drop = wiring.circular_mil_drop(20.0, "10", 100 * FOOT)
    assert drop == approx(4.97, abs=5e-3), RULE
    assert wiring.drop_percent(drop, 120.0) == approx(4.14, abs=6e-3), RULE


@pytest.mark.parametrize(
    ("gauge", "ohm"), [("14", 10.07), ("6", 1.61), ("2/0", 0.317), ("4/0", 0.199)]
)
def test_metric_resistance(gauge, ohm):
    assert wiring.resistance(gauge) == approx(ohm, rel=0.003), TABLE


@pytest.mark.parametrize(("gauge", "ampere"), [("6", 65), ("2", 115), ("4/0", 230)])
def test_ampacity(gauge, ampere):
    assert wiring.CONDUCTORS[gauge].ampacity == ampere, AMPACITY


@pytest.mark.parametrize("gauge", wiring.CONDUCTORS)
def test_gauge_by_its_definition(gauge):
    # 0.005 in x 92^((36 - n) / 39), 1/0 is gauge 0, 2/0 gauge -1, 4/0 gauge -3.
    source = "ASTM B258, definition of the American wire gauge"
    number = 1 - int(gauge.split("/")[0]) if "/" in gauge else int(gauge)
    mils = 5 * 92 ** ((36 - number) / 39)
    assert wiring.CONDUCTORS[gauge].circular_mils == approx(mils**2, rel=1e-3), source


@pytest.mark.parametrize("gauge", wiring.CONDUCTORS)
def test_area_is_that_of_the_gauge(gauge):
    source = "ASTM B258: 0.005 in at No. 36, 0.46 in at 4/0, 39 equal steps between"
    number = 1 - int(gauge[0]) if gauge.endswith("/0") else int(gauge)
    mils = 5 * 92 ** ((36 - number) / 39)
    # the table prints four digits at most
    assert wiring.CONDUCTORS[gauge].circular_mils == approx(mils**2, rel=1e-3), source
