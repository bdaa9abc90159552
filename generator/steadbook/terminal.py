"""What is due, as a table for the terminal."""

from __future__ import annotations

import shutil

from steadbook.workings import Workings, words

SHOWN = ("past due", "no record", "due now", "order now", "coming up")


def counted(workings: Workings) -> str:
    """`2 past due, 1 due now, 5 coming up of 61 tasks`."""
    counts = [f"{n} {word}" for word, n in workings.counts().items() if n and word in SHOWN]
    return f"{', '.join(counts) or 'nothing due soon'} (of {len(workings.tasks)})"


def due_table(workings: Workings, *, everything: bool = False) -> str:
    """Tasks that need attention, the most pressing first; with ``everything`` all of them.

    What is ticked daily or weekly on the sheet of the rounds alone is left to that sheet.
    """
    rows: list[tuple[str, ...]] = [("STATUS", "MACHINE", "TASK", "DUE", "", "ORDER BY")]
    for state in workings.by_urgency():
        if state.is_ticked:
            if everything:
                named = (state.machine.name, state.task.title)
                rows.append(("on rounds", *named, f"every {state.task.every.text}", "", ""))
            continue
        word = workings.status(state)
        if word not in SHOWN and not everything:
            continue
        day = state.due.day
        order_by = workings.order_by.get(state.key)
        rows.append(
            (
                word,
                state.machine.name,
                state.task.title,
                words.day(day) if day else "not known",
                words.span((day - workings.as_of).days) if day else "",
                words.order_day(order_by, workings.as_of) if order_by else "",
            )
        )
    if len(rows) == 1:
        return f"Nothing is due by {words.day(workings.as_of)}.".replace(words.NBSP, " ")
    lines = [*_columns(rows), "", counted(workings)]
    return "\n".join(lines).replace(words.NBSP, " ")


def _columns(rows: list[tuple[str, ...]]) -> list[str]:
    room = max(60, shutil.get_terminal_size((120, 24)).columns)
    widths = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))]
    over = sum(widths) + 2 * (len(widths) - 1) - room
    if over > 0:  # the task's title gives way first, then the machine's name
        for place, least in ((2, 24), (1, 14)):
            cut = max(0, min(over, widths[place] - least))
            widths[place] -= cut
            over -= cut
    return [
        "  ".join(_fit(text, width) for text, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]


def _fit(text: str, width: int) -> str:
    return text.ljust(width) if len(text) <= width else text[: width - 1] + "…"
