"""Water, heat, waste, safety, structure, small engines; their plates are in `inventory/household.py`."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from steadbook.inventory import household
from steadbook.inventory.models.machine import Machine


class WellPump(Machine):
    """A well with its pump."""

    kind: Literal["well pump"]
    plate: household.WellPumpPlate = Field(
        default_factory=household.WellPumpPlate, description="What its data plate says"
    )


class PressureTank(Machine):
    """A pressure tank."""

    kind: Literal["pressure tank"]
    plate: household.PressureTankPlate = Field(
        default_factory=household.PressureTankPlate, description="What its data plate says"
    )


class WaterLine(Machine):
    """A water line, buried or not."""

    kind: Literal["water line"]
    plate: household.WaterLinePlate = Field(
        default_factory=household.WaterLinePlate, description="What its data plate says"
    )


class UvLamp(Machine):
    """An ultraviolet lamp for drinking water."""

    kind: Literal["uv lamp"]
    plate: household.UvLampPlate = Field(
        default_factory=household.UvLampPlate, description="What its data plate says"
    )


class WaterFilter(Machine):
    """A water filter with a cartridge."""

    kind: Literal["water filter"]
    plate: household.WaterFilterPlate = Field(
        default_factory=household.WaterFilterPlate, description="What its data plate says"
    )


class House(Machine):
    """A heated house."""

    kind: Literal["house"]
    plate: household.HousePlate = Field(
        default_factory=household.HousePlate, description="What its data plate says"
    )


class Stove(Machine):
    """A wood stove."""

    kind: Literal["stove"]
    plate: household.StovePlate = Field(
        default_factory=household.StovePlate, description="What its data plate says"
    )


class Chimney(Machine):
    """A chimney."""

    kind: Literal["chimney"]
    plate: household.ChimneyPlate = Field(
        default_factory=household.ChimneyPlate, description="What its data plate says"
    )


class SepticTank(Machine):
    """A septic tank with its drain field."""

    kind: Literal["septic tank"]
    plate: household.SepticPlate = Field(
        default_factory=household.SepticPlate, description="What its data plate says"
    )


class Extinguishers(Machine):
    """The fire extinguishers."""

    kind: Literal["extinguishers"]
    plate: household.ExtinguishersPlate = Field(
        default_factory=household.ExtinguishersPlate, description="What its data plate says"
    )


class Alarms(Machine):
    """Alarms that sense smoke, carbon monoxide or propane."""

    kind: Literal["alarms"]
    plate: household.AlarmsPlate = Field(description="What its data plate says")


class Regulator(Machine):
    """A propane regulator."""

    kind: Literal["regulator"]
    plate: household.RegulatorPlate = Field(
        default_factory=household.RegulatorPlate, description="What its data plate says"
    )


class Cylinders(Machine):
    """Portable propane cylinders."""

    kind: Literal["cylinders"]
    plate: household.CylindersPlate = Field(
        default_factory=household.CylindersPlate, description="What its data plate says"
    )


class StoredWater(Machine):
    """Drinking water for an emergency."""

    kind: Literal["stored water"]
    plate: household.StoredWaterPlate = Field(
        default_factory=household.StoredWaterPlate, description="What its data plate says"
    )


class DatedStores(Machine):
    """First aid, food, batteries: what runs out of date."""

    kind: Literal["dated stores"]
    plate: household.DatedStoresPlate = Field(
        default_factory=household.DatedStoresPlate, description="What its data plate says"
    )


class Roof(Machine):
    """A roof under snow."""

    kind: Literal["roof"]
    plate: household.RoofPlate = Field(
        default_factory=household.RoofPlate, description="What its data plate says"
    )


class Building(Machine):
    """A building with its ground and the distances to keep there."""

    kind: Literal["building"]
    plate: household.BuildingPlate = Field(
        default_factory=household.BuildingPlate, description="What its data plate says"
    )


class SmallEngine(Machine):
    """A saw, blower, mower, tractor: an engine that does not make electricity."""

    kind: Literal["small engine"]
    plate: household.SmallEnginePlate = Field(
        default_factory=household.SmallEnginePlate, description="What its data plate says"
    )


class FuelCans(Machine):
    """Cans of fuel, each with the day it was filled."""

    kind: Literal["fuel cans"]
    plate: household.FuelCansPlate = Field(
        default_factory=household.FuelCansPlate, description="What its data plate says"
    )
