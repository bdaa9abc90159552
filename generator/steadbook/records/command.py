"""`steadbook record` and `steadbook undo`: what is asked, shown, agreed to and written."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

from steadbook.errors import InventoryErrors, RecordError
from steadbook.inventory import Homestead
from steadbook.inventory.read import no_garbage_collection
from steadbook.making import kept_winters
from steadbook.records import commits, journal
from steadbook.records.batch import columns_left_out, planned_batch
from steadbook.records.changes import what_changes
from steadbook.records.columns import read_columns
from steadbook.records.dialogue import fill
from steadbook.records.entry import Value
from steadbook.records.kinds import KINDS, Kind, read_blank
from steadbook.records.recording import Plan, planned, read_home, record_of, write

NEW_ENTRY = ("the new entry", 0)


def record(chosen: argparse.Namespace, as_of: date) -> bool:
    """Run `steadbook record`; returns whether anything was written. Raises SteadbookError."""
    home: Path = chosen.home
    try:
        with no_garbage_collection():
            return _recorded(home, chosen, as_of)
    except EOFError:  # Ctrl-D, or an input that ended
        print()
        raise RecordError("stopped: the answers ended; nothing was written") from None


def _recorded(home: Path, chosen: argparse.Namespace, as_of: date) -> bool:
    from steadbook.workings.doubtful_log import new_doubts

    if chosen.commit:
        _require_repository(home)
    if chosen.from_file is not None:
        plan = _planned_file(home, chosen, as_of)
    else:
        plan = _planned_entry(home, chosen, as_of)
    print(plan.new_text(home))
    print()
    for line in what_changes(plan.before, plan.after, as_of, kept_winters(home)):
        print(line)
    for warning in [
        *sorted(set(plan.after.warnings) - set(plan.before.warnings)),
        *new_doubts(plan.before, plan.after, {one.day for one in plan.records}),
    ]:
        print(f"\n{warning}")
    if chosen.dry_run:
        print("\nDry run: nothing was written.")
        return False
    if not _agreed("Write it?", chosen.yes):
        print("Nothing was written.")
        return False
    may_commit = chosen.commit or (_is_terminal() and commits.has_repository(home))
    early = commits.changed_before(home, plan.files) if may_commit else []
    plan = write(home, plan, as_of, again=chosen.again)
    print(f"\nWritten. `steadbook undo` takes {'it' if len(plan.records) == 1 else 'all'} back.")
    if may_commit:
        _commit(home, plan, early, chosen)
    return True


def _planned_file(home: Path, chosen: argparse.Namespace, as_of: date) -> Plan:
    """The rows of a CSV file; with a column map those of something else's."""
    columns = read_columns(chosen.columns) if chosen.columns else None
    plan = planned_batch(home, chosen.from_file, as_of, again=chosen.again, columns=columns)
    left_out = columns_left_out(chosen.from_file, columns) if columns else ()
    if left_out:
        print(f"Columns left out: {', '.join(left_out)}\n")
    return plan


def _require_repository(home: Path) -> None:
    if not commits.has_repository(home):
        raise RecordError(
            f"--commit\n  found:   no git, or {home} is in no repository of it\n"
            "  allowed: a home under git\n  fix:     leave out --commit, or run `git init` there"
        )


def _commit(home: Path, plan: Plan, early: list[str], chosen: argparse.Namespace) -> None:
    """Commit what was written, after a yes; the record stays written whatever git says."""
    if early:
        print(f"Not committed before, and going along: changes in {', '.join(early)}.")
    try:
        if not chosen.commit and not _agreed("Commit it to git?", yes=False):
            return
    except EOFError:  # written already: only the commit is left out
        print()
        return
    subject = (
        plan.records[0].words()
        if len(plan.records) == 1
        else f"{len(plan.records)} records from {Path(chosen.from_file).name}"
    )
    refused = commits.commit(home, plan.files, subject)
    print(f"Written, but not committed; git says: {refused}" if refused else "Committed.")


def _planned_entry(home: Path, chosen: argparse.Namespace, as_of: date) -> Plan:
    before = read_home(home, as_of)
    kind = KINDS[chosen.kind or _asked_kind()]
    filled = _given(kind, vars(chosen))
    missing = [one for one in kind.blanks if one.is_needed and one.key not in filled]

    def plan(filled: dict[str, Value]) -> Plan:
        entry = record_of(kind, {"date": as_of.isoformat(), **filled}, NEW_ENTRY)
        return planned(home, [entry], as_of, before=before, again=chosen.again)

    return (
        _talked_over(home, kind, filled, before, as_of, plan)
        if missing and _is_terminal()
        else plan(filled)
    )


def _talked_over(
    home: Path,
    kind: Kind,
    filled: dict[str, Value],
    before: Homestead,
    as_of: date,
    plan: Callable[[dict[str, Value]], Plan],
) -> Plan:
    """Ask until the entry agrees with the inventory; what does not is asked for again."""
    from steadbook.workings import work_out

    workings = work_out(before, as_of, kept=kept_winters(home))
    while True:
        filled = fill(kind, filled, workings, input, print)
        try:
            return plan(filled)
        except InventoryErrors as errors:
            wrong = {re.split(r"[.\[]", problem.key)[0] for problem in errors.problems}
            asked = {one.key for one in kind.blanks if one.is_asked}
            if not wrong or not wrong <= asked:
                raise
            print(f"\n{errors}\n")
            filled = {key: value for key, value in filled.items() if key not in wrong}


def _is_terminal() -> bool:
    return sys.stdin.isatty()


def _asked_kind() -> str:
    if not _is_terminal():
        raise RecordError(
            "record\n  found:   no kind of record\n"
            f"  allowed: {', '.join(KINDS)}\n  fix:     name one, such as steadbook record service"
        )
    for kind in KINDS.values():
        print(f"  {kind.word:<10} {kind.what}")
    while True:
        word = input("What to record? ").strip().lower()
        fitting = [name for name in KINDS if word and name.startswith(word)]
        if len(fitting) == 1:
            return fitting[0]


def _given(kind: Kind, options: Mapping[str, object]) -> dict[str, Value]:
    found = {}
    for blank in kind.blanks:
        text = options.get(f"blank_{blank.key}")
        if isinstance(text, str) and text.strip():
            found[blank.key] = read_blank(blank, text)
    return found


def _agreed(question: str, yes: bool) -> bool:
    if yes:
        return True
    if not _is_terminal():
        raise RecordError(
            "record\n  found:   no terminal to ask on\n  allowed: a yes\n"
            "  fix:     add --yes to write it, or --dry-run to look only"
        )
    return input(f"\n{question} [yes/no] ").strip().lower() in ("y", "yes")


def undo(home: Path, *, yes: bool) -> bool:
    """Run `steadbook undo`; returns whether anything was taken back. Raises SteadbookError."""
    said, changes = journal.last_record(home)
    for line in said:
        print(line)
    if not changes:
        print("It never reached the log.")
    try:
        agreed = _agreed("Take it back?", yes)
    except EOFError:
        print()
        raise RecordError("stopped: the answers ended; nothing was changed") from None
    if not agreed:
        print("Nothing was changed.")
        return False
    journal.take_back(home)
    print("Taken back.")
    return True
