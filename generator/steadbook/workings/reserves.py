"""Fuel and water at hand: the last gauge reading of each tank and what of it can be used."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from steadbook import units
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Delivery, Level, Machine, Tank
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input


@dataclass(frozen=True)
class Reserve:
    """A tank on the day of its last gauge reading. Volumes in gallons."""

    tank: Tank
    level: float | None
    read_on: date | None
    entry: Level | Delivery | None
    contents: float | None
    usable: float | None

    @property
    def key(self) -> str:
        """The key of its figure."""
        return f"{self.tank.id}.usable"


def reserves(homestead: Homestead, as_of: date) -> list[Reserve]:
    """Every tank of the place."""
    return [
        _reserve(homestead, machine, as_of)
        for machine in homestead.machines.values()
        if isinstance(machine, Tank)
    ]


def last_gauge(homestead: Homestead, tank: Tank, as_of: date) -> Level | Delivery | None:
    """The entry of a tank's last gauge: of one day the last as written, after a delivery last of all."""
    log = homestead.log
    filled = [
        one
        for one in log.deliveries
        if one.tank == tank.id and one.after is not None and one.date <= as_of
    ]
    found: list[Level | Delivery] = [*filled[-1:]]
    level = log.last("levels", tank.id, as_of)
    found += [level] if level else []
    return max(found, key=lambda one: one.date, default=None)


def gauge_percent(entry: Level | Delivery) -> float:
    """What the gauge showed, after a delivery."""
    shown = entry.level if isinstance(entry, Level) else entry.after
    assert shown is not None
    return shown.to("%")


def _reserve(homestead: Homestead, tank: Tank, as_of: date) -> Reserve:
    entry = last_gauge(homestead, tank, as_of)
    if entry is None:
        return Reserve(tank, None, None, None, None, None)
    day, level = entry.date, gauge_percent(entry)
    contents = usable = None
    if tank.plate.capacity is not None:
        capacity = tank.plate.capacity.to("gal") * tank.plate.count
        mark = tank.plate.reserve.to("%") if tank.plate.reserve else 0.0
        contents = capacity * level / 100
        usable = max(0.0, capacity * (level - mark) / 100)
    return Reserve(tank, level, day, entry, contents, usable)


def reserve_figures(homestead: Homestead, found: list[Reserve]) -> list[Figure]:
    """What is usable in each tank that holds no fuel, with its working."""
    prefer = homestead.place.units
    figures = []
    for one in found:
        plate = one.tank.plate
        if one.usable is None or plate.capacity is None or one.level is None:
            continue
        if one.tank.holds_fuel:
            continue
        mark = plate.reserve.to("%") if plate.reserve else 0.0
        times = f" x {plate.count}" if plate.count > 1 else ""
        value = units.show_value(one.usable, "gal", prefer)
        assert one.entry is not None
        figures.append(
            Figure(
                key=one.key,
                title=f"{one.tank.name}: usable down to the reserve mark",
                value=value,
                working=(
                    f"Gauge {one.level:g} % on {words.day(one.read_on)}; reserve mark {mark:g} %.",
                    f"{units.show(plate.capacity, prefer)}{times} x ({one.level:g} - {mark:g}) / 100 "
                    f"= {value}.",
                ),
                inputs=(
                    Input(
                        "water capacity",
                        plate.capacity.text,
                        homestead.files.where(one.tank, "plate", "capacity"),
                    ),
                    Input(
                        "gauge",
                        f"{one.level:g} %",
                        homestead.files.where(one.entry),
                    ),
                ),
            )
        )
    return figures


def reserve_of(found: tuple[Reserve, ...], machine: Machine) -> Reserve | None:
    """The reserve of one tank."""
    return next((one for one in found if one.tank.id == machine.id), None)
