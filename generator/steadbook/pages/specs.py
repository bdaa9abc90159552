"""What a machine says of itself on a page: its specs, its data plate, its owner's words."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, TypeAlias

from markupsafe import Markup
from pydantic import BaseModel

from steadbook import units
from steadbook.errors import PageError
from steadbook.inventory.explain import listing
from steadbook.inventory.models import Machine, Spec
from steadbook.pages.escape import as_text, pretty
from steadbook.units import Quantity
from steadbook.workings import words

Show: TypeAlias = Callable[[Quantity], Markup]
SIDES = {"intake valve": ("intake", "inlet"), "exhaust valve": ("exhaust", "outlet")}


def spec_text(machine: Machine, name: str, part: str, show: Show) -> Markup:
    """A spec of a machine: one of its fields, or all in one line. Raises PageError."""
    file = f"site_data/{machine.system}.yaml"
    found = machine.specs.get(name)
    if found is None:
        raise PageError(
            "",
            0,
            f"the spec {name!r}, which {machine.id} does not have (it has "
            f"{listing(machine.specs)})",
            f"add it under `specs:` of {machine.id} in {file}",
        )
    if part:
        value = getattr(found, part, None) if part in Spec.model_fields else None
        if value is None:
            raise PageError(
                "",
                0,
                f"the {part} of the spec {name!r} of {machine.id}, which is not given",
                f"add `{part}:` to {name!r} in {file}",
            )
        return show(value) if isinstance(value, Quantity) else pretty(value)
    return Markup(", ").join(_spec_field(row, show) for row in spec_rows(found))


def _spec_field(row: tuple[str, Any], show: Show) -> Markup:
    label, value = row
    shown = show(value) if isinstance(value, Quantity) else pretty(value)
    return Markup("{} {}").format(label.lower(), shown) if label else shown


def plate_rows(machine: Machine, show: Show) -> list[tuple[str, Markup]]:
    """The data plate: what each line is, and its value."""
    plate = getattr(machine, "plate", None)
    if isinstance(plate, dict):
        return [(key, as_text(value)) for key, value in plate.items()]
    rows = []
    for key, value in plate or ():
        if value is None or value == {} or _has_parts(value):
            continue
        rows.append((key.replace("_", " ").capitalize(), _plate_text(value, show)))
    return rows


def _plate_text(value: Any, show: Show) -> Markup:
    if isinstance(value, Quantity):
        return show(value)
    if isinstance(value, units.CalendarInterval):
        return as_text(value.text)
    if isinstance(value, bool):
        return as_text("yes" if value else "no")
    if isinstance(value, tuple):  # a day of the year
        return as_text(f"{value[1]} {words.MONTHS[value[0] - 1]}")
    if isinstance(value, dict):
        return as_text("; ".join(f"{key.text}: {row}" for key, row in value.items()))
    return pretty(value)


def _has_parts(value: Any) -> bool:
    """Whether a value of a plate is itself a group of keys, or several: a page of its own has them."""
    first = next(iter(value.values()), None) if isinstance(value, dict) else value
    return isinstance(first, BaseModel)


def lash_spec(machine: Machine, valve: str) -> str:
    """The name of the spec with the lash of a valve: its own, or one that a task names.

    A spec that names neither side, as `valve lash`, serves both valves.
    """
    given = [name for name, one in machine.specs.items() if one.lash is not None]
    if valve in given:
        return valve
    named = [name for task in machine.tasks.values() for name in task.specs if name in given]
    sides = {name: _side(name) for name in named}
    own = [name for name, side in sides.items() if side == valve]
    both = [name for name, side in sides.items() if side is None]
    return (own + both + [valve])[0]


def _side(name: str) -> str | None:
    """The valve that a spec's name tells of, if it tells of one."""
    told = [valve for valve, words_ in SIDES.items() if any(w in name.lower() for w in words_)]
    return told[0] if len(told) == 1 else None


def spec_rows(spec: Spec) -> list[tuple[str, Any]]:
    """What a spec says, as (label, value) in a fixed order."""
    rows = []
    for key in Spec.model_fields:
        value = getattr(spec, key)
        if value is None or key in ("notes", "private"):
            continue
        label = {"value": "", "fluid": "", "engine": "Engine"}.get(key, key.capitalize())
        rows.append((label, value))
    return rows


_WARMING = re.compile(r"\d\s*min\b|\bminutes?\b|\bidl(e|ing)\b|(without|no) load|cool.?down", re.I)


def tells_minutes(steps: str) -> bool:
    """Whether the owner's steps tell how long an engine runs without load, warming or cooling.

    >>> tells_minutes("Breaker down, let it run 3 min, then key to 0.")
    True
    >>> tells_minutes("Engine switch to OFF. Let it cool before you cover it.")
    False
    """
    return _WARMING.search(steps) is not None
