"""Charts of measured values through the years: their numbers, a text, a caption. No drawing here."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from steadbook import units
from steadbook.figures.usage import DAYS_IN_A_YEAR
from steadbook.workings import Workings, words

Data = dict[str, Any]
STEPS = 24
BEYOND = 0.5  # of the time measured: how far the line goes on


def values(workings: Workings, subject: str) -> tuple[Data, str, str]:
    """The values of one series, their line and where the next value should lie."""
    one = next(found for found in workings.trends if found.key == subject)
    prefer = workings.homestead.place.units
    last, end = one.last_time, one.last_time * (1 + BEYOND)
    times = [end * step / STEPS for step in range(STEPS + 1)]
    doubt = [one.doubt_at(time) for time in times]
    middle = [float(one.line.at(time)) for time in times]
    first = one.entries[0].date
    data: Data = {
        "days": [entry.date.isoformat() for entry in one.entries],
        "values": [float(f"{value:.6g}") for value in one.values],
        "line_days": [
            (first + timedelta(days=round(time * DAYS_IN_A_YEAR))).isoformat() for time in times
        ],
        "line": [float(f"{value:.6g}") for value in middle],
        "low": [float(f"{value - part:.6g}") for value, part in zip(middle, doubt, strict=True)],
        "high": [float(f"{value + part:.6g}") for value, part in zip(middle, doubt, strict=True)],
        "limits": [
            {"y": limit, "label": f"{word} allowed"}
            for limit, word in ((one.lowest, "lowest"), (one.highest, "highest"))
            if limit is not None
        ],
        "y_label": units.symbol(one.unit) or one.spec,
    }
    slope = units.show_value(abs(one.line.slope), one.slope_unit, prefer)
    way = "rises" if one.line.slope > 0 else "falls"
    what = f"{one.machine.name}, {one.title}"
    alt = (
        f"Chart of {what}: {len(one.values)} values to {words.day(one.entries[-1].date)}; the line "
        f"{way} by {slope} a year."
    )
    caption = (
        f"{what}: values as marks, their line, and in grey where 8 of 10 next values should lie, "
        f"up to {words.day(one.day(end))}."
    )
    return (data if last > 0 else {}), alt, caption
