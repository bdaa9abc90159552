"""Where measured values are heading: their line through the years, and when it meets the spec."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from steadbook import units
from steadbook.errors import QuantityError
from steadbook.figures import trend
from steadbook.figures.trend import Crossing, Trend
from steadbook.figures.usage import DAYS_IN_A_YEAR
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Machine, Measurement, Spec
from steadbook.units import Quantity
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input

FEWEST = 4
"""Values below which no trend is told: two more than a line needs. Common practice, no source."""
HORIZON = 10.0  # years
SURE = 0.9  # one end of a range that holds 8 times in 10
KINDS = {
    "torque": "torque", "gap": "gap", "lash": "gap", "pressure": "pressure", "voltage": "voltage",
    "current": "current", "temperature": "temperature", "length": "length", "speed": "speed",
    "gravity": "specific gravity",
}  # fmt: skip
"""The kind of quantity of each key of a spec."""
OTHERS = ("gap", "pressure", "voltage", "current", "speed", "percent", "length", "temperature")
"""Kinds tried where no spec tells; a plain number is a specific gravity only by its spec."""


@dataclass(frozen=True)
class ValueTrend:
    """The values of one spec at one place of a machine, and the line through them.

    Times are years from the first value. ``limit`` is the one that the line moves to, if any.
    """

    machine: Machine
    spec: str
    at: str
    unit: str
    entries: tuple[Measurement, ...]
    values: tuple[float, ...]
    line: Trend
    lowest: float | None
    highest: float | None
    limit: float | None
    crossing: Crossing | None

    @property
    def title(self) -> str:
        """`specific gravity, A7`."""
        return f"{self.spec}, {self.at}" if self.at else self.spec

    @property
    def key(self) -> str:
        """The key of its figure and of its chart."""
        return f"{self.machine.id}.trend-{_slug(self.title)}"

    @property
    def is_moving(self) -> bool:
        """Whether the line rises or falls more than its values scatter."""
        return abs(self.line.slope) > _student(self.line) * self.line.slope_error

    @property
    def slope_unit(self) -> str:
        """The unit of a difference of two values."""
        return f"delta {self.unit}" if self.unit in ("degF", "degC") else self.unit

    def day(self, time: float | None) -> date | None:
        """The day of a time of the line."""
        if time is None:
            return None
        return self.entries[0].date + timedelta(days=round(time * DAYS_IN_A_YEAR))

    @property
    def last_time(self) -> float:
        """The time of the last value."""
        return (self.entries[-1].date - self.entries[0].date).days / DAYS_IN_A_YEAR

    def doubt_at(self, time: float) -> float:
        """How far a next value may lie from the line, 8 times in 10."""
        return _student(self.line) * float(self.line.error_at(time))

    @property
    def forecast(self) -> str:
        """When the line passes the limit, in words; nothing where it keeps within, or has none."""
        if self.crossing is None or self.crossing.time is None:
            return ""
        if self.crossing.time <= self.last_time:
            return "past it by now"
        early, late = self.day(self.crossing.earliest), self.day(self.crossing.latest)
        end = words.day(late) if late else f"beyond {self._horizon.year}"
        return f"{words.day(self.day(self.crossing.time))} (between {words.day(early)} and {end})"

    @property
    def _horizon(self) -> date:
        end = self.day(self.last_time + HORIZON)
        assert end is not None
        return end

    @property
    def outlook(self) -> str:
        """What a reader is told about the limit."""
        if not self.is_moving:
            return "holds steady"
        if self.limit is None:
            bounded = self.lowest is not None or self.highest is not None
            return "moves away from its limit" if bounded else "no limit in the spec"
        return self.forecast or f"not before {self._horizon.year}"


def trends(homestead: Homestead) -> tuple[ValueTrend, ...]:
    """Every series of four values or more, in the order of the log."""
    series: dict[tuple[str, str, str], list[Measurement]] = {}
    for one in homestead.log.measurements:
        series.setdefault((one.machine, one.spec, one.at or ""), []).append(one)
    found = []
    for (name, spec_name, place), entries in series.items():
        machine = homestead.machines[name]
        made = _trend(machine, spec_name, place, entries)
        if made is not None:
            found.append(made)
    return tuple(found)


def _trend(
    machine: Machine, spec_name: str, place: str, entries: list[Measurement]
) -> ValueTrend | None:
    spec = machine.specs.get(spec_name)
    read = [(one, got) for one in entries if (got := _read(spec, one.value)) is not None]
    if not read or len(read) < FEWEST:
        return None
    unit, kind = read[0][1].unit, read[0][1].kind
    read = [(one, got) for one, got in read if got.kind == kind]
    first = read[0][0].date
    times = [(one.date - first).days / DAYS_IN_A_YEAR for one, _ in read]
    if len(read) < FEWEST or times[-1] <= 0:
        return None
    values = [got.to(unit) for _, got in read]
    line = trend.median_slope(times, values)
    lowest, highest = _limits(spec, unit)
    moving = abs(line.slope) > _student(line) * line.slope_error
    limit = (highest if line.slope > 0 else lowest) if moving else None
    crossing = None
    if limit is not None:
        side = "highest" if line.slope > 0 else "lowest"
        crossing = trend.crossing(line, limit, times[-1], HORIZON, side)
    return ValueTrend(
        machine, spec_name, place, unit, tuple(one for one, _ in read), tuple(values), line,
        lowest, highest, limit, crossing,
    )  # fmt: skip


def _field(spec: Spec | None) -> tuple[str, Quantity] | None:
    """The first key of a spec that a value can be held against."""
    for key in KINDS:
        value = getattr(spec, key, None)
        if isinstance(value, Quantity):
            return key, value
    return None


def _read(spec: Spec | None, text: str) -> Quantity | None:
    field = _field(spec)
    for kind in (KINDS[field[0]],) if field else OTHERS:
        try:
            return units.parse(text, kind)
        except QuantityError:
            continue
    return None


def _limits(spec: Spec | None, unit: str) -> tuple[float | None, float | None]:
    """The ends of a range, or the one limit that the spec says it is."""
    field = _field(spec)
    if spec is None or field is None:
        return None, None
    value = field[1]
    low = value.to(unit)
    if value.high is not None:
        return low, float(units.convert(value.high, value.unit, unit))
    return (low if spec.limit == "lowest" else None), (low if spec.limit == "highest" else None)


def _student(line: Trend) -> float:
    from scipy.special import stdtrit  # type: ignore[import-untyped,unused-ignore]

    return float(stdtrit(line.count - 2, SURE))


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")


def trend_figures(homestead: Homestead, found: tuple[ValueTrend, ...]) -> Iterator[Figure]:
    """The day on which each limit is met, with its working."""
    prefer, where = homestead.place.units, homestead.files.where

    for one in found:
        if not one.forecast or one.limit is None:
            continue

        def shown(value: float, unit: str = one.unit) -> str:
            return units.show_value(value, unit, prefer)

        first, last = one.entries[0], one.entries[-1]
        at_last = float(one.line.at(one.last_time))
        yield Figure(
            key=one.key,
            title=f"{one.machine.name}: {one.title} meets its limit",
            value=one.forecast,
            working=(
                f"{len(one.values)} values from {words.day(first.date)} to {words.day(last.date)}: "
                f"the middle one of the slopes of all pairs is "
                f"{shown(one.line.slope, one.slope_unit)} a year.",
                f"The line stands at {shown(at_last)} on {words.day(last.date)}; the limit is "
                f"{shown(one.limit)}: {shown(abs(one.limit - at_last), one.slope_unit)} / "
                f"{shown(abs(one.line.slope), one.slope_unit)} a year = "
                f"{abs(one.limit - at_last) / abs(one.line.slope):.1f} years."
                if one.forecast != "past it by now"
                else f"The line stands at {shown(at_last)}, past {shown(one.limit)}.",
                f"The values scatter about the line by {shown(one.line.scatter, one.slope_unit)}; "
                "the range holds 8 times in 10.",
            ),
            inputs=(
                Input("first value", first.value, where(first, "value")),
                Input("last value", last.value, where(last, "value")),
                Input("limit", shown(one.limit), where(one.machine, "specs", one.spec)),
            ),
            source="median of the slopes of all pairs: H. Theil (1950), P. K. Sen (1968)",
            caution="A straight line: what was set or renewed in between is not known to it.",
        )
