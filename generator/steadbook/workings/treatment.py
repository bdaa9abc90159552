"""Whether the water may be drunk as it comes: treatment whose service is overdue."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from steadbook.inventory.models import UvLamp, WaterFilter
from steadbook.workings.tasks import TaskState

if TYPE_CHECKING:
    from steadbook.workings import Workings

CYSTS = 1.0
"""Pores of a filter up to which it is taken as one that makes water safe [micron].
Source: 1 micron absolute for Cryptosporidium, CDC, guide to water filters; from memory, check."""


def overdue_treatment(workings: Workings) -> list[TaskState]:
    """Tasks past due on lamps and fine filters: until they are done the water is to be boiled."""
    return [
        state
        for state in workings.by_urgency()
        if _makes_safe(state) and workings.status(state) == "past due"
    ]


def _makes_safe(state: TaskState) -> bool:
    machine = state.machine
    if machine.spare or state.is_ticked:
        return False
    if isinstance(machine, WaterFilter):
        return is_fine(machine.plate.rating)
    return isinstance(machine, UvLamp)


def is_fine(rating: str | None) -> bool:
    """Whether a filter's pores, in words such as `0.5 micron`, keep back what makes ill."""
    found = re.search(r"(\d*\.?\d+)\s*(?:micron|um|µm|μm)", rating or "", re.IGNORECASE)
    return found is not None and float(found[1]) <= CYSTS
