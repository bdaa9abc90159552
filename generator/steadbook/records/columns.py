"""A CSV file made by something else: what its columns are to us, by a small YAML file beside it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from steadbook.errors import InventoryErrors, Problem, RecordError
from steadbook.inventory import explain
from steadbook.inventory.fields import Line
from steadbook.inventory.read import read_text
from steadbook.records.kinds import KINDS

OURS = ("kind", *dict.fromkeys(blank.key for kind in KINDS.values() for blank in kind.blanks))
DAYS = ("date", "promised", "back_order_until", "ordered")
BARE = re.compile(r"[-+]?[\d.,]+")
NUMBER = re.compile(r"[-+]?(\d{1,3}(\.\d{3})+|\d+)(,\d+)?(\s*[^\d\s.,]+)?$")
"""A number with its unit, as people with a decimal comma write it: `1.432,5 h`."""
PIECES = {"YYYY": "%Y", "YY": "%y", "MM": "%m", "DD": "%d", "M": "%m", "D": "%d"}


class ColumnMap(BaseModel):
    """What the columns of a foreign CSV file are."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    columns: dict[Line, Line] = Field(description="Their column: our key, such as `Std: hours`")
    fixed: dict[Line, Line] = Field(
        default_factory=dict, description="Our keys with one value for all rows, such as kind"
    )
    kinds: dict[Line, Line] = Field(
        default_factory=dict, description="Their words for a kind: ours, such as `Wartung: service`"
    )
    units: dict[Line, Line] = Field(
        default_factory=dict, description="The unit of our keys whose column holds bare numbers"
    )
    date_format: Line = Field(
        default="YYYY-MM-DD", description="How they write a day, such as MM/DD/YYYY"
    )
    decimal: Literal[".", ","] = Field(".", description="Before the tenths of a number")
    separator: Literal[",", ";", "tab"] = Field(",", description="What stands between two values")

    @property
    def delimiter(self) -> str:
        """The character between two values."""
        return "\t" if self.separator == "tab" else self.separator


def read_columns(path: Path) -> ColumnMap:
    """Read a column map. Raises InventoryErrors, RecordError."""
    try:
        text = path.read_text("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise RecordError(
            f"{path}\n  found:   {getattr(error, 'strerror', None) or 'no UTF-8 text'}\n"
            "  allowed: a YAML file with `columns:`\n  fix:     check the name"
        ) from None
    tree, problems = read_text(text, path.name)
    if problems:
        raise InventoryErrors(problems)
    try:
        made = ColumnMap.model_validate(tree)
    except ValidationError as error:
        raise InventoryErrors(explain.problems(error, ColumnMap, tree, path.name)) from None
    wrong = _wrong(made, path.name)
    if wrong:
        raise InventoryErrors(wrong)
    return made


def _wrong(made: ColumnMap, name: str) -> list[Problem]:
    found = []
    named = [*made.columns.values(), *made.fixed]
    for key in dict.fromkeys([*named, *made.units]):
        if key not in OURS:
            fix = explain.nearest(key, OURS) or "use one of these keys"
            found.append(Problem(name, 1, key, "no key of ours", explain.listing(OURS), fix))
    for key in dict.fromkeys(named):
        if named.count(key) > 1:
            found.append(Problem(
                name, 1, key, f"{key!r} twice", "each of our keys once, a column or fixed",
                "remove one of the two",
            ))  # fmt: skip
    for key in ("kind", "date"):
        if key not in named:
            found.append(Problem(
                name, 1, "", f"nothing that gives the {key}", "a column or a fixed value for it",
                f"add `{key}:` under `fixed:`, or the column that holds it",
            ))  # fmt: skip
    if {"Y", "M", "D"} - set(made.date_format):
        found.append(Problem(
            name, 1, "date_format", made.date_format, "a form such as MM/DD/YYYY or D.M.YYYY",
            "write Y, M and D where year, month and day stand",
        ))  # fmt: skip
    return found


@dataclass(frozen=True)
class Turned:
    """A foreign heading in our words: our keys, and from which place each one comes."""

    made: ColumnMap
    heading: tuple[str, ...]
    places: tuple[int, ...]
    left_out: tuple[str, ...]

    def cells(self, row: Sequence[str], file: str, line: int) -> list[str]:
        """One row in the order of our heading. Raises InventoryErrors."""
        found = []
        for key, place in zip(self.heading, self.places, strict=False):
            text = row[place].strip() if place < len(row) else ""
            found.append(self._value(key, text, file, line) if text else "")
        return [*found, *self.made.fixed.values()]

    def _value(self, key: str, text: str, file: str, line: int) -> str:
        if key == "kind":
            return self.made.kinds.get(text, text)
        if key in DAYS:
            try:
                return datetime.strptime(text, _pattern(self.made.date_format)).date().isoformat()
            except ValueError:
                raise InventoryErrors([Problem(
                    file, line, key, text, f"a day written {self.made.date_format}",
                    "correct it, or `date_format:` of the column map",
                )]) from None  # fmt: skip
        if key in self.made.units and BARE.fullmatch(text):
            text = f"{text} {self.made.units[key]}"
        if self.made.decimal == "," and NUMBER.match(text):
            text = text.replace(".", "").replace(",", ".", 1)
        return text


def turned(made: ColumnMap, heading: Sequence[str], file: str) -> Turned:
    """Where our keys are in a foreign file. Raises InventoryErrors where a column is missing."""
    names = [name.strip() for name in heading]
    missing = [name for name in made.columns if name not in names]
    if missing:
        raise InventoryErrors([
            Problem(
                file, 1, "", f"no column {name!r}", explain.listing(names),
                explain.nearest(name, names) or "correct the column map",
            )
            for name in missing
        ])  # fmt: skip
    used = {name: names.index(name) for name in made.columns}
    return Turned(
        made,
        (*made.columns.values(), *made.fixed),
        tuple(used.values()),
        tuple(name for name in names if name and name not in used),
    )


def _pattern(written: str) -> str:
    """`MM/DD/YYYY` as strptime wants it."""
    return re.sub("YYYY|YY|MM|DD|M|D", lambda match: PIECES[match[0]], written.replace("%", "%%"))
