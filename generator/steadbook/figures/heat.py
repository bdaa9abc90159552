"""Heating a house: degree days, heat loss, fuel for a season, firewood and its seasoning, creosote.

Heat of a cord is a gross value per stacked cord of 128 ft3; other tables run up to 20 % lower, so
cut a fifth more than the figure.
"""

from __future__ import annotations

from datetime import date
from typing import Literal

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import BTU, CUBIC_FOOT, POUND, Number
from steadbook.units import CalendarInterval, add_interval

BASE_TEMPERATURE = 18.3
KWH_PER_MILLION_BTU = BTU / 3600 * 1e6
CORD = 128 * CUBIC_FOOT
"""Stacked volume of a cord, 128 ft3 [m3]."""

HEAT_PER_CORD = {
    "hickory": 29.3, "black locust": 28.3, "white oak": 27.9, "beech": 26.3, "sugar maple": 25.9,
    "red oak": 25.9, "white ash": 24.6, "american elm": 20.5, "black cherry": 20.5,
    "silver maple": 19.3, "yellow-poplar": 17.3, "hemlock": 17.3, "white pine": 15.0,
}  # fmt: skip
"""Million Btu in a cord at 20 % moisture. Source: University of Kentucky Forestry, firewood."""
SOFTWOODS = frozenset({"hemlock", "white pine"})
SEASONING_MONTHS = {"softwood": 6, "hardwood": 12}
"""Split, stacked and covered, to 20 % moisture. Source: US EPA guidance, seen in a reprint."""
DRY_ENOUGH = 0.20
"""Wet-basis moisture at which wood is fit to burn. Source: US EPA guidance, seen in a reprint."""

HEAT_PER_POUND = 7000 * BTU / 3600
"""Of wood at 20 % moisture [kWh]. Source: Iowa State University Extension, about 7,000 Btu."""
CREOSOTE_LIMIT = 3.2
"""Sweep at 1/8 in of soot or creosote [mm]. Source: common practice of sweeps, no source."""
CORDS_TO_FIRST_LOOK = 1.5

SweepAdvice = Literal["burn on", "sweep", "do not burn"]


@units(high="degC", low="degC", base="degC", returns="K*d")
def degree_days(high: Number, low: Number, base: Number = BASE_TEMPERATURE) -> Number:
    """Heating degree days of a day, or of each day of a series.

    Parameters
    ----------
    high : float or array
        Highest air temperature of the day. [degC]
    low : float or array
        Lowest; at most the highest. [degC]
    base : float or array
        Outdoor temperature at which the heating is not needed; 18.3 is 65 degF. [degC]

    Returns
    -------
    float or array
        Base less the mean of high and low, never under 0; sum them for a season. [K*d]

    Raises
    ------
    OutOfRange
        A low above the high.

    Examples
    --------
    >>> float(round(degree_days(5.0, -5.0), 1))
    18.3

    Source: NOAA and EPA definition.
    """
    require(np.asarray(low) <= np.asarray(high), "low", low, "degC", "at most the high")
    days: Number = np.maximum(base - (high + low) / 2, 0.0)
    return days


@units(areas="m2", conductances="W/(m2*K)", volume="m3", air_changes="1/h", returns="W/K")
def heat_loss(areas: Number, conductances: Number, volume: float, air_changes: float) -> float:
    """Heat a house loses for each degree between inside and outside.

    Parameters
    ----------
    areas : float or array, shape (n,)
        Walls, windows, doors, ceiling, floor; >= 0. [m2]
    conductances : float or array, shape (n,)
        U-value of each; >= 0. [W/(m2*K)]
    volume : float
        Heated air; >= 0. [m3]
    air_changes : float
        Draughts: tight 0.2, usual 0.5, leaky 1 or more; >= 0. [1/h]

    Returns
    -------
    float
        Sum of area times U, plus 0.335 Wh/(m3 K) for the air. [W/K]

    Raises
    ------
    OutOfRange
        A negative value.

    Examples
    --------
    >>> round(heat_loss(np.array([100.0, 10.0]), np.array([0.3, 2.0]), 200.0, 0.5), 1)
    83.5

    Source: definition; heat of air after ASHRAE, 0.018 Btu/(ft3 degF).
    """
    require(np.asarray(areas) >= 0, "area", areas, "m2", "0 or more")
    require(np.asarray(conductances) >= 0, "U-value", conductances, "W/(m2*K)", "0 or more")
    require(volume >= 0, "volume", volume, "m3", "0 or more")
    require(air_changes >= 0, "air changes", air_changes, "1/h", "0 or more")
    return float(np.sum(np.asarray(areas) * conductances)) + 0.335 * volume * air_changes


@units(heat="kWh", hours="h", inside="degC", outside="degC", cooling="kWh", returns="W/K")
def measured_heat_loss(
    heat: Number, hours: Number, inside: Number, outside: Number, cooling: Number = 0.0
) -> Number:
    """Heat loss of a house from one cold, still night without sun.

    Parameters
    ----------
    heat : float or array
        Heat given off by stove, lamps and people in the time; > 0. [kWh]
    hours : float or array
        Time between the two readings; > 0, 8 or more is better. [h]
    inside : float or array
        Mean temperature inside. [degC]
    outside : float or array
        Mean temperature outside; at least 5 K lower. [degC]
    cooling : float or array
        Heat the house itself gave up (it ended colder) or, negative, took in. [kWh]

    Returns
    -------
    float or array
        Heat loss for each degree; wind and damp make other nights differ. [W/K]

    Raises
    ------
    OutOfRange
        No heat, no time, or too small a difference of temperature to tell.

    Examples
    --------
    >>> measured_heat_loss(40.0, 10.0, 20.0, -20.0)
    100.0

    Source: definition.
    """
    require(np.asarray(hours) > 0, "time", hours, "h", "more than 0")
    given = heat + cooling
    require(np.asarray(given) > 0, "heat", given, "kWh", "more than 0")
    difference = inside - outside
    require(np.asarray(difference) >= 5, "difference", difference, "K", "5 or more")
    return given * 1000 / (hours * difference)


@units(heat_loss="W/K", degree_days="K*d", returns="kWh")
def season_heat(heat_loss: Number, degree_days: Number) -> Number:
    """Heat a house needs over the degree days.

    Parameters
    ----------
    heat_loss : float or array
        Loss for each degree; >= 0. [W/K]
    degree_days : float or array
        Sum for the time; >= 0. [K*d]

    Returns
    -------
    float or array
        Heat into the rooms, before the efficiency of stove or furnace. [kWh]

    Raises
    ------
    OutOfRange
        A negative value.

    Examples
    --------
    >>> season_heat(200.0, 4500.0)
    21600.0

    Source: degree-day method, ASHRAE Fundamentals.
    """
    require(np.asarray(heat_loss) >= 0, "heat loss", heat_loss, "W/K", "0 or more")
    require(np.asarray(degree_days) >= 0, "degree days", degree_days, "K*d", "0 or more")
    return 24 * heat_loss * degree_days / 1000


@units(heat="kWh", heating_value="kWh/unit", efficiency="", returns="unit")
def fuel_needed(heat: Number, heating_value: Number, efficiency: Number) -> Number:
    """Fuel for an amount of heat, in the unit the heating value is given for.

    Parameters
    ----------
    heat : float or array
        Heat into the rooms; >= 0. [kWh]
    heating_value : float or array
        Heat of a litre, kilogram or cord; > 0. [kWh/unit]
    efficiency : float or array
        Of the heater over a season; above 0, at most 1.

    Returns
    -------
    float or array
        Litres, kilograms or cords. [unit]

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    >>> round(fuel_needed(21600.0, 7.09, 0.92))
    3311

    Source: definition.
    """
    require(np.asarray(heat) >= 0, "heat", heat, "kWh", "0 or more")
    require(np.asarray(heating_value) > 0, "heating value", heating_value, "kWh", "more than 0")
    good = (np.asarray(efficiency) > 0) & (np.asarray(efficiency) <= 1)
    require(good, "efficiency", efficiency, "", "above 0, at most 1")
    return heat / heating_value / efficiency


@units(moisture="", returns="")
def moisture_factor(moisture: Number) -> Number:
    """Heat that moisture leaves in a cord, against the same cord oven-dry.

    Parameters
    ----------
    moisture : float or array
        Water over *wet* weight, as a meter or the stove trade gives it; 0 to 0.5.

    Returns
    -------
    float or array
        1 when oven-dry, 0.85 for wood that is half water.

    Raises
    ------
    OutOfRange
        Outside 0 to 0.5.

    Examples
    --------
    >>> moisture_factor(0.5)
    0.85

    Source: handbook table of wood heat by volume: 100, 97, 92, 85 % at 0, 20, 50, 100 % of water on
    the *dry* weight; a straight line through it.
    """
    good = (np.asarray(moisture) >= 0) & (np.asarray(moisture) <= 0.5)
    require(good, "moisture", moisture, "", "0 to 0.5 of the wet weight")
    return 1 - 0.15 * moisture / (1 - moisture)


@units(species="", moisture="", returns="kWh")
def heat_per_cord(species: str, moisture: Number = DRY_ENOUGH) -> Number:
    """Heat of a stacked cord of firewood.

    Parameters
    ----------
    species : str
        A key of `HEAT_PER_CORD`.
    moisture : float or array
        Water over wet weight; 0 to 0.5.

    Returns
    -------
    float or array
        Gross heat; a stove gives 0.6 to 0.75 of it to the room. [kWh]

    Raises
    ------
    OutOfRange
        A species not in the table, or moisture outside its limits.

    Examples
    --------
    >>> round(heat_per_cord("white ash"))
    7210
    >>> round(heat_per_cord("white ash", 0.40))
    6741

    Source: University of Kentucky Forestry, at 20 % moisture; the factor of `moisture_factor`.
    """
    known = species in HEAT_PER_CORD
    require(known, "species", species, "", f"one of {', '.join(HEAT_PER_CORD)}")
    dryness = moisture_factor(moisture) / moisture_factor(DRY_ENOUGH)
    return HEAT_PER_CORD[species] * KWH_PER_MILLION_BTU * dryness


@units(mass="kg", moisture="", returns="kWh")
def heat_by_weight(mass: Number, moisture: Number = DRY_ENOUGH) -> Number:
    """Heat of weighed firewood; pound for pound all species give about the same.

    Parameters
    ----------
    mass : float or array
        Wood as it lies; >= 0. [kg]
    moisture : float or array
        Water over wet weight; 0 to 0.5.

    Returns
    -------
    float or array
        Gross heat; a stove gives 0.6 to 0.75 of it to the room. [kWh]

    Raises
    ------
    OutOfRange
        A negative mass, or moisture outside its limits.

    Examples
    --------
    >>> round(heat_by_weight(0.45359237) / BTU * 3600)      # a pound at 20 %
    7000

    Source: Iowa State University Extension: about 7,000 Btu a pound at 20 % moisture, in proportion
    to the dry wood in it.
    """
    require(np.asarray(mass) >= 0, "mass of wood", mass, "kg", "0 or more")
    good = (np.asarray(moisture) >= 0) & (np.asarray(moisture) <= 0.5)
    require(good, "moisture", moisture, "", "0 to 0.5 of the wet weight")
    return mass / POUND * HEAT_PER_POUND * (1 - moisture) / (1 - DRY_ENOUGH)


@units(length="m", height="m", depth="m", returns="cords")
def cords(length: Number, height: Number, depth: Number) -> Number:
    """Cords in a stack; a face cord of 16 in logs is a third of a cord.

    Parameters
    ----------
    length : float or array
        Along the stack; >= 0. [m]
    height : float or array
        Of the stack; >= 0. [m]
    depth : float or array
        Length of a log times the rows; >= 0. [m]

    Returns
    -------
    float or array
        Stacked volume over 128 ft3. [cords]

    Raises
    ------
    OutOfRange
        A negative measure.

    Examples
    --------
    >>> round(cords(8 * 0.3048, 4 * 0.3048, 4 * 0.3048), 3)
    1.0

    Source: definition of the cord.
    """
    sides = (("length", length), ("height", height), ("depth", depth))
    for name, side in sides:
        require(np.asarray(side) >= 0, f"stack {name}", side, "m", "0 or more")
    return length * height * depth / CORD


def _wood(species: str) -> str:
    known = species in HEAT_PER_CORD
    require(known, "species", species, "", f"one of {', '.join(HEAT_PER_CORD)}")
    return "softwood" if species in SOFTWOODS else "hardwood"


def split_by(burn_from: date, species: str) -> date:
    """Day by which wood must be split, stacked and covered to burn it from a day on.

    >>> split_by(date(2027, 10, 15), "white oak")
    datetime.date(2026, 10, 15)

    Source: US EPA guidance: 6 months softwood, 12 hardwood, seen in a reprint; dense oak and damp
    places need more, so trust a moisture meter.
    """
    months = SEASONING_MONTHS[_wood(species)]
    return add_interval(burn_from, CalendarInterval(months=-months))


def ready_from(split: date, species: str) -> date:
    """Day from which wood split on a day may be dry enough to burn; check it with a meter.

    >>> ready_from(date(2026, 4, 30), "white pine")
    datetime.date(2026, 10, 30)

    Source: as `split_by`.
    """
    return add_interval(split, CalendarInterval(months=SEASONING_MONTHS[_wood(species)]))


@units(thickness="mm", is_glazed="", returns="")
def sweep_advice(thickness: float, is_glazed: bool = False) -> SweepAdvice:
    """What a look up the flue asks for.

    DANGER: a chimney fire burns down houses. Glazed (shiny, tar-like) creosote in any thickness, or
    a flue not swept when it should have been, is not to be burned under; call a certified sweep.

    Parameters
    ----------
    thickness : float
        Thickest deposit found; >= 0. [mm]
    is_glazed : bool
        Whether any of it is shiny and hard.

    Returns
    -------
    str
        ``burn on``, ``sweep`` (at 1/8 in, 3 mm) or ``do not burn`` (glazed, or 1/4 in).

    Raises
    ------
    OutOfRange
        A negative thickness.

    Examples
    --------
    >>> sweep_advice(1.0), sweep_advice(3.2), sweep_advice(0.5, is_glazed=True)
    ('burn on', 'sweep', 'do not burn')

    Source: 1/8 in and glaze: sweeps' guidance, seen in reprints; 1/4 in from memory, check.
    """
    require(thickness >= 0, "deposit", thickness, "mm", "0 or more")
    if is_glazed or thickness >= 2 * CREOSOTE_LIMIT:
        return "do not burn"
    # 1/8 in is 3.175 mm: a reading of 3 mm on a ruler is that
    return "sweep" if thickness >= 3.0 else "burn on"
