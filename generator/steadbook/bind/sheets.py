"""Tabs, sheets, and the manifest that remembers which sheets are in the binder.

A *tab* is a part of the binder behind its own divider. A *sheet* is one printed side, numbered
within its tab ("Power 3"). A *leaf* is a piece of paper: two sheets when printed on both sides.

The manifest is kept as ``printed.yaml``. Compared with a new binding it tells which sheets
changed, and so which date each one bears and which ones need printing again.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

import yaml

from steadbook.errors import BindError

FRONT_KEY, FRONT_TITLE = "front", "Front"

REISSUE_SHARE = 0.60
"""Share of a tab's sheets past which the whole tab is issued again.

Source: practice of aviation technical manuals (NAVEDTRA 14292, seen in a reprint).
"""

MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()  # noqa: SIM905

# Letters alone: no word is spelled by accident, none is mistaken for a digit, and YAML reads
# them as text.
FINGERPRINT_LETTERS = "bcdfghjkmnpqrstvwxyz"


def written_date(day: date) -> str:
    """A date as the sheets print it.

    >>> written_date(date(2026, 5, 12))
    '12 May 2026'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def fingerprint(content: bytes | memoryview) -> str:
    """Eight letters that stand for a sheet's content; a changed sheet gets others.

    >>> len(fingerprint(b"a sheet"))
    9
    """
    number = int.from_bytes(hashlib.sha256(content).digest()[:16], "big")
    letters = []
    for _ in range(8):
        number, place = divmod(number, len(FINGERPRINT_LETTERS))
        letters.append(FINGERPRINT_LETTERS[place])
    return "".join(letters[:4]) + "-" + "".join(letters[4:])


@dataclass(frozen=True)
class Tab:
    """One tab of the binder: a finished piece of HTML behind its own divider."""

    key: str
    title: str
    html: str
    landscape: bool = False


@dataclass(frozen=True)
class Sheet:
    """One printed side. ``tab`` is the tab's key, ``revised`` the day its content last changed."""

    tab: str
    number: int
    label: str
    revised: date
    fingerprint: str


@dataclass(frozen=True)
class IssuedTab:
    """A tab as the manifest knows it. ``issued`` is the day all of it was last printed."""

    key: str
    title: str
    issued: date
    sheets: tuple[Sheet, ...]

    def changed_since(self, printed: IssuedTab) -> tuple[Sheet, ...]:
        """The sheets whose content differs from the printed sheet of the same label."""
        there = {sheet.label: sheet.fingerprint for sheet in printed.sheets}
        return tuple(s for s in self.sheets if there.get(s.label) != s.fingerprint)

    def is_reissue_of(self, printed: IssuedTab) -> bool:
        """Whether so many sheets changed since the last whole issue that all are due again."""
        changed = {sheet.label for sheet in self.changed_since(printed)}
        worn = {s.label for s in self.sheets if s.revised > printed.issued}
        return len(changed | worn) > REISSUE_SHARE * len(self.sheets) and bool(changed)


@dataclass(frozen=True)
class Revision:
    """One line of the record of revisions."""

    number: int
    day: date
    sheets: tuple[str, ...]


@dataclass(frozen=True)
class Manifest:
    """What the binder holds: every sheet with its date and fingerprint, and how it came there."""

    title: str
    edition: str
    paper: str
    duplex: bool
    engine: str
    tabs: tuple[IssuedTab, ...]
    revisions: tuple[Revision, ...]

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        return tuple(sheet for tab in self.tabs for sheet in tab.sheets)

    def tab(self, key: str) -> IssuedTab | None:
        return next((tab for tab in self.tabs if tab.key == key), None)

    def is_comparable_to(self, other: Manifest) -> bool:
        """Whether fingerprints of the two can be compared: same paper, same engine and fonts."""
        return (self.paper, self.duplex, self.engine) == (other.paper, other.duplex, other.engine)

    def breaks_unlike(self, before: Manifest) -> list[tuple[str, int, int]]:
        """The tabs that have another number of sheets than before: title, sheets now, and then."""
        then = {tab.key: len(tab.sheets) for tab in before.tabs}
        return [
            (tab.title, len(tab.sheets), then[tab.key])
            for tab in self.tabs
            if then.get(tab.key, len(tab.sheets)) != len(tab.sheets)
        ]

    def write(self, path: Path) -> None:
        """Write ``printed.yaml``: whole or not at all."""
        text = _HEAD + yaml.dump(
            _plain(self),
            Dumper=_Dumper,
            sort_keys=False,
            allow_unicode=True,
            default_flow_style=None,
            width=100,
        )
        beside = path.with_name(path.name + ".new")
        beside.write_text(text, encoding="utf-8")
        os.replace(beside, path)

    @classmethod
    def read(cls, path: Path) -> Manifest:
        """Read ``printed.yaml``; BindError says what is wrong with it."""
        try:
            values = yaml.safe_load(path.read_text(encoding="utf-8"))
            return _manifest(values)
        except OSError as error:
            raise BindError(f"{path}: cannot be read ({error.strerror})") from error
        except (yaml.YAMLError, UnicodeDecodeError, KeyError, TypeError, ValueError) as error:
            reason = f"no {error}" if isinstance(error, KeyError) else str(error)
            raise BindError(
                f"{path}: is not a list of printed sheets ({reason}); "
                "restore it from a copy, or delete it and print the whole binder"
            ) from error


class _Dumper(yaml.SafeDumper):
    """Writes each date out, instead of pointing back to an earlier one."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


_HEAD = (
    "# The sheets that are in the binder. Steadbook compares a new binding with this list\n"
    "# to find which sheets to print again. Keep it with the inventory.\n"
)


def _plain(manifest: Manifest) -> dict[str, Any]:
    return {
        "title": manifest.title,
        "edition": manifest.edition,
        "paper": manifest.paper,
        "duplex": manifest.duplex,
        "engine": manifest.engine,
        "tabs": [
            {
                "key": tab.key,
                "title": tab.title,
                "issued": tab.issued,
                "sheets": [
                    {"label": s.label, "revised": s.revised, "fingerprint": s.fingerprint}
                    for s in tab.sheets
                ],
            }
            for tab in manifest.tabs
        ],
        "revisions": [
            {"number": r.number, "date": r.day, "sheets": list(r.sheets)}
            for r in manifest.revisions
        ],
    }


def _manifest(values: Mapping[str, Any]) -> Manifest:
    tabs = []
    for tab in values["tabs"]:
        sheets = tuple(
            Sheet(
                str(tab["key"]),
                number,
                str(sheet["label"]),
                _day(sheet["revised"]),
                str(sheet["fingerprint"]),
            )
            for number, sheet in enumerate(tab["sheets"], start=1)
        )
        tabs.append(IssuedTab(str(tab["key"]), str(tab["title"]), _day(tab["issued"]), sheets))
    revisions = tuple(
        Revision(int(r["number"]), _day(r["date"]), tuple(str(s) for s in r["sheets"]))
        for r in values["revisions"]
    )
    return Manifest(
        str(values["title"]),
        str(values["edition"]),
        str(values["paper"]),
        bool(values["duplex"]),
        str(values["engine"]),
        tuple(tabs),
        revisions,
    )


def _day(value: object) -> date:
    if not isinstance(value, date):
        raise ValueError(f"{value!r} is not a date")
    return value


def issue(
    key: str, title: str, fingerprints: Sequence[str], *, as_of: date, printed: IssuedTab | None
) -> IssuedTab:
    """Date the sheets of a tab: an unchanged sheet keeps the date it bears in the binder."""
    kept = {} if printed is None else {s.label: s for s in printed.sheets}
    sheets = []
    for number, mark in enumerate(fingerprints, start=1):
        label = f"{title} {number}"
        old = kept.get(label)
        revised = old.revised if old is not None and old.fingerprint == mark else as_of
        sheets.append(Sheet(key, number, label, revised, mark))
    tab = IssuedTab(key, title, as_of, tuple(sheets))
    if printed is None or tab.is_reissue_of(printed):
        return tab
    return replace(tab, issued=printed.issued)


def revisions_after(
    tabs: Iterable[IssuedTab], *, as_of: date, previous: Manifest | None
) -> tuple[Revision, ...]:
    """The record of revisions, with a new line if any sheet changed, came or went.

    The front matter is left out: it follows from the rest.
    """
    if previous is None:
        return (Revision(0, as_of, ()),)
    touched: list[str] = []
    here = {tab.key for tab in tabs}
    for tab in tabs:
        printed = previous.tab(tab.key)
        if printed is None:
            touched += [sheet.label for sheet in tab.sheets]
            continue
        touched += [sheet.label for sheet in tab.changed_since(printed)]
        labels = {sheet.label for sheet in tab.sheets}
        touched += [f"{s.label} removed" for s in printed.sheets if s.label not in labels]
    for printed in previous.tabs:
        if printed.key not in here and printed.key != FRONT_KEY:
            touched.append(f"{printed.title} removed")
    if not touched:
        return previous.revisions
    number = 1 + max((r.number for r in previous.revisions), default=-1)
    return (*previous.revisions, Revision(number, as_of, tuple(touched)))


def in_runs(labels: Sequence[str]) -> str:
    """Labels in short form.

    >>> in_runs(["Power 1", "Power 2", "Power 3", "Fuel 7", "Fuel 9"])
    'Power 1–3, Fuel 7, Fuel 9'
    """
    runs: list[tuple[str, int, int]] = []
    plain: list[str] = []
    for label in labels:
        title, _, number = label.rpartition(" ")
        if not number.isdigit():
            plain.append(label)
        elif runs and runs[-1][0] == title and runs[-1][2] + 1 == int(number):
            runs[-1] = (title, runs[-1][1], int(number))
        else:
            runs.append((title, int(number), int(number)))
    parts = [f"{t} {a}" if a == b else f"{t} {a}–{b}" for t, a, b in runs]
    return ", ".join([*parts, *plain])


def number_runs(numbers: Sequence[int]) -> str:
    """Rising numbers in short form.

    >>> number_runs([1, 2, 3, 5, 7, 8])
    '1–3, 5, 7–8'
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] + 1 == number:
            runs[-1][1:] = [number]
        else:
            runs.append([number])
    return ", ".join("–".join(map(str, run)) for run in runs)
