"""What the house draws, by month and hour, and which of it can wait for the genset.

A load profile is a matrix of mean power [kW], shape (12, 24): January first, hour 0 from midnight.
"""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
from numpy.typing import ArrayLike, NDArray

from steadbook.figures._declare import require, units


@units(power="kW", hours="", daily_hours="h", months="", returns="kW")
def appliance_profile(
    power: float,
    hours: tuple[int, int] = (0, 24),
    daily_hours: ArrayLike | None = None,
    months: tuple[int, ...] = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12),
) -> NDArray[np.float64]:
    """Load profile of one appliance.

    Parameters
    ----------
    power : float
        While it runs; >= 0. [kW]
    hours : tuple of int
        First hour of the day it may run and the hour by which it is off; (22, 6) is overnight.
    daily_hours : float or array, shape (12,)
        It runs in a day, spread evenly over its hours; all of them when not given. [h]
    months : tuple of int
        In use, 1 to 12.

    Returns
    -------
    array, shape (12, 24)
        [kW]

    Examples
    --------
    >>> pump = appliance_profile(1.2, (8, 12), daily_hours=1.0)
    >>> round(float(pump[0].sum()), 2), float(pump[0, 7]), round(float(pump[0, 8]), 2)
    (1.2, 0.0, 0.3)

    Source: definition.
    """
    require(power >= 0, "power", power, "kW", "0 or more")
    first, last = hours
    require(0 <= first < 24 and 0 < last <= 24, "hours of use", str(hours), "", "0 to 24")
    require(set(months) <= set(range(1, 13)), "months of use", str(months), "", "1 to 12")
    clock = np.arange(24)
    on = (clock >= first) & (clock < last) if first < last else (clock >= first) | (clock < last)
    running = np.broadcast_to(on.sum() if daily_hours is None else np.asarray(daily_hours), 12)
    require((running >= 0) & (running <= on.sum()), "daily hours", running, "h", "within its hours")
    used = np.isin(np.arange(1, 13), months)
    profile: NDArray[np.float64] = power * np.outer(used * running / on.sum(), on)
    return profile


@units(daily_energy="kW*h", shape="", returns="kW")
def house_profile(daily_energy: ArrayLike, shape: ArrayLike) -> NDArray[np.float64]:
    """Load profile of a house from its daily energy and the shape of its day.

    Parameters
    ----------
    daily_energy : float or array, shape (12,)
        Used on a mean day of each month, as metered; >= 0. [kW*h]
    shape : array, shape (24,) or (12, 24)
        Share or weight of each hour; scaled to add up to one.

    Returns
    -------
    array, shape (12, 24)
        [kW]

    Examples
    --------
    >>> house_profile(12.0, np.ones(24))[0, :3].tolist()
    [0.5, 0.5, 0.5]

    Source: definition.
    """
    energy = np.broadcast_to(np.asarray(daily_energy, dtype=float), 12)
    require(energy >= 0, "daily energy", energy, "kW*h", "0 or more")
    weight = np.broadcast_to(np.asarray(shape, dtype=float), (12, 24))
    require(weight >= 0, "weight of an hour", weight, "", "0 or more")
    whole = weight.sum(axis=1)
    require(whole > 0, "weight of a day", whole, "", "more than 0")
    profile: NDArray[np.float64] = (energy / whole)[:, np.newaxis] * weight
    return profile


@units(profile="kW", heavy="kW", genset_hours="", returns="kW")
def moved_to_genset_hours(
    profile: ArrayLike, heavy: ArrayLike, genset_hours: tuple[int, int]
) -> NDArray[np.float64]:
    """Load profile with the heavy loads moved into the hours the genset usually runs.

    Parameters
    ----------
    profile : array, shape (12, 24)
        Of the whole house, heavy loads in it. [kW]
    heavy : array, shape (12, 24)
        The part that can wait: washing, pumping, tools; nowhere above `profile`. [kW]
    genset_hours : tuple of int
        First hour of the day and the hour by which the genset is off.

    Returns
    -------
    array, shape (12, 24)
        The same energy each day. [kW]

    Examples
    --------
    >>> house, washing = np.full((12, 24), 0.5), np.zeros((12, 24))
    >>> washing[:, 9] = 0.4
    >>> moved = moved_to_genset_hours(house, washing, (16, 20))
    >>> [round(float(moved[0, hour]), 2) for hour in (9, 16, 20)]
    [0.1, 0.6, 0.5]

    Source: definition.
    """
    house = np.asarray(profile, dtype=float)
    part = np.asarray(heavy, dtype=float)
    require((part >= 0) & (part <= house), "heavy load", part, "kW", "0 to the house's load")
    waiting = part.sum(axis=1)
    hours = appliance_profile(1.0, genset_hours)
    moved: NDArray[np.float64] = house - part + hours * (waiting / hours.sum(axis=1))[:, np.newaxis]
    return moved


@units(first_day="", days="d", returns="")
def months_of_days(first_day: date, days: int) -> NDArray[np.intp]:
    """Month of each day of a run of days.

    Parameters
    ----------
    first_day : date
        Of the run.
    days : int
        Its length; > 0. [d]

    Returns
    -------
    array of int, shape (days,)
        1 to 12.

    Examples
    --------
    >>> months_of_days(date(2026, 1, 31), 2).tolist()
    [1, 2]

    Source: calendar.
    """
    require(days > 0, "days", days, "d", "more than 0")
    return np.array([(first_day + timedelta(n)).month for n in range(days)], dtype=np.intp)


@units(profile="kW", first_day="", days="d", returns="kW")
def hourly_load(profile: ArrayLike, first_day: date, days: int) -> NDArray[np.float64]:
    """A profile laid out over a run of days.

    Parameters
    ----------
    profile : array, shape (12, 24)
        January first. [kW]
    first_day : date
        Of the run.
    days : int
        Its length; > 0. [d]

    Returns
    -------
    array, shape (24 * days,)
        [kW]

    Examples
    --------
    >>> hourly_load(house_profile(24.0, np.ones(24)), date(2026, 10, 1), 2).sum()
    np.float64(48.0)

    Source: definition.
    """
    matrix = np.asarray(profile, dtype=float)
    require(
        matrix.shape == (12, 24), "shape of the load profile", str(matrix.shape), "", "(12, 24)"
    )
    require(matrix >= 0, "load", matrix, "kW", "0 or more")
    return matrix[months_of_days(first_day, days) - 1].ravel()
