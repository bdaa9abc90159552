"""What was written for another machine: gas at a gasoline engine, water for sealed cells."""

from __future__ import annotations

import re
from collections.abc import Iterator

from steadbook.errors import Problem
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import GASES, BatteryBank, Genset

SEALED = ("AGM", "gel", "LFP")
OPENS_CELLS = re.compile(r"\bwater(ing)?\b|\btop(ping)? up\b|\bgravity\b|\belectrolyte\b", re.I)
PROCEDURES = ("water-and-gravity",)
GAS = re.compile(r"\bgas (valve|cock|line)\b", re.I)


def doubtful_fit(homestead: Homestead) -> Iterator[Problem]:
    """A warning for each task, hazard or instruction that such a machine cannot have."""
    for machine in homestead.machines.values():
        if isinstance(machine, BatteryBank) and machine.plate.chemistry in SEALED:
            yield from _opened(homestead, machine, machine.plate.chemistry)
        if isinstance(machine, Genset) and machine.plate.fuel not in (None, *GASES):
            yield from _gas(homestead, machine, str(machine.plate.fuel))


def _opened(homestead: Homestead, bank: BatteryBank, chemistry: str) -> Iterator[Problem]:
    """Cells that cannot be opened have no water to look after (definition of valve-regulated)."""
    for name, task in bank.tasks.items():
        if task.procedure in PROCEDURES or OPENS_CELLS.search(task.title):
            yield homestead.files.problem(
                bank,
                ("tasks", name),
                f"{task.title!r} at a bank of {chemistry}, whose cells are sealed",
                "such work at flooded cells alone",
                "take the task out, or correct `chemistry:` on the plate; a sealed cell is never opened",
                warning=True,
            )


def _gas(homestead: Homestead, genset: Genset, fuel: str) -> Iterator[Problem]:
    """What is said of fuel gas at an engine that burns none."""
    if "fuel gas" in genset.hazards:
        yield homestead.files.problem(
            genset,
            ("hazards", genset.hazards.index("fuel gas")),
            f"the hazard fuel gas at a genset that burns {fuel}",
            "the hazards of its own fuel",
            "write gasoline instead" if fuel.startswith("gasoline") else "take it out",
            warning=True,
        )
    for key, text in (
        ("how_to_start", " ".join(genset.how_to_start)),
        ("how_to_stop", genset.how_to_stop or ""),
    ):
        found = GAS.search(text)
        if found:
            yield homestead.files.problem(
                genset,
                (key,),
                f"the {found[0]} of a genset that burns {fuel}",
                "what this genset has: a fuel valve, a switch",
                "write how it is started and stopped",
                warning=True,
            )
