"""What to order from whom: the parts that fall due together on one order, ready to be sent."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from steadbook.figures.stock import Shortage
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Order, Part, Supplier
from steadbook.units import CalendarInterval, add_interval
from steadbook.workings import words
from steadbook.workings.shelf import ShelfLine, arrival, expected, promised
from steadbook.workings.supply import Lead, leads


@dataclass(frozen=True)
class OrderLine:
    """One part of an order. ``amount`` is what is missing, ``size`` what whole packages hold.

    It covers all that must be ordered up to ``until``.
    """

    line: ShelfLine
    amount: float
    packs: int
    size: float
    order_by: date
    needed_on: date
    until: date

    @property
    def pack(self) -> float:
        """How much is in one package; 1 where it comes by the piece."""
        return self.size / self.packs

    @property
    def part(self) -> Part:
        """The part."""
        return self.line.part

    @property
    def quantity(self) -> str:
        """`3`, `4 qt`, `2 packages of 5 qt`."""
        if self.part.pack is None:
            return self.line.amount(self.size)
        noun = "package" if self.packs == 1 else "packages"
        return f"{self.packs} {noun} of {self.line.amount(self.pack)}"


@dataclass(frozen=True)
class NextOrder:
    """The next order from one supplier: what sets its day, and what goes along."""

    supplier: Supplier
    lead: Lead
    order_by: date
    until: date
    first: tuple[OrderLine, ...]
    along: tuple[OrderLine, ...]

    @property
    def lines(self) -> tuple[OrderLine, ...]:
        """All its parts."""
        return self.first + self.along

    def text(self, sender: str) -> str:
        """The order as a mail."""
        private = self.supplier.private
        account = private.account if private else None
        rows = [
            f"{one.quantity:<20}  {one.part.number or '-':<12}  {one.part.name}".replace(
                words.NBSP, " "
            )
            for one in self.lines
        ]
        others = [
            f"Instead of {one.part.number or one.part.name}, these fit too: "
            f"{'; '.join(one.part.alternatives)}"
            for one in self.lines
            if one.part.alternatives
        ]
        return "\n".join(
            [
                *([f"To: {self.supplier.email}"] if self.supplier.email else []),
                f"Subject: Order from {sender}",
                *([f"Account: {account}"] if account else []),
                "",
                "Please send in one parcel:",
                "",
                *rows,
                *(["", *others] if others else []),
                "",
                "Please tell us the price and the day it leaves, and at once if something is out.",
                "",
                sender,
            ]
        )


@dataclass(frozen=True)
class OpenOrder:
    """An order under way, and the day on which it should come.

    ``held_up`` is the day on which it would come if the road were open; None where it is.
    """

    order: Order
    supplier: Supplier
    promised: date
    expected: date
    what: str
    held_up: date | None = None

    @property
    def why(self) -> str:
        """Why it is expected later than its supplier says; nothing where it is not."""
        return f"the road is closed on {words.day(self.held_up)}" if self.held_up else ""


@dataclass(frozen=True)
class Punctuality:
    """Orders of the past from one supplier: how many came, how many of them by the promised day."""

    lead: Lead
    received: int
    in_time: int


@dataclass(frozen=True)
class Orders:
    """What to order, what is under way, how the suppliers keep their promise."""

    coming: tuple[NextOrder, ...]
    under_way: tuple[OpenOrder, ...]
    kept: dict[str, Punctuality]

    def __bool__(self) -> bool:
        return bool(self.coming or self.under_way)

    def of(self, order: Order) -> OpenOrder | None:
        """What is told of an order under way."""
        return next((one for one in self.under_way if one.order is order), None)


def orders(homestead: Homestead, shelf: dict[str, ShelfLine], as_of: date) -> Orders:
    """The next order from each supplier, the soonest first, and the orders of the log."""
    coming = [
        order
        for name in homestead.suppliers
        if (order := _next_order(homestead, name, shelf, as_of)) is not None
    ]
    return Orders(
        tuple(sorted(coming, key=lambda one: one.order_by)),
        tuple(_under_way(homestead, as_of)),
        _kept(homestead, as_of),
    )


def _next_order(
    homestead: Homestead, supplier: str, shelf: dict[str, ShelfLine], as_of: date
) -> NextOrder | None:
    lines = [line for line in shelf.values() if line.part.supplier == supplier]
    day = min((line.order_by for line in lines if line.order_by), default=None)
    if day is None:
        return None
    until = add_interval(max(day, as_of), homestead.place.orders_together)
    found = [made for line in lines if (made := order_line(line, until)) is not None]
    found.sort(key=lambda one: one.order_by)
    first = tuple(one for one in found if one.order_by <= max(day, as_of))
    return NextOrder(
        homestead.suppliers[supplier], lines[0].lead, day, until, first, tuple(found[len(first) :])
    )


def order_line(line: ShelfLine, until: date) -> OrderLine | None:
    """What is missing of a part and must be ordered up to a day, in whole packages."""
    due = [one for one in _dated(line) if one[0] <= until]
    return _covering(line, due, until) if due else None


def later_lines(line: ShelfLine, after: date, together: CalendarInterval) -> Iterator[OrderLine]:
    """What is ordered of a part after a day, each time with what falls due soon after it."""
    due = [one for one in _dated(line) if one[0] > after]
    while due:
        until = add_interval(due[0][0], together)
        taken = [one for one in due if one[0] <= until]
        yield _covering(line, taken, until)
        due = due[len(taken) :]


def _dated(line: ShelfLine) -> list[tuple[date, Shortage]]:
    """What is missing of a part, with the day to order by."""
    found = [(one.order_by, one) for one in line.short if one.order_by]
    return sorted(found, key=lambda one: one[0])


def _covering(line: ShelfLine, due: list[tuple[date, Shortage]], until: date) -> OrderLine:
    amount = sum(one.missing for _, one in due)
    packs, pack = line.packages(amount)
    order_by, first = due[0]
    return OrderLine(line, amount, packs, packs * pack, order_by, first.need.day, until)


def _under_way(homestead: Homestead, as_of: date) -> Iterator[OpenOrder]:
    for order in homestead.log.orders:
        if order.received is None:
            what = ", ".join(
                f"{words.amount(size.to(part.on_hand.unit), part.on_hand)} {part.name}"
                for name, size in order.parts.items()
                for part in [homestead.parts[name]]
            )
            day = expected(homestead, order)
            comes = arrival(homestead, order, as_of)
            held_up = max(day, as_of) if comes > max(day, as_of) else None
            yield OpenOrder(
                order,
                homestead.suppliers[order.supplier],
                promised(homestead, order),
                comes if held_up else day,
                what,
                held_up,
            )


def _kept(homestead: Homestead, as_of: date) -> dict[str, Punctuality]:
    """The orders of the past of each supplier."""
    found = {}
    for name, lead in leads(homestead, as_of).items():
        came = [
            (order, order.received)
            for order in homestead.log.orders
            if order.supplier == name and order.received is not None
        ]
        in_time = sum(1 for order, day in came if day <= promised(homestead, order))
        found[name] = Punctuality(lead, len(came), in_time)
    return found
