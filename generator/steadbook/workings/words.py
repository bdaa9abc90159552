"""Dates, hours and amounts as the manual writes them."""

from __future__ import annotations

from datetime import date

from steadbook import units
from steadbook.units import Quantity

NBSP = "\N{NO-BREAK SPACE}"
MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]


def day(value: date | None) -> str:
    """`14 Jan 2027`, which no reader takes for another day.

    >>> day(date(2027, 1, 14)).replace(NBSP, " ")
    '14 Jan 2027'
    """
    if value is None:
        return "not known"
    return f"{value.day}{NBSP}{MONTHS[value.month - 1]}{NBSP}{value.year}"


def order_day(value: date, as_of: date) -> str:
    """The day to order by; `now` where that day is past.

    >>> order_day(date(2026, 10, 17), date(2026, 11, 25)).replace(NBSP, " ")
    'now (was to be by 17 Oct 2026)'
    """
    return f"now (was to be by {day(value)})" if value < as_of else day(value)


def hours(value: float | None) -> str:
    """`1,432 h`: whole hours, tenths below ten."""
    if value is None:
        return "not known"
    text = f"{value:,.1f}" if 0 < abs(value) < 10 else f"{value:,.0f}"
    return f"{text}{NBSP}h".replace("-", "\N{MINUS SIGN}")


def span(days: int) -> str:
    """`in 34 days`, `today`, `12 days ago`; months beyond a quarter, years beyond three.

    >>> span(1), span(-400), span(-10_324)
    ('in 1 day', '13 months ago', '28 years ago')
    """
    if days == 0:
        return "today"
    size = abs(days)
    if size <= 90:
        text = count(size, "day")
    elif size <= 3 * 365.25:
        text = f"{round(size / 30.44)} months"
    else:
        text = f"{round(size / 365.25)} years"
    return f"in {text}" if days > 0 else f"{text} ago"


def minutes(value: float) -> str:
    """`45 min`, `2 h 15 min`."""
    whole = round(value)
    if whole < 60:
        return f"{whole}{NBSP}min"
    rest = f" {whole % 60}{NBSP}min" if whole % 60 else ""
    return f"{whole // 60}{NBSP}h{rest}"


def count(number: int, noun: str) -> str:
    """`1 machine`, `3 machines`, `2 log entries`.

    >>> count(1, "log entry"), count(2, "log entry"), count(0, "day")
    ('1 log entry', '2 log entries', '0 days')
    """
    if number == 1:
        return f"1 {noun}"
    plural = f"{noun[:-1]}ies" if noun.endswith("ry") else f"{noun}s"
    return f"{number:,} {plural}"


def work(value: float) -> str:
    """`about 45 min of work`; without any minutes entered `time not entered`."""
    return f"about {minutes(value)} of work" if value > 0 else "time not entered"


def amount(value: float, like: Quantity) -> str:
    """An amount of a part, in the unit in which the part is counted."""
    if like.kind == "count":
        return f"{value:g}"
    return f"{value:.3g}{NBSP}{like.unit}"


def quantity(value: Quantity, prefer: units.System) -> str:
    """A quantity in the preferred system, the other one in brackets."""
    return units.show(value, prefer)
