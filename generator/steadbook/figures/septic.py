"""Septic tank: how often to pump, from the table and, better, from what a stick found.

WARNING: tank gas kills. Never lean or climb into a tank, keep flames away, and close every lid at
once; have measuring and pumping done by a licensed pumper.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from steadbook.figures._declare import require, units
from steadbook.figures._factors import GALLON, INCH, Number

TANK_GALLONS = (500, 750, 900, 1000, 1250, 1500, 1750, 2000, 2250, 2500)
# years between pumpings of a house lived in all year: a row a tank, a column a person, 1 to 10;
# 500 gal has no figure for 10 people: 0 there, so that the answer is "too small"
TABLE_YEARS = (
    (5.8, 2.6, 1.5, 1.0, 0.7, 0.4, 0.3, 0.2, 0.1, 0.0),
    (9.1, 4.2, 2.6, 1.8, 1.3, 1.0, 0.7, 0.6, 0.4, 0.3),
    (11.0, 5.2, 3.3, 2.3, 1.7, 1.3, 1.0, 0.8, 0.7, 0.5),
    (12.4, 5.9, 3.7, 2.6, 2.0, 1.5, 1.2, 1.0, 0.8, 0.7),
    (15.6, 7.5, 4.8, 3.4, 2.6, 2.0, 1.7, 1.4, 1.2, 1.0),
    (18.9, 9.1, 5.9, 4.2, 3.3, 2.6, 2.1, 1.8, 1.5, 1.3),
    (22.1, 10.7, 6.9, 5.0, 3.9, 3.1, 2.6, 2.2, 1.9, 1.6),
    (25.4, 12.4, 8.0, 5.9, 4.5, 3.7, 3.1, 2.6, 2.2, 2.0),
    (28.6, 14.0, 9.1, 6.7, 5.2, 4.2, 3.5, 3.0, 2.6, 2.3),
    (31.9, 15.6, 10.2, 7.5, 5.9, 4.8, 4.0, 3.5, 3.0, 2.6),
)
"""Source: K. Mancl, Penn State (24 h retention, half of the solids digested), seen in reprints."""

LONGEST_INTERVAL = 5.0
"""Longest interval to plain house tanks [years]. Source: US EPA SepticSmart, 3 to 5 years."""
INSPECTION_INTERVAL = {"plain": 3.0, "with pump or float": 1.0}
"""Longest time between looks [years]. Source: US EPA SepticSmart, seen in reprints."""

SOLIDS_LIMIT = 0.25
SCUM_CLEARANCE = 6 * INCH
SLUDGE_CLEARANCE = 12 * INCH
"""Pump at 25 % solids, scum within 6 in or sludge within 12 in of the outlet [mm]. Source: EPA."""


@units(tank_volume="L", people="", occupancy="", extra_solids="", cap="years", returns="years")
def pumping_interval(
    tank_volume: Number,
    people: Number,
    occupancy: Number = 1.0,
    extra_solids: Number = 0.0,
    cap: Number = LONGEST_INTERVAL,
) -> Number:
    """Years between pumpings, by tank and household, never longer than the cap.

    Between two tanks of the table the years run in a straight line; a part of a person counts as a
    whole one; a tank above the table counts as its largest. All three err to the safe side.

    Parameters
    ----------
    tank_volume : float or array
        Liquid volume of the tank; at least 1893 (500 US gal). [L]
    people : float or array
        Living there; above 0, at most 10.
    occupancy : float or array
        Share of the year the house is lived in; above 0, at most 1.
    extra_solids : float or array
        Share by which the interval shrinks for heavy use, 0 to below 1: 0.2 for a waste grinder.
    cap : float or array
        Longest interval to print; > 0, 3 to 5 is the usual advice. [years]

    Returns
    -------
    float or array
        Years from pumping to pumping; 0 means the tank is too small for the house. [years]

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    >>> gal = 3.785411784
    >>> float(round(pumping_interval(1000 * gal, 4), 2))
    2.6
    >>> float(pumping_interval(1500 * gal, 2))
    5.0

    Source: K. Mancl, Penn State table, seen in reprints; cap: US EPA SepticSmart.
    """
    gallons = np.asarray(tank_volume) / GALLON
    require(gallons >= 499.9, "tank volume", tank_volume, "L", "at least 1893 (500 US gal)")
    few = (np.asarray(people) > 0) & (np.asarray(people) <= 10)
    require(few, "people", people, "", "above 0, at most 10")
    part = (np.asarray(occupancy) > 0) & (np.asarray(occupancy) <= 1)
    require(part, "occupancy", occupancy, "", "above 0, at most 1")
    extra = (np.asarray(extra_solids) >= 0) & (np.asarray(extra_solids) < 1)
    require(extra, "extra solids", extra_solids, "", "0 to below 1")
    require(np.asarray(cap) > 0, "cap", cap, "years", "more than 0")

    years = _table_years(gallons, people) * (1 - np.asarray(extra_solids)) / occupancy
    capped: Number = np.minimum(years, cap)
    return capped


def _table_years(gallons: NDArray[np.float64], people: Number) -> NDArray[np.float64]:
    """The table between its rows, without the cap [years]."""
    tanks, table = np.asarray(TANK_GALLONS, dtype=float), np.asarray(TABLE_YEARS)
    column = np.ceil(people).astype(int) - 1 if np.ndim(people) else int(np.ceil(people)) - 1
    size = np.clip(gallons, tanks[0], tanks[-1])
    row = np.clip(np.searchsorted(tanks, size, side="right") - 1, 0, len(tanks) - 2)
    share = (size - tanks[row]) / (tanks[row + 1] - tanks[row])
    years: NDArray[np.float64] = table[row, column] * (1 - share) + table[row + 1, column] * share
    return years


@units(sludge="mm", scum="mm", liquid_depth="mm", returns="")
def solids_share(sludge: Number, scum: Number, liquid_depth: Number) -> Number:
    """Share of the tank's depth that sludge and scum take.

    Parameters
    ----------
    sludge : float or array
        Thickness of the layer on the floor; >= 0. [mm]
    scum : float or array
        Thickness of the layer afloat; >= 0. [mm]
    liquid_depth : float or array
        From the floor to the outlet's flow line; > 0. [mm]

    Returns
    -------
    float or array
        0 to 1; pump at 0.25.

    Raises
    ------
    OutOfRange
        A negative layer, no depth, or layers thicker than the tank is deep.

    Examples
    --------
    >>> solids_share(200.0, 100.0, 1200.0)
    0.25

    Source: US EPA SepticSmart, seen in reprints.
    """
    require(np.asarray(sludge) >= 0, "sludge", sludge, "mm", "0 or more")
    require(np.asarray(scum) >= 0, "scum", scum, "mm", "0 or more")
    require(np.asarray(liquid_depth) > 0, "liquid depth", liquid_depth, "mm", "more than 0")
    solids = sludge + scum
    fits = np.asarray(solids) <= np.asarray(liquid_depth)
    require(fits, "sludge and scum", solids, "mm", "at most the liquid depth")
    return solids / liquid_depth


@units(solids="", scum_clearance="mm", sludge_clearance="mm", returns="")
def is_due_by_measure(
    solids: Number, scum_clearance: Number, sludge_clearance: Number
) -> bool | NDArray[np.bool_]:
    """Whether a measured tank is to be pumped now, whatever the table says.

    Parameters
    ----------
    solids : float or array
        Share of the depth that is sludge and scum, from `solids_share`; 0 to 1.
    scum_clearance : float or array
        From the underside of the scum down to the bottom of the outlet pipe or baffle. [mm]
    sludge_clearance : float or array
        From the bottom of the outlet pipe or baffle down to the sludge. [mm]

    Returns
    -------
    bool or array
        True when any of the three limits is reached.

    Raises
    ------
    OutOfRange
        A share outside 0 to 1.

    Examples
    --------
    >>> is_due_by_measure(0.10, 160.0, 500.0)
    False
    >>> is_due_by_measure(0.10, 150.0, 500.0)
    True

    Source: US EPA SepticSmart (25 %, 6 in, 12 in), seen in reprints.
    """
    share = (np.asarray(solids) >= 0) & (np.asarray(solids) <= 1)
    require(share, "solids", solids, "", "0 to 1")
    due = (
        (np.asarray(solids) >= SOLIDS_LIMIT)
        | (np.asarray(scum_clearance) <= SCUM_CLEARANCE)
        | (np.asarray(sludge_clearance) <= SLUDGE_CLEARANCE)
    )
    return due if due.ndim else bool(due)


@units(solids="", years_since="years", cap="years", returns="years")
def years_left_by_measure(
    solids: Number, years_since: Number, cap: Number = LONGEST_INTERVAL
) -> Number:
    """Years until pumping, from one measurement: solids are taken to build up evenly.

    Parameters
    ----------
    solids : float or array
        Share of the depth that is sludge and scum, from `solids_share`; 0 to 1.
    years_since : float or array
        Since the tank was last pumped; > 0. [years]
    cap : float or array
        Longest interval from pumping to pumping; > 0. [years]

    Returns
    -------
    float or array
        Years from the measurement; 0 means now. [years]

    Raises
    ------
    OutOfRange
        A share outside 0 to 1, or no time since pumping.

    Examples
    --------
    >>> float(years_left_by_measure(0.125, 2.0))
    2.0
    >>> float(years_left_by_measure(0.30, 2.0))
    0.0

    Source: definition (rule of three to the 25 % limit), within the cap.
    """
    share = (np.asarray(solids) >= 0) & (np.asarray(solids) <= 1)
    require(share, "solids", solids, "", "0 to 1")
    require(np.asarray(years_since) > 0, "time since pumping", years_since, "years", "more than 0")
    require(np.asarray(cap) > 0, "cap", cap, "years", "more than 0")
    # a clean tank would never fill: the tiny share lets the cap decide
    full_at = years_since * SOLIDS_LIMIT / np.maximum(solids, 1e-12)
    left: Number = np.maximum(np.minimum(full_at, cap) - years_since, 0.0)
    return left


@units(people="", daily_use="L", returns="L/d")
def daily_flow(people: Number, daily_use: Number = 190.0) -> Number:
    """Waste water of a household in a day.

    Parameters
    ----------
    people : float or array
        Living there; >= 0.
    daily_use : float or array
        Indoor use of one person in a day; >= 0, usual is 190 (50 US gal), off-grid often half. [L]

    Returns
    -------
    float or array
        Flow into the tank. [L/d]

    Raises
    ------
    OutOfRange
        A negative number.

    Examples
    --------
    >>> daily_flow(4)
    760.0

    Source: definition; the default is common practice, no source.
    """
    require(np.asarray(people) >= 0, "people", people, "", "0 or more")
    require(np.asarray(daily_use) >= 0, "daily use", daily_use, "L", "0 or more")
    return people * daily_use


@units(tank_volume="L", daily_flow="L/d", solids="", returns="d")
def retention(tank_volume: Number, daily_flow: Number, solids: Number = 0.0) -> Number:
    """Days the waste water rests in the tank; under 1 the solids leave with it.

    Parameters
    ----------
    tank_volume : float or array
        Liquid volume of the tank; > 0. [L]
    daily_flow : float or array
        Flow into the tank; > 0. [L/d]
    solids : float or array
        Share of the tank taken by sludge and scum; 0 to 1.

    Returns
    -------
    float or array
        Volume left for water over the flow. [d]

    Raises
    ------
    OutOfRange
        Outside the limits above.

    Examples
    --------
    >>> retention(3800.0, 760.0, 0.25)
    3.75

    Source: definition; 1 day at least is the basis of the pumping table.
    """
    require(np.asarray(tank_volume) > 0, "tank volume", tank_volume, "L", "more than 0")
    require(np.asarray(daily_flow) > 0, "daily flow", daily_flow, "L/d", "more than 0")
    share = (np.asarray(solids) >= 0) & (np.asarray(solids) <= 1)
    require(share, "solids", solids, "", "0 to 1")
    return tank_volume * (1 - solids) / daily_flow
