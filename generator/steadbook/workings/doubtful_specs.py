"""Specs that are possible but hardly true: a slip in a torque, a gap, what a fluid system takes."""

from __future__ import annotations

from collections.abc import Iterator

from steadbook import units
from steadbook.errors import OutOfRange, Problem
from steadbook.figures.plausible import PLUG_GAP, VALVE_LASH, TorqueRange, torque_range
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Machine, Spec, Task
from steadbook.units import Quantity

SOFT_JOINT = 3.0
"""A gasket, a hollow plug or an aluminium thread takes less than its bolt could bear, down to a
third; none takes more than the bolt. Common practice, no source."""

FAR_APART = 5.0
"""Two amounts that should be alike and are so many times apart: a decimal point, or a unit."""


def doubtful_specs(homestead: Homestead) -> Iterator[Problem]:
    """A warning for each spec that no such machine has, or that its own tasks contradict."""
    for machine in homestead.machines.values():
        for name, spec in machine.specs.items():
            yield from _torque(homestead, machine, name, spec)
            if spec.gap is not None and _is_spark_plug(name, spec):
                yield from _gap(homestead, machine, name, "gap", spec.gap, PLUG_GAP)
            if spec.lash is not None:
                yield from _gap(homestead, machine, name, "lash", spec.lash, VALVE_LASH)
            if spec.capacity is not None:
                yield from _capacity(homestead, machine, name, spec.capacity)
        yield from _pressure_switch(homestead, machine)


def _torque(homestead: Homestead, machine: Machine, name: str, spec: Spec) -> Iterator[Problem]:
    """Whether the torque is far from what its thread bears."""
    torque, limits = spec.torque, _limits(spec)
    if torque is None or limits is None:
        return
    least, most = (
        float(units.convert(one, "N*m", torque.unit))
        for one in (limits.least / SOFT_JOINT, limits.most)
    )
    high = torque.magnitude if torque.high is None else torque.high
    if high <= most and torque.magnitude >= least:
        return
    word = "much" if high > most else "little"
    on = f"{spec.thread} {spec.grade}" if spec.grade else spec.thread
    prefer = homestead.place.units
    yield homestead.files.problem(
        machine,
        ("specs", name, "torque"),
        f"{torque.text}, which is {word} for {on}",
        f"from {units.show_value(least, torque.unit, prefer, digits=2)} to "
        f"{units.show_value(most, torque.unit, prefer, digits=2)} on such a thread",
        "look in the maker's manual at the decimal point and the unit (N*m, lbf*ft or "
        "lbf*in), and at the thread; what the maker says wins",
        warning=True,
    )


def _limits(spec: Spec) -> TorqueRange | None:
    """What the thread bears; None where the thread or its grade is none of those in the tables."""
    if spec.thread is None:
        return None
    for grade in (spec.grade, None):
        try:
            return torque_range(spec.thread, grade)
        except OutOfRange:
            continue
    return None


def _is_spark_plug(name: str, spec: Spec) -> bool:
    return "plug" in name.lower() or bool(spec.thread and "gasket" in spec.thread)


def _gap(
    homestead: Homestead,
    machine: Machine,
    name: str,
    key: str,
    gap: Quantity,
    limits: tuple[float, float],
) -> Iterator[Problem]:
    """Whether a plug gap or a lash is one that engines have; both limits in mm."""
    least, most = limits
    low, high = (
        float(units.convert(one, gap.unit, "mm"))
        for one in (gap.magnitude, gap.magnitude if gap.high is None else gap.high)
    )
    if low >= least and high <= most:
        return
    prefer = homestead.place.units
    what = "plug gap" if key == "gap" else "valve lash"
    yield homestead.files.problem(
        machine,
        ("specs", name, key),
        f"{gap.text}, which is {'wide' if high > most else 'narrow'} for a {what}",
        f"from {units.show_value(least, 'mm', prefer, digits=2)} to "
        f"{units.show_value(most, 'mm', prefer, digits=2)}, as engines have it",
        "look in the maker's manual at the decimal point and the unit (mm or in); what the maker "
        "says wins",
        warning=True,
    )


def _capacity(
    homestead: Homestead, machine: Machine, name: str, capacity: Quantity
) -> Iterator[Problem]:
    """Whether what goes in, by the spec, is far from what the tasks that name it fill in.

    A task that tops it up fills less; one that fills it whole must be among them.
    """
    takes = capacity.to("L")
    filled = {task: _most_filled(machine.tasks[task]) for task in _naming(machine, name)}
    amounts = {task: most for task, most in filled.items() if most is not None}
    if takes <= 0 or not amounts:
        return
    task, (part, amount) = max(amounts.items(), key=lambda one: one[1][1].to("L"))
    most = amount.to("L")
    if takes / FAR_APART < most < takes * FAR_APART:
        return
    at = ("specs", name, "capacity") if most < takes else ("tasks", task, "parts", part)
    yield homestead.files.problem(
        machine,
        at,
        f"{capacity.text} for {name}, and {amount.text} of {part} in the task {task}",
        "two amounts that are near each other",
        "look at the decimal point and the unit of both; if the task only tops it up, take the "
        "spec off its `specs:`",
        warning=True,
    )


def _naming(machine: Machine, spec: str) -> list[str]:
    return [name for name, task in machine.tasks.items() if spec in task.specs]


def _most_filled(task: Task) -> tuple[str, Quantity] | None:
    """The part of which the task fills in most, by volume."""
    filled = [(part, one) for part, one in task.parts.items() if one.kind == "volume"]
    return max(filled, key=lambda pair: pair[1].to("L"), default=None)


def _pressure_switch(homestead: Homestead, machine: Machine) -> Iterator[Problem]:
    """Whether the pump would stop before it starts."""
    low, high = (machine.specs.get(name) for name in ("cut-in", "cut-out"))
    if low is None or high is None or low.pressure is None or high.pressure is None:
        return
    if low.pressure.to("kPa") < high.pressure.to("kPa"):
        return
    yield homestead.files.problem(
        machine,
        ("specs", "cut-out", "pressure"),
        f"a cut-out of {high.pressure.text} and a cut-in of {low.pressure.text}",
        "a cut-out above the cut-in: the pump starts at the lower pressure",
        "look at the gauge as the pump starts and stops; perhaps the two are exchanged",
        warning=True,
    )
