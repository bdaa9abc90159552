"""What was measured on a machine, beside the spec that it is held against."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from steadbook import units
from steadbook.errors import QuantityError
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Machine, Spec
from steadbook.units import Quantity
from steadbook.workings import words


@dataclass(frozen=True)
class MeasuredRow:
    """The last measurement of a spec, the one before it, and how it stands to the limit."""

    spec: str
    limit: str
    value: str
    day: date
    before: str
    verdict: str
    notes: str


def measured(homestead: Homestead, machine: Machine) -> list[MeasuredRow]:
    """One row for each spec and place that the log has a measurement of, in the order of the log."""
    found: dict[tuple[str, str], list[tuple[date, str, str]]] = {}
    for one in homestead.log.measurements:
        if one.machine == machine.id:
            found.setdefault((one.spec, one.at or ""), []).append(
                (one.date, one.value, one.notes or "")
            )
    rows = []
    for (name, place), entries in found.items():
        day, value, notes = entries[-1]
        spec = machine.specs.get(name)
        before = f"{entries[-2][1]} on {words.day(entries[-2][0])}" if len(entries) > 1 else ""
        limit = _limit(homestead, spec) if spec else ""
        title = f"{name}, {place}" if place else name
        rows.append(
            MeasuredRow(
                title,
                limit,
                value,
                day,
                before,
                _verdict(spec, value, homestead.place.units),
                notes,
            )
        )
    return rows


def _quantity(spec: Spec) -> Quantity | None:
    return next(
        (getattr(spec, key) for key in Spec.model_fields
         if isinstance(getattr(spec, key), Quantity)), None,
    )  # fmt: skip


def _limit(homestead: Homestead, spec: Spec) -> str:
    quantity = _quantity(spec)
    shown = words.quantity(quantity, homestead.place.units) if quantity else ""
    if shown and spec.limit:
        shown += " or lower" if spec.limit == "highest" else " or higher"
    return ", ".join(part for part in (shown, spec.value or "") if part)


def _verdict(spec: Spec | None, value: str, prefer: units.System) -> str:
    """`within`, `below by 4 %`, ...; nothing where the two cannot be compared.

    A temperature is told apart in degrees: a share of one means nothing, its zero is arbitrary.
    """
    limit = _quantity(spec) if spec else None
    if limit is None:
        return ""
    try:
        got = units.parse(value, limit.kind)
    except QuantityError:
        return ""
    low, high = limit.magnitude, limit.high if limit.high is not None else limit.magnitude
    reading = got.to(limit.unit)
    assert spec is not None
    if (spec.limit == "highest" and reading <= high) or (spec.limit == "lowest" and reading >= low):
        return "within"
    if low <= reading <= high:
        return "within" if limit.high is not None else "as specified"
    edge = low if reading < low else high
    side = "below" if reading < low else "above"
    if limit.kind == "temperature":
        apart = units.show_value(abs(reading - edge), f"delta {limit.unit}", prefer, digits=2)
        return f"{side} by {apart}"
    return f"{side} by {abs(reading - edge) / abs(edge):.1%}".replace("%", " %") if edge else side
