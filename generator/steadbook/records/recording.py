"""From filled blanks to a checked plan, and from the plan to the files."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from steadbook.errors import InventoryErrors, Problem, QuantityError, RecordError
from steadbook.inventory import Homestead, explain
from steadbook.inventory.fields import read_date
from steadbook.inventory.models import Order
from steadbook.inventory.read import CONTROL, AsRead, as_read, read_text
from steadbook.inventory.year import LISTS, Year
from steadbook.making import inventory_of, kept_years
from steadbook.records import journal, layout
from steadbook.records.entry import Value, flow_text
from steadbook.records.kinds import Kind, entry_of
from steadbook.records.layout import BYTE_ORDER_MARK, Insertion
from steadbook.records.saving import FileChange, contents, locked

SIDE_WORDS = {"by", "notes", "private"}  # two entries that differ only in these are one


@dataclass(frozen=True)
class Record:
    """Blanks filled in for one entry. ``origin`` is how messages call it: a name and a line."""

    kind: Kind
    filled: Mapping[str, Value]
    origin: tuple[str, int]

    @property
    def day(self) -> date:
        """The day of the entry. Raises QuantityError."""
        return read_date(self.filled["date"])

    def words(self) -> str:
        """`service: {date: 2026-11-20, machine: main-genset, ...}`."""
        return f"{self.kind.word}: {flow_text(entry_of(self.kind, self.filled))}"


@dataclass(frozen=True)
class Plan:
    """What would be written, with the inventory before and after it."""

    before: Homestead
    after: Homestead
    records: tuple[Record, ...]
    additions: tuple[journal.Addition, ...]

    @property
    def files(self) -> list[Path]:
        """The files that it changes."""
        return [one.change.path for one in self.additions]

    def new_text(self, home: Path) -> str:
        """The new lines, each file's under its name."""
        parts = []
        for one in self.additions:
            parts.append(f"{one.change.path.relative_to(home).as_posix()}:")
            parts += [put_in.text.strip("\r\n,").replace("\r\n", "\n") for put_in in one.insertions]
        return "\n".join(parts)


def read_home(home: Path, as_of: date) -> Homestead:
    """The inventory of a home as it is now. Raises InventoryErrors."""
    return inventory_of(home, as_of=as_of)


def planned(
    home: Path,
    records: Sequence[Record],
    as_of: date,
    *,
    before: Homestead | None = None,
    again: bool = False,
) -> Plan:
    """Place the records in the files and check the whole inventory with them.

    Nothing is written. Raises InventoryErrors with every problem of every record, RecordError.
    """
    before = before or read_home(home, as_of)
    from steadbook.records.gauge import in_percent

    batch = _Batch(home, before)
    records = [in_percent(one, before) for one in records]
    for record in records:
        batch.take(record)
    additions = batch.placed()
    try:
        after = inventory_of(home, as_of=as_of, changed=batch.read, known=before.files)
    except InventoryErrors as errors:
        raise InventoryErrors(batch.explained(errors.problems)) from None
    if not again:
        batch.refuse_doubles(after)
    return Plan(before, after, tuple(records), tuple(additions))


def write(home: Path, plan: Plan, as_of: date, *, again: bool = False) -> Plan:
    """Write a plan; where a file was changed since, it is planned anew first.

    Returns the plan as written. Raises InventoryErrors, RecordError; then nothing is written.
    """
    with locked(home):
        if any(contents(one.change.path) != one.change.before for one in plan.additions):
            plan = planned(home, plan.records, as_of, again=again)
        journal.keep(home, plan.additions, [one.words() for one in plan.records], as_of)
    return plan


class _Batch:
    """Records on their way into the files."""

    def __init__(self, home: Path, before: Homestead) -> None:
        self.home = home
        self.before = before
        self.new: dict[Path, dict[str, list[Record]]] = {}
        self.came: dict[Path, list[tuple[int, Record]]] = {}
        self.origins: dict[tuple[str, str], Record] = {}
        self.text: dict[Path, str] = {}
        self.read: dict[Path, AsRead] = {}
        self.put_in: dict[Path, list[Insertion]] = {}

    def take(self, record: Record) -> None:
        """Find the file of one record."""
        if record.kind.word == "received":
            order = self._open_order(record)
            name, (_, number) = self.before.files.place(order)
            self.came.setdefault(self.home / name, []).append((int(number), record))
            self.origins[name, f"orders[{int(number) + 1}]"] = record
        else:
            lists = self.new.setdefault(self._year_file(record.day.year), {})
            lists.setdefault(record.kind.log_key, []).append(record)

    def _open_order(self, record: Record) -> Order:
        supplier, ordered = record.filled["supplier"], record.filled.get("ordered")
        waiting = [one for one in self.before.log.orders if one.received is None]
        fitting = [
            one
            for one in waiting
            if one.supplier == supplier and ordered in (None, one.date.isoformat())
        ]
        if len(fitting) == 1:
            return fitting[0]
        listed = [f"{one.supplier} of {one.date}" for one in waiting]
        raise InventoryErrors([Problem(
            *record.origin, "supplier",
            f"{len(fitting) or 'no'} open orders from {supplier}"
            + (f" of {ordered}" if ordered else ""),
            f"one of the open orders: {explain.listing(listed)}",
            "name the day of the order with --ordered" if fitting else "correct the name or the day",
        )])  # fmt: skip

    def _year_file(self, year: int) -> Path:
        """The file of a year; where the owner names it otherwise, the one with that year's entries."""
        usual = self.home / "site_data" / "log" / f"{year}.yaml"
        if usual.exists():
            return usual
        names: Counter[str] = Counter()
        for name, made in self.before.files.made.items():
            if isinstance(made, Year):
                dates = (one.date for key in LISTS for one in made.of(key))
                names[name] = sum(day.year == year for day in dates)
        return self.home / max(names, key=names.__getitem__) if any(names.values()) else usual

    def placed(self) -> list[journal.Addition]:
        """The files with the records in them, each proved by reading it again."""
        return [self._placed(path) for path in dict.fromkeys([*self.came, *self.new])]

    def _placed(self, path: Path) -> journal.Addition:
        before = contents(path)
        text = before.decode() if before is not None else None
        put_in: list[Insertion] = []
        name = path.relative_to(self.home).as_posix()
        for number, record in self.came.get(path, ()):
            assert text is not None
            day = record.day.isoformat()
            tree = self._tree(path, text)
            tree["orders"][number] = {**tree["orders"][number], "received": day}
            beside = layout.with_key(text, "orders", number, "received", day)
            text = self._proved(path, text, beside, tree, put_in)
        for key, records in self.new.get(path, {}).items():
            entries = [entry_of(one.kind, one.filled) for one in records]
            if text is None:
                text = layout.new_file(path.stem, key, entries)
                put_in.append(Insertion(0, text))
                self.read[path] = as_read(text, name)
                first = 0
            else:
                tree = self._tree(path, text)
                first = len(tree.get(key) or [])
                tree[key] = [*(tree.get(key) or []), *entries]
                places = layout.appended(text, key, entries)
                text = self._proved(path, text, places, tree, put_in)
            for place, record in enumerate(records, start=first + 1):
                self.origins[name, f"{key}[{place}]"] = record
        assert text is not None
        self.text[path], self.put_in[path] = text, put_in
        return journal.Addition(FileChange(path, before, text.encode()), tuple(put_in))

    def _tree(self, path: Path, text: str) -> dict[str, Any]:
        """What a text says, without its lines."""
        bare = text.removeprefix(BYTE_ORDER_MARK)
        kept = kept_years(self.home).find(path.stem, bare)
        return kept.tree() if kept else dict(read_text(bare, "")[0])

    def _proved(
        self,
        path: Path,
        text: str,
        places: Iterable[Insertion],
        wanted: dict[str, Any],
        put_in: list[Insertion],
    ) -> str:
        """The text with the first insertion after which the file says just what is wanted."""
        name = path.relative_to(self.home).as_posix()
        nearly = []
        for place in places:
            new = place.into(text)
            read = as_read(new.removeprefix(BYTE_ORDER_MARK), name)
            if not read.problems and read.tree == wanted:
                break
            if not read.problems and _trimmed(read.tree) == _trimmed(wanted):
                nearly.append((place, new, read))
        else:
            if not nearly:
                raise RecordError(
                    f"{name}\n  found:   a layout in which no place for the entry was found\n"
                    "  allowed: a list with one entry under the other\n"
                    "  fix:     put the entry in by hand; nothing was changed"
                )
            place, new, read = nearly[0]
        put_in.append(place)
        self.read[path] = read
        return new

    def explained(self, problems: list[Problem]) -> list[Problem]:
        """Problems of new entries, told at the place where the person wrote them.

        Entries of before that no longer agree with a new one are told together.
        """
        mine, others = [], []
        for problem in problems:
            found = re.match(r"(\w+\[\d+\])\.?(.*)", problem.key)
            record = self.origins.get((problem.file, found[1])) if found else None
            if found and record:
                file, line = record.origin
                fix = self._by_title(found[2], problem.found) or problem.fix
                mine.append(replace(problem, file=file, line=line, key=found[2], fix=fix))
            else:
                others.append(self._as_before(problem))
        if not mine and others:
            first = others[0]
            more = f" and {len(others) - 1} more" if others[1:] else ""
            origin = next(iter(self.origins.values())).origin
            found_words = f"{first.found} (at {first.file}:{first.line}{more})"
            mine = [Problem(*origin, "", found_words, first.allowed, first.fix)]
        return mine

    def _by_title(self, key: str, found: str) -> str:
        """The name of what was told by its title: `Main genset` is main-genset."""
        named: dict[str, Mapping[str, Any]] = {
            "machine": self.before.machines,
            "tank": self.before.machines,
            "part": self.before.parts,
            "supplier": self.before.suppliers,
        }
        told = found.split("'")[1] if found.count("'") > 1 else found
        fitting = [
            name for name, one in named.get(key, {}).items() if one.name.lower() == told.lower()
        ]
        return f"did you mean {fitting[0]!r}?" if len(fitting) == 1 else ""

    def _as_before(self, problem: Problem) -> Problem:
        for path, put_in in self.put_in.items():
            if path.relative_to(self.home).as_posix() == problem.file:
                return replace(problem, line=_line_before(self.text[path], put_in, problem.line))
        return problem

    def refuse_doubles(self, after: Homestead) -> None:
        """Refuse what is in the log already. Raises InventoryErrors."""
        problems = []
        for (name, key), record in self.origins.items():
            if record.kind.word == "received":
                continue
            number = int(key.split("[")[1][:-1]) - 1
            year = after.files.made[name]
            assert isinstance(year, Year)
            mine = year.of(record.kind.log_key)[number]
            for other in after.log.around(record.kind.log_key, mine.date):
                if other is mine or not _same(other, mine):
                    continue
                file, path = after.files.place(other)
                if (file, f"{path[0]}[{int(path[1]) + 1}]") in self.origins and int(
                    path[1]
                ) > number:
                    continue  # told once, for the later of the two
                problems.append(Problem(
                    *record.origin, "", f"an entry that is in the log already, "
                    f"{after.files.where(other)}", "each entry once",
                    "leave it out, or add --again if it happened twice",
                ))  # fmt: skip
                break
        if problems:
            raise InventoryErrors(problems)


def _same(one: Any, other: Any) -> bool:
    if one.date != other.date:
        return False
    return all(
        getattr(one, key) == getattr(other, key)
        for key in type(one).model_fields
        if key not in SIDE_WORDS
    )


def _trimmed(value: Any) -> Any:
    """Without the line breaks at the end of a text: whether the last line of the file has one."""
    if isinstance(value, dict):
        return {key: _trimmed(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_trimmed(one) for one in value]
    return value.rstrip("\n") if isinstance(value, str) else value


def _line_before(text: str, put_in: list[Insertion], line: int) -> int:
    """The line that this one was before the insertions."""
    for one in reversed(put_in):
        first = text.count("\n", 0, one.at) + 1
        lines = one.text.count("\n")
        if line >= first + lines:
            line -= lines
        text = text[: one.at] + text[one.at + len(one.text) :]
    return line


def _texts(value: Value) -> list[str]:
    if isinstance(value, str):
        return [value]
    return [*value, *value.values()] if isinstance(value, Mapping) else list(value)


def record_of(kind: Kind, filled: Mapping[str, Value], origin: tuple[str, int]) -> Record:
    """A record whose blanks are complete and whose date is one. Raises InventoryErrors."""
    problems = [
        Problem(*origin, blank.key, "nothing", blank.asks, f"add {blank.flag}")
        for blank in kind.blanks
        if blank.is_needed and not filled.get(blank.key)
    ]
    problems += [
        Problem(
            *origin, key, "a control character", "printable text", "delete it; it cannot be seen"
        )
        for key, value in filled.items()
        if any(CONTROL.search(text) for text in _texts(value))
    ]
    try:
        read_date(filled.get("date"))
    except QuantityError as error:
        problems.append(Problem(*origin, "date", error.found, error.allowed, error.fix))
    if problems:
        raise InventoryErrors(problems)
    return Record(kind, filled, origin)
