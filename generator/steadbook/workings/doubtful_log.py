"""Entries of the log that are possible but hardly true: a gauge, a delivery, a meter, a part used."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from datetime import date
from typing import TypeVar

from steadbook import units
from steadbook.errors import Problem
from steadbook.figures.tank import FILL_LIMIT, warmed_fill
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.meters import Step, steps
from steadbook.inventory.models import Delivery, Level, Machine, Service, Tank
from steadbook.workings import words
from steadbook.workings.doubtful_specs import FAR_APART
from steadbook.workings.fuel_forecast import fill_limit
from steadbook.workings.shelf import overdrawn

COLD_FILL = 4.4  # degC, 40 degF: the temperature on which the filling rule is reckoned
HOT_DAY = 38.0  # degC, 100 degF, where homestead.yaml has no `hottest:`
GAUGE_ERROR = 5.0  # percent of a tank by its float gauge; common practice, no source
FILL_RULE = "80 %, the filling limit of propane after NFPA 58"


Entry = TypeVar("Entry", Level, Delivery, Service)


def doubtful_log(homestead: Homestead, days: Collection[date] | None = None) -> Iterator[Problem]:
    """A warning for each entry of the log that can hardly be.

    ``days`` leaves the entries of other days alone where an entry is looked at by itself; meters
    and shelf are the sum of all.
    """
    log = homestead.log
    yield from _levels(homestead, _of(log.levels, days))
    yield from _deliveries(homestead, _of(log.deliveries, days))
    yield from _meters(homestead)
    yield from _amounts(homestead, _of(log.services, days))
    yield from _shelf(homestead)


def new_doubts(before: Homestead, after: Homestead, days: Collection[date]) -> list[Problem]:
    """The warnings that entries of these days add to the log."""
    known = {(one.file, one.key, one.found) for one in doubtful_log(before, days)}
    found = doubtful_log(after, days)
    return sorted(one for one in found if (one.file, one.key, one.found) not in known)


def _of(entries: Iterable[Entry], days: Collection[date] | None) -> Iterable[Entry]:
    return entries if days is None else (one for one in entries if one.date in days)


def _tank(homestead: Homestead, name: str) -> Tank | None:
    machine = homestead.machines.get(name)
    return machine if isinstance(machine, Tank) else None


def _levels(homestead: Homestead, levels: Iterable[Level]) -> Iterator[Problem]:
    """Propane above what a tank filled by the rule can show on the hottest day."""
    for level in levels:
        tank = _tank(homestead, level.tank)
        if tank is None or tank.plate.contents != "propane":
            continue
        highest = _highest(homestead, level)
        if level.level.to("%") > highest + GAUGE_ERROR:
            yield homestead.files.problem(
                level,
                ("level",),
                f"{level.level.text} in a tank of propane",
                f"up to {FILL_RULE}; {highest:.0f} % where it has warmed since",
                "look at the gauge again and correct the entry; a tank that is really so full is "
                "overfilled: keep away, call the supplier, who has some taken out",
                warning=True,
            )


def _highest(homestead: Homestead, level: Level) -> float:
    """What the gauge of a tank filled to the limit in the cold shows when it is warm."""
    hottest = homestead.place.hottest
    warm = level.temperature or hottest
    degrees = HOT_DAY if warm is None else warm.to("degC")
    return max(FILL_LIMIT, float(warmed_fill(FILL_LIMIT, COLD_FILL, degrees)))


def _deliveries(homestead: Homestead, deliveries: Iterable[Delivery]) -> Iterator[Problem]:
    """More than the tank had room for, or propane beyond its filling limit."""
    for delivery in deliveries:
        tank = _tank(homestead, delivery.tank)
        if tank is None:
            continue
        limit = fill_limit(tank.plate.contents)
        after = delivery.after
        if after is not None and after.to("%") > limit + GAUGE_ERROR:
            yield homestead.files.problem(
                delivery, ("after",), f"{after.text} in a tank of propane", f"up to {FILL_RULE}",
                "correct the entry; if it is true, tell the supplier at once: the tank is "
                "overfilled",
                warning=True,
            )  # fmt: skip
        if tank.plate.capacity is None:
            continue
        capacity = tank.plate.capacity.to("L") * tank.plate.count
        before = 0.0 if delivery.before is None else delivery.before.to("%")
        room = max(0.0, limit - before) / 100 * capacity
        if delivery.amount.to("L") <= room + GAUGE_ERROR / 100 * capacity:
            continue
        unit, prefer = delivery.amount.unit, homestead.place.units
        shown = units.show_value(float(units.convert(room, "L", unit)), unit, prefer, digits=2)
        empty = "in the empty tank" if delivery.before is None else f"above {delivery.before.text}"
        yield homestead.files.problem(
            delivery,
            ("amount",),
            f"{delivery.amount.text} into a tank of {tank.plate.capacity.text}"
            + (f", {tank.plate.count} of them" if tank.plate.count > 1 else ""),
            f"about {shown}: the room {empty} up to {limit:.0f} %",
            "look at the driver's ticket: the amount, its unit, the tank; or at `capacity:` of "
            f"{tank.id}",
            warning=True,
        )


def _meters(homestead: Homestead) -> Iterator[Problem]:
    """More hours in a few weeks than are expected in a year."""
    lines, _ = homestead.marks
    for name, line in lines.items():
        machine = homestead.machines[name]
        if machine.meter is None or machine.meter.expected is None:
            continue
        expected = machine.meter.expected.to("h")
        for step in steps(line):
            if step.hours > expected and step.hours_a_year > FAR_APART * expected > 0:
                yield _pace(homestead, machine, step)


def _pace(homestead: Homestead, machine: Machine, step: Step) -> Problem:
    entry = step.mark.entry
    assert machine.meter is not None and machine.meter.expected is not None
    return homestead.files.problem(
        machine if entry is None else entry,
        ("meter", "installed_at") if entry is None else ("hours",),
        step.words,
        f"something like the {machine.meter.expected.text} a year that are expected",
        "look at the digits of this reading and the one before; if it did run so much, raise "
        f"`expected:` of {machine.id}",
        warning=True,
    )


def _amounts(homestead: Homestead, services: Iterable[Service]) -> Iterator[Problem]:
    """A service that used many times what its tasks take."""
    for service in services:
        machine = homestead.machines.get(service.machine)
        if machine is None:
            continue
        tasks = [machine.tasks[name] for name in service.tasks if name in machine.tasks]
        for part, amount in service.parts.items():
            planned = [task.parts[part] for task in tasks if part in task.parts]
            if not planned or any(one.kind != amount.kind for one in planned):
                continue
            usual = sum(one.to(amount.unit) for one in planned)
            if not 0 < FAR_APART * usual < amount.magnitude:
                continue
            yield homestead.files.problem(
                service,
                ("parts", part),
                f"{amount.text} of {part}",
                f"about {words.amount(usual, amount)}, as the tasks done take",
                "look at the decimal point and the unit",
                warning=True,
            )


def _shelf(homestead: Homestead) -> Iterator[Problem]:
    """A warning for each part of which more was used than the shelf held."""
    for one in overdrawn(homestead):
        like = homestead.parts[one.part].on_hand
        used, had, came = (words.amount(size, like) for size in (one.used, one.had, one.received))
        day = one.counted.day
        yield homestead.files.problem(
            one.service,
            ("parts", one.part),
            f"{used} of {one.part} used since the count of {day}",
            f"{had} counted and {came} received by then: the shelf cannot give more",
            f"count it again (steadbook record count --part {one.part}), or record what came",
            warning=True,
        )
