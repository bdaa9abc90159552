"""Heat of fuels: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import fuel


def test_energy_of_ten_litres():
    assert fuel.energy(10.0, 25.0) == 250.0
    assert fuel.energy(np.array([0.0, 10.0]), 25.0) == approx([0.0, 250.0])


@pytest.mark.parametrize("name", fuel.FUELS)
def test_lower_heat_is_the_lower(name):
    assert fuel.heating_value(name, "lower") < fuel.heating_value(name, "higher")


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: fuel.heating_value("petrol"), r"fuel with a higher heat is 'petrol'; .* propane"),
        (lambda: fuel.heating_value("kerosene", "lower"), r"fuel with a lower heat is 'kerosene'"),
        (lambda: fuel.heating_value("propane", "net"), r"basis of heat is 'net'; .* higher, lower"),
        (lambda: fuel.energy(-1.0, 25.0), r"fuel is -1\.0 L; it must be 0 or more"),
        (lambda: fuel.energy(1.0, 0.0), r"heating value is 0\.0 MJ/L; it must be more than 0"),
        (lambda: fuel.cordwood_heat("balsa"), r"species of firewood is 'balsa'; .* white oak"),
        (lambda: fuel.equivalent_fuel(-1.0, 0.5, 25.0, 0.5), r"heat is -1\.0 MJ"),
        (lambda: fuel.equivalent_fuel(1.0, 0.5, 0.0, 0.5), r"heating value is 0\.0 MJ/L"),
        (
            lambda: fuel.equivalent_fuel(1.0, 0.0, 25.0, 0.5),
            r"efficiency is 0\.0; it must be above 0",
        ),
        (
            lambda: fuel.equivalent_fuel(1.0, 0.5, 25.0, 1.1),
            r"efficiency is 1\.1; it must be above 0",
        ),
        (lambda: fuel.storage_life("kerosene", treated=True), r"treated fuel is 'kerosene'"),
        (lambda: fuel.storage_life("propane"), r"stored fuel is 'propane'"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


@pytest.mark.parametrize("name", fuel.STORAGE_LIFE)
def test_a_storage_life_is_a_range_and_stabiliser_lengthens_it(name):
    plain = fuel.storage_life(name)
    assert 0 < plain.least <= plain.most
    if True in fuel.STORAGE_LIFE[name]:
        assert fuel.storage_life(name, treated=True).least > plain.least


@given(st.floats(0, 1e6), st.floats(0.05, 1), st.floats(0.05, 1))
def test_the_same_heat_comes_back(energy, stove, furnace):
    volume = fuel.equivalent_fuel(energy, stove, 25.0, furnace)
    assert fuel.energy(volume, 25.0) * furnace == approx(energy * stove)
