"""The log: `log/YYYY.yaml`."""

from __future__ import annotations

from typing import Any

from pydantic import Field, field_validator

from steadbook.inventory.fields import (
    Amount,
    Date,
    Duration,
    Hours,
    Line,
    Name,
    Percent,
    Power,
    Temperature,
    Text,
    Volume,
)
from steadbook.inventory.models.base import Model, Owned


class Reading(Owned):
    """An hour-meter reading; with `old_meter` it is the first of a new meter."""

    date: Date = Field(description="Day of the reading")
    machine: Name = Field(description="The machine, by its name")
    hours: Hours = Field(description="What the meter shows")
    old_meter: Hours | None = Field(
        None, description="Last reading of the meter that this one replaced"
    )


class Service(Owned):
    """Work done on a machine."""

    date: Date = Field(description="Day the work was done")
    machine: Name = Field(description="The machine, by its name")
    tasks: list[Name] = Field(description="The machine's tasks that were done, by their names")
    hours: Hours | None = Field(None, description="Meter reading at the service")
    parts: dict[Name, Amount] = Field(
        default_factory=dict, description="Parts used, and how much; they leave the shelf"
    )
    by: Line | None = Field(None, description="Who did it")


class Run(Owned):
    """A run of a machine: how long, and under what load where it was read."""

    date: Date = Field(description="Day of the run")
    machine: Name = Field(description="The machine, by its name")
    duration: Duration = Field(description="How long it ran, such as 2.5 h")
    load: Power | None = Field(None, description="Load while it ran")


class Count(Owned):
    """Stock-take of a part: what was on the shelf at the end of the day."""

    date: Date = Field(description="Day of the stock-take")
    part: Name = Field(description="The part, by its name")
    amount: Amount = Field(description="How much was there")


class Level(Owned):
    """A tank gauge reading."""

    date: Date = Field(description="Day of the reading")
    tank: Name = Field(description="The tank, by its name")
    level: Percent = Field(description="What the gauge shows")
    temperature: Temperature | None = Field(
        None, description="Of the liquid; after a steady day that of the air"
    )


class Delivery(Owned):
    """Fuel delivered into a tank."""

    date: Date = Field(description="Day of the delivery")
    tank: Name = Field(description="The tank, by its name")
    amount: Volume = Field(description="How much came, by the driver's ticket")
    before: Percent | None = Field(None, description="Gauge before")
    after: Percent | None = Field(None, description="Gauge after")
    supplier: Name | None = Field(None, description="Who brought it, by its name in suppliers.yaml")


class Order(Owned):
    """Parts ordered from a supplier."""

    date: Date = Field(description="Day of the order")
    supplier: Name = Field(description="From whom, by its name in suppliers.yaml")
    parts: dict[Name, Amount] = Field(description="Parts ordered, and how much")
    promised: Date | None = Field(None, description="Day for which it is promised")
    back_order_until: Date | None = Field(
        None, description="The supplier is out; expects to have it by this date"
    )
    received: Date | None = Field(None, description="Day on which it came; until then it is open")


class Measurement(Owned):
    """A value measured on a machine, to be compared with a spec or watched over time."""

    date: Date = Field(description="Day it was measured")
    machine: Name = Field(description="The machine, by its name")
    spec: Line = Field(description="The name of the spec, or a name of your own")
    at: Line | None = Field(
        None,
        description="Which of several like places: cell A7, cylinder 3; each has its own trend",
    )
    value: Line = Field(description="What was measured, with its unit")


class Event(Owned):
    """Anything else worth keeping: a fault, a storm, a repair."""

    date: Date = Field(description="Day it happened")
    machine: Name | None = Field(
        None, description="The machine, by its name, where it is about one"
    )
    text: Text = Field(description="What happened, in your own words")


class LogYear(Model):
    """`log/YYYY.yaml`: what happened in a year."""

    readings: list[Reading] = Field(default_factory=list, description="Hour meters read")
    services: list[Service] = Field(default_factory=list, description="Work done")
    runs: list[Run] = Field(default_factory=list, description="Runs of a machine")
    levels: list[Level] = Field(default_factory=list, description="Tank gauges read")
    deliveries: list[Delivery] = Field(default_factory=list, description="Fuel delivered")
    orders: list[Order] = Field(default_factory=list, description="Parts ordered")
    counts: list[Count] = Field(default_factory=list, description="Stock-takes")
    measurements: list[Measurement] = Field(default_factory=list, description="Values measured")
    events: list[Event] = Field(default_factory=list, description="Anything else worth keeping")

    @field_validator("*", mode="before")
    @classmethod
    def _nothing_is_an_empty_list(cls, value: Any) -> Any:
        return [] if value is None else value
