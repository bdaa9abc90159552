"""Flow of gas through a genset's engine."""

from __future__ import annotations

from typing import Any

from steadbook.figures._declare import require, units
from steadbook.figures._factors import KELVIN, Number

PROPANE_AIR_FUEL_RATIO = 15.67  # by mass: 23.86 volumes of air x 28.96 / 44.1


def _require_temperature(temperature: Number) -> None:
    """Refuse what no exhaust pipe has."""
    require(
        (temperature >= 0) & (temperature <= 1000),
        "exhaust temperature",
        temperature,
        "degC",
        "from 0 to 1000",
    )


@units(displacement="L", speed="1/min", volumetric_efficiency="", returns="m3/min")
def intake_flow(displacement: Number, speed: Number, volumetric_efficiency: Number = 0.85) -> Any:
    """Air a four-stroke engine draws in a minute.

    Parameters
    ----------
    displacement : float or array
        Of all cylinders; > 0. [L]
    speed : float or array
        Turns in a minute; > 0. [1/min]
    volumetric_efficiency : float or array
        Share of the displacement filled, above 0 and at most 1.2; 0.80 to 0.90 is usual.

    Returns
    -------
    float or array
        Air at the conditions of the intake. [m3/min]

    Raises
    ------
    OutOfRange
        No displacement or speed, a filling no engine has.

    Examples
    --------
    >>> round(intake_flow(0.42, 3600.0), 4)
    0.6426

    Source: definition: half the turns draw air.
    """
    require(displacement > 0, "displacement", displacement, "L", "more than 0")
    require(speed > 0, "engine speed", speed, "1/min", "more than 0")
    require(
        (volumetric_efficiency > 0) & (volumetric_efficiency <= 1.2),
        "volumetric efficiency",
        volumetric_efficiency,
        "",
        "above 0, at most 1.2",
    )
    return displacement * speed * volumetric_efficiency / 2000


@units(
    intake="m3/min",
    exhaust_temperature="degC",
    intake_temperature="degC",
    air_fuel_ratio="",
    returns="m3/min",
)
def exhaust_flow(
    intake: Number,
    exhaust_temperature: Number,
    intake_temperature: Number = 25.0,
    air_fuel_ratio: Number = PROPANE_AIR_FUEL_RATIO,
) -> Any:
    """Hot gas that leaves an engine in a minute, taken as air at atmospheric pressure.

    Parameters
    ----------
    intake : float or array
        Air drawn in, from `intake_flow`; > 0. [m3/min]
    exhaust_temperature : float or array
        Temperature of the gas in the pipe, 0 to 1,000; a small spark-ignition set at full load
        has 400 to 600. [degC]
    intake_temperature : float or array
        Temperature of the air drawn in, -60 to 60. [degC]
    air_fuel_ratio : float or array
        Mass of air to a mass of fuel; infinite leaves the fuel out. > 1.

    Returns
    -------
    float or array
        Flow in the pipe. [m3/min]

    Raises
    ------
    OutOfRange
        No flow, a temperature or ratio outside the limits.

    Examples
    --------
    >>> round(exhaust_flow(0.6426, 450.0), 3)
    1.658

    Source: gas law; the mass of the fuel is added.
    """
    require(intake > 0, "intake flow", intake, "m3/min", "more than 0")
    _require_temperature(exhaust_temperature)
    require(
        (intake_temperature >= -60) & (intake_temperature <= 60),
        "intake temperature",
        intake_temperature,
        "degC",
        "from -60 to 60",
    )
    require(air_fuel_ratio > 1, "air to fuel ratio", air_fuel_ratio, "", "more than 1")
    hotter = (exhaust_temperature + KELVIN) / (intake_temperature + KELVIN)
    return intake * (1 + 1 / air_fuel_ratio) * hotter


@units(temperature="degC", returns="Pa*s")
def viscosity(temperature: Number) -> Any:
    """Dynamic viscosity of hot gas, taken as air.

    Parameters
    ----------
    temperature : float or array
        Temperature of the gas, 0 to 1,000. [degC]

    Returns
    -------
    float or array
        Dynamic viscosity; up to 4 % below measured air at 600 degC. [Pa*s]

    Raises
    ------
    OutOfRange
        A temperature outside 0 to 1,000 degC.

    Examples
    --------
    >>> round(viscosity(450.0) * 1e6, 1)
    34.0

    Source: Sutherland's formula with the constants of the US Standard Atmosphere 1976.
    """
    _require_temperature(temperature)
    kelvin = temperature + KELVIN
    return 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)
