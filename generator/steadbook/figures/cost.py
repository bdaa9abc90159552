"""What a kilowatt-hour, a year and a replacement cost. Money is in the owner's own coin."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures._declare import require, units
from steadbook.figures._factors import Number


class EnergyCost(NamedTuple):
    """Parts of the cost of a kilowatt-hour."""

    fuel: Any
    service: Any
    wear: Any

    @property
    def total(self) -> Any:
        """All parts together."""
        return self.fuel + self.service + self.wear


@units(
    load="kW",
    burn_rate="L/h",
    fuel_price="money/L",
    service_cost="money",
    service_interval="h",
    overhaul_cost="money",
    overhaul_interval="h",
    returns="money/kWh",
)
def energy_cost(
    load: Number,
    burn_rate: Number,
    fuel_price: Number,
    service_cost: Number = 0.0,
    service_interval: Number = 100.0,
    overhaul_cost: Number = 0.0,
    overhaul_interval: Number = 2000.0,
) -> EnergyCost:
    """Cost of a kilowatt-hour from a genset.

    Parameters
    ----------
    load : float or array, shape (n,)
        Electrical load; > 0. [kW]
    burn_rate : float or array, shape (n,)
        Fuel in an hour at that load; > 0. [L/h]
    fuel_price : float or array
        Price of a litre delivered; >= 0. [money/L]
    service_cost : float or array
        Oil, filter, plugs of one service; >= 0. [money]
    service_interval : float or array
        Running hours from service to service; > 0. [h]
    overhaul_cost : float or array
        Overhaul, or another set less what the old one brings; >= 0. [money]
    overhaul_interval : float or array
        Running hours to it; > 0. [h]

    Returns
    -------
    EnergyCost
        Fuel, service and wear for a kilowatt-hour, and their `total`. [money/kWh]

    Raises
    ------
    OutOfRange
        No load or fuel, a negative price, an interval of zero or less.

    Examples
    --------
    >>> cost = energy_cost(5.0, 3.0, 0.80, 60.0, 100.0, 1500.0, 3000.0)
    >>> tuple(round(part, 2) for part in cost), round(cost.total, 2)
    ((0.48, 0.12, 0.10), 0.70)

    Source: definition.
    """
    require(load > 0, "load", load, "kW", "more than 0")
    require(burn_rate > 0, "burn rate", burn_rate, "L/h", "more than 0")
    require(fuel_price >= 0, "fuel price", fuel_price, "money/L", "0 or more")
    require(service_cost >= 0, "cost of a service", service_cost, "money", "0 or more")
    require(service_interval > 0, "service interval", service_interval, "h", "more than 0")
    require(overhaul_cost >= 0, "cost of an overhaul", overhaul_cost, "money", "0 or more")
    require(overhaul_interval > 0, "hours to overhaul", overhaul_interval, "h", "more than 0")
    return EnergyCost(
        burn_rate * fuel_price / load,
        service_cost / service_interval / load,
        overhaul_cost / overhaul_interval / load,
    )


@units(costs="money", intervals="yr", returns="money/yr")
def annual_upkeep(costs: ArrayLike, intervals: ArrayLike) -> Any:
    """Upkeep of a year, each job spread over its interval.

    Parameters
    ----------
    costs : array, shape (jobs,)
        Cost of each job; >= 0. [money]
    intervals : array, shape (jobs,)
        Years from one time to the next; > 0. [yr]

    Returns
    -------
    float
        Mean cost of a year. [money/yr]

    Raises
    ------
    OutOfRange
        A negative cost, an interval of zero or less.

    Examples
    --------
    >>> float(annual_upkeep([60.0, 300.0], [0.5, 3.0]))
    220.0

    Source: definition.
    """
    cost, years = np.asarray(costs, dtype=float), np.asarray(intervals, dtype=float)
    require(cost >= 0, "cost of a job", cost, "money", "0 or more")
    require(years > 0, "interval", years, "yr", "more than 0")
    return np.sum(cost / years)


@units(future_cost="money", years="yr", interest="1/yr", returns="money/yr")
def sinking_fund(future_cost: Number, years: Number, interest: Number = 0.0) -> Any:
    """Payment at the end of each year that grows to a replacement's cost.

    Parameters
    ----------
    future_cost : float or array
        Cost when it falls due; >= 0. [money]
    years : float or array
        Years until then; > 0. [yr]
    interest : float or array
        Interest the fund earns in a year, above inflation; 0 to 1. [1/yr]

    Returns
    -------
    float or array
        Payment of a year. [money/yr]

    Raises
    ------
    OutOfRange
        A negative cost, no years, interest outside 0 to 1.

    Examples
    --------
    >>> float(sinking_fund(5000.0, 10.0))
    500.0

    Source: engineering economy, uniform series sinking fund i / ((1 + i)^n - 1).
    """
    require(future_cost >= 0, "cost of replacement", future_cost, "money", "0 or more")
    require(years > 0, "years to replacement", years, "yr", "more than 0")
    _require_interest(interest)
    # Without interest the payments only add up: `years` of them.
    rate = np.where(np.asarray(interest) > 0, interest, 1.0)
    grown = np.where(np.asarray(interest) > 0, np.expm1(years * np.log1p(rate)) / rate, years)
    return (future_cost / grown)[()]


def _require_interest(interest: Number) -> None:
    require((interest >= 0) & (interest <= 1), "interest", interest, "1/yr", "from 0 to 1")


@units(costs="money", lives="yr", ages="yr", years="yr", returns="money")
def replacement_years(costs: ArrayLike, lives: ArrayLike, ages: ArrayLike, years: int = 10) -> Any:
    """Replacements that fall in each of the coming years.

    Parameters
    ----------
    costs : array, shape (things,)
        Cost of replacing each; >= 0. [money]
    lives : array, shape (things,)
        Years each lasts, at least 1. [yr]
    ages : array, shape (things,)
        Years each has served; one past its life is due in the first year; >= 0. [yr]
    years : int
        How many years to look ahead, at least 1. [yr]

    Returns
    -------
    array, shape (years,)
        Money due in each year, again whenever a life has passed. [money]

    Raises
    ------
    OutOfRange
        A negative cost or age, a life under a year, no years.

    Examples
    --------
    >>> replacement_years([900.0, 200.0], [10.0, 2.0], [7.0, 2.0], 5)
    array([200., 200., 900., 200.,   0.])

    Source: definition.
    """
    cost, life, age = (
        np.atleast_1d(np.asarray(given, dtype=float)) for given in (costs, lives, ages)
    )
    require(cost >= 0, "cost of replacement", cost, "money", "0 or more")
    require(life >= 1, "life", life, "yr", "1 or more")
    require(age >= 0, "age", age, "yr", "0 or more")
    require(years >= 1, "years ahead", years, "yr", "1 or more")
    due = np.zeros(years)
    for price, lasts, served in zip(cost, life, age, strict=True):
        moments = np.arange(max(lasts - served, 0.0), years + 1e-9, lasts)
        # Due in the year that ends at or after the moment.
        places = np.maximum(np.ceil(moments - 1e-9).astype(int) - 1, 0)
        np.add.at(due, places[places < years], price)
    return due


@units(due="money", balance="money", interest="1/yr", returns="money/yr")
def level_payment(due: ArrayLike, balance: float = 0.0, interest: float = 0.0) -> float:
    """Least payment, the same each year, that meets every year's replacements in time.

    Parameters
    ----------
    due : array, shape (years,)
        From `replacement_years`, paid at the end of each year; >= 0. [money]
    balance : float
        In the fund today; >= 0. [money]
    interest : float
        Interest the fund earns in a year, above inflation; 0 to 1. [1/yr]

    Returns
    -------
    float
        Payment at the end of each year, in time for that year's bills. [money/yr]

    Raises
    ------
    OutOfRange
        A negative sum or balance, interest outside 0 to 1.

    Examples
    --------
    >>> level_payment([0.0, 0.0, 900.0, 0.0, 100.0])
    300.0

    Source: engineering economy: present worth of what is due over that of the payments, at its
    worst year.
    """
    sums = np.asarray(due, dtype=float)
    require(sums >= 0, "money due", sums, "money", "0 or more")
    require(balance >= 0, "balance of the fund", balance, "money", "0 or more")
    _require_interest(interest)
    discount = (1 + interest) ** -np.arange(1.0, len(sums) + 1)
    lacking = np.cumsum(sums * discount) - balance
    return float(np.max(lacking / np.cumsum(discount), initial=0.0))


@units(extra_cost="money", yearly_saving="money/yr", returns="yr")
def simple_payback(extra_cost: Number, yearly_saving: Number) -> Any:
    """Years until a saving has paid for what it cost.

    Parameters
    ----------
    extra_cost : float or array
        Cost above that of doing without; >= 0. [money]
    yearly_saving : float or array
        Saved in a year; > 0. [money/yr]

    Returns
    -------
    float or array
        Years, no interest counted. [yr]

    Raises
    ------
    OutOfRange
        A negative cost, no saving.

    Examples
    --------
    >>> simple_payback(1200.0, 300.0)
    4.0

    Source: definition.
    """
    require(extra_cost >= 0, "extra cost", extra_cost, "money", "0 or more")
    require(yearly_saving > 0, "yearly saving", yearly_saving, "money/yr", "more than 0")
    return extra_cost / yearly_saving
