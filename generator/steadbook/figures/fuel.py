"""Heat in the fuels of a homestead, and how long they keep."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from steadbook.errors import OutOfRange
from steadbook.figures._declare import require, units
from steadbook.figures._factors import BTU, CUBIC_FOOT, GALLON, Number


class Heat(NamedTuple):
    """Heat of burning; the lower one leaves the water in the exhaust as steam."""

    lower: float  # MJ/L
    higher: float  # MJ/L


def _per_gallon(lower: float, higher: float) -> Heat:
    return Heat(lower * BTU / 1000 / GALLON, higher * BTU / 1000 / GALLON)


FUELS = {
    "propane": _per_gallon(84_250, 91_502),
    "gasoline": _per_gallon(116_090, 124_340),
    "gasoline E10": _per_gallon(112_114, 120_359),
    "ethanol": _per_gallon(76_330, 84_530),
    "diesel": _per_gallon(128_450, 137_380),
}
"""Source: US DOE Alternative Fuels Data Center, Properties of Fuels (seen in a copy); propane's
higher heat from the LP-gas handbook table; E10 is 0.9 gasoline and 0.1 ethanol of that table."""

HIGHER_ONLY = {
    "heating oil": 138_500 * BTU / 1000 / GALLON,
    "kerosene": 135_000 * BTU / 1000 / GALLON,
}
"""Higher heat. [MJ/L] Source: US EIA, Btu conversion factors, seen in reprints; suppliers'
tables for kerosene differ by 2.5 %."""

CORD = 128 * CUBIC_FOOT  # m3 of stacked wood

CORDWOOD = {
    "osage-orange": 30.5,
    "hickory": 29.3,
    "black locust": 28.3,
    "white oak": 27.9,
    "bur oak": 26.3,
    "beech": 26.3,
    "sugar maple": 25.9,
    "red oak": 25.9,
    "white ash": 24.6,
    "black walnut": 22.6,
    "hackberry": 21.7,
    "black cherry": 20.5,
    "American elm": 20.5,
    "sycamore": 20.2,
    "silver maple": 19.3,
    "yellow-poplar": 17.3,
    "hemlock": 17.3,
    "basswood": 15.2,
    "white pine": 15.0,
}
"""Million Btu in a cord at 20 % moisture. Source: University of Kentucky forestry, Comparison
of properties affecting firewood. Other tables differ by 5 to 8 %: use one throughout."""


class Months(NamedTuple):
    """A range of whole months."""

    least: int
    most: int


STORAGE_LIFE: dict[str, dict[bool, Months]] = {
    "gasoline": {False: Months(3, 6), True: Months(12, 24)},
    "gasoline E10": {False: Months(1, 3), True: Months(6, 12)},
    "diesel": {False: Months(6, 12), True: Months(18, 24)},
    "kerosene": {False: Months(24, 60)},
}
"""Months in a sealed container kept cool, by whether a stabiliser was added when fresh.
Source: common practice, no source. Propane does not age; its tank, valves and regulator do."""


def _known(name: str, names: Iterable[str], quantity: str) -> None:
    names = list(names)
    if name not in names:
        raise OutOfRange(quantity, repr(name), "", "one of " + ", ".join(names))


@units(fuel="", basis="", returns="MJ/L")
def heating_value(fuel: str, basis: str = "higher") -> float:
    """Heat in a litre of fuel.

    Parameters
    ----------
    fuel : str
        A name of `FUELS` or `HIGHER_ONLY`.
    basis : str
        ``higher`` (gross) or ``lower`` (net); must be that of the efficiency it meets.

    Returns
    -------
    float
        Heat of burning, liquid at 60 F. [MJ/L]

    Raises
    ------
    OutOfRange
        A fuel or basis not listed.

    Examples
    --------
    >>> round(heating_value("propane"), 2), round(heating_value("propane", "lower"), 2)
    (25.50, 23.48)

    Source: US DOE Alternative Fuels Data Center; LP-gas handbook table for propane, higher.
    """
    _known(basis, ("higher", "lower"), "basis of heat")
    if basis == "higher" and fuel in HIGHER_ONLY:
        return HIGHER_ONLY[fuel]
    names = [*FUELS, *HIGHER_ONLY] if basis == "higher" else FUELS
    _known(fuel, names, f"fuel with a {basis} heat")
    return getattr(FUELS[fuel], basis)  # type: ignore[no-any-return]


@units(volume="L", heating_value="MJ/L", returns="MJ")
def energy(volume: Number, heating_value: Number) -> Any:
    """Heat in a volume of fuel.

    Parameters
    ----------
    volume : float or array, shape (n,)
        Liquid fuel; >= 0. [L]
    heating_value : float or array
        From `heating_value`; > 0. [MJ/L]

    Returns
    -------
    float or array, shape (n,)
        Heat of burning on the same basis. [MJ]

    Raises
    ------
    OutOfRange
        Negative volume, or heat of zero or less.

    Examples
    --------
    >>> round(energy(100.0, 25.5))
    2550

    Source: definition.
    """
    require(volume >= 0, "fuel", volume, "L", "0 or more")
    require(heating_value > 0, "heating value", heating_value, "MJ/L", "more than 0")
    return volume * heating_value


@units(species="", returns="MJ/m3")
def cordwood_heat(species: str) -> float:
    """Heat in stacked firewood, air dry.

    Parameters
    ----------
    species : str
        A name of `CORDWOOD`.

    Returns
    -------
    float
        Heat in a cubic metre of the stack, air gaps included; times `CORD` for a cord. [MJ/m3]

    Raises
    ------
    OutOfRange
        A species not listed.

    Examples
    --------
    >>> round(cordwood_heat("white oak"))
    8121

    Source: University of Kentucky forestry, Comparison of properties affecting firewood.
    """
    _known(species, CORDWOOD, "species of firewood")
    return CORDWOOD[species] * 1e6 * BTU / 1000 / CORD


@units(energy="MJ", efficiency="", heating_value="MJ/L", other_efficiency="", returns="L")
def equivalent_fuel(
    energy: Number, efficiency: Number, heating_value: Number, other_efficiency: Number
) -> Any:
    """Volume of another fuel that leaves the same heat in the house.

    Parameters
    ----------
    energy : float or array, shape (n,)
        Heat in the first fuel; >= 0. [MJ]
    efficiency : float or array
        Share of it the first appliance leaves in the house, above 0 and at most 1.
    heating_value : float or array
        Heat in a litre of the other fuel; > 0. [MJ/L]
    other_efficiency : float or array
        Share the other appliance leaves in the house, above 0 and at most 1.

    Returns
    -------
    float or array, shape (n,)
        Volume of the other fuel. [L]

    Raises
    ------
    OutOfRange
        Negative heat, or an efficiency outside 0 to 1.

    Examples
    --------
    >>> equivalent_fuel(1000.0, 0.5, 25.0, 0.8)
    25.0

    Source: definition.
    """
    require(energy >= 0, "heat", energy, "MJ", "0 or more")
    require(heating_value > 0, "heating value", heating_value, "MJ/L", "more than 0")
    for share in (efficiency, other_efficiency):
        require((share > 0) & (share <= 1), "efficiency", share, "", "above 0, at most 1")
    return energy * efficiency / (heating_value * other_efficiency)


@units(fuel="", returns="months")
def storage_life(fuel: str, treated: bool = False) -> Months:
    """Months a fuel keeps in a sealed container in a cool place.

    Parameters
    ----------
    fuel : str
        A name of `STORAGE_LIFE`.
    treated : bool
        Whether stabiliser went in while the fuel was fresh.

    Returns
    -------
    Months
        The least and the most of what the trade says; plan on the least. [months]

    Raises
    ------
    OutOfRange
        A fuel not listed, or one for which no stabiliser is in common use.

    Examples
    --------
    >>> storage_life("gasoline E10")
    Months(least=1, most=3)

    Source: common practice, no source.
    """
    names = [name for name, lives in STORAGE_LIFE.items() if treated in lives]
    _known(fuel, names, "treated fuel" if treated else "stored fuel")
    return STORAGE_LIFE[fuel][treated]
