"""What the household subjects have worked out: one field of the Workings for all of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from steadbook.inventory.homestead import Homestead
from steadbook.units import add_interval
from steadbook.workings.figure import Figure
from steadbook.workings.heat import HeatPages, heat_pages
from steadbook.workings.reserves import Reserve
from steadbook.workings.rounds import RoundPlan, round_plan
from steadbook.workings.safety import SafetyPages, safety_pages
from steadbook.workings.small_engines import EnginePages, engine_pages
from steadbook.workings.structure import StructurePages, structure_pages
from steadbook.workings.tasks import TaskState
from steadbook.workings.waste import WastePages, waste_pages
from steadbook.workings.water import WaterPages, water_pages

if TYPE_CHECKING:
    from steadbook.workings import PlannedVisit


@dataclass(frozen=True)
class House:
    """Rounds, and the rows of the pages of each subject."""

    rounds: RoundPlan
    soon: date  # up to this day something counts as coming up
    water: WaterPages
    heat: HeatPages
    waste: WastePages
    safety: SafetyPages
    structure: StructurePages
    engines: EnginePages

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Those of every subject."""
        return (
            *self.water.figures,
            *self.heat.figures,
            *self.waste.figures,
            *self.safety.figures,
            *self.structure.figures,
            *self.engines.figures,
        )


def house(
    homestead: Homestead,
    states: Iterable[TaskState],
    visits: Iterable[PlannedVisit],
    stocks: Iterable[Reserve],
    as_of: date,
) -> House:
    """Work out the household subjects."""
    return House(
        rounds=round_plan(homestead, states, visits, as_of),
        soon=add_interval(as_of, homestead.place.due_soon),
        water=water_pages(homestead, stocks),
        heat=heat_pages(homestead, as_of),
        waste=waste_pages(homestead),
        safety=safety_pages(homestead),
        structure=structure_pages(homestead),
        engines=engine_pages(homestead),
    )
