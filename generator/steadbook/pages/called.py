"""What pages may call a machine: `genset`, `spare genset`, `diesel genset`, `propane tank`."""

from __future__ import annotations

from collections.abc import Iterable

from steadbook.inventory.models import (
    GASES,
    BatteryBank,
    Cylinders,
    Genset,
    Load,
    Machine,
    Regulator,
    Tank,
)

FUEL_GAS = "fuel gas"


def answers_to(machine: Machine) -> set[str]:
    """The names of a machine: `flooded battery bank`, `fuel gas` where it holds or burns some.

    A genset or small engine whose specs name its starter battery answers to `starter battery` too.
    """
    kind = str(getattr(machine, "kind", ""))
    found = {kind, machine.system}
    if machine.spare:
        found.add(f"spare {kind}")
    if isinstance(machine, BatteryBank) and machine.plate.chemistry:
        found |= {f"{machine.plate.chemistry} {kind}", machine.plate.chemistry}
    if isinstance(machine, Genset):
        found |= _engine(machine)
    if isinstance(machine, Tank) and machine.plate.contents:
        found.add(f"{machine.plate.contents} {kind}")
    if kind in ("genset", "small engine") and "starter battery" in machine.specs:
        found.add("starter battery")
    if _has_gas(machine):
        found.add(FUEL_GAS)
    return found


def home_answers_to(machines: Iterable[Machine]) -> set[str]:
    """The names of all machines. What burns a fuel that is not told may burn gas."""
    every = list(machines)
    found = set[str]().union(*(answers_to(one) for one in every))
    fed = {name for one in every if isinstance(one, Tank) for name in one.feeds}
    untold = any(
        isinstance(one, Load) and one.plate.input and not one.fed_by and one.id not in fed
        for one in every
    )
    if untold or not any(_fuel(one) for one in every):
        found.add(FUEL_GAS)
    return found


def _engine(genset: Genset) -> set[str]:
    """By how its fuel is lit and how it is cooled; a spark lights any fuel but diesel."""
    lit = "diesel" if genset.plate.fuel == "diesel" else "spark"
    found = {f"{lit} genset", lit}
    if genset.plate.cooling == "air":
        found.add("air-cooled")
    return found


def _fuel(machine: Machine) -> str | None:
    if isinstance(machine, Tank) and machine.plate.contents != "water":
        return machine.plate.contents
    if isinstance(machine, Cylinders | Regulator):
        return "propane"
    return machine.plate.fuel if isinstance(machine, Genset) else None


def _has_gas(machine: Machine) -> bool:
    return _fuel(machine) in GASES or FUEL_GAS in machine.hazards
