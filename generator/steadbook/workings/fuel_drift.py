"""Fuel of a genset's hour as gauge and deliveries tell it, where it is not as the plate reckons."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from steadbook import units
from steadbook.errors import Problem
from steadbook.workings import fuel_forecast as forecasts
from steadbook.workings import words
from steadbook.workings.fuel_users import draws
from steadbook.workings.history import GensetFuel, YearFuel

if TYPE_CHECKING:
    from steadbook.workings import Workings

WORTH_TELLING = 0.2
"""Share by which the two must differ, beyond what the gauge can tell; common practice, no source."""


@dataclass(frozen=True)
class FuelDrift:
    """The last year's measured rate and the reckoned one [L/h], and the mark reached at it."""

    fuel: GensetFuel
    year: YearFuel
    reckoned: float
    mark_days: tuple[date | None, date | None, date | None]

    @property
    def times(self) -> float:
        """Measured over reckoned."""
        return self.year.rate / self.reckoned


def fuel_drifts(workings: Workings) -> tuple[FuelDrift, ...]:
    """The gensets whose measured use is another than the reserve is reckoned with."""
    found = []
    for fuel in workings.history.fuel:
        year, reckoned = fuel.years[-1], fuel.reckoned
        stock = workings.fuel.of(fuel.tank.id)
        if reckoned is None or stock is None or stock.levels is None or stock.capacity is None:
            continue
        if abs(year.rate - reckoned) <= max(year.doubt, WORTH_TELLING * reckoned):
            continue
        times = year.rate / reckoned
        begin = stock.levels.begin
        taken = [
            replace(one, expected=one.expected * times, heavy=one.heavy * times,
                    light=one.light * times) if one.user is fuel.genset else one
            for one in draws(
                workings.homestead, stock.tank, workings.running, forecasts.days_from(begin)
            )
        ]  # fmt: skip
        mark = stock.capacity * stock.mark / 100 * stock.factor
        days = forecasts.levels(stock.contents, taken, begin).reached(mark)
        found.append(FuelDrift(fuel, year, reckoned, days))
    return tuple(found)


def drift_doubts(workings: Workings) -> Iterator[Problem]:
    """A warning for each of them."""
    prefer = workings.homestead.place.units
    for one in workings.drifts:
        measured, reckoned = (
            units.show_value(rate, "L/h", prefer) for rate in (one.year.rate, one.reckoned)
        )
        yield workings.homestead.files.problem(
            one.fuel.genset,
            (),
            f"{measured} by gauge and deliveries ({words.day(one.year.first.date)} to "
            f"{words.day(one.year.last.date)}), {reckoned} by plate and usual load",
            f"the two within {WORTH_TELLING:.0%}".replace("%", " %") + " or what a gauge can tell",
            "correct `typical_load:`, the fuel on the plate or the deliveries in the log, or look "
            "for a leak; the fuel reserve is reckoned with the second number",
            warning=True,
        )
