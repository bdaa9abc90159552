"""Voltage lost in a cable: hand cases, edges, errors, properties."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import wiring


def test_ten_amperes_there_and_back_by_hand():
    # 100 m of 1 ohm/km each way: 0.2 ohm.
    assert wiring.voltage_drop(10.0, 100.0, 1.0) == approx(2.0)
    assert wiring.drop_percent(2.0, 100.0) == approx(2.0)
    assert wiring.voltage_drop(0.0, 100.0, 1.0) == 0.0


def test_thicker_wire_resists_less_and_carries_more():
    rows = list(wiring.CONDUCTORS.values())
    for thin, thick in pairwise(rows):
        assert thick.circular_mils > thin.circular_mils
        assert thick.copper < thin.copper < thin.aluminium
        assert thick.ampacity > thin.ampacity


@pytest.mark.parametrize("gauge", wiring.CONDUCTORS)
@pytest.mark.parametrize("metal", ["copper", "aluminium"])
def test_table_and_circular_mil_rule_agree(gauge, metal):
    # Two columns of the trade, typed separately: a wrong digit in either would show.
    by_table = wiring.voltage_drop(10.0, 10.0, wiring.resistance(gauge, metal))
    assert wiring.circular_mil_drop(10.0, gauge, 10.0, metal) == approx(by_table, rel=0.04)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: wiring.resistance("7"), r"conductor gauge is '7' AWG; it must be one of 14, 12"),
        (
            lambda: wiring.resistance("6", "gold"),
            r"metal is 'gold'; it must be copper or aluminium",
        ),
        (lambda: wiring.circular_mil_drop(1.0, "6", 1.0, "tin"), r"metal is 'tin'"),
        (lambda: wiring.voltage_drop(-1.0, 1.0, 1.0), r"current is -1\.0 A"),
        (lambda: wiring.voltage_drop(1.0, -1.0, 1.0), r"cable length is -1\.0 m"),
        (lambda: wiring.voltage_drop(1.0, 1.0, 0.0), r"resistance is 0\.0 ohm/km"),
        (lambda: wiring.drop_percent(1.0, 0.0), r"voltage is 0\.0 V"),
        (
            lambda: wiring.drop_percent(13.0, 12.0),
            r"voltage drop is 13\.0 V; .* from 0 to the voltage",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_array_equals_scalar():
    currents = np.array([0.0, 5.0, 40.0])
    assert wiring.voltage_drop(currents, 10.0, 1.6) == approx(
        [wiring.voltage_drop(float(current), 10.0, 1.6) for current in currents]
    )


@given(st.floats(0, 300), st.floats(0, 500))
def test_twice_the_run_loses_twice(current, length):
    once = wiring.voltage_drop(current, length, 1.6)
    assert wiring.voltage_drop(current, 2 * length, 1.6) == approx(2 * once)
