"""The plant as the winters need it: plain numbers out of the inventory, or what is missing."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from steadbook.figures import clearness, cloud, consumption, engine, load
from steadbook.figures.battery_cold import capacity_left
from steadbook.inventory.climate import Climate, HeavyLoad
from steadbook.inventory.fields import MONTHS
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Array, BatteryBank, Genset, Inverter, Machine
from steadbook.workings.forecast import charging_genset
from steadbook.workings.winter import CAPACITY_SPEC

INVERTER_EFFICIENCY = 0.90  # common practice, no source
DAYS_DRAWN = 60  # days of a month's distribution that stand for all of them
MONTH = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
CHEMISTRY = {"flooded": "flooded", "AGM": "agm", "gel": "agm", "LFP": "lfp"}
DARK_MONTHS = 4  # whose bank temperature counts: the darkest, when the genset is needed
USUAL_FLOOR = {"flooded": 0.3, "agm": 0.3, "lfp": 0.1}

Table = tuple[tuple[float, ...], ...]
M = TypeVar("M", bound=Machine)


@dataclass(frozen=True)
class Member:
    """A load with its own pattern: its power in each month and hour of a day it is used."""

    name: str
    profile: Table
    days_a_week: int


@dataclass(frozen=True)
class Case:
    """All numbers behind a run of winters, in SI-ish units; equal cases give equal winters.

    Tables hold January first: `sun` on level ground [kWh/m²], `air` and `bank_air` [degC],
    `snow_days` [d], `ground` 0 to 1. `arrays`: (power [kW], tilt, azimuth [deg]). `capacity` of
    the bank when warm and new [A*h], `tested` share of it at the last test, `cold` share left in
    the cold months. `no_load_fuel` [L/h] and `fuel_per_energy` [L/kWh] are 0 where the genset's
    use is not entered. `house` [kW], shape (12, 24), is without the loads.
    """

    latitude: float
    sun: tuple[float, ...]
    air: tuple[float, ...]
    snow_days: tuple[float, ...]
    ground: tuple[float, ...]
    bank_air: tuple[float, ...]
    arrays: tuple[tuple[float, float, float], ...]
    voltage: float
    capacity: float
    tested: float
    cold: float
    chemistry: str
    floor: float
    charger_current: float
    genset_power: float
    no_load_fuel: float
    fuel_per_energy: float
    start_below: float
    stop_at: float
    quiet: tuple[int, int] | None
    break_quiet_below: float
    mark: float
    house: Table
    loads: tuple[Member, ...]
    extra_load: float = 0.0
    first_day: tuple[int, int] = (7, 1)
    days: int = 365
    start_charge: float = 0.9

    @property
    def usable_capacity(self) -> float:
        """As cold and as old as the bank is. [A*h]"""
        return self.capacity * self.tested * self.cold

    @property
    def darkest(self) -> int:
        """The month of least light, 1 to 12."""
        return 1 + min(range(12), key=self.sun.__getitem__)

    def profile(self) -> Table:
        """Mean load of the house with everything in it. [kW], shape (12, 24)"""
        rows = [list(row) for row in self.house]
        for one in self.loads:
            for month in range(12):
                for hour in range(24):
                    rows[month][hour] += one.profile[month][hour] * one.days_a_week / 7
        return tuple(tuple(power + self.extra_load for power in row) for row in rows)

    def daily_load(self) -> tuple[float, ...]:
        """Energy of a mean day of each month. [kW*h]"""
        return tuple(sum(row) for row in self.profile())


@dataclass(frozen=True)
class Plant:
    """The machines of the plant and its numbers, or what is missing for them."""

    climate: Climate | None
    genset: Genset | None
    bank: BatteryBank | None
    inverter: Inverter | None
    arrays: tuple[Array, ...]
    case: Case | None
    missing: tuple[str, ...]

    @property
    def fuel_is_known(self) -> bool:
        """Whether the genset's use of fuel is entered."""
        return self.case is not None and self.case.fuel_per_energy > 0


def plant_of(homestead: Homestead) -> Plant:
    """The plant of a homestead."""
    climate = homestead.climate
    names = climate.plant if climate else None
    machines = homestead.machines
    genset = charging_genset(homestead)
    bank = _chosen(machines, BatteryBank, names.bank if names else None)
    inverter = _chosen(machines, Inverter, names.inverter if names else None)
    arrays = tuple(
        one for one in machines.values()
        if isinstance(one, Array) and one.plate.power and one.plate.tilt and one.plate.azimuth
    )  # fmt: skip
    missing = _missing(climate, genset, bank, inverter)
    case = None
    if not missing:
        assert climate and genset and bank and inverter
        case = _case(homestead, climate, genset, bank, inverter, arrays)
    return Plant(climate, genset, bank, inverter, arrays, case, tuple(missing))


def _chosen(machines: dict[str, Machine], kind: type[M], name: str | None) -> M | None:
    if name is not None:
        found = machines.get(name)
        return found if isinstance(found, kind) else None
    return next((m for m in machines.values() if isinstance(m, kind) and not m.spare), None)


def _missing(
    climate: Climate | None,
    genset: Genset | None,
    bank: BatteryBank | None,
    inverter: Inverter | None,
) -> list[str]:
    """What must be entered before the winters can be made, in words."""
    missing = []
    if climate is None:
        missing.append("site_data/climate.yaml with the light by month, the load and the run rule")
    if genset is None or genset.plate.power is None:
        missing.append("a genset with its rated power")
    if bank is None or not (bank.plate.chemistry and bank.plate.voltage and bank.plate.capacity):
        missing.append("a battery bank with chemistry, voltage and capacity")
    if inverter is None or charge_current(inverter) is None:
        missing.append("an inverter with its charge current from the genset")
    return missing


def charge_current(inverter: Inverter) -> float | None:
    """What the genset's charger puts into the bank, as it is set. [A]"""
    limit = inverter.charge_limit or inverter.plate.charge_current
    return limit.to("A") if limit else None


def bank_capacity(bank: BatteryBank, tests: list[tuple[float, float]]) -> float:
    """Share of the rated capacity found at the last test, 1 where none is in the log."""
    return tests[-1][1] if tests else 1.0


def capacity_tests(homestead: Homestead, bank: BatteryBank) -> list[tuple[float, float]]:
    """(year, share of the rating) of each capacity test in the log: `spec: capacity, value: 90 %`."""
    found = []
    for one in homestead.log.measurements:
        if one.machine == bank.id and one.spec == CAPACITY_SPEC:
            text = one.value.replace("%", "").strip()
            try:
                share = float(text) / 100
            except ValueError:
                continue
            found.append((one.date.year + (one.date.timetuple().tm_yday - 1) / 365.25, share))
    return found


def _case(
    homestead: Homestead,
    climate: Climate,
    genset: Genset,
    bank: BatteryBank,
    inverter: Inverter,
    arrays: tuple[Array, ...],
) -> Case:
    months = [climate.months[month] for month in MONTHS]  # type: ignore[index]
    rule = climate.run_rule
    plate = bank.plate
    assert plate.chemistry and plate.voltage and plate.capacity and genset.plate.power
    chemistry = CHEMISTRY[plate.chemistry]
    bank_air = tuple(month.bank.to("degC") for month in months)
    light = tuple(month.sun.to("kWh/m2") for month in months)
    dark = sorted(range(12), key=light.__getitem__)[:DARK_MONTHS]
    coldest = sum(bank_air[month] for month in dark) / len(dark)
    current = charge_current(inverter)
    assert current is not None
    no_load, per_energy = _fuel(genset)
    share = rule.start_below.to("%") / 100
    return Case(
        latitude=homestead.place.latitude,
        sun=light,
        air=tuple(month.air.to("degC") for month in months),
        snow_days=tuple(float(month.snow_days) for month in months),
        ground=tuple(month.ground.to("%") / 100 for month in months),
        bank_air=bank_air,
        arrays=tuple(_aim(array) for array in arrays),
        voltage=plate.voltage.to("V"),
        capacity=plate.capacity.to("Ah"),
        tested=bank_capacity(bank, capacity_tests(homestead, bank)),
        cold=capacity_left_at(coldest, chemistry),
        chemistry=chemistry,
        floor=plate.floor.to("%") / 100 if plate.floor else USUAL_FLOOR[chemistry],
        charger_current=current,
        genset_power=_power_here(homestead, genset),
        no_load_fuel=no_load,
        fuel_per_energy=per_energy,
        start_below=share,
        stop_at=rule.stop_at.to("%") / 100,
        quiet=rule.quiet.pair if rule.quiet else None,
        break_quiet_below=rule.break_quiet_below.to("%") / 100,
        mark=rule.mark.to("%") / 100,
        house=_house(climate),
        loads=tuple(member(one, climate) for one in climate.heavy_loads.values()),
        first_day=(7, 1) if homestead.place.latitude >= 0 else (1, 1),
    )


def _aim(array: Array) -> tuple[float, float, float]:
    plate = array.plate
    assert plate.power and plate.tilt and plate.azimuth
    return plate.power.to("kW"), plate.tilt.to("deg"), plate.azimuth.to("deg")


def _power_here(homestead: Homestead, genset: Genset) -> float:
    """Rated power less the loss by height; winter air costs none. [kW]"""
    plate = genset.plate
    assert plate.power
    base = plate.rated_elevation.to("m") if plate.rated_elevation else 0.0
    height = homestead.place.elevation.to("m")
    return plate.power.to("kW") * float(engine.rule_of_thumb_share(height, 0.0, base_height=base))


def _fuel(genset: Genset) -> tuple[float, float]:
    """Fuel at no load [L/h] and for each kWh [L/kWh]; nothing where the plate does not tell."""
    plate = genset.plate
    if not (plate.power and plate.fuel_at_half_load and plate.fuel_at_full_load):
        return 0.0, 0.0
    line = consumption.load_line(
        plate.power.to("kW"), _litres(plate.fuel_at_half_load), _litres(plate.fuel_at_full_load)
    )
    return line.no_load_rate, line.rate_per_kilowatt


def _litres(rate: object) -> float:
    return float(rate.to("L/h"))  # type: ignore[attr-defined]


def _house(climate: Climate) -> Table:
    season_of = {month: one for one in climate.house.values() for month in one.months}
    rows = []
    for month in MONTHS:
        row = [0.0] * 24
        for span, power in season_of[month].power.items():  # type: ignore[index]
            for hour in span.clock:
                row[hour] = power.to("kW")
        rows.append(tuple(row))
    return tuple(rows)


def member(one: HeavyLoad, climate: Climate) -> Member:
    """A heavy load as the winters take it; in months in which it waits it runs with the genset."""
    power, daily = one.power.to("kW"), one.daily.to("h")
    used = tuple(
        number for number, month in enumerate(MONTHS, 1) if not one.months or month in one.months
    )
    waits = tuple(number for number, month in enumerate(MONTHS, 1) if month in one.waits_in)
    usual = climate.run_rule.usual_hours.pair
    own = load.appliance_profile(power, one.hours.pair, daily, used)
    late = load.moved_to_genset_hours(own, own, usual)
    rows = [(late if number in waits else own)[number - 1].tolist() for number in range(1, 13)]
    return Member(one.name, tuple(tuple(row) for row in rows), one.days_a_week)


def capacity_left_at(temperature: float, chemistry: str) -> float:
    """Share of the capacity left in the cold; lithium iron phosphate is taken as it is. [degC]"""
    return 1.0 if chemistry == "lfp" else float(capacity_left(temperature))


def toward_noon_sun(latitude: float) -> float:
    """Where the noon sun stands outside the tropics, from north eastward. [deg] Source: definition."""
    return 180.0 if latitude >= 0 else 0.0


def drawn_days(case: Case, month: int) -> NDArray[np.float64]:
    """Clearness of days that stand for all of a month, from the dullest to the clearest."""
    mean = float(clearness.monthly_clearness(case.sun, case.latitude)[month - 1])
    rank = (np.arange(DAYS_DRAWN) + 0.5) / DAYS_DRAWN
    days: NDArray[np.float64] = cloud.clearness_of_rank(rank, mean)
    return days


@lru_cache(maxsize=512)
def usual_sun(case: Case, month: int, array: int | None = None) -> tuple[float, ...]:
    """Power of all arrays (or one) in each hour of a month's day: the mean of its clear and dull
    days, those under snow in it. [kW]

    A day of mean clearness would give less than the mean of the days: beam comes on clear ones.
    """
    from steadbook.figures import panels, sun
    from steadbook.figures.usage import MONTH_LENGTHS

    aims = case.arrays if array is None else case.arrays[array : array + 1]
    if not aims:
        return (0.0,) * 24
    m = month - 1
    days = drawn_days(case, month)
    power = panels.hourly_output(
        [panels.Array(*aim) for aim in aims], case.latitude, sun.MEAN_DAYS[m], days, case.air[m],
        case.ground[m],
    ).mean(axis=0)  # fmt: skip
    bare = 1.0 - case.snow_days[m] / MONTH_LENGTHS[m]
    return tuple(float(one) * bare for one in power)
