"""A gauge as people read it: gallons, litres or a weight become percent of the tank."""

from __future__ import annotations

from dataclasses import replace

from steadbook import units
from steadbook.errors import InventoryErrors, Problem, QuantityError
from steadbook.inventory import Homestead
from steadbook.inventory.models import Tank
from steadbook.records.recording import Record
from steadbook.units import Quantity

ROUNDED = 1e-9


def amount_read(text: object) -> Quantity | None:
    """The volume or mass that was written for a level; None where it is anything else.

    >>> amount_read("120 gal").unit, amount_read("62 %"), amount_read("62")
    ('gal', None, None)
    """
    for kind in ("volume", "mass"):
        try:
            found = units.parse(str(text), kind)
        except QuantityError:
            continue
        return found if found.high is None else None
    return None


def in_percent(record: Record, homestead: Homestead) -> Record:
    """A level read as an amount, as percent of its tank; what was read goes into the notes.

    Raises InventoryErrors where the plate does not tell how much the tank holds.
    """
    amount = amount_read(record.filled.get("level")) if record.kind.word == "level" else None
    tank = homestead.machines.get(str(record.filled.get("tank")))
    if amount is None or not isinstance(tank, Tank):
        return record
    if tank.plate.capacity is None or tank.plate.capacity.to("L") <= 0:
        raise _refused(
            record, "a percentage, as the capacity of this tank is not known",
            f"enter `capacity:` on the plate of {tank.name}, or read the gauge in percent",
        )  # fmt: skip
    litres = amount.to("L") if amount.kind == "volume" else _litres(amount, tank, record)
    size = tank.plate.capacity.to("L") * tank.plate.count
    percent = litres / size * 100
    holds = tank.plate.capacity.text + (f" x {tank.plate.count}" if tank.plate.count > 1 else "")
    if percent > 100 + ROUNDED:
        raise _refused(
            record, f"at most what the tank holds, {holds}",
            "look at the gauge and the unit again, or at `capacity:` on the plate"
            + ("; of a weight the empty cylinder is taken off" if amount.kind == "mass" else ""),
        )  # fmt: skip
    what = "read"
    if amount.kind == "mass":
        what = "weighed" if tank.plate.contents == "water" else "weighed without the cylinder"
    told = f"{what} as {amount.text} of {holds}"
    notes = record.filled.get("notes")
    filled = {
        **record.filled,
        "level": f"{round(percent, 1):g} %",
        "notes": f"{notes}; {told}" if notes else told,
    }
    return replace(record, filled=filled)


def _litres(amount: Quantity, tank: Tank, record: Record) -> float:
    """What a weight of the contents takes up, at the density that is known of it."""
    if tank.plate.contents == "water":
        return amount.to("kg")
    if tank.plate.contents != "propane":
        raise _refused(
            record, f"a volume or a percentage; the density of {tank.plate.contents or 'it'} varies",
            "write how many gallons or litres there are, or the percentage",
        )  # fmt: skip
    from steadbook.figures import propane

    density = float(propane.liquid_density(propane.REFERENCE_TEMPERATURE))  # kg/m3
    return amount.to("kg") / density * 1000


def _refused(record: Record, allowed: str, fix: str) -> InventoryErrors:
    return InventoryErrors(
        [Problem(*record.origin, "level", str(record.filled["level"]), allowed, fix)]
    )
