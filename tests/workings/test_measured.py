"""What was measured, held against a range, a highest, a lowest or a single value."""

import pytest

from steadbook import units
from steadbook.inventory.models import Spec
from steadbook.workings.measured import _limit, _verdict


@pytest.mark.parametrize(
    ("spec", "value", "verdict"),
    [
        ({"speed": "1830-1860 rpm"}, "1845 rpm", "within"),
        ({"speed": "1830-1860 rpm"}, "1900 rpm", "above by 2.2 %"),  # 40 / 1860
        ({"temperature": "-34 degF", "limit": "highest"}, "-36 degF", "within"),
        ({"temperature": "-34 degF", "limit": "highest"}, "-31 degF", "above by 3 °F (1.7 °C)"),
        ({"temperature": "-34 degF"}, "-36 degF", "below by 2 °F (1.1 °C)"),
        ({"temperature": "0 degC"}, "5 degC", "above by 9 °F (5 °C)"),  # no share of nothing
        ({"pressure": "10 psi", "limit": "lowest"}, "12 psi", "within"),
        ({"pressure": "10 psi", "limit": "lowest"}, "9 psi", "below by 10.0 %"),
    ],
)
def test_how_a_measurement_stands_to_its_spec(spec, value, verdict):
    found = _verdict(Spec.model_validate(spec), value, "us").replace("\N{NO-BREAK SPACE}", " ")
    assert found == verdict


def test_a_one_sided_limit_says_its_side(home):
    homestead = home().read()
    spec = Spec.model_validate({"temperature": "-34 degF", "limit": "highest"})
    shown = _limit(homestead, spec)
    assert shown == units.show(spec.temperature, homestead.place.units) + " or lower"
