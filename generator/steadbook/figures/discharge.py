"""What a bank delivers when it is drawn fast or slowly (Peukert), and what size a load needs."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures._declare import require, units

PEUKERT_EXPONENT = {"flooded": 1.25, "agm": 1.10, "gel": 1.15, "lfp": 1.05}
"""Middle of the usual range by chemistry (seen in a utilities reference)."""


@units(load_current="A", rated_capacity="A*h", exponent="", rated_hours="h", returns="h")
def discharge_hours(
    load_current: ArrayLike,
    rated_capacity: ArrayLike,
    exponent: ArrayLike = 1.25,
    rated_hours: ArrayLike = 20.0,
) -> Any:
    """Hours a full bank carries a steady current, by Peukert's law.

    Parameters
    ----------
    load_current : float or array
        Steady current drawn; > 0. [A]
    rated_capacity : float or array
        Capacity at the rated hours; > 0. [A*h]
    exponent : float or array
        Peukert's exponent, 1 to 2.
    rated_hours : float or array
        Length of the test discharge behind the rated capacity; > 0. [h]

    Returns
    -------
    float or array
        Time to the end of discharge; very slow discharges come out longer than they are. [h]

    Examples
    --------
    >>> round(float(discharge_hours(60.0, 600.0)), 2)
    8.41

    Source: Peukert's law in the form that keeps the rated hours: at capacity / hours it gives them.
    """
    current = np.asarray(load_current, dtype=float)
    n = np.asarray(exponent, dtype=float)
    require(current > 0, "load current", current, "A", "more than 0")
    require(np.greater(rated_capacity, 0), "rated capacity", rated_capacity, "A*h", "more than 0")
    require(np.greater(rated_hours, 0), "rated hours", rated_hours, "h", "more than 0")
    require((n >= 1) & (n <= 2), "Peukert exponent", n, "", "1 to 2")
    rated_current = np.divide(rated_capacity, rated_hours)
    return rated_hours * (rated_current / current) ** n


@units(load_current="A", rated_capacity="A*h", exponent="", rated_hours="h", returns="")
def delivered_share(
    load_current: ArrayLike,
    rated_capacity: ArrayLike,
    exponent: ArrayLike = 1.25,
    rated_hours: ArrayLike = 20.0,
) -> Any:
    """Share of the rated capacity that a bank delivers at a steady current.

    Parameters
    ----------
    load_current : float or array
        Steady current drawn; > 0. [A]
    rated_capacity : float or array
        Capacity at the rated hours; > 0. [A*h]
    exponent : float or array
        Peukert's exponent, 1 to 2.
    rated_hours : float or array
        Of the test discharge; > 0. [h]

    Returns
    -------
    float or array
        1 at the rated current, less above it.

    Examples
    --------
    >>> round(float(delivered_share(25.0, 100.0)), 3)
    0.669

    Source: Peukert's law.
    """
    hours = discharge_hours(load_current, rated_capacity, exponent, rated_hours)
    return hours * load_current / rated_capacity


@units(current_1="A", hours_1="h", current_2="A", hours_2="h", returns="")
def peukert_exponent(
    current_1: ArrayLike, hours_1: ArrayLike, current_2: ArrayLike, hours_2: ArrayLike
) -> Any:
    """Peukert's exponent from two discharges of the same bank.

    Parameters
    ----------
    current_1 : float or array
        Of the first discharge; > 0. [A]
    hours_1 : float or array
        It lasted; > 0. [h]
    current_2 : float or array
        Of the second, not the same as the first; > 0. [A]
    hours_2 : float or array
        It lasted; > 0. [h]

    Returns
    -------
    float or array
        Exponent.

    Examples
    --------
    >>> round(float(peukert_exponent(5.0, 20.0, 25.0, 2.675)), 2)
    1.25

    Source: Peukert's law, solved for the exponent.
    """
    currents = np.asarray([current_1, current_2], dtype=float)
    require(currents > 0, "current", currents, "A", "more than 0")
    require(currents[0] != currents[1], "second current", currents[1], "A", "not the first again")
    hours = np.asarray([hours_1, hours_2], dtype=float)
    require(hours > 0, "hours", hours, "h", "more than 0")
    return np.log(hours[1] / hours[0]) / np.log(currents[0] / currents[1])


@units(
    daily_energy="kW*h", days="d", depth="", inverter_efficiency="", temperature_factor="",
    returns="kW*h",
)  # fmt: skip
def needed_capacity(
    daily_energy: ArrayLike,
    days: ArrayLike,
    depth: ArrayLike = 0.5,
    inverter_efficiency: ArrayLike = 0.9,
    temperature_factor: ArrayLike = 1.0,
) -> Any:
    """Rated capacity of a bank that carries the house for some days without sun or genset.

    Parameters
    ----------
    daily_energy : float or array
        Used at the sockets in a day; >= 0. [kW*h]
    days : float or array
        To be carried; > 0. [d]
    depth : float or array
        Deepest discharge wanted, above 0 to 1.
    inverter_efficiency : float or array
        Above 0 to 1.
    temperature_factor : float or array
        Capacity to buy for each unit needed when cold; 1 or more.

    Returns
    -------
    float or array
        Rated capacity; divide by the nominal voltage for amp-hours. [kW*h]

    Examples
    --------
    >>> round(float(needed_capacity(10.0, 3.0)), 2)
    66.67

    Source: the steps of IEEE 1013 (contents list seen), as algebra.
    """
    require(np.greater_equal(daily_energy, 0), "daily energy", daily_energy, "kW*h", "0 or more")
    require(np.greater(days, 0), "days to be carried", days, "d", "more than 0")
    for name, share in (("depth", depth), ("inverter efficiency", inverter_efficiency)):
        require(np.greater(share, 0) & np.less_equal(share, 1), name, share, "", "above 0, up to 1")
    factor = np.asarray(temperature_factor, dtype=float)
    require(factor >= 1, "temperature factor", factor, "", "1 or more")
    return np.multiply(daily_energy, days) / np.multiply(depth, inverter_efficiency) * factor
