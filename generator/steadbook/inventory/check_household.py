"""What the equipment of a house names must be there: its stove, its backup heater, its heat tape."""

from __future__ import annotations

from collections.abc import Iterator

from steadbook.errors import Problem
from steadbook.inventory.explain import listing, nearest
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import House, Load, Machine, Stove, WaterLine


def check_household(homestead: Homestead) -> list[Problem]:
    """Every name on a plate that leads to nothing, or to the wrong kind of thing."""
    found: list[Problem] = []
    if "machine" in homestead.files.unread:
        return found
    for machine in homestead.machines.values():
        if isinstance(machine, House):
            found += _named(homestead, machine, "stove", machine.plate.stove, Stove, "stove")
            found += _named(homestead, machine, "backup", machine.plate.backup, Load, "load")
        elif isinstance(machine, WaterLine):
            tape = machine.plate.heat_tape
            found += _named(homestead, machine, "heat_tape", tape, Load, "load")
    return found


def _named(
    homestead: Homestead,
    machine: Machine,
    key: str,
    name: str | None,
    wanted: type[Machine],
    kind: str,
) -> Iterator[Problem]:
    if name is None or isinstance(homestead.machines.get(name), wanted):
        return
    fitting = sorted(k for k, one in homestead.machines.items() if isinstance(one, wanted))
    what = "which is no" if name in homestead.machines else "which does not exist as a"
    yield homestead.files.problem(
        machine,
        ("plate", key),
        f"{name!r}, {what} `kind: {kind}`",
        listing(fitting),
        nearest(name, fitting) or f"correct the name, or add a machine of `kind: {kind}`",
    )
