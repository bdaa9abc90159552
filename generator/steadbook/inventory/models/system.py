"""A system file, such as `power.yaml`, and every kind of machine that it may hold."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from steadbook.inventory.fields import Line, Name, Text
from steadbook.inventory.models.base import Owned
from steadbook.inventory.models.fuel import Load, Tank
from steadbook.inventory.models.household import (
    Alarms,
    Building,
    Chimney,
    Cylinders,
    DatedStores,
    Extinguishers,
    FuelCans,
    House,
    PressureTank,
    Regulator,
    Roof,
    SepticTank,
    SmallEngine,
    StoredWater,
    Stove,
    UvLamp,
    WaterFilter,
    WaterLine,
    WellPump,
)
from steadbook.inventory.models.machine import Machine
from steadbook.inventory.models.power import Array, BatteryBank, Genset, Inverter


class Other(Machine):
    """Any other equipment: a charge controller, a regulator, an alarm, a structure."""

    kind: Literal["other"]
    plate: dict[Line, Line] = Field(default_factory=dict, description="What its data plate says")


AnyMachine = Annotated[
    Genset | BatteryBank | Inverter | Array | Tank | Load | Other
    | WellPump | PressureTank | WaterLine | UvLamp | WaterFilter
    | House | Stove | Chimney | SepticTank
    | Extinguishers | Alarms | Regulator | Cylinders | StoredWater | DatedStores
    | Roof | Building | SmallEngine | FuelCans,
    Field(discriminator="kind"),
]  # fmt: skip


class System(Owned):
    """A system file, such as `power.yaml`: the machines of one system."""

    title: Line = Field(description="Title of the system")
    summary: Text | None = Field(None, description="What the system does, in a few sentences")
    equipment: dict[Name, AnyMachine] = Field(
        description="The machines, each under the name by which the log calls it"
    )
