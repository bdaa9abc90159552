"""Power an engine has left at its height and temperature."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import FOOT, Number, celsius
from steadbook.figures.atmosphere import saturation_pressure

PER_THOUSAND_FEET = 1 / FOOT  # %/km in a percent for each 1,000 ft
PER_TEN_FAHRENHEIT = 0.18  # %/K in a percent for each 10 F
RATING_TEMPERATURE = celsius(85.0)  # degC; base of the rule of thumb


class Exponents(NamedTuple):
    """How strongly the power of a kind of engine follows pressure and temperature."""

    humidity: float
    pressure: float
    temperature: float


ENGINE_KINDS = {
    "diesel limited by air": Exponents(1.0, 1.0, 0.75),
    "diesel limited by heat": Exponents(0.0, 0.0, 1.0),
    "spark ignition": Exponents(1.0, 0.86, 0.55),
}
"""Naturally aspirated engines. Source: ISO 3046-1; from memory, check (the spark-ignition row
above all)."""

REFERENCE_PRESSURE = 100.0  # kPa; ISO 3046-1 standard reference conditions
REFERENCE_TEMPERATURE = 25.0  # degC
REFERENCE_HUMIDITY = 0.30
MECHANICAL_EFFICIENCY = 0.80  # where the maker states none


@units(
    height="m",
    temperature="degC",
    height_loss="%/km",
    base_height="m",
    temperature_loss="%/K",
    base_temperature="degC",
    returns="",
)
def rule_of_thumb_share(
    height: Number,
    temperature: Number,
    height_loss: Number = 3.5 * PER_THOUSAND_FEET,
    base_height: Number = 0.0,
    temperature_loss: Number = 1.0 * PER_TEN_FAHRENHEIT,
    base_temperature: Number = RATING_TEMPERATURE,
) -> Any:
    """Share of rated power left, by so much percent for each step of height and of heat.

    Rules differ in rate and in base: take the maker's where there is one. The two effects are
    multiplied; subtracting both gives some 0.2 % less at 6,000 ft and 95 F.

    Parameters
    ----------
    height : float or array
        Height above sea level, -1,000 to 6,000. [m]
    temperature : float or array
        Temperature of the intake air, -60 to 60. [degC]
    height_loss : float or array
        Loss for each kilometre above the base; 3.5 % for 1,000 ft unless said. [%/km]
    base_height : float or array
        Height up to which the rating holds. [m]
    temperature_loss : float or array
        Loss for each degree above the base; 1 % for 10 F unless said. [%/K]
    base_temperature : float or array
        Temperature up to which the rating holds; 85 F unless said. [degC]

    Returns
    -------
    float or array
        Share of the rating, 0 to 1; never above 1 in the cold or below the base.

    Raises
    ------
    OutOfRange
        A height or temperature no homestead has, or a negative loss.

    Examples
    --------
    >>> round(float(rule_of_thumb_share(1828.8, 35.0)), 4)      # 6,000 ft, 95 F
    0.7821

    Source: common practice; 3 % for 1,000 ft above 500 ft and 1 % for 10 F above 85 F in an
    agricultural-engineering text, 3.5 % in an open aircraft-engine model.
    """
    require(
        (height >= -1000) & (height <= 6000),
        "height above sea level",
        height,
        "m",
        "from -1000 to 6000",
    )
    require(
        (temperature >= -60) & (temperature <= 60),
        "air temperature",
        temperature,
        "degC",
        "from -60 to 60",
    )
    require(height_loss >= 0, "loss by height", height_loss, "%/km", "0 or more")
    require(temperature_loss >= 0, "loss by temperature", temperature_loss, "%/K", "0 or more")
    kilometres = np.maximum(np.subtract(height, base_height), 0.0) / 1000
    kelvins = np.maximum(np.subtract(temperature, base_temperature), 0.0)
    by_height = np.maximum(1 - height_loss / 100 * kilometres, 0.0)
    return by_height * np.maximum(1 - temperature_loss / 100 * kelvins, 0.0)


@units(pressure="kPa", temperature="degC", exponents="", humidity="", returns="")
def indicated_power_ratio(
    pressure: Number,
    temperature: Number,
    exponents: Exponents = ENGINE_KINDS["spark ignition"],
    humidity: Number | None = None,
) -> Any:
    """Ratio k of indicated power at the site to that at reference conditions.

    Parameters
    ----------
    pressure : float or array
        Absolute air pressure at the site, 40 to 110. [kPa]
    temperature : float or array
        Temperature of the intake air, -40 to 60. [degC]
    exponents : Exponents
        A row of `ENGINE_KINDS`.
    humidity : float or array, optional
        Relative humidity at the site, 0 to 1; left out, the terms of humidity are left out.

    Returns
    -------
    float or array
        Ratio k; above 1 where air is denser than at 100 kPa and 25 degC.

    Raises
    ------
    OutOfRange
        Pressure, temperature or humidity outside the limits.

    Examples
    --------
    >>> round(float(indicated_power_ratio(84.56, 35.0, ENGINE_KINDS["diesel limited by air"])), 4)
    0.8249

    Source: ISO 3046-1, power adjustment; from memory, check.
    """
    require((pressure >= 40) & (pressure <= 110), "air pressure", pressure, "kPa", "from 40 to 110")
    require(
        (temperature >= -40) & (temperature <= 60),
        "air temperature",
        temperature,
        "degC",
        "from -40 to 60",
    )
    site, reference = pressure, REFERENCE_PRESSURE
    if humidity is not None:
        require((humidity >= 0) & (humidity <= 1), "relative humidity", humidity, "", "from 0 to 1")
        site = site - exponents.humidity * humidity * saturation_pressure(temperature)
        reference -= (
            exponents.humidity * REFERENCE_HUMIDITY * saturation_pressure(REFERENCE_TEMPERATURE)
        )
    # The standard counts 25 degC as 298 K.
    kelvins = (REFERENCE_TEMPERATURE + 273) / (temperature + 273)
    return (site / reference) ** exponents.pressure * kelvins**exponents.temperature


@units(ratio="", mechanical_efficiency="", returns="")
def adjusted_power_share(
    ratio: Number, mechanical_efficiency: Number = MECHANICAL_EFFICIENCY
) -> Any:
    """Share alpha of the declared power left at the site.

    Parameters
    ----------
    ratio : float or array
        Ratio k from `indicated_power_ratio`; above 0, at most 1.5.
    mechanical_efficiency : float or array
        Brake over indicated power, above 0 and at most 1; 0.80 unless said.

    Returns
    -------
    float or array
        Share of the declared power; 0 where friction takes all.

    Raises
    ------
    OutOfRange
        A ratio or efficiency outside the limits.

    Examples
    --------
    >>> round(float(adjusted_power_share(0.8249)), 4)
    0.7943

    Source: ISO 3046-1, power adjustment; from memory, check.
    """
    require(
        (ratio > 0) & (ratio <= 1.5), "indicated power ratio", ratio, "", "above 0, at most 1.5"
    )
    require(
        (mechanical_efficiency > 0) & (mechanical_efficiency <= 1),
        "mechanical efficiency",
        mechanical_efficiency,
        "",
        "above 0, at most 1",
    )
    return np.maximum(ratio - 0.7 * (1 - ratio) * (1 / mechanical_efficiency - 1), 0.0)


@units(ratio="", mechanical_efficiency="", returns="")
def adjusted_fuel_factor(
    ratio: Number, mechanical_efficiency: Number = MECHANICAL_EFFICIENCY
) -> Any:
    """Factor beta on the fuel for each kWh at the site.

    Parameters
    ----------
    ratio : float or array
        Ratio k from `indicated_power_ratio`; above 0, at most 1.5.
    mechanical_efficiency : float or array
        Brake over indicated power, above 0 and at most 1; 0.80 unless said.

    Returns
    -------
    float or array
        Multiply the specific fuel use by this.

    Raises
    ------
    OutOfRange
        A ratio or efficiency outside the limits, or a ratio so low that no power is left.

    Examples
    --------
    >>> round(float(adjusted_fuel_factor(0.8249)), 4)
    1.0386

    Source: ISO 3046-1, recalculation of fuel consumption; from memory, check.
    """
    share = adjusted_power_share(ratio, mechanical_efficiency)
    require(share > 0, "share of power left", share, "", "above 0")
    return ratio / share


@units(dry_pressure="kPa", temperature="degC", returns="")
def correction_factor(dry_pressure: Number, temperature: Number) -> Any:
    """Factor from power measured at a site to power at 99 kPa and 25 degC.

    Parameters
    ----------
    dry_pressure : float or array
        Air pressure less that of its water vapour, 60 to 110. [kPa]
    temperature : float or array
        Temperature of the intake air, -40 to 60. [degC]

    Returns
    -------
    float or array
        Correction factor; rated power divided by it is what the site leaves. The standard
        means it for small corrections: past 0.93 to 1.07 take it as an estimate.

    Raises
    ------
    OutOfRange
        A pressure or temperature outside the limits.

    Examples
    --------
    >>> round(correction_factor(90.0, 30.0), 4)
    1.1288

    Source: SAE J1349, June 1990, spark-ignition engines; seen in a reprint of the formula.
    """
    require(
        (dry_pressure >= 60) & (dry_pressure <= 110),
        "dry air pressure",
        dry_pressure,
        "kPa",
        "from 60 to 110",
    )
    require(
        (temperature >= -40) & (temperature <= 60),
        "air temperature",
        temperature,
        "degC",
        "from -40 to 60",
    )
    # The formula counts kelvins from 273.
    return 1.180 * (99.0 / dry_pressure) * ((temperature + 273) / 298) ** 0.5 - 0.18
