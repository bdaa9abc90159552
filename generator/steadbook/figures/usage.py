"""How fast a machine's hours run: a seasonal rate learned from its meter.

The rate of a calendar month is the mean of that month in all years of readings, younger years
weighing more; the last quarter then scales the whole year up or down. Pure arithmetic on days
and hours: no files, no clock.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

DAYS_IN_A_YEAR = 365.25
YEAR_FADES_TO = 0.7  # weight of a year against the one after it
SHRINKAGE = 3.0  # days of the plain mean rate that each month is mixed with
RECENT = 90  # days that count as recent
RECENT_PRIOR = 15.0  # days of the plain mean rate that the recent quarter is mixed with
HORIZON = 15  # years a forecast reaches
LITTLE = (0.5, 2.0)  # range of the rate where the log is too short to tell


@dataclass(frozen=True)
class UseRate:
    """Hours a day, by calendar month.

    ``by_month`` holds twelve rates [h/day], January first; ``low`` and ``high`` are factors on
    them between which 8 quarters in 10 of the log lay; ``recent`` is the factor of the last
    quarter, already inside ``by_month``. ``days`` is how many days the readings span and
    ``evidence`` says in words what carried the rate.
    """

    by_month: tuple[float, ...]
    low: float
    high: float
    recent: float
    days: int
    evidence: str

    @property
    def year(self) -> float:
        """Hours in a year at these rates. [h]"""
        return sum(rate * days for rate, days in zip(self.by_month, MONTH_LENGTHS, strict=True))


MONTH_LENGTHS = (31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


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
    months = hours_by_month(readings)
    span = (readings[-1][0] - readings[0][0]).days if len(readings) > 1 else 0
    if span < 30:
        if expected is None:
            return None
        even = expected / DAYS_IN_A_YEAR
        return UseRate((even,) * 12, *LITTLE, 1.0, span, "the hours expected in a year")
    mean = _mean_rate(readings, span, expected)
    by_month = _seasonal(months, readings[-1][0], mean)
    recent = _recent_factor(readings, by_month, mean)
    by_month = [rate * recent for rate in by_month]
    low, high = _quarter_range(readings, by_month)
    years = span / DAYS_IN_A_YEAR
    if span < 365:
        evidence = f"{span} days of readings; the other months are taken at their mean"
    else:
        evidence = f"{years:.1f} years of readings by month, the last quarter at {recent:.2f} of it"
    return UseRate(tuple(by_month), low, high, recent, span, evidence)


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
        if days <= 0:
            continue
        rate = (high - low) / days
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
    """(year, month) -> (days with readings, hours run)."""
    found: dict[tuple[int, int], tuple[int, float]] = defaultdict(lambda: (0, 0.0))
    for begin, days, hours in _pieces(readings):
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
    for begin, days, hours in _pieces(readings):
        inside = min(days, (begin + timedelta(days=days) - start).days)
        if inside > 0:
            run += hours * inside / days
            wanted += by_month[begin.month - 1] * inside
    prior = RECENT_PRIOR * mean
    return (run + prior) / (wanted + prior) if wanted + prior > 0 else 1.0


def _quarter_range(
    readings: Sequence[tuple[date, float]], by_month: Sequence[float]
) -> tuple[float, float]:
    """Factors between which 8 of 10 past quarters lay, each weighing by the hours forecast for it."""
    quarters: dict[tuple[int, int], list[float]] = defaultdict(lambda: [0.0, 0.0, 0.0])
    for begin, days, hours in _pieces(readings):
        quarter = quarters[begin.year, (begin.month - 1) // 3]
        quarter[0] += days
        quarter[1] += hours
        quarter[2] += by_month[begin.month - 1] * days
    whole = sorted(
        (run / wanted, wanted)
        for days, run, wanted in quarters.values()
        if days > 60 and wanted > 0
    )
    if len(whole) < 4:
        return LITTLE
    total = sum(weight for _, weight in whole)

    def share(at: float) -> float:
        sum_so_far = 0.0
        for ratio, weight in whole:
            sum_so_far += weight
            if sum_so_far >= at * total:
                return ratio
        return whole[-1][0]

    return min(share(0.1), 0.9), max(share(0.9), 1.1)


@dataclass(frozen=True)
class HoursForecast:
    """Hours of one machine: when it reached or reaches a mark, what it will have on a day.

    ``hours`` is what it has on the day ``begin``; ``past`` are the readings before.
    """

    begin: date
    hours: float
    rate: UseRate
    past: tuple[tuple[date, float], ...]
    _edges: tuple[int, ...]
    _sums: tuple[float, ...]

    def day_reaching(self, hours: float, factor: float = 1.0) -> date | None:
        """First day on which the hours reach ``hours``; None beyond the horizon of 15 years.

        A mark that is passed already gives the day of the past on which it was.

        ``factor`` scales the rate, for the early and the late end of a range.
        """
        wanted = hours - self.hours
        if wanted <= 0:
            return self._day_passed(hours)
        if factor <= 0:
            return None
        wanted /= factor
        place = bisect_left(self._sums, wanted)
        if place == len(self._sums):
            return None
        first, last = self._edges[place - 1], self._edges[place]
        rate = (self._sums[place] - self._sums[place - 1]) / (last - first)
        days = first + (wanted - self._sums[place - 1]) / rate
        return self.begin + timedelta(days=-int(-(days - 1e-9) // 1))

    def _day_passed(self, hours: float) -> date:
        """The day on which a mark of the past was reached, by straight line between readings."""
        line = [*self.past, (self.begin, self.hours)]
        place = bisect_left([reading for _, reading in line], hours)
        day, high = line[place]
        if place == 0 or high == hours:
            return day
        before, low = line[place - 1]
        days = (day - before).days * (hours - low) / (high - low)
        return before + timedelta(days=-int(-(days - 1e-9) // 1))

    def hours_on(self, day: date) -> float:
        """Hours expected on a day from ``begin`` to the horizon. [h]"""
        at = (day - self.begin).days
        if at <= 0:
            return self.hours
        place = min(bisect_left(self._edges, at), len(self._edges) - 1)
        first, last = self._edges[place - 1], self._edges[place]
        rate = (self._sums[place] - self._sums[place - 1]) / (last - first)
        return self.hours + self._sums[place - 1] + rate * (at - first)


def hours_forecast(
    begin: date, hours: float, rate: UseRate, past: Sequence[tuple[date, float]] = ()
) -> HoursForecast:
    """The forecast from ``hours`` on the day ``begin`` at a seasonal rate.

    ``past`` are earlier readings, in order, from which the day of a mark already passed is told.

    Examples
    --------
    >>> even = UseRate((2.0,) * 12, 0.5, 2.0, 1.0, 0, "")
    >>> hours_forecast(date(2026, 3, 1), 120.0, even).day_reaching(320.0)
    datetime.date(2026, 6, 9)

    Source: definition.
    """
    edges, sums = [0], [0.0]
    day = begin
    for _ in range(12 * HORIZON):
        after = _month_after(day)
        edges.append((after - begin).days)
        sums.append(sums[-1] + rate.by_month[day.month - 1] * (after - day).days)
        day = after
    return HoursForecast(begin, hours, rate, tuple(past), tuple(edges), tuple(sums))
