"""What the charts of electricity show: numbers, a text for who cannot see them, a caption."""

from __future__ import annotations

from typing import Any

from steadbook.figures import charge
from steadbook.figures.usage import MONTH_LENGTHS
from steadbook.workings import Workings, words

Data = dict[str, Any]
CHARGED_FROM = 0.5
MINUTES = 12  # between the points of a charge


def energy(workings: Workings, subject: str) -> tuple[Data, str, str]:
    """Yield and need of a mean day of each month, with the range of the month's mean."""
    found = workings.power.energy
    if found is None:
        return {}, "", "The light by month is not entered."
    rows = found.months
    data: Data = {
        "x": words.MONTHS,
        "curves": [
            {"label": "arrays", "y": [round(row.arrays, 1) for row in rows], "marked": True},
            {"label": "house", "y": [round(row.need, 1) for row in rows], "marked": True},
        ],
        "y_label": "kWh on a mean day",
        "columns": 3,
    }
    if all(row.sun for row in rows):
        data["range"] = [
            [round(row.sun.low, 1) for row in rows if row.sun],
            [round(row.sun.high, 1) for row in rows if row.sun],
        ]
    darkest = found.darkest
    name = words.MONTHS[darkest.month - 1]
    alt = (
        f"Chart of energy by month: in {name} the arrays give {darkest.arrays:.1f} kWh a day and the "
        f"house needs {darkest.need:.1f}; the table holds every month."
    )
    caption = (
        "What the arrays give and what the house needs, the inverter's loss in it, on a mean day. "
        "The band holds the month's mean in 8 winters of 10."
    )
    return data, alt, caption


def winter_hours(workings: Workings, subject: str) -> tuple[Data, str, str]:
    """Genset hours by month of the made-up winters, beside the meter's."""
    power = workings.power
    ahead = power.ahead
    if ahead is None:
        return {}, "", "The winters could not be made: see what is missing."
    other = power.other_hours
    rows = [ahead.of("genset_hours", month) for month in range(1, 13)]
    curves: list[Data] = [
        {"label": "made-up winters, mean", "y": [round(row.mean + other, 1) for row in rows]}
    ]
    if all(one is not None for one in power.log_hours):
        curves.append(
            {
                "label": "by the meter",
                "y": [round(one, 1) for one in power.log_hours if one is not None],
                "marked": True,
            }
        )
    rate = power.blended.rate if power.blended else None
    if rate is not None and power.meter is not None:
        curves.append(
            {
                "label": "forecast of both",
                "y": [
                    round(one * days, 1)
                    for one, days in zip(rate.by_month, MONTH_LENGTHS, strict=True)
                ],
            }
        )
    data: Data = {
        "x": words.MONTHS,
        "curves": curves,
        "range": [
            [round(row.low + other, 1) for row in rows],
            [round(row.high + other, 1) for row in rows],
        ],
        "y_label": "genset hours in the month",
        "columns": 2,
    }
    most = max(range(12), key=lambda month: rows[month].mean)
    alt = (
        f"Chart of genset hours by month: most in {words.MONTHS[most]}, mean "
        f"{rows[most].mean + other:.0f} h, {rows[most].low + other:.0f} to "
        f"{rows[most].high + other:.0f} h in 8 winters of 10; the table holds every month."
    )
    caption = (
        f"Genset hours by month of {ahead.winters:,} made-up winters, with the band of 8 in 10, and "
        "what the meter showed."
    )
    return data, alt, caption


def charging(workings: Workings, subject: str) -> tuple[Data, str, str]:
    """How the bank fills on the genset, hour by hour, and its current."""
    bank = workings.power.battery
    if bank is None or not bank.genset_current:
        return {}, "", "The charger's current is not known."
    current = bank.genset_current
    hours = [step * MINUTES / 60 for step in range(8 * 60 // MINUTES + 1)]
    share = [
        float(charge.charge_after(CHARGED_FROM, hour, current, bank.usable, bank.chemistry))
        for hour in hours
    ]
    amps = [
        min(current, float(charge.accepted_current(one, bank.usable, bank.chemistry)))
        for one in share
    ]
    data: Data = {
        "x": hours,
        "curves": [
            {"label": "state of charge, %", "y": [round(100 * one, 1) for one in share]},
            {"label": "current, A", "y": [round(one, 1) for one in amps]},
        ],
        "x_label": "hours on the genset",
        "y_label": "% and A",
        "columns": 2,
    }
    at = next((h for h, one in zip(hours, share, strict=True) if bank.knee and one >= bank.knee), 0)
    alt = (
        f"Chart of a charge from {100 * CHARGED_FROM:.0f} % on {current:.0f} A: the current begins "
        f"to fall after {at:.1f} h; the table holds the times."
    )
    caption = (
        f"A charge from {100 * CHARGED_FROM:.0f} % on the genset. After the bend the bank takes less "
        "and less: the genset runs on, the bank gains little."
    )
    return data, alt, caption
