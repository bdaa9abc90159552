"""Where everything is shut off: the rows of the table, and the map that is drawn of some of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import GASES, Machine, Tank
from steadbook.pages.called import FUEL_GAS, answers_to
from steadbook.workings import Workings, words

ORDER = ("propane", "gasoline", "diesel", "genset", "mains power", "battery power", "solar power",
         "water")  # fmt: skip
GROUPS = ("Gas", "Genset and fuel", "Electricity", "Water", "The rest")
GROUP_OF = {
    "propane": "Gas",
    "gasoline": "Genset and fuel",
    "diesel": "Genset and fuel",
    "genset": "Genset and fuel",
    "mains power": "Electricity",
    "battery power": "Electricity",
    "solar power": "Electricity",
    "water": "Water",
}
WET = ("well pump", "pressure tank", "water line", "uv lamp", "water filter")
ELECTRIC = ("battery bank", "inverter", "array", "load")
LIVE = ("mains", "battery", "solar power")
SENT_TO = ("genset", "inverter", "well pump")
"""Kinds of machine that a page sends people to shut off, as it does to tanks of gas."""


@dataclass(frozen=True)
class ShutOffRow:
    """How one machine is shut off: its number on the map if it has one, and the owner's words.

    ``how`` is how to shut the valve, breaker or switch, ``stop`` how to stop the machine, where
    that says more. Both empty: the inventory does not tell, and a page sends people there.
    """

    number: int | None
    group: str
    what: str
    machine: Machine
    where: str
    how: str
    stop: str


def shut_offs(homestead: Homestead) -> list[ShutOffRow]:
    """All that can be shut off, a row a machine, by what it shuts; what is on the map first."""
    found = [one for one in homestead.machines.values() if one.shut_off is not None]
    found.sort(key=lambda one: ORDER.index(one.shut_off.what) if one.shut_off else 0)
    numbers = {one.id: number for number, one in enumerate(found, start=1)}
    others = [
        one
        for one in homestead.machines.values()
        if one.id not in numbers and (one.how_to_stop or _is_sent_to(one))
    ]
    others.sort(key=lambda one: one.spare)
    rows = [_row(one, numbers.get(one.id)) for one in (*found, *others)]
    return sorted(rows, key=lambda row: GROUPS.index(row.group))


def grouped(homestead: Homestead) -> Iterator[tuple[str, list[ShutOffRow]]]:
    """The same rows under what they shut."""
    rows = shut_offs(homestead)
    for group in GROUPS:
        inside = [row for row in rows if row.group == group]
        if inside:
            yield group, inside


def _row(machine: Machine, number: int | None) -> ShutOffRow:
    at, stop = machine.shut_off, machine.how_to_stop or ""
    how = (at.how if at else None) or stop
    if _words(how) in _words(stop):
        how, stop = stop, ""
    elif _words(stop) in _words(how):
        stop = ""
    return ShutOffRow(
        number,
        GROUP_OF[at.what] if at else _group(machine),
        at.what if at else "",
        machine,
        (at.where if at else None) or machine.place or "",
        _ended(how),
        _ended(stop),
    )


def _ended(text: str) -> str:
    return text if not text or text.rstrip().endswith((".", "!")) else f"{text.rstrip()}."


def _words(text: str) -> str:
    return " ".join(text.casefold().split()).strip(" .")


def _group(machine: Machine) -> str:
    kind = getattr(machine, "kind", "")
    contents = machine.plate.contents if isinstance(machine, Tank) else None
    if kind == "genset":
        return "Genset and fuel"
    if kind in WET or contents == "water":
        return "Water"
    if FUEL_GAS in answers_to(machine):
        return "Gas"
    if contents or kind == "fuel cans":
        return "Genset and fuel"
    if kind in ELECTRIC or any(hazard in machine.hazards for hazard in LIVE):
        return "Electricity"
    return "The rest"


def _is_sent_to(machine: Machine) -> bool:
    if machine.spare:
        return False
    is_gas_tank = isinstance(machine, Tank) and machine.plate.contents in GASES
    return is_gas_tank or getattr(machine, "kind", "") in SENT_TO


def site_map(workings: Workings, subject: str) -> tuple[dict[str, Any], str, str]:
    """The numbers of the map, a text for who cannot see it, a caption."""
    homestead = workings.homestead
    rows = [row for row in shut_offs(homestead) if row.number is not None]
    if not rows:
        return {}, "", "No shut-off is placed on the map yet."
    if not homestead.place.map:
        return {}, "", "The place has no map yet; the table tells where each shut-off is."
    in_feet = homestead.place.units == "us"
    data = {
        "unit": "ft" if in_feet else "m",
        "per_metre": 1 / 0.3048 if in_feet else 1.0,
        "buildings": [
            {"name": name, **{key: round(getattr(one, key).to("m"), 2)
                              for key in ("x", "y", "width", "depth")}}
            for name, one in homestead.place.map.items()
        ],
        "marks": [
            {"number": row.number, "what": row.what, "x": round(at.x.to("m"), 2),
             "y": round(at.y.to("m"), 2)}
            for row in rows if (at := row.machine.shut_off)
        ],
    }  # fmt: skip
    alt = (
        f"Map of {words.count(len(rows), 'shut-off')} among "
        f"{words.count(len(homestead.place.map), 'building')}, north up; the "
        "table tells where each is and how to shut it."
    )
    return data, alt, "North is up. Each number stands in the table; its shape says what it shuts."
