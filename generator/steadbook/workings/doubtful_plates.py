"""What is possible but hardly true: charging voltages of bank and charger, a two-stroke's mix."""

from __future__ import annotations

import re
from collections.abc import Iterator

from steadbook.errors import Problem
from steadbook.figures.battery import cell_count
from steadbook.figures.battery_care import SetPoints, set_points
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import BatteryBank, Machine, SmallEngine
from steadbook.units import Quantity, convert
from steadbook.workings.plant import CHEMISTRY

MAKERS_DIFFER = 0.15
"""A cell's set-points by its maker lie so far beside the usual ones, no farther [V]: lithium iron
phosphate up to 3.65, sealed lead-acid up to 2.60. Common practice, no source."""

NOMINAL_DIFFERS = 0.15
"""Bank and cells by name: 48 V stands for 15 or 16 cells of 3.2 V. Common practice, no source."""

MIXES = (16, 100)  # gasoline to one of oil, old engines to new; common practice, no source
ROUNDING = 0.05  # V, as the range is shown


STAGES = {
    "absorption": re.compile(r"(bulk|absorption)( (voltage|charge|charging|stage|set-?point))?"),
    "float": re.compile(r"float( (voltage|charge|charging|stage|set-?point))?"),
    "equalise": re.compile(
        r"equali[sz](e|ing|ation)( (voltage|charge|charging|stage|set-?point))?"
    ),
}
"""Names of a charger's specs that are voltages of the bank."""

OWN_BATTERY = re.compile(r"\bstart(er|ing)?\b", re.IGNORECASE)
"""A charger of such a name keeps a starting battery, not the bank."""

Bands = dict[str, list[tuple[int, tuple[float, float]]]]


def doubtful_plates(homestead: Homestead) -> Iterator[Problem]:
    """A warning for each value of a plate that no such machine has."""
    banks = [one for one in homestead.machines.values() if isinstance(one, BatteryBank)]
    for machine in homestead.machines.values():
        if isinstance(machine, BatteryBank):
            yield from _charging(homestead, machine)
        elif isinstance(machine, SmallEngine):
            yield from _mix(homestead, machine)
        if not OWN_BATTERY.search(machine.name):
            yield from _charger(homestead, machine, banks)


def _charging(homestead: Homestead, bank: BatteryBank) -> Iterator[Problem]:
    """Whether charging voltages fit the bank's nominal voltage and chemistry."""
    plate = bank.plate
    wrong = [] if plate.voltage is None else list(_cells(homestead, bank))
    yield from wrong
    if plate.voltage is not None and not wrong:
        yield from _set_points(homestead, bank)
    if plate.absorption and plate.float and plate.float.to("V") > plate.absorption.to("V"):
        yield homestead.files.problem(
            bank,
            ("plate", "float"),
            f"a float of {plate.float.text}, above the absorption of {plate.absorption.text}",
            "a float below the absorption",
            "look in the battery maker's sheet; perhaps the two are exchanged",
            warning=True,
        )


def _cells(homestead: Homestead, bank: BatteryBank) -> Iterator[Problem]:
    """Whether the cells in a string add up to the bank's voltage."""
    plate = bank.plate
    if plate.chemistry is None or plate.cells_in_series is None or plate.voltage is None:
        return
    usual = cell_count(plate.voltage.to("V"), CHEMISTRY[plate.chemistry])
    if abs(plate.cells_in_series - usual) <= NOMINAL_DIFFERS * usual:
        return
    yield homestead.files.problem(
        bank,
        ("plate", "cells_in_series"),
        f"{plate.cells_in_series} {plate.chemistry} cells in series in a bank of "
        f"{plate.voltage.text}",
        f"about {usual}",
        "look at `voltage:`, `chemistry:` and `cells_in_series:` on its plate",
        warning=True,
    )


def _set_points(homestead: Homestead, bank: BatteryBank) -> Iterator[Problem]:
    """Whether each voltage on the plate is one that some maker of such a bank sets."""
    plate = bank.plate
    for key, found in _bands([bank]).items():
        given = getattr(plate, key)
        if given is None or _fits(given, found):
            continue
        yield homestead.files.problem(
            bank,
            ("plate", key),
            f"{given.text} as `{key}:` of {_of([bank])}",
            _allowed(found),
            "look in the battery maker's sheet: is it the voltage of the whole bank, and of this "
            "one? The manual prints it as the charger's setting"
            if found
            else "take the line out, unless the battery maker's sheet asks for it",
            warning=True,
        )


def _charger(homestead: Homestead, machine: Machine, banks: list[BatteryBank]) -> Iterator[Problem]:
    """Whether a charger's settings fit the bank, or one of the banks of its own system."""
    near = [one for one in banks if one.system == machine.system] or banks
    known = [one for one in near if one.plate.voltage is not None]
    if not known or len(known) < len(near):
        return
    bands = _bands(known)
    for name, spec in machine.specs.items():
        stage = next((key for key, one in STAGES.items() if one.fullmatch(name.lower())), None)
        if stage is None or spec.voltage is None or _fits(spec.voltage, bands[stage]):
            continue
        found = bands[stage]
        yield homestead.files.problem(
            machine,
            ("specs", name, "voltage"),
            f"{spec.voltage.text} as {name} of {machine.name}, which charges {_of(known)}",
            _allowed(found),
            "look in the battery maker's sheet, then at the charger itself: a wrong setting ruins "
            "the bank; correct both, or `voltage:` and `chemistry:` on the bank's plate"
            if found
            else "switch equalising off on the charger and take the spec out, unless the battery "
            "maker's sheet asks for it",
            warning=True,
        )


def _of(banks: list[BatteryBank]) -> str:
    """`a bank of 24 V LFP`."""
    told = []
    for one in banks:
        assert one.plate.voltage is not None
        told.append(f"a bank of {one.plate.voltage.text} {one.plate.chemistry or ''}".strip())
    return " or ".join(dict.fromkeys(told))


def _bands(banks: list[BatteryBank]) -> Bands:
    """The usual range of each stage of charging, and of how many cells, of all the banks."""
    usual = [pair for one in banks for pair in _usual(one)]
    return {
        "absorption": [(cells, one.absorption) for cells, one in usual],
        "float": [(cells, one.holding) for cells, one in usual],
        "equalise": [(cells, one.equalise) for cells, one in usual if one.equalise],
    }


def _limits(found: list[tuple[int, tuple[float, float]]]) -> tuple[float, float]:
    """The least and the most that makers set."""
    return (
        min((low - MAKERS_DIFFER * cells for cells, (low, _) in found), default=0.0),
        max((high + MAKERS_DIFFER * cells for cells, (_, high) in found), default=0.0),
    )


def _fits(given: Quantity, found: list[tuple[int, tuple[float, float]]]) -> bool:
    """Whether a voltage, or a range of voltages, is one that makers set."""
    least, most = _limits(found)
    low = given.to("V")
    high = low if given.high is None else float(convert(given.high, given.unit, "V"))
    return least - ROUNDING <= low and high <= most + ROUNDING


def _allowed(found: list[tuple[int, tuple[float, float]]]) -> str:
    least, most = _limits(found)
    if not found:
        return "no equalising of such a battery"
    return f"from {least:.1f} to {most:.1f} V by its maker"


def _usual(bank: BatteryBank) -> list[tuple[int, SetPoints]]:
    """Cells and set-points of the bank; where no chemistry is entered, of each there is."""
    plate = bank.plate
    assert plate.voltage is not None
    known = [CHEMISTRY[plate.chemistry]] if plate.chemistry else sorted({*CHEMISTRY.values()})
    counted = [
        (plate.cells_in_series or cell_count(plate.voltage.to("V"), one), one) for one in known
    ]
    return [(cells, set_points(one, cells)) for cells, one in counted]


def _mix(homestead: Homestead, engine: SmallEngine) -> Iterator[Problem]:
    """Whether the gasoline to one of oil is a mix that two-strokes take."""
    mix = engine.plate.mix
    if mix is None or MIXES[0] <= mix <= MIXES[1]:
        return
    yield homestead.files.problem(
        engine,
        ("plate", "mix"),
        f"{mix:g} parts of gasoline to one of oil",
        f"{MIXES[0]} to {MIXES[1]} for a two-stroke; no `mix:` for a four-stroke",
        "look at the fuel cap or in the maker's manual; too little oil seizes the engine",
        warning=True,
    )
