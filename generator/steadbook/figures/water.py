"""The house's water: pressure tank, cistern, ultraviolet lamp, filter.

Pressures are gauge pressures; the tank's air obeys Boyle's law in *absolute* pressure, so the air
pressure of the site counts: the same tank yields a little more water on a mountain.
"""

from __future__ import annotations

import numpy as np

from steadbook.figures import atmosphere
from steadbook.figures._declare import require, units
from steadbook.figures._factors import PSI, Number

PRECHARGE_BELOW_CUT_IN = 2 * PSI
"""Precharge lies 2 psi under the cut-in pressure [kPa]. Source: Water Systems Council, Jan 2007."""

LAMP_HOURS, LAMP_MONTHS = 9000.0, 12.0
"""Usual life of an ultraviolet lamp, lit or counted. Source: common practice, no source."""


@units(cut_in="kPa", returns="kPa")
def precharge(cut_in: Number) -> Number:
    """Air pressure to set in the pressure tank, pump off and tank drained of water.

    Parameters
    ----------
    cut_in : float or array
        Pressure at which the switch starts the pump, gauge; more than 13.8. [kPa]

    Returns
    -------
    float or array
        Gauge pressure of the air, 2 psi (13.8 kPa) under the cut-in. [kPa]

    Raises
    ------
    OutOfRange
        A cut-in too low to lie above the precharge.

    Examples
    --------
    >>> round(precharge(30 * 6.894757) / 6.894757, 2)
    28.0

    Source: Water Systems Council, pressure tanks, Jan 2007, seen in a reprint.
    """
    require(np.asarray(cut_in) > PRECHARGE_BELOW_CUT_IN, "cut-in", cut_in, "kPa", "over 13.8")
    return cut_in - PRECHARGE_BELOW_CUT_IN


@units(volume="L", precharge="kPa", cut_in="kPa", cut_out="kPa", altitude="m", returns="L")
def drawdown(
    volume: Number, precharge: Number, cut_in: Number, cut_out: Number, altitude: Number = 0.0
) -> Number:
    """Water a pressure tank gives between pump off and pump on.

    ``volume * (P1 / P2 - P1 / P3)``, each P the gauge pressure plus the air pressure of the site.

    Parameters
    ----------
    volume : float or array
        Whole volume of the tank; >= 0. [L]
    precharge : float or array
        Air pressure of the drained tank, gauge; at most the cut-in. [kPa]
    cut_in : float or array
        Pressure at which the pump starts, gauge. [kPa]
    cut_out : float or array
        Pressure at which the pump stops, gauge; above the cut-in. [kPa]
    altitude : float or array
        Height of the site above the sea. [m]

    Returns
    -------
    float or array
        Water between the switch points. [L]

    Raises
    ------
    OutOfRange
        A negative volume or precharge, a precharge above the cut-in (the tank would run dry before
        the pump starts), or a cut-out not above the cut-in.

    Examples
    --------
    >>> psi, gal = 6.894757, 3.785412
    >>> round(drawdown(85 * gal, 28 * psi, 30 * psi, 50 * psi) / gal, 1)
    25.1

    Source: Boyle's law; worked example in B. Pelikan, The Driller, Feb 2006.
    """
    require(np.asarray(volume) >= 0, "tank volume", volume, "L", "0 or more")
    require(np.asarray(precharge) >= 0, "precharge", precharge, "kPa", "0 or more")
    require(
        np.asarray(precharge) <= np.asarray(cut_in),
        "precharge",
        precharge,
        "kPa",
        "at most the cut-in pressure, or the tank runs dry before the pump starts",
    )
    require(np.asarray(cut_out) > np.asarray(cut_in), "cut-out", cut_out, "kPa", "above the cut-in")
    site = atmosphere.pressure(altitude)
    air = precharge + site
    given: Number = volume * (air / (cut_in + site) - air / (cut_out + site))
    return given


@units(precharge="kPa", cut_out="kPa", altitude="m", returns="")
def acceptance_factor(precharge: Number, cut_out: Number, altitude: Number = 0.0) -> Number:
    """Share of a tank that is water at cut-out: all it accepts, more than it gives in a cycle.

    Parameters
    ----------
    precharge : float or array
        Air pressure of the drained tank, gauge; >= 0. [kPa]
    cut_out : float or array
        Pressure at which the pump stops, gauge; at least the precharge. [kPa]
    altitude : float or array
        Height of the site above the sea. [m]

    Returns
    -------
    float or array
        Water at cut-out over tank volume, 0 to 1.

    Raises
    ------
    OutOfRange
        A negative precharge or a cut-out under it.

    Examples
    --------
    >>> psi = 6.894757
    >>> round(acceptance_factor(28 * psi, 50 * psi), 3)
    0.34

    Source: Water Systems Council, pressure tanks, Jan 2007, seen in a reprint.
    """
    require(np.asarray(precharge) >= 0, "precharge", precharge, "kPa", "0 or more")
    above = np.asarray(cut_out) >= np.asarray(precharge)
    require(above, "cut-out", cut_out, "kPa", "at least the precharge")
    site = atmosphere.pressure(altitude)
    accepted: Number = 1 - (precharge + site) / (cut_out + site)
    return accepted


@units(drawdown="L", pump_flow="L/min", demand="L/min", returns="min")
def run_time(drawdown: Number, pump_flow: Number, demand: Number = 0.0) -> Number:
    """Minutes the pump runs to fill the tank once, while water is being drawn or not.

    Parameters
    ----------
    drawdown : float or array
        Water between the switch points; >= 0. [L]
    pump_flow : float or array
        What the pump gives; above the demand. [L/min]
    demand : float or array
        What the house draws meanwhile; >= 0. [L/min]

    Returns
    -------
    float or array
        Time from pump on to pump off. [min]

    Raises
    ------
    OutOfRange
        Negative water or demand, or a pump that does not outrun the demand (it never stops).

    Examples
    --------
    >>> run_time(40.0, 20.0)
    2.0

    Source: definition.
    """
    require(np.asarray(drawdown) >= 0, "drawdown", drawdown, "L", "0 or more")
    require(np.asarray(demand) >= 0, "demand", demand, "L/min", "0 or more")
    outruns = np.asarray(pump_flow) > np.asarray(demand)
    require(outruns, "pump flow", pump_flow, "L/min", "above the demand, or it never stops")
    return drawdown / (pump_flow - demand)


@units(drawdown="L", pump_flow="L/min", demand="L/min", returns="min")
def cycle_time(drawdown: Number, pump_flow: Number, demand: Number) -> Number:
    """Minutes from one start of the pump to the next at a steady demand.

    Shortest, ``4 * drawdown / pump_flow``, when the demand is half of what the pump gives.

    Parameters
    ----------
    drawdown : float or array
        Water between the switch points; >= 0. [L]
    pump_flow : float or array
        What the pump gives; above the demand. [L/min]
    demand : float or array
        What the house draws; > 0. [L/min]

    Returns
    -------
    float or array
        Running plus resting time. [min]

    Raises
    ------
    OutOfRange
        No demand (the pump never starts again), or a pump that does not outrun it.

    Examples
    --------
    >>> cycle_time(40.0, 20.0, 10.0)
    8.0

    Source: definition.
    """
    require(np.asarray(demand) > 0, "demand", demand, "L/min", "more than 0")
    return run_time(drawdown, pump_flow, demand) + drawdown / demand


@units(
    pump_flow="L/min",
    precharge="kPa",
    cut_in="kPa",
    cut_out="kPa",
    altitude="m",
    run="min",
    returns="L",
)
def smallest_tank(
    pump_flow: Number,
    precharge: Number,
    cut_in: Number,
    cut_out: Number,
    altitude: Number = 0.0,
    run: Number = 1.0,
) -> Number:
    """Smallest pressure tank that keeps the pump running long enough each time it starts.

    Parameters
    ----------
    pump_flow : float or array
        What the pump gives at the middle of the switch range; > 0. [L/min]
    precharge : float or array
        Air pressure of the drained tank, gauge; at most the cut-in. [kPa]
    cut_in : float or array
        Pressure at which the pump starts, gauge. [kPa]
    cut_out : float or array
        Pressure at which the pump stops, gauge. [kPa]
    altitude : float or array
        Height of the site above the sea. [m]
    run : float or array
        Shortest run wanted with no water drawn; > 0, 1 for small pumps. [min]

    Returns
    -------
    float or array
        Whole volume of the tank. [L]

    Raises
    ------
    OutOfRange
        A flow or a run of 0 or less, or pressures out of order.

    Examples
    --------
    >>> psi, gal = 6.894757, 3.785412
    >>> round(smallest_tank(10 * gal, 28 * psi, 30 * psi, 50 * psi) / gal, 1)
    33.9

    Source: rule of one minute's run between cycles, National Driller, seen in a reprint.
    """
    require(np.asarray(pump_flow) > 0, "pump flow", pump_flow, "L/min", "more than 0")
    require(np.asarray(run) > 0, "run", run, "min", "more than 0")
    return pump_flow * run / drawdown(1.0, precharge, cut_in, cut_out, altitude)


@units(usable="L", people="", daily_use="L", other_use="L", returns="d")
def cistern_days(
    usable: Number, people: Number, daily_use: Number, other_use: Number = 0.0
) -> Number:
    """Days the water in the cistern lasts with nothing coming in.

    Parameters
    ----------
    usable : float or array
        Water above the foot valve or outlet; >= 0. [L]
    people : float or array
        Number in the house; >= 0.
    daily_use : float or array
        Use of one person in a day, best from the meter; >= 0. [L]
    other_use : float or array
        Use of animals, garden and leaks in a day; >= 0. [L]

    Returns
    -------
    float or array
        Days until the outlet draws air. [d]

    Raises
    ------
    OutOfRange
        A negative amount, or no use at all.

    Examples
    --------
    >>> cistern_days(6000.0, 4, 100.0, 100.0)
    12.0

    Source: definition.
    """
    require(np.asarray(usable) >= 0, "usable water", usable, "L", "0 or more")
    require(np.asarray(people) >= 0, "people", people, "", "0 or more")
    require(np.asarray(daily_use) >= 0, "daily use", daily_use, "L", "0 or more")
    require(np.asarray(other_use) >= 0, "other use", other_use, "L", "0 or more")
    use = people * daily_use + other_use
    require(np.asarray(use) > 0, "use of water", use, "L/d", "more than 0")
    return usable / use


@units(hours="h", months="months", rated_hours="h", rated_months="months", returns="")
def lamp_life_used(
    hours: Number,
    months: Number,
    rated_hours: Number = LAMP_HOURS,
    rated_months: Number = LAMP_MONTHS,
) -> Number:
    """Share of an ultraviolet lamp's life that is gone; 1 or more means replace, even if it glows.

    Parameters
    ----------
    hours : float or array
        Hours lit since the lamp was new; >= 0. [h]
    months : float or array
        Months since it was fitted; >= 0. [months]
    rated_hours : float or array
        Hours the maker gives; > 0. [h]
    rated_months : float or array
        Months the maker gives; > 0. [months]

    Returns
    -------
    float or array
        The larger of the two shares.

    Raises
    ------
    OutOfRange
        Negative hours or months, or a rating of 0 or less.

    Examples
    --------
    >>> float(lamp_life_used(4500.0, 9.0))
    0.75

    Source: common practice, no source: 9000 h or 12 months; the maker's figure goes first.
    """
    require(np.asarray(hours) >= 0, "lamp hours", hours, "h", "0 or more")
    require(np.asarray(months) >= 0, "lamp age", months, "months", "0 or more")
    require(np.asarray(rated_hours) > 0, "rated hours", rated_hours, "h", "more than 0")
    require(np.asarray(rated_months) > 0, "rated months", rated_months, "months", "more than 0")
    used: Number = np.maximum(hours / rated_hours, months / rated_months)
    return used


@units(volume="L", rated_volume="L", pressure_loss="kPa", largest_loss="kPa", returns="")
def filter_life_used(
    volume: Number, rated_volume: Number, pressure_loss: Number, largest_loss: Number
) -> Number:
    """Share of a filter cartridge's life that is gone, by water passed or by pressure loss.

    Parameters
    ----------
    volume : float or array
        Water passed since it was new; >= 0. [L]
    rated_volume : float or array
        Water the maker gives it; > 0. [L]
    pressure_loss : float or array
        Gauge before less gauge after, at full flow; >= 0. [kPa]
    largest_loss : float or array
        Loss at which it is to be changed; > 0. [kPa]

    Returns
    -------
    float or array
        The larger of the two shares; 1 or more means change it.

    Raises
    ------
    OutOfRange
        A negative reading or a limit of 0 or less.

    Examples
    --------
    >>> float(filter_life_used(20000.0, 40000.0, 60.0, 100.0))
    0.6

    Source: definition.
    """
    require(np.asarray(volume) >= 0, "water passed", volume, "L", "0 or more")
    require(np.asarray(rated_volume) > 0, "rated volume", rated_volume, "L", "more than 0")
    require(np.asarray(pressure_loss) >= 0, "pressure loss", pressure_loss, "kPa", "0 or more")
    require(np.asarray(largest_loss) > 0, "largest loss", largest_loss, "kPa", "more than 0")
    used: Number = np.maximum(volume / rated_volume, pressure_loss / largest_loss)
    return used
