"""The displacement on a genset's plate, in the units engines are sold by."""

import pytest
from pydantic import ValidationError

from steadbook.inventory.models import GensetPlate


@pytest.mark.parametrize(
    ("text", "litres"),
    [  # 61 * 0.016387064 L, the inch being 2.54 cm by definition; 212 cm3; a litre
        ("61 in3", 0.999610904),
        ("212 cc", 0.212),
        ("212 mL", 0.212),
        ("1.0 L", 1.0),
        ("61 in3 (1.0 L)", 0.999610904),
    ],
)
def test_a_displacement_is_read_in_the_units_of_the_trade(text, litres):
    plate = GensetPlate.model_validate({"displacement": text})
    assert plate.displacement.to("L") == pytest.approx(litres, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "fix"),
    [
        ("2 gal", "gal measures a volume, not an engine's displacement; write one of in3, cm3, L"),
        ("0 cc", "write a value above 0"),
        ("212", "write the unit after the number"),
    ],
)
def test_a_displacement_no_engine_has_is_refused(text, fix):
    with pytest.raises(ValidationError, match=fix):
        GensetPlate.model_validate({"displacement": text})
