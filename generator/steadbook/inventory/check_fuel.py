"""What tanks, lines and the machines they feed must agree on among themselves."""

from __future__ import annotations

from collections.abc import Iterator

from steadbook.errors import Problem
from steadbook.inventory.explain import listing, nearest
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Genset, Load, Machine, Tank


def check_fuel(homestead: Homestead) -> list[Problem]:
    """Every problem of what feeds what, and of what is fed."""
    found: list[Problem] = []
    for machine in homestead.machines.values():
        if isinstance(machine, Tank):
            found += _tank(homestead, machine)
        if isinstance(machine, Genset | Load):
            found += _fed_by(homestead, machine)
        if isinstance(machine, Genset):
            found += _load_line(homestead, machine)
        if isinstance(machine, Load):
            found += _heating(homestead, machine)
    return found


def _tank(homestead: Homestead, tank: Tank) -> Iterator[Problem]:
    at: list[tuple[tuple[str | int, ...], str]] = [
        (("feeds", number), name) for number, name in enumerate(tank.feeds)
    ]
    at += [
        (("lines", line, "feeds", number), name)
        for line, one in tank.lines.items()
        for number, name in enumerate(one.feeds)
    ]
    for inside, name in at:
        yield from _names_a_user(homestead, tank, inside, name)
    if tank.supplier is not None and "supplier" not in homestead.files.unread:
        known = homestead.suppliers
        if tank.supplier not in known:
            yield homestead.files.problem(
                tank, ("supplier",), f"the supplier {tank.supplier!r}, which does not exist",
                listing(sorted(known)), nearest(tank.supplier, known) or "add it to suppliers.yaml",
            )  # fmt: skip
    if tank.plate.count < 1:
        yield homestead.files.problem(
            tank, ("plate", "count"), str(tank.plate.count), "1 or more", "write how many there are"
        )


def _names_a_user(
    homestead: Homestead, tank: Tank, inside: tuple[str | int, ...], name: str
) -> Iterator[Problem]:
    if "machine" in homestead.files.unread and name not in homestead.machines:
        return
    machine = homestead.machines.get(name)
    users = sorted(
        one for one, other in homestead.machines.items() if isinstance(other, Genset | Load)
    )
    if not isinstance(machine, Genset | Load):
        yield homestead.files.problem(
            tank, inside, f"{name!r}, which is no genset and no load", listing(users),
            nearest(name, users) or "name a machine that burns fuel",
        )  # fmt: skip
    elif machine.fed_by is not None and machine.fed_by != tank.id:
        yield homestead.files.problem(
            tank, inside, f"{name!r}, which says itself that {machine.fed_by!r} feeds it",
            "one tank for each machine", f"correct this, or `fed_by:` of {name}",
        )  # fmt: skip
    elif isinstance(machine, Genset):
        yield from _same_fuel(homestead, tank, inside, tank, machine)


def _same_fuel(
    homestead: Homestead, entry: Machine, inside: tuple[str | int, ...], tank: Tank, genset: Genset
) -> Iterator[Problem]:
    fuel, contents = genset.plate.fuel, tank.plate.contents
    if fuel and contents and not contents.startswith(fuel):
        yield homestead.files.problem(
            entry, inside, f"a genset for {fuel} on a tank of {contents}", "the fuel of its plate",
            "correct the name, `contents:` of the tank or `fuel:` of the genset",
        )  # fmt: skip


def _fed_by(homestead: Homestead, machine: Genset | Load) -> Iterator[Problem]:
    name = machine.fed_by
    if name is None or ("tank" in homestead.files.unread and name not in homestead.machines):
        return
    tank = homestead.machines.get(name)
    if not isinstance(tank, Tank):
        known = sorted(one for one, other in homestead.machines.items() if isinstance(other, Tank))
        yield homestead.files.problem(
            machine, ("fed_by",), f"the tank {name!r}, which does not exist", listing(known),
            nearest(name, known) or "correct the name or add it to fuel.yaml",
        )  # fmt: skip
    elif isinstance(machine, Genset):
        yield from _same_fuel(homestead, machine, ("fed_by",), tank, machine)


def _load_line(homestead: Homestead, genset: Genset) -> Iterator[Problem]:
    """Two points of fuel that no engine of steady speed has."""
    half, full = genset.plate.fuel_at_half_load, genset.plate.fuel_at_full_load
    if half is None or full is None:
        return
    low, high = half.magnitude, full.to(half.unit) if _alike(half.unit, full.unit) else 0.0
    if not low < high <= 2 * low:
        yield homestead.files.problem(
            genset, ("plate", "fuel_at_full_load"),
            f"{full.text} at full load, {half.text} at half",
            "more than at half load, at most twice as much",
            "look at the maker's data sheet; until then the fuel of this set is not reckoned",
            warning=True,
        )  # fmt: skip


def _alike(one: str, other: str) -> bool:
    by_mass = ("lb/h", "kg/h")
    return (one in by_mass) == (other in by_mass)


def _heating(homestead: Homestead, load: Load) -> Iterator[Problem]:
    if load.heating is not None and homestead.place.coldest is None:
        yield homestead.files.problem(
            load, ("heating", "loss"), "a heat loss, and no coldest temperature to go with it",
            "`coldest:` in homestead.yaml", "add the winter design temperature there",
        )  # fmt: skip
