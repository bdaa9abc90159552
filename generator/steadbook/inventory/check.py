"""What no single entry can know: references, meters that run back, circles, the future."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from datetime import date
from graphlib import CycleError, TopologicalSorter
from typing import Any

from steadbook.errors import Problem
from steadbook.inventory.check_fuel import check_fuel
from steadbook.inventory.check_household import check_household
from steadbook.inventory.explain import listing, nearest
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.meters import Step, too_fast
from steadbook.inventory.models import Machine, Tank, Task
from steadbook.inventory.year import LISTS, NAMED_BY


def check(
    homestead: Homestead, *, as_of: date | None, procedures: frozenset[str] | None
) -> list[Problem]:
    """Every problem between entries."""
    return [
        *_reserved(homestead),
        *_people(homestead),
        *_machines(homestead, procedures),
        *_storekeeping(homestead),
        *_counts(homestead),
        *_log_names(homestead),
        *(() if "reading" in homestead.files.unread else _meters(homestead)),
        *(_future(homestead, as_of) if as_of else ()),
        *check_fuel(homestead),
        *check_household(homestead),
    ]


def _dangling(
    homestead: Homestead,
    entry: object,
    inside: tuple[str | int, ...],
    word: str,
    what: str,
    known: Collection[str],
    where: str,
) -> Iterator[Problem]:
    if word not in known and what not in homestead.files.unread:
        names = sorted(known)
        fix = nearest(word, names) or f"correct the name or add it to {where}"
        yield homestead.files.problem(
            entry, inside, f"the {what} {word!r}, which does not exist", listing(names), fix
        )


def _reserved(homestead: Homestead) -> Iterator[Problem]:
    """Nothing may be named like the key whose contents other editions never receive."""
    for entries in (homestead.machines, homestead.parts, homestead.suppliers):
        if "private" in entries:
            yield _private_name(homestead, entries["private"], ())
    if "private" in homestead.place.people:
        yield _private_name(homestead, homestead.place, ("people", "private"))
    for machine in homestead.machines.values():
        for key, names in (("tasks", machine.tasks), ("specs", machine.specs)):
            if "private" in names:
                yield _private_name(homestead, machine, (key, "private"))


def _private_name(homestead: Homestead, entry: object, inside: tuple[str, ...]) -> Problem:
    return homestead.files.problem(
        entry, inside, "the name 'private'", "any other name",
        "rename it; `private:` marks what only the owner may see",
    )  # fmt: skip


def _people(homestead: Homestead) -> Iterator[Problem]:
    for number, name in enumerate(homestead.place.call_first):
        yield from _dangling(
            homestead, homestead.place, ("call_first", number), name, "person",
            homestead.place.people, "people",
        )  # fmt: skip


def _machines(homestead: Homestead, procedures: frozenset[str] | None) -> Iterator[Problem]:
    for machine, name, task in homestead.tasks():
        at = ("tasks", name)
        problem = homestead.files.problem
        for part, amount in task.parts.items():
            yield from _part_amount(homestead, machine, (*at, "parts", part), part, amount.kind)
        for number, spec in enumerate(task.specs):
            yield from _dangling(
                homestead, machine, (*at, "specs", number), spec, "spec", machine.specs,
                f"the specs of {machine.id}",
            )  # fmt: skip
        if task.procedure is not None and procedures is not None:
            yield from _dangling(
                homestead, machine, (*at, "procedure"), task.procedure, "procedure", procedures,
                "content/procedures",
            )  # fmt: skip
        for number, covered in enumerate(task.covers):
            yield from _dangling(
                homestead, machine, (*at, "covers", number), covered, "task", machine.tasks,
                f"the tasks of {machine.id}",
            )  # fmt: skip
        hours_wanted = [i for i in (task.every, task.first) if i is not None and i.hours]
        if hours_wanted and machine.meter is None:
            yield problem(
                machine, (*at, "every"), f"{hours_wanted[0].text}, in hours",
                "a calendar interval, since this machine has no hour meter",
                "add `meter: {installed_at: 0 h}` to the machine, or write the interval in months",
            )  # fmt: skip
        yield from _first_interval(homestead, machine, name, task)
    for machine in homestead.machines.values():
        yield from _circles(homestead, machine)


def _part_amount(
    homestead: Homestead, entry: object, inside: tuple[str | int, ...], part: str, kind: str
) -> Iterator[Problem]:
    if part not in homestead.parts:
        yield from _dangling(homestead, entry, inside, part, "part", homestead.parts, "parts.yaml")
        return
    kept = homestead.parts[part].on_hand
    if kept.kind != kind:
        yield homestead.files.problem(
            entry,
            inside,
            f"an amount by {kind}",
            f"an amount by {kept.kind}, as this part is counted in parts.yaml ({kept.text})",
            "use the same way of counting in both places",
        )


def _first_interval(
    homestead: Homestead, machine: Machine, name: str, task: Task
) -> Iterator[Problem]:
    first, every = task.first, task.every
    if first is None or task.counts_from == "manufacture":  # a cylinder: 12 years, then 5
        return
    longer = (first.hours and every.hours and first.hours.to("h") > every.hours.to("h")) or (
        first.calendar
        and every.calendar
        and first.calendar.months * 30.4 + first.calendar.days
        > every.calendar.months * 30.4 + every.calendar.days
    )
    if longer:
        yield homestead.files.problem(
            machine,
            ("tasks", name, "first"),
            f"a first interval of {first.text}",
            f"a first interval no longer than the later ones ({every.text})",
            "a break-in interval is the shorter one; check which is which",
        )


def _circles(homestead: Homestead, machine: Machine) -> Iterator[Problem]:
    graph = {name: task.covers for name, task in machine.tasks.items()}
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        circle: list[str] = error.args[1][::-1]  # each task covers the next
        last, first = circle[-2], circle[-1]
        yield homestead.files.problem(
            machine,
            ("tasks", last, "covers", machine.tasks[last].covers.index(first)),
            f"the circle {' -> '.join(circle)}",
            "tasks that cover smaller ones, without a way back",
            "remove one of these `covers`",
        )


def _storekeeping(homestead: Homestead) -> Iterator[Problem]:
    for part in homestead.parts.values():
        yield from _dangling(
            homestead, part, ("supplier",), part.supplier, "supplier", homestead.suppliers,
            "suppliers.yaml",
        )  # fmt: skip
    for delivery in homestead.log.deliveries:
        if delivery.supplier is not None:
            yield from _dangling(
                homestead, delivery, ("supplier",), delivery.supplier, "supplier",
                homestead.suppliers, "suppliers.yaml",
            )  # fmt: skip
    for order in homestead.log.orders:
        yield from _dangling(
            homestead, order, ("supplier",), order.supplier, "supplier", homestead.suppliers,
            "suppliers.yaml",
        )  # fmt: skip
        for name, amount in order.parts.items():
            yield from _part_amount(homestead, order, ("parts", name), name, amount.kind)
        if order.received is not None and order.received < order.date:
            yield homestead.files.problem(
                order,
                ("received",),
                f"received on {order.received}, before the order of {order.date}",
                "a day on or after the order",
                "correct one of the two dates",
            )


def _counts(homestead: Homestead) -> Iterator[Problem]:
    for count in homestead.log.counts:
        at = ("amount",) if count.part in homestead.parts else ("part",)
        yield from _part_amount(homestead, count, at, count.part, count.amount.kind)


def _log_names(homestead: Homestead) -> Iterator[Problem]:
    machines = homestead.machines
    tanks = {name for name, machine in machines.items() if isinstance(machine, Tank)}
    for key in ("readings", "services", "runs", "measurements", "events"):
        for entry in _naming(homestead, key, lambda name: name not in machines):
            yield from _dangling(
                homestead, entry, ("machine",), entry.machine, "machine", machines, "a system file"
            )
    for key in ("levels", "deliveries"):
        for entry in _naming(homestead, key, lambda name: name not in tanks):
            yield from _dangling(
                homestead, entry, ("tank",), entry.tank, "tank", tanks, "fuel.yaml"
            )
    no_meter = {name for name, machine in machines.items() if machine.meter is None}
    for reading in _naming(homestead, "readings", no_meter.__contains__):
        yield _no_meter(homestead, reading, ("machine",), f"a reading of {reading.machine!r}")
    for service in _naming(homestead, "services", no_meter.__contains__):
        if service.hours is not None:
            yield _no_meter(homestead, service, ("hours",), f"hours of {service.machine!r}")
    yield from _services(homestead)


def _naming(homestead: Homestead, key: str, is_wrong: Callable[[str], bool]) -> Iterator[Any]:
    """The entries of a list that name something wrong; of the years without any none is read."""
    for year in homestead.log.years:
        wrong = {name for name in year.carried.names.get(key, ()) if is_wrong(name)}
        if wrong:
            yield from (one for one in year.of(key) if getattr(one, NAMED_BY[key]) in wrong)


def _services(homestead: Homestead) -> Iterator[Problem]:
    for year in homestead.log.years:
        unknown = {
            (name, task)
            for name, done in year.carried.done.items()
            for task in done
            if name in homestead.machines and task not in homestead.machines[name].tasks
        }
        for service in year.of("services") if unknown else ():
            for number, task in enumerate(service.tasks):
                if (service.machine, task) in unknown:
                    yield from _dangling(
                        homestead, service, ("tasks", number), task, "task",
                        homestead.machines[service.machine].tasks,
                        f"the tasks of {service.machine}",
                    )  # fmt: skip
    for service in homestead.log.having("services", "parts"):
        if service.machine in homestead.machines:
            for part, amount in service.parts.items():
                yield from _part_amount(homestead, service, ("parts", part), part, amount.kind)


def _no_meter(homestead: Homestead, entry: object, inside: tuple[str], found: str) -> Problem:
    return homestead.files.problem(
        entry, inside, f"{found}, which has no hour meter", "machines with a `meter:`",
        "add `meter: {installed_at: 0 h}` to the machine, or correct the name",
    )  # fmt: skip


def _meters(homestead: Homestead) -> Iterator[Problem]:
    lines, wrong = homestead.marks
    for name, line in lines.items():
        for step in too_fast(line):
            yield _too_fast(homestead, homestead.machines[name], step)
    for back in wrong:
        other = f"{back.before.shown:.7g} h on {back.before.day}"
        place = "before" if back.entry.date < back.before.day else "after"
        yield homestead.files.problem(
            back.entry,
            ("hours",),
            f"{back.shown:.7g} h, {place} {other}",
            "readings that stay or rise from day to day",
            "correct the reading or its date; if the meter was replaced, add to the first reading "
            "of the new one `old_meter:` with the last reading of the old",
        )


def _too_fast(homestead: Homestead, machine: Machine, step: Step) -> Problem:
    entry = step.mark.entry
    return homestead.files.problem(
        machine if entry is None else entry,
        ("meter", "installed_at") if entry is None else ("hours",),
        step.words,
        f"at most {step.most:.7g} h more: {_days(step.days)} of 24 h",
        "correct the reading or its date (a decimal point left out, two digits swapped); this one "
        "or the one before it is wrong",
    )


def _days(count: int) -> str:
    return f"{count} day{'s' if count != 1 else ''}"


def _future(homestead: Homestead, as_of: date) -> Iterator[Problem]:
    log = homestead.log
    days: list[tuple[object, str, date | None]] = [
        (entry, "date", entry.date) for key in LISTS for entry in log.after(key, as_of)
    ]
    days += [(order, "received", order.received) for order in log.orders]
    days += [(part, "counted", part.counted) for part in homestead.parts.values()]
    for entry, key, day in days:
        if day is not None and day > as_of:
            yield homestead.files.problem(
                entry,
                (key,),
                f"{day}, which is in the future",
                f"days up to {as_of}, the day the manual is made for",
                "correct the date; write only what has happened",
            )
