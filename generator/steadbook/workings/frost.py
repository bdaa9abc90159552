"""Frost: how deep it goes here, and how long a water line holds out."""

from __future__ import annotations

import calendar
from collections.abc import Iterator
from dataclasses import dataclass

from steadbook.figures import freeze, frost_depth, pumping
from steadbook.inventory.fields import MONTHS
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Load, Machine, Place, WaterLine
from steadbook.units import Quantity
from steadbook.workings.figure import Figure, Input
from steadbook.workings.known import Facts, Known

HARD_WINTER = 1.5
"""Freezing index of a hard winter over that of a usual one. Source: common practice, no source."""
SOILS = {
    "sand or gravel": (1920.0, 0.05, 1.87),
    "silt or clay": (1500.0, 0.20, 1.39),
}
"""Dry density [kg/m3], water over dry weight, conductivity [W/(m*K)], mean of frozen and thawed.
Source: M. S. Kersten (1949), his two formulas at these densities, from memory, check."""
INSULATION = 0.04
"""Of foam or fibre around a pipe [W/(m*K)]. Source: handbook value."""
WATER_TEMPERATURE, HOLD_AT = 5.0, 4.0
"""Of well water in the line at first, and to hold with heat tape [degC]."""
AIRS = (-5.0, -10.0, -20.0, -30.0)
"""Air temperatures of the table of freezing times [degC]."""
STILL_AIR = 10.0
"""Heat passing from a surface to still air [W/(m2*K)]. Source: handbook value."""


@dataclass(frozen=True)
class Winter:
    """The usual winter of the place, from the mean of each month."""

    index: float  # K*d
    season: float  # d
    mean_annual: float  # degC


def usual_winter(place: Place) -> Winter | None:
    """The winter from twelve monthly means; None where they are not all given."""
    if len(place.month_means) < len(MONTHS):
        return None
    days = [calendar.monthrange(2026, number)[1] for number in range(1, 13)]
    means = [mean.to("degC") for mean in in_order(place)]
    return Winter(
        index=sum(length * max(-mean, 0.0) for length, mean in zip(days, means, strict=True)),
        season=float(sum(length for length, mean in zip(days, means, strict=True) if mean < 0)),
        mean_annual=sum(length * mean for length, mean in zip(days, means, strict=True)) / 365,
    )


def in_order(place: Place) -> list[Quantity]:
    """The means from January to December."""
    means = place.month_means
    return [mean for month in MONTHS for name, mean in means.items() if name == month]


def means_input(homestead: Homestead) -> Input:
    """The monthly means as an input."""
    where = homestead.files.where(homestead.place, "month_means")
    return Input("mean temperature of each month", "12 months", where)


def degree_days_words(facts: Facts, kelvin_days: float) -> str:
    """Degree days in both systems."""
    return facts.both(f"{kelvin_days * 1.8:,.0f} °F·days", f"{kelvin_days:,.0f} °C·days")


def line_figures(facts: Facts, machine: WaterLine) -> Iterator[Figure]:
    """Gravity flow, depth to lie at, heat tape and time to freezing of a water line."""
    yield from _gravity(facts, machine)
    yield from _depth(facts, machine)
    yield from _exposed(facts, machine)


def _gravity(facts: Facts, machine: WaterLine) -> Iterator[Figure]:
    fall, length, bore = facts.plate("fall"), facts.plate("length"), facts.plate("bore")
    if fall is None:
        return
    still = float(pumping.water_pressure(fall.to("m")))
    yield facts.figure(
        "pressure", "pressure at its foot, no tap open", facts.show(still, "kPa"),
        (f"{fall.quantity.text} of water = {facts.show(still, 'kPa')}.",), fall,
        source="definition",
    )  # fmt: skip
    if not (length and bore):
        return
    wanted = facts.plate("outlet_pressure")
    kept = wanted.to("kPa") / (pumping.WATER_DENSITY * pumping.GRAVITY / 1000) if wanted else 0.0
    left = fall.to("m") - kept
    if left <= 0:
        return
    pipe = machine.plate.pipe or "old steel"
    coefficient = pumping.ROUGHNESS_COEFFICIENT[pipe]
    flow = float(pumping.gravity_flow(left, length.to("m"), bore.to("mm"), coefficient=coefficient))
    value = facts.show(flow, "L/min", kind="flow")
    yield facts.figure(
        "flow", f"flow with {wanted.quantity.text} left" if wanted else "flow at an open end", value,
        (
            f"{facts.show(left, 'm', kind='length')} of fall lost in {length.quantity.text} of "
            f"{pipe} pipe, {bore.quantity.text} wide inside (C = {coefficient}): {value}.",
        ),
        fall, length, bore, wanted, source="Hazen-Williams",
        caution="Far less where air stands at a high spot: vent it.",
    )  # fmt: skip


def _depth(facts: Facts, machine: WaterLine) -> Iterator[Figure]:
    winter, soil = usual_winter(facts.homestead.place), machine.plate.soil
    if winter is None or soil is None or winter.index <= 0 or winter.mean_annual < 0:
        return
    surface = machine.plate.surface or "bare soil"
    density, moisture, conductivity = SOILS[soil]
    usual, hard = (
        float(
            frost_depth.frost_depth(
                winter.index * times, winter.season, winter.mean_annual, density, moisture,
                conductivity, freeze.SURFACE_FACTOR[surface],
            )
        )
        for times in (1.0, HARD_WINTER)
    )  # fmt: skip
    yield facts.figure(
        "frost", "frost in a usual and in a hard winter",
        f"{facts.show(usual, 'm', kind='length', digits=2)} and "
        f"{facts.show(hard, 'm', kind='length', digits=2)}",
        (
            f"Months below freezing: {winter.season:.0f} days, "
            f"{degree_days_words(facts, winter.index)} below freezing; mean of the year "
            f"{facts.show(winter.mean_annual, 'degC', kind='temperature')}.",
            f"Under {surface} ({freeze.SURFACE_FACTOR[surface]:g} of that), in {soil}; the hard "
            f"winter has {HARD_WINTER:g} times as much.",
        ),
        means_input(facts.homestead), facts.given("soil", soil, "plate", "soil"),
        facts.given("surface", surface, "plate"),
        source="TM 5-852-6 (modified Berggren); hard winter: common practice, no source",
        caution="Depths measured in the neighbourhood and the local code go first. Ground kept "
        "clear of snow, as a drive, freezes far deeper.",
    )  # fmt: skip
    wanted = float(frost_depth.bury_depth(hard))
    buried = facts.plate("buried")
    verdict = ""
    if buried:
        enough = buried.to("m") >= wanted
        verdict = f" It lies {buried.quantity.text} deep: {'enough' if enough else 'NOT ENOUGH'}."
    value = facts.show(wanted, "m", kind="length", digits=2)
    yield facts.figure(
        "bury", "depth that its top needs below the ground",
        f"{value}; it lies {buried.quantity.text} deep" if buried else value,
        (
            f"{facts.show(hard, 'm', kind='length', digits=2)} + "
            f"{facts.show(frost_depth.BELOW_FROST, 'm', kind='length', digits=2)} = "
            f"{value}.{verdict}",
        ),
        buried, source="common practice, no source; the local code decides",
        caution="Have gas and power lines located before digging; slope or shore a trench deeper "
        "than 5 ft (29 CFR 1926.652).",
    )  # fmt: skip


def _wrapped(facts: Facts) -> tuple[Known, Known, Known, float] | None:
    """Bore, outside, insulation, and the outside of the insulation [mm]."""
    bore, outside, wrap = (facts.plate(key) for key in ("bore", "outside", "insulation"))
    if not (bore and outside and wrap):
        return None
    return bore, outside, wrap, outside.to("mm") + 2 * wrap.to("mm")


def time_to_freezing(facts: Facts, air: float) -> float | None:
    """Hours until standing water in a wrapped line reaches the freezing point [h]."""
    found = _wrapped(facts)
    if found is None or air >= 0:
        return None
    bore, outside, _, wrapped = found
    return float(
        freeze.pipe_time_to_freezing(
            bore.to("mm"), outside.to("mm"), wrapped, INSULATION, WATER_TEMPERATURE, air, STILL_AIR
        )
    )


def _exposed(facts: Facts, machine: WaterLine) -> Iterator[Figure]:
    coldest = facts.homestead.place.coldest
    found = _wrapped(facts)
    if found is None or coldest is None or coldest.to("degC") >= 0:
        return
    bore, outside, wrap, wrapped = found
    where = facts.homestead.files.where(facts.homestead.place, "coldest")
    cold = Known("coldest", coldest, where)
    air = coldest.to("degC")
    hours = time_to_freezing(facts, air)
    assert hours is not None
    yield facts.figure(
        "freezes", f"standing water at the freezing point, at {coldest.text}",
        f"{hours * 60:.0f} min" if hours < 2 else f"{hours:.1f} h",
        (
            f"{bore.quantity.text} of water at {facts.show(WATER_TEMPERATURE, 'degC', kind='temperature')} "
            f"under {wrap.quantity.text} of insulation ({INSULATION:g} W/(m·K)), still air.",
            "Ice forms after that, and a plug blocks the pipe later still.",
        ),
        bore, outside, wrap, cold, source="ASHRAE Fundamentals 2009, chapter 23, seen in reprints",
        caution="Insulation only slows it: wind and gaps shorten the time. Let it run, heat it or "
        "drain it.",
    )  # fmt: skip
    length = facts.plate("exposed")
    if length is None:
        return
    loss = float(
        freeze.pipe_heat_loss(
            outside.to("mm"), wrapped, INSULATION, HOLD_AT, air, STILL_AIR
        )
    )  # fmt: skip
    yield from _tape(facts, machine, loss, length, cold, found)


@dataclass(frozen=True)
class FreezingTable:
    """Minutes to the freezing point: a row a line, a column an air temperature."""

    airs: tuple[str, ...]
    rows: tuple[tuple[Machine, tuple[str, ...]], ...]


def freezing_table(homestead: Homestead) -> FreezingTable:
    """The wrapped lines at some temperatures of the air."""
    rows, airs = [], []
    for machine in homestead.machines.values():
        facts = Facts(homestead, machine)
        if isinstance(machine, WaterLine) and _wrapped(facts):
            times = [time_to_freezing(facts, air) or 0.0 for air in AIRS]
            airs = [facts.show(air, "degC", kind="temperature") for air in AIRS]
            rows.append((machine, tuple(f"{hours * 60:.0f} min" for hours in times)))
    return FreezingTable(tuple(airs), tuple(rows))


def _tape(
    facts: Facts,
    machine: WaterLine,
    loss: float,
    length: Known,
    cold: Known,
    pipe: tuple[Known, Known, Known, float],
) -> Iterator[Figure]:
    needed = loss * length.to("m")
    tape = facts.homestead.machines.get(machine.plate.heat_tape or "")
    power = Facts(facts.homestead, tape).plate("power") if isinstance(tape, Load) else None
    steps = [
        f"{loss:.1f} W/m at {cold.quantity.text} x {length.quantity.text} = {needed:.0f} W.",
    ]
    if power:
        enough = power.to("W") >= 1.2 * needed
        steps.append(
            f"With a fifth in hand {1.2 * needed:.0f} W; the tape gives {power.quantity.text}: "
            f"{'enough' if enough else 'TOO LITTLE'}."
        )
    yield facts.figure(
        "heat", "heat it loses where it is exposed", f"{needed:.0f} W", tuple(steps),
        *pipe[:3], length, cold, power, source="conduction through a cylinder",
    )  # fmt: skip
    if power:
        daily = float(freeze.heat_tape_energy(power.to("W"), 1.0, 24.0))
        yield facts.figure(
            "tape", "heat tape on for a day", facts.show(daily, "kWh", digits=2),
            (f"{power.quantity.text} x 24 h = {facts.show(daily, 'kWh', digits=2)}.",), power,
            source="definition",
            caution="Only a tape made for the pipe, on a ground-fault breaker, as its maker says.",
        )  # fmt: skip
