"""Records from a CSV file: a row an entry, its columns named like the flags."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from steadbook.errors import InventoryErrors, Problem, QuantityError, RecordError
from steadbook.inventory import explain, models
from steadbook.inventory.read import Map
from steadbook.records.columns import ColumnMap, turned
from steadbook.records.entry import Value
from steadbook.records.gauge import amount_read
from steadbook.records.kinds import KINDS, Kind, entry_of, read_blank
from steadbook.records.recording import Plan, Record, planned, record_of

COLUMNS = ("kind", *dict.fromkeys(blank.key for kind in KINDS.values() for blank in kind.blanks))
LARGEST = 5_000_000  # bytes


def planned_batch(
    home: Path, file: Path, as_of: date, *, again: bool = False, columns: ColumnMap | None = None
) -> Plan:
    """A plan for all rows of a CSV file. Raises InventoryErrors with the problems of all rows."""
    records, problems = read_rows(file, columns)
    if records:
        try:
            plan = planned(home, records, as_of, again=again)
        except InventoryErrors as errors:
            problems += errors.problems
    elif not problems:
        problems = [_problem(file, 1, "", "no rows", "a line for each entry", "fill the file")]
    if problems:
        raise InventoryErrors(problems)
    return plan


def read_rows(file: Path, columns: ColumnMap | None = None) -> tuple[list[Record], list[Problem]]:
    """The records of a CSV file, and what is wrong with the rows that give none.

    Raises InventoryErrors, RecordError for what is no CSV file at all.
    ``columns`` says what the columns of a file are that something else made.
    """
    rows = csv.reader(
        io.StringIO(_text(file), newline=""),
        skipinitialspace=True,
        delimiter=columns.delimiter if columns else ",",
    )
    lines = _lines(rows, file)
    theirs = next(lines, [])
    own = turned(columns, theirs, file.name) if columns else None
    heading = list(own.heading) if own else [_own_name(name) for name in theirs]
    problems = list(_heading_problems(file, heading))
    if problems:
        return [], problems
    records = []
    for cells in lines:
        if not any(cell.strip() for cell in cells):
            continue
        try:
            if own is not None:
                cells = own.cells(cells, file.name, rows.line_num)
            records.append(_row(file, rows.line_num, heading, cells))
        except InventoryErrors as errors:
            problems += errors.problems
    return records, problems


def _lines(rows: Any, file: Path) -> Iterator[list[str]]:
    """The rows of a reader. Raises InventoryErrors."""
    try:
        yield from rows
    except csv.Error as error:
        raise InventoryErrors([_problem(
            file, rows.line_num, "", f"what is no row of a CSV file ({error})",
            "short values between commas", "look for a quotation mark that is never closed",
        )]) from None  # fmt: skip


def columns_left_out(file: Path, columns: ColumnMap) -> tuple[str, ...]:
    """The columns of a foreign file that its map does not name."""
    rows = csv.reader(io.StringIO(_text(file)), delimiter=columns.delimiter)
    first = next(_lines(rows, file), [])
    return turned(columns, first, file.name).left_out


def _own_name(name: str) -> str:
    return name.strip().lower().replace(" ", "_")


def _text(file: Path) -> str:
    try:
        if file.stat().st_size > LARGEST:
            raise RecordError(
                f"{file}\n  found:   a file of more than {LARGEST // 1_000_000} MB\n"
                "  allowed: a smaller one\n  fix:     split it"
            )
        return file.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise RecordError(
            f"{file}\n  found:   {error.strerror or error}\n  allowed: a CSV file\n"
            "  fix:     check the name"
        ) from None
    except UnicodeDecodeError:
        raise RecordError(
            f"{file}\n  found:   bytes that are not UTF-8 text\n  allowed: UTF-8 text\n"
            "  fix:     save the sheet again as CSV with the encoding UTF-8"
        ) from None


def _problem(file: Path, line: int, key: str, found: str, allowed: str, fix: str) -> Problem:
    return Problem(file.name, line, key, found, allowed, fix)


def _heading_problems(file: Path, heading: list[str]) -> Iterator[Problem]:
    for name in heading:
        if name not in COLUMNS:
            yield _problem(
                file, 1, "", f"the unknown column {name!r}", explain.listing(COLUMNS),
                explain.nearest(name, COLUMNS) or "rename or remove the column",
            )  # fmt: skip
        elif heading.count(name) > 1:
            yield _problem(
                file, 1, "", f"the column {name!r} twice", "each column once", "join them"
            )
    for name in ("kind", "date"):
        if name not in heading:
            yield _problem(
                file, 1, "", f"no column {name!r}", "the first line names the columns, "
                "such as kind,date,machine,hours", f"add the column {name!r}",
            )  # fmt: skip


def _row(file: Path, line: int, heading: list[str], cells: list[str]) -> Record:
    """One row. Raises InventoryErrors with all its problems."""
    origin = (file.name, line)
    if len(cells) > len(heading):
        raise InventoryErrors([_problem(
            file, line, "", f"{len(cells)} values", f"at most {len(heading)}, as in the first line",
            "put quotation marks around a value that holds a comma",
        )])  # fmt: skip
    values = {key: cell.strip() for key, cell in zip(heading, cells, strict=False) if cell.strip()}
    word = values.pop("kind", "")
    kind = KINDS.get(word)
    if kind is None:
        raise InventoryErrors([_problem(
            file, line, "kind", word or "nothing", explain.listing(KINDS),
            explain.nearest(word, KINDS) or "use one of these words",
        )])  # fmt: skip
    problems = []
    filled: dict[str, Value] = {}
    for key, text in values.items():
        blank = kind.blank(key)
        if blank is None:
            keys = explain.listing(one.key for one in kind.blanks)
            problems.append(_problem(
                file, line, key, f"a value in a row of {kind.word}", keys, "leave the cell empty",
            ))  # fmt: skip
            continue
        try:
            filled[key] = read_blank(blank, text)
        except QuantityError as error:
            problems.append(_problem(file, line, key, error.found, error.allowed, error.fix))
    told = {problem.key for problem in problems}
    try:
        record_of(kind, {**dict.fromkeys(told, "?"), **filled}, origin)
    except InventoryErrors as errors:
        problems += [one for one in errors.problems if one.key not in told]
    record = Record(kind, filled, origin)
    told = {problem.key for problem in problems}
    problems += [one for one in entry_problems(record) if one.key not in told]
    if problems:
        raise InventoryErrors(problems)
    return record


def entry_problems(record: Record) -> list[Problem]:
    """What is wrong with one entry by itself."""
    kind: Kind = record.kind
    if kind.word == "received":
        return []
    file, line = record.origin
    entry = entry_of(kind, {"date": "", **record.filled})
    if kind.word == "level" and amount_read(entry.get("level")) is not None:
        entry["level"] = "0 %"  # what it comes to is told by the tank's plate
    tree = Map(line)
    tree.update(entry)
    tree.lines = dict.fromkeys(entry, line)
    model = models.LogYear.model_fields[kind.log_key].annotation.__args__[0]  # type: ignore[union-attr]
    try:
        model.model_validate(tree)
    except ValidationError as error:
        return explain.problems(error, model, tree, file)
    return []
