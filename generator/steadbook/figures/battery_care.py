"""Looking after a bank: voltage set-points, strings in parallel, water, wear and its last year.

**DANGER: a charging flooded battery gives off hydrogen and oxygen, which explode at a spark.
Ventilate, keep flames away, wear eye protection. WARNING: the acid burns skin and eyes. The
battery maker's sheet and local code come before any figure here.**
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures._choice import choice
from steadbook.figures._declare import require, units

END_OF_LIFE = 0.80
"""Share of the rated capacity below which a stationary battery is replaced.
Source: IEEE 450 and IEEE 1188 (seen in secondary texts)."""

WATER_PER_AMP_HOUR = 18.015 / (2 * 96485.332) * 3600
"""Water split by one amp-hour of overcharge in one cell [g].
Source: Faraday's law, two electrons a molecule."""


@dataclass(frozen=True, slots=True)
class SetPoints:
    """Charger settings of a bank at one battery temperature, each low to high [V].

    `holding` is the float stage.
    """

    absorption: tuple[float, float]
    holding: tuple[float, float]
    equalise: tuple[float, float] | None
    compensation: float
    """For the bank, taken off for each degree above 25 degC [V/degC]."""


# Voltages of one cell at 25 degC [V], compensation [V/degC]. Absorption, float of lead-acid and
# lfp: charging articles (seen); equalise: common practice, no source; agm absorption: the flooded
# band's lower half, common practice; -0.005: usual default of off-grid chargers, from memory.
_PER_CELL = {
    "flooded": ((2.40, 2.47), (2.20, 2.30), (2.58, 2.67), -0.005),
    "agm": ((2.37, 2.45), (2.20, 2.30), None, -0.004),
    "lfp": ((3.45, 3.50), (3.35, 3.37), None, 0.0),
}


@units(cell_voltage="V", cells="", temperature="degC", compensation="V/degC", returns="V")
def compensated_voltage(
    cell_voltage: ArrayLike,
    cells: ArrayLike,
    temperature: ArrayLike,
    compensation: ArrayLike = -0.005,
) -> Any:
    """Charging voltage of a bank, corrected for the battery's temperature.

    Parameters
    ----------
    cell_voltage : float or array
        Of one cell at 25 degC; > 0. [V]
    cells : int or array
        In series.
    temperature : float or array
        Of the battery, -20 to 50; no charger corrects without end. [degC]
    compensation : float or array
        Of one cell, negative for lead-acid, 0 for lfp. [V/degC]

    Returns
    -------
    float or array
        For the whole bank. [V]

    Examples
    --------
    >>> round(float(compensated_voltage(2.40, 24, 0.0)), 2)
    60.6

    Source: definition; -0.003 for float and -0.004 to -0.005 for off-grid charging are usual.
    """
    value = np.asarray(temperature, dtype=float)
    require(np.greater(cell_voltage, 0), "cell voltage", cell_voltage, "V", "more than 0")
    require((value >= -20) & (value <= 50), "battery temperature", value, "degC", "-20 to 50")
    return np.multiply(cells, cell_voltage + np.multiply(compensation, value - 25.0))


@units(chemistry="", cells="", temperature="degC", returns="V")
def set_points(chemistry: str, cells: int, temperature: float = 25.0) -> SetPoints:
    """Usual charger settings; the maker's sheet comes first.

    Parameters
    ----------
    chemistry : str
        "flooded", "agm" or "lfp". Never equalise agm or lfp.
    cells : int
        In series.
    temperature : float
        Of the battery. [degC]

    Returns
    -------
    SetPoints
        Absorption, float and equalise, low to high. [V]

    Examples
    --------
    >>> [round(v, 1) for v in set_points("flooded", 24).absorption]
    [57.6, 59.3]

    Source: charging articles (seen in reprints); equalise: common practice, no source.
    """
    *bands, compensation = choice(_PER_CELL, chemistry, "battery chemistry")
    settings = [
        band
        and tuple(float(compensated_voltage(v, cells, temperature, compensation)) for v in band)
        for band in bands
    ]
    return SetPoints(settings[0], settings[1], settings[2], compensation * cells)


@units(current="A", resistances="ohm", open_voltages="V", returns="A")
def string_currents(current: float, resistances: ArrayLike, open_voltages: ArrayLike) -> Any:
    """How strings in parallel share a current.

    Parameters
    ----------
    current : float
        Drawn from the bank; negative while charging, 0 to see what circulates. [A]
    resistances : array, shape (n,)
        Of each string with its cables; > 0. [ohm]
    open_voltages : array, shape (n,)
        Of each string at rest, before joining. [V]

    Returns
    -------
    array, shape (n,)
        Current out of each string; they add up to `current`. [A]

    Examples
    --------
    >>> string_currents(90.0, [0.01, 0.02], [50.0, 50.0]).round(6).tolist()
    [60.0, 30.0]

    Source: Kirchhoff's laws.
    """
    ohms = np.asarray(resistances, dtype=float)
    volts = np.asarray(open_voltages, dtype=float)
    require(ohms > 0, "string resistance", ohms, "ohm", "more than 0")
    together = (np.sum(volts / ohms) - current) / np.sum(1 / ohms)
    return (volts - together) / ohms


@units(currents="A", returns="")
def string_mismatch(currents: ArrayLike) -> float:
    """How far the hardest worked string is above an even share.

    Parameters
    ----------
    currents : array, shape (n,)
        Out of each string, all the same sign. [A]

    Returns
    -------
    float
        0 when all share evenly; 0.33 when one carries a third more than its share.

    Examples
    --------
    >>> round(string_mismatch([60.0, 30.0]), 3)
    0.333

    Source: definition.
    """
    size = np.abs(np.asarray(currents, dtype=float))
    require(size.sum() > 0, "current of the strings", size.sum(), "A", "more than 0")
    return float(size.max() / size.mean() - 1)


@units(overcharge="A*h", cells="", returns="L")
def water_used(overcharge: ArrayLike, cells: ArrayLike) -> Any:
    """Water a flooded bank loses to gassing.

    Parameters
    ----------
    overcharge : float or array
        Charge put in beyond what was taken out; >= 0. [A*h]
    cells : int or array
        All cells of all strings, each string taking its share of the overcharge.

    Returns
    -------
    float or array
        Water to put back; evaporation and spray come on top. [L]

    Examples
    --------
    >>> round(float(water_used(100.0, 24)), 2)
    0.81

    Source: Faraday's law, 0.336 g an amp-hour and cell; water at 1 kg/L.
    """
    require(np.greater_equal(overcharge, 0), "overcharge", overcharge, "A*h", "0 or more")
    return np.multiply(overcharge, cells) * WATER_PER_AMP_HOUR / 1000


@units(
    days_since="d", throughput_since="A*h", daily_throughput="A*h", every_days="d",
    every_throughput="A*h", returns="d",
)  # fmt: skip
def days_to_service(
    days_since: ArrayLike,
    throughput_since: ArrayLike,
    daily_throughput: ArrayLike,
    every_days: ArrayLike,
    every_throughput: ArrayLike,
) -> Any:
    """Days until the next equalise charge or watering, by days or throughput, whichever first.

    Parameters
    ----------
    days_since : float or array
        The last one; >= 0. [d]
    throughput_since : float or array
        Taken out of the bank since then; >= 0. [A*h]
    daily_throughput : float or array
        Taken out on a usual day; >= 0. [A*h]
    every_days : float or array
        Longest interval; > 0. [d]
    every_throughput : float or array
        Most to be taken out between two; > 0. [A*h]

    Returns
    -------
    float or array
        0 when due today, negative when past due by the calendar. [d]

    Examples
    --------
    >>> float(days_to_service(10, 2000.0, 200.0, 30, 5000.0))
    15.0

    Source: definition.
    """
    require(np.greater(every_days, 0), "interval", every_days, "d", "more than 0")
    require(np.greater(every_throughput, 0), "interval", every_throughput, "A*h", "more than 0")
    rate = np.asarray(daily_throughput, dtype=float)
    require(rate >= 0, "daily throughput", rate, "A*h", "0 or more")
    left = np.subtract(every_throughput, throughput_since, dtype=float)
    by_use = np.where(left <= 0, 0.0, np.inf)
    np.divide(left, rate, out=by_use, where=(left > 0) & (rate > 0))
    return np.minimum(np.subtract(every_days, days_since), by_use)[()]


@units(depth="", table_depths="", table_cycles="", returns="")
def cycle_life(depth: ArrayLike, table_depths: ArrayLike, table_cycles: ArrayLike) -> Any:
    """Cycles to the end of life at a depth of discharge, from the maker's own table.

    Parameters
    ----------
    depth : float or array
        Taken out in one cycle, above 0 to 1.
    table_depths : array, shape (n,)
        Depths of the maker's curve, rising.
    table_cycles : array, shape (n,)
        Cycles printed for them, falling.

    Returns
    -------
    float or array
        Cycles; outside the table its nearest end's throughput is kept (cycles times depth).

    Examples
    --------
    >>> float(cycle_life(0.5, [0.2, 0.8], [4000, 1000]))
    1600.0

    Source: straight line between points on doubly logarithmic paper, as makers draw it; common
    practice, no source.
    """
    value = np.asarray(depth, dtype=float)
    depths = np.asarray(table_depths, dtype=float)
    cycles = np.asarray(table_cycles, dtype=float)
    require((value > 0) & (value <= 1), "depth of discharge", value, "", "above 0, up to 1")
    require(
        bool(np.all(np.diff(depths) > 0)), "depths of the table", str(table_depths), "", "rising"
    )
    require(
        bool(np.all(np.diff(cycles) < 0)), "cycles of the table", str(table_cycles), "", "falling"
    )
    inside = np.exp(np.interp(np.log(value), np.log(depths), np.log(cycles)))
    nearest = np.clip(value, depths[0], depths[-1])
    return inside * nearest / value


@units(
    cycles_a_year="1/year", cycles_to_end="", shelf_life="year", temperature="degC",
    returns="year",
)  # fmt: skip
def service_life(
    cycles_a_year: ArrayLike,
    cycles_to_end: ArrayLike,
    shelf_life: float,
    temperature: float = 25.0,
) -> float:
    """Years until a bank is worn out, by its cycles and by its age.

    Each cycle spends its share of the cycles that depth allows (Miner's sum); each year spends its
    share of the life on the shelf, which halves for each 10 degC above 25. The first to be spent
    ends the life.

    Parameters
    ----------
    cycles_a_year : float or array, shape (n,)
        At each depth; >= 0. [1/year]
    cycles_to_end : float or array, shape (n,)
        At the same depths, as from `cycle_life`; > 0.
    shelf_life : float
        The maker's design life at 25 degC without cycling; > 0. [year]
    temperature : float
        Mean over the year. [degC]

    Returns
    -------
    float
        Years from new; no credit for a cold battery room. [year]

    Examples
    --------
    >>> service_life([200.0, 50.0], [2000.0, 1000.0], 15.0)
    6.67
    >>> service_life(0.0, 1000.0, 15.0, 35.0)
    7.5

    Source: Miner's linear rule; halving for 8 to 10 degC from memory, check (IEEE 450, annexes).
    """
    yearly = np.asarray(cycles_a_year, dtype=float)
    to_end = np.asarray(cycles_to_end, dtype=float)
    require(yearly >= 0, "cycles a year", yearly, "1/year", "0 or more")
    require(to_end > 0, "cycles to the end", to_end, "", "more than 0")
    require(shelf_life > 0, "shelf life", shelf_life, "year", "more than 0")
    wear = float(np.sum(yearly / to_end))
    ageing = 2 ** (max(0.0, temperature - 25.0) / 10.0) / shelf_life
    return float(1 / max(wear, ageing))


@units(years="year", capacities="", returns="year")
def replacement_year(years: ArrayLike, capacities: ArrayLike) -> float:
    """Year in which the capacity falls to 80 % of its rating, from tests of the bank.

    Parameters
    ----------
    years : array, shape (n,)
        Of the tests, as 2024.5; at least two, not all the same. [year]
    capacities : array, shape (n,)
        Found, as share of the rating.

    Returns
    -------
    float
        Year; inf where the tests show no decline. [year]

    Examples
    --------
    >>> replacement_year([2020.0, 2022.0, 2024.0], [1.00, 0.96, 0.92])
    2030.0

    Source: least-squares line through the tests; 80 % as IEEE 450 and 1188 (seen second-hand).
    """
    when = np.asarray(years, dtype=float)
    found = np.asarray(capacities, dtype=float)
    require(bool(np.ptp(when) > 0), "years of the tests", str(years), "", "two or more apart")
    centred = when - when.mean()
    slope = float(centred @ (found - found.mean()) / (centred @ centred))
    if slope >= -1e-12:
        return float("inf")
    return float(when.mean() + (END_OF_LIFE - found.mean()) / slope)
