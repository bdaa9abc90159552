"""What `climate.yaml` and `what-if.yaml` hold: weather, load, run rule, and changes to try."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import Field, PlainValidator, WithJsonSchema

from steadbook import units
from steadbook.errors import QuantityError
from steadbook.inventory.fields import (
    Angle,
    Charge,
    Current,
    Duration,
    Hours,
    Line,
    Month,
    Name,
    Power,
    Temperature,
    Whole,
    quantity,
)
from steadbook.inventory.models import Model, Owned


class ClockHours(tuple[int, int]):
    """Hours of the day: from the first until the second, `22-6` over midnight."""

    __slots__ = ()

    @classmethod
    def read(cls, value: Any) -> ClockHours:
        """Read `22-6`. Raises QuantityError."""
        if isinstance(value, ClockHours):
            return value
        text = str(value).strip()
        found = re.fullmatch(r"(\d{1,2})\s*(?:-|\N{EN DASH}|to)\s*(\d{1,2})", text)
        if found:
            first, last = int(found[1]), int(found[2])
            if first < 24 and 0 < last <= 24 and first != last:
                return cls((first, last))
        raise QuantityError(
            text[:80], "whole hours of the day such as 22-6",
            "write the first hour, a hyphen and the hour by which it ends, 0 to 24",
        )  # fmt: skip

    @property
    def pair(self) -> tuple[int, int]:
        """First hour and the hour by which it ends."""
        return self[0], self[1]

    @property
    def clock(self) -> list[int]:
        """The hours in it, each by its beginning."""
        first, last = self
        return [h for h in range(24) if (first <= h < last if first < last else h >= first or h < last)]  # fmt: skip

    @property
    def text(self) -> str:
        """`22 to 6 h`."""
        return f"{self[0]} to {self[1]} h"


def _share(value: Any) -> Any:
    if isinstance(value, units.Quantity):
        return value
    share = units.parse(str(value), "percent")
    if share.magnitude > 100 or share.high is not None:
        raise QuantityError(str(value)[:80], "a share from 0 to 100 %, such as 60 %", "correct it")
    return share


if TYPE_CHECKING:
    HoursOfDay = ClockHours
    Irradiation = units.Quantity
    Share = units.Quantity
else:
    Irradiation = quantity("irradiation")
    Share = Annotated[
        units.Quantity, PlainValidator(_share), WithJsonSchema(units.schema("percent"))
    ]
    HoursOfDay = Annotated[
        ClockHours,
        PlainValidator(ClockHours.read),
        WithJsonSchema(
            {
                "type": "string",
                "description": "Hours of the day, from-to.",
                "examples": ["22-6", "8-12"],
            }
        ),
    ]

# --- climate.yaml -----------------------------------------------------------------------------


class MonthOfYear(Model):
    """A usual day of one month."""

    sun: Irradiation = Field(
        description="Light on level ground, mean of a day (global horizontal), such as 1.1 kWh/m2"
    )
    air: Temperature = Field(description="Air temperature by day, mean of the month")
    snow_days: Whole = Field(
        default=0, description="Days of the month on which snow keeps the panels from giving"
    )
    ground: Share = Field(
        default="20 %",
        validate_default=True,
        description="Share of the light the ground throws back: 20 % grass, 60 to 80 % snow",
    )
    bank: Temperature = Field(
        default="68 degF", validate_default=True, description="Temperature of the battery bank"
    )


class HouseSeason(Model):
    """What the house draws in some months, by time of day; heavy loads stand apart."""

    months: list[Month] = Field(description="Months for which these hold")
    power: dict[HoursOfDay, Power] = Field(
        description="Mean power in hours of the day that together make 24, such as 22-6: 250 W"
    )


class HeavyLoad(Owned):
    """A load that counts: how long it runs in a day, when, and whether it waits for the genset."""

    name: Line = Field(description="What it is")
    power: Power = Field(description="While it runs")
    daily: Duration = Field(description="Running time on a day it is used, such as 2 h")
    hours: HoursOfDay = Field(description="Between which hours of the day it runs, such as 8-12")
    days_a_week: Whole = Field(default=7, description="Days of the week on which it is used")
    months: list[Month] = Field(default_factory=list, description="In use; all when not given")
    waits_in: list[Month] = Field(
        default_factory=list, description="Months in which it waits for the genset's usual hours"
    )


class WrittenRule(Model):
    """When the genset runs to charge the bank."""

    start_below: Share = Field(description="State of charge at which it is started")
    stop_at: Share = Field(description="State of charge at which it is stopped")
    quiet: HoursOfDay | None = Field(None, description="Hours without the genset, such as 22-6")
    break_quiet_below: Share = Field(
        default="0 %", validate_default=True, description="Below this it runs all the same"
    )
    mark: Share = Field(
        default="50 %", validate_default=True, description="Charge not to be fallen below"
    )
    usual_hours: HoursOfDay = Field(
        default="16-20", validate_default=True,
        description="When it usually runs; loads that wait run then",
    )  # fmt: skip
    other_hours: Hours = Field(
        default="0 h", validate_default=True,
        description="Hours in a month beside charging: exercise runs, work that needs it",
    )  # fmt: skip


class PlantNames(Model):
    """Which machines make up the plant; the first of each kind that is no spare if not given."""

    genset: Name | None = Field(None, description="The genset, by its name")
    bank: Name | None = Field(None, description="The battery bank, by its name")
    inverter: Name | None = Field(None, description="The inverter-charger, by its name")


class Climate(Owned):
    """`climate.yaml`: weather by month, the house's load and the run rule, for the outlook."""

    source: Line = Field(description="Where the table of months comes from")
    months: dict[Month, MonthOfYear] = Field(description="All twelve")
    house: dict[Name, HouseSeason] = Field(description="Seasons that together cover the year")
    heavy_loads: dict[Name, HeavyLoad] = Field(
        default_factory=dict, description="Loads that count, each under a short name"
    )
    run_rule: WrittenRule = Field(description="When the genset runs")
    plant: PlantNames = Field(
        default_factory=PlantNames, description="Which machines make up the plant"
    )


# --- what-if.yaml -----------------------------------------------------------------------------


class MoreArray(Model):
    """An array to be added."""

    power: Power = Field(description="Power at standard test conditions")
    tilt: Angle = Field(description="From horizontal")
    azimuth: Angle = Field(description="From north, eastward")


class OtherRule(Model):
    """The keys of the run rule that change."""

    start_below: Share | None = Field(
        None, description="State of charge at which the genset is started"
    )
    stop_at: Share | None = Field(None, description="State of charge at which it is stopped")
    quiet: HoursOfDay | None = Field(None, description="Hours without the genset")
    break_quiet_below: Share | None = Field(None, description="Below this it runs all the same")
    mark: Share | None = Field(None, description="Charge not to be fallen below")


class ColdSpell(Model):
    """Some days of hard cold, compared with the same days as usual."""

    first: Line = Field(description="First day, such as 8 January")
    days: Whole = Field(default=7, description="How many days it lasts")
    air: Temperature = Field(description="Air temperature by day")
    bank: Temperature = Field(description="What the bank comes down to")
    more_load: Power = Field(description="Drawn on top: heat tape, block heater, fans")


class Change(Owned):
    """A change to try; `private: {price: ...}` is what it costs."""

    title: Line = Field(description="The change in a few words")
    array: MoreArray | None = Field(None, description="An array that is added")
    bank: Charge | None = Field(None, description="Another capacity of the bank")
    charger: Current | None = Field(None, description="Another charge current from the genset")
    run_rule: OtherRule | None = Field(None, description="Keys of the run rule that change")
    heavy_load: HeavyLoad | None = Field(None, description="A load that is added")
    without: list[Name] = Field(default_factory=list, description="Heavy loads left out")
    cold: ColdSpell | None = Field(None, description="Some days of hard cold")


class WhatIf(Owned):
    """`what-if.yaml`: changes that the manual shows beside today."""

    changes: dict[Name, Change] = Field(description="Each change under a short name")
