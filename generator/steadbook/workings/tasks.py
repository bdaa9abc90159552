"""Each task of the homestead: last done, next due, how it was found, its status."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from operator import attrgetter

from steadbook.figures import schedule, usage
from steadbook.figures.schedule import Done, Due, Rule, Status
from steadbook.inventory.fields import Season as WrittenSeason
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.meters import Mark
from steadbook.inventory.models import Machine, Service, Task
from steadbook.units import Quantity
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input

TaskKey = tuple[str, str]


@dataclass(frozen=True)
class Running:
    """What the meter of a machine says: its marks, its use rate, its hours from there on.

    ``reckoned`` is there wherever there is a mark: with no use rate known its hours stand still.
    """

    marks: tuple[Mark, ...]
    rate: usage.UseRate | None
    reckoned: usage.HoursForecast | None

    @property
    def forecast(self) -> usage.HoursForecast | None:
        """The hours to come, where a use rate is known."""
        return self.reckoned if self.rate else None

    @property
    def last(self) -> Mark | None:
        """The last reading."""
        return self.marks[-1] if self.marks else None

    @property
    def readings(self) -> list[tuple[date, float]]:
        """Its days and hours."""
        return [(mark.day, mark.hours) for mark in self.marks]

    def marks_on(self, day: date) -> Sequence[Mark]:
        """The marks of a day."""
        first = bisect_left(self.marks, day, key=attrgetter("day"))
        return self.marks[first : bisect_right(self.marks, day, first, key=attrgetter("day"))]

    def hours_on(self, day: date) -> float | None:
        """Hours the machine had on a day of the past; None before its first mark."""
        if self.reckoned is None or day < self.marks[0].day:
            return None
        return self.reckoned.hours_on(day)


@dataclass(frozen=True)
class TaskState:
    """A task on the day the manual is made for."""

    machine: Machine
    name: str
    task: Task
    rule: Rule
    done: Done
    service: Service | None
    due: Due
    covers: frozenset[str]

    @property
    def key(self) -> TaskKey:
        """Machine and task."""
        return self.machine.id, self.name

    @property
    def id(self) -> str:
        """`main-genset.oil-change`."""
        return f"{self.machine.id}.{self.name}"

    @property
    def included(self) -> list[Task]:
        """The tasks that this one covers, in the order of the file."""
        return [task for name, task in self.machine.tasks.items() if name in self.covers]

    @property
    def takes(self) -> dict[str, Quantity]:
        """Its parts, and those of the tasks it covers that it does not name itself."""
        found = dict(self.task.parts)
        for inner in self.included:
            for name, amount in inner.parts.items():
                found.setdefault(name, amount)
        return found

    @property
    def tools(self) -> list[str]:
        """Its tools and those of the tasks it covers, each once."""
        named = [tool for task in (self.task, *self.included) for tool in task.tools]
        return list(dict.fromkeys(named))

    @property
    def is_ticked(self) -> bool:
        """Whether it is ticked on the sheet of the rounds alone: daily or weekly, never logged."""
        calendar = self.rule.calendar
        often = calendar is not None and calendar.months == 0 and calendar.days <= 14
        return often and self.rule.is_round() and self.service is None


def running(homestead: Homestead, as_of: date) -> dict[str, Running]:
    """The meter of each machine that has one."""
    found: dict[str, Running] = {}
    for name, line in homestead.marks[0].items():
        meter = homestead.machines[name].meter
        assert meter is not None
        expected = meter.expected.to("h") if meter.expected else None
        here_since = homestead.machines[name].installed or date.min
        readings = [(mark.day, mark.hours) for mark in line]
        rate = usage.use_rate([one for one in readings if one[0] >= here_since], expected=expected)
        standing = usage.UseRate((0.0,) * 12)
        reckoned = usage.hours_forecast(readings, rate or standing, as_of) if line else None
        found[name] = Running(tuple(line), rate, reckoned)
    return found


def rule_of(task: Task) -> Rule:
    """The task's interval as the schedule takes it."""
    every, first = task.every, task.first
    return Rule(
        hours=every.hours.to("h") if every.hours else None,
        calendar=every.calendar,
        first_hours=first.hours.to("h") if first and first.hours else None,
        first_calendar=first.calendar if first else None,
        season=_season(task.season),
    )


def _season(written: WrittenSeason | None) -> schedule.Season | None:
    return schedule.Season(written.first, written.last) if written else None


def states(homestead: Homestead, meters: dict[str, Running], as_of: date) -> list[TaskState]:
    """Every task, in the order of the files."""
    found = []
    for machine in homestead.machines.values():
        graph = {name: task.covers for name, task in machine.tasks.items()}
        covers = {name: schedule.all_covered(graph, name) for name in machine.tasks}
        covered_by: dict[str, list[str]] = defaultdict(list)
        for name, inner in covers.items():
            for one in inner:
                covered_by[one].append(name)
        meter = meters.get(machine.id)
        for name, task in machine.tasks.items():
            latest = homestead.log.last_done(machine.id, (name, *covered_by[name]))
            done = _done(machine, task, latest, meter)
            rule = rule_of(task)
            due = schedule.next_due(rule, done, meter.reckoned if meter else None)
            if rule.season is not None and rule.is_round():
                due = schedule.in_this_season(due, rule.season, as_of)
            found.append(TaskState(machine, name, task, rule, done, latest, due, covers[name]))
    return found


def _made(machine: Machine) -> date | None:
    """When a machine, or the oldest of its units, was made."""
    units = getattr(getattr(machine, "plate", None), "units", {})
    return machine.made or min((unit.made for unit in units.values()), default=None)


def _done(machine: Machine, task: Task, service: Service | None, meter: Running | None) -> Done:
    if service is None and task.counts_from == "manufacture" and _made(machine):
        return Done(_made(machine), recorded=False)
    if service is None:
        start = None
        if meter is not None and meter.marks:
            start = meter.hours_on(machine.installed or meter.marks[0].day)
        return Done(machine.installed, start, recorded=False, used=machine.bought_used)
    hours = None
    if meter is not None:
        mine = (mark for mark in meter.marks_on(service.date) if mark.entry is service)
        mark = next(mine, None)
        hours = mark.hours if mark else meter.hours_on(service.date)
    return Done(service.date, hours)


def order(state: TaskState, status: Status) -> tuple[int, date, str]:
    """The most pressing first."""
    return schedule.STATUSES.index(status), state.due.day or date.max, state.id


def due_figure(homestead: Homestead, state: TaskState, meter: Running | None) -> Figure:
    """The due day of a task, with its working."""
    due, done, task = state.due, state.done, state.task
    files = homestead.files
    steps = [_start_step(state)]
    interval = task.first if due.first_interval and task.first else task.every
    which = "first interval" if due.first_interval else "interval"
    if due.at_hours is not None and interval.hours and done.hours is not None:
        step = (
            f"By hours: {words.hours(done.hours)} + {words.hours(interval.hours.to('h'))} = "
            f"{words.hours(due.at_hours)}"
        )
        if meter and meter.reckoned and due.hours_day:
            step += f"; {_reached(meter.reckoned, due.hours_day)}"
        elif meter and meter.forecast:
            step += "; at the forecast use it does not get there in 15 years"
        else:
            step += "; how fast the hours run is not known yet"
        last = meter.last if meter else None
        if last is not None and last.hours != last.shown:
            shown = due.at_hours - (last.hours - last.shown)
            step += f". The hours count on over a replaced meter; this one will show {words.hours(shown)}"
        steps.append(step + ".")
    if due.calendar_day is not None and interval.calendar:
        steps.append(
            f"By calendar: {words.day(done.day)} + {interval.calendar.text} = "
            f"{words.day(due.calendar_day)}."
        )
    steps += _season_step(state)
    if due.day is not None and due.at_hours is not None and due.calendar_day is not None:
        steps.append(f"Whichever comes first: {words.day(due.day)}.")
    if meter and meter.rate and due.at_hours is not None:
        steps.append(f"The use rate rests on {meter.rate.evidence}.")
    key = "first" if due.first_interval and task.first else "every"
    where = files.where(state.machine, "tasks", state.name, key)
    inputs = [Input(which, interval.text, where)]
    if state.service is not None:
        inputs.append(Input("last done", words.day(state.service.date), files.where(state.service)))
    if meter and meter.last and due.at_hours is not None:
        mark = meter.last
        entry = mark.entry
        at = files.where(entry) if entry else files.where(state.machine, "meter")
        inputs.append(
            Input("last meter reading", f"{words.hours(mark.shown)} on {words.day(mark.day)}", at)
        )
    return Figure(
        key=f"{state.id}.due",
        title=f"{state.machine.name}: {task.title}, next due",
        value=_next(state),
        working=tuple(steps),
        inputs=tuple(inputs),
        source=f"interval: {task.source or 'as entered by the owner'}; whichever comes first: "
        "common practice, no source",
    )


def _next(state: TaskState) -> str:
    """The due day; of what is ticked on the rounds alone the round, and in which season."""
    if not state.is_ticked:
        return words.day(state.due.day)
    season = f", {state.task.season.text}" if state.task.season else ""
    return f"on the round, every {state.task.every.text}{season}"


def _season_step(state: TaskState) -> list[str]:
    """How the season moved the day: back to its end, or on to its beginning."""
    due, season = state.due, state.task.season
    if due.by != "season" or season is None or due.day is None:
        return []
    then = due.calendar_day or due.hours_day
    if then is not None and due.day < then:
        return [f"Done in season ({season.text}): the last day of it before then."]
    over = then is not None and state.rule.season is not None and state.rule.season.holds(then)
    return [
        f"Done in season ({season.text}), and the season of that day is over: the first day of the "
        f"present or coming one, {words.day(due.day)}."
        if over
        else f"Done in season ({season.text}): it waits for the first day of it, "
        f"{words.day(due.day)}."
    ]


def _reached(reckoned: usage.HoursForecast, day: date) -> str:
    if day <= reckoned.begin:
        return f"it got there on {words.day(day)}"
    return f"at the forecast use it gets there on {words.day(day)}"


def _start_step(state: TaskState) -> str:
    done = state.done
    at = f" at {words.hours(done.hours)}" if done.hours is not None else ""
    if state.service is not None:
        return f"Last done {words.day(done.day)}{at}."
    if done.day is None:
        return "Never recorded, and the day the machine came into service is not known."
    if state.due.by == "purchase":
        return (
            f"Never recorded, and bought used on {words.day(done.day)}: nothing tells when it was "
            "last done, so it is due since that day."
        )
    if state.task.counts_from == "manufacture" and done.day == _made(state.machine):
        return f"Counted from manufacture, {words.day(done.day)}."
    return f"Never recorded: counted from the day it came into service, {words.day(done.day)}{at}."
