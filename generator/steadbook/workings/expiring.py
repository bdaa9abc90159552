"""Units whose life or term runs out on a day, with a status word as a task has one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from steadbook.figures import schedule
from steadbook.figures.schedule import Done, Due, Status
from steadbook.workings.safety import SafetyDate
from steadbook.workings.tasks import TaskState


@dataclass(frozen=True)
class Expiry:
    """A unit and the day it runs out. ``in_task``: a task of its machine falls due that day."""

    unit: SafetyDate
    status: Status
    in_task: bool

    @property
    def day(self) -> date:
        """The day it runs out."""
        return self.unit.day

    @property
    def key(self) -> str:
        """That of the figure with its working."""
        return self.unit.figure.key

    @property
    def order(self) -> tuple[int, date, str]:
        """The most pressing first, as tasks are ordered."""
        return schedule.STATUSES.index(self.status), self.day, self.key


def expiries(
    units: Iterable[SafetyDate], states: Iterable[TaskState], as_of: date, soon: date
) -> tuple[Expiry, ...]:
    """Every date of a unit with its status, the most pressing first."""
    planned = {(state.machine.id, state.due.day) for state in states if not state.rule.is_round()}
    found = [
        Expiry(
            unit,
            schedule.status(Due(unit.day, "calendar"), Done(unit.made), as_of, soon=soon),
            (unit.machine.id, unit.day) in planned,
        )
        for unit in units
    ]
    return tuple(sorted(found, key=lambda one: one.order))
