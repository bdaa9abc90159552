"""The only place where a Homestead meets figures: (homestead, as_of) -> Workings."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from steadbook.figures import schedule
from steadbook.figures.schedule import Job, Status
from steadbook.figures.stock import Need
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Event, Part
from steadbook.units import CalendarInterval, add_interval
from steadbook.workings import shelf as shelves
from steadbook.workings import tasks
from steadbook.workings.figure import Figure, Input
from steadbook.workings.forecast import charging_genset, made_up, with_winters
from steadbook.workings.reserves import Reserve, reserve_figures, reserves
from steadbook.workings.shelf import ShelfLine
from steadbook.workings.tasks import Running, TaskKey, TaskState

if TYPE_CHECKING:
    from steadbook.workings.costs import Costs
    from steadbook.workings.expiring import Expiry
    from steadbook.workings.fuel_drift import FuelDrift
    from steadbook.workings.fuels import FuelState
    from steadbook.workings.gensets import EngineState
    from steadbook.workings.history import History
    from steadbook.workings.house import House
    from steadbook.workings.orders import OrderLine, Orders
    from steadbook.workings.power import Electricity
    from steadbook.workings.spares import Spare
    from steadbook.workings.trends import ValueTrend

__all__ = [
    "Figure",
    "Input",
    "PlannedVisit",
    "Reserve",
    "Running",
    "ShelfLine",
    "TaskState",
    "Workings",
    "work_out",
]
PLANNED_MONTHS = 24
SATURDAY = 5  # overdue work waits for it, so that the plan does not move from day to day
PRESSING: tuple[Status, ...] = ("past due", "no record", "due now", "order now")


@dataclass(frozen=True)
class PlannedVisit:
    """Tasks of one system done on one day, with all that they take together."""

    system: str
    day: date
    tasks: tuple[TaskState, ...]
    covered: tuple[TaskState, ...]
    parts: tuple[tuple[Part, str, float], ...]
    tools: tuple[str, ...]
    minutes: float

    @property
    def machines(self) -> tuple[str, ...]:
        """Names of the machines worked on, in order, each once."""
        return tuple(dict.fromkeys(state.machine.name for state in self.tasks))


@dataclass(frozen=True)
class LateParts:
    """Parts that a task's visit lacks: when the last of them can be here, whether all are ordered."""

    come_by: date
    are_ordered: bool


@dataclass(frozen=True)
class Workings:
    """Everything worked out for one day.

    Tasks, visits and the shelf are there at once; what else the pages tell is worked out when it
    is first asked for. ``kept`` is a folder in which made-up winters are kept.
    """

    homestead: Homestead
    as_of: date
    until: date
    running: dict[str, Running]
    tasks: tuple[TaskState, ...]
    statuses: dict[TaskKey, Status]
    order_by: dict[TaskKey, date]
    visits: tuple[PlannedVisit, ...]
    shelf: dict[str, ShelfLine]
    reserves: tuple[Reserve, ...]
    kept: Path | None
    metered: dict[str, Running]
    """Of the meters alone, where ``running`` holds the made-up winters too."""

    @cached_property
    def power(self) -> Electricity:
        """The electricity of the place."""
        from steadbook.workings.power import electricity

        return electricity(self.homestead, self.metered, self.as_of, self.kept)

    @cached_property
    def house(self) -> House:
        """What else the house needs: water, wood, rounds."""
        from steadbook.workings.house import house

        return house(
            self.homestead, list(self.tasks), list(self.visits), list(self.reserves), self.as_of
        )

    @cached_property
    def fuel(self) -> FuelState:
        """The fuel at hand, and how long it lasts."""
        from steadbook.workings.fuels import fuel_state

        return fuel_state(self.homestead, self.running, self.as_of, self.history.fuel)

    @cached_property
    def engine(self) -> EngineState:
        """The gensets: what they give here, their exhaust, air and cost."""
        from steadbook.workings.gensets import engine_state

        return engine_state(self.homestead)

    @cached_property
    def orders(self) -> Orders:
        """What to order from whom, what is under way, and how suppliers keep their promise."""
        from steadbook.workings.orders import orders

        return orders(self.homestead, self.shelf, self.as_of)

    @property
    def soon(self) -> date:
        """Up to when a day is told as coming up."""
        return add_interval(self.as_of, self.homestead.place.due_soon)

    @property
    def has_orders(self) -> bool:
        """Whether anything is to be ordered, parts or fuel, or is under way."""
        return bool(self.orders or self.fuel.to_order)

    def next_order(self, line: ShelfLine) -> OrderLine | None:
        """How much of a part goes on the next order, in whole packages: one rule for all pages."""
        from steadbook.workings.orders import order_line

        if line.name in self._coming:
            return self._coming[line.name]
        if line.order_by is None:
            return None
        return order_line(line, add_interval(line.order_by, self.homestead.place.orders_together))

    def order_lines(self, line: ShelfLine) -> list[OrderLine]:
        """All that is to be ordered of a part in the months planned: the next order, later ones."""
        from steadbook.workings.orders import later_lines

        first = self.next_order(line)
        if first is None:
            return []
        together = self.homestead.place.orders_together
        return [first, *later_lines(line, first.until, together)]

    @cached_property
    def spares(self) -> tuple[Spare, ...]:
        """Parts that take longer to come than their machine can be done without."""
        from steadbook.workings.spares import spares

        return spares(self.tasks, self.visits, self.shelf, self.as_of)

    @cached_property
    def trends(self) -> tuple[ValueTrend, ...]:
        """Measured values through the years."""
        from steadbook.workings.trends import trends

        return trends(self.homestead)

    @cached_property
    def history(self) -> History:
        """Hours, fuel and money by year."""
        from steadbook.workings.history import history

        return history(self.homestead, self.metered)

    @cached_property
    def _coming(self) -> dict[str, OrderLine]:
        """The first of the coming orders' lines of each part."""
        lines = [one for order in self.orders.coming for one in order.lines]
        return {one.line.name: one for one in reversed(lines)}

    @property
    def drifts(self) -> tuple[FuelDrift, ...]:
        """Gensets that use another amount by the hour than the reserve is reckoned with."""
        return self.fuel.drifts

    @cached_property
    def cost(self) -> Costs:
        """What is known of prices; nothing in any edition but the owner's."""
        from steadbook.workings.costs import costs

        return costs(self.homestead, self.running, self.tasks, self.as_of)

    @cached_property
    def units(self) -> tuple[Expiry, ...]:
        """Every unit whose life or term runs out on a day, the most pressing first."""
        from steadbook.workings.expiring import expiries
        from steadbook.workings.safety import safety_dates

        dates = safety_dates(self.homestead)
        return expiries(dates, self.tasks, self.as_of, self.soon)

    @cached_property
    def expiring(self) -> tuple[Expiry, ...]:
        """Of the units those whose day no task of their machine stands for."""
        return tuple(one for one in self.units if not one.in_task)

    def ending_in(self, month: date, with_past: bool = False) -> list[Expiry]:
        """What runs out in a month, each machine once a day; ``with_past`` what has run out too."""
        chosen = {
            (one.unit.machine.id, one.day): one
            for one in reversed(self.expiring)
            if (one.day.replace(day=1) == month.replace(day=1) and one.day >= self.as_of)
            or (with_past and one.day < self.as_of)
        }
        return sorted(chosen.values(), key=lambda one: (one.day, one.key))

    def first_visits(self) -> list[PlannedVisit]:
        """The visits of the first day that has any: the most pressing first, of like ones the
        longest."""
        found = [visit for visit in self.visits if visit.day == self.visits[0].day]

        def importance(visit: PlannedVisit) -> tuple[int, float]:
            ranks = [schedule.STATUSES.index(self.status(one)) for one in visit.tasks]
            return min(ranks), -visit.minutes

        return sorted(found, key=importance)

    @cached_property
    def figures(self) -> dict[str, Figure]:
        """Every figure with its working, by key."""
        from steadbook.workings.history import history_figures
        from steadbook.workings.spares import spare_figures
        from steadbook.workings.trends import trend_figures

        found = [
            *(
                tasks.due_figure(self.homestead, state, self.running.get(state.machine.id))
                for state in self.tasks
            ),
            *shelves.order_figures(self.homestead, self.shelf.values(), self.as_of),
            *reserve_figures(self.homestead, list(self.reserves)),
            *self.power.figures,
            *self.house.figures,
            *self.fuel.figures,
            *self.engine.figures,
            *self.cost.figures,
            *spare_figures(self.homestead, self.spares),
            *trend_figures(self.homestead, self.trends),
            *history_figures(self.homestead, self.history),
        ]
        return {figure.key: figure for figure in found}

    def status(self, state: TaskState) -> Status:
        """The status word of a task."""
        return self.statuses[state.key]

    def late_parts(self, visit: PlannedVisit, state: TaskState) -> LateParts | None:
        """What a task of a visit lacks and cannot have in time, were it ordered today."""
        days, ordered = list[date](), True
        for name in state.takes:
            line = self.shelf[name]
            for short in line.short:
                if short.need.day != visit.day or not short.late:
                    continue
                if short.order_by is not None:
                    ordered = False
                days.append(short.arrives or line.comes(self.as_of))
        return LateParts(max(days), ordered) if days else None

    def by_urgency(self) -> list[TaskState]:
        """All tasks, the most pressing first."""
        return sorted(self.tasks, key=lambda state: tasks.order(state, self.status(state)))

    def pressing(self) -> list[TaskState]:
        """Tasks that need doing or ordering now."""
        return [
            state
            for state in self.by_urgency()
            if self.status(state) in PRESSING and not state.is_ticked
        ]

    def place_events(self) -> dict[int, list[Event]]:
        """What the log tells of no machine, the newest first, by year."""
        found: dict[int, list[Event]] = {}
        for event in reversed(self.homestead.log.events):
            if event.machine is None:
                found.setdefault(event.date.year, []).append(event)
        return found

    def rounds(self) -> list[TaskState]:
        """Tasks of the daily, weekly and monthly rounds, the most frequent first."""
        found = [state for state in self.tasks if state.rule.is_round()]

        def frequency(state: TaskState) -> tuple[int, str]:
            calendar = state.rule.calendar
            return (calendar.months * 31 + calendar.days if calendar else 0, state.id)

        return sorted(found, key=frequency)

    def of_machine(self, machine_id: str) -> list[TaskState]:
        """The tasks of one machine, in the order of the file."""
        return self._tasks_of.get(machine_id, [])

    @cached_property
    def _tasks_of(self) -> dict[str, list[TaskState]]:
        found: dict[str, list[TaskState]] = {}
        for state in self.tasks:
            found.setdefault(state.machine.id, []).append(state)
        return found

    def counts(self) -> dict[Status, int]:
        """How many tasks and units have each status word, the pressing ones first."""
        counted = [self.status(one) for one in self.tasks if not one.is_ticked]
        counted += [one.status for one in self.expiring]
        return {word: counted.count(word) for word in schedule.STATUSES}


def work_out(homestead: Homestead, as_of: date, kept: Path | None = None) -> Workings:
    """Work out the manual for the day ``as_of``.

    ``kept`` is a folder in which made-up winters are kept from one time to the next.
    """
    metered = tasks.running(homestead, as_of)
    meters = dict(metered)
    winters, genset = made_up(homestead, kept), charging_genset(homestead)
    if winters is not None and genset is not None and genset.id in meters:
        meters[genset.id] = with_winters(meters[genset.id], winters, as_of)
    states = tasks.states(homestead, meters, as_of)
    until = add_interval(as_of, CalendarInterval(months=PLANNED_MONTHS))
    visits = _visits(homestead, states, meters, as_of, until)
    shelf = shelves.shelf(homestead, _needs(visits), as_of)
    order_by = _order_by(visits, shelf)
    soon = add_interval(as_of, homestead.place.due_soon)
    statuses = {
        state.key: schedule.status(
            state.due, state.done, as_of, soon=soon, order_by=order_by.get(state.key)
        )
        for state in states
    }
    return Workings(
        homestead=homestead,
        as_of=as_of,
        until=until,
        running=meters,
        tasks=tuple(states),
        statuses=statuses,
        order_by=order_by,
        visits=tuple(visits),
        shelf=shelf,
        reserves=tuple(reserves(homestead, as_of)),
        kept=kept,
        metered=metered,
    )


def _visits(
    homestead: Homestead,
    states: list[TaskState],
    meters: dict[str, Running],
    as_of: date,
    until: date,
) -> list[PlannedVisit]:
    """Visits of each system by themselves: nobody services the chainsaw on the way to the well."""
    by_key = {state.key: state for state in states}
    jobs: dict[str, list[Job[TaskKey]]] = {key: [] for key in homestead.systems}
    for state in states:
        job = Job(
            key=state.key,
            rule=state.rule,
            done=state.done,
            forecast=meters[state.machine.id].reckoned if state.machine.id in meters else None,
            covers=frozenset((state.machine.id, name) for name in state.covers),
        )
        jobs[state.machine.system].append(job)
    window = homestead.place.visit_days
    catch_up = as_of + timedelta(days=(SATURDAY - as_of.weekday()) % 7)
    found = [
        _planned(
            homestead,
            system,
            visit.day,
            [by_key[key] for key in visit.keys if key not in visit.covered],
            [by_key[key] for key in visit.keys if key in visit.covered],
        )
        for system in homestead.systems
        for visit in schedule.visits(jobs[system], as_of, until, window=window, catch_up=catch_up)
    ]
    return sorted(found, key=lambda visit: visit.day)


def _planned(
    homestead: Homestead, system: str, day: date, done: list[TaskState], covered: list[TaskState]
) -> PlannedVisit:
    amounts: dict[str, float] = defaultdict(float)
    for state in done:
        for name, amount in state.takes.items():
            amounts[name] += shelves.same_unit(amount, homestead.parts[name])
    return PlannedVisit(
        system=system,
        day=day,
        tasks=tuple(done),
        covered=tuple(covered),
        parts=tuple((homestead.parts[name], name, size) for name, size in amounts.items()),
        tools=tuple(dict.fromkeys(tool for state in done for tool in state.tools)),
        minutes=sum(state.task.minutes.to("min") for state in done if state.task.minutes),
    )


def _needs(visits: list[PlannedVisit]) -> dict[str, list[Need]]:
    needs: dict[str, list[Need]] = defaultdict(list)
    for visit in visits:
        for _, name, size in visit.parts:
            needs[name].append(Need(visit.day, size))
    return needs


def _order_by(visits: list[PlannedVisit], shelf: dict[str, ShelfLine]) -> dict[TaskKey, date]:
    """For the first visit of each task: the earliest day by which a missing part is ordered."""
    found: dict[TaskKey, date] = {}
    seen: set[TaskKey] = set()
    for visit in visits:
        for state in visit.tasks:
            if state.key in seen:
                continue
            seen.add(state.key)
            days = [
                short.order_by
                for name in state.takes
                for short in shelf[name].short
                if short.need.day == visit.day and short.order_by is not None
            ]
            if days:
                found[state.key] = min(days)
        seen.update(state.key for state in visit.covered)
    return found
