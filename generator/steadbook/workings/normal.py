"""What a house-sitter should see on the daily round, worked out from the inventory."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING

from steadbook import units
from steadbook.figures import battery
from steadbook.figures.tank import FILL_LIMIT
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import (
    Genset,
    Inverter,
    Machine,
    PressureTank,
    Tank,
    UvLamp,
    WaterFilter,
    WaterLine,
    WellPump,
)
from steadbook.units import Quantity
from steadbook.workings import words
from steadbook.workings.plant import CHEMISTRY, USUAL_FLOOR

if TYPE_CHECKING:
    from steadbook.workings import Workings

ROOM = 7.0
"""Air of a lived-in house below which pipes in walls are in danger [degC].
Source: common practice, no source."""
CALL_BEFORE_FLOOR = 10.0
"""Points of charge above the floor at which a sitter calls: at the floor itself the house is dark.
Source: common practice, no source."""
WATER = (WellPump, PressureTank, WaterLine, WaterFilter, UvLamp)


@dataclass(frozen=True)
class NormalReading:
    """Something to read: what is normal, and when to do something about it."""

    what: str
    where: str
    normal: str
    call_if: str


def normal_readings(workings: Workings) -> list[NormalReading]:
    """Everything that can be told of this home, in the order of a morning's walk."""
    return [
        *_bank(workings),
        *_fuel(workings),
        *_water(workings.homestead),
        *_warmth(workings.homestead),
        *_gensets(workings.homestead),
        *_alarms(workings.homestead),
    ]


def _bank(workings: Workings) -> Iterator[NormalReading]:
    plant = workings.power.plant
    bank = plant.bank
    if bank is None:
        return
    plate, case = bank.plate, plant.case
    floor = plate.floor.to("%") if plate.floor else None
    normal = 100 * case.start_below if case else None
    if normal is None and floor is None and plate.chemistry:
        floor = 100 * USUAL_FLOOR[CHEMISTRY[plate.chemistry]]
    low = None if floor is None else floor + CALL_BEFORE_FLOOR
    if case and case.quiet:
        low = 100 * case.break_quiet_below

    def shown(percent: float) -> str:
        """With the voltage at rest; that of a lithium bank tells next to nothing."""
        if not (plate.voltage and plate.chemistry) or plate.chemistry == "LFP":
            return f"{percent:.0f} %"
        volts = float(
            battery.rested_voltage(percent / 100, plate.voltage.to("V"), CHEMISTRY[plate.chemistry])
        )
        return f"{percent:.0f} % (about {volts:.1f} V at rest)"

    told = "about what it was yesterday at this time"
    if normal is not None:
        told = f"{shown(normal)} or more"
    elif low is not None:
        told = f"well above {shown(low)}"
    climate = workings.homestead.climate
    quiet = climate.run_rule.quiet if climate and climate.run_rule else None
    if case and case.quiet and quiet:
        told += (
            f"; below that the genset starts by itself, but in the quiet hours "
            f"({quiet.pair[0]}:00 to {quiet.pair[1]}:00) only below {shown(100 * case.break_quiet_below)}"
        )
    elif normal is not None:
        told += "; below that the genset starts by itself"
    act = f"it is below {shown(low)}" if low is not None else "it is lower than yesterday"
    if plate.floor is not None and floor != low:
        act += f"; the inverter shuts off at {floor:.0f} %"
    where = next(
        (f"at the {one.name}, {one.place}" for one in workings.homestead.machines.values()
         if isinstance(one, Inverter) and one.place and not one.spare),
        bank.place or "",
    )  # fmt: skip
    yield NormalReading(f"{bank.name} at dawn", where, told, act)


def _fuel(workings: Workings) -> Iterator[NormalReading]:
    for stock in workings.fuel.stocks:
        plate = stock.tank.plate
        if plate.capacity is None or not (plate.order_at or plate.reserve):
            continue
        top = f" to {FILL_LIMIT:.0f} %" if plate.contents == "propane" else " or more"
        low = plate.order_at or plate.reserve
        assert low is not None
        normal = f"{low.to('%'):.0f} %{top}"
        falls = [
            (before.low - after.low) / (after.day - before.day).days * 7
            for before, after in pairwise(stock.months)
            if after.low > 0
        ]
        if falls and max(falls) >= 0.5:
            normal += f"; falls by up to {ceil(max(falls))} % a week in the heaviest month"
        act = f"it is below {low.to('%'):.0f} %"
        shut_in = stock.shut_in
        at_end = stock.level_on(shut_in.until) if shut_in else None
        if shut_in and at_end and at_end[0] < low.to("%"):  # no truck comes; low is as reckoned
            until = words.day(shut_in.until)
            normal += f"; no truck until {until}, about {max(at_end[0], 0):.0f} % is reckoned then"
            act = "it falls faster than that" if falls else act
        if plate.reserve and plate.order_at:
            act += f"; at once below {plate.reserve.to('%'):.0f} %"
        yield NormalReading(f"{stock.tank.name}, gauge", stock.tank.place or "", normal, act)


def _water(homestead: Homestead) -> Iterator[NormalReading]:
    prefer = homestead.place.units
    rows = list(_water_gauges(homestead, prefer))
    if not rows and any(_carries_water(one) for one in homestead.machines.values()):
        rows.append(
            NormalReading(
                "A tap, opened for a minute", "", "a steady stream, clear; the pump rests soon after",
                "it sputters, runs brown or weaker than yesterday, or the pump never rests",
            )
        )  # fmt: skip
    yield from rows


def _carries_water(machine: Machine) -> bool:
    is_cistern = isinstance(machine, Tank) and machine.plate.contents == "water"
    return is_cistern or isinstance(machine, WATER)


def _water_gauges(homestead: Homestead, prefer: units.System) -> Iterator[NormalReading]:
    for machine in homestead.machines.values():
        low, high = _pressure(machine, "cut-in"), _pressure(machine, "cut-out")
        if low and high:
            yield NormalReading(
                f"{machine.name}, gauge", machine.place or "",
                f"between {words.quantity(low, prefer)} and {words.quantity(high, prefer)}",
                "it stays below the lower one with the taps shut, or the pump never rests",
            )  # fmt: skip
        if (
            isinstance(machine, Tank)
            and machine.plate.contents == "water"
            and machine.plate.order_at
        ):
            mark = machine.plate.order_at.to("%")
            reserve = machine.plate.reserve
            act = f"it is below {reserve.to('%'):.0f} %" if reserve else "it falls for two days"
            yield NormalReading(
                f"{machine.name}, level", machine.place or "", f"{mark:.0f} % or more", act
            )


def _pressure(machine: Machine, name: str) -> Quantity | None:
    spec = machine.specs.get(name)
    return spec.pressure if spec else None


def _warmth(homestead: Homestead) -> Iterator[NormalReading]:
    prefer = homestead.place.units
    stoves = [
        one for one in homestead.machines.values()
        if getattr(one, "kind", "") == "stove" or "wood stove" in one.name.lower()
    ]  # fmt: skip
    cold = units.show_value(ROOM, "degC", prefer, digits=2)
    for stove in stoves:
        own = stove.specs.get("flue temperature")
        if own and own.temperature:
            yield NormalReading(
                f"{stove.name}, thermometer on the pipe", stove.place or "",
                f"{words.quantity(own.temperature, prefer)}, fire burning",
                "it is above that with the air closed down; roars or glows: everybody out",
            )  # fmt: skip
        else:
            yield NormalReading(
                stove.name, stove.place or "", "lively flames, no smoke in the room",
                "it smokes into the room; roars or glows: everybody out",
            )  # fmt: skip
    if "heat" in homestead.systems:
        yield NormalReading(
            "Room with the water pipes", "", f"above {cold}", f"it is below {cold} in the morning"
        )


def _gensets(homestead: Homestead) -> Iterator[NormalReading]:
    prefer = homestead.place.units
    for machine in homestead.machines.values():
        if not isinstance(machine, Genset) or machine.spare:
            continue
        oil = _pressure(machine, "oil pressure warm")
        told = "still, or a steady note"
        if oil:
            told += f"; oil {words.quantity(oil, prefer)} warm, where it has a gauge"
        yield NormalReading(
            f"{machine.name}", machine.place or "", told,
            "it smokes, knocks, smells of fuel, or shows a fault",
        )  # fmt: skip


def _alarms(homestead: Homestead) -> Iterator[NormalReading]:
    names = [
        one.name for one in homestead.machines.values()
        if getattr(one, "kind", "") == "alarms" or "alarm" in one.name.lower()
        or "detector" in one.name.lower()
    ]  # fmt: skip
    if names:
        yield NormalReading(
            ", ".join(names), "", "light on, silent",
            "one chirps or shows a fault; full signal: everybody out",
        )  # fmt: skip
