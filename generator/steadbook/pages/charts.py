"""What each chart shows: its numbers, a text for who cannot see it, a caption. No drawing here."""

from __future__ import annotations

from collections import defaultdict
from datetime import timedelta
from typing import Any

from steadbook.figures import usage
from steadbook.workings import Workings, words

Data = dict[str, Any]
MOST_ROWS = 24
LOOK_BACK = timedelta(days=120)
"""How far before this month the chart of due days begins, where something is past due."""


def schedule(workings: Workings, subject: str) -> tuple[Data, str, str]:
    """The next due day of each task with its range, the nearest first."""
    rows = []
    for state in workings.by_urgency():
        due = state.due
        if due.day is None or due.day > workings.until or state.rule.is_round():
            continue
        early, late = due.earliest or due.day, due.latest or due.day
        rows.append(
            {
                "label": f"{state.machine.name}: {state.task.title}",
                "day": due.day.isoformat(),
                "early": early.isoformat(),
                "late": min(late, workings.until).isoformat(),
                "pressing": workings.status(state) in ("past due", "no record", "due now"),
            }
        )
    rows.sort(key=lambda row: (str(row["day"]), str(row["label"])))
    left_out = max(0, len(rows) - MOST_ROWS)
    rows = rows[:MOST_ROWS]
    month = workings.as_of.replace(day=1)
    oldest = (month - LOOK_BACK).isoformat()
    data = {
        "rows": rows,
        "from": max(oldest, min([month.isoformat(), *(str(row["early"]) for row in rows)])),
        "until": max((str(row["late"]) for row in rows), default=""),
    }
    caption = (
        "When tasks fall due, the nearest first. A bar is the range between heavy and "
        "light use; a filled mark needs doing now."
    )
    if any(str(row["day"]) < oldest for row in rows):
        caption += " An arrow at the left edge: due before that."
    if left_out:
        caption += f" The {left_out} later ones are in the table alone."
    alt = (
        f"Chart of due days: {words.count(len(data['rows']), 'task')}, the nearest first; the table "
        "below holds the same days."
    )
    return (data if rows else {}), alt, caption


def hours(workings: Workings, subject: str) -> tuple[Data, str, str]:
    """Hours a month of one machine: each past year, and the forecast."""
    running = workings.running[subject]
    machine = workings.homestead.machines[subject]
    if running.rate is None or running.rate.days < 60:
        return {}, "", "Too few meter readings yet for a chart of hours by month."
    readings = running.readings
    years: dict[int, list[float | None]] = defaultdict(lambda: [None] * 12)
    for (year, month), (_, hours_run) in usage.hours_by_month(readings).items():
        years[year][month - 1] = round(hours_run, 1)
    forecast = [
        round(rate * days, 1)
        for rate, days in zip(running.rate.by_month, usage.MONTH_LENGTHS, strict=True)
    ]
    data = {
        "years": {str(year): values for year, values in sorted(years.items())[-4:]},
        "forecast": forecast,
    }
    peak = max(range(12), key=forecast.__getitem__)
    alt = (
        f"Chart of hours a month of {machine.name}: forecast {words.hours(running.rate.year)} in a "
        f"year, most in {words.MONTHS[peak]} ({words.hours(forecast[peak])})."
    )
    caption = (
        f"Hours a month of {machine.name}: past years as marks, the forecast as bars "
        f"({words.hours(running.rate.year)} in a year)."
    )
    return data, alt, caption
