"""What a genset's kilowatt-hour, a year's parts and the coming replacements cost.

Prices are private: in every edition but the owner's there are none, and nothing is told.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from steadbook import units
from steadbook.figures import cost
from steadbook.figures.cost import EnergyCost
from steadbook.figures.usage import DAYS_IN_A_YEAR
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Delivery, Genset, Machine, Part, Task
from steadbook.units import CalendarInterval, Quantity, add_interval
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.fuel_users import tank_of, typical_load, typical_rate
from steadbook.workings.tasks import Running, TaskState

YEARS = 10
MONTH = DAYS_IN_A_YEAR / 12


@dataclass(frozen=True)
class JobCost:
    """The parts of one task: how often a year, what one time and a year cost."""

    state: TaskState
    times: float
    each: float

    @property
    def year(self) -> float:
        """Cost of a year."""
        return self.times * self.each


@dataclass(frozen=True)
class Choice:
    """Something that would save genset hours, beside running it."""

    name: str
    price: float
    hours: float
    energy: float  # kWh a year that the genset then need not make
    saving: float  # money a year
    payback: float  # years
    life: float | None  # years
    per_kilowatt_hour: float | None

    @property
    def verdict(self) -> str:
        """Whether it pays for itself."""
        if self.life is None:
            return "life not entered"
        return "pays for itself" if self.payback <= self.life else "does not pay for itself"


@dataclass(frozen=True)
class GensetCost:
    """A kilowatt-hour of one genset at the load it usually carries."""

    genset: Genset
    load: float
    rate: float
    delivery: Delivery
    fuel_price: float  # money/L
    hours: float  # a year
    energy: EnergyCost
    choices: tuple[Choice, ...]
    parts_priced: bool = True
    wear_priced: bool = True

    @property
    def is_whole(self) -> bool:
        """Whether nothing that it costs is left out for want of a price."""
        return self.parts_priced and self.wear_priced

    @property
    def hour(self) -> float:
        """Cost of an hour of running."""
        return float(self.energy.total) * self.load


@dataclass(frozen=True)
class Replacement:
    """A machine to be replaced one day."""

    machine: Machine
    price: float
    lasts: float  # years
    day: date


@dataclass(frozen=True)
class Costs:
    """All money of the place, in one currency."""

    currency: str
    gensets: tuple[GensetCost, ...]
    jobs: tuple[JobCost, ...]
    unpriced: tuple[str, ...]
    replacements: tuple[Replacement, ...]
    first_year: int
    due: tuple[float, ...]
    payment: float
    figures: tuple[Figure, ...]

    @property
    def upkeep(self) -> float:
        """Parts of a year."""
        return sum(job.year for job in self.jobs)

    def __bool__(self) -> bool:
        return bool(self.gensets or self.jobs or self.replacements)


def costs(
    homestead: Homestead,
    meters: dict[str, Running],
    states: tuple[TaskState, ...],
    as_of: date,
) -> Costs:
    """What can be told from the prices entered; nothing where there are none."""
    currency = currency_of(homestead)
    jobs, unpriced = _jobs(homestead, states, meters, currency)
    gensets = tuple(
        found
        for one in homestead.machines.values()
        if isinstance(one, Genset)
        and (found := _genset_cost(homestead, one, meters, jobs, currency)) is not None
    )
    coming = _replacements(homestead, meters, currency)
    due = _due(coming, as_of)
    payment = cost.level_payment(due) if coming else 0.0
    made = Costs(
        currency, gensets, tuple(jobs), unpriced, coming, as_of.year, tuple(due), payment, ()
    )
    return replace(made, figures=tuple(_figures(homestead, made)))


def _prices(homestead: Homestead) -> list[Quantity]:
    """Every price of the home."""
    owned = [
        *homestead.machines.values(),
        *homestead.parts.values(),
        *homestead.log.deliveries,
    ]
    found = []
    for one in owned:
        if one.private is not None:
            found += [price for price in (one.private.price, one.private.replacement) if price]
    return found


def currency_of(homestead: Homestead) -> str:
    """The currency most prices are in; others are left out, no rate of exchange being known."""
    counted: dict[str, int] = {}
    for price in _prices(homestead):
        counted[price.unit] = counted.get(price.unit, 0) + 1
    return max(counted, key=lambda unit: counted[unit]) if counted else "USD"


def _in(price: Quantity | None, currency: str) -> float | None:
    return price.magnitude if price is not None and price.unit == currency else None


# --- parts of the tasks -------------------------------------------------------------------------


def _jobs(
    homestead: Homestead,
    states: tuple[TaskState, ...],
    meters: dict[str, Running],
    currency: str,
) -> tuple[list[JobCost], tuple[str, ...]]:
    """The parts of every task, each as often as it is done by itself; the parts without a price."""
    rates = {state.key: _times(state.task, meters.get(state.machine.id)) for state in states}
    found, unpriced = [], []
    for state in states:
        covering = sum(
            rates[other.key]
            for other in states
            if other.machine is state.machine and state.name in other.covers
        )
        times = max(rates[state.key] - covering, 0.0)
        each, known = 0.0, False
        for name, amount in state.takes.items():
            price = part_price(homestead.parts[name], amount, currency)
            if price is None:
                unpriced.append(homestead.parts[name].name)
            else:
                each, known = each + price, True
        if known and times > 0:
            found.append(JobCost(state, times, each))
    return found, tuple(sorted(set(unpriced)))


def _times(task: Task, meter: Running | None) -> float:
    """How often a year a task is done: by hours or by the calendar, whichever comes oftener."""
    by = [0.0]
    if task.every.hours is not None and meter is not None and meter.rate is not None:
        by.append(meter.rate.year / task.every.hours.to("h"))
    if task.every.calendar is not None:
        by.append(1 / _years(task.every.calendar))
    return max(by)


def _years(interval: CalendarInterval) -> float:
    return (interval.months * MONTH + interval.days) / DAYS_IN_A_YEAR


def part_price(part: Part, amount: Quantity, currency: str) -> float | None:
    """Price of an amount of a part, from the price of its package."""
    price = _in(part.private.price if part.private else None, currency)
    if price is None:
        return None
    unit = part.on_hand.unit
    pack = part.pack.to(unit) if part.pack else 1.0
    return price * amount.to(unit) / pack if pack > 0 else None


# --- a kilowatt-hour ------------------------------------------------------------------------------


def _genset_cost(
    homestead: Homestead,
    genset: Genset,
    meters: dict[str, Running],
    jobs: list[JobCost],
    currency: str,
) -> GensetCost | None:
    load, rate, meter = typical_load(genset), typical_rate(genset), meters.get(genset.id)
    tank = tank_of(homestead, genset)
    if not load or not rate or meter is None or meter.rate is None or tank is None:
        return None
    priced = [
        one
        for one in homestead.log.deliveries
        if one.tank == tank.id
        and one.private is not None
        and _in(one.private.price, currency) is not None
        and one.amount.magnitude > 0
    ]
    hours = meter.rate.year
    if not priced or hours <= 0:
        return None
    last = max(priced, key=lambda one: one.date)
    assert last.private is not None
    paid = _in(last.private.price, currency)
    assert paid is not None
    price = paid / last.amount.to("L")
    own = [job for job in jobs if job.state.machine is genset]
    service = sum(job.year for job in own)
    life = genset.plate.life.to("h") if genset.plate.life else 0.0
    new = _replacement_price(genset, currency) if life > 0 else None
    energy = cost.energy_cost(
        load, rate, price, service, hours, new or 0.0, life if life > 0 else 1.0
    )
    takes_parts = any(task.parts for task in genset.tasks.values())
    made = GensetCost(
        genset, load, rate, last, price, hours, energy, (),
        parts_priced=bool(own) or not takes_parts, wear_priced=new is not None,
    )  # fmt: skip
    choices = [
        _choice(made, one.name, money, one.saves.to("h"), one.life)
        for one in genset.alternatives.values()
        if one.saves.magnitude > 0
        and one.private is not None
        and (money := _in(one.private.price, currency)) is not None
    ]
    return replace(made, choices=tuple(choices))


def _choice(
    made: GensetCost, name: str, price: float, hours: float, life: CalendarInterval | None
) -> Choice:
    energy = hours * made.load
    saving = energy * float(made.energy.total)
    years = _years(life) if life else None
    return Choice(
        name,
        price,
        hours,
        energy,
        saving,
        float(cost.simple_payback(price, saving)),
        years,
        price / years / energy if years else None,
    )


# --- replacements -----------------------------------------------------------------------------


def _replacement_price(machine: Machine, currency: str) -> float | None:
    private = machine.private
    if private is None:
        return None
    today = _in(private.replacement, currency)
    return today if today is not None else _in(private.price, currency)


def _replacements(
    homestead: Homestead, meters: dict[str, Running], currency: str
) -> tuple[Replacement, ...]:
    """Every machine whose price and life are known: by years, or by a genset's hours."""
    found = []
    for machine in homestead.machines.values():
        price = _replacement_price(machine, currency)
        life = _life(machine, meters)
        if price is not None and life is not None and life[0] >= 1:
            found.append(Replacement(machine, price, *life))
    return tuple(sorted(found, key=lambda one: one.day))


def _life(machine: Machine, meters: dict[str, Running]) -> tuple[float, date] | None:
    """Years it lasts and the day it is at their end, whichever of hours and years is first."""
    lives: list[tuple[float, date]] = []
    if machine.lasts is not None and machine.installed is not None:
        lives.append((_years(machine.lasts), add_interval(machine.installed, machine.lasts)))
    meter = meters.get(machine.id)
    if isinstance(machine, Genset) and machine.plate.life and meter and meter.forecast:
        hours = machine.plate.life.to("h")
        day = meter.forecast.day_reaching(hours)
        if day is not None and meter.rate is not None and meter.rate.year > 0:
            lives.append((hours / meter.rate.year, day))
    return min(lives, key=lambda life: life[1], default=None)


def _due(coming: tuple[Replacement, ...], as_of: date) -> list[float]:
    """Money due in each of the ten years from this one on."""
    if not coming:
        return [0.0] * YEARS
    begin = date(as_of.year, 1, 1)
    left = [max((one.day - begin).days / DAYS_IN_A_YEAR, 0.0) for one in coming]
    # A genset that runs less than it used to has longer left than a whole life at today's rate.
    lives = [max(one.lasts, rest) for one, rest in zip(coming, left, strict=True)]
    ages = [life - rest for life, rest in zip(lives, left, strict=True)]
    prices = [one.price for one in coming]
    return [float(one) for one in cost.replacement_years(prices, lives, ages, YEARS)]


# --- figures ------------------------------------------------------------------------------------


def _figures(homestead: Homestead, made: Costs) -> list[Figure]:
    prefer, where = homestead.place.units, homestead.files.where

    def money(value: float) -> str:
        return units.show_value(value, made.currency, prefer)

    found = []
    for one in made.gensets:
        parts, genset = one.energy, one.genset
        value = f"{money(float(parts.total))} a kWh"
        service = sum(job.year for job in made.jobs if job.state.machine is genset)
        steps = [
            f"Fuel: {units.show_value(one.rate, 'L/h', prefer)} x {_per_volume(one, made, prefer)} "
            f"/ {one.load:.1f} kW = {money(float(parts.fuel))}.",
            f"Parts: {money(service)} a year / {one.hours:.0f} h / {one.load:.1f} kW = "
            f"{money(float(parts.service))}."
            if one.parts_priced
            else "Parts: no price is entered, so they are not in it.",
        ]
        if not one.wear_priced:
            steps.append("Wear: price or life of the genset is not entered, so it is not in it.")
        elif genset.plate.life:
            price = _replacement_price(genset, made.currency)
            steps.append(
                f"Wear: {money(price or 0.0)} / {genset.plate.life.text} / {one.load:.1f} kW = "
                f"{money(float(parts.wear))}."
            )
        found.append(
            Figure(
                key=f"{genset.id}.kwh-cost",
                title=f"{genset.name}: cost of a kilowatt-hour",
                value=value,
                working=(*steps, f"Together {value}."),
                inputs=(
                    Input(
                        "last priced delivery", words.day(one.delivery.date), where(one.delivery)
                    ),
                ),
                caution="Your own work is not counted.",
            )
        )
    return found


def _per_volume(one: GensetCost, made: Costs, prefer: units.System) -> str:
    """The price of fuel by the volume people buy."""
    unit = "gal" if prefer == "us" else "L"
    price = one.fuel_price * float(units.convert(1.0, unit, "L"))
    return f"{price:.2f} {made.currency} a {unit}"
