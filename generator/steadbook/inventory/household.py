"""Data plates of what a house needs besides power and fuel: water, heat, waste, safety, structure.

Every value is optional: a figure is worked out where its values are given, and left out where not.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PlainValidator, WithJsonSchema

from steadbook import units
from steadbook.inventory.fields import (
    Angle,
    Calendar,
    Date,
    Duration,
    Hours,
    Length,
    Line,
    Name,
    Percent,
    Power,
    Pressure,
    Temperature,
    Voltage,
    Volume,
    Whole,
    YesNo,
    quantity,
    read_month_day,
)


def _month_day(value: Any) -> tuple[int, int]:
    return value if isinstance(value, tuple) else read_month_day(value)


if TYPE_CHECKING:
    Energy = units.Quantity
    Flow = units.Quantity
    Mass = units.Quantity
    SnowLoad = units.Quantity
    MonthDay = tuple[int, int]
else:
    Energy = quantity("energy")
    Flow = quantity("flow")
    Mass = quantity("mass")
    SnowLoad = quantity("area load")
    MonthDay = Annotated[
        tuple[int, int],
        PlainValidator(_month_day),
        WithJsonSchema(
            {"type": "string", "description": "A day of the year.", "examples": ["15 October"]}
        ),
    ]

Pipe = Literal["plastic", "copper", "new steel", "old steel"]
CodeLetter = Literal[
    "A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "R", "S", "T", "U"
]
Species = Literal[
    "hickory", "black locust", "white oak", "beech", "sugar maple", "red oak", "white ash",
    "american elm", "black cherry", "silver maple", "yellow-poplar", "hemlock", "white pine",
]  # fmt: skip


class Plate(BaseModel):
    """A data plate, or a part of one. Unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


# --- water ----------------------------------------------------------------------------------


class WellPumpPlate(Plate):
    """Data plate of a well pump and of its well."""

    power: Power | None = Field(None, description="Drawn while it runs")
    starting: Power | None = Field(None, description="Starting surge, measured or by its maker")
    voltage: Voltage | None = Field(None, description="Supply voltage")
    shaft_power: Power | None = Field(None, description="Of the motor's plate, such as 1 hp")
    code_letter: CodeLetter | None = Field(None, description="Locked-rotor code of its plate")
    flow: Flow | None = Field(None, description="Water it gives, from a bucket and a watch")
    casing: Length | None = Field(None, description="Inside diameter of the casing")
    well_depth: Length | None = Field(None, description="Bottom of the well below its top")
    pump_depth: Length | None = Field(None, description="Where the pump hangs")
    pumping_level: Length | None = Field(None, description="Water level while the pump runs")
    lift: Length | None = Field(None, description="From the top of the well to where it delivers")
    pressure: Pressure | None = Field(None, description="Pressure where it delivers")
    pipe_length: Length | None = Field(
        None, description="Length of the pipe from pump to where it delivers"
    )
    pipe_bore: Length | None = Field(None, description="Inside diameter of the pipe")
    pipe: Pipe | None = Field(None, description="What the pipe is made of")
    plumbing: Volume | None = Field(
        None, description="Water in pipes, tanks and heater that is treated with the well"
    )
    daily_use: Volume | None = Field(None, description="Water pumped on a usual day")


class PressureTankPlate(Plate):
    """Data plate of a pressure tank. Precharge, cut-in and cut-out are its specs."""

    capacity: Volume | None = Field(None, description="Whole volume")
    pump_flow: Flow | None = Field(
        None, description="What its pump gives between the switch points"
    )
    shortest_run: Duration = Field(
        default="1 min", validate_default=True, description="Shortest run its pump's maker allows"
    )


class WaterLinePlate(Plate):
    """A water line: how it runs, and what keeps it from freezing."""

    length: Length | None = Field(None, description="With an allowance for fittings")
    bore: Length | None = Field(None, description="Inside diameter")
    outside: Length | None = Field(None, description="Outside diameter of the pipe")
    pipe: Pipe | None = Field(None, description="What the pipe is made of")
    fall: Length | None = Field(None, description="Height of its source above its outlet")
    outlet_pressure: Pressure | None = Field(None, description="Pressure wanted at its outlet")
    insulation: Length | None = Field(None, description="Thickness of the insulation")
    exposed: Length | None = Field(None, description="Length that lies above the frost line")
    heat_tape: Name | None = Field(None, description="The heat tape on it, by its name")
    buried: Length | None = Field(None, description="Depth of its top below the ground")
    soil: Literal["sand or gravel", "silt or clay"] | None = Field(
        None, description="The ground around it"
    )
    surface: Literal["snow", "shaded", "bare soil", "turf", "trees"] | None = Field(
        None, description="What covers the ground above it in winter"
    )


class UvLampPlate(Plate):
    """Data plate of an ultraviolet lamp."""

    power: Power | None = Field(None, description="Power of the lamp")
    voltage: Voltage | None = Field(None, description="Supply voltage")
    life: Hours = Field(
        default="9000 h", validate_default=True, description="Hours its maker gives the lamp"
    )
    hours_a_day: Hours = Field(
        default="24 h", validate_default=True, description="How long it is lit in a day"
    )


class WaterFilterPlate(Plate):
    """Data plate of a water filter."""

    cartridge: Line | None = Field(None, description="The cartridge that fits it")
    rating: Line | None = Field(None, description="What it holds back, such as 5 micron")
    rated_volume: Volume | None = Field(None, description="Water its maker gives a cartridge")
    daily_use: Volume | None = Field(None, description="Water that passes on a usual day")
    largest_loss: Pressure | None = Field(
        None, description="Gauge before less gauge after at which it is changed"
    )


# --- heat -----------------------------------------------------------------------------------


class ColdNight(Plate):
    """One cold, still night without sun, measured with the heat steady."""

    date: Date = Field(description="Date of the evening")
    hours: Hours = Field(description="Between the two readings, 8 or more")
    inside: Temperature = Field(description="Mean inside")
    outside: Temperature = Field(description="Mean outside")
    wood: Mass | None = Field(None, description="Wood burned, weighed")
    other_heat: Energy | None = Field(None, description="From heaters, lamps and people")


class StoveOut(Plate):
    """One evening with the heat off: how the rooms cooled."""

    date: Date = Field(description="Date of the evening")
    hours: Hours = Field(description="How long the heat was off")
    start: Temperature = Field(description="Inside at first")
    end: Temperature = Field(description="Inside after these hours")
    outside: Temperature = Field(description="Mean outside")


class HousePlate(Plate):
    """A heated house."""

    inside: Temperature | None = Field(None, description="Kept inside in winter")
    stove: Name | None = Field(None, description="The stove that heats it, by its name")
    backup: Name | None = Field(None, description="The heater that takes over, by its name")
    backup_efficiency: Percent = Field(
        default="80 %", validate_default=True, description="Of the backup heater"
    )
    cold_night: ColdNight | None = Field(
        None, description="A measured night, to work out the heat the house loses"
    )
    stove_out: StoveOut | None = Field(
        None, description="An evening with the heat off, to work out how fast it cools"
    )


class StovePlate(Plate):
    """Data plate of a wood stove, and the wood it burns."""

    firebox: Volume | None = Field(None, description="Usable volume of the firebox")
    log: Length | None = Field(None, description="Longest log")
    efficiency: Percent = Field(
        default="65 %", validate_default=True, description="Share of the heat that stays inside"
    )
    wood: Species | None = Field(None, description="Species of the table")
    cord_weight: Mass | None = Field(
        None, description="Weight of a dry cord, where the species is not in the table"
    )
    is_softwood: YesNo | None = Field(None, description="Of a species not in the table")
    moisture: Percent = Field(
        default="20 %", validate_default=True, description="Of a fresh split, by the meter"
    )
    burn_from: MonthDay | None = Field(
        None, description="First fire of the season, such as 1 October"
    )


class ChimneyPlate(Plate):
    """A chimney and the roof it goes through."""

    diameter: Length | None = Field(None, description="Inside diameter of the flue")
    height: Length | None = Field(None, description="Whole height of the flue")
    roof_slope: Angle | None = Field(None, description="Slope of the roof, from level")
    to_ridge: Length | None = Field(None, description="Level distance from chimney to ridge")
    above_roof: Length | None = Field(
        None, description="Height above the roof, measured on the upper side"
    )


# --- waste ----------------------------------------------------------------------------------


class SepticPlate(Plate):
    """A septic tank and its household. Sludge and scum are measured in the log."""

    capacity: Volume | None = Field(None, description="Liquid volume")
    people: Whole | None = Field(None, description="People in the house")
    occupancy: Percent = Field(
        default="100 %",
        validate_default=True,
        description="Share of the year the house is lived in",
    )
    waste_grinder: YesNo = Field(
        default=False, description="Whether kitchen waste is ground into it"
    )
    pump_or_float: YesNo = Field(False, description="Whether it has a pump, float or other machine")
    liquid_depth: Length | None = Field(
        None, description="From the floor to the outlet's flow line"
    )
    outlet_bottom: Length | None = Field(
        None, description="From the flow line down to the bottom of the outlet baffle"
    )
    daily_use: Volume | None = Field(None, description="Waste water of a usual day")


# --- safety ---------------------------------------------------------------------------------


class ExtinguisherUnit(Plate):
    """One extinguisher."""

    place: Line = Field(description="Where it hangs")
    made: Date = Field(description="Date of manufacture, on the label or stamped")
    agent: Literal[
        "dry chemical", "carbon dioxide", "water", "wet chemical", "non-rechargeable"
    ] = Field("dry chemical", description="What is in it")
    size: Mass | None = Field(None, description="Weight of the agent")
    looked_at: Date | None = Field(
        None, description="Last monthly look; used until the log has one"
    )
    serviced: Date | None = Field(None, description="Last yearly maintenance, on the tag")
    opened: Date | None = Field(None, description="Last internal examination")
    tested: Date | None = Field(None, description="Last hydrostatic test")


class ExtinguishersPlate(Plate):
    """The extinguishers of the place. What the tasks of the set record counts for each of them."""

    units: dict[Name, ExtinguisherUnit] = Field(
        default_factory=dict, description="Each extinguisher under a short name"
    )


class AlarmUnit(Plate):
    """One alarm."""

    place: Line = Field(description="Where it hangs")
    made: Date = Field(description="Date of manufacture, on its back")
    life: Calendar | None = Field(None, description="Life that its maker prints on it")


class AlarmsPlate(Plate):
    """Alarms of one kind."""

    senses: Literal["smoke", "carbon monoxide", "propane"] = Field(description="What they sense")
    life: Calendar | None = Field(None, description="Life that the maker prints on them")
    units: dict[Name, AlarmUnit] = Field(
        default_factory=dict, description="Each alarm under a short name"
    )


class RegulatorPlate(Plate):
    """Data plate of a propane regulator."""

    outlet: Pressure | None = Field(None, description="Outlet pressure")
    largest_flow: Line | None = Field(None, description="Largest flow of its label, in words")
    life: Calendar = Field(
        default="15 years", validate_default=True, description="Life its maker gives"
    )


class CylinderUnit(Plate):
    """One portable propane cylinder."""

    place: Line | None = Field(None, description="Where it stands")
    size: Mass | None = Field(None, description="Propane it holds, such as 20 lb")
    made: Date = Field(description="Stamped on the collar")
    requalified: Date | None = Field(None, description="Day of the last requalification")
    method: Literal["external visual", "proof pressure", "volumetric expansion"] = Field(
        "external visual", description="Of the last requalification: E, S or no letter"
    )


class CylindersPlate(Plate):
    """Portable propane cylinders."""

    units: dict[Name, CylinderUnit] = Field(
        default_factory=dict, description="Each cylinder under a short name"
    )


class StoredWaterPlate(Plate):
    """Drinking water kept for an emergency."""

    volume: Volume | None = Field(None, description="How much is kept")
    people: Whole | None = Field(None, description="For how many people")
    days: Whole | None = Field(None, description="To last so long; 14 is the usual advice")
    animals: Volume | None = Field(None, description="What animals need in a day, where it counts")
    filled: Date | None = Field(None, description="Used until the log has a change of the water")


class DatedItem(Plate):
    """Something that runs out of date."""

    amount: Line | None = Field(None, description="How much there is")
    best_by: Date = Field(
        description="Date on it; the last day of a month where only that is given"
    )


class DatedStoresPlate(Plate):
    """Medicine, food, batteries, flares: what carries a date."""

    items: dict[Line, DatedItem] = Field(
        default_factory=dict, description="Each item under its name"
    )


# --- structure ------------------------------------------------------------------------------


class RoofPlate(Plate):
    """A roof under snow. Depth and cores are measured in the log."""

    design_load: SnowLoad | None = Field(
        None, description="Snow load it was built for, from drawings or the building office"
    )
    slope: Angle | None = Field(None, description="Slope of the roof, from level")
    tube: Length | None = Field(None, description="Inside diameter of the tube for snow cores")


class Distance(Plate):
    """A distance to keep, as measured."""

    measured: Length = Field(description="As measured")
    least: Length = Field(description="By the maker's manual or the code")
    source: Line = Field(description="Who says so")


class BuildingPlate(Plate):
    """A building, its ground and the distances to keep there."""

    distances: dict[Line, Distance] = Field(
        default_factory=dict, description="Distances to keep, each under its name"
    )


# --- engines and tools ----------------------------------------------------------------------


class SmallEnginePlate(Plate):
    """Data plate of a saw, blower, mower or other small engine."""

    engine: Line | None = Field(None, description="Engine, as on its label")
    work: Line | None = Field(None, description="Bar and chain, width, lift: what it works with")
    fuel: Literal["gasoline with ethanol", "gasoline without ethanol", "diesel"] | None = Field(
        None, description="Fuel it burns"
    )
    mix: Whole | None = Field(None, description="Parts of gasoline to one of oil, such as 50")
    tank: Volume | None = Field(None, description="Volume of its fuel tank")


class FuelCan(Plate):
    """One can of fuel."""

    filled: Date = Field(description="Day it was filled")
    volume: Volume = Field(description="How much is in it")
    fuel: Literal["gasoline with ethanol", "gasoline without ethanol", "two-stroke mix"] = Field(
        description="What is in it"
    )
    mix: Whole | None = Field(None, description="Parts of gasoline to one of oil")
    stabilised: YesNo = Field(default=False, description="Whether stabilizer went in")


class FuelCansPlate(Plate):
    """Cans with a date on each."""

    cans: dict[Name, FuelCan] = Field(
        default_factory=dict, description="Each can under a short name"
    )
