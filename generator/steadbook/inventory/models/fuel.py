"""Tanks, their lines, and what burns fuel or draws power."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from steadbook.inventory.fields import (
    HeatRate,
    Hours,
    Length,
    Line,
    Name,
    Percent,
    Power,
    Pressure,
    SeasonOfYear,
    TankSize,
    Volume,
    Whole,
    YesNo,
)
from steadbook.inventory.models.base import Model
from steadbook.inventory.models.machine import Machine
from steadbook.inventory.models.power import SteelPipe


class TankPlate(Model):
    """Data plate of a fuel or water tank."""

    contents: (
        Literal["propane", "gasoline", "gasoline E10", "diesel", "kerosene", "water"] | None
    ) = Field(None, description="What is in it")
    capacity: TankSize | None = Field(
        None, description="Water capacity; or the full charge of a propane cylinder, such as 45 kg"
    )
    count: Whole = Field(
        default=1, description="Like tanks or cylinders on one manifold; the sizes are of one"
    )
    diameter: Length | None = Field(None, description="Outside diameter")
    length: Length | None = Field(None, description="Outside length, end to end")
    reserve: Percent | None = Field(None, description="Level kept in reserve")
    order_at: Percent | None = Field(None, description="Level at which fuel is ordered")
    daily_use: Volume | None = Field(None, description="Of a cistern: water drawn on a usual day")


class LoadPlate(Model):
    """Data plate of something that uses power or fuel."""

    power: Power | None = Field(None, description="Power it draws while it runs")
    starting: Power | None = Field(None, description="Starting surge")
    input: HeatRate | None = Field(None, description="Fuel input")
    voltage: Line | None = Field(None, description="Supply voltage and phases")


class FuelUse(Model):
    """How long something that burns fuel is on in a day."""

    hours: Hours = Field(description="Hours a day it is on")
    duty: Percent = Field(
        default="100 %",
        validate_default=True,
        description="Share of that time the burner burns",
    )
    season: SeasonOfYear | None = Field(None, description="When in the year; all of it if left out")


class Heating(Model):
    """A heater whose fuel follows the weather (needs climate.yaml)."""

    loss: HeatRate = Field(description="Heat the rooms lose at the coldest of homestead.yaml")
    efficiency: Percent = Field(description="Share of the fuel's heat that stays in the house")
    share: Percent = Field(
        default="100 %", validate_default=True, description="Share of the heating it does"
    )


class GasLine(Model):
    """A low-pressure gas line of steel pipe, from the last regulator to the farthest appliance."""

    length: Length = Field(description="To the farthest appliance, fittings as extra length")
    pipe: SteelPipe = Field(description="Nominal size in inches, schedule 40")
    feeds: list[Name] = Field(description="What it feeds, all at once")
    drop: Pressure = Field(
        default="0.5 inH2O", validate_default=True, description="Loss of pressure allowed"
    )


class Tank(Machine):
    """A tank for fuel or water."""

    kind: Literal["tank"]
    plate: TankPlate = Field(default_factory=TankPlate, description="What its data plate says")
    feeds: list[Name] = Field(default_factory=list, description="What it feeds")
    supplier: Name | None = Field(None, description="Who fills it")
    stabilizer: YesNo = Field(False, description="Whether fuel stabilizer goes in when filled")
    lines: dict[Name, GasLine] = Field(
        default_factory=dict, description="Gas lines from it, each under a name"
    )

    @property
    def holds_fuel(self) -> bool:
        """Whether it holds fuel, and says which."""
        return self.plate.contents not in (None, "water")


class Load(Machine):
    """Something that uses power or fuel: a chiller, a pump, a heater."""

    kind: Literal["load"]
    plate: LoadPlate = Field(default_factory=LoadPlate, description="What its data plate says")
    fed_by: Name | None = Field(None, description="The tank that feeds it")
    use: list[FuelUse] = Field(default_factory=list, description="How long it burns in a day")
    heating: Heating | None = Field(None, description="For a heater: its fuel by the weather")
