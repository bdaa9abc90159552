"""What tanks, lines and the machines they feed must agree on among themselves."""

from __future__ import annotations

from collections.abc import Iterator

from steadbook.errors import Problem
from steadbook.inventory.explain import listing, nearest
from steadbook.inventory.fields import is_charge
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Genset, Load, Machine, Tank

LOWEST, HIGHEST = -1000.0, 6000.0  # m, of the rules of engine power
EXTREME = 60.0  # degC either way, of the tables of propane and air
LOW_PRESSURE = 1.5  # psi, where the equation of gas lines ends


def check_fuel(homestead: Homestead) -> list[Problem]:
    """Every problem of what feeds what, and of what is fed."""
    found = [*_place(homestead), *_readings(homestead)]
    for machine in homestead.machines.values():
        if isinstance(machine, Tank):
            found += _tank(homestead, machine)
        if isinstance(machine, Genset | Load):
            found += _fed_by(homestead, machine)
        if isinstance(machine, Genset):
            found += [*_load_line(homestead, machine), *_loads(homestead, machine)]
        if isinstance(machine, Load):
            found += [*_uses(homestead, machine), *_heating(homestead, machine)]
    return found


def _tank(homestead: Homestead, tank: Tank) -> Iterator[Problem]:
    size = tank.plate.capacity
    if size is not None and tank.plate.contents != "propane" and is_charge(size):
        yield homestead.files.problem(
            tank, ("plate", "capacity"), f"{size.text}, a weight", "how much it holds by volume",
            "write gallons or litres; only a propane cylinder is told by the weight of its charge, "
            "and wants `contents: propane`",
        )  # fmt: skip
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
    for name, line in tank.lines.items():
        if not 0 < line.drop.to("psi") < LOW_PRESSURE:
            yield homestead.files.problem(
                tank, ("lines", name, "drop"), line.drop.text, "above 0, below 1.5 psi",
                "0.5 inH2O is usual from the last regulator on",
            )  # fmt: skip
        if line.length.magnitude <= 0:
            yield homestead.files.problem(
                tank, ("lines", name, "length"), line.length.text, "more than 0",
                "measure it to the farthest appliance",
            )  # fmt: skip
    if tank.plate.count < 1:
        yield homestead.files.problem(
            tank, ("plate", "count"), str(tank.plate.count), "1 or more", "write how many there are"
        )


def _place(homestead: Homestead) -> Iterator[Problem]:
    """What the figures of air and engine hold for."""
    place = homestead.place
    if not _is_read(homestead):
        return
    if not LOWEST <= place.elevation.to("m") <= HIGHEST:
        yield homestead.files.problem(
            place, ("elevation",), place.elevation.text, "from -3,200 to 19,600 ft",
            "correct the number or its unit",
        )  # fmt: skip
    for key in ("coldest", "hottest"):
        degrees = getattr(place, key)
        if degrees is not None and abs(degrees.to("degC")) > EXTREME:
            yield homestead.files.problem(
                place,
                (key,),
                degrees.text,
                "from -76 to 140 degF",
                "correct the number or its unit",
            )


def _is_read(homestead: Homestead) -> bool:
    """Whether homestead.yaml is there and without errors of its own."""
    return "person" not in homestead.files.unread and hasattr(homestead.place, "elevation")


def _readings(homestead: Homestead) -> Iterator[Problem]:
    for level in homestead.log.having("levels", "temperature"):
        if level.temperature is not None and abs(level.temperature.to("degC")) > EXTREME:
            yield homestead.files.problem(
                level, ("temperature",), level.temperature.text, "from -76 to 140 degF",
                "correct the number or its unit",
            )  # fmt: skip


def _loads(homestead: Homestead, genset: Genset) -> Iterator[Problem]:
    power = genset.plate.power
    for key in ("typical_load", "house_load"):
        load = getattr(genset, key)
        if load is not None and power is not None and load.to("kW") > power.to("kW"):
            yield homestead.files.problem(
                genset, (key,), f"{load.text}, more than its power of {power.text}",
                "no more than the power of its plate", "correct one of the two",
            )  # fmt: skip


def _uses(homestead: Homestead, load: Load) -> Iterator[Problem]:
    for number, use in enumerate(load.use):
        if use.hours.to("h") > 24:
            yield homestead.files.problem(
                load, ("use", number, "hours"), use.hours.text, "0 to 24 h of a day",
                "write the hours of one day",
            )  # fmt: skip
    if load.use and load.plate.input is None:
        yield homestead.files.problem(
            load, ("use",), "hours of use, and no `input:` on its plate",
            "the rate at which it burns, such as 22000 Btu/h", "add `input:` to its plate",
        )  # fmt: skip


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
    if load.heating is not None and load.heating.efficiency.to("%") <= 0:
        yield homestead.files.problem(
            load, ("heating", "efficiency"), load.heating.efficiency.text, "above 0, up to 100 %",
            "the maker's data sheet gives it",
        )  # fmt: skip
    if load.heating is not None and homestead.place.coldest is None and _is_read(homestead):
        yield homestead.files.problem(
            load, ("heating", "loss"), "a heat loss, and no coldest temperature to go with it",
            "`coldest:` in homestead.yaml", "add the winter design temperature there",
        )  # fmt: skip
