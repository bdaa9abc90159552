"""What every machine has, whatever its kind: specs, tasks, its meter."""

from __future__ import annotations

from functools import cached_property
from typing import Literal

from pydantic import Field, PrivateAttr

from steadbook.inventory.fields import (
    Amount,
    Calendar,
    Current,
    Date,
    Duration,
    Gap,
    Hours,
    Interval,
    Length,
    Line,
    Name,
    Pressure,
    SeasonOfYear,
    SpecificGravity,
    Speed,
    Temperature,
    Text,
    Torque,
    Voltage,
    Volume,
    YesNo,
)
from steadbook.inventory.models.base import Model, Owned
from steadbook.inventory.models.place import ShutOff


class Spec(Owned):
    """A value to set, fill or measure: a torque, a gap, a fluid, a pressure."""

    torque: Torque | None = Field(None, description="Tightening torque")
    thread: Line | None = Field(None, description="Thread, such as M14x1.5 or 14 mm gasket")
    grade: Line | None = Field(None, description="Bolt grade, such as 8.8 or grade 5")
    gap: Gap | None = Field(None, description="Gap, as of a spark plug")
    lash: Gap | None = Field(None, description="Valve lash")
    engine: Literal["cold", "warm"] | None = Field(None, description="Engine state when measured")
    fluid: Line | None = Field(None, description="Fluid by class and grade")
    capacity: Volume | None = Field(None, description="How much of a fluid it takes")
    pressure: Pressure | None = Field(None, description="Pressure to set or to find")
    voltage: Voltage | None = Field(None, description="Voltage to set or to find")
    current: Current | None = Field(None, description="Current to set or to find")
    temperature: Temperature | None = Field(None, description="Temperature to set or to find")
    length: Length | None = Field(None, description="Length, depth or thickness")
    speed: Speed | None = Field(None, description="Speed of rotation")
    gravity: SpecificGravity | None = Field(None, description="Specific gravity of the electrolyte")
    limit: Literal["highest", "lowest"] | None = Field(
        None, description="Whether the value is the highest or the lowest allowed"
    )
    value: Line | None = Field(None, description="Anything else, in words")


class Task(Owned):
    """A job that comes back: its interval, what it takes and where it is told."""

    title: Line = Field(description="What is done, in a few words")
    every: Interval = Field(description="Hours, calendar or both; whichever comes first")
    first: Interval | None = Field(None, description="First (break-in) interval")
    season: SeasonOfYear | None = Field(None, description="When in the year it is done")
    counts_from: Literal["service", "manufacture"] = Field(
        "service",
        description="While nothing is logged: from coming into service or from being made",
    )
    parts: dict[Name, Amount] = Field(
        default_factory=dict,
        description="Parts that it takes, by their names in parts.yaml, and how much",
    )
    tools: list[Line] = Field(default_factory=list, description="Tools to bring")
    minutes: Duration | None = Field(None, description="Working time, such as 45 min")
    specs: list[Line] = Field(default_factory=list, description="Names of this machine's specs")
    procedure: Name | None = Field(None, description="Name of a page in content/procedures")
    covers: list[Name] = Field(default_factory=list, description="Tasks that this one includes")
    source: Line | None = Field(None, description="Where the interval comes from")


class Meter(Model):
    """The hour meter of a machine."""

    installed_at: Hours = Field(
        default="0 h", validate_default=True, description="Reading when the machine came here"
    )
    expected: Hours | None = Field(
        None, description="Hours expected in a year; used until the log knows better"
    )


class Machine(Owned):
    """What every machine of the place has, whatever its kind."""

    name: Line = Field(description="What the machine is called on the pages")
    place: Line | None = Field(None, description="Where it stands")
    make: Line | None = Field(None, description="Maker, as on the data plate")
    model: Line | None = Field(None, description="Model, as on the data plate")
    serial: Line | None = Field(None, description="Serial number; put it under private to hide it")
    made: Date | None = Field(None, description="Date of manufacture")
    installed: Date | None = Field(None, description="Date it came into service here")
    bought_used: YesNo = Field(
        default=False,
        description="Whether it had a life before it came here; its past services are unknown",
    )
    spare: YesNo = Field(False, description="A spare, used only when the main one is down")
    lasts: Calendar | None = Field(None, description="How long one lasts here, such as 12 years")
    can_wait: Calendar | None = Field(
        None,
        description="How long the place can do without it, such as 3 days; parts that take longer "
        "to come are critical spares",
    )
    meter: Meter | None = Field(None, description="Present where the machine has an hour meter")
    specs: dict[Line, Spec] = Field(
        default_factory=dict,
        description="Torques, gaps, fluids, pressures from the maker's manual, each under its name",
    )
    tasks: dict[Name, Task] = Field(
        default_factory=dict, description="Jobs that come back, each under a short name"
    )
    how_to_start: list[Line] = Field(
        default_factory=list,
        description="How to start it, one step a line; the checks before it stand on its page",
    )
    how_to_stop: Text | None = Field(None, description="How to shut it off")
    shut_off: ShutOff | None = Field(None, description="Its shut-off on the map of the place")
    hazards: list[
        Literal[
            "carbon monoxide",
            "fuel gas",
            "gasoline",
            "battery",
            "mains",
            "hot parts",
            "moving parts",
            "automatic start",
            "ladder",
            "drinking water",
            "lifting",
            "pressure",
        ]
    ] = Field(
        default_factory=list,
        description="What can hurt; the safety messages of its pages follow from it",
    )

    _id: str = PrivateAttr("")
    _system: str = PrivateAttr("")

    @cached_property
    def id(self) -> str:
        """The key under which the machine stands in its file."""
        return self._id

    @cached_property
    def system(self) -> str:
        """The file it stands in, without `.yaml`: power, fuel, water, ..."""
        return self._system
