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
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import date
from functools import cache, cached_property
from glob import escape
from itertools import repeat
from operator import itemgetter
from pathlib import Path
from typing import Any, TypeVar

import pydantic
import yaml
from pydantic import BaseModel

from steadbook import errors, inventory, units
from steadbook.inventory.models import Grant, LogYear, Private
from steadbook.inventory.year import LISTS, Carried, Last, Shown, Year
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

    def find(self, stem: str, text: str) -> KeptYear | None:
        """The year of this text, if it is kept."""
        if self.folder is None or len(text) < WORTH_KEEPING:
            return None
        try:
            told, _, body = self._file(stem, text).read_bytes().partition(b"\n")
            if told.decode() != hashlib.sha256(body).hexdigest():
                return None
            return KeptYear(body.split(b"\n"))
        except (OSError, *NOT_UNDERSTOOD):
            return None

    def keep(self, stem: str, text: str, year: Year, tree: Mapping[str, Any]) -> None:
        """Keep a year that was read from this text without any problem; ``tree`` as written."""
        if self.folder is None or len(text) < WORTH_KEEPING:
            return
        with suppress(OSError, *NOT_UNDERSTOOD):  # keeping it only saves time
            body = b"\n".join(_packed(year, tree))
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


# --- a year as lines of plain columns -------------------------------------------------------
#
# The first line is what the year carries forward and which groups there are; a line for each
# group; the last one is the file as written. A line is read when it is asked for.


class KeptYear(Year):
    """A year of the log as it is kept. Its entries are made when they are asked for."""

    def __init__(self, lines: list[bytes]) -> None:
        head = json.loads(lines[0])
        super().__init__(_carried(head["carried"]))
        self._groups: dict[str, list[_Group]] = {}
        for (key, words), line in zip(head["groups"], lines[1:-1], strict=True):
            self._groups.setdefault(key, []).append(_Group(key, frozenset(words), line))
        self._lists: dict[str, list[Any]] = {}
        self._tree = lines[-1]

    def of(self, key: str) -> Sequence[Any]:
        """The entries of a list, as written."""
        if key not in self._lists:
            groups = self._groups.get(key, [])
            entries: list[Any] = [None] * sum(len(group.places) for group in groups)
            for group in groups:
                for place, entry in zip(group.places, group.entries, strict=True):
                    entries[place] = entry
            self._lists[key] = entries
        return self._lists[key]

    def having(self, key: str, word: str) -> Sequence[Any]:
        """Those entries of a list in which a key is written."""
        groups = [group for group in self._groups.get(key, []) if word in group.words]
        placed = [row for group in groups for row in zip(group.places, group.entries, strict=True)]
        return [entry for _, entry in sorted(placed, key=itemgetter(0))]

    def fingerprint(self, key: str) -> str:
        """A hash of the entries of a list, of which none is made for it."""
        lines = [group.line for group in self._groups.get(key, [])]
        return hashlib.sha256(b"\n".join(lines)).hexdigest()

    def made(self) -> Iterator[tuple[str, int, Any]]:
        """The entries made so far: their list, their place in it, themselves."""
        for key, groups in self._groups.items():
            for group in groups:
                if group.is_made:
                    for place, entry in zip(group.places, group.entries, strict=True):
                        yield key, place, entry

    def tree(self) -> dict[str, Any]:
        """The file as written, without its lines."""
        tree: dict[str, Any] = json.loads(self._tree)
        return tree


class _Group:
    """Entries of one list that have the same keys, as columns."""

    def __init__(self, key: str, words: frozenset[str], line: bytes) -> None:
        self.key = key
        self.words = words
        self.line = line

    @property
    def is_made(self) -> bool:
        return "entries" in self.__dict__

    @cached_property
    def _kept(self) -> dict[str, Any]:
        kept: dict[str, Any] = json.loads(self.line)
        return kept

    @cached_property
    def places(self) -> list[int]:
        """Where its entries stand in the list."""
        places: list[int] = self._kept["places"]
        return places

    @cached_property
    def entries(self) -> list[Any]:
        """Its entries."""
        model = _model(self.key)
        values = [_value(plain) for plain in self._kept["values"]]
        columns: dict[str, Iterable[Any]] = {
            name: repeat(field.get_default(call_default_factory=True), len(self.places))
            for name, field in model.model_fields.items()
        }
        for word, numbers in self._kept["columns"].items():
            columns[word] = map(values.__getitem__, numbers)
        rows = [dict(zip(columns, row, strict=True)) for row in zip(*columns.values(), strict=True)]
        return _made(model, rows, set(self.words))


def _model(key: str) -> type[BaseModel]:
    model: type[BaseModel] = LogYear.model_fields[key].annotation.__args__[0]  # type: ignore[union-attr]
    return model


def _packed(year: Year, tree: Mapping[str, Any]) -> list[bytes]:
    """A year as lines. Raises TypeError where an entry holds what cannot be kept."""
    named, lines = [], []
    for key in LISTS:
        groups: dict[frozenset[str], list[tuple[int, Any]]] = {}
        for place, entry in enumerate(year.of(key)):
            groups.setdefault(frozenset(entry.model_fields_set), []).append((place, entry))
        for words, placed in groups.items():
            values = _Values()
            columns = {
                word: [values.number(getattr(entry, word)) for _, entry in placed]
                for word in sorted(words)
            }
            named.append((key, sorted(words)))
            lines.append({
                "places": [place for place, _ in placed], "values": values.plain, "columns": columns,
            })  # fmt: skip
    told = year.carried
    carries = {**vars(told), "shown": {name: vars(one) for name, one in told.shown.items()}}
    head = {"carried": carries, "groups": named}
    return [json.dumps(one, separators=(",", ":")).encode() for one in (head, *lines, tree)]


def _carried(kept: dict[str, Any]) -> Carried:
    return Carried(
        {key: (first, last) for key, (first, last) in kept["days"].items()},
        kept["names"],
        {
            machine: {task: Last(*last) for task, last in done.items()}
            for machine, done in kept["done"].items()
        },
        {
            machine: Shown(**{**told, "old": {int(at): one for at, one in told["old"].items()}})
            for machine, told in kept["shown"].items()
        },
    )


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
