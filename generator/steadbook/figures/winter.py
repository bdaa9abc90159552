"""A winter hour by hour: sun and genset in, house out, the bank between them.

Energy on the direct-current side of the bank is counted in kWh. In each hour, in this order:

1. The run rule decides whether the genset runs for the whole hour.
2. While it runs it carries the house; else the inverter draws on sun and bank.
3. Sun left over charges the bank as far as the bank accepts; the rest is spilled.
4. The genset's charger adds what the bank still accepts, up to the charger's limit.
5. What neither covers comes out of the bank, down to its floor; the rest is not served.

What a bank accepts falls as it fills (see `charge`), over the hour by the exact factor. All winters
are stepped together; arrays are (hours, winters) and written in place. A cold bank is entered with
its smaller capacity, and the days on which it may not be charged are named.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import exp

import numpy as np
from numpy.typing import ArrayLike, NDArray

from steadbook.figures import battery, battery_care, charge
from steadbook.figures._choice import choice
from steadbook.figures._declare import require, units

ENERGY_EFFICIENCY = {"flooded": 0.80, "agm": 0.85, "lfp": 0.94}
"""Share of the energy put into a bank that comes out again. Source: from memory, check: 0.75 to
0.85 for lead-acid (IEEE 1013 discussion), 0.92 to 0.96 for lfp."""

Hours = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Plant:
    """Bank, inverter and genset.

    `capacity` of the bank [kWh]; `floor`: share of it below which the inverter cuts out;
    `charge_efficiency`: share of energy put in that comes out again; `tail` [1/h] and
    `time_constant` [h] of the taper; `inverter_efficiency`; `charger_power` into the bank [kW];
    `charger_efficiency`; `genset_power` it can carry [kW]; `idle_fuel` [L/h] running unloaded;
    `fuel_per_energy` [L/kWh] on top for each kWh it gives.
    """

    capacity: float
    charger_power: float
    genset_power: float
    idle_fuel: float
    fuel_per_energy: float
    floor: float = 0.2
    charge_efficiency: float = 0.80
    tail: float = 0.02
    time_constant: float = 2.5
    inverter_efficiency: float = 0.90
    charger_efficiency: float = 0.85


@dataclass(frozen=True, slots=True)
class RunRule:
    """The owner's rule: start below a state of charge, stop at another, keep quiet hours.

    `quiet`: first hour without the genset and the hour it may run again, as (22, 7); below
    `break_quiet_below` it runs all the same. `mark`: charge that should not be fallen below.
    """

    start_below: float = 0.5
    stop_at: float = 0.8
    quiet: tuple[int, int] | None = None
    break_quiet_below: float = 0.0
    mark: float = 0.5


@dataclass(frozen=True, slots=True)
class Season:
    """What came of it, each of shape (months, winters); `months` in the order they came.

    `genset_hours` and `starts`; `genset_energy` given [kWh]; `fuel` [L]; `lowest_charge`, 0 to 1;
    `days_below` the mark; `unserved` to the house and `spilled` by the panels [kWh]. Summed up to
    the end of each day, of shape (days, winters): `hours_by_day` [h] and `fuel_by_day` [L].
    """

    months: tuple[int, ...]
    genset_hours: Hours
    starts: Hours
    genset_energy: Hours
    fuel: Hours
    lowest_charge: Hours
    days_below: Hours
    unserved: Hours
    spilled: Hours
    hours_by_day: Hours
    fuel_by_day: Hours
    last_charge: Hours
    """At the end, shape (winters,)."""


@dataclass(slots=True)
class Ledger:
    """Every hour's energy [kWh], each (hours, winters), to prove that none is lost or made.

    `need`: drawn by the inverter; `sun_charge`, `genset_charge`: put into the bank; `discharge`:
    taken out; `short`: not served; all on the direct-current side. `stored`: at the hour's end.
    `running`: 1 while the genset ran.
    """

    hours: int
    winters: int
    rows: dict[str, Hours] = field(init=False)

    def __post_init__(self) -> None:
        names = ("stored", "need", "sun_charge", "genset_charge", "discharge", "short", "spilled")
        self.rows = {n: np.empty((self.hours, self.winters)) for n in (*names, "running")}


class _Bank:
    """The state of all winters and the rooms in which an hour is worked out."""

    def __init__(self, plant: Plant, rule: RunRule, winters: int, start_charge: float) -> None:
        self.plant = plant
        self.stored = np.full(winters, start_charge * plant.capacity)
        self.floor = plant.floor * plant.capacity
        self.start, self.stop, self.urgent = (
            share * plant.capacity
            for share in (rule.start_below, rule.stop_at, rule.break_quiet_below)
        )
        # energy at which the taper would end, and the way gone towards it in an hour
        self.full = (1.0 + plant.tail * plant.time_constant) * plant.capacity
        self.pace = 1.0 - exp(-plant.charge_efficiency / plant.time_constant)
        self.wanted, self.running, self.ran, self.flag = np.zeros((4, winters), dtype=bool)
        (self.need, self.surplus, self.room, self.sun_charge, self.genset_charge,
         self.discharge, self.short, self.spilled, self.spare) = np.empty((9, winters))  # fmt: skip

    def decide(self, quiet: bool) -> None:
        """Whether the genset runs in this hour."""
        np.less(self.stored, self.stop, out=self.flag)
        np.logical_and(self.wanted, self.flag, out=self.wanted)
        np.less(self.stored, self.start, out=self.flag)
        np.logical_or(self.wanted, self.flag, out=self.wanted)
        self.ran, self.running = self.running, self.ran
        if quiet:
            np.less(self.stored, self.urgent, out=self.flag)
            np.logical_and(self.wanted, self.flag, out=self.running)
        else:
            np.copyto(self.running, self.wanted)

    def exchange(self, load: float, sun: Hours, chargeable: bool) -> float:
        """Move this hour's energy; gives what the genset carries of the house while it runs."""
        plant = self.plant
        carried = min(load, plant.genset_power)
        charger = min(
            plant.charger_power, (plant.genset_power - carried) * plant.charger_efficiency
        )
        self.need.fill(load / plant.inverter_efficiency)
        np.copyto(self.need, (load - carried) / plant.inverter_efficiency, where=self.running)
        np.subtract(sun, self.need, out=self.surplus)

        np.subtract(self.full, self.stored, out=self.room)
        np.multiply(self.room, self.pace, out=self.room)
        np.subtract(plant.capacity, self.stored, out=self.spare)
        np.minimum(self.room, self.spare, out=self.room)
        np.divide(self.room, plant.charge_efficiency, out=self.room)
        if not chargeable:
            self.room.fill(0.0)

        np.maximum(self.surplus, 0.0, out=self.spare)
        np.minimum(self.spare, self.room, out=self.sun_charge)
        np.subtract(self.spare, self.sun_charge, out=self.spilled)
        np.subtract(self.room, self.sun_charge, out=self.genset_charge)
        np.minimum(self.genset_charge, charger, out=self.genset_charge)
        np.multiply(self.genset_charge, self.running, out=self.genset_charge)

        np.subtract(self.spare, self.surplus, out=self.short)  # the deficit, for now
        np.subtract(self.stored, self.floor, out=self.spare)
        np.maximum(self.spare, 0.0, out=self.spare)
        np.minimum(self.short, self.spare, out=self.discharge)
        np.subtract(self.short, self.discharge, out=self.short)

        np.add(self.sun_charge, self.genset_charge, out=self.spare)
        np.multiply(self.spare, plant.charge_efficiency, out=self.spare)
        np.add(self.stored, self.spare, out=self.stored)
        np.subtract(self.stored, self.discharge, out=self.stored)
        return carried


class _Book:
    """Sums by month, written in place."""

    def __init__(self, months: NDArray[np.intp], winters: int, start: Hours) -> None:
        self.months = tuple(dict.fromkeys(int(m) for m in months))
        shape = (len(self.months), winters)
        (self.hours, self.starts, self.given, self.below, self.short, self.spilled) = (
            np.zeros((6, *shape))
        )  # fmt: skip
        self.lowest = np.full(shape, np.inf)
        self.day_lowest = start.copy()
        self.by_day = np.empty((2, months.size, winters))

    def add_hour(self, row: int, bank: _Bank, carried: float) -> None:
        plant = bank.plant
        np.add(self.hours[row], bank.running, out=self.hours[row])
        np.greater(bank.running, bank.ran, out=bank.flag)
        np.add(self.starts[row], bank.flag, out=self.starts[row])
        np.divide(bank.genset_charge, plant.charger_efficiency, out=bank.spare)
        np.add(self.given[row], bank.spare, out=self.given[row])
        np.add(self.given[row], carried, out=self.given[row], where=bank.running)
        np.add(self.short[row], bank.short, out=self.short[row])
        np.add(self.spilled[row], bank.spilled, out=self.spilled[row])
        np.minimum(self.day_lowest, bank.stored, out=self.day_lowest)

    def end_day(self, day: int, row: int, bank: _Bank, mark: float) -> None:
        np.sum(self.hours, axis=0, out=self.by_day[0, day])
        np.sum(self.given, axis=0, out=self.by_day[1, day])
        np.less(self.day_lowest, mark, out=bank.flag)
        np.add(self.below[row], bank.flag, out=self.below[row])
        np.minimum(self.lowest[row], self.day_lowest, out=self.lowest[row])
        np.copyto(self.day_lowest, bank.stored)


@units(
    nominal_voltage="V", capacity="A*h", chemistry="", charger_current="A", genset_power="kW",
    idle_fuel="L/h", fuel_per_energy="L/kWh", floor="", returns="",
)  # fmt: skip
def plant_of(
    nominal_voltage: float,
    capacity: float,
    chemistry: str,
    charger_current: float,
    genset_power: float,
    idle_fuel: float,
    fuel_per_energy: float,
    floor: float = 0.2,
) -> Plant:
    """A plant from what the labels say, with the usual taper and efficiency of its battery.

    Parameters
    ----------
    nominal_voltage : float
        Of the bank. [V]
    capacity : float
        At the 20 h rate, as cold as the bank is. [A*h]
    chemistry : str
        "flooded", "agm" or "lfp".
    charger_current : float
        Into the bank. [A]
    genset_power : float
        It can carry. [kW]
    idle_fuel : float
        Running unloaded. [L/h]
    fuel_per_energy : float
        On top for each kWh it gives. [L/kWh]
    floor : float
        Share of the capacity below which the inverter cuts out.

    Returns
    -------
    Plant
        Energy of the bank at its voltage half charged, charger at its absorption voltage.

    Examples
    --------
    >>> plant = plant_of(48.0, 600.0, "flooded", 60.0, 11.0, 1.1, 0.28)
    >>> round(plant.capacity, 1), round(plant.charger_power, 2)
    (29.4, 3.46)

    Source: definition; the taper is that of `charge`.
    """
    taper = choice(charge.ACCEPTANCE, chemistry, "battery chemistry")
    cells = battery.cell_count(nominal_voltage, chemistry)
    absorption = battery_care.set_points(chemistry, cells).absorption[0]
    half_charged = float(battery.rested_voltage(0.5, nominal_voltage, chemistry))
    return Plant(
        capacity * half_charged / 1000, charger_current * absorption / 1000, genset_power,
        idle_fuel, fuel_per_energy, floor, ENERGY_EFFICIENCY[chemistry], taper.tail,
        taper.time_constant,
    )  # fmt: skip


def _check(plant: Plant, rule: RunRule, load: Hours, sun: Hours, days: int) -> None:
    for name in ("capacity", "charger_power", "genset_power", "time_constant"):
        value = getattr(plant, name)
        require(value > 0, name.replace("_", " "), value, "", "more than 0")
    for name in ("charge_efficiency", "inverter_efficiency", "charger_efficiency"):
        value = getattr(plant, name)
        require(0 < value <= 1, name.replace("_", " "), value, "", "above 0, up to 1")
    require(0 <= plant.floor < 1, "floor", plant.floor, "", "0 up to 1")
    ends = f"{rule.start_below} and {rule.stop_at}"
    require(
        0 <= rule.start_below < rule.stop_at <= 1, "start below and stop at", ends, "",
        "rising, 0 to 1",
    )  # fmt: skip
    found = f"{load.size} of load, {sun.shape[0]} of sun, {days} days"
    require(load.size == sun.shape[0] == 24 * days, "hours", found, "", "alike, 24 to a day")
    require(load >= 0, "load", load, "kW", "0 or more")
    require(bool(sun.min() >= 0), "power from the sun", sun.min(), "kW", "0 or more")


@units(
    plant="", rule="", load="kW", sun="kW", months="", start_charge="", chargeable="", ledger="",
    returns="",
)  # fmt: skip
def season(
    plant: Plant,
    rule: RunRule,
    load: ArrayLike,
    sun: ArrayLike,
    months: ArrayLike,
    start_charge: float = 0.9,
    chargeable: ArrayLike = True,
    ledger: Ledger | None = None,
) -> Season:
    """Many winters stepped hour by hour under one run rule.

    Parameters
    ----------
    plant : Plant
        Bank, inverter and genset.
    rule : RunRule
        When the genset runs.
    load : array, shape (hours,)
        Of the house, the inverter's own use in it. [kW]
    sun : array, shape (hours, winters)
        From the panels into bank and house. [kW]
    months : array of int, shape (hours / 24,)
        Month of each day.
    start_charge : float
        State of charge at the first midnight, 0 to 1.
    chargeable : bool or array, shape (hours / 24,)
        False on days when the bank is too cold to be charged: lfp below 0 degC.
    ledger : Ledger
        Filled with every hour's energy when given.

    Returns
    -------
    Season
        Sums by month and winter.

    Examples
    --------
    >>> plant = Plant(30.0, 3.0, 9.0, idle_fuel=1.0, fuel_per_energy=0.3)
    >>> dark, house = np.zeros((48, 1)), np.full(48, 0.5)
    >>> result = season(plant, RunRule(), house, dark, [12, 12])
    >>> bool(result.genset_hours.sum() > 0), float(result.unserved.sum())
    (True, 0.0)

    Source: energy balance; order of service common practice, no source.
    """
    house = np.asarray(load, dtype=float)
    light = np.ascontiguousarray(sun, dtype=float)
    month = np.asarray(months, dtype=np.intp)
    _check(plant, rule, house, light, month.size)
    require(0 <= start_charge <= 1, "state of charge", start_charge, "", "between 0 and 1")
    quiet = _quiet_hours(rule.quiet)
    bank = _Bank(plant, rule, light.shape[1], start_charge)
    book = _Book(month, light.shape[1], bank.stored)
    row_of = {number: row for row, number in enumerate(book.months)}
    power = house.tolist()
    warm = np.broadcast_to(np.asarray(chargeable, dtype=bool), month.shape).tolist()
    for day, number in enumerate(month.tolist()):
        row = row_of[number]
        for clock in range(24):
            hour = 24 * day + clock
            bank.decide(quiet[clock])
            carried = bank.exchange(power[hour], light[hour], warm[day])
            book.add_hour(row, bank, carried)
            if ledger is not None:
                for name, rows in ledger.rows.items():
                    rows[hour] = getattr(bank, name)
        book.end_day(day, row, bank, rule.mark * plant.capacity)
    return _closed(plant, book, bank)


def _quiet_hours(quiet: tuple[int, int] | None) -> list[bool]:
    if quiet is None:
        return [False] * 24
    first, last = quiet
    require(0 <= first <= 24 and 0 <= last <= 24, "quiet hours", str(quiet), "", "0 to 24")
    if first < last:
        return [first <= clock < last for clock in range(24)]
    return [clock >= first or clock < last for clock in range(24)]


def _closed(plant: Plant, book: _Book, bank: _Bank) -> Season:
    return Season(
        months=book.months,
        genset_hours=book.hours,
        starts=book.starts,
        genset_energy=book.given,
        fuel=plant.idle_fuel * book.hours + plant.fuel_per_energy * book.given,
        lowest_charge=book.lowest / plant.capacity,
        days_below=book.below,
        unserved=book.short * plant.inverter_efficiency,
        spilled=book.spilled,
        hours_by_day=book.by_day[0],
        fuel_by_day=plant.idle_fuel * book.by_day[0] + plant.fuel_per_energy * book.by_day[1],
        last_charge=bank.stored / plant.capacity,
    )
