"""Calendar time and service intervals: arithmetic of the calendar, never turned into hours."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date, timedelta

from steadbook.errors import OutOfRange, QuantityError
from steadbook.units.conversion import Quantity
from steadbook.units.grammar import LONGEST_TEXT, tidied
from steadbook.units.kinds import unit_meant
from steadbook.units.reading import parse

_CALENDAR_ALLOWED = "calendar time in whole days, weeks, months or years, such as 24 months"
_PERIODS = {
    "days": (0, 1, "d day days"),
    "weeks": (0, 7, "w wk wks week weeks"),
    "months": (1, 0, "mo mos month months"),
    "years": (12, 0, "y yr yrs year years"),
}
_PERIOD_OF = {word: name for name, (_, _, words) in _PERIODS.items() for word in words.split()}
_LONGEST_MONTHS, _LONGEST_DAYS = 1200, 36525  # a hundred years


@dataclass(frozen=True, slots=True)
class CalendarInterval:
    """Whole months and days of the calendar; a year is 12 months, a week 7 days."""

    days: int = 0
    months: int = 0
    text: str = field(compare=False, default="")

    def __str__(self) -> str:
        parts = [(self.months, "month"), (self.days, "day")]
        words = [f"{n} {word}{'' if n == 1 else 's'}" for n, word in parts if n]
        return " ".join(words) or "0 days"


def parse_calendar(text: str) -> CalendarInterval:
    """Read an interval of the calendar.

    >>> parse_calendar("1 year 6 months").months
    18
    """
    text = str(text)

    def refused(fix: str) -> QuantityError:
        return QuantityError(text[:LONGEST_TEXT].strip() or "nothing", _CALENDAR_ALLOWED, fix)

    tidy = re.sub(r",? and |, ?", " ", tidied(text[: LONGEST_TEXT + 1]).lower())
    terms = re.findall(r"([0-9]+) ?([a-z]+)\.? ?", tidy)
    if re.search(r"[0-9][.,/][0-9]", tidied(text)):
        raise refused("write whole numbers: 18 months, not 1.5 years")
    if re.fullmatch("[0-9]+", tidy):
        raise refused("write days, weeks, months or years after the number")
    if len(text) > LONGEST_TEXT or not re.fullmatch(r"(?:[0-9]+ ?[a-z]+\.? ?)+", tidy):
        raise refused("write a whole number and a unit, such as 24 months")
    days = months = 0
    seen = set()
    for number, word in terms:
        name = _PERIOD_OF.get(word)
        if name is None:
            import difflib

            near = difflib.get_close_matches(word, _PERIOD_OF, n=1)
            known = _PERIOD_OF[near[0]] if near else "days, weeks, months or years"
            raise refused(f"write {known}")
        if name in seen:
            raise refused(f"write {name} once")
        seen.add(name)
        months += int(number) * _PERIODS[name][0]
        days += int(number) * _PERIODS[name][1]
    if months + days == 0 or months > _LONGEST_MONTHS or days > _LONGEST_DAYS:
        raise refused("write between 1 day and 100 years")
    return CalendarInterval(days, months, text)


def add_interval(start: date, interval: CalendarInterval) -> date:
    """The date an interval later: months first, kept inside the month reached, then days.

    >>> add_interval(date(2027, 1, 31), CalendarInterval(months=1))
    datetime.date(2027, 2, 28)
    """
    import calendar

    count = start.year * 12 + start.month - 1 + interval.months
    year, month = count // 12, count % 12 + 1
    try:
        day = min(start.day, calendar.monthrange(year, month)[1])
        reached = start.replace(year=year, month=month, day=day)
        return reached + timedelta(days=interval.days)
    except (ValueError, OverflowError):
        raise OutOfRange("the year of a date", year, "", "between 1 and 9999") from None


@dataclass(frozen=True, slots=True)
class Interval:
    """When something falls due: running hours, calendar time, or whichever comes first."""

    hours: Quantity | None
    calendar: CalendarInterval | None
    text: str = field(compare=False, default="")

    def __str__(self) -> str:
        return " or ".join(str(part) for part in (self.hours, self.calendar) if part is not None)


def parse_interval(text: str) -> Interval:
    """Read a service interval.

    >>> str(parse_interval("200 h or 24 months, whichever first"))
    '200 h or 24 months'
    """
    text = str(text)
    allowed = "running hours, calendar time or both, such as 200 h or 24 months"

    def refused(fix: str) -> QuantityError:
        return QuantityError(text[:LONGEST_TEXT].strip() or "nothing", allowed, fix)

    if len(text) > LONGEST_TEXT:
        raise refused(f"write the interval alone, in at most {LONGEST_TEXT} characters")
    first = r",? \(?whichever (?:comes |is |occurs )?(?:first|earlier|sooner)\)?\.?$"
    hours: Quantity | None = None
    period: CalendarInterval | None = None
    if re.search(r"whichever.*(last|late)", text, re.IGNORECASE):
        raise refused("leave out the rule: the one that comes first counts")
    for part in re.split(r",? or ", re.sub(first, "", tidied(text), flags=re.IGNORECASE)):
        words = re.findall("[a-z]+", part.lower())
        if any(word in _PERIOD_OF for word in words):
            if any(unit_meant(word, "hours") for word in words):
                raise refused("write or between hours and calendar time: 200 h or 24 months")
            if period:
                raise refused("write calendar time once")
            try:
                period = parse_calendar(part)
            except QuantityError as error:
                raise refused(error.fix) from None
            continue
        if hours:
            raise refused("write running hours once")
        try:
            hours = parse(part, "hours")
        except QuantityError as error:
            fix = "write h for running hours, or months" if part[-1:].isdigit() else error.fix
            raise refused(fix) from None
        if hours.magnitude <= 0:
            raise refused("write more than 0 hours")
    return Interval(hours, period, text)
