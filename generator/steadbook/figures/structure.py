"""Snow on a roof, the height of a chimney, distances to keep.

WARNING: no figure here says that a roof is safe. Its builder's design load and a licensed engineer
decide; sagging, cracking noises, jammed doors or fresh cracks mean get out first.
"""

from __future__ import annotations

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import FOOT, INCH, Number

GRAVITY = 9.80665

SNOW_DENSITY = {
    "new, dry": (50.0, 70.0),
    "settled": (200.0, 300.0),
    "wet or old": (350.0, 500.0),
    "ice": (900.0, 917.0),
}
"""Range of density [kg/m3]. Source: handbook ranges, seen for the first two; the rest from memory,
check. Weigh a core: the same depth can weigh six times as much."""

CLEARANCE = {
    "masonry chimney inside the house": 2 * INCH,
    "masonry chimney outside": 1 * INCH,
    "stove without a listing": 36 * INCH,
    "single-wall stove pipe": 18 * INCH,
}
"""Least distance to what can burn [mm]; a listed stove's label goes first.

Source: NFPA 211; chimneys seen in a reprint, stove and pipe from memory, check."""

CHIMNEY_ABOVE_ROOF = 3 * FOOT
CHIMNEY_ABOVE_NEAR = 2 * FOOT
CHIMNEY_NEAR = 10 * FOOT
"""3 ft over the roof, and 2 ft over all within 10 ft [m]. Source: NFPA 211, seen in a reprint."""


@units(mass="kg", tube_diameter="mm", depth="mm", returns="kg/m3")
def snow_density(mass: Number, tube_diameter: Number, depth: Number) -> Number:
    """Density of snow from a core weighed, of its full depth.

    Parameters
    ----------
    mass : float or array
        Snow in the tube, tube taken off; >= 0. [kg]
    tube_diameter : float or array
        Inside diameter; > 0. [mm]
    depth : float or array
        Depth of the snow; > 0. [mm]

    Returns
    -------
    float or array
        Density. [kg/m3]

    Raises
    ------
    OutOfRange
        Outside the limits above, or denser than ice, which is a slip.

    Examples
    --------
    >>> round(snow_density(1.0, 100.0, 500.0))
    255

    Source: definition.
    """
    require(np.asarray(mass) >= 0, "mass", mass, "kg", "0 or more")
    require(np.asarray(tube_diameter) > 0, "tube diameter", tube_diameter, "mm", "more than 0")
    require(np.asarray(depth) > 0, "snow depth", depth, "mm", "more than 0")
    density = mass / (np.pi / 4 * tube_diameter**2 * depth * 1e-9)
    require(np.asarray(density) <= 917, "snow density", density, "kg/m3", "at most 917, ice")
    return density


@units(depth="m", density="kg/m3", returns="kPa")
def snow_load(depth: Number, density: Number) -> Number:
    """Weight of snow on each square metre beneath it; drifts and valleys carry several times that.

    Parameters
    ----------
    depth : float or array
        Straight down, not along the slope; >= 0. [m]
    density : float or array
        From `snow_density`, else the upper end of `SNOW_DENSITY`; 0 to 917. [kg/m3]

    Returns
    -------
    float or array
        Load on the level. [kPa]

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    >>> round(snow_load(0.6, 300.0), 2)
    1.77

    Source: definition.
    """
    require(np.asarray(depth) >= 0, "snow depth", depth, "m", "0 or more")
    good = (np.asarray(density) >= 0) & (np.asarray(density) <= 917)
    require(good, "snow density", density, "kg/m3", "0 to 917, ice")
    return depth * density * GRAVITY / 1000


@units(load="kPa", design_load="kPa", returns="")
def share_of_design_load(load: Number, design_load: Number) -> Number:
    """Snow load over the load a roof was built for.

    CAUTION: clearing one side only, or working on a loaded roof, has brought roofs down. Rake from
    the ground, evenly, and ask an engineer well before the share nears 1.

    Parameters
    ----------
    load : float or array
        Snow on the roof; >= 0. [kPa]
    design_load : float or array
        Snow load from the drawings or the building office; > 0. [kPa]

    Returns
    -------
    float or array
        1 means the design load.

    Raises
    ------
    OutOfRange
        A negative load, or no design load.

    Examples
    --------
    >>> share_of_design_load(1.5, 2.0)
    0.75

    Source: definition; an engineer decides.
    """
    require(np.asarray(load) >= 0, "snow load", load, "kPa", "0 or more")
    require(np.asarray(design_load) > 0, "design load", design_load, "kPa", "more than 0")
    return load / design_load


@units(slope="", to_ridge="m", returns="m")
def chimney_height(slope: Number, to_ridge: Number) -> Number:
    """Least height of a chimney above where it leaves the roof.

    Parameters
    ----------
    slope : float or array
        Rise over run of the roof, 0.5 for 6 in 12; >= 0.
    to_ridge : float or array
        Level distance from chimney to ridge; >= 0. [m]

    Returns
    -------
    float or array
        Height on the upper side: 3 ft, or 2 ft over the roof within 10 ft. [m]

    Raises
    ------
    OutOfRange
        A negative slope or distance.

    Examples
    --------
    >>> print(f"{chimney_height(0.5, 6.0) / 0.3048:.1f}")
    7.0

    Source: NFPA 211 (3 ft, 2 ft, 10 ft), seen in a reprint.
    """
    require(np.asarray(slope) >= 0, "roof slope", slope, "", "0 or more")
    require(np.asarray(to_ridge) >= 0, "distance to ridge", to_ridge, "m", "0 or more")
    rise = slope * np.minimum(to_ridge, CHIMNEY_NEAR)
    height: Number = np.maximum(CHIMNEY_ABOVE_ROOF, rise + CHIMNEY_ABOVE_NEAR)
    return height


@units(thing="", measured="mm", returns="mm")
def clearance_short(thing: str, measured: float) -> float:
    """How much is lacking to the distance a hot thing must keep from what can burn.

    Parameters
    ----------
    thing : str
        A key of `CLEARANCE`.
    measured : float
        Distance to the nearest wood, cloth or board; >= 0. [mm]

    Returns
    -------
    float
        What is lacking; 0 when it is kept. [mm]

    Raises
    ------
    OutOfRange
        A thing not in the table, or a negative distance.

    Examples
    --------
    >>> round(clearance_short("masonry chimney inside the house", 30.0), 1)
    20.8

    Source: NFPA 211, as in `CLEARANCE`.
    """
    require(thing in CLEARANCE, "thing", thing, "", f"one of {', '.join(CLEARANCE)}")
    require(measured >= 0, "distance", measured, "mm", "0 or more")
    return max(CLEARANCE[thing] - measured, 0.0)
