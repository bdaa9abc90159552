"""Calendar intervals against a general-purpose library and the rules of the calendar."""

from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from steadbook.figures.schedule import Done, Rule, next_due
from steadbook.units import CalendarInterval, add_interval, parse_interval

LIBRARY = "python-dateutil, relativedelta"
CALENDAR = "ISO 8601 calendar dates: month lengths and leap years of the Gregorian calendar"


@pytest.mark.parametrize(
    ("start", "months", "expected"),
    [
        (date(2027, 1, 31), 1, date(2027, 2, 28)),
        (date(2028, 1, 31), 1, date(2028, 2, 29)),
        (date(2028, 2, 29), 12, date(2029, 2, 28)),
        (date(2028, 2, 29), 48, date(2032, 2, 29)),
        (date(2096, 2, 29), 48, date(2100, 2, 28)),  # 2100 is no leap year
        (date(2026, 8, 31), 6, date(2027, 2, 28)),
        (date(2026, 12, 31), 2, date(2027, 2, 28)),
        (date(2026, 3, 30), 1, date(2026, 4, 30)),
        (date(2026, 3, 31), 1, date(2026, 4, 30)),
    ],
)
def test_month_ends_and_leap_days(start, months, expected):
    assert add_interval(start, CalendarInterval(months=months)) == expected, CALENDAR
    assert start + relativedelta(months=months) == expected, LIBRARY


@given(st.dates(date(1900, 1, 1), date(2200, 1, 1)), st.integers(0, 600), st.integers(0, 400))
def test_every_interval_is_that_of_the_library(start, months, days):
    interval = CalendarInterval(days=days, months=months)
    assert add_interval(start, interval) == start + relativedelta(months=months, days=days), LIBRARY


@pytest.mark.parametrize(
    ("written", "library"),
    [
        ("24 months", {"months": 24}), ("2 years", {"years": 2}), ("10 days", {"days": 10}),
        ("3 weeks", {"weeks": 3}), ("1 year 6 months", {"years": 1, "months": 6}),
    ],
)  # fmt: skip
@pytest.mark.parametrize("start", [date(2027, 1, 31), date(2028, 2, 29), date(2026, 3, 1)])
def test_a_due_day_is_the_librarys(start, written, library):
    rule = Rule(calendar=parse_interval(written).calendar)
    assert next_due(rule, Done(start)).day == start + relativedelta(**library), LIBRARY


def test_month_ends_do_not_creep_when_counted_from_the_first_day():
    # each from the day it was done: once on the 28th it stays there, as the library has it too
    day = library = date(2027, 1, 31)
    for _ in range(6):
        day = add_interval(day, CalendarInterval(months=1))
        library += relativedelta(months=1)
        assert day == library, LIBRARY
    assert day == date(2027, 7, 28)


def test_a_week_is_seven_days_across_the_change_of_a_year():
    start = date(2026, 12, 28)  # Monday of week 53
    found = add_interval(start, CalendarInterval(days=7))
    assert found.isocalendar()[:3] == (2027, 1, 1), "ISO 8601 week dates: 2026 has 53 weeks"
    assert found - start == timedelta(days=7)
