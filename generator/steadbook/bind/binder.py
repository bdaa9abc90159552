"""The loose-leaf binder: finished tabs in, one PDF out, with a manifest of its sheets.

The binder knows nothing of what the tabs say. Each tab is set as a document of its own, so that
a change in one renumbers no other; each sheet bears the day its content last changed.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import TypeVar

from steadbook.bind.assembly import Imprint, SetPart, assemble
from steadbook.bind.dress import Dress, document, notes_side
from steadbook.bind.engines import Engine, engine_named
from steadbook.bind.flow import Flow, prepare
from steadbook.bind.front import front_parts
from steadbook.bind.paper import Format, Paper, PaperName, paper_named
from steadbook.bind.press import Press, Proof
from steadbook.bind.proofread import refuse_lost_text
from steadbook.bind.setting import TooWide
from steadbook.bind.sheets import (
    FRONT_KEY,
    FRONT_TITLE,
    IssuedTab,
    Manifest,
    Sheet,
    Tab,
    issue,
    revisions_after,
)
from steadbook.bind.snug import snug
from steadbook.errors import BindError

__all__ = ["Binder", "Manifest", "Sheet", "Tab", "bind"]

SETTLING_ROUNDS = 8
"""Filling in cross references may move what they lead to, and so change them again. From half way
they all take fixed room, which settles them; after so many rounds it is an error."""

BREAK_ANY_WORD = "<style>body { overflow-wrap: break-word; }</style>"
"""Where a word still is too wide for its place: any may break then, at some cost in looks."""

_T = TypeVar("_T")
_R = TypeVar("_R")


@dataclass(frozen=True)
class Binder:
    """A bound manual. ``sheets`` are in the order of the PDF's pages."""

    pdf: bytes
    sheets: list[Sheet]
    manifest: Manifest
    warnings: list[str]
    unprintable: dict[str, tuple[str, str]] = field(default_factory=dict)
    """Characters that print as a box: the title of a tab that has it, and the word there."""


@dataclass(frozen=True)
class _Draft:
    """A tab, or a part of one, whose sheets are known but not yet dated."""

    flow: Flow
    form: Format
    body: str
    proof: Proof
    before: int
    marks: tuple[str, ...]
    has_notes: bool = False

    @property
    def labels(self) -> dict[str, str]:
        """The sheet that each target of this tab stands on."""
        title = self.flow.tab.title
        return {
            name: f"{title} {self.before + place.number}"
            for name, place in self.proof.places.items()
        }

    @property
    def sheets(self) -> int:
        return self.proof.sheets + self.has_notes


def bind(
    tabs: Sequence[Tab],
    *,
    title: str,
    subtitle: str,
    paper: PaperName,
    as_of: date,
    roots: Sequence[Path],
    previous: Manifest | None = None,
    edition: str = "owner",
    duplex: bool = True,
    cache_dir: Path | None = None,
    engine: Engine | None = None,
    with_front: bool = True,
) -> Binder:
    """Bind tabs into a binder.

    Parameters
    ----------
    tabs : sequence of Tab
        In the order of the binder. Ids of headings are unique over all tabs.
    paper : "letter" or "a4"
    as_of : date
        The day borne by sheets that are new or changed.
    roots : sequence of Path
        Folders that pictures and styles may come from; the first that has a file gives it.
    previous : Manifest, optional
        The sheets now in the binder: one that has not changed keeps its date.
    duplex : bool
        Printed on both sides: margins are mirrored, and a tab with an odd number of sheets
        ends with a ruled side for notes, so that each tab starts on a fresh leaf.
    cache_dir : Path, optional
        A folder of this binder's own, where settings are kept: an unchanged tab is not set again.
    engine : Engine, optional
        What sets the sheets; plutoprint where it is not given.
    with_front : bool
        Whether cover, contents and lists come first.

    Returns
    -------
    Binder

    Raises
    ------
    BindError
        No tabs; a link that leads nowhere; a resource that cannot be found; text that was lost
        or runs off a sheet.
    """
    _refuse_bad_tabs(tabs)
    press = Press(roots, cache_dir, engine or engine_named(None))
    set_by = press.engine.version
    warnings = [press.engine.doubt] if press.engine.doubt else []
    if previous is not None:
        previous = _comparable(previous, paper, duplex, set_by, warnings)
    desk = _Desk(press, title, paper_named(paper), duplex)
    prepared = prepare(tabs, shelf=press.shelf)
    drafts = desk.settle(prepared)
    issued = [_issue([draft], as_of, previous) for draft in drafts]
    revisions = revisions_after(issued, as_of=as_of, previous=previous)
    flows: list[Flow] = []
    if with_front:
        front = front_parts(
            title=title,
            subtitle=subtitle,
            edition=edition,
            flows=prepared,
            tabs=issued,
            revisions=revisions,
            labels={name: label for draft in drafts for name, label in draft.labels.items()},
        )
        flows = prepare(front, elsewhere=prepared, shelf=press.shelf)
        front_drafts = desk.in_line(flows)
        issued.insert(0, _issue(front_drafts, as_of, previous))
        drafts = front_drafts + drafts
    parts = _each(desk.print, _with_sheets(drafts, issued))
    press.shelf.sweep()
    manifest = Manifest(title, edition, paper, duplex, set_by, tuple(issued), revisions)
    imprint = Imprint(title, subtitle, revisions[-1].day, set_by, duplex=duplex)
    pdf = assemble(parts, imprint)
    return Binder(pdf, list(manifest.sheets), manifest, warnings, _unprintable([*flows, *prepared]))


def _refuse_bad_tabs(tabs: Sequence[Tab]) -> None:
    if not tabs:
        raise BindError("there are no tabs to bind")
    keys, titles = {FRONT_KEY}, {FRONT_TITLE}
    for tab in tabs:
        if tab.key in keys or tab.title in titles:
            raise BindError(f"tab {tab.title!r} ({tab.key}): key and title are taken already")
        keys.add(tab.key)
        titles.add(tab.title)


def _unprintable(flows: Sequence[Flow]) -> dict[str, tuple[str, str]]:
    found: dict[str, tuple[str, str]] = {}
    for flow in flows:
        for character, word in flow.unprintable.items():
            found.setdefault(character, (flow.tab.title, word))
    return found


def _comparable(
    previous: Manifest, paper: str, duplex: bool, engine: str, warnings: list[str]
) -> Manifest | None:
    now = replace(previous, paper=paper, duplex=duplex, engine=engine)
    if now.is_comparable_to(previous):
        return previous
    warnings.append(
        "the printed sheets were set on other paper or with another version of the engine or "
        "its fonts, so all sheets count as changed"
    )
    return replace(previous, tabs=tuple(replace(t, sheets=()) for t in previous.tabs))


def _each(work: Callable[[_T], _R], items: Iterable[_T]) -> list[_R]:
    """Do the work on all items side by side; the engine sets documents outside Python's lock."""
    with ThreadPoolExecutor(max_workers=os.cpu_count() or 1) as pool:
        return list(pool.map(work, items))


def _issue(drafts: Sequence[_Draft], as_of: date, previous: Manifest | None) -> IssuedTab:
    """Date the sheets of a tab set in these parts."""
    tab = drafts[0].flow.tab
    marks = [mark for draft in drafts for mark in draft.marks]
    printed = previous.tab(tab.key) if previous is not None else None
    return issue(tab.key, tab.title, marks, as_of=as_of, printed=printed)


def _with_sheets(
    drafts: Sequence[_Draft], issued: Sequence[IssuedTab]
) -> list[tuple[_Draft, tuple[Sheet, ...]]]:
    """Each part with its own sheets."""
    sheets = {tab.key: tab.sheets for tab in issued}
    return [
        (draft, sheets[draft.flow.tab.key][draft.before : draft.before + draft.sheets])
        for draft in drafts
    ]


@dataclass(frozen=True)
class _Desk:
    """Takes tabs through the press one step at a time."""

    press: Press
    title: str
    paper: Paper
    duplex: bool

    def settle(self, flows: Sequence[Flow]) -> list[_Draft]:
        """Set all tabs until every cross reference shows the sheet it leads to.

        The first try takes the labels of the last binding; a new target gets a stand-in.
        """
        flows = _each(self.snug, flows)
        kept = self.press.shelf.labels
        labels = {
            name: kept.get(name, f"{flow.tab.title} 00") for flow in flows for name in flow.targets
        }
        sure = labels.keys() <= kept.keys()
        drafts = _each(lambda flow: self.draft(flow, labels, inspect=sure or not flow.links), flows)
        for attempt in range(SETTLING_ROUNDS):
            settled = {name: label for draft in drafts for name, label in draft.labels.items()}
            if settled == labels and all(draft.proof.marks is not None for draft in drafts):
                self.press.shelf.labels = labels
                return drafts
            labels = settled
            again = partial(self.redraft, labels=labels, fixed=attempt >= SETTLING_ROUNDS // 2)
            drafts = _each(again, drafts)
        raise BindError("the cross references do not settle: a link's label moves its own target")

    def snug(self, flow: Flow) -> Flow:
        """Set those pages closer that this saves a sheet."""
        form = Format(self.paper, flow.tab.landscape, self.duplex)

        def set_as(body: str, ids: Sequence[str]) -> Proof:
            page = document(body, form)
            return self.press.proof(flow.tab.title, page, ids, form, inspect=False)

        try:
            return snug(flow, set_as)
        except TooWide:
            return flow

    def redraft(self, draft: _Draft, labels: Mapping[str, str], *, fixed: bool) -> _Draft:
        """Set a tab again if it has cross references to fill in."""
        return self.draft(draft.flow, labels, fixed=fixed) if draft.flow.links else draft

    def in_line(self, flows: Sequence[Flow]) -> list[_Draft]:
        """Set the parts of one tab, each numbered on from the one before."""
        drafts: list[_Draft] = []
        before = 0
        for flow in flows:
            drafts.append(self.draft(flow, {}, before=before, is_last=flow is flows[-1]))
            before += drafts[-1].sheets
        return drafts

    def draft(
        self,
        flow: Flow,
        labels: Mapping[str, str],
        *,
        inspect: bool = True,
        fixed: bool = False,
        before: int = 0,
        is_last: bool = True,
    ) -> _Draft:
        """Set a tab (or a part of one) with these labels in its cross references."""
        form = Format(self.paper, flow.tab.landscape, self.duplex)
        dress = Dress(self.title, flow.tab, form, before)
        ids = sorted(flow.targets)

        def proof_of(body: str) -> Proof:
            page = document(body, form, dress.undated())
            return self.press.proof(flow.tab.title, page, ids, form, inspect=inspect)

        body = flow.filled(labels, fixed=fixed)
        try:
            proof = proof_of(body)
        except TooWide:
            body = BREAK_ANY_WORD + body
            proof = proof_of(body)
        sheets = before + proof.sheets
        if not (form.duplex and is_last and sheets % 2):
            return _Draft(flow, form, body, proof, before, proof.marks or ())
        marks = (*(proof.marks or ()), dress.notes_mark(sheets + 1))
        return _Draft(flow, form, body + notes_side(form), proof, before, marks, has_notes=True)

    def print(self, pair: tuple[_Draft, Sequence[Sheet]]) -> SetPart:
        """Set a part as it goes in the binder, and read what came out."""
        draft, sheets = pair
        tab = draft.flow.tab
        dress = Dress(self.title, tab, draft.form, draft.before)
        page = document(draft.body, draft.form, dress.dated(sheets))
        pdf, is_new = self.press.print(tab.title, page, draft.sheets)
        if is_new:
            refuse_lost_text(tab.title, draft.flow.text, pdf, draft.form)
        return SetPart(draft.flow, draft.form, draft.proof.places, draft.before, draft.sheets, pdf)
