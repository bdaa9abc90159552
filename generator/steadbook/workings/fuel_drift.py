"""Fuel of a genset's hour as gauge and deliveries tell it, where it is not as the plate reckons."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from steadbook import units
from steadbook.errors import Problem
from steadbook.inventory.homestead import Homestead
from steadbook.workings import fuel_forecast as forecasts
from steadbook.workings import words
from steadbook.workings.fuel_forecast import OrderDay, ShutIn
from steadbook.workings.fuel_users import draws
from steadbook.workings.history import GensetFuel, YearFuel
from steadbook.workings.tasks import Running

if TYPE_CHECKING:
    from steadbook.workings import Workings
    from steadbook.workings.fuel import FuelStock

WORTH_TELLING = 0.2
"""Share by which the two must differ, beyond what the gauge can tell; common practice, no source."""
WORST_FIRST: tuple[forecasts.Verdict, ...] = ("no", "with usual use", "yes")


@dataclass(frozen=True)
class FuelDrift:
    """The last year's measured rate and the reckoned one [L/h], and what comes of the measured:
    the day the mark is reached, the day to order by, what is left when the road opens."""

    fuel: GensetFuel
    year: YearFuel
    reckoned: float
    mark_days: tuple[date | None, date | None, date | None]
    order: OrderDay | None
    shut_in: ShutIn | None

    @property
    def times(self) -> float:
        """Measured over reckoned."""
        return self.year.rate / self.reckoned


def fuel_drifts(
    homestead: Homestead,
    stocks: Sequence[FuelStock],
    measured: Sequence[GensetFuel],
    running: dict[str, Running],
) -> tuple[FuelDrift, ...]:
    """The gensets whose measured use is another than the reserve is reckoned with."""
    by_tank = {one.tank.id: one for one in stocks}
    found = []
    for fuel in measured:
        year, reckoned, stock = fuel.years[-1], fuel.reckoned, by_tank.get(fuel.tank.id)
        if reckoned is None or stock is None or stock.levels is None:
            continue
        if abs(year.rate - reckoned) > max(year.doubt, WORTH_TELLING * reckoned):
            found.append(_drift(homestead, fuel, stock, running))
    return tuple(found)


def _drift(
    homestead: Homestead, fuel: GensetFuel, stock: FuelStock, running: dict[str, Running]
) -> FuelDrift:
    """What comes of the measured rate, all other users as they are reckoned."""
    year, reckoned = fuel.years[-1], fuel.reckoned
    assert reckoned is not None and stock.levels is not None and stock.capacity is not None
    times, begin = year.rate / reckoned, stock.levels.begin
    taken = [
        replace(one, expected=one.expected * times, heavy=one.heavy * times,
                light=one.light * times) if one.user is fuel.genset else one
        for one in draws(homestead, stock.tank, running, forecasts.days_from(begin))
    ]  # fmt: skip
    mark = stock.capacity * stock.mark / 100 * stock.factor
    days = forecasts.levels(stock.contents, taken, begin).reached(mark)
    closed = forecasts.closures(homestead, begin)
    order = forecasts.order_before(days, stock.supplier, closed, begin)
    shut = stock.shut_in and forecasts.shut_in(
        stock.contents, taken, begin, stock.shut_in.until, mark, begin
    )
    return FuelDrift(fuel, year, reckoned, days, order, shut)


def by_measure(stock: FuelStock, drift: FuelDrift) -> FuelStock:
    """The stock with the day to order by that counts: the earlier one, by plate or as measured."""
    order = drift.order
    if order is None or (stock.order is not None and stock.order.order_by <= order.order_by):
        return stock
    return replace(stock, order=order, measured=drift)


def order_reason(stock: FuelStock, prefer: units.System) -> str:
    """Why fuel is to be ordered earlier than plate and usual load say; nothing where it is not.

    One sentence for all pages, the calendar and the terminal.
    """
    drift, reckoned = stock.measured, stock.reckoned_order
    if drift is None:
        return ""
    rate = units.show_value(drift.year.rate, "L/h", prefer)
    by_plate = words.day(reckoned.order_by) if reckoned else forecasts.NOT_REACHED
    return f"by the {rate} measured; by plate and usual load {by_plate}"


def lasts(stock: FuelStock, drifts: Sequence[FuelDrift]) -> forecasts.Verdict | None:
    """Whether a tank lasts until the road opens: the worse of reckoned and measured."""
    shut = [stock.shut_in, *(one.shut_in for one in drifts if one.fuel.tank is stock.tank)]
    return min((one.verdict for one in shut if one), key=WORST_FIRST.index, default=None)


def drift_doubts(workings: Workings) -> Iterator[Problem]:
    """A warning for each of them."""
    prefer = workings.homestead.place.units
    for one in workings.drifts:
        measured, reckoned = (
            units.show_value(rate, "L/h", prefer) for rate in (one.year.rate, one.reckoned)
        )
        stock = workings.fuel.of(one.fuel.tank.id)
        decides = stock is not None and stock.measured is one
        yield workings.homestead.files.problem(
            one.fuel.genset,
            (),
            f"{measured} by gauge and deliveries ({words.day(one.year.first.date)} to "
            f"{words.day(one.year.last.date)}), {reckoned} by plate and usual load",
            f"the two within {WORTH_TELLING:.0%}".replace("%", " %") + " or what a gauge can tell",
            "correct `typical_load:`, the fuel on the plate or the deliveries in the log, or look "
            "for a leak; the fuel reserve is reckoned with the second number"
            + (", the day to order by with the first" if decides else ""),
            warning=True,
        )
