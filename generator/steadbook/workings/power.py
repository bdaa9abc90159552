"""The electricity of the place, each subject worked out when the first page asks for it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from pathlib import Path

from steadbook.errors import OutOfRange
from steadbook.figures.starter import FREEZE_MARGIN
from steadbook.figures.usage import MONTH_LENGTHS
from steadbook.inventory.homestead import Homestead
from steadbook.workings.battery import Battery, battery_of
from steadbook.workings.battery_figures import battery_figures
from steadbook.workings.energy import Energy, energy_figures, energy_of
from steadbook.workings.figure import Figure
from steadbook.workings.forecast import RULE, MadeUp, with_winters
from steadbook.workings.plant import Plant, plant_of
from steadbook.workings.starter import Starter, charge_below, load_test, starters
from steadbook.workings.tasks import Running
from steadbook.workings.tonight import Card, card_of
from steadbook.workings.what_if import FuelPrice, Tried, changes_of, fuel_price
from steadbook.workings.winter import (
    Outlook,
    log_by_month,
    outlook,
    winter_figures,
)


@dataclass(frozen=True)
class Electricity:
    """Plant and winters of a homestead. ``trouble`` says why the winters could not be made."""

    homestead: Homestead
    plant: Plant
    ahead: Outlook | None
    trouble: str
    meter: Running | None
    blended: Running | None
    month: int
    kept: Path | None

    @property
    def other_hours(self) -> float:
        """Genset hours a month beside charging. [h]"""
        climate = self.plant.climate
        return climate.run_rule.other_hours.to("h") if climate else 0.0

    @cached_property
    def log_hours(self) -> tuple[float | None, ...]:
        """Hours a month by the meter alone, January first. [h]"""
        return log_by_month(self.meter)

    @cached_property
    def battery(self) -> Battery | None:
        """The battery bank's tables."""
        return battery_of(self.homestead, self.plant, self.ahead)

    @cached_property
    def energy(self) -> Energy | None:
        """The balance by month."""
        return energy_of(self.plant, self.ahead)

    @cached_property
    def card(self) -> Card | None:
        """Tonight's card of the darkest month."""
        return card_of(self.plant, self.plant.case.darkest) if self.plant.case else None

    @cached_property
    def card_now(self) -> Card | None:
        """Tonight's card of the month in which the manual is made."""
        return card_of(self.plant, self.month)

    @cached_property
    def changes(self) -> tuple[Tried, ...]:
        """Changes to try."""
        return changes_of(self.homestead, self.plant, self.ahead, self.kept)

    @cached_property
    def price(self) -> FuelPrice | None:
        """What the genset's fuel cost, where the edition has it."""
        return fuel_price(self.homestead, self.plant.genset)

    @property
    def rule(self) -> str:
        """How meter and made-up winters are put together."""
        return RULE

    def month_hours(self, month: int) -> float:
        """Forecast hours of a calendar month, 1 to 12, from both kinds of evidence. [h]"""
        rate = self.blended.rate if self.blended else None
        return rate.by_month[month - 1] * MONTH_LENGTHS[month - 1] if rate else 0.0

    @cached_property
    def charge_below(self) -> float:
        """Rested voltage below which a 12 V starter battery is to be charged here."""
        return charge_below(self.homestead)

    @property
    def freeze_margin(self) -> float:
        """Kept between the coldest night and a starter battery's freezing point. [degC]"""
        return FREEZE_MARGIN

    @cached_property
    def load_test(self) -> tuple[tuple[float, float], ...]:
        """Temperature [degC] and lowest voltage of a 12 V starter battery in the load test."""
        return load_test()

    @cached_property
    def starters(self) -> tuple[Starter, ...]:
        """The gensets' starter batteries."""
        return starters(self.homestead, self.plant)

    @cached_property
    def figures(self) -> list[Figure]:
        """All figures of the electricity."""
        home, plant = self.homestead, self.plant
        return [
            *battery_figures(home, plant, self.battery),
            *energy_figures(home, plant, self.energy),
            *winter_figures(home, plant, self.ahead, self.log_hours),
        ]


def electricity(
    homestead: Homestead, meters: dict[str, Running], as_of: date, kept: Path | None
) -> Electricity:
    """The electricity of a homestead; the winters come out of ``kept`` where they lie there.

    ``meters`` tell what the meters alone say.
    """
    plant = plant_of(homestead)
    ahead, trouble = None, ""
    if plant.case is not None:
        try:
            ahead = outlook(plant.case, kept)
        except OutOfRange as error:
            trouble = str(error)
    meter = meters.get(plant.genset.id) if plant.genset else None
    blended = meter
    if ahead is not None and meter is not None and plant.climate is not None:
        other = plant.climate.run_rule.other_hours.to("h")
        made_up = MadeUp(ahead.hours_a_day(other), ahead.year_spread, ahead.winters)
        blended = with_winters(meter, made_up, as_of)
    return Electricity(homestead, plant, ahead, trouble, meter, blended, as_of.month, kept)
