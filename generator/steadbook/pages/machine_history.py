"""What the log tells of each machine, as the rows of its history."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from typing import TypeAlias

from markupsafe import Markup

from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Service
from steadbook.pages.escape import as_text, pretty
from steadbook.workings import words
from steadbook.workings.tasks import TaskKey, TaskState

HistoryRow: TypeAlias = tuple[date, Markup, str]
"""Day, what was done or seen, by whom."""


def told_of_machines(
    homestead: Homestead, states: Iterable[TaskState]
) -> dict[str, list[HistoryRow]]:
    """The rows of all machines' histories, as the log has them.

    Rounds are left out unless something was noted: the last of each stands among the tasks.
    """
    rounds = {state.key for state in states if state.rule.is_round()}
    log = homestead.log
    rows = defaultdict(list)
    for service in log.services:
        told = _service_told(homestead, service, rounds)
        if told:
            rows[service.machine].append((service.date, pretty(told), service.by or ""))
    for one in log.measurements:
        note = f". {one.notes}" if one.notes else ""
        what = f"{one.spec}, {one.at}" if one.at else one.spec
        rows[one.machine].append((one.date, pretty(f"Measured {what}: {one.value}{note}"), ""))
    for event in log.events:
        if event.machine is not None:
            rows[event.machine].append((event.date, pretty(event.text), ""))
    for reading in log.readings:
        if reading.old_meter is not None:
            text = f"Meter replaced: old one {words.hours(reading.old_meter.to('h'))}"
            rows[reading.machine].append((reading.date, as_text(text), ""))
    return rows


def _service_told(homestead: Homestead, service: Service, rounds: set[TaskKey]) -> str:
    """A service in words; nothing where it was a round without a note."""
    machine = homestead.machines.get(service.machine)
    if machine is None:  # not in this edition
        return ""
    names = [name for name in service.tasks if (service.machine, name) not in rounds]
    if not names and not service.notes:
        return ""
    titles = ", ".join(machine.tasks[name].title for name in names or service.tasks)
    at = f" at {words.hours(service.hours.to('h'))}" if service.hours else ""
    return f"{titles}{at}" + (f". {service.notes}" if service.notes else "")
