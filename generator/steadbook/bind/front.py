"""The front matter: cover, how to keep the binder, contents, effective sheets, revisions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from html import escape

from steadbook.bind.flow import Flow, Heading
from steadbook.bind.sheets import (
    FRONT_KEY,
    FRONT_TITLE,
    IssuedTab,
    Revision,
    Tab,
    in_runs,
    number_runs,
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
<li>To check the binder, compare the day in the foot of each sheet with the list of effective
sheets. A sheet with another day, or with other letters than the list names, does not
belong.</li>
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
        '<section class="contents"><h1 id="front-contents">Contents</h1>'
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
    """A line for each day of each tab: most sheets of a tab are of the day it was issued."""
    rows = "".join(
        f"<tr><td>{escape(title)}</td><td>{written_date(day)}</td><td>{escape(sheets)}</td></tr>"
        for tab in tabs
        for title, day, sheets in effective_lines(tab)
    )
    columns = (("Tab", 22), ("Revised", 18), ("Sheets", 60))
    head = "".join(f'<th style="width:{width}%">{name}</th>' for name, width in columns)
    return (
        '<section><h1 id="front-effective">List of effective sheets</h1>'
        "<p>Every sheet that belongs in the binder, by tab and by the day in its foot. The sheets "
        "of this front part bear their own dates and are not listed. Where a sheet changed after "
        "its tab was issued, the letters in its foot are named too.</p>"
        f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></section>"
    )


def effective_lines(tab: IssuedTab) -> list[tuple[str, date, str]]:
    """Tab, day and sheets of that day, the latest first; the tab is named once.

    Sheets follow one another in runs; those changed since the tab was issued come with letters.
    """
    lines: list[tuple[str, date, str]] = []
    for day in sorted({sheet.revised for sheet in tab.sheets}, reverse=True):
        those = [sheet for sheet in tab.sheets if sheet.revised == day]
        if day > tab.issued:
            words = ", ".join(f"{one.number} ({one.fingerprint})" for one in those)
        else:
            words = number_runs([one.number for one in those])
        lines.append(("" if lines else tab.title, day, words))
    return lines


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
        '<section><h1 id="front-revisions">Record of revisions</h1>'
        f"<table><thead><tr>{head}</tr></thead><tbody>{''.join(rows)}"
        f"{blank * BLANK_REVISIONS}</tbody></table></section>"
    )
