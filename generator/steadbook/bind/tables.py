"""Schedule, parts, log and fuel as CSV tables for a spreadsheet (RFC 4180), or as one workbook.

Days are written as ISO 8601 has them, units stand in the headings. A text that a spreadsheet would
take for a formula is led by an apostrophe.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from steadbook.inventory import Homestead
from steadbook.inventory.models import Part
from steadbook.inventory.year import LISTS
from steadbook.units import Quantity, System
from steadbook.workings import Workings

if TYPE_CHECKING:
    import pandas  # type: ignore[import-untyped,unused-ignore]

FORMULA = ("=", "+", "-", "@", "\t", "\r")
VOLUME: dict[System, str] = {"us": "gal", "metric": "L"}
Row = dict[str, Any]

LOG_COLUMNS = (
    "date", "kind", "machine", "tank", "part", "supplier", "meter [h]", "ran [h]", "tasks", "parts",
    "amount", "promised", "received",
    "level [%]", "spec", "value", "by", "text", "notes", "where",
)  # fmt: skip
FUEL_COLUMNS = ("date", "tank", "supplier", "amount [{}]", "before [%]", "after [%]", "price")


def tables(workings: Workings) -> dict[str, str]:
    """The text of each table by its file name."""
    return {f"{name}.csv": _csv(rows, columns) for name, (rows, columns) in _made(workings).items()}


def tables_as_workbook(workings: Workings) -> bytes:
    """All tables as one workbook. Raises BindError where openpyxl is not installed."""
    from steadbook.bind.workbook import require_openpyxl, workbook

    require_openpyxl()
    found = {}
    for name, (rows, columns) in _made(workings).items():
        listed = list(rows)
        heading = columns or list(dict.fromkeys(key for row in listed for key in row))
        found[name] = (list(heading), listed)
    return workbook(found, workings.as_of)


def _made(workings: Workings) -> dict[str, tuple[Iterable[Row], Sequence[str] | None]]:
    """The rows of each table, and its columns where they are known without rows."""
    homestead = workings.homestead
    volume = VOLUME[homestead.place.units]
    return {
        "schedule": (_schedule(workings), None),
        "parts": (_parts(workings), None),
        "log": (_log(homestead), LOG_COLUMNS),
        "fuel": (_fuel(homestead, volume), [one.format(volume) for one in FUEL_COLUMNS]),
    }


def _csv(rows: Iterable[Row], columns: Iterable[str] | None) -> str:
    """Rows as CSV text; a table without rows keeps its heading where it is known."""
    import pandas

    frame = pandas.DataFrame([{key: _safe(one) for key, one in row.items()} for row in rows])
    if columns is not None:
        frame = frame.reindex(columns=list(columns))
    return _text(frame)


def _text(frame: pandas.DataFrame) -> str:
    return str(frame.to_csv(index=False, lineterminator="\r\n", float_format="%.10g"))


def _safe(value: Any) -> Any:
    """A value no spreadsheet takes for a formula.

    >>> _safe("=1+1"), _safe("- a word"), _safe(-5.0)
    ("'=1+1", "'- a word", -5.0)
    """
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, str):
        return f"'{value}" if value.startswith(FORMULA) else value
    return value


def _schedule(workings: Workings) -> Iterable[Row]:
    for state in workings.by_urgency():
        due, done, task = state.due, state.done, state.task
        yield {
            "system": state.machine.system,
            "machine": state.machine.name,
            "task": task.title,
            "status": "on rounds" if state.is_ticked else workings.status(state),
            "due": None if state.is_ticked else due.day,
            "earliest": due.earliest,
            "latest": due.latest,
            "due at [h]": due.at_hours,
            "left [h]": due.hours_left,
            "interval": task.every.text,
            "season": task.season.text if task.season else None,
            "last done": done.day if done.recorded else None,
            "last done at [h]": done.hours if done.recorded else None,
            "order by": workings.order_by.get(state.key),
            "work [min]": task.minutes.to("min") if task.minutes else None,
        }
    for one in workings.expiring:
        yield {
            "system": one.unit.machine.system,
            "machine": one.unit.machine.name,
            "task": one.unit.title,
            "status": one.status,
            "due": one.day,
        }


def _parts(workings: Workings) -> Iterable[Row]:
    for name, line in workings.shelf.items():
        order = workings.next_order(line)
        yield {
            "part": name,
            "name": line.part.name,
            "number": line.part.number,
            "supplier": line.supplier.name,
            "unit": line.part.on_hand.unit or "pieces",
            "on the shelf": line.on_hand,
            "on order": sum(size for _, _, size in line.on_order),
            "visits take": line.needed,
            "missing up to the next order": _as_shown(order.amount, line.part) if order else 0.0,
            "packs to buy": order.packs if order else 0,
            "in a pack": line.packages(0.0)[1],
            "order by": order.order_by if order else None,
            "counted": line.counted.day,
            "kept": line.part.kept,
        }


def _as_shown(amount: float, part: Part) -> float:
    """An amount of a part to the digits that the pages show."""
    return amount if part.on_hand.kind == "count" else float(f"{amount:.3g}")


def _log(homestead: Homestead) -> list[Row]:
    log = homestead.log
    rows = []
    for key in LISTS:
        for entry in getattr(log, key):
            values = {name: getattr(entry, name) for name in type(entry).model_fields}
            hours, ran, level = (values.get(one) for one in ("hours", "duration", "level"))
            row = {name: _words(value) for name, value in values.items() if name in LOG_COLUMNS}
            row |= {
                "date": entry.date,
                "kind": key,
                "meter [h]": hours.to("h") if hours else None,
                "ran [h]": ran.to("h") if ran else None,
                "level [%]": level.to("%") if level else None,
                "where": homestead.files.where(entry),
            }
            rows.append(row)
    return sorted(rows, key=lambda row: row["date"])


def _words(value: Any) -> Any:
    if isinstance(value, Quantity):
        return value.text or str(value)
    if isinstance(value, list):
        return ", ".join(str(one) for one in value)
    if isinstance(value, Mapping):
        return ", ".join(f"{name}={_words(amount)}" for name, amount in value.items()) or None
    return value


def _fuel(homestead: Homestead, volume: str) -> list[Row]:
    rows: list[Row] = []
    for one in homestead.log.deliveries:
        price = one.private.price if one.private else None
        rows.append(
            {
                "date": one.date,
                "tank": one.tank,
                "supplier": one.supplier,
                f"amount [{volume}]": one.amount.to(volume),
                "before [%]": one.before.to("%") if one.before else None,
                "after [%]": one.after.to("%") if one.after else None,
                "price": price.text if price else None,
            }
        )
    rows += [
        {"date": one.date, "tank": one.tank, "after [%]": one.level.to("%")}
        for one in homestead.log.levels
    ]
    return sorted(rows, key=lambda row: (row["date"], row["tank"]))
