"""Exact factors between the units of the trade and those of the figures.

Exact by definition of the inch, the pound, the US gallon, the International Table Btu and
standard gravity (NIST SP 811, appendix B).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeAlias

if TYPE_CHECKING:  # dates need no arrays, and numpy takes longer to load than all the rest
    import numpy as np
    from numpy.typing import NDArray

Number: TypeAlias = "float | NDArray[np.float64]"
"""What a figure takes: one number or an array of them."""

INCH = 25.4  # mm
FOOT = 0.3048  # m
SQUARE_FOOT = FOOT**2  # m2
CUBIC_FOOT = FOOT**3  # m3
GALLON = 3.785411784  # L
POUND = 0.45359237  # kg
POUND_FORCE = 4.4482216152605  # N
FOOT_POUND = FOOT * POUND_FORCE  # N*m
INCH_POUND = FOOT_POUND / 12  # N*m
PSI = 6.894757293168361  # kPa
INCH_WATER = 0.24908891  # kPa; conventional water, so not exact
BTU = 1.05505585262  # kJ
BTU_PER_HOUR = BTU / 3600  # kW
CUBIC_FOOT_PER_MINUTE = CUBIC_FOOT * 60  # m3/h
HORSEPOWER = 550 * FOOT * POUND_FORCE / 1000  # kW
KELVIN = 273.15  # K at 0 degC


def celsius(fahrenheit: Any) -> Any:
    """Degrees Celsius of a reading in degrees Fahrenheit."""
    return (fahrenheit - 32.0) / 1.8


def fahrenheit(celsius: Any) -> Any:
    """Degrees Fahrenheit of a reading in degrees Celsius."""
    return celsius * 1.8 + 32.0
