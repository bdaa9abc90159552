"""History that teaches: hours by year, fuel of a genset hour by year, money by year."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from steadbook import units
from steadbook.figures import usage
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Genset, Level, Load, Machine, Tank
from steadbook.workings import costs, words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.fuel_users import (
    appliance_daily,
    heat_of,
    heating_daily,
    tank_of,
    typical_load,
    typical_rate,
    users,
)
from steadbook.workings.tasks import Running

FEWEST_HOURS = 50.0
"""Genset hours of a year below which the gauge tells nothing. Common practice, no source."""
GAUGE_DOUBT = 2.0
"""How far the gauge may be off from the first to the last reading of a year, in percent of the
tank. Common practice, no source."""
WORTH_A_LOOK = 0.10
"""A rise of fuel by the hour that is worth looking for. Common practice, no source."""


@dataclass(frozen=True)
class YearHours:
    """Hours of one machine, each year with the days that its readings span."""

    machine: Machine
    years: dict[int, tuple[int, float]]


@dataclass(frozen=True)
class YearFuel:
    """Fuel of a genset from one gauge reading to another about a year later. [L]"""

    year: int
    first: Level
    last: Level
    fell: float
    delivered: float
    others: float
    hours: float
    capacity: float

    @property
    def genset(self) -> float:
        """What the genset took: all that went, without the other users."""
        return self.fell + self.delivered - self.others

    @property
    def rate(self) -> float:
        """Fuel of an hour. [L/h]"""
        return self.genset / self.hours

    @property
    def doubt(self) -> float:
        """How far the gauge alone may put the rate off. [L/h]"""
        return self.capacity * GAUGE_DOUBT / 100 / self.hours


@dataclass(frozen=True)
class GensetFuel:
    """Fuel of a genset's hour by year, beside its load line at the usual load. [L/h]"""

    genset: Genset
    tank: Tank
    load: float | None
    reckoned: float | None
    years: tuple[YearFuel, ...]

    @property
    def key(self) -> str:
        """The key of its figure."""
        return f"{self.genset.id}.fuel-an-hour"

    @property
    def before(self) -> float | None:
        """Mean of the years before the last one, each by its hours."""
        past = self.years[:-1]
        hours = sum(one.hours for one in past)
        return sum(one.genset for one in past) / hours if hours else None

    @property
    def change(self) -> float | None:
        """By what share the last year is above the ones before."""
        return self.years[-1].rate / self.before - 1 if self.before else None

    @property
    def verdict(self) -> str:
        """What it says, with what to look at."""
        if self.change is None or self.before is None:
            return "one year is known; nothing to compare it with yet"
        last = self.years[-1]
        size = f"{abs(self.change):.0%}".replace("%", f"{words.NBSP}%")
        if abs(last.rate - self.before) <= last.doubt:
            return f"no change that the gauge could show ({_signed(self.change)})"
        if self.change >= WORTH_A_LOOK:
            return (
                f"it uses {size} more by the hour than it did: look at the air filter first, then "
                "plugs, gap, valve lash and the gas pressure; a larger load does it too"
            )
        way = "more" if self.change > 0 else "less"
        return f"it uses {size} {way} by the hour than it did"


def _signed(share: float) -> str:
    return f"{share:+.0%}".replace("-", "\N{MINUS SIGN}").replace("%", f"{words.NBSP}%")


@dataclass(frozen=True)
class YearCost:
    """Money of one year, by the prices entered."""

    year: int
    fuel: float
    parts: float
    unpriced: int

    @property
    def total(self) -> float:
        """Both together."""
        return self.fuel + self.parts


@dataclass(frozen=True)
class History:
    """What the log tells of the years."""

    hours: tuple[YearHours, ...]
    fuel: tuple[GensetFuel, ...]
    money: tuple[YearCost, ...]
    currency: str

    @property
    def years(self) -> list[int]:
        """Every year with hours, the first one first."""
        return sorted({year for one in self.hours for year in one.years})

    def __bool__(self) -> bool:
        return bool(self.hours or self.fuel or self.money)


def history(homestead: Homestead, metered: dict[str, Running]) -> History:
    """Hours, fuel and money by year, from the log alone."""
    hours = [
        YearHours(homestead.machines[name], years)
        for name, meter in metered.items()
        if (years := _hours(meter))
    ]
    fuel = [
        found
        for machine in homestead.machines.values()
        if isinstance(machine, Genset)
        and (found := _genset_fuel(homestead, machine, metered.get(machine.id))) is not None
    ]
    currency = costs.currency_of(homestead)
    return History(tuple(hours), tuple(fuel), tuple(_money(homestead, currency)), currency)


def _hours(meter: Running) -> dict[int, tuple[int, float]]:
    """Days with readings and hours run, by year."""
    found: dict[int, tuple[int, float]] = {}
    readings = meter.readings
    for (year, _), (days, run) in usage.hours_by_month(readings).items():
        before = found.get(year, (0, 0.0))
        found[year] = (before[0] + days, before[1] + run)
    return found


def _genset_fuel(homestead: Homestead, genset: Genset, meter: Running | None) -> GensetFuel | None:
    tank = tank_of(homestead, genset)
    if tank is None or meter is None or tank.plate.capacity is None:
        return None
    others = [one for one in users(homestead, tank) if one is not genset]
    if any(isinstance(one, Genset) for one in others):
        return None  # whose hour took it cannot be told
    years = []
    for year, (first, last) in _by_year(homestead, tank).items():
        begin, end = meter.hours_on(first.date), meter.hours_on(last.date)
        if begin is None or end is None or end - begin < FEWEST_HOURS:
            continue
        capacity = tank.plate.capacity.to("L") * tank.plate.count
        fell = capacity * (first.level.to("%") - last.level.to("%")) / 100
        came = sum(
            one.amount.to("L")
            for one in homestead.log.deliveries
            if one.tank == tank.id and first.date < one.date < last.date
        )
        rest = _others(homestead, others, tank, first.date, last.date)
        made = YearFuel(year, first, last, fell, came, rest, end - begin, capacity)
        if made.genset > 0:
            years.append(made)
    if not years:
        return None
    return GensetFuel(genset, tank, typical_load(genset), typical_rate(genset), tuple(years))


def _by_year(homestead: Homestead, tank: Tank) -> dict[int, tuple[Level, Level]]:
    """The gauge readings about a year apart, each year beginning where the one before ended.

    Readings of a day with a delivery are left out: before or after the truck, nobody knows.
    """
    trucks = {one.date for one in homestead.log.deliveries if one.tank == tank.id}
    mine = [one for one in homestead.log.levels if one.tank == tank.id and one.date not in trucks]
    ends: dict[int, Level] = {}
    for one in mine:  # in order of date
        ends[one.date.year] = one
    found = {}
    if mine:
        begins = [mine[0], *ends.values()]
        for before, last in pairwise(begins):
            if (last.date - before.date).days >= 90:
                found[last.date.year] = (before, last)
    return found


def _others(
    homestead: Homestead, others: list[Genset | Load], tank: Tank, first: date, last: date
) -> float:
    """What the other users of a tank took by the owner's word and the weather. [L]"""
    days = [first + timedelta(days=place) for place in range((last - first).days)]
    heat, taken = heat_of(tank), 0.0
    for user in others:
        if isinstance(user, Load):
            if user.plate.input is not None and user.use:
                taken += float(appliance_daily(user, heat, days).sum())
            if user.heating is not None:
                by_weather = heating_daily(homestead, user.heating, heat, days)
                taken += float(by_weather.sum()) if by_weather is not None else 0.0
    return taken


def _money(homestead: Homestead, currency: str) -> Iterator[YearCost]:
    """Fuel by its tickets, parts used at the prices of the shelf; nothing without prices."""
    fuel: dict[int, float] = defaultdict(float)
    parts: dict[int, float] = defaultdict(float)
    unpriced: dict[int, int] = defaultdict(int)
    for delivery in homestead.log.deliveries:
        price = delivery.private.price if delivery.private else None
        if price is not None and price.unit == currency:
            fuel[delivery.date.year] += price.magnitude
        else:
            unpriced[delivery.date.year] += 1
    for service in homestead.log.services:
        for name, amount in service.parts.items():
            paid = costs.part_price(homestead.parts[name], amount, currency)
            if paid is not None:
                parts[service.date.year] += paid
    for year in sorted({*fuel, *parts}):
        yield YearCost(year, fuel[year], parts[year], unpriced[year])


def history_figures(homestead: Homestead, found: History) -> Iterator[Figure]:
    """The fuel of an hour of the last year, with its working."""
    prefer, where = homestead.place.units, homestead.files.where

    def litres(value: float) -> str:
        return units.show_value(value, "L", prefer)

    for one in found.fuel:
        last = one.years[-1]
        value = units.show_value(last.rate, "L/h", prefer)
        compared = (
            f"The years before: {units.show_value(one.before, 'L/h', prefer)}."
            if one.before
            else "No year before it is known."
        )
        yield Figure(
            key=one.key,
            title=f"{one.genset.name}: fuel of an hour, {words.day(last.first.date)} to "
            f"{words.day(last.last.date)}",
            value=value,
            working=(
                f"Gauge {last.first.level.text} to {last.last.level.text} of "
                f"{litres(last.capacity)}: {litres(last.fell)} down; delivered meanwhile "
                f"{litres(last.delivered)}.",
                f"Other users of {one.tank.name}, reckoned: {litres(last.others)}.",
                f"({litres(last.fell)} + {litres(last.delivered)} - {litres(last.others)}) / "
                f"{last.hours:.0f} h = {value}, give or take "
                f"{units.show_value(last.doubt, 'L/h', prefer, digits=2)} for the gauge.",
                compared,
            ),
            inputs=(
                Input("first gauge", last.first.level.text, where(last.first, "level")),
                Input("last gauge", last.last.level.text, where(last.last, "level")),
            ),
            source="definition; the gauge may be off by 2 %: common practice, no source",
        )
