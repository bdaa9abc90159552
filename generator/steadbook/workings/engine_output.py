"""What each genset gives here, hot and cold: for the house, the charger and the start of motors."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations

from steadbook import units
from steadbook.figures import atmosphere, engine, loading
from steadbook.inventory.explain import listing
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import BatteryBank, Genset, Inverter, Load, WellPump
from steadbook.workings.figure import Figure, Input

Electric = Load | WellPump
THUMB_RULES = (3.0, 3.5)  # % for 1,000 ft
STEADY = {"liquid": 0.80, "air": 0.65}
"""Share of what is left at which a set may run for hours. Source: Purdue University extension
AE-111: 80 % liquid cooled, 65 % small air cooled."""
CHARGER_EFFICIENCY = 0.90  # common practice, no source
COLDEST_OF_THE_STANDARD = -40.0  # degC
SMALLEST_LOAD = 0.3  # kW; less does not decide what runs together
MOST_LOADS = 6


@dataclass(frozen=True)
class OutputRow:
    """At one air temperature: the share of the plate by each rule, the lowest of them, and uses."""

    name: str
    air: float
    thumb: tuple[float, ...]
    standard: float
    power: float
    steady: float
    charging: float
    current: float | None

    @property
    def share(self) -> float:
        """What is reckoned with: the least of the rules, never more than the plate says."""
        return min(1.0, self.standard, *self.thumb)


@dataclass(frozen=True)
class TogetherRow:
    """Loads at once, the house among them: sum and peak of the hardest start last [kW], the
    verdict, and what is left for the charger meanwhile [kW, A]. No peak is known where a starting
    surge is not."""

    names: tuple[str, ...]
    running: float
    peak: float | None
    verdict: str
    left: float
    current: float | None


@dataclass(frozen=True)
class Charger:
    """What turns the genset's power into charge."""

    machine: Inverter
    limit: float  # A
    voltage: float  # V
    demand: float  # kW at its input, at the limit


@dataclass(frozen=True)
class EngineOutput:
    """One genset at this place."""

    genset: Genset
    rating: float
    house_load: float
    steady_share: float
    charger: Charger | None
    rows: tuple[OutputRow, ...]
    together: tuple[TogetherRow, ...]
    unfit: tuple[str, ...]
    surge: float

    @property
    def worst(self) -> OutputRow:
        """The row with the least power."""
        return min(self.rows, key=lambda row: row.power)


def engine_outputs(homestead: Homestead) -> list[EngineOutput]:
    """Every genset whose power is known."""
    return [
        _output(homestead, one)
        for one in homestead.machines.values()
        if isinstance(one, Genset) and one.plate.power is not None and one.plate.power.magnitude > 0
    ]


def charger_of(homestead: Homestead) -> Charger | None:
    """The first inverter-charger and the bank it charges."""
    machines = homestead.machines.values()
    inverter = next((one for one in machines if isinstance(one, Inverter) and not one.spare), None)
    bank = next((one for one in machines if isinstance(one, BatteryBank) and not one.spare), None)
    if inverter is None or bank is None:
        return None
    limits = [one.to("A") for one in (inverter.plate.charge_current, inverter.charge_limit) if one]
    plate = bank.plate
    if not limits or (plate.absorption is None and plate.voltage is None):
        return None
    voltage = (
        plate.absorption.to("V") if plate.absorption else 1.2 * plate.voltage.to("V")  # type: ignore[union-attr]
    )
    limit = min(limits)
    return Charger(inverter, limit, voltage, limit * voltage / 1000 / CHARGER_EFFICIENCY)


def _output(homestead: Homestead, genset: Genset) -> EngineOutput:
    assert genset.plate.power is not None
    rating = genset.plate.power.to("kW")
    house = genset.house_load.to("kW") if genset.house_load else 0.0
    steady = STEADY[genset.plate.cooling or "air"]
    charger = charger_of(homestead)
    rows = tuple(
        _row(homestead, genset, name, air, (rating, house, steady), charger)
        for name, air in _temperatures(homestead, genset)
    )
    least = min(row.power for row in rows)
    surge = genset.plate.surge.to("kW") / rating if genset.plate.surge else 1.0
    loads = _loads(homestead)
    made = EngineOutput(
        genset,
        rating,
        house,
        steady,
        charger,
        rows,
        (),
        tuple(one.name for one in loads if not _fits(genset, one)),
        max(least, least * surge),
    )
    fitting = [one for one in loads if _fits(genset, one)]
    return replace(made, together=tuple(_together(made, fitting)))


def _temperatures(homestead: Homestead, genset: Genset) -> list[tuple[str, float]]:
    place, rated = homestead.place, genset.plate.rated_temperature
    found = [("coldest", place.coldest), ("rating", rated), ("hottest", place.hottest)]
    rows = [(name, one.to("degC")) for name, one in found if one is not None]
    return sorted(rows, key=lambda row: row[1]) or [("rating", engine.REFERENCE_TEMPERATURE)]


def _row(
    homestead: Homestead,
    genset: Genset,
    name: str,
    air: float,
    power: tuple[float, float, float],
    charger: Charger | None,
) -> OutputRow:
    rating, house, steady = power
    thumb = tuple(thumb_share(homestead, genset, air, percent) for percent in THUMB_RULES)
    standard = standard_share(homestead, genset, air)
    share = max(min(1.0, standard, *thumb), 1e-9)
    able = rating * share
    left = 0.0
    if house <= able:
        left = float(loading.charging_power(rating, share, house, steady))
    current = _current(charger, left)
    return OutputRow(name, air, thumb, standard, able, able * steady, left, current)


def thumb_share(homestead: Homestead, genset: Genset, air: float, percent: float) -> float:
    """Share left by so many percent for 1,000 ft above the rating's elevation, 1 % for 10 F."""
    plate = genset.plate
    base = plate.rated_elevation.to("m") if plate.rated_elevation else 0.0
    warm = plate.rated_temperature.to("degC") if plate.rated_temperature else None
    return float(
        engine.rule_of_thumb_share(
            homestead.place.elevation.to("m"),
            air,
            height_loss=percent * engine.PER_THOUSAND_FEET,
            base_height=base,
            base_temperature=engine.RATING_TEMPERATURE if warm is None else warm,
        )
    )


def standard_share(homestead: Homestead, genset: Genset, air: float) -> float:
    """Share left after ISO 3046-1, against the conditions of the plate's rating."""
    plate = genset.plate
    kind = engine.ENGINE_KINDS[
        "diesel limited by air" if plate.fuel == "diesel" else "spark ignition"
    ]
    pressure = (
        float(atmosphere.pressure(plate.rated_elevation.to("m")))
        if plate.rated_elevation
        else engine.REFERENCE_PRESSURE
    )
    warm = (
        plate.rated_temperature.to("degC")
        if plate.rated_temperature
        else engine.REFERENCE_TEMPERATURE
    )
    here = float(atmosphere.pressure(homestead.place.elevation.to("m")))
    shares = [
        float(
            engine.adjusted_power_share(
                engine.indicated_power_ratio(at, max(degrees, COLDEST_OF_THE_STANDARD), kind)
            )
        )
        for at, degrees in ((here, air), (pressure, warm))
    ]
    return shares[0] / shares[1]


def _loads(homestead: Homestead) -> list[Electric]:
    """The loads that decide what runs together, the hardest to start first."""
    found = [
        one
        for one in homestead.machines.values()
        if isinstance(one, Load | WellPump) and not one.spare and _running(one) >= SMALLEST_LOAD
    ]
    return sorted(found, key=lambda one: -_starting(one))[:MOST_LOADS]


def _together(made: EngineOutput, loads: list[Electric]) -> list[TogetherRow]:
    """Which loads run at once on the day with the least power."""
    sizes = (1, 2, 3) if len(loads) <= 4 else (1, 2)
    return [_judged(made, group) for size in sizes for group in combinations(loads, size)]


def _judged(made: EngineOutput, group: tuple[Electric, ...]) -> TogetherRow:
    running = [made.house_load, *(_running(one) for one in group)]
    starting = [made.house_load, *(_starting(one) for one in group)]
    worst, total = made.worst, sum(running)
    if loading.can_run_together(running, starting, worst.power, made.surge):
        verdict = "yes" if total <= worst.steady else "for a short time"
    elif total > worst.power:
        verdict = "no: too much running"
    else:
        verdict = "no: the start is too hard"
    unknown = [one.name for one in group if one.plate.starting is None]
    if unknown and not verdict.startswith("no"):
        of = (
            "its starting surge" if len(group) == 1 else f"the starting surge of {listing(unknown)}"
        )
        verdict = f"not known without {of}"
    left = 0.0 if verdict.startswith("no") else max(worst.steady - total, 0.0)
    return TogetherRow(
        tuple(one.name for one in group),
        total,
        None if unknown else float(loading.peak_load(running, starting)),
        verdict,
        left,
        _current(made.charger, left),
    )


def _current(charger: Charger | None, power: float) -> float | None:
    if charger is None:
        return None
    return float(loading.charge_current(power, charger.voltage, charger.limit, CHARGER_EFFICIENCY))


def _running(load: Electric) -> float:
    return load.plate.power.to("kW") if load.plate.power else 0.0


def _starting(load: Electric) -> float:
    return max(load.plate.starting.to("kW") if load.plate.starting else 0.0, _running(load))


def _fits(genset: Genset, load: Electric) -> bool:
    """A load for 240 V does not run on a genset that gives 120 V alone."""
    gives, wants = genset.plate.voltage, load.plate.voltage
    return not (gives and wants and "240" in str(wants) and "240" not in gives)


def output_figures(homestead: Homestead, found: list[EngineOutput]) -> list[Figure]:
    """Power at the least favourable temperature, and what of it charges."""
    return [
        figure
        for one in found
        for figure in (_power_figure(homestead, one), _charging_figure(homestead, one))
    ]


def _power_figure(homestead: Homestead, one: EngineOutput) -> Figure:
    prefer, worst = homestead.place.units, one.worst
    value = units.show_value(worst.power, "kW", prefer)
    where = homestead.files.where
    shares = " and ".join(
        f"{share:.3f} by {percent:g} % for {units.show_value(1000, 'ft', prefer, digits=2)}"
        for percent, share in zip(THUMB_RULES, worst.thumb, strict=True)
    )
    return Figure(
        key=f"{one.genset.id}.power-here",
        title=f"{one.genset.name}: power here, at the least of the temperatures",
        value=value,
        working=(
            f"At {units.show(homestead.place.elevation, prefer)} and "
            f"{units.show_value(worst.air, 'degC', prefer)}: {shares} and 1 % for {units.show_value(10 / 1.8, 'delta degC', prefer, digits=2)}; "
            f"{worst.standard:.3f} after ISO 3046-1.",
            f"The least, {worst.share:.3f}, x {one.rating:g} kW = {value}.",
        ),
        inputs=(
            Input("rated power", f"{one.rating:g} kW", where(one.genset, "plate", "power")),
            Input("elevation", homestead.place.elevation.text, where(homestead.place, "elevation")),
        ),
        source="rules of thumb: common practice, no source; ISO 3046-1, from memory, check",
        caution="The maker's own table for this engine comes first.",
    )


def _charging_figure(homestead: Homestead, one: EngineOutput) -> Figure:
    prefer, worst = homestead.place.units, one.worst
    value = units.show_value(worst.charging, "kW", prefer)
    steps = [
        f"{worst.power:.2f} kW x {one.steady_share:g} for hours on end - {one.house_load:g} kW of "
        f"the house = {value}."
    ]
    charger = one.charger
    if charger is not None and worst.current is not None:
        steps.append(
            f"{worst.charging:.2f} kW x {CHARGER_EFFICIENCY:g} / {charger.voltage:g} V = "
            f"{worst.charging * CHARGER_EFFICIENCY * 1000 / charger.voltage:.0f} A; the charger is "
            f"limited to {charger.limit:g} A: {worst.current:.0f} A."
        )
    return Figure(
        key=f"{one.genset.id}.charging",
        title=f"{one.genset.name}: power left for charging",
        value=value,
        working=tuple(steps),
        inputs=(
            Input(
                "house load",
                f"{one.house_load:g} kW",
                homestead.files.where(one.genset, "house_load") if one.genset.house_load else "",
            ),
        ),
        source="steady loading of 80 % liquid cooled, 65 % small air cooled: Purdue University "
        "extension AE-111; charger efficiency of 0.90: common practice, no source",
    )
