"""What makes, keeps and carries electricity: gensets, banks, inverters, arrays."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from steadbook.inventory.fields import (
    Angle,
    Area,
    Calendar,
    Charge,
    Current,
    Displacement,
    Elevation,
    FuelRate,
    Hours,
    Length,
    Line,
    Name,
    Percent,
    Power,
    Pressure,
    SpecificGravity,
    Speed,
    Temperature,
    Voltage,
    Whole,
)
from steadbook.inventory.models.base import Model, Owned
from steadbook.inventory.models.machine import Machine

SteelPipe = Literal["1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "4"]


GASES = ("propane", "natural gas")
"""Fuels that are a gas when they leak."""


class GensetPlate(Model):
    """Data plate of a genset."""

    power: Power | None = Field(None, description="Rated power")
    surge: Power | None = Field(None, description="Power for a few seconds, as a motor starts")
    voltage: Line | None = Field(None, description="Output voltage and phases")
    speed: Speed | None = Field(None, description="Rated speed")
    fuel: Literal["propane", "gasoline", "diesel", "natural gas"] | None = Field(
        None, description="Fuel it burns"
    )
    fuel_at_half_load: FuelRate | None = Field(
        None, description="Fuel burned in an hour at half of the rated power"
    )
    fuel_at_full_load: FuelRate | None = Field(
        None, description="Fuel burned in an hour at the rated power"
    )
    displacement: Displacement | None = Field(None, description="Of all cylinders together")
    cylinders: Whole | None = Field(None, description="Number of cylinders")
    cooling: Literal["air", "liquid"] | None = Field(None, description="What cools the engine")
    exhaust_limit: Pressure | None = Field(None, description="Highest back pressure allowed")
    rated_elevation: Elevation | None = Field(
        None, description="Elevation up to which the rating holds"
    )
    rated_temperature: Temperature | None = Field(
        None, description="Air temperature up to which the rating holds"
    )
    life: Hours | None = Field(None, description="Hours to overhaul")
    starter_capacity: Charge | None = Field(None, description="Of the 12 V starter battery")
    starter_cranking: Current | None = Field(
        None, description="Cold cranking current of its label, at 0 degF"
    )
    starter_drain: Current | None = Field(
        None, description="What clock, alarm and controller draw from it all the time"
    )


class BatteryPlate(Model):
    """Data plate of a battery bank."""

    chemistry: Literal["flooded", "AGM", "gel", "LFP"] | None = Field(
        None, description="Flooded lead-acid, AGM, gel, or lithium iron phosphate (LFP)"
    )
    voltage: Voltage | None = Field(None, description="Nominal voltage of the bank")
    capacity: Charge | None = Field(None, description="Capacity of the bank, 20 h rate")
    strings: Whole | None = Field(None, description="Strings of cells side by side")
    cells_in_series: Whole | None = Field(
        None, description="Cells in one string, one after the other"
    )
    absorption: Voltage | None = Field(None, description="Absorption voltage of the bank")
    float: Voltage | None = Field(None, description="Float voltage of the bank")
    equalise: Voltage | None = Field(
        None, description="Equalising voltage of the bank; leave out where its maker forbids it"
    )
    full_gravity: SpecificGravity | None = Field(
        None, description="Specific gravity of a full cell at 77 degF"
    )
    floor: Percent | None = Field(None, description="State of charge at which the inverter stops")
    overcharge: Percent | None = Field(
        None, description="Charge put in beyond what was taken out; 18 % is usual when flooded"
    )
    cycles: dict[Percent, Whole] = Field(
        default_factory=dict, description="Maker's table: depth of discharge and its cycles"
    )
    shelf_life: Calendar | None = Field(None, description="Maker's design life at 77 degF")


class InverterPlate(Model):
    """Data plate of an inverter or inverter-charger."""

    power: Power | None = Field(None, description="Continuous power")
    surge: Power | None = Field(None, description="Power for a few seconds, as a motor starts")
    charge_current: Current | None = Field(None, description="Largest charge current")
    voltage: Line | None = Field(None, description="Voltages in and out, in words")


class ArrayPlate(Model):
    """Data plate of a solar array."""

    power: Power | None = Field(None, description="Power at standard test conditions")
    tilt: Angle | None = Field(None, description="From horizontal")
    azimuth: Angle | None = Field(None, description="From north, eastward")
    modules: Whole | None = Field(None, description="Number of modules")


class ExhaustPipe(Model):
    """Pipe added to a genset's exhaust."""

    pipe: SteelPipe = Field(description="Nominal size in inches, schedule 40")
    length: Length = Field(description="Straight pipe")
    bends: dict[Literal["90 short", "90 long", "45", "90 mitre"], Whole] = Field(
        default_factory=dict, description="How many bends of each kind"
    )
    flexible: Length | None = Field(None, description="Corrugated section")
    silencer: Pressure | None = Field(
        None, description="Back pressure of the silencer, its maker's"
    )
    gas_temperature: Temperature = Field(
        default="500 degC", validate_default=True, description="Of the gas in the pipe, full load"
    )


class GensetShed(Model):
    """The air of a genset's enclosure."""

    inlet: Area = Field(description="Face of the inlet louvre, frame not counted")
    outlet: Area | None = Field(None, description="Face of the outlet louvre")
    free_share: Percent = Field(
        default="50 %", validate_default=True, description="Clear part of the louvre's face"
    )
    height: Length | None = Field(None, description="Outlet above inlet, middle to middle")
    radiator: Literal["in the shed", "outside"] = Field(
        "in the shed", description="Where the engine's cooling heat goes"
    )


class Alternative(Owned):
    """Something that would save genset hours; its price belongs under `private:`."""

    name: Line = Field(description="What it is")
    saves: Hours = Field(description="Genset hours it saves in a year")
    life: Calendar | None = Field(None, description="How long it lasts, such as 12 years")


class Genset(Machine):
    """An engine-driven machine that makes electricity."""

    kind: Literal["genset"]
    plate: GensetPlate = Field(default_factory=GensetPlate, description="What its data plate says")
    fed_by: Name | None = Field(None, description="The tank that feeds it")
    typical_load: Power | None = Field(
        None, description="Load it usually carries; half its power if left out"
    )
    house_load: Power | None = Field(
        None, description="Of that, what house and farm draw while it charges the bank"
    )
    exhaust: ExhaustPipe | None = Field(
        None, description="Pipe added to its exhaust, to work out the back pressure"
    )
    shed: GensetShed | None = Field(None, description="The air of its enclosure")
    alternatives: dict[Name, Alternative] = Field(
        default_factory=dict, description="What would save its hours, to compare the cost"
    )


class BatteryBank(Machine):
    """The batteries that carry the house."""

    kind: Literal["battery bank"]
    plate: BatteryPlate = Field(
        default_factory=BatteryPlate, description="What its data plate says"
    )


class Inverter(Machine):
    """An inverter, or an inverter-charger."""

    kind: Literal["inverter"]
    plate: InverterPlate = Field(
        default_factory=InverterPlate, description="What its data plate says"
    )
    charge_limit: Current | None = Field(
        None, description="Charge current from the genset to which it is set"
    )


class Array(Machine):
    """A solar array of one aim."""

    kind: Literal["array"]
    plate: ArrayPlate = Field(default_factory=ArrayPlate, description="What its data plate says")
