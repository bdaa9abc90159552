"""Pressure lost in each low-pressure gas line, for a first look; a licensed fitter decides."""

from __future__ import annotations

from dataclasses import dataclass

from steadbook import units
from steadbook.errors import OutOfRange
from steadbook.figures import gasline
from steadbook.figures.pipe import SCHEDULE_40
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import GasLine, Genset, Load, Tank
from steadbook.workings.exhausts import pressure
from steadbook.workings.figure import Figure, Input
from steadbook.workings.fuel_users import User, full_demand, heat_of


@dataclass(frozen=True)
class LineCheck:
    """One gas line: its load and capacity [kW], its loss and what is allowed [kPa].

    ``drop`` is None where it is more than a low-pressure line can lose; ``size`` is the smallest
    pipe that would do, None where none listed does.
    """

    tank: Tank
    name: str
    line: GasLine
    users: tuple[User, ...]
    load: float
    capacity: float
    drop: float | None
    allowed: float
    size: str | None

    @property
    def is_enough(self) -> bool:
        """Whether the loss stays within what is allowed."""
        return self.load <= self.capacity


def line_checks(homestead: Homestead) -> list[LineCheck]:
    """Every line of a propane tank whose users have a known input."""
    return [
        found
        for tank in homestead.machines.values()
        if isinstance(tank, Tank) and tank.plate.contents == "propane"
        for name, line in tank.lines.items()
        if (found := _check(homestead, tank, name, line)) is not None
    ]


def _check(homestead: Homestead, tank: Tank, name: str, line: GasLine) -> LineCheck | None:
    users = [homestead.machines[one] for one in line.feeds]
    heat = heat_of(tank)
    asked = [(one, full_demand(one, heat)) for one in users if isinstance(one, Genset | Load)]
    if not asked or any(not demand for _, demand in asked):
        return None
    load = sum(demand for _, demand in asked if demand)
    bore, length = SCHEDULE_40[line.pipe], line.length.to("m")
    allowed = line.drop.to("kPa")
    if length <= 0 or not 0 < allowed < gasline.HIGHEST_PRESSURE:
        return None
    try:
        drop: float | None = float(gasline.line_drop(load, bore, length))
    except OutOfRange:
        drop = None
    try:
        size: str | None = gasline.line_size(load, length, allowed)
    except OutOfRange:
        size = None
    capacity = float(gasline.line_capacity(bore, length, allowed))
    return LineCheck(
        tank, name, line, tuple(one for one, _ in asked), load, capacity, drop, allowed, size
    )


def line_figures(homestead: Homestead, found: list[LineCheck]) -> list[Figure]:
    """The loss of each line with all its users at full input."""
    prefer = homestead.place.units
    made = []
    for one in found:
        value = (
            pressure(one.drop, prefer)
            if one.drop is not None
            else f"more than {units.show_value(1.5, 'psi', prefer, digits=2)}"
        )
        load = units.show_value(one.load, "kW", prefer, kind="heat rate")
        made.append(
            Figure(
                key=f"{one.tank.id}.{one.name}-drop",
                title=f"{one.tank.name}, {one.name}: pressure lost with all users at full input",
                value=value,
                working=(
                    f"Asked for by {', '.join(user.name for user in one.users)}: {load}.",
                    f"{one.line.pipe} in pipe of {SCHEDULE_40[one.line.pipe]:.1f} mm bore, "
                    f"{one.line.length.text}: {value} lost, {pressure(one.allowed, prefer)} "
                    "allowed.",
                ),
                inputs=(
                    Input(
                        "line",
                        f"{one.line.pipe} in, {one.line.length.text}",
                        homestead.files.where(one.tank, "lines", one.name, "pipe"),
                    ),
                ),
                source="low-pressure equation of the International Fuel Gas Code and NFPA 54; "
                "from memory, its printed tables seen",
                caution="A first look only: a licensed fitter sizes, tests and signs a gas line.",
            )
        )
    return made
