"""Propane in the tank: pressure, density, and how its volume changes with temperature.

Pure propane. What a dealer delivers holds a little ethane and butane, and reads 10 to 20 % more
pressure in the handbooks; a page that shows a pressure says which of the two it shows.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import CUBIC_FOOT, GALLON, KELVIN, Number, celsius

CRITICAL_TEMPERATURE = 369.89  # K
CRITICAL_PRESSURE = 4251.2  # kPa
CRITICAL_DENSITY = 220.4781  # kg/m3, 5.000 mol/L of 44.09562 g/mol

REFERENCE_TEMPERATURE = celsius(60.0)  # degC; gallons are sold as gallons at 60 F
COLDEST, WARMEST = -60.0, 60.0  # degC; the tests check the correlations over this span

VAPOUR_PER_GALLON = 36.38  # ft3 at 60 F; handbook, commercial propane

_PRESSURE_TERMS = ((-6.7722, 1.0), (1.6938, 1.5), (-1.3341, 2.2), (-3.1876, 4.8), (0.94937, 6.2))
_DENSITY_TERMS = ((1.82205, 0.345), (0.65802, 0.74), (0.21109, 2.6), (0.083973, 7.2))


def _below_critical(temperature: Any) -> tuple[Any, Any]:
    """Reduced temperature and its distance below the critical point."""
    require(
        (temperature >= COLDEST) & (temperature <= WARMEST),
        "propane temperature",
        temperature,
        "degC",
        f"from {COLDEST:g} to {WARMEST:g}",
    )
    reduced = (temperature + KELVIN) / CRITICAL_TEMPERATURE
    return reduced, 1.0 - reduced


@units(temperature="degC", returns="kPa")
def vapour_pressure(temperature: Number) -> Any:
    """Absolute pressure of pure propane over its liquid.

    Parameters
    ----------
    temperature : float or array
        Temperature of the liquid, -60 to 60. [degC]

    Returns
    -------
    float or array
        Saturation pressure, absolute; take off 101.325 for the gauge. [kPa]

    Raises
    ------
    OutOfRange
        Temperature outside -60 to 60 degC.

    Examples
    --------
    >>> round(float(vapour_pressure(15.5556)), 0)    # 107.7 psia at 60 F
    743.0

    Source: E. W. Lemmon, M. O. McLinden, W. Wagner, J. Chem. Eng. Data 54 (2009) 3141, auxiliary
    equation for vapour pressure; coefficients seen in open equation-of-state code.
    """
    reduced, distance = _below_critical(temperature)
    exponent = sum(factor * distance**power for factor, power in _PRESSURE_TERMS) / reduced
    return CRITICAL_PRESSURE * np.exp(exponent)


@units(temperature="degC", returns="kg/m3")
def liquid_density(temperature: Number) -> Any:
    """Density of pure liquid propane at its own vapour pressure.

    Parameters
    ----------
    temperature : float or array
        Temperature of the liquid, -60 to 60. [degC]

    Returns
    -------
    float or array
        Saturated liquid density. [kg/m3]

    Raises
    ------
    OutOfRange
        Temperature outside -60 to 60 degC.

    Examples
    --------
    >>> round(float(liquid_density(15.5556)), 1)    # 4.229 lb/gal at 60 F
    506.7

    Source: E. W. Lemmon, M. O. McLinden, W. Wagner, J. Chem. Eng. Data 54 (2009) 3141, auxiliary
    equation for saturated liquid density; from memory, checked against CoolProp.
    """
    _, distance = _below_critical(temperature)
    return CRITICAL_DENSITY * (1.0 + sum(f * distance**power for f, power in _DENSITY_TERMS))


@units(temperature="degC", reference="degC", returns="")
def volume_factor(temperature: Number, reference: Number = REFERENCE_TEMPERATURE) -> Any:
    """Factor that turns litres measured at one temperature into litres at another.

    Parameters
    ----------
    temperature : float or array
        Temperature at which the volume was measured. [degC]
    reference : float or array
        Temperature at which it is wanted; 60 F unless said. [degC]

    Returns
    -------
    float or array
        Multiply the measured volume by this; above 1 when the liquid is colder.

    Raises
    ------
    OutOfRange
        A temperature outside -60 to 60 degC.

    Examples
    --------
    >>> round(float(volume_factor(4.4444)), 3)      # 40 F
    1.031

    Source: definition (the mass stays); the federal rule for LP-gas prints 1.031 at 40 F.
    """
    return liquid_density(temperature) / liquid_density(reference)


@units(volume="L", returns="m3")
def vapour_volume(volume: Number) -> Any:
    """Gas made by a volume of liquid, both at 60 F and the gas at atmospheric pressure.

    Parameters
    ----------
    volume : float or array
        Liquid propane; >= 0. [L]

    Returns
    -------
    float or array
        Propane gas. [m3]

    Raises
    ------
    OutOfRange
        Negative volume.

    Examples
    --------
    >>> round(vapour_volume(1.0), 4)
    0.2721

    Source: LP-gas handbook table, 36.38 ft3 of vapour from a gallon at 60 F; seen in a reprint.
    """
    require(volume >= 0, "liquid propane", volume, "L", "0 or more")
    return volume * VAPOUR_PER_GALLON * CUBIC_FOOT / GALLON
