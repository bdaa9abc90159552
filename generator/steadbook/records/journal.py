"""What was recorded last, in words and in bytes, so that it can be taken back."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import yaml

from steadbook.errors import RecordError
from steadbook.records.layout import Insertion
from steadbook.records.saving import OWN_FOLDER, FileChange, contents, locked, save

HEADING = "# What `steadbook record` wrote last; `steadbook undo` takes it back.\n"


@dataclass(frozen=True)
class Addition:
    """What is put into one file: the texts, in the order in which they are put in."""

    change: FileChange
    insertions: tuple[Insertion, ...]


def journal_file(home: Path) -> Path:
    """Where the last record is noted."""
    return home / OWN_FOLDER / "last.yaml"


def keep(home: Path, additions: Sequence[Addition], said: Sequence[str], as_of: date) -> None:
    """Note the record, then write it. Raises RecordError; then every file is as it was.

    The note is written first: killed between the two, there is nothing to take back, and
    `taken_back` sees that.
    """
    note = {
        "recorded": as_of.isoformat(),
        "what": list(said),
        "files": [_noted(home, one) for one in additions],
    }
    text = HEADING + yaml.safe_dump(note, sort_keys=False, allow_unicode=True, width=1_000_000)
    path = journal_file(home)
    before = contents(path)
    noted = FileChange(path, before, text.encode())
    save([noted])
    try:
        save([one.change for one in additions])
    except RecordError:
        save([noted.back()])
        raise


def _noted(home: Path, addition: Addition) -> dict[str, Any]:
    change = addition.change
    assert change.after is not None
    return {
        "file": change.path.relative_to(home).as_posix(),
        "before": _fingerprint(change.before),
        "after": _fingerprint(change.after),
        "put_in": [{"at_character": one.at, "text": one.text} for one in addition.insertions],
    }


def _fingerprint(data: bytes | None) -> str:
    return "no file" if data is None else hashlib.sha256(data).hexdigest()


def last_record(home: Path) -> tuple[list[str], list[FileChange]]:
    """What was recorded last and the changes that take it back. Raises RecordError."""
    data = contents(journal_file(home))
    if data is None:
        raise RecordError(
            f"{journal_file(home)}\n  found:   nothing to take back\n"
            "  allowed: a record made with `steadbook record`\n"
            "  fix:     edit the log by hand; the last record was taken back, or none was made"
        )
    try:
        note = yaml.safe_load(data)
        return note["what"], _changes_back(home, note["files"])
    except (yaml.YAMLError, LookupError, TypeError, ValueError):
        raise RecordError(
            f"{journal_file(home)}\n  found:   notes that cannot be read\n"
            "  allowed: the notes as they were written\n"
            "  fix:     take the entry out by hand; nothing was changed"
        ) from None


def _changes_back(home: Path, files: list[dict[str, Any]]) -> list[FileChange]:
    changes = []
    for one in reversed(files):
        path = home / one["file"]
        now = contents(path)
        if _fingerprint(now) == one["before"]:  # it was never written
            continue
        if _fingerprint(now) != one["after"]:
            raise RecordError(
                f"{path}\n  found:   the file was changed since the last record\n"
                "  allowed: the file as that record left it\n"
                "  fix:     take the entry out by hand; nothing was changed"
            )
        before = None if one["before"] == "no file" else _without(now or b"", one["put_in"])
        if _fingerprint(before) != one["before"]:
            raise RecordError(
                f"{journal_file(home)}\n  found:   notes that do not fit {path}\n"
                "  allowed: the notes as they were written\n"
                "  fix:     take the entry out by hand; nothing was changed"
            )
        changes.append(FileChange(path, now, before))
    return changes


def _without(data: bytes, put_in: list[dict[str, Any]]) -> bytes:
    text = data.decode()
    for one in reversed(put_in):
        at, words = one["at_character"], one["text"]
        text = text[:at] + text[at + len(words) :]
    return text.encode()


def take_back(home: Path) -> list[str]:
    """Undo the last record; returns what it was. Raises RecordError, with nothing changed."""
    with locked(home):
        said, changes = last_record(home)
        save(changes)
        save([FileChange(journal_file(home), contents(journal_file(home)), None)])
    return said
