"""What is due, as a table for the terminal."""

from __future__ import annotations

import shutil
from collections.abc import Iterator, Sequence
from datetime import date

from steadbook.workings import Workings, tasks, words
from steadbook.workings.fuel_due import fuel_due

Row = tuple[str, str, str, str, str, str]
Order = tuple[int, date, str]

SHOWN = ("past due", "no record", "due now", "order now", "coming up")


def counted(workings: Workings) -> str:
    """`2 past due, 1 due now, 5 coming up of 61 tasks`."""
    counts = [f"{n} {word}" for word, n in workings.counts().items() if n and word in SHOWN]
    listed = str(len(workings.tasks))
    if workings.expiring:
        listed += f" tasks and {words.count(len(workings.expiring), 'date')} of units"
    return f"{', '.join(counts) or 'nothing due soon'} (of {listed})"


def due_table(workings: Workings, *, everything: bool = False) -> str:
    """Tasks and units that need attention, the most pressing first; with ``everything`` all of them.

    What is ticked daily or weekly on the sheet of the rounds alone is left to that sheet.
    """
    found = [*_task_rows(workings, everything), *_unit_rows(workings, everything)]
    fuel = list(_fuel_lines(workings, everything))
    if not found:
        lines = [f"Nothing is due by {words.day(workings.as_of)}.", *fuel]
        return "\n".join(lines).replace(words.NBSP, " ")
    rows = [("STATUS", "MACHINE", "TASK", "DUE", "", "ORDER BY")]
    rows += [row for _, row in sorted(found)]
    lines = [*_columns(rows), "", counted(workings), *fuel]
    return "\n".join(lines).replace(words.NBSP, " ")


def _task_rows(workings: Workings, everything: bool) -> Iterator[tuple[Order, Row]]:
    for state in workings.by_urgency():
        word, machine, title = workings.status(state), state.machine.name, state.task.title
        order = tasks.order(state, word)
        if state.is_ticked:
            if everything:
                every = f"every {state.task.every.text}"
                yield order, ("on rounds", machine, title, every, "", "")
        elif word in SHOWN or everything:
            day, order_by = state.due.day, workings.order_by.get(state.key)
            yield (
                order,
                (
                    word,
                    machine,
                    title,
                    words.day(day) if day else "not known",
                    words.span((day - workings.as_of).days) if day else "",
                    words.order_day(order_by, workings.as_of) if order_by else "",
                ),
            )


def _unit_rows(workings: Workings, everything: bool) -> Iterator[tuple[Order, Row]]:
    for one in workings.expiring:
        if one.status in SHOWN or everything:
            when = words.day(one.day), words.span((one.day - workings.as_of).days)
            yield one.order, (one.status, one.unit.machine.name, one.unit.title, *when, "")


def _fuel_lines(workings: Workings, everything: bool) -> Iterator[str]:
    """A line for each tank to be filled soon: the day to order by, and why it is so early."""
    for one in fuel_due(workings):
        if one.order_by <= workings.soon or everything:
            when = words.order_day(one.order_by, workings.as_of)
            by = "" if one.order_by < workings.as_of else "by "
            why = f" ({one.reason})" if one.reason else ""
            late = f"; {one.late}" if one.late else ""
            yield f"Fuel for {one.tank}: order {by}{when}{why}{late}."


def _columns(rows: Sequence[Row]) -> list[str]:
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
