"""The loose-leaf binder: finished tabs in, one PDF out, with a manifest of its sheets.

The binder knows nothing of what the tabs say. Each tab is set as a document of its own, so that
a change in one renumbers no other; each sheet bears the day its content last changed.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import TypeVar

from steadbook.bind.assembly import Imprint, SetTab, assemble
from steadbook.bind.dress import Dress, document, notes_side
from steadbook.bind.flow import Flow, prepare
from steadbook.bind.front import front_tab
from steadbook.bind.paper import Format, Paper, PaperName, paper_named
from steadbook.bind.press import Layout, Press, engine_name
from steadbook.bind.proofread import refuse_lost_text
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
from steadbook.errors import BindError

__all__ = ["Binder", "Manifest", "Sheet", "Tab", "bind"]

SETTLING_ROUNDS = 4
"""Filling in cross references must not move them; after so many rounds it is an error."""

_T = TypeVar("_T")
_R = TypeVar("_R")


@dataclass(frozen=True)
class Binder:
    """A bound manual. ``sheets`` are in the order of the PDF's pages."""

    pdf: bytes
    sheets: list[Sheet]
    manifest: Manifest
    warnings: list[str]


@dataclass(frozen=True)
class _Draft:
    """A tab whose sheets are known but not yet dated."""

    flow: Flow
    form: Format
    body: str
    layout: Layout

    @property
    def labels(self) -> dict[str, str]:
        """The sheet that each target of this tab stands on."""
        title = self.flow.tab.title
        return {name: f"{title} {place.number}" for name, place in self.layout.places.items()}


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
    warnings: list[str] = []
    if previous is not None:
        previous = _comparable(previous, paper, duplex, warnings)
    press = Press(roots, cache_dir)
    desk = _Desk(press, title, paper_named(paper), duplex, as_of, previous)
    drafts = desk.settle(prepare(tabs))
    issued = _each(desk.proof, drafts)
    revisions = revisions_after(issued, as_of=as_of, previous=previous)
    front = front_tab(
        title=title,
        subtitle=subtitle,
        edition=edition,
        flows=[draft.flow for draft in drafts],
        tabs=issued,
        revisions=revisions,
        labels={name: label for draft in drafts for name, label in draft.labels.items()},
    )
    [flow] = prepare([front], elsewhere=[draft.flow for draft in drafts])
    drafts.insert(0, desk.draft(flow, {}))
    issued.insert(0, desk.proof(drafts[0]))
    printed = _each(desk.print, zip(drafts, issued, strict=True))
    press.shelf.sweep()
    manifest = Manifest(title, edition, paper, duplex, engine_name(), tuple(issued), revisions)
    pdf = assemble(printed, Imprint(title, subtitle, as_of, engine_name()))
    return Binder(pdf, list(manifest.sheets), manifest, warnings)


def _refuse_bad_tabs(tabs: Sequence[Tab]) -> None:
    if not tabs:
        raise BindError("there are no tabs to bind")
    keys, titles = {FRONT_KEY}, {FRONT_TITLE}
    for tab in tabs:
        if tab.key in keys or tab.title in titles:
            raise BindError(f"tab {tab.title!r} ({tab.key}): key and title are taken already")
        keys.add(tab.key)
        titles.add(tab.title)


def _comparable(
    previous: Manifest, paper: str, duplex: bool, warnings: list[str]
) -> Manifest | None:
    now = replace(previous, paper=paper, duplex=duplex, engine=engine_name())
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


@dataclass(frozen=True)
class _Desk:
    """Takes tabs through the press one step at a time."""

    press: Press
    title: str
    paper: Paper
    duplex: bool
    as_of: date
    previous: Manifest | None

    def settle(self, flows: Sequence[Flow]) -> list[_Draft]:
        """Set all tabs until every cross reference shows the sheet it leads to."""
        labels = {name: f"{flow.tab.title} 00" for flow in flows for name in flow.targets}
        drafts = _each(partial(self.draft, labels=labels), flows)
        for _ in range(SETTLING_ROUNDS):
            settled = {name: label for draft in drafts for name, label in draft.labels.items()}
            if settled == labels:
                return drafts
            labels = settled
            drafts = _each(partial(self.redraft, labels=labels), drafts)
        raise BindError("the cross references do not settle: a link's label moves its own target")

    def draft(self, flow: Flow, labels: Mapping[str, str]) -> _Draft:
        """Set one tab with these labels in its cross references."""
        form = Format(self.paper, flow.tab.landscape, self.duplex)
        body = flow.filled(labels)
        page = document(body, form)
        layout = self.press.layout(flow.tab.title, page, sorted(flow.targets))
        if form.duplex and layout.sheets % 2:
            body += notes_side(form)
            layout = replace(layout, sheets=layout.sheets + 1)
        return _Draft(flow, form, body, layout)

    def redraft(self, draft: _Draft, labels: Mapping[str, str]) -> _Draft:
        """Set a tab again if it has cross references to fill in."""
        return self.draft(draft.flow, labels) if draft.flow.links else draft

    def proof(self, draft: _Draft) -> IssuedTab:
        """Take the fingerprints of a tab's sheets, and so learn the day each was revised."""
        tab = draft.flow.tab
        dress = Dress(self.title, tab, draft.form)
        page = document(draft.body, draft.form, dress.undated(draft.layout.sheets))
        marks = self.press.proof(tab.title, page, draft.form)
        if len(marks) != draft.layout.sheets:
            raise BindError(f"tab {tab.title!r}: comes out with another number of sheets each time")
        printed = self.previous.tab(tab.key) if self.previous is not None else None
        return issue(tab.key, tab.title, marks, as_of=self.as_of, printed=printed)

    def print(self, pair: tuple[_Draft, IssuedTab]) -> SetTab:
        """Set a tab as it goes in the binder, and read what came out."""
        draft, issued = pair
        dress = Dress(self.title, draft.flow.tab, draft.form)
        page = document(draft.body, draft.form, dress.dated(issued.sheets))
        pdf, is_new = self.press.print(draft.flow.tab.title, page)
        if is_new:
            refuse_lost_text(draft.flow.tab.title, draft.flow.text, pdf)
        return SetTab(draft.flow, draft.form, draft.layout.places, draft.layout.sheets, pdf)
