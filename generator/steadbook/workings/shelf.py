"""The shelf: what is there, what the coming visits take, what to order and by when."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from math import ceil

from steadbook.figures.schedule import Season
from steadbook.figures.stock import Need, Shortage, shortages
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Count, Order, Part, Service, Supplier
from steadbook.units import CalendarInterval, Quantity, add_interval
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.supply import Lead, SteadyUse, leads, steady_use

PLANNED = CalendarInterval(months=24)


@dataclass(frozen=True)
class StockTake:
    """The last count of a part, in parts.yaml or in the log; the day's own work is before it."""

    day: date
    amount: Quantity
    entry: Part | Count

    @property
    def key(self) -> str:
        """The key under which the amount stands."""
        return "on_hand" if isinstance(self.entry, Part) else "amount"


@dataclass(frozen=True)
class ShelfLine:
    """One part: how much is on the shelf and what will be missing."""

    name: str
    part: Part
    supplier: Supplier
    counted: StockTake
    lead: Lead
    steady: SteadyUse | None
    on_hand: float
    on_order: tuple[tuple[Order, date, float], ...]
    needed: float
    short: tuple[Shortage, ...]
    closed: Season | None = None
    """When nothing comes from its supplier, for want of a road."""

    def here_by(self, need: date) -> date:
        """The last day on which it can come for a need: before the road closes."""
        return self.closed.last_day_out(need) if self.closed else need

    def comes(self, ordered: date) -> date:
        """When it is here if it is ordered on a day: not before the road opens."""
        day = ordered + self.lead.days
        return self.closed.next_day_out(day) if self.closed else day

    @property
    def order_by(self) -> date | None:
        """The first day by which something must be ordered."""
        return min((one.order_by for one in self.short if one.order_by), default=None)

    @property
    def to_order(self) -> float:
        """How much is to be ordered for the visits planned."""
        return sum(one.missing for one in self.short if one.order_by)

    def packages(self, missing: float) -> tuple[int, float]:
        """How many whole packages, or pieces, hold an amount, and how much is in one."""
        pack = self.part.pack.to(self.part.on_hand.unit) if self.part.pack else 1.0
        return max(1, ceil(missing / pack - 1e-9)), pack

    def whole(self, missing: float) -> str:
        """An amount in whole packages."""
        number, pack = self.packages(missing)
        return self.amount(number * pack)

    @property
    def safety(self) -> float:
        """What is kept for use that varies."""
        return self.steady.safety_stock(self.lead) if self.steady else 0.0

    def amount(self, value: float) -> str:
        """An amount of this part with its unit."""
        return words.amount(value, self.part.on_hand)


def same_unit(amount: Quantity, part: Part) -> float:
    """An amount in the unit in which the part is counted."""
    return amount.to(part.on_hand.unit)


def last_counts(homestead: Homestead) -> dict[str, StockTake]:
    """The last stock-take of each part."""
    found = {
        name: StockTake(part.counted, part.on_hand, part) for name, part in homestead.parts.items()
    }
    for count in homestead.log.counts:  # in order of date
        if count.date >= found[count.part].day:
            found[count.part] = StockTake(count.date, count.amount, count)
    return found


@dataclass(frozen=True)
class Overdrawn:
    """A use of a part that takes more than was there by the last stock-take."""

    part: str
    counted: StockTake
    service: Service
    had: float
    used: float
    received: float


def overdrawn(homestead: Homestead) -> Iterator[Overdrawn]:
    """The first use of each part that its shelf could not give. What came on that day is there."""
    for name, counted in last_counts(homestead).items():
        part = homestead.parts[name]
        had = same_unit(counted.amount, part)
        came = [
            (order.received, same_unit(order.parts[name], part))
            for order in homestead.log.orders
            if name in order.parts and order.received is not None
        ]
        used = 0.0
        for service in homestead.log.having("services", "parts"):  # in order of date
            if name not in service.parts or service.date <= counted.day:
                continue
            used += same_unit(service.parts[name], part)
            received = sum(size for day, size in came if counted.day < day <= service.date)
            if used > had + received + 1e-9:
                yield Overdrawn(name, counted, service, had, used, received)
                break


def shelf(homestead: Homestead, needs: dict[str, list[Need]], as_of: date) -> dict[str, ShelfLine]:
    """A line for each part. ``needs`` are the amounts the planned visits take.

    Where rounds use a part up besides, each month to come needs its share as well.
    """
    steady, supply = steady_use(homestead), leads(homestead, as_of)
    until = add_interval(as_of, PLANNED)
    counts = last_counts(homestead)
    used: dict[str, float] = defaultdict(float)
    for service in homestead.log.having("services", "parts"):
        for name, amount in service.parts.items():
            if service.date > counts[name].day:
                used[name] += same_unit(amount, homestead.parts[name])
    received: dict[str, float] = defaultdict(float)
    coming: dict[str, list[tuple[Order, date, float]]] = defaultdict(list)
    for order in homestead.log.orders:
        for name, amount in order.parts.items():
            size = same_unit(amount, homestead.parts[name])
            if order.received is None:
                coming[name].append((order, arrival(homestead, order, as_of), size))
            elif order.received > counts[name].day:
                received[name] += size
    found = {}
    for name, part in homestead.parts.items():
        counted = same_unit(counts[name].amount, part)
        on_hand = max(0.0, counted + received[name] - used[name])
        line = ShelfLine(
            name=name,
            part=part,
            supplier=homestead.suppliers[part.supplier],
            counted=counts[name],
            lead=supply[part.supplier],
            steady=steady.get(name),
            on_hand=on_hand,
            on_order=tuple(coming[name]),
            needed=sum(need.amount for need in needs.get(name, [])),
            short=(),
            closed=_closed(homestead, homestead.suppliers[part.supplier]),
        )
        found[name] = replace(line, short=_short(line, needs.get(name, []), as_of, until))
    return found


def _closed(homestead: Homestead, supplier: Supplier) -> Season | None:
    closed = homestead.place.road_closed
    if closed is None or not supplier.needs_road:
        return None
    return Season(closed.season.first, closed.season.last)


def _short(line: ShelfLine, needs: list[Need], as_of: date, until: date) -> tuple[Shortage, ...]:
    """What will be missing; of use that varies, as the shelf comes down to its safety stock."""
    incoming = [Need(day, size) for _, day, size in line.on_order]
    if line.steady is not None:
        needs = [*needs, *line.steady.needs(as_of, until)]
    free = max(0.0, line.on_hand - line.safety)
    return tuple(shortages(needs, free, incoming, line.lead.days, as_of, line.here_by))


def expected(homestead: Homestead, order: Order) -> date:
    """When an order under way should come: back-order date, promise, or the usual lead time."""
    return order.back_order_until or promised(homestead, order)


def arrival(homestead: Homestead, order: Order, as_of: date) -> date:
    """When an order under way can be here: not before today, and not while the road is closed."""
    day = max(expected(homestead, order), as_of)
    closed = _closed(homestead, homestead.suppliers[order.supplier])
    return closed.next_day_out(day) if closed else day


def promised(homestead: Homestead, order: Order) -> date:
    """The day for which an order was promised, or its supplier's usual lead time from then on."""
    return order.promised or add_interval(order.date, homestead.suppliers[order.supplier].lead_time)


def order_figures(homestead: Homestead, lines: Iterable[ShelfLine], as_of: date) -> list[Figure]:
    """The order-by day of each part that will be missing, with its working."""
    found = []
    for line in lines:
        if line.order_by is None:
            continue
        first = next(one for one in line.short if one.order_by == line.order_by)
        found.append(
            Figure(
                key=f"parts/{line.name}.order-by",
                title=f"{line.part.name}, order by",
                value=words.order_day(line.order_by, as_of),
                working=(
                    f"On the shelf {line.amount(line.on_hand)}; the visits to come take "
                    f"{line.amount(line.needed)}.",
                    *_steady_words(line),
                    f"The first one it does not reach for is on {words.day(first.need.day)}: "
                    f"{line.amount(first.missing)} missing.",
                    *_road_words(homestead, line, first.need.day),
                    f"{words.day(line.here_by(first.need.day))} - {line.lead.words()} = "
                    f"{words.day(line.order_by)}.",
                ),
                inputs=(
                    Input(
                        "counted",
                        f"{line.counted.amount.text} on {words.day(line.counted.day)}",
                        homestead.files.where(line.counted.entry, line.counted.key),
                    ),
                    Input(
                        "lead time",
                        line.supplier.lead_time.text,
                        homestead.files.where(line.supplier, "lead_time"),
                    ),
                    *_last_order(homestead, line),
                ),
            )
        )
    return found


def _road_words(homestead: Homestead, line: ShelfLine, need: date) -> list[str]:
    closed, here_by = homestead.place.road_closed, line.here_by(need)
    if closed is None or here_by == need:
        return []
    return [
        f"The road is closed on that day ({closed.season.text}: {closed.reason}): it must be here "
        f"by {words.day(here_by)}."
    ]


def _steady_words(line: ShelfLine) -> list[str]:
    use = line.steady
    if use is None:
        return []
    return [
        f"Used up besides: {line.amount(use.monthly)} a month ({use.uses} times from "
        f"{words.day(use.first)} to {words.day(use.last)}); {line.amount(line.safety)} is kept, "
        f"enough in 19 of 20 lead times."
    ]


def _last_order(homestead: Homestead, line: ShelfLine) -> list[Input]:
    order = line.lead.last
    if order is None or line.lead.days == line.lead.promised:
        return []
    shown = f"ordered {words.day(order.date)}, here {words.day(order.received)}"
    return [Input("last order received", shown, homestead.files.where(order, "received"))]
