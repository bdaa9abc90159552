"""The reprint set: only the sheets that changed, behind a slip that says what to do with them.

Printed on both sides, a leaf is pulled and inserted whole: the side that did not change comes
along with the one that did.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape
from itertools import zip_longest

import pikepdf
from pikepdf import Name

from steadbook.bind.assembly import Imprint, finish, label_pages
from steadbook.bind.binder import Binder
from steadbook.bind.dress import Dress, document, notes_side
from steadbook.bind.engines import Engine
from steadbook.bind.paper import Format, paper_named
from steadbook.bind.press import Press
from steadbook.bind.sheets import IssuedTab, Manifest, Sheet, Tab, in_runs, written_date

SLIP = "Slip"


@dataclass(frozen=True)
class Swap:
    """One line of the slip: sheets to take out, sheets to put in, either of them perhaps none."""

    pull: tuple[Sheet, ...]
    insert: tuple[Sheet, ...]
    whole_tab: str = ""

    @property
    def take_out(self) -> str:
        return self._side(self.pull)

    @property
    def put_in(self) -> str:
        return self._side(self.insert)

    def _side(self, sheets: Sequence[Sheet]) -> str:
        if not sheets:
            return "—"
        if self.whole_tab:
            return f"all of {self.whole_tab}: {in_runs([s.label for s in sheets])}"
        if {(s.label, s.revised) for s in self.pull} == {(s.label, s.revised) for s in self.insert}:
            # printed twice on one day: the letters tell them apart
            return ", ".join(f"{sheet.label} {sheet.fingerprint}" for sheet in sheets)
        days = sorted({sheet.revised for sheet in sheets}, reverse=True)
        return " and ".join(
            f"{in_runs([s.label for s in sheets if s.revised == day])} ({written_date(day)})"
            for day in days
        )

    def __str__(self) -> str:
        """The line in words.

        >>> from datetime import date
        >>> old = Sheet("power", 3, "Power 3", date(2026, 5, 12), "bcdf-ghjk")
        >>> new = Sheet("power", 3, "Power 3", date(2026, 6, 1), "kjhg-fdcb")
        >>> str(Swap((old,), (new,)))
        'Remove Power 3 (12 May 2026); insert Power 3 (1 Jun 2026)'
        """
        if not self.insert:
            return f"Remove {self.take_out}"
        if not self.pull:
            return f"Insert {self.put_in}"
        return f"Remove {self.take_out}; insert {self.put_in}"


@dataclass(frozen=True)
class Reprint:
    """What to print after a change. ``pdf`` is empty when no sheet changed.

    ``pull`` are the sheets to take out of the binder, ``insert`` those to put in, ``discard``
    those of the pulled ones that nothing replaces. ``reissued`` names tabs that come whole.
    """

    pdf: bytes
    swaps: list[Swap]
    reissued: list[str] = field(default_factory=list)

    @property
    def pull(self) -> list[Sheet]:
        return [sheet for swap in self.swaps for sheet in swap.pull]

    @property
    def insert(self) -> list[Sheet]:
        return [sheet for swap in self.swaps for sheet in swap.insert]

    @property
    def discard(self) -> list[Sheet]:
        stays = {sheet.label for sheet in self.insert}
        return [sheet for sheet in self.pull if sheet.label not in stays]

    @property
    def steps(self) -> list[str]:
        return [str(swap) for swap in self.swaps]


def reprint(binder: Binder, printed: Manifest, engine: Engine | None = None) -> Reprint:
    """The sheets of `binder` that the printed binder lacks, and what to do with them.

    Bind with ``previous=printed`` first, so that unchanged sheets keep their dates. When the
    set is printed and put in, write ``binder.manifest`` as the new list of printed sheets.
    """
    now = binder.manifest
    swaps: list[Swap] = []
    reissued: list[str] = []
    for tab in now.tabs:
        old = printed.tab(tab.key)
        if old is not None and _comes_whole(tab, old, now, printed):
            reissued.append(tab.title)
            swaps.append(Swap(old.sheets, tab.sheets, whole_tab=tab.title))
        else:
            swaps += _swaps(tab, old, side_count=2 if now.duplex else 1)
    here = {tab.key for tab in now.tabs}
    swaps += [
        Swap(old.sheets, (), whole_tab=old.title) for old in printed.tabs if old.key not in here
    ]
    if not swaps:
        return Reprint(b"", [])
    return Reprint(_reprint_pdf(binder, swaps, engine), swaps, reissued)


def _comes_whole(tab: IssuedTab, old: IssuedTab, now: Manifest, printed: Manifest) -> bool:
    return tab.is_reissue_of(old) or not now.is_comparable_to(printed)


def _swaps(tab: IssuedTab, old: IssuedTab | None, side_count: int) -> list[Swap]:
    """Leaf by leaf: out with the old and in with the new wherever a side differs."""
    if old is None:
        return [Swap((), tab.sheets, whole_tab=tab.title)]
    leaves = zip_longest(
        _leaves(old.sheets, side_count), _leaves(tab.sheets, side_count), fillvalue=()
    )
    return [Swap(out, new) for out, new in leaves if _content(out) != _content(new)]


def _leaves(sheets: Sequence[Sheet], side_count: int) -> list[tuple[Sheet, ...]]:
    return [tuple(sheets[n : n + side_count]) for n in range(0, len(sheets), side_count)]


def _content(leaf: Sequence[Sheet]) -> list[tuple[str, str]]:
    return [(sheet.label, sheet.fingerprint) for sheet in leaf]


def _reprint_pdf(binder: Binder, swaps: Sequence[Swap], engine: Engine | None) -> bytes:
    now = binder.manifest
    form = Format(paper_named(now.paper), landscape=False, duplex=now.duplex)
    place = {sheet.label: number for number, sheet in enumerate(binder.sheets)}
    sheets = [sheet.label for swap in swaps for sheet in swap.insert]
    revision = now.revisions[-1]
    imprint = Imprint(
        f"{now.title}: reprint set", now.edition, revision.day, now.engine, duplex=now.duplex
    )
    with (
        pikepdf.new() as found,
        pikepdf.open(io.BytesIO(_slip(now, swaps, form, engine))) as slip,
        pikepdf.open(io.BytesIO(binder.pdf)) as bound,
    ):
        pages = [*slip.pages, *(bound.pages[place[label]] for label in sheets)]
        for page in pages:
            if Name.Annots in page:  # links lead to sheets that are not in the set
                del page.obj.Annots
            found.pages.append(page)
        names = [*(f"{SLIP} {number}" for number in range(1, len(slip.pages) + 1)), *sheets]
        label_pages(found, {number: (name, None) for number, name in enumerate(names)})
        return finish(found, imprint)


def _slip(now: Manifest, swaps: Sequence[Swap], form: Format, engine: Engine | None) -> bytes:
    """The slip's sheets: full leaves when printed on both sides, so that the rest stays paired."""
    tab = Tab("slip", SLIP, _slip_html(now, swaps))
    dress = Dress(now.title, tab, form).undated()
    press = Press([], engine=engine)
    page = document(tab.html, form, dress)
    if form.duplex and press.proof(SLIP, page, [], form, inspect=True).sheets % 2:
        page = document(tab.html + notes_side(form), form, dress)
    return press.print(SLIP, page)[0]


def _slip_html(now: Manifest, swaps: Sequence[Swap]) -> str:
    revision = now.revisions[-1]
    rows = "".join(
        f"<tr><td>{escape(swap.take_out)}</td><td>{escape(swap.put_in)}</td>"
        '<td><span class="tick"></span></td></tr>'
        for swap in swaps
    )
    count = sum(len(swap.insert) for swap in swaps)
    sheets = f"{count} sheet" if count == 1 else f"{count} sheets"
    sides = "printed on both sides" if now.duplex else "printed on one side"
    return (
        "<h1>Reprint set</h1>"
        f"<p>{escape(now.title)}. Revision {revision.number}, {written_date(revision.day)}: "
        f"{sheets}, {sides}, follow this slip.</p>"
        '<table><thead><tr><th style="width:45%">Take out</th>'
        '<th style="width:45%">Put in</th><th style="width:10%">Done</th></tr></thead>'
        f"<tbody>{rows}</tbody></table>"
        "<ol><li>Work down the list, one line at a time.</li>"
        "<li>Throw the sheets taken out away, so that nobody works from them.</li>"
        f"<li>Sign line {revision.number} of the record of revisions.</li>"
        "<li>Keep this slip until the set is in; then throw it away too.</li></ol>"
    )
