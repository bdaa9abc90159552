"""Fuel in each tank: contents at 60 F, what is usable, its heat, the forecast, the days to order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING

from steadbook.figures import consumption, fuel, propane
from steadbook.figures import tank as tanks
from steadbook.figures.usage import MONTH_LENGTHS
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Delivery, Genset, Level, Load, Supplier, Tank
from steadbook.workings import fuel_forecast as forecasts
from steadbook.workings.fuel_forecast import Levels, OrderDay, ShutIn, Window
from steadbook.workings.fuel_users import (
    Draw,
    User,
    appliance_daily,
    draws,
    heat_of,
    load_line,
    typical_load,
    typical_rate,
    users,
)
from steadbook.workings.reserves import gauge_percent, last_gauge
from steadbook.workings.tasks import Running

if TYPE_CHECKING:
    from steadbook.workings.fuel_drift import FuelDrift

LOAD_SHARES = (0.25, 0.5, 0.75, 1.0)
GAUGE_HIGHEST = 100.0


@dataclass(frozen=True)
class GaugeReading:
    """The last reading of a tank's gauge."""

    day: date
    level: float
    temperature: float | None
    entry: Level | Delivery


@dataclass(frozen=True)
class MonthLevel:
    """Level on the first of a month, in percent as the gauge would show it."""

    day: date
    expected: float
    low: float
    high: float


@dataclass(frozen=True)
class LoadRow:
    """Running on what is usable at one load: fuel [L/h], hours, days in January and in July."""

    load: float
    rate: float
    hours: float
    january: float | None
    july: float | None
    is_typical: bool


@dataclass(frozen=True)
class UserRow:
    """Fuel of one user on a day of each month of the year, January first. [L/d]"""

    user: User
    by_month: tuple[float, ...]

    @property
    def year(self) -> float:
        """Fuel of a year. [L]"""
        return sum(a * b for a, b in zip(self.by_month, MONTH_LENGTHS, strict=True))


@dataclass(frozen=True)
class GaugeCheck:
    """What the gauge fell in the year before the last reading, beside what is reckoned. [L]"""

    days: int
    fell: float
    reckoned: float


@dataclass(frozen=True)
class FuelStock:
    """A fuel tank on the day of its last gauge reading. Volumes in litres at 60 F.

    ``order`` is the day that counts: the earlier of ``reckoned_order``, by plate and usual load,
    and the one by the ``measured`` use, which is there only where it decides.
    """

    tank: Tank
    users: tuple[User, ...]
    supplier: Supplier | None
    capacity: float | None
    mark: float
    reading: GaugeReading | None = None
    factor: float = 1.0
    contents: float = 0.0
    usable: float = 0.0
    heat: float = 0.0
    delivery: float = 0.0
    drawn: tuple[Draw, ...] = ()
    levels: Levels | None = None
    mark_days: tuple[date | None, date | None, date | None] = (None, None, None)
    order_mark_days: tuple[date | None, date | None, date | None] = (None, None, None)
    order: OrderDay | None = None
    reckoned_order: OrderDay | None = None
    measured: FuelDrift | None = None
    last_order: OrderDay | None = None
    closure: Window | None = None
    shut_in: ShutIn | None = None
    shut_in_full: ShutIn | None = None
    months: tuple[MonthLevel, ...] = ()
    loads: tuple[LoadRow, ...] = ()
    by_user: tuple[UserRow, ...] = ()
    gauge_check: GaugeCheck | None = None
    missing: tuple[str, ...] = ()
    """What to enter before its use is known, in words; nothing where it is known."""

    @property
    def is_full_known(self) -> bool:
        """Whether size and level of the tank are known."""
        return self.reading is not None and self.capacity is not None

    def percent(self, litres: float) -> float:
        """Litres at 60 F as the gauge would show them."""
        assert self.capacity is not None
        return litres / self.factor / self.capacity * 100

    def level_on(self, day: date) -> tuple[float, float, float] | None:
        """Level of a day in percent: as expected, with heavy use, with light use."""
        if self.levels is None or self.reading is None or day < self.reading.day:
            return None
        found = self.levels.on(day)
        return self.percent(found[0]), self.percent(found[1]), self.percent(found[2])


def last_reading(homestead: Homestead, tank: Tank, as_of: date) -> GaugeReading | None:
    """The last level, read or left by a delivery."""
    entry = last_gauge(homestead, tank, as_of)
    if entry is None:
        return None
    read = entry.temperature if isinstance(entry, Level) else None
    return GaugeReading(entry.date, gauge_percent(entry), read.to("degC") if read else None, entry)


def stock_of(
    homestead: Homestead, tank: Tank, meters: dict[str, Running], as_of: date
) -> FuelStock:
    """What a tank holds and how long that lasts."""
    stock = held(homestead, tank, as_of)
    if not stock.is_full_known:
        return replace(stock, missing=what_is_missing(stock, meters))
    return _forecast(homestead, stock, meters, as_of)


def held(homestead: Homestead, tank: Tank, as_of: date) -> FuelStock:
    """What a tank holds on the day of its last reading, without what comes after."""
    plate = tank.plate
    size = plate.capacity.to("L") * plate.count if plate.capacity else 0.0
    capacity = size if size > 0 else None
    mark = plate.reserve.to("%") if plate.reserve else 0.0
    supplier = homestead.suppliers.get(tank.supplier) if tank.supplier else None
    reading = last_reading(homestead, tank, as_of)
    bare = FuelStock(tank, tuple(users(homestead, tank)), supplier, capacity, mark, reading)
    if reading is None or capacity is None:
        return bare
    factor = 1.0
    if plate.contents == "propane" and reading.temperature is not None:
        factor = float(propane.volume_factor(reading.temperature))
    level = min(reading.level, GAUGE_HIGHEST)
    contents = float(tanks.contents(capacity, level, GAUGE_HIGHEST)) * factor
    usable = contents - float(tanks.contents(capacity, min(level, mark), GAUGE_HIGHEST)) * factor
    if plate.contents == "propane":
        room = float(tanks.delivery(capacity, level, highest=GAUGE_HIGHEST))
    else:
        room = capacity * forecasts.fill_limit(plate.contents) / 100 - contents
    return replace(
        bare,
        factor=factor,
        contents=contents,
        usable=usable,
        heat=float(fuel.energy(contents, heat_of(tank))),
        delivery=room,
    )


def _forecast(
    homestead: Homestead, stock: FuelStock, meters: dict[str, Running], as_of: date
) -> FuelStock:
    """The stock with what comes after its reading, where the use of its users is known."""
    reading, capacity = stock.reading, stock.capacity
    assert reading is not None and capacity is not None
    found = draws(homestead, stock.tank, meters, forecasts.days_from(reading.day))
    if not any(one.expected[-1] > 0 for one in found):
        return replace(
            stock, loads=_load_rows(stock, meters, ()), missing=what_is_missing(stock, meters)
        )
    levels = forecasts.levels(stock.contents, found, reading.day)
    mark = capacity * stock.mark / 100 * stock.factor
    order_at = stock.tank.plate.order_at
    order_mark = capacity * order_at.to("%") / 100 * stock.factor if order_at else None
    closed = forecasts.closures(homestead, reading.day)
    mark_days = levels.reached(mark)
    order = forecasts.order_before(mark_days, stock.supplier, closed, reading.day)
    rows = tuple(UserRow(one.user, forecasts.monthly(one.expected, reading.day)) for one in found)
    made = replace(
        stock,
        levels=levels,
        mark_days=mark_days,
        order_mark_days=levels.reached(order_mark) if order_mark else (None, None, None),
        order=order,
        reckoned_order=order,
        by_user=rows,
        loads=_load_rows(stock, meters, rows),
        gauge_check=_gauge_check(homestead, stock, meters),
    )
    made = replace(made, months=_months(made))
    return _closing(made, found, closed[0], mark, as_of) if closed else made


def what_is_missing(stock: FuelStock, meters: dict[str, Running]) -> tuple[str, ...]:
    """What to enter so that a tank's use is known: each machine with its keys."""
    found = []
    if stock.capacity is None:
        found.append(f"enter capacity on {stock.tank.name}")
    if stock.reading is None:
        found.append(f"log a gauge level of {stock.tank.name}")
    if not stock.users:
        found.append(f"enter feeds on {stock.tank.name}")
    for user in stock.users:
        if isinstance(user, Genset):
            found += _missing_of_genset(user, meters.get(user.id))
        elif user.heating is None and not (user.plate.input and user.use):
            keys = [key for key, one in (("input", user.plate.input), ("use", user.use)) if not one]
            found.append(f"enter {' and '.join(keys)} on {user.name}")
    return tuple(found)


def _missing_of_genset(genset: Genset, running: Running | None) -> list[str]:
    if genset.spare:
        return []
    wanted = ("power", "fuel", "fuel_at_half_load", "fuel_at_full_load")
    keys = [key for key in wanted if getattr(genset.plate, key) is None]
    found = [f"enter {' and '.join(keys)} on {genset.name}"] if keys else []
    if running is None:
        found.append(f"enter meter on {genset.name}")
    elif running.forecast is None:
        found.append(f"log the hours of {genset.name}")
    return found


def _months(stock: FuelStock) -> tuple[MonthLevel, ...]:
    """Levels on the firsts of the months, up to the first on which the tank is empty."""
    assert stock.reading is not None
    rows = []
    for day in forecasts.month_starts(stock.reading.day):
        found = stock.level_on(day)
        if found is not None:
            rows.append(MonthLevel(day, *found))
            if found[0] <= 0:
                break
    return tuple(rows)


def _closing(
    stock: FuelStock, found: Sequence[Draw], closure: Window, mark: float, as_of: date
) -> FuelStock:
    """What the road's next closure asks: the last order before it, what lasts until it opens.

    An order or a truck whose last day is past is not offered any more.
    """
    reading, capacity = stock.reading, stock.capacity
    assert reading is not None and capacity is not None
    begin, opens = reading.day, closure.last + timedelta(days=1)
    told = replace(
        stock,
        closure=closure,
        shut_in=forecasts.shut_in(stock.contents, found, begin, opens, mark, begin),
    )
    last_truck = closure.first - timedelta(days=1)
    if last_truck < max(begin, as_of) or stock.levels is None:
        return told
    filled = max(
        forecasts.filled(capacity, stock.tank.plate.contents, stock.factor),
        stock.levels.on(last_truck)[0],
    )
    last_order = forecasts.order_day(closure.first, stock.supplier, [closure], begin)
    return replace(
        told,
        last_order=last_order if last_order and last_order.order_by >= as_of else None,
        shut_in_full=forecasts.shut_in(filled, found, begin, opens, mark, last_truck),
    )


def _load_rows(
    stock: FuelStock, meters: dict[str, Running], rows: Sequence[UserRow]
) -> tuple[LoadRow, ...]:
    """What is usable, at each load of the tank's first genset."""
    genset = next((one for one in stock.users if isinstance(one, Genset)), None)
    line = load_line(genset) if genset else None
    if genset is None or line is None or stock.reading is None:
        return ()
    usual = typical_load(genset)
    loads = sorted({*(share * line.rating for share in LOAD_SHARES), *([usual] if usual else [])})
    running = meters.get(genset.id)
    rate = running.rate if running and not genset.spare else None
    others = [row.by_month for row in rows if row.user is not genset]
    found = []
    for load in loads:
        burnt = float(consumption.line_burn_rate(load, *line))
        days: list[float | None] = [None, None]
        if rate is not None:
            for place, month in enumerate((0, 6)):
                use = rate.by_month[month] * burnt + sum(one[month] for one in others)
                days[place] = float(consumption.days_left(stock.usable, use)) if use > 0 else None
        hours = float(consumption.runtime(stock.usable, burnt))
        found.append(LoadRow(load, burnt, hours, days[0], days[1], load == usual))
    return tuple(found)


def _gauge_check(
    homestead: Homestead, stock: FuelStock, meters: dict[str, Running]
) -> GaugeCheck | None:
    """What the gauge fell in a year, over stretches without a delivery, and what is reckoned."""
    reading, capacity = stock.reading, stock.capacity
    assert reading is not None and capacity is not None
    begin = reading.day - timedelta(days=365)
    mine = sorted(
        (one for one in homestead.log.levels if one.tank == stock.tank.id), key=lambda one: one.date
    )
    trucks = [one.date for one in homestead.log.deliveries if one.tank == stock.tank.id]
    days = 0
    fell = reckoned = 0.0
    for before, after in pairwise(mine):
        if before.date < begin or after.date > reading.day or before.date == after.date:
            continue
        if any(before.date <= truck <= after.date for truck in trucks):
            continue
        days += (after.date - before.date).days
        fell += capacity * (before.level.to("%") - after.level.to("%")) / 100
        reckoned += _used_between(stock, meters, before.date, after.date)
    return GaugeCheck(days, fell, reckoned) if days >= 90 else None


def _used_between(stock: FuelStock, meters: dict[str, Running], first: date, last: date) -> float:
    """Fuel reckoned for days of the past: the meter's hours, the appliances' hours."""
    days = [first + timedelta(days=place) for place in range((last - first).days)]
    used = 0.0
    for user in stock.users:
        if isinstance(user, Load):
            if user.plate.input is not None and user.use:
                used += float(appliance_daily(user, heat_of(stock.tank), days).sum())
            continue
        rate, meter = typical_rate(user), meters.get(user.id)
        if rate is None or meter is None:
            continue
        begin, end = meter.hours_on(first), meter.hours_on(last)
        if begin is not None and end is not None:
            used += (end - begin) * rate
    return used
