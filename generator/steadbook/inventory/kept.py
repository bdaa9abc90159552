"""Years of the log as they were read, kept so that they need not be read again.

A year is kept under a hash of its text and of the code that reads it: what is found is what
reading would give again, whatever happened to the file meanwhile. What is missing, spoilt or not
understood is read again, so the folder may be deleted at any time. It holds values alone, never
anything that could be run.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
import threading
from collections import deque
from collections.abc import Iterable
from contextlib import suppress
from datetime import date
from functools import cache
from glob import escape
from itertools import repeat
from pathlib import Path
from typing import Any, TypeVar

import pydantic
import yaml
from pydantic import BaseModel

from steadbook import errors, inventory, units
from steadbook.inventory.models import Grant, LogYear, Private
from steadbook.units import Quantity

M = TypeVar("M", bound=BaseModel)

WORTH_KEEPING = 20_000
"""Characters of a year: a shorter one is read as quickly as it is fetched."""
OF_EACH_YEAR = 2  # as the file is, and as it will be with the entry that is asked about
NOT_UNDERSTOOD = (
    LookupError, TypeError, ValueError, AttributeError, OverflowError, RecursionError,
)  # fmt: skip


class KeptYears:
    """The years kept in a folder; without a folder there are none."""

    def __init__(self, folder: Path | None) -> None:
        self.folder = folder

    def find(self, stem: str, text: str) -> LogYear | None:
        """The year of this text, if it is kept."""
        if self.folder is None or len(text) < WORTH_KEEPING:
            return None
        try:
            told, _, body = self._file(stem, text).read_bytes().partition(b"\n")
            if told.decode() != hashlib.sha256(body).hexdigest():
                return None
            return _unpacked(json.loads(body))
        except (OSError, *NOT_UNDERSTOOD):
            return None

    def keep(self, stem: str, text: str, year: LogYear) -> None:
        """Keep a year that was read from this text without any problem."""
        if self.folder is None or len(text) < WORTH_KEEPING:
            return
        with suppress(OSError, *NOT_UNDERSTOOD):  # keeping it only saves time
            body = json.dumps(_packed(year), separators=(",", ":")).encode()
            told = hashlib.sha256(body).hexdigest().encode()
            write_whole(self._file(stem, text), told + b"\n" + body)
            self._prune(stem)

    def _file(self, stem: str, text: str) -> Path:
        assert self.folder is not None
        mixed = hashlib.sha256(_reader())
        mixed.update(text.encode())
        return self.folder / f"{stem}.{mixed.hexdigest()[:32]}.json"

    def _prune(self, stem: str) -> None:
        assert self.folder is not None
        of_year = self.folder.glob(f"{escape(stem)}.*.json")
        for old in sorted(of_year, key=lambda path: path.stat().st_mtime)[:-OF_EACH_YEAR]:
            old.unlink(missing_ok=True)


def write_whole(file: Path, content: bytes) -> None:
    """Write a file that is kept so that it is there whole or not at all. Raises OSError."""
    file.parent.mkdir(parents=True, exist_ok=True)
    new = file.with_name(f"{file.name}.{os.getpid()}-{threading.get_ident()}.new")
    new.write_bytes(content)
    os.replace(new, file)


def sources() -> list[Path]:
    """The code that turns a text into a year."""
    folders = (Path(str(package.__file__)).parent for package in (inventory, units))
    return [Path(errors.__file__), *(path for one in folders for path in sorted(one.rglob("*.py")))]


@cache
def _reader() -> bytes:
    """A hash of that code and of the libraries that it stands on."""
    mixed = hashlib.sha256(f"{sys.version} {pydantic.VERSION} {yaml.__version__}".encode())
    for path in sources():
        mixed.update(path.read_bytes())
    return mixed.digest()


# --- a year as plain columns ----------------------------------------------------------------


def _packed(year: LogYear) -> dict[str, Any]:
    """A year as lists of numbers and texts. Raises TypeError where it holds anything else."""
    values = _Values()
    lists = {}
    for key in year.model_fields_set:
        groups: dict[tuple[str, ...], list[int]] = {}
        entries = getattr(year, key)
        for place, entry in enumerate(entries):
            groups.setdefault(tuple(sorted(entry.model_fields_set)), []).append(place)
        lists[key] = [
            {
                "keys": keys,
                "places": places,
                "columns": [
                    [values.number(getattr(entries[n], key)) for n in places] for key in keys
                ],
            }
            for keys, places in groups.items()
        ]
    return {"values": values.plain, "lists": lists}


def _unpacked(kept: dict[str, Any]) -> LogYear:
    values = [_value(plain) for plain in kept["values"]]
    lists: dict[str, list[Any]] = {}
    for key, field in LogYear.model_fields.items():
        lists[key] = []
        if key in kept["lists"]:
            model = field.annotation.__args__[0]  # type: ignore[union-attr]
            lists[key] = _entries(model, kept["lists"][key], values)
    return _made(LogYear, [lists], set(kept["lists"]))[0]


def _entries(
    model: type[BaseModel], groups: list[dict[str, Any]], values: list[Any]
) -> list[BaseModel]:
    entries: list[Any] = [None] * sum(len(group["places"]) for group in groups)
    for group in groups:
        columns: dict[str, Iterable[Any]] = {
            name: repeat(field.get_default(call_default_factory=True), len(group["places"]))
            for name, field in model.model_fields.items()
        }
        for key, numbers in zip(group["keys"], group["columns"], strict=True):
            columns[key] = map(values.__getitem__, numbers)
        rows = [dict(zip(columns, row, strict=True)) for row in zip(*columns.values(), strict=True)]
        made = _made(model, rows, set(group["keys"]))
        for place, entry in zip(group["places"], made, strict=True):
            entries[place] = entry
    if any(entry is None for entry in entries):
        raise ValueError("an entry is missing")
    return entries


def _made(model: type[M], rows: list[dict[str, Any]], keys: set[str]) -> list[M]:
    """Entries of values that were checked when they were kept, made as unpickling makes them.

    They are many: each step is taken for all of them at once.
    """
    entries = [model.__new__(model) for _ in rows]
    state: dict[str, Iterable[Any]] = {
        "__dict__": rows,
        "__pydantic_fields_set__": repeat(keys),
        "__pydantic_extra__": repeat(None),
        "__pydantic_private__": repeat(None),
    }
    for name, values in state.items():
        deque(map(object.__setattr__, entries, repeat(name), values), maxlen=0)
    return entries


class _Values:
    """Each different value once: a text, a day as its number, a quantity as its parts."""

    def __init__(self) -> None:
        self.numbers: dict[Any, int] = {}
        self.plain: list[Any] = []

    def number(self, value: Any) -> int:
        kind, known = type(value), value
        if kind is Quantity:
            known = value, value.text  # two that are equal may be written differently
        elif kind not in (str, date):
            known = json.dumps(_plain(value))
        at = kind, known
        if at not in self.numbers:
            self.numbers[at] = len(self.plain)
            self.plain.append(_plain(value))
        return self.numbers[at]


def _plain(value: Any) -> Any:
    kind = type(value)
    if value is None or kind is str:
        return value
    if kind is date:
        return value.toordinal()
    if kind is Quantity:
        return [value.magnitude, value.unit, value.kind, value.text, value.high]
    if kind is list:
        return {"list": [_plain(one) for one in value]}
    if kind is dict:
        return {"map": {key: _plain(one) for key, one in value.items()}}
    if kind in (Private, Grant):
        given = _plain({key: one for key, one in value if key in value.model_fields_set})
        return {"private": given} if kind is Private else given
    raise TypeError(kind)


def _value(plain: Any) -> Any:
    kind = type(plain)
    if plain is None or kind is str:
        return plain
    if kind is int:
        return date.fromordinal(plain)
    if kind is list:
        return Quantity(*plain)
    ((word, inside),) = plain.items()
    if word == "private":
        return Private.model_validate(_value(inside))
    if word == "map":
        return {key: _value(one) for key, one in inside.items()}
    return [_value(one) for one in inside]
