"""The days to order fuel by, for the terminal: kept, so that a second look loads no arrays."""

from __future__ import annotations

import contextlib
import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from steadbook.inventory.kept import write_whole
from steadbook.inventory.models import Genset, Load, Tank

if TYPE_CHECKING:
    from steadbook.workings import Workings

FILE = "fuel-orders.json"
PACKAGE = Path(__file__).parent.parent


@dataclass(frozen=True)
class FuelDue:
    """A tank to be filled: its name, the last day to order, why it is earlier than by plate, what is late."""

    tank: str
    order_by: date
    reason: str
    late: str


def fuel_due(workings: Workings) -> list[FuelDue]:
    """The tanks with a day to order fuel by, the soonest first."""
    if not any(_may_be_ordered(one) for one in workings.homestead.machines.values()):
        return []
    key = _key(workings)
    found = _read(workings.kept, key)
    if found is None:
        found = list(_worked_out(workings))
        _write(workings.kept, key, found)
    return found


def _may_be_ordered(machine: object) -> bool:
    return isinstance(machine, Tank) and machine.supplier is not None and machine.holds_fuel


def _worked_out(workings: Workings) -> Iterator[FuelDue]:
    for stock in workings.fuel.to_order:
        assert stock.order is not None
        reason = workings.fuel.reasons.get(stock.tank.id, "")
        late = workings.fuel.late.get(stock.tank.id)
        told = late.words() if late else ""
        yield FuelDue(stock.tank.name, stock.order.order_by, reason, told)


def _key(workings: Workings) -> str:
    """A hash of every entry that fuel is reckoned from, and of the code that does it."""
    homestead = workings.homestead
    machines = [one for one in homestead.machines.values() if isinstance(one, Genset | Load | Tank)]
    meters = [
        (one.id, meters[one.id].rate, meters[one.id].reckoned)
        for meters in (workings.running, workings.metered)
        for one in machines
        if one.id in meters
    ]
    log = [
        year.fingerprint(key) for year in homestead.log.years for key in ("levels", "deliveries")
    ]
    entries = [
        workings.as_of, homestead.place, homestead.climate, homestead.suppliers, machines, meters, log,
    ]  # fmt: skip
    mixed = hashlib.sha256(repr(entries).encode())
    for room in ("figures", "units", "workings"):
        for path in sorted((PACKAGE / room).glob("*.py")):
            mixed.update(path.read_bytes())
    return mixed.hexdigest()[:24]


def _read(kept: Path | None, key: str) -> list[FuelDue] | None:
    if kept is None:
        return None
    try:
        told = json.loads((kept / FILE).read_text("utf-8"))
        if told["key"] != key:
            return None
        return [
            FuelDue(str(tank), date.fromisoformat(day), str(reason), str(late))
            for tank, day, reason, late in told["tanks"]
        ]
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _write(kept: Path | None, key: str, found: list[FuelDue]) -> None:
    if kept is None:
        return
    rows = [[one.tank, one.order_by.isoformat(), one.reason, one.late] for one in found]
    with contextlib.suppress(OSError):  # keeping it only saves time
        write_whole(kept / FILE, json.dumps({"key": key, "tanks": rows}).encode())
