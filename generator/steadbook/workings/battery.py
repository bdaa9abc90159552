"""The battery bank: settings, what its readings tell, how long it lasts and how long it charges."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from steadbook.figures import battery, battery_care, battery_cold, charge, discharge
from steadbook.figures.tonight import NightPlant, Tomorrow, charging_current
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import BatteryBank
from steadbook.workings.plant import (
    CHEMISTRY,
    INVERTER_EFFICIENCY,
    USUAL_FLOOR,
    Plant,
    capacity_tests,
    usual_sun,
)
from steadbook.workings.winter import Outlook

SETTING_TEMPERATURES = (-10.0, 0.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0)  # degC
CHARGES = (1.0, 0.9, 0.8, 0.75, 0.7, 0.6, 0.5, 0.4, 0.3, 0.25, 0.2, 0.0)
CORRECTED_AT = (0.0, 5.0, 10.0, 15.0, 20.0, 26.7, 35.0, 45.0)  # degC, electrolyte
LOADS = (0.3, 0.5, 0.8, 1.2, 2.0, 4.0)  # kW at the sockets
AUTONOMY_FROM = (1.0, 0.8, 0.6)
CHARGE_FROM = (0.4, 0.5, 0.6, 0.7, 0.8, 0.9)
CHARGE_TO = (0.7, 0.8, 0.85, 0.9, 0.95, 1.0)
TARGET = 0.95  # the sun's aim for the evening, where the genset is to be stopped early
LEAD_ACID = ("flooded", "agm")
NEVER_BELOW = 0.0  # degC: no lithium cell is charged at or below it; the maker's limit goes first


@dataclass(frozen=True)
class Setting:
    """Charging voltages at one battery temperature. [degC, V]"""

    temperature: float
    absorption: float
    holding: float
    equalise: float | None


@dataclass(frozen=True)
class ChargeRow:
    """What belongs to one state of charge: voltage at rest, gravity, freezing point [degC]."""

    charge: float
    voltage: float
    gravity: float | None
    freezes: float | None


@dataclass(frozen=True)
class SunRow:
    """A mean day of one month: what the sun puts into the bank and what it leaves to the genset.

    `current` [A] for `hours` [h]; `night_use` [A*h] out of the bank; `by_evening`: charge at
    evening that a dawn at `start_below` reaches; `stop`: where to stop the genset and let the sun
    finish; `genset_hours` from `start_below` to there, `to_stop_at` to the run rule's own stop.
    """

    month: int
    current: float
    hours: float
    night_use: float
    by_evening: float
    stop: float
    genset_hours: float
    to_stop_at: float


@dataclass(frozen=True)
class Ageing:
    """When the bank is worn out. Years as 2029.4; None where nothing tells."""

    depth: float
    cycles_a_year: float
    wear_life: float | None
    wear_year: float | None
    tests: tuple[tuple[float, float], ...]
    test_year: float | None

    @property
    def year(self) -> float | None:
        """The earlier of the two."""
        known = [one for one in (self.wear_year, self.test_year) if one is not None]
        return min(known) if known else None


@dataclass(frozen=True)
class Battery:
    """Everything the battery pages show."""

    bank: BatteryBank
    chemistry: str
    cells: int
    voltage: float
    capacity: float
    full_gravity: float
    settings: tuple[Setting, ...]
    usual: battery_care.SetPoints
    charges: tuple[ChargeRow, ...]
    corrections: tuple[tuple[float, float], ...]
    least_charge: float | None
    autonomy: tuple[tuple[float, tuple[float, ...]], ...]
    genset_times: tuple[tuple[float, tuple[float | None, ...]], ...]
    genset_current: float | None
    evening_load: float | None
    knee: float | None
    sun: tuple[SunRow, ...]
    throughput: tuple[float, ...]
    water: tuple[float, ...]
    ageing: Ageing
    usable: float
    floor: float

    @property
    def is_lead_acid(self) -> bool:
        """Whether it holds acid, gives off hydrogen and can freeze."""
        return self.chemistry in LEAD_ACID

    @property
    def caution(self) -> str:
        """The safety message that fits its chemistry."""
        return "battery" if self.is_lead_acid else "lithium battery"

    @property
    def never_below(self) -> float | None:
        """Cells at or below it are not to be charged. [degC]"""
        return None if self.is_lead_acid else NEVER_BELOW

    @property
    def settings_differ(self) -> bool:
        """Whether the charger is to correct its voltages for temperature."""
        return len({(row.absorption, row.holding) for row in self.settings}) > 1

    @property
    def is_flooded(self) -> bool:
        """Whether it has cells to water and to measure with a hydrometer."""
        return self.chemistry == "flooded"

    @property
    def sun_of(self) -> dict[int, SunRow]:
        """The rows of the sun by month."""
        return {row.month: row for row in self.sun}


def battery_of(homestead: Homestead, plant: Plant, ahead: Outlook | None) -> Battery | None:
    """The bank of the plant, where its chemistry, voltage and capacity are entered."""
    bank = plant.bank
    if bank is None or not (bank.plate.chemistry and bank.plate.voltage and bank.plate.capacity):
        return None
    plate = bank.plate
    assert plate.chemistry and plate.voltage and plate.capacity
    chemistry = CHEMISTRY[plate.chemistry]
    voltage, capacity = plate.voltage.to("V"), plate.capacity.to("Ah")
    cells = plate.cells_in_series or battery.cell_count(voltage, chemistry)
    full = plate.full_gravity.magnitude if plate.full_gravity else 1.265
    case = plant.case
    usable = case.usable_capacity if case else capacity
    usual_floor = USUAL_FLOOR[chemistry]
    floor = case.floor if case else (plate.floor.to("%") / 100 if plate.floor else usual_floor)
    night = night_plant(plant)
    evening = evening_load(plant)
    throughput = tuple(
        1000 * ahead.discharged[ahead.months.index(month)] / voltage for month in range(1, 13)
    ) if ahead else ()  # fmt: skip
    current = charging_current(night, evening) if night and evening is not None else None
    return Battery(
        bank=bank,
        chemistry=chemistry,
        cells=cells,
        voltage=voltage,
        capacity=capacity,
        full_gravity=full,
        settings=_settings(bank, chemistry, cells),
        usual=battery_care.set_points(chemistry, cells),
        charges=_charges(chemistry, voltage, full),
        corrections=tuple(
            (at, float(battery.gravity_at_reference(1.2, at)) - 1.2) for at in CORRECTED_AT
        ),
        least_charge=_least_charge(homestead, chemistry),
        autonomy=_autonomy(voltage, usable, chemistry, floor),
        genset_times=_genset_times(current, usable, chemistry),
        genset_current=current,
        evening_load=evening,
        knee=float(charge.taper_start(current, usable, chemistry)) if current else None,
        sun=_sun_rows(plant, night, current),
        throughput=throughput,
        water=_water(bank, chemistry, cells, throughput),
        ageing=_ageing(homestead, bank, throughput, usable),
        usable=usable,
        floor=floor,
    )


def _settings(bank: BatteryBank, chemistry: str, cells: int) -> tuple[Setting, ...]:
    """The plate's own voltages where they are entered, else the middle of the usual band."""
    plate = bank.plate
    usual = battery_care.set_points(chemistry, cells)
    absorption = plate.absorption.to("V") if plate.absorption else sum(usual.absorption) / 2
    holding = plate.float.to("V") if plate.float else sum(usual.holding) / 2
    equalise = None
    if chemistry == "flooded" and usual.equalise:
        equalise = plate.equalise.to("V") if plate.equalise else sum(usual.equalise) / 2
    per_cell = usual.compensation / cells

    def at(volts: float, temperature: float) -> float:
        return float(battery_care.compensated_voltage(volts / cells, cells, temperature, per_cell))

    return tuple(
        Setting(t, at(absorption, t), at(holding, t), at(equalise, t) if equalise else None)
        for t in SETTING_TEMPERATURES
        if chemistry in LEAD_ACID or t > NEVER_BELOW
    )


def gravity_of(share: float, full: float) -> float:
    """Gravity at 80 degF; between the two published tables in proportion to the full gravity."""
    low, high = 1.265, 1.280
    part = min(1.0, max(0.0, (full - low) / (high - low)))
    first, last = (float(battery.gravity_from_charge(share, one)) for one in (low, high))
    return first + part * (last - first)


def _charges(chemistry: str, voltage: float, full: float) -> tuple[ChargeRow, ...]:
    rows = []
    for share in CHARGES:
        gravity = freezes = None
        if chemistry in LEAD_ACID:
            gravity = gravity_of(share, full)
            freezes = float(battery_cold.freezing_point(gravity))
        volts = float(battery.rested_voltage(share, voltage, chemistry))
        rows.append(ChargeRow(share, volts, gravity if chemistry == "flooded" else None, freezes))
    return tuple(rows)


def _least_charge(homestead: Homestead, chemistry: str) -> float | None:
    """Lowest charge that does not freeze on the coldest night outdoors, by the weaker table."""
    coldest = homestead.place.coldest
    if chemistry not in LEAD_ACID or coldest is None:
        return None
    found = float(battery_cold.charge_against_freezing(coldest.to("degC")))
    return found if isfinite(found) else 1.0


def _autonomy(
    voltage: float, capacity: float, chemistry: str, floor: float
) -> tuple[tuple[float, tuple[float, ...]], ...]:
    exponent = discharge.PEUKERT_EXPONENT[chemistry]
    rows = []
    for load in LOADS:
        current = 1000 * load / INVERTER_EFFICIENCY / voltage
        whole = float(discharge.discharge_hours(current, capacity, exponent))
        # below the rated current Peukert promises more than a bank holds
        whole = min(whole, capacity / current)
        rows.append((load, tuple(max(0.0, start - floor) * whole for start in AUTONOMY_FROM)))
    return tuple(rows)


def _genset_times(
    current: float | None, capacity: float, chemistry: str
) -> tuple[tuple[float, tuple[float | None, ...]], ...]:
    if not current:
        return ()
    return tuple(
        (
            start,
            tuple(
                float(charge.charge_time(start, stop, current, capacity, chemistry))
                if stop > start else None
                for stop in CHARGE_TO
            ),
        )
        for start in CHARGE_FROM
    )  # fmt: skip


# --- genset and sun together ------------------------------------------------------------------


def night_plant(plant: Plant, target: float = TARGET) -> NightPlant | None:
    """The plant as the evening's figures take it."""
    case = plant.case
    if case is None:
        return None
    cold = min(case.bank_air)
    return NightPlant(
        nominal_voltage=case.voltage,
        capacity=case.usable_capacity,
        charger_current=case.charger_current,
        genset_power=case.genset_power,
        idle_fuel=case.no_load_fuel,
        fuel_per_energy=case.fuel_per_energy,
        chemistry=case.chemistry,
        mark=case.mark,
        target=target,
        temperature=cold,
    )


def evening_load(plant: Plant) -> float | None:
    """Mean load of the house while the genset usually runs, in the darkest month. [kW]"""
    if plant.case is None or plant.climate is None:
        return None
    hours = plant.climate.run_rule.usual_hours.clock
    dark = plant.case.profile()[plant.case.darkest - 1]
    return sum(dark[hour] for hour in hours) / len(hours)


def sun_of_month(plant: Plant, month: int) -> Tomorrow:
    """The sun of a month's usual day into the bank, the load taken off."""
    from steadbook.figures.tonight import expected_sun

    case = plant.case
    assert case is not None
    return expected_sun(usual_sun(case, month), case.profile()[month - 1], case.voltage)


def night_use(plant: Plant, month: int) -> float:
    """Charge the house draws in the hours in which the sun does not cover it. [A*h]"""
    case = plant.case
    assert case is not None
    sun, load = usual_sun(case, month), case.profile()[month - 1]
    short = sum(
        max(0.0, draw / INVERTER_EFFICIENCY - power) for draw, power in zip(load, sun, strict=True)
    )
    return 1000 * short / case.voltage


def _sun_rows(plant: Plant, night: NightPlant | None, genset: float | None) -> tuple[SunRow, ...]:
    case = plant.case
    if case is None or night is None or not genset:
        return ()
    bank = case.usable_capacity, case.chemistry
    rows = []
    for month in range(1, 13):
        sun = sun_of_month(plant, month)
        use = night_use(plant, month)
        by_evening = case.start_below
        if sun.current > 0:
            by_evening = float(charge.charge_after(case.start_below, sun.hours, sun.current, *bank))
        # from the genset's evening stop to dawn: what the night takes of it, half after the run
        stop = float(charge.break_point(TARGET, use, sun.current, sun.hours, genset, *bank))
        stop = min(1.0, max(stop, case.start_below))
        hours = float(charge.charge_time(case.start_below, stop, genset, *bank))
        rule = float(charge.charge_time(case.start_below, case.stop_at, genset, *bank))
        rows.append(SunRow(month, sun.current, sun.hours, use, by_evening, stop, hours, rule))
    return tuple(rows)


# --- care -------------------------------------------------------------------------------------


def _water(
    bank: BatteryBank, chemistry: str, cells: int, throughput: tuple[float, ...]
) -> tuple[float, ...]:
    """Water of each month. [L]"""
    if chemistry != "flooded" or not throughput:
        return ()
    share = bank.plate.overcharge.to("%") / 100 if bank.plate.overcharge else 0.18
    from steadbook.figures.usage import MONTH_LENGTHS

    return tuple(
        float(battery_care.water_used(use * days * share, cells))
        for use, days in zip(throughput, MONTH_LENGTHS, strict=True)
    )


def _ageing(
    homestead: Homestead, bank: BatteryBank, throughput: tuple[float, ...], usable: float
) -> Ageing:
    tests = tuple(capacity_tests(homestead, bank))
    test_year = None
    if len(tests) > 1 and tests[-1][0] > tests[0][0]:
        year = battery_care.replacement_year([t[0] for t in tests], [t[1] for t in tests])
        test_year = year if isfinite(year) else None
    depth = cycles = 0.0
    life = wear_year = None
    plate = bank.plate
    if throughput:
        from steadbook.figures.usage import MONTH_LENGTHS

        rated = plate.capacity.to("Ah") if plate.capacity else usable
        depths = [min(1.0, use / rated) for use in throughput]
        depth = sum(d * n for d, n in zip(depths, MONTH_LENGTHS, strict=True)) / 365.25
        cycles = 365.25
        if plate.cycles and depth > 0:
            table = sorted((key.to("%") / 100, count) for key, count in plate.cycles.items())
            to_end = battery_care.cycle_life(depths, [t[0] for t in table], [t[1] for t in table])
            shelf = plate.shelf_life
            years = (shelf.months / 12 + shelf.days / 365.25) if shelf else 100.0
            life = battery_care.service_life(list(MONTH_LENGTHS), to_end, years)
            if bank.installed:
                begun = bank.installed.year + (bank.installed.timetuple().tm_yday - 1) / 365.25
                wear_year = begun + life
    return Ageing(depth, cycles, life, wear_year, tests, test_year)
