"""How deep the ground freezes, and so how deep to lay a water line.

NOTICE: one layer of soil and one winter. Measured depths of the neighbourhood and the local code go
first; cleared drives freeze far deeper than ground under snow.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from steadbook.figures._declare import require, units
from steadbook.figures._factors import Number
from steadbook.figures.freeze import FUSION_HEAT

BELOW_FROST = 0.3
"""Cover wanted under the frost [m]. Source: common practice, no source."""

_error_function: Callable[..., Any] = np.vectorize(math.erf, otypes=[float])


@units(mean_temperature="degC", returns="K*d")
def freezing_index(mean_temperature: NDArray[np.float64]) -> float:
    """Freezing degree days of a run of days: every day's mean below 0 degC, summed.

    Parameters
    ----------
    mean_temperature : array, shape (n,)
        Mean air temperature of each day. [degC]

    Returns
    -------
    float
        Freezing index of the air, thaws not taken off: the safe side. [K*d]

    Examples
    --------
    >>> freezing_index(np.array([2.0, -4.0, -6.0]))
    10.0

    Source: TM 5-852-6, degree days below 32 degF.
    """
    return float(np.sum(np.maximum(-np.asarray(mean_temperature), 0.0)))


@units(dry_density="kg/m3", moisture="", returns="J/m3")
def soil_fusion_heat(dry_density: Number, moisture: Number) -> Number:
    """Heat given off when the water in soil freezes.

    Parameters
    ----------
    dry_density : float or array
        Of the soil: sand and gravel 1900 to 2200, silt and clay 1450 to 1600; > 0. [kg/m3]
    moisture : float or array
        Water over *dry* weight; > 0.

    Returns
    -------
    float or array
        Latent heat of the soil. [J/m3]

    Raises
    ------
    OutOfRange
        A value of 0 or less.

    Examples
    --------
    >>> round(soil_fusion_heat(1600.0, 0.15) / 1e6, 1)
    80.2

    Source: TM 5-852-6: 144 Btu/lb times dry density times water content.
    """
    require(np.asarray(dry_density) > 0, "dry density", dry_density, "kg/m3", "more than 0")
    require(np.asarray(moisture) > 0, "soil moisture", moisture, "", "more than 0")
    return FUSION_HEAT * dry_density * moisture


@units(surface_index="K*d", conductivity="W/(m*K)", fusion_heat="J/m3", returns="m")
def stefan_depth(surface_index: Number, conductivity: Number, fusion_heat: Number) -> Number:
    """Depth of freezing when all the heat is that of freezing water: the upper bound.

    Parameters
    ----------
    surface_index : float or array
        Freezing index of the surface; >= 0. [K*d]
    conductivity : float or array
        Of the frozen ground or ice; > 0. [W/(m*K)]
    fusion_heat : float or array
        Of ground (`soil_fusion_heat`) or of water, 3.06e8; > 0. [J/m3]

    Returns
    -------
    float or array
        Depth. [m]

    Raises
    ------
    OutOfRange
        A negative index, or a property of 0 or less.

    Examples
    --------
    >>> print(f"{stefan_depth(400.0, 2.2, 3.06e8):.2f}")
    0.70

    Source: Stefan's equation.
    """
    require(np.asarray(surface_index) >= 0, "freezing index", surface_index, "K*d", "0 or more")
    require(np.asarray(conductivity) > 0, "conductivity", conductivity, "W/(m*K)", "more than 0")
    require(np.asarray(fusion_heat) > 0, "fusion heat", fusion_heat, "J/m3", "more than 0")
    depth: Number = np.sqrt(2 * conductivity * 86400 * surface_index / fusion_heat)
    return depth


@units(thermal_ratio="", fusion_parameter="", returns="")
def berggren_factor(thermal_ratio: Number, fusion_parameter: Number) -> Number:
    """Share of Stefan's depth that the frost reaches, the ground's own warmth being counted.

    Neumann's solution for ground that conducts alike frozen and thawed: with x the root of
    ``exp(-x^2)/erf(x) - ratio exp(-x^2)/erfc(x) = sqrt(pi) x / parameter``, the factor is
    ``x sqrt(2 / parameter)``.

    Parameters
    ----------
    thermal_ratio : float or array
        Mean ground temperature over mean surface frost, both from 0 degC; >= 0.
    fusion_parameter : float or array
        Heat capacity times mean surface frost over fusion heat; > 0.

    Returns
    -------
    float or array
        Above 0, at most 1.

    Raises
    ------
    OutOfRange
        A negative ratio, or a parameter of 0 or less.

    Examples
    --------
    >>> print(f"{berggren_factor(0.0, 0.2):.3f}")
    0.969

    Source: Aldrich and Paynter (1953), the chart of TM 5-852-6 from its equation.
    """
    ratio, parameter = np.broadcast_arrays(
        np.asarray(thermal_ratio, dtype=float), np.asarray(fusion_parameter, dtype=float)
    )
    require(ratio >= 0, "thermal ratio", ratio, "", "0 or more")
    require(parameter > 0, "fusion parameter", parameter, "", "more than 0")
    low, high = np.full(ratio.shape, 1e-9), np.full(ratio.shape, 3.0)
    for _ in range(60):
        x = (low + high) / 2
        error = _error_function(x)
        warming = np.exp(-(x**2)) * (1 / error - ratio / np.maximum(1 - error, 1e-300))
        too_small = warming > np.sqrt(np.pi) * x / parameter
        low, high = np.where(too_small, x, low), np.where(too_small, high, x)
    factor: Number = (low * np.sqrt(2 / parameter))[()]
    return factor


@units(
    air_index="K*d",
    season="d",
    mean_annual="degC",
    dry_density="kg/m3",
    moisture="",
    conductivity="W/(m*K)",
    surface_factor="",
    returns="m",
)
def frost_depth(
    air_index: Number,
    season: Number,
    mean_annual: Number,
    dry_density: Number,
    moisture: Number,
    conductivity: Number,
    surface_factor: Number = 1.0,
) -> Number:
    """Depth to which the ground freezes in a winter, by the modified Berggren formula.

    Parameters
    ----------
    air_index : float or array
        Freezing index of the air, best of the coldest winter in thirty; >= 0. [K*d]
    season : float or array
        Length of the freezing season; > 0. [d]
    mean_annual : float or array
        Mean temperature of the year; 0 or more. [degC]
    dry_density : float or array
        Of the soil; > 0. [kg/m3]
    moisture : float or array
        Water over dry weight; > 0.
    conductivity : float or array
        Mean of frozen and thawed soil: dry sand 0.6, moist silt 1.2, wet sand 2.2; > 0. [W/(m*K)]
    surface_factor : float or array
        From `freeze.SURFACE_FACTOR`; > 0.

    Returns
    -------
    float or array
        Depth of the frost. [m]

    Raises
    ------
    OutOfRange
        Outside the limits above; ground with a mean below 0 (permafrost) is another problem.

    Examples
    --------
    >>> print(f"{frost_depth(1000.0, 150.0, 5.0, 1600.0, 0.15, 1.4, 0.7):.2f}")
    1.20

    Source: TM 5-852-6 / UFC 3-130-06; heat capacity of soil 0.17 + 0.75 w in Btu/(lb degF).
    """
    require(np.asarray(air_index) >= 0, "freezing index", air_index, "K*d", "0 or more")
    require(np.asarray(season) > 0, "season", season, "d", "more than 0")
    require(np.asarray(mean_annual) >= 0, "mean temperature", mean_annual, "degC", "0 or more")
    require(np.asarray(surface_factor) > 0, "surface factor", surface_factor, "", "more than 0")
    fusion = soil_fusion_heat(dry_density, moisture)
    capacity = dry_density * (0.17 + 0.75 * moisture) * 4186.8  # J/(m3 K); 1 Btu/(lb degF)
    index = air_index * surface_factor
    frost = np.maximum(index / season, 1e-6)  # mean degrees below 0 at the surface
    factor = berggren_factor(mean_annual / frost, capacity * frost / fusion)
    depth: Number = stefan_depth(index, conductivity, fusion) * factor
    return depth


@units(frost="m", cover="m", returns="m")
def bury_depth(frost: Number, cover: Number = BELOW_FROST) -> Number:
    """Depth of the top of a water line.

    WARNING: trenches cave in and lines of gas and power lie in the ground; have them located before
    digging and shore or slope a trench deeper than 1.5 m (5 ft, 29 CFR 1926.652).

    Parameters
    ----------
    frost : float or array
        Depth of the frost; >= 0. [m]
    cover : float or array
        Ground kept between frost and pipe; >= 0. [m]

    Returns
    -------
    float or array
        Depth from the surface. [m]

    Raises
    ------
    OutOfRange
        A negative depth or cover.

    Examples
    --------
    >>> bury_depth(1.2)
    1.5

    Source: common practice, no source; the local code decides.
    """
    require(np.asarray(frost) >= 0, "frost depth", frost, "m", "0 or more")
    require(np.asarray(cover) >= 0, "cover", cover, "m", "0 or more")
    return frost + cover
