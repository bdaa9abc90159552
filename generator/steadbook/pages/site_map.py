"""The map of shut-offs: what stands where, for the drawing and for the table beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Machine
from steadbook.workings import Workings, words

ORDER = ("propane", "gasoline", "diesel", "genset", "mains power", "battery power", "solar power",
         "water")  # fmt: skip


SHUT_FIRST = ("tank", "genset", "battery bank", "inverter", "array", "well pump", "pressure tank")
"""Kinds of machine that a page sends people to shut off."""


@dataclass(frozen=True)
class ShutOffRow:
    """A shut-off with its number on the map; x and y in metres from the south-west corner."""

    number: int
    what: str
    machine: Machine
    where: str
    how: str
    x: float
    y: float


def shut_offs(homestead: Homestead) -> list[ShutOffRow]:
    """Every shut-off that the inventory places, by what it shuts, then as entered."""
    found = [one for one in homestead.machines.values() if one.shut_off is not None]
    found.sort(key=lambda one: ORDER.index(one.shut_off.what) if one.shut_off else 0)
    rows = []
    for number, machine in enumerate(found, start=1):
        at = machine.shut_off
        assert at is not None
        rows.append(
            ShutOffRow(
                number, at.what, machine, at.where or machine.place or "",
                at.how or machine.how_to_stop or "", at.x.to("m"), at.y.to("m"),
            )
        )  # fmt: skip
    return rows


def stops(homestead: Homestead) -> list[Machine]:
    """Machines that no shut-off is placed for, told by how they are stopped.

    Beside a map they are those that people are sent to shut off; without any, all of them.
    """
    placed = any(one.shut_off for one in homestead.machines.values())
    return [
        one
        for one in homestead.machines.values()
        if one.how_to_stop and one.shut_off is None and not one.spare
        if not placed or getattr(one, "kind", "") in SHUT_FIRST
    ]


def site_map(workings: Workings, subject: str) -> tuple[dict[str, Any], str, str]:
    """The numbers of the map, a text for who cannot see it, a caption."""
    homestead = workings.homestead
    rows = shut_offs(homestead)
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
            {"number": row.number, "what": row.what, "x": round(row.x, 2), "y": round(row.y, 2)}
            for row in rows
        ],
    }  # fmt: skip
    alt = (
        f"Map of {words.count(len(rows), 'shut-off')} among "
        f"{words.count(len(homestead.place.map), 'building')}, north up; the "
        "table tells where each is and how to shut it."
    )
    return data, alt, "North is up. Each number stands in the table; its shape says what it shuts."
