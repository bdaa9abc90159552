"""The well: what its pump takes, what stands in it, and the bleach to disinfect it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from steadbook.figures import chlorination, pumping
from steadbook.figures._factors import GALLON
from steadbook.inventory.models import Inverter, Machine, WellPump
from steadbook.workings.figure import Figure
from steadbook.workings.known import Facts, Known

STRENGTHS = (5.25, 6.0, 7.5, 8.25)
"""Sodium hypochlorite of household bleach, as labels give it [%]."""
TARGETS = (50.0, 100.0, 200.0)
"""Strengths asked for in the well [mg/L]: trade tables 50 to 100, Alberta 200."""
USUAL_EFFICIENCY = (0.3, 0.5)
"""Of small well pumps with their motors. Source: common practice, no source."""


@dataclass(frozen=True)
class DoseTable:
    """Bleach for one well: a row a strength of the bleach, a column a strength in the well."""

    machine: Machine
    targets: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


# --- the pump -------------------------------------------------------------------------------


def pump_figures(facts: Facts, machine: WellPump) -> Iterator[Figure]:
    power, flow = facts.plate("power"), facts.plate("flow")
    energy = None
    if power and flow and flow.to("L/min") > 0:
        energy = power.to("W") / (flow.to("L/min") * 60)
        yield _energy(facts, power, flow, energy)
        daily = facts.plate("daily_use")
        if daily:
            yield _daily_energy(facts, daily, flow, energy)
    yield from _head(facts, machine, flow, energy)
    yield from _surge(facts, machine)


def _wh(facts: Facts, litre: float) -> str:
    return facts.both(f"{litre * GALLON:.2f} Wh/gal", f"{litre:.2f} Wh/L")


def _energy(facts: Facts, power: Known, flow: Known, energy: float) -> Figure:
    value = _wh(facts, energy)
    return facts.figure(
        "energy", "energy to pump water", value,
        (f"{power.quantity.text} / {flow.quantity.text} = {value}.",),
        power, flow, source="definition",
    )  # fmt: skip


def _daily_energy(facts: Facts, daily: Known, flow: Known, energy: float) -> Figure:
    minutes = daily.to("L") / flow.to("L/min")
    value = facts.show(daily.to("L") * energy / 1000, "kWh", digits=2)
    return facts.figure(
        "daily-energy", "energy on a usual day", value,
        (
            f"{daily.quantity.text} at {flow.quantity.text}: {minutes:.0f} min of pumping.",
            f"{facts.show(daily.to('L'), 'L')} x {_wh(facts, energy)} = {value}.",
        ),
        daily, flow, source="definition",
    )  # fmt: skip


def _head(
    facts: Facts, machine: WellPump, flow: Known | None, energy: float | None
) -> Iterator[Figure]:
    level, lift = facts.plate("pumping_level"), facts.plate("lift")
    if level is None:
        return
    raised = level.to("m") + (lift.to("m") if lift else 0.0)
    pressure = facts.plate("pressure")
    length, bore = facts.plate("pipe_length"), facts.plate("pipe_bore")
    friction = 0.0
    steps = [f"From the pumping level up: {facts.show(raised, 'm', kind='length')}."]
    if flow and length and bore:
        pipe = machine.plate.pipe or "old steel"
        coefficient = pumping.ROUGHNESS_COEFFICIENT[pipe]
        friction = float(
            pumping.friction_head(
                flow.to("L/min"), length.to("m"), bore.to("mm"), coefficient=coefficient
            )
        )
        steps.append(
            f"Lost in {length.quantity.text} of {pipe} pipe, {bore.quantity.text} wide inside "
            f"(C = {coefficient}): {facts.show(friction, 'm', kind='length')}."
        )
    if pressure:
        steps.append(f"Pressure where it delivers: {pressure.quantity.text}.")
    head = float(pumping.total_head(raised, pressure.to("kPa") if pressure else 0.0, friction))
    value = facts.show(head, "m", kind="length")
    yield facts.figure(
        "head", "head it pumps against", value, (*steps, f"Together {value}."),
        level, lift, pressure, flow, length, bore, source="Hazen-Williams for the pipe",
    )  # fmt: skip
    if energy:
        yield _efficiency(facts, head, energy)


def _efficiency(facts: Facts, head: float, energy: float) -> Figure:
    ideal = float(pumping.pumping_energy(head, 1.0))
    share = ideal / energy
    low, high = USUAL_EFFICIENCY
    judged = "lower than" if share < low else "higher than" if share > high else "within"
    return facts.figure(
        "efficiency", "efficiency from wire to water", f"{share:.0%}",
        (
            f"Lifting alone would take {_wh(facts, ideal)}, the pump takes {_wh(facts, energy)}: "
            f"{share:.0%}, {judged} the usual {low:.0%} to {high:.0%}.",
        ),
        facts.plate("power"), facts.plate("flow"),
        source="definition; the usual range is common practice, no source",
        caution="A share that falls from year to year at the same water level tells of a worn pump, "
        "a leaking pipe or a falling level.",
    )  # fmt: skip


def _surge(facts: Facts, machine: WellPump) -> Iterator[Figure]:
    shaft = facts.plate("shaft_power")
    letter = machine.plate.code_letter
    if shaft is None or letter is None:
        return
    surge = float(pumping.starting_surge(shaft.to("kW"), letter))
    steps = [
        f"{shaft.quantity.text} x {pumping.LOCKED_ROTOR_KVA_PER_HP[letter]:g} kVA/hp (code letter "
        f"{letter}) = {surge:.1f} kVA at most."
    ]
    inverters = [m for m in facts.homestead.machines.values() if isinstance(m, Inverter)]
    limit = next((Facts(facts.homestead, m).plate("surge") for m in inverters if not m.spare), None)
    caution = ""
    if limit:
        enough = limit.to("kW") >= surge
        steps.append(
            f"The inverter's surge is {limit.quantity.text}: "
            f"{'enough with nothing else starting' if enough else 'not surely enough'}."
        )
        caution = "" if enough else "Start it from the genset, or fit a soft start."
    yield facts.figure(
        "surge", "largest draw as it starts", f"{surge:.1f} kVA", tuple(steps),
        shaft, facts.given("code letter", letter, "plate", "code_letter"), limit,
        source="NFPA 70 table 430.7(B), seen in a reprint", caution=caution,
    )  # fmt: skip


# --- the well -------------------------------------------------------------------------------


def _standing(facts: Facts) -> tuple[Known, Known, Known, float] | None:
    """Casing, depth, level at rest, and metres of water standing in the well."""
    casing, depth = facts.plate("casing"), facts.plate("well_depth")
    spec = "static water level"
    level = facts.measured(spec, "length") or facts.spec(spec, "length")
    if not (casing and depth and level) or depth.to("m") <= level.to("m"):
        return None
    return casing, depth, level, depth.to("m") - level.to("m")


def well_figures(facts: Facts) -> Iterator[Figure]:
    found = _standing(facts)
    if found is None:
        return
    casing, depth, level, standing = found
    volume = float(chlorination.casing_volume(casing.to("mm"), standing))
    value = facts.show(volume, "L")
    yield facts.figure(
        "standing-water", "water standing in the well", value,
        (
            f"{depth.quantity.text} - {level.quantity.text} = "
            f"{facts.show(standing, 'm', kind='length')} of water in a casing "
            f"{casing.quantity.text} wide: {value}.",
        ),
        casing, depth, level, source="definition",
    )  # fmt: skip
    plumbing = facts.plate("plumbing")
    extra = plumbing.to("L") if plumbing else 0.0
    bleach = float(chlorination.well_dose(casing.to("mm"), standing, 6.0, 100.0, extra))
    dose = _bleach(facts, bleach)
    yield facts.figure(
        "bleach", "plain bleach for shock chlorination, 6 % to 100 mg/L", dose,
        (
            f"{facts.show(volume + extra, 'L')} of water{' with the plumbing' if extra else ''} "
            f"x 100 mg/L / (10,000 x 6) = {dose}.",
        ),
        casing, depth, level, plumbing,
        source="definition; 100 mg/L: trade's table of well treatment",
        caution="Never more to be on the safe side: too strong a dose is no better and attacks "
        "pump and pipes. The health authority's own sheet goes first.",
    )  # fmt: skip


def _bleach(facts: Facts, litres: float) -> str:
    """Small amounts in fluid ounces, large ones in quarts."""
    if litres < 2:
        return facts.show(litres * 1000, "mL", digits=2)
    return facts.show(litres / (GALLON / 4), "qt", digits=2)


def dose_tables(facts: Facts) -> Iterator[DoseTable]:
    found = _standing(facts)
    if found is None:
        return
    casing, _, _, standing = found
    plumbing = facts.plate("plumbing")
    extra = plumbing.to("L") if plumbing else 0.0
    rows = []
    for strength in STRENGTHS:
        amounts = tuple(
            _bleach(
                facts,
                float(chlorination.well_dose(casing.to("mm"), standing, strength, target, extra)),
            )
            for target in TARGETS
        )
        rows.append((f"{strength:g} %", amounts))
    yield DoseTable(facts.machine, tuple(f"{target:g} mg/L" for target in TARGETS), tuple(rows))
