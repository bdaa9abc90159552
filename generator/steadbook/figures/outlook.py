"""The winter ahead told as ranges: genset hours, fuel and lowest charge over many made-up winters.

The sun's hours are solar time and the house's are by the clock; they are laid on each other as they
are, so that by a clock an hour or two off the sun the quiet hours are off by as much.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import date

import numpy as np
from numpy.typing import ArrayLike, NDArray

from steadbook.figures import charge, cloud, load, panels, winter
from steadbook.figures import clearness as clear
from steadbook.figures._declare import require, units

_AT_ONCE = 1000  # winters stepped together: their hour fits the processor's cache


@dataclass(frozen=True, slots=True)
class Site:
    """Place and climate, tables January first.

    `latitude` [deg]; `monthly_global`: light on level ground, mean of a day [kWh/m²];
    `air_temperature` by day [degC]; `snow_days` a month on which the panels give nothing [d];
    `albedo` of the ground; `bank_temperature` where the bank stands [degC].
    """

    latitude: float
    monthly_global: tuple[float, ...]
    air_temperature: tuple[float, ...] = (0.0,) * 12
    snow_days: tuple[float, ...] = (0.0,) * 12
    albedo: tuple[float, ...] = (0.2,) * 12
    bank_temperature: tuple[float, ...] = (20.0,) * 12


@dataclass(frozen=True, slots=True)
class Range:
    """A figure over many winters.

    `mean`, with `error`: its sampling error (one standard deviation of the mean, made smaller by
    more winters); `low` and `high`: one winter in ten is below, one in ten above.
    """

    mean: float
    low: float
    high: float
    error: float


@units(values="", returns="")
def spread(values: ArrayLike) -> Range:
    """Mean, 10 to 90 % range and sampling error.

    Parameters
    ----------
    values : array, shape (winters,)
        One figure of each winter.

    Returns
    -------
    Range
        In the unit of the values.

    Examples
    --------
    >>> spread([1.0, 2.0, 3.0])
    Range(mean=2.0, low=1.2, high=2.8, error=0.577)

    Source: definition; standard error of the mean.
    """
    each = np.asarray(values, dtype=float)
    require(each.size > 1, "winters", each.size, "", "2 or more")
    low, high = np.quantile(each, [0.1, 0.9])
    error = each.std(ddof=1) / np.sqrt(each.size)
    return Range(float(each.mean()), float(low), float(high), float(error))


@units(season="", returns="")
def ranges(season: winter.Season) -> dict[str, dict[str, Range]]:
    """Every figure of a season as a range, for each month and for all.

    Parameters
    ----------
    season : Season
        As `winters` or `winter.season` give it.

    Returns
    -------
    dict
        Name of the figure, then the month's number as text or "all".

    Source: `spread`; sums over the months, the lowest charge as the lowest of them.
    """
    found: dict[str, dict[str, Range]] = {}
    for part in fields(season):
        values = getattr(season, part.name)
        if part.name in ("months", "hours_by_day", "fuel_by_day", "last_charge"):
            continue
        whole = values.min(axis=0) if part.name == "lowest_charge" else values.sum(axis=0)
        by_month = {str(m): spread(row) for m, row in zip(season.months, values, strict=True)}
        found[part.name] = {**by_month, "all": spread(whole)}
    return found


@units(running_sum="", amount="", returns="d")
def days_to_reach(running_sum: ArrayLike, amount: float) -> NDArray[np.float64]:
    """Days until a running sum, as of fuel or hours, reaches an amount.

    Parameters
    ----------
    running_sum : array, shape (days, winters)
        At the end of each day; never falling.
    amount : float
        As the fuel in the tank or the hours to the next service; > 0.

    Returns
    -------
    array, shape (winters,)
        1 for the first day; inf where the season ends before. [d]

    Examples
    --------
    >>> days_to_reach([[1.0, 0.0], [5.0, 2.0], [9.0, 4.0]], 5.0).tolist()
    [2.0, inf]

    Source: definition.
    """
    require(amount > 0, "amount", amount, "", "more than 0")
    reached = np.asarray(running_sum, dtype=float) >= amount
    day = 1.0 + reached.argmax(axis=0)
    return np.where(reached.any(axis=0), day, np.inf)


@units(days="d", share="", returns="d")
def day_in_most(days: ArrayLike, share: float = 0.9) -> float:
    """Day up to which something lasts in a share of all winters.

    Parameters
    ----------
    days : array, shape (winters,)
        As from `days_to_reach`. [d]
    share : float
        Of the winters in which it lasts at least so long, above 0 to 1.

    Returns
    -------
    float
        inf where it lasts the season in so many. [d]

    Examples
    --------
    >>> day_in_most([10, 20, 30, 40, 50, 60, 70, 80, 90, 100])
    20.0

    Source: definition; a day of one of the winters, never between two.
    """
    require(0 < share <= 1, "share of winters", share, "", "above 0, up to 1")
    each = np.sort(np.asarray(days, dtype=float))
    allowed = int(np.floor((1.0 - share) * each.size + 1e-9))  # winters that may end sooner
    return float(each[min(allowed, each.size - 1)])


@units(
    arrays="", site="", months="", first_day_of_year="", clearness="", covered="", returns="kW",
)  # fmt: skip
def hourly_sun(
    arrays: Sequence[panels.Array],
    site: Site,
    months: ArrayLike,
    first_day_of_year: int,
    clearness: ArrayLike,
    covered: ArrayLike = False,
) -> NDArray[np.float64]:
    """Power of the arrays in each hour of each winter.

    Parameters
    ----------
    arrays : sequence of Array
        Each with its own aim and controller.
    site : Site
        Place and climate.
    months : array of int, shape (days,)
        Month of each day.
    first_day_of_year : int
        Day of the year of the first of them.
    clearness : array, shape (days, winters)
        Of each day.
    covered : bool or array, shape (days, winters)
        True where snow lies on the panels.

    Returns
    -------
    array, shape (24 * days, winters)
        [kW]

    Source: `panels.hourly_output`, day by day.
    """
    share = np.asarray(clearness, dtype=float)
    snow = np.broadcast_to(covered, share.shape)
    power = np.empty((share.shape[0], 24, share.shape[1]))
    for day, month in enumerate(np.asarray(months, dtype=int)):
        of_year = (first_day_of_year - 1 + day) % 365 + 1
        air, ground = site.air_temperature[month - 1], site.albedo[month - 1]
        made = panels.hourly_output(arrays, site.latitude, of_year, share[day], air, ground)
        power[day] = np.where(snow[day], 0.0, made.T)
    return power.reshape(-1, share.shape[1])


@units(
    plant="", rule="", arrays="", site="", profile="kW", first_day="", days="d", count="", seed="",
    start_charge="", chemistry="", returns="",
)  # fmt: skip
def winters(
    plant: winter.Plant,
    rule: winter.RunRule,
    arrays: Sequence[panels.Array],
    site: Site,
    profile: ArrayLike,
    first_day: date,
    days: int = 212,
    count: int = 1000,
    seed: int = 1,
    start_charge: float = 0.9,
    chemistry: str = "flooded",
) -> winter.Season:
    """Many made-up winters of one homestead.

    Parameters
    ----------
    plant : Plant
        Bank, inverter and genset.
    rule : RunRule
        When the genset runs.
    arrays : sequence of Array
        Each with its own aim and controller.
    site : Site
        Place and climate.
    profile : array, shape (12, 24) or (24 * days,)
        The house's load, January first; or its load in each hour of the season, where one day of
        the week differs from another. [kW]
    first_day : date
        Of the season, as 1 October.
    days : int
        Length of the season; 212 is October to April. [d]
    count : int
        Winters to make.
    seed : int
        Same seed, same winters.
    start_charge : float
        State of charge at the first midnight, 0 to 1.
    chemistry : str
        "flooded", "agm" or "lfp": says at what bank temperature it may be charged.

    Returns
    -------
    Season
        Sums by month and winter; see `ranges`.

    Source: `cloud`, `panels` and `winter`; snow falls on days drawn one by one.
    """
    monthly = clear.monthly_clearness(site.monthly_global, site.latitude)
    months = load.months_of_days(first_day, days)
    house = np.asarray(profile, dtype=float)
    if house.ndim == 2:
        house = load.hourly_load(house, first_day, days)
    clearness = cloud.daily_clearness(monthly, months, count, seed)
    snowy = np.asarray(site.snow_days)[months - 1] / 30.4
    drawn = np.random.default_rng([seed, 1]).random((count, days)).T
    covered = drawn < snowy[:, np.newaxis]
    of_year = first_day.timetuple().tm_yday
    cold = np.asarray(site.bank_temperature)[months - 1]
    warm = charge.charging_is_allowed(cold, chemistry)
    parts = []
    for first in range(0, count, _AT_ONCE):
        some = slice(first, first + _AT_ONCE)
        sun = hourly_sun(arrays, site, months, of_year, clearness[:, some], covered[:, some])
        parts.append(winter.season(plant, rule, house, sun, months, start_charge, warm))
    return _joined(parts)


def _joined(parts: list[winter.Season]) -> winter.Season:
    names = [part.name for part in fields(winter.Season) if part.name != "months"]
    whole = {n: np.concatenate([getattr(p, n) for p in parts], axis=-1) for n in names}
    return winter.Season(months=parts[0].months, **whole)
