"""How fast a machine's hours run: a seasonal rate learned from its meter.

The rate of a calendar month is the mean of that month in all years of readings, younger years
weighing more; the last half-year then scales the whole year up or down, half as much as it
differs. Pure arithmetic on days and hours: no files, no clock.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import pairwise
from math import sqrt

DAYS_IN_A_YEAR = 365.25
MONTH_LENGTHS = (31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
YEAR_FADES_TO = 0.85  # weight of a year against the one after it
SHRINKAGE = 3.0  # days of the plain mean rate that each month is mixed with
RECENT = 180  # days that count as recent
RECENT_PRIOR = 90.0  # days of the plain mean rate that the recent days are mixed with
HORIZON = 15  # years a forecast reaches
YEAR_SPREAD = 0.14  # by how much one year differs from the next (relative, standard deviation)
LITTLE_SPREAD = 0.5  # the same while the log is shorter than a year
STRETCH = 28  # days over which use is compared with the rate
EIGHT_IN_TEN = 1.28  # standard deviations to each side that hold 8 of 10 cases


@dataclass(frozen=True)
class UseRate:
    """Hours a day, by calendar month, and how sure they are.

    ``by_month`` holds twelve rates [h/day], January first; ``recent`` is the factor of the last
    half-year, already inside. ``spread`` is the relative standard deviation of a whole year's
    use; ``lump`` [h] is the variance of four weeks' hours over their mean: a machine that runs 4 h
    at a time, by chance, has 4 h. ``days`` is how many days the readings span and ``evidence`` says in
    words what carried the rate.
    """

    by_month: tuple[float, ...]
    spread: float = 0.0
    lump: float = 0.0
    recent: float = 1.0
    days: int = 0
    evidence: str = ""

    @property
    def year(self) -> float:
        """Hours in a year at these rates. [h]"""
        return sum(rate * days for rate, days in zip(self.by_month, MONTH_LENGTHS, strict=True))

    def doubt(self, hours: float) -> float:
        """Factor by which a forecast of so many ``hours`` may be off to each side, 8 times in 10.

        >>> UseRate((1.0,) * 12, spread=0.1, lump=4.0).doubt(400.0)
        1.18102...
        """
        if hours <= 0:
            return 1.0
        return 1 + EIGHT_IN_TEN * sqrt(self.spread**2 + self.lump / hours)


def use_rate(
    readings: Sequence[tuple[date, float]], *, expected: float | None = None
) -> UseRate | None:
    """The seasonal use rate behind a run of meter readings.

    Parameters
    ----------
    readings : sequence of (day, hours), in order of day
        Hours since the machine was new, replaced meters already added up. [h]
    expected : float, optional
        Hours expected in a year, for a machine whose log is short. [h]

    Returns
    -------
    UseRate or None
        None where neither the readings nor `expected` say anything.

    Examples
    --------
    >>> rate = use_rate([(date(2025, 1, 1), 0.0), (date(2026, 1, 1), 365.0)])
    >>> round(rate.by_month[0], 6), round(rate.year, 2)
    (1.0, 365.25)

    Source: definition (weighted mean of past years); the weights are this project's choice.
    """
    readings = _of_each_day(readings)
    span = (readings[-1][0] - readings[0][0]).days if len(readings) > 1 else 0
    if span < 30:
        if expected is None:
            return None
        even = expected / DAYS_IN_A_YEAR
        return UseRate(
            (even,) * 12, LITTLE_SPREAD, days=span, evidence="the hours expected in a year"
        )
    mean = _mean_rate(readings, span, expected)
    usual = _seasonal(hours_by_month(readings), readings[-1][0], mean)
    recent = _recent_factor(readings, usual, mean)
    years = span / DAYS_IN_A_YEAR
    if span < 365:
        spread = LITTLE_SPREAD
        evidence = f"{span} days of readings; the other months are taken at their mean"
    else:
        spread = YEAR_SPREAD * sqrt(1 + 1 / years)
        evidence = f"{years:.1f} years of readings by month, times {recent:.2f} for the last months"
    return UseRate(
        tuple(rate * recent for rate in usual),
        spread,
        _lump(readings, usual),
        recent,
        span,
        evidence,
    )


def _of_each_day(readings: Sequence[tuple[date, float]]) -> list[tuple[date, float]]:
    """The last reading of each day: what ran on the day belongs to those before it."""
    return list(dict(readings).items())


def _mean_rate(readings: Sequence[tuple[date, float]], span: int, expected: float | None) -> float:
    """Mean of the whole log; in its first year mixed with what is expected."""
    measured = (readings[-1][1] - readings[0][1]) / span
    if expected is None or span >= DAYS_IN_A_YEAR:
        return measured
    weight = span / DAYS_IN_A_YEAR
    return weight * measured + (1 - weight) * expected / DAYS_IN_A_YEAR


def _pieces(
    readings: Sequence[tuple[date, float]],
) -> Iterator[tuple[date, int, float]]:
    """(first day, days, hours) of each stretch between readings, cut at the month ends."""
    for (begin, low), (end, high) in pairwise(readings):
        days = (end - begin).days
        rate = (high - low) / days
        if begin.month == end.month and days < 31:  # as most are
            yield begin, days, rate * days
            continue
        while begin < end:
            stop = min(end, _month_after(begin))
            piece = (stop - begin).days
            yield begin, piece, rate * piece
            begin = stop


def _month_after(day: date) -> date:
    return date(day.year + day.month // 12, day.month % 12 + 1, 1)


def hours_by_month(
    readings: Sequence[tuple[date, float]],
) -> dict[tuple[int, int], tuple[int, float]]:
    """(year, month) -> (days with readings, hours run).

    Source: definition; between two readings the hours are spread evenly.
    """
    found: dict[tuple[int, int], tuple[int, float]] = defaultdict(lambda: (0, 0.0))
    for begin, days, hours in _pieces(_of_each_day(readings)):
        before = found[begin.year, begin.month]
        found[begin.year, begin.month] = (before[0] + days, before[1] + hours)
    return found


def _seasonal(
    months: dict[tuple[int, int], tuple[int, float]], last: date, mean: float
) -> list[float]:
    hours = [SHRINKAGE * mean] * 12
    days = [SHRINKAGE] * 12
    for (year, month), (seen, run) in months.items():
        age = (last.year - year) + (last.month - month) / 12
        weight = YEAR_FADES_TO**age
        hours[month - 1] += weight * run
        days[month - 1] += weight * seen
    return [run / seen for run, seen in zip(hours, days, strict=True)]


def _recent_factor(
    readings: Sequence[tuple[date, float]], by_month: Sequence[float], mean: float
) -> float:
    start = readings[-1][0] - timedelta(days=RECENT)
    run = wanted = 0.0
    first = max(0, bisect_right(readings, start, key=lambda reading: reading[0]) - 1)
    for begin, days, hours in _pieces(readings[first:]):
        inside = min(days, (begin + timedelta(days=days) - start).days)
        if inside > 0:
            run += hours * inside / days
            wanted += by_month[begin.month - 1] * inside
    prior = RECENT_PRIOR * mean
    return (run + prior) / (wanted + prior) if wanted + prior > 0 else 1.0


def _lump(readings: Sequence[tuple[date, float]], by_month: Sequence[float]) -> float:
    """Variance over mean of the hours in stretches of four weeks or longer. [h]

    The twelve months are learned from the same stretches, so twelve of them prove nothing; with
    fewer than twelve more, what runs in an average fortnight is taken.
    """
    squares = total = 0.0
    count = 0
    first = readings[0]
    for reading in readings[1:]:
        days = (reading[0] - first[0]).days
        if days < STRETCH:
            continue
        wanted = sum(by_month[begin.month - 1] * n for begin, n, _ in _pieces([first, reading]))
        squares += (reading[1] - first[1] - wanted) ** 2
        total += wanted
        count += 1
        first = reading
    if total <= 0:
        return 0.0
    if count < 24:
        return STRETCH / 2 * sum(by_month) / 12
    return squares / total * count / (count - 12)


@dataclass(frozen=True)
class HoursForecast:
    """Hours of one machine: when it reached or reaches a mark, what it has on a day.

    ``readings`` are what its meter showed, in order; after the last one the hours go on at
    ``rate``. ``begin`` is the day asked from and ``hours`` what the machine has on it.
    """

    readings: tuple[tuple[date, float], ...]
    rate: UseRate
    begin: date
    hours: float = field(init=False)
    _edges: tuple[int, ...] = field(init=False, repr=False)
    _sums: tuple[float, ...] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        edges, sums = [0], [0.0]
        last = day = self.readings[-1][0]
        months = 12 * (HORIZON + max(0, self.begin.year - last.year))
        for _ in range(months):
            after = _month_after(day)
            edges.append((after - last).days)
            sums.append(sums[-1] + self.rate.by_month[day.month - 1] * (after - day).days)
            day = after
        object.__setattr__(self, "_edges", tuple(edges))
        object.__setattr__(self, "_sums", tuple(sums))
        object.__setattr__(self, "hours", self.hours_on(self.begin))

    def day_reaching(self, hours: float) -> date | None:
        """First day on which the hours reach ``hours``; None beyond the horizon of 15 years.

        A mark that is passed already gives the day of the past on which it was.
        """
        return self._day(hours, 1.0)

    def days_between(self, hours: float) -> tuple[date | None, date | None]:
        """The days between which the hours reach ``hours`` 8 times in 10. None: beyond the horizon."""
        doubt = self.rate.doubt(hours - self.readings[-1][1])
        return self._day(hours, doubt), self._day(hours, 1 / doubt)

    def _day(self, hours: float, factor: float) -> date | None:
        last, shown = self.readings[-1]
        wanted = (hours - shown) / factor
        if wanted <= 0:
            return self._day_passed(hours)
        place = bisect_left(self._sums, wanted)
        if place == len(self._sums):
            return None
        first, after = self._edges[place - 1], self._edges[place]
        rate = (self._sums[place] - self._sums[place - 1]) / (after - first)
        return last + _whole_days(first + (wanted - self._sums[place - 1]) / rate)

    def _day_passed(self, hours: float) -> date:
        """The day on which a mark of the past was reached, by straight line between readings."""
        place = bisect_left(self.readings, hours, key=lambda reading: reading[1])
        day, high = self.readings[place]
        if place == 0 or high == hours:
            return day
        before, low = self.readings[place - 1]
        return before + _whole_days((day - before).days * (hours - low) / (high - low))

    def hours_on(self, day: date) -> float:
        """Hours on a day: by straight line between readings, after the last one at the rate. [h]"""
        last, shown = self.readings[-1]
        at = (day - last).days
        if at >= 0:
            place = min(max(1, bisect_left(self._edges, at)), len(self._edges) - 1)
            first, after = self._edges[place - 1], self._edges[place]
            rate = (self._sums[place] - self._sums[place - 1]) / (after - first)
            return shown + self._sums[place - 1] + rate * (at - first)
        place = bisect_right(self.readings, day, key=lambda reading: reading[0])
        if place == 0:
            return self.readings[0][1]
        (begin, low), (end, high) = self.readings[place - 1], self.readings[place]
        return low + (high - low) * (day - begin).days / (end - begin).days


def _whole_days(days: float) -> timedelta:
    """Up to the next whole day."""
    return timedelta(days=-int(-(days - 1e-9) // 1))


def hours_forecast(
    readings: Sequence[tuple[date, float]], rate: UseRate, begin: date | None = None
) -> HoursForecast:
    """The forecast that goes on from the last of the readings at a seasonal rate.

    ``begin`` is the day asked from, on or after the last reading (and that day if left out).

    Examples
    --------
    >>> even = UseRate((2.0,) * 12)
    >>> hours_forecast([(date(2026, 3, 1), 120.0)], even).day_reaching(320.0)
    datetime.date(2026, 6, 9)

    Source: definition.
    """
    return HoursForecast(tuple(readings), rate, begin or readings[-1][0])
