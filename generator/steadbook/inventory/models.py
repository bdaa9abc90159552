"""What an inventory holds: one class an object, one field a key.

The docstrings and field titles here are the reference of every key: the JSON Schema and the
documentation are made from them.
"""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr, field_validator

from steadbook.inventory import household
from steadbook.inventory.fields import (
    Amount,
    Angle,
    Area,
    Calendar,
    Charge,
    Current,
    Date,
    Displacement,
    Duration,
    Elevation,
    FuelRate,
    Gap,
    HeatRate,
    Hours,
    Interval,
    Latitude,
    Length,
    Line,
    Longitude,
    Money,
    Name,
    Percent,
    Power,
    Pressure,
    SeasonOfYear,
    SpecificGravity,
    Speed,
    Temperature,
    Text,
    Torque,
    Voltage,
    Volume,
    Whole,
    YesNo,
)


class Model(BaseModel):
    """An object of the inventory. Unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class Grant(Model):
    """For whom and on which days a private text is shown."""

    to: Literal["sitter", "technician"] = Field(description="Which edition shows it")
    first_day: Date = Field(description="The first day on which it is shown")
    last_day: Date = Field(description="The last day on which it is shown")


class Private(BaseModel):
    """What only the owner may see: left out of every other edition before it is made."""

    model_config = ConfigDict(extra="allow", frozen=True, defer_build=True)

    price: Money | None = Field(None, description="Price paid")
    replacement: Money | None = Field(None, description="What another one costs today")
    account: Line | None = Field(None, description="Account or customer number")
    code: Line | None = Field(None, description="Gate, lock or alarm code")
    serial: Line | None = Field(None, description="Serial number")
    notes: Text | None = Field(None, description="Notes for the owner alone")
    visible: dict[Line, Grant] = Field(
        default_factory=dict,
        description="Which of these texts another edition shows for some days, never a price",
    )


class Owned(Model):
    """An object that may have a private part and notes."""

    notes: Text | None = Field(None, description="Notes for every reader")
    private: Private | None = Field(None, description="What only the owner's edition shows")


# --- the place and its people ---------------------------------------------------------------


class Person(Owned):
    """Somebody to call."""

    name: Line = Field(description="The person's name")
    role: Line = Field(description="What this person is to the place")
    phone: Line | None = Field(None, description="Telephone number")
    hours: Line | None = Field(None, description="When to call")


class Closure(Model):
    """When the road cannot be counted on for deliveries."""

    season: SeasonOfYear = Field(
        description="The part of the year, such as 15 November to 20 April"
    )
    reason: Line = Field(description="Why: snow, mud, high water")


class Outline(Model):
    """A building on the map of the place; lengths from the map's south-west corner."""

    x: Length = Field(description="East of the map's west edge, to the building's west wall")
    y: Length = Field(description="North of the map's south edge, to the building's south wall")
    width: Length = Field(description="West to east")
    depth: Length = Field(description="South to north")


class ShutOff(Model):
    """A valve, breaker or switch that shuts something off, and where it stands on the map."""

    what: Literal[
        "propane", "gasoline", "diesel", "water", "mains power", "battery power", "solar power",
        "genset",
    ] = Field(description="What it shuts off")  # fmt: skip
    x: Length = Field(description="East of the map's west edge")
    y: Length = Field(description="North of the map's south edge")
    where: Line | None = Field(None, description="Where to look for it, in words")
    how: Text | None = Field(None, description="How to shut it; `how_to_stop` if left out")


class Place(Owned):
    """`homestead.yaml`: the place, its people and how the manual is printed."""

    name: Line = Field(description="Name of the place; the title of the manual")
    where: Line = Field(description="Where it is, in words")
    directions: Text | None = Field(None, description="How to find it, for an ambulance or a truck")
    latitude: Latitude = Field(description="Degrees north")
    longitude: Longitude = Field(description="Degrees east; west is negative")
    elevation: Elevation = Field(
        description="Height above sea level; engines and exhaust are worked out for it"
    )
    coldest: Temperature | None = Field(None, description="Winter design temperature")
    hottest: Temperature | None = Field(None, description="Summer design temperature")
    units: Literal["us", "metric"] = Field(
        "us", description="Which system comes first on the pages; the other stands in brackets"
    )
    paper: Literal["letter", "a4"] = Field("letter", description="Paper of the binder")
    people: dict[Name, Person] = Field(
        default_factory=dict, description="People to call, each under a short name of your own"
    )
    call_first: list[Name] = Field(default_factory=list, description="Whom to call, in this order")
    emergency: Line | None = Field(None, description="Emergency number, such as 911")
    road_closed: Closure | None = Field(None, description="When no delivery can be counted on")
    due_soon: Calendar = Field(
        default="60 days", validate_default=True, description="What counts as coming up"
    )
    orders_together: Calendar = Field(
        default="8 weeks",
        validate_default=True,
        description="What falls due so soon after a supplier's next order goes along with it",
    )
    visit_days: Whole = Field(
        default=21, description="Tasks that fall within so many days are done in one visit"
    )
    walk: list[Line] = Field(
        default_factory=list,
        description="Places in the order of the round; equipment joins by the words of its place",
    )
    weekend_hours: Hours = Field(
        default="4 h", validate_default=True, description="For planned jobs on a weekend"
    )
    month_means: dict[household.Month, Temperature] = Field(
        default_factory=dict, description="Mean air temperature of each month, day and night"
    )
    map: dict[Line, Outline] = Field(
        default_factory=dict, description="Buildings seen from above, for the map of shut-offs"
    )
    never_touch: list[Line] = Field(
        default_factory=list, description="What a sitter leaves alone, whatever happens"
    )
    grab_list: list[Line] = Field(
        default_factory=list, description="What goes along when everybody must leave"
    )


# --- machines and their tasks ---------------------------------------------------------------


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


class TankPlate(Model):
    """Data plate of a fuel or water tank."""

    contents: (
        Literal["propane", "gasoline", "gasoline E10", "diesel", "kerosene", "water"] | None
    ) = Field(None, description="What is in it")
    capacity: Volume | None = Field(None, description="Water capacity")
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


# --- fuel, exhaust and air ------------------------------------------------------------------

SteelPipe = Literal["1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "4"]


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


class Load(Machine):
    """Something that uses power or fuel: a chiller, a pump, a heater."""

    kind: Literal["load"]
    plate: LoadPlate = Field(default_factory=LoadPlate, description="What its data plate says")
    fed_by: Name | None = Field(None, description="The tank that feeds it")
    use: list[FuelUse] = Field(default_factory=list, description="How long it burns in a day")
    heating: Heating | None = Field(None, description="For a heater: its fuel by the weather")


class Other(Machine):
    """Any other equipment: a charge controller, a regulator, an alarm, a structure."""

    kind: Literal["other"]
    plate: dict[Line, Line] = Field(default_factory=dict, description="What its data plate says")


# --- water, heat, waste, safety, structure --------------------------------------------------


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


# --- storekeeping ---------------------------------------------------------------------------


class Supplier(Owned):
    """Somebody who sells parts or fuel."""

    name: Line = Field(description="Name of the shop or person")
    sells: Line | None = Field(None, description="What is bought there")
    phone: Line | None = Field(None, description="Telephone number")
    email: Line | None = Field(None, description="Mail address")
    address: Line | None = Field(None, description="Where to write or drive to")
    lead_time: Calendar = Field(description="From order to receipt, as promised")


class Suppliers(Model):
    """`suppliers.yaml`."""

    suppliers: dict[Name, Supplier] = Field(description="Each supplier under a short name")


class Part(Owned):
    """Something kept on the shelf for the tasks."""

    name: Line = Field(description="What it is, as on the shelf's label")
    number: Line | None = Field(None, description="Part number")
    supplier: Name = Field(description="Who sells it, by its name in suppliers.yaml")
    alternatives: list[Line] = Field(
        default_factory=list, description="Other part numbers that fit"
    )
    on_hand: Amount = Field(description="How much was counted")
    counted: Date = Field(description="When it was counted")
    kept: Line | None = Field(None, description="Where it is kept")
    pack: Amount | None = Field(None, description="How much is in a package")


class Parts(Model):
    """`parts.yaml`."""

    parts: dict[Name, Part] = Field(description="Each part under a short name")


# --- the log --------------------------------------------------------------------------------


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


FILES: dict[str, Any] = {
    "homestead": Place,
    "suppliers": Suppliers,
    "parts": Parts,
    "system": System,
    "log": LogYear,
}
