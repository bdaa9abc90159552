"""The front matter: cover, how to keep the binder, contents, effective sheets, revisions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from html import escape
from itertools import zip_longest

from steadbook.bind.flow import Flow, Heading
from steadbook.bind.sheets import (
    FRONT_KEY,
    FRONT_TITLE,
    IssuedTab,
    Revision,
    Sheet,
    Tab,
    in_runs,
    written_date,
)

REVISIONS_SHOWN = 25
BLANK_REVISIONS = 6


def front_parts(
    *,
    title: str,
    subtitle: str,
    edition: str,
    flows: Sequence[Flow],
    tabs: Sequence[IssuedTab],
    revisions: Sequence[Revision],
    labels: Mapping[str, str],
) -> list[Tab]:
    """The Front tab in two parts: what seldom changes, and what changes with every sheet.

    `labels` gives the sheet each heading stands on.
    """
    steady = (_cover(title, subtitle, edition), _keeping(), _contents(flows, labels))
    moving = (_effective_sheets(tabs), _record(revisions))
    return [Tab(FRONT_KEY, FRONT_TITLE, "".join(part)) for part in (steady, moving)]


def _cover(title: str, subtitle: str, edition: str) -> str:
    return (
        f'<section class="cover"><p class="cover-title">{escape(title)}</p>'
        f'<p class="cover-subtitle">{escape(subtitle)}</p>'
        f'<p class="cover-edition">Edition: {escape(edition)}</p></section>'
    )


def _keeping() -> str:
    return """<section class="new-sheet"><h1 id="front-keeping">How to keep this binder</h1>
<ol>
<li>Each tab has its own sheet numbers. The foot of a sheet shows its label, the day it was
last revised, and eight letters that stand for its content.</li>
<li>When something changes, print the reprint set: it holds only the sheets that changed, behind
a slip that says which sheets to take out and which to put in.</li>
<li>Put the new sheets in, then throw the old ones away, so that nobody works from them.</li>
<li>Sign the record of revisions for each set you put in.</li>
<li>To check the binder, compare the foot of each sheet with the list of effective sheets. A
sheet whose date or letters differ does not belong.</li>
<li>Write on the ruled sides and in the margins. Carry what matters into the inventory, or the
next sheet will be printed without it.</li>
</ol></section>"""


def _contents(flows: Sequence[Flow], labels: Mapping[str, str]) -> str:
    lines = []
    for flow in flows:
        entries = list(_entries(flow))
        first = entries[0].id if entries else None
        lines.append(_line("tab", flow.tab.title, first, labels, f"{flow.tab.title} 1"))
        for heading in entries:
            if heading.level == 1 and heading.text == flow.tab.title:
                continue
            lines.append(_line(f"level-{heading.level}", heading.text, heading.id, labels, ""))
    return (
        '<section class="new-sheet contents"><h1 id="front-contents">Contents</h1>'
        + "".join(lines)
        + "</section>"
    )


def _entries(flow: Flow) -> Iterable[Heading]:
    """The headings worth a line: those of pages, or of sections where a tab is a single page."""
    pages = sum(heading.level == 1 for heading in flow.headings)
    depth = 2 if pages <= 1 else 1
    return (h for h in flow.headings if h.level <= depth and h.text)


def _line(
    kind: str, text: str, target: str | None, labels: Mapping[str, str], otherwise: str
) -> str:
    label = labels[target] if target is not None else otherwise
    link = "" if target is None else f' href="binder:{escape(target)}"'
    return f'<a class="bare {kind}" data-at="{escape(label)}"{link}>{escape(text)}</a>'


def _effective_sheets(tabs: Sequence[IssuedTab]) -> str:
    """Two sheets a row: in a binder printed on both sides, a row is a leaf."""
    rows = "".join(
        f"<tr>{_cells(first)}{_cells(second)}</tr>"
        for tab in tabs
        for first, second in zip_longest(tab.sheets[::2], tab.sheets[1::2])
    )
    columns = (("Sheet", 17), ("Revised", 16.5), ("Letters", 16.5)) * 2
    head = "".join(f'<th style="width:{width}%">{name}</th>' for name, width in columns)
    return (
        '<section><h1 id="front-effective">List of effective sheets</h1>'
        "<p>The sheets of this front part bear their own dates and are not listed.</p>"
        f'<table class="effective"><thead><tr>{head}</tr></thead>'
        f"<tbody>{rows}</tbody></table></section>"
    )


def _cells(sheet: Sheet | None) -> str:
    if sheet is None:
        return "<td></td><td></td><td></td>"
    return (
        f"<td>{escape(sheet.label)}</td><td>{written_date(sheet.revised)}</td>"
        f"<td>{sheet.fingerprint}</td>"
    )


def _record(revisions: Sequence[Revision]) -> str:
    rows = []
    for revision in revisions[-REVISIONS_SHOWN:]:
        what = in_runs(revision.sheets) if revision.sheets else "Original issue"
        rows.append(
            f"<tr><td>{revision.number}</td><td>{written_date(revision.day)}</td>"
            f"<td>{escape(what)}</td><td></td><td></td></tr>"
        )
    blank = "<tr><td>&nbsp;</td><td></td><td></td><td></td><td></td></tr>"
    columns = (("No.", 7), ("Date", 18), ("Sheets", 40), ("Put in by", 20), ("On", 15))
    head = "".join(f'<th style="width:{width}%">{name}</th>' for name, width in columns)
    return (
        '<section class="new-sheet"><h1 id="front-revisions">Record of revisions</h1>'
        f"<table><thead><tr>{head}</tr></thead><tbody>{''.join(rows)}"
        f"{blank * BLANK_REVISIONS}</tbody></table></section>"
    )
