"""A quantity, and its value in another unit."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from typing import Any

from steadbook.errors import QuantityError
from steadbook.units.factors import SI

# Where the scale of a temperature has its absolute zero.
ABSOLUTE_ZERO = {"degF": -459.67, "degC": -273.15}


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit; ``high`` is the upper end where a range was written."""

    magnitude: float
    unit: str
    kind: str
    text: str = field(compare=False, default="")
    high: float | None = None

    def to(self, unit: str) -> float:
        """The magnitude (of a range: its lower end) in another unit of the same dimension."""
        if unit == self.unit:  # as most are, and there are many
            return self.magnitude
        return float(convert(self.magnitude, self.unit, unit))

    def __str__(self) -> str:
        number = _plain(self.magnitude)
        if self.high is not None:
            number += f" to {_plain(self.high)}"
        return f"{number} {self.unit}".rstrip()


def _plain(magnitude: float) -> str:
    return repr(float(magnitude)).removesuffix(".0")


@cache
def _factor(from_unit: str, to_unit: str) -> float | None:
    """What to multiply by; None where the units do not measure the same thing."""
    if from_unit not in SI or to_unit not in SI:
        return None
    if (from_unit in ABSOLUTE_ZERO) != (to_unit in ABSOLUTE_ZERO):
        return None  # a temperature is not a difference of temperatures
    (factor, dimension), (other, other_dimension) = SI[from_unit], SI[to_unit]
    return float(Decimal(factor) / Decimal(other)) if dimension == other_dimension else None


def convert(value: Any, from_unit: str, to_unit: str) -> Any:
    """The value in another unit; a number or an array in, the same out.

    >>> convert(212.0, "degF", "degC")
    100.0
    """
    if from_unit == to_unit:
        return value
    factor = _factor(from_unit, to_unit)
    if factor is None:
        raise QuantityError(
            f"{from_unit or 'a plain number'} to be turned into {to_unit or 'a plain number'}",
            "two units of the same kind",
            "name the units as they are listed for one kind",
        )
    if (from_unit, to_unit) == ("degF", "degC"):
        return (value - 32.0) / 1.8
    if (from_unit, to_unit) == ("degC", "degF"):
        return value * 1.8 + 32.0
    return value * factor
