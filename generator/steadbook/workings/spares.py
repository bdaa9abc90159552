"""Critical spares: parts that take longer to come than the place can do without their machine."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil
from typing import TYPE_CHECKING

from steadbook.figures.usage import DAYS_IN_A_YEAR
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Machine
from steadbook.units import CalendarInterval
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.shelf import ShelfLine
from steadbook.workings.tasks import TaskState

if TYPE_CHECKING:
    from steadbook.workings import PlannedVisit

MONTH = DAYS_IN_A_YEAR / 12


def days_of(interval: CalendarInterval) -> float:
    """Days of an interval, a month at its mean length."""
    return interval.months * MONTH + interval.days


@dataclass(frozen=True)
class Spare:
    """A part to hold. Amounts in the unit in which the part is counted.

    ``planned`` is what the visits take until an order of today is here, to the end of its month.
    """

    line: ShelfLine
    state: TaskState
    wait: CalendarInterval
    one_set: float
    planned: float
    until: date

    @property
    def machine(self) -> Machine:
        """The machine that cannot be done without for as long as the part takes to come."""
        return self.state.machine

    @property
    def key(self) -> str:
        """The key of its figure."""
        return f"{self.line.name}.hold"

    @property
    def besides(self) -> float:
        """What goes without a planned visit until an order comes."""
        return self.line.steady.daily * self.line.lead.days.days if self.line.steady else 0.0

    @property
    def kept(self) -> float:
        """What is kept beyond that: a set for a failure, or more where use varies much."""
        return max(self.one_set, self.line.safety)

    @property
    def advised(self) -> float:
        """With less than this on the shelf and on its way, order: whole pieces, quarts, feet."""
        return float(ceil(self.planned + self.besides + self.kept - 1e-9))

    @property
    def coming(self) -> float:
        """On its way."""
        return sum(size for _, _, size in self.line.on_order)

    @property
    def verdict(self) -> str:
        """`enough`, `enough when the order is here`, `order 4`."""
        missing = self.advised - self.line.on_hand - self.coming
        if missing > 1e-9:
            return f"order {self.line.amount(float(ceil(missing - 1e-9)))}"
        on_shelf = self.line.on_hand >= self.advised - 1e-9
        return "enough" if on_shelf else "enough when the order is here"


def spares(
    states: tuple[TaskState, ...],
    visits: tuple[PlannedVisit, ...],
    shelf: dict[str, ShelfLine],
    as_of: date,
) -> tuple[Spare, ...]:
    """The parts to hold, each for the machine that can wait least for it, that one first."""
    sets: dict[str, float] = {}
    least: dict[str, tuple[TaskState, CalendarInterval]] = {}
    for state in states:
        wait = state.machine.can_wait
        if wait is None:
            continue
        for name, amount in state.takes.items():
            line = shelf[name]
            size = amount.to(line.part.on_hand.unit)
            if size > 0 and line.lead.days.days > days_of(wait):
                sets[name] = max(size, sets.get(name, 0.0))
                if name not in least or days_of(wait) < days_of(least[name][1]):
                    least[name] = (state, wait)
    found = []
    for name, (state, wait) in least.items():
        until = _end_of_month(as_of + shelf[name].lead.days)
        planned = sum(
            size
            for visit in visits
            if visit.day <= until
            for _, part, size in visit.parts
            if part == name
        )
        found.append(Spare(shelf[name], state, wait, sets[name], planned, until))
    return tuple(sorted(found, key=lambda one: (days_of(one.wait), one.line.name)))


def _end_of_month(day: date) -> date:
    return (day.replace(day=1) + timedelta(days=32)).replace(day=1) - timedelta(days=1)


def spare_figures(homestead: Homestead, found: tuple[Spare, ...]) -> Iterator[Figure]:
    """What to hold of each part, with its working."""
    where = homestead.files.where
    for one in found:
        line, amount = one.line, one.line.amount
        besides = (
            f" Besides, {amount(line.steady.monthly)} a month: {amount(one.besides)} in "
            f"{line.lead.days.days} days."
            if line.steady
            else ""
        )
        parts = [one.planned, one.besides, one.kept]
        terms = " + ".join(amount(size) for size in parts if size > 0)
        yield Figure(
            key=one.key,
            title=f"{line.part.name}, what to hold",
            value=amount(one.advised),
            working=(
                f"{one.machine.name} can be done without for {one.wait.text}; the part takes "
                f"{line.lead.words()}.",
                f"Planned visits up to {words.day(one.until)}, the end of the month in which an "
                f"order would be here, take {amount(one.planned)}.{besides}",
                f"Kept beside it, against a failure: {amount(one.kept)}"
                + (" (one set)." if one.kept == one.one_set else " (use varies)."),
                f"{terms} = {amount(one.advised)}"
                + (", rounded up." if one.advised > sum(parts) + 1e-9 else "."),
            ),
            inputs=(
                Input("can wait", one.wait.text, where(one.machine, "can_wait")),
                Input("lead time", line.supplier.lead_time.text, where(line.supplier, "lead_time")),
                Input(
                    "counted",
                    f"{line.counted.amount.text} on {words.day(line.counted.day)}",
                    where(line.counted.entry, line.counted.key),
                ),
            ),
            source="reorder point = use in the lead time + safety stock (W. J. Stevenson, "
            "Operations Management, 14th ed., chapter 12); one set as safety stock: common "
            "practice, no source",
        )
