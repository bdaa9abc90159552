"""Shock chlorination of a drilled well: water in the casing and the bleach it takes."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import Number

TARGET = 100.0
"""Usual strength in the well [mg/L]; trade tables ask for 50 to 100, Alberta for 200."""
CONTACT_HOURS = 12.0
"""Time to leave it standing [h]: 6 at least, better 12 to 24. Source: Texas A&M L-5441."""


class Caution(NamedTuple):
    """A warning in three parts under one signal word, after ANSI Z535.6."""

    word: str
    hazard: str
    consequence: str
    avoidance: str


CAUTIONS = (
    Caution(
        "DANGER",
        "Bleach meeting acid, ammonia or another cleaner gives off chlorine or chloramine gas.",
        "The gas kills in a closed well pit or pump house.",
        "Use plain unscented bleach alone; never enter a pit; let air through the pump house.",
    ),
    Caution(
        "WARNING",
        "Chlorinated water is in every pipe until it is flushed out.",
        "Drinking it, or giving it to animals, can injure.",
        "Tag every tap; drink stored water until the smell is gone and a test of the water is good.",
    ),
    Caution(
        "WARNING",
        "A well pump has mains voltage on it.",
        "Touching wires or opening the wet well cap with power on can kill.",
        "Switch off and lock the pump's breaker before lifting the cap; leave wiring to a licensed "
        "person.",
    ),
    Caution(
        "CAUTION",
        "Bleach burns eyes and skin.",
        "Splashes while pouring injure.",
        "Wear goggles and gloves; add bleach to water, not water to bleach.",
    ),
    Caution(
        "NOTICE",
        "Strong chlorine spoils carbon filters, membranes and softener resin, and kills a septic "
        "tank's bacteria and plants.",
        "The filter must be replaced, or the tank stops working.",
        "Bypass the treatment; flush to open ground away from the drain field, wells and streams.",
    ),
    Caution(
        "NOTICE",
        "Bleach loses strength on the shelf.",
        "An old bottle underdoses the well.",
        "Buy it fresh; read the strength on the label.",
    ),
)
"""Source: Mesa County health laboratory; Alberta Agdex 716 A10; Texas A&M L-5441; ANSI Z535.6."""


@units(diameter="mm", water_depth="m", returns="L")
def casing_volume(diameter: Number, water_depth: Number) -> Number:
    """Water standing in a well casing.

    Parameters
    ----------
    diameter : float or array
        *Inside* diameter of the casing; > 0. [mm]
    water_depth : float or array
        From the water level at rest to the bottom, not the depth of the well; >= 0. [m]

    Returns
    -------
    float or array
        Volume. [L]

    Raises
    ------
    OutOfRange
        A casing of no width, or a negative depth.

    Examples
    --------
    >>> round(casing_volume(6 * 25.4, 100 * 0.3048) / 3.785412)
    147

    Source: definition.
    """
    require(np.asarray(diameter) > 0, "casing diameter", diameter, "mm", "more than 0")
    require(np.asarray(water_depth) >= 0, "water depth", water_depth, "m", "0 or more")
    return np.pi / 4 * (diameter / 100) ** 2 * water_depth * 10  # dm, dm: litres


def _require_dose(water: Number, target: Number, strength: Number) -> None:
    require(np.asarray(water) >= 0, "water", water, "L", "0 or more")
    some = (np.asarray(target) > 0) & (np.asarray(target) <= 500)
    require(some, "target", target, "mg/L", "above 0, at most 500")
    good = (np.asarray(strength) > 0) & (np.asarray(strength) <= 100)
    require(good, "strength", strength, "%", "above 0, at most 100")


@units(water="L", target="mg/L", strength="%", returns="L")
def bleach_volume(water: Number, target: Number, strength: Number) -> Number:
    """Bleach that brings an amount of water to a strength of chlorine.

    Parameters
    ----------
    water : float or array
        Water to treat; >= 0. [L]
    target : float or array
        Chlorine wanted; above 0, at most 500. [mg/L]
    strength : float or array
        Sodium hypochlorite on the label, above 0. [%]

    Returns
    -------
    float or array
        Liquid bleach. [L]

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    >>> round(bleach_volume(1000.0, 100.0, 5.25), 2)
    1.9

    Source: definition; 1 % is 10,000 mg/L, the trade's rule (density of bleach left out).
    """
    _require_dose(water, target, strength)
    return water * target / (10000 * strength)


@units(water="L", target="mg/L", available="%", returns="g")
def granules_mass(water: Number, target: Number, available: Number = 70.0) -> Number:
    """Calcium hypochlorite granules for the same purpose; dissolve them in a bucket first.

    Parameters
    ----------
    water : float or array
        Water to treat; >= 0. [L]
    target : float or array
        Chlorine wanted; above 0, at most 500. [mg/L]
    available : float or array
        Available chlorine on the label, usually 65 to 70. [%]

    Returns
    -------
    float or array
        Granules without other additives. [g]

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    >>> round(granules_mass(1000.0, 200.0, 70.0))
    286

    Source: definition.
    """
    _require_dose(water, target, available)
    return water * target / 1000 / (available / 100)


@units(
    diameter="mm",
    water_depth="m",
    strength="%",
    target="mg/L",
    plumbing="L",
    casings="",
    returns="L",
)
def well_dose(
    diameter: Number,
    water_depth: Number,
    strength: Number,
    target: Number = TARGET,
    plumbing: Number = 0.0,
    casings: Number = 1.0,
) -> Number:
    """Bleach for a well with the pipes and tanks behind it.

    Parameters
    ----------
    diameter : float or array
        Inside diameter of the casing; > 0. [mm]
    water_depth : float or array
        Standing water in the casing; >= 0. [m]
    strength : float or array
        Sodium hypochlorite on the label. [%]
    target : float or array
        Chlorine wanted. [mg/L]
    plumbing : float or array
        Water in pressure tank, heater and pipes; >= 0. [L]
    casings : float or array
        How many casing volumes are treated; >= 1: Alberta asks for 2, at 200 mg/L.

    Returns
    -------
    float or array
        Liquid bleach. [L]

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    >>> quart = 0.946353
    >>> round(well_dose(6 * 25.4, 100 * 0.3048, 5.25) / quart, 2)
    1.12

    Source: definition; targets: well treatment table, 100 ppm; Alberta Agdex 716 A10, table 1.
    """
    require(np.asarray(plumbing) >= 0, "water in the plumbing", plumbing, "L", "0 or more")
    require(np.asarray(casings) >= 1, "casing volumes", casings, "", "1 or more")
    water = casing_volume(diameter, water_depth) * casings + plumbing
    return bleach_volume(water, target, strength)
