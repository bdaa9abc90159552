"""The factors of all units against pint, for every pair that measures the same thing."""

from itertools import permutations

import pint
import pytest

from steadbook.units.conversion import ABSOLUTE_ZERO, convert
from steadbook.units.factors import SI
from steadbook.units.spelling import UNITS

REGISTRY = pint.UnitRegistry()


def test_every_unit_has_its_factor():
    assert list(SI) == list(UNITS)


def _pint(unit):
    found = REGISTRY.parse_expression(UNITS[unit][0])
    return found if hasattr(found, "dimensionality") else REGISTRY.Quantity(found)


@pytest.mark.parametrize("unit", [unit for unit in SI if unit not in ABSOLUTE_ZERO])
def test_factors_are_those_of_pint(unit):
    others = [other for other in SI if SI[other][1] == SI[unit][1] and other not in ABSOLUTE_ZERO]
    assert unit in others
    for other in others:
        ratio = (_pint(unit) / _pint(other)).to_base_units().magnitude
        assert convert(1.0, unit, other) == pytest.approx(ratio, rel=1e-12), f"{unit} to {other}"


def test_two_units_share_a_dimension_where_pint_says_so():
    for one, other in permutations((u for u in SI if u not in ABSOLUTE_ZERO), 2):
        same = _pint(one).to_base_units().units == _pint(other).to_base_units().units
        assert same == (SI[one][1] == SI[other][1]), f"{one} and {other}"
