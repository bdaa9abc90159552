"""Air at the height of the homestead: pressure, temperature, density, moisture."""

from __future__ import annotations

from typing import Any

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import KELVIN, Number

SEA_LEVEL_PRESSURE = 101.325  # kPa
SEA_LEVEL_TEMPERATURE = 288.15  # K
SEA_LEVEL_DENSITY = 1.2250  # kg/m3
LAPSE = 0.0065  # K/m
GAS_CONSTANT = 0.28705287  # kJ/(kg*K), dry air
_EXPONENT = 9.80665 / (LAPSE * GAS_CONSTANT * 1000)

LOWEST, HIGHEST = -1000.0, 11_000.0  # m; the layer in which the lapse is steady


def _require_height(height: Number) -> None:
    require(
        (height >= LOWEST) & (height <= HIGHEST),
        "height above sea level",
        height,
        "m",
        f"from {LOWEST:g} to {HIGHEST:g}",
    )


@units(height="m", returns="degC")
def temperature(height: Number) -> Any:
    """Temperature of the standard atmosphere.

    Parameters
    ----------
    height : float or array
        Height above sea level (geopotential), -1,000 to 11,000. [m]

    Returns
    -------
    float or array
        Temperature; a yearly mean of middle latitudes, not a winter night. [degC]

    Raises
    ------
    OutOfRange
        A height outside -1,000 to 11,000 m.

    Examples
    --------
    >>> round(temperature(1524.0), 2)      # 5,000 ft
    5.09

    Source: ICAO Doc 7488 / ISO 2533.
    """
    _require_height(height)
    return SEA_LEVEL_TEMPERATURE - LAPSE * height - KELVIN


@units(height="m", returns="kPa")
def pressure(height: Number) -> Any:
    """Pressure of the standard atmosphere.

    Parameters
    ----------
    height : float or array
        Height above sea level (geopotential), -1,000 to 11,000. [m]

    Returns
    -------
    float or array
        Absolute pressure; weather moves it by some 3 %. [kPa]

    Raises
    ------
    OutOfRange
        A height outside -1,000 to 11,000 m.

    Examples
    --------
    >>> round(pressure(1524.0), 3)
    84.307

    Source: ICAO Doc 7488 / ISO 2533.
    """
    _require_height(height)
    return SEA_LEVEL_PRESSURE * (1 - LAPSE * height / SEA_LEVEL_TEMPERATURE) ** _EXPONENT


@units(pressure="kPa", returns="m")
def pressure_height(pressure: Number) -> Any:
    """Height at which the standard atmosphere has a pressure.

    Parameters
    ----------
    pressure : float or array
        Absolute pressure, 22.6 to 114. [kPa]

    Returns
    -------
    float or array
        Height above sea level (geopotential). [m]

    Raises
    ------
    OutOfRange
        A pressure outside the layer of steady lapse.

    Examples
    --------
    >>> round(pressure_height(85.0))
    1457

    Source: ICAO Doc 7488 / ISO 2533, solved for the height.
    """
    require(
        (pressure >= 22.6321) & (pressure <= 114.0),
        "pressure",
        pressure,
        "kPa",
        "from 22.64 to 114",
    )
    ratio = pressure / SEA_LEVEL_PRESSURE
    return SEA_LEVEL_TEMPERATURE / LAPSE * (1 - ratio ** (1 / _EXPONENT))


@units(pressure="kPa", temperature="degC", returns="kg/m3")
def air_density(pressure: Number, temperature: Number) -> Any:
    """Density of dry air.

    Parameters
    ----------
    pressure : float or array
        Absolute pressure; > 0. [kPa]
    temperature : float or array
        Temperature, above -100. [degC]

    Returns
    -------
    float or array
        Density; moist air is up to 2 % lighter. [kg/m3]

    Raises
    ------
    OutOfRange
        No pressure, or a temperature of -100 degC and below.

    Examples
    --------
    >>> round(air_density(101.325, 15.0), 4)
    1.2250

    Source: gas law with the gas constant of ICAO Doc 7488.
    """
    require(pressure > 0, "air pressure", pressure, "kPa", "more than 0")
    require(temperature > -100, "air temperature", temperature, "degC", "above -100")
    return pressure / (GAS_CONSTANT * (temperature + KELVIN))


@units(temperature="degC", returns="kPa")
def saturation_pressure(temperature: Number) -> Any:
    """Pressure of water vapour in saturated air.

    Parameters
    ----------
    temperature : float or array
        Temperature of the air, -40 to 60. [degC]

    Returns
    -------
    float or array
        Saturation pressure over liquid water. [kPa]

    Raises
    ------
    OutOfRange
        A temperature outside -40 to 60 degC.

    Examples
    --------
    >>> round(float(saturation_pressure(25.0)), 2)
    3.17

    Source: A. L. Buck, J. Appl. Meteorol. 20 (1981) 1527, with the constants of 1996; from
    memory, checked against CoolProp.
    """
    require(
        (temperature >= -40) & (temperature <= 60),
        "air temperature",
        temperature,
        "degC",
        "from -40 to 60",
    )
    return 0.61121 * np.exp((18.678 - temperature / 234.5) * temperature / (257.14 + temperature))
