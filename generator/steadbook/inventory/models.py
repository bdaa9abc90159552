"""What an inventory holds: one class an object, one field a key.

The docstrings and field titles here are the reference of every key: the JSON Schema and the
documentation are made from them.
"""

from __future__ import annotations

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

    to: Literal["sitter", "technician"]
    first_day: Date
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
    private: Private | None = None


# --- the place and its people ---------------------------------------------------------------


class Person(Owned):
    """Somebody to call."""

    name: Line
    role: Line = Field(description="What this person is to the place")
    phone: Line | None = None
    hours: Line | None = Field(None, description="When to call")


class Closure(Model):
    """When the road cannot be counted on for deliveries."""

    season: SeasonOfYear
    reason: Line


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
    ]  # fmt: skip
    x: Length = Field(description="East of the map's west edge")
    y: Length = Field(description="North of the map's south edge")
    where: Line | None = Field(None, description="Where to look for it, in words")
    how: Text | None = Field(None, description="How to shut it; `how_to_stop` if left out")


class Place(Owned):
    """`homestead.yaml`: the place, its people and how the manual is printed."""

    name: Line
    where: Line = Field(description="Where it is, in words")
    directions: Text | None = Field(None, description="How to find it, for an ambulance or a truck")
    latitude: Latitude = Field(description="Degrees north")
    longitude: Longitude = Field(description="Degrees east; west is negative")
    elevation: Elevation
    coldest: Temperature | None = Field(None, description="Winter design temperature")
    hottest: Temperature | None = Field(None, description="Summer design temperature")
    units: Literal["us", "metric"] = "us"
    paper: Literal["letter", "a4"] = "letter"
    people: dict[Name, Person] = Field(default_factory=dict)
    call_first: list[Name] = Field(default_factory=list, description="Whom to call, in this order")
    emergency: Line | None = Field(None, description="Emergency number, such as 911")
    road_closed: Closure | None = None
    due_soon: Calendar = Field(
        default="60 days", validate_default=True, description="What counts as coming up"
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

    torque: Torque | None = None
    thread: Line | None = Field(None, description="Thread, such as M14x1.5 or 14 mm gasket")
    grade: Line | None = Field(None, description="Bolt grade, such as 8.8 or grade 5")
    gap: Gap | None = None
    lash: Gap | None = None
    engine: Literal["cold", "warm"] | None = Field(None, description="Engine state when measured")
    fluid: Line | None = Field(None, description="Fluid by class and grade")
    capacity: Volume | None = None
    pressure: Pressure | None = None
    voltage: Voltage | None = None
    current: Current | None = None
    temperature: Temperature | None = None
    length: Length | None = None
    speed: Speed | None = None
    gravity: SpecificGravity | None = None
    value: Line | None = Field(None, description="Anything else, in words")


class Task(Owned):
    """A job that comes back: its interval, what it takes and where it is told."""

    title: Line
    every: Interval = Field(description="Hours, calendar or both; whichever comes first")
    first: Interval | None = Field(None, description="First (break-in) interval")
    season: SeasonOfYear | None = Field(None, description="When in the year it is done")
    parts: dict[Name, Amount] = Field(default_factory=dict)
    tools: list[Line] = Field(default_factory=list)
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
    speed: Speed | None = None
    fuel: Literal["propane", "gasoline", "diesel", "natural gas"] | None = None
    fuel_at_half_load: FuelRate | None = None
    fuel_at_full_load: FuelRate | None = None
    displacement: Displacement | None = Field(None, description="Of all cylinders together")
    cylinders: Whole | None = None
    cooling: Literal["air", "liquid"] | None = None
    exhaust_limit: Pressure | None = Field(None, description="Highest back pressure allowed")
    rated_elevation: Elevation | None = Field(
        None, description="Elevation up to which the rating holds"
    )
    rated_temperature: Temperature | None = None
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

    chemistry: Literal["flooded", "AGM", "gel", "LFP"] | None = None
    voltage: Voltage | None = Field(None, description="Nominal voltage of the bank")
    capacity: Charge | None = Field(None, description="Capacity of the bank, 20 h rate")
    strings: Whole | None = None
    cells_in_series: Whole | None = None
    absorption: Voltage | None = None
    float: Voltage | None = None
    equalise: Voltage | None = None
    full_gravity: SpecificGravity | None = None
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
    surge: Power | None = None
    charge_current: Current | None = Field(None, description="Largest charge current")
    voltage: Line | None = None


class ArrayPlate(Model):
    """Data plate of a solar array."""

    power: Power | None = Field(None, description="Power at standard test conditions")
    tilt: Angle | None = Field(None, description="From horizontal")
    azimuth: Angle | None = Field(None, description="From north, eastward")
    modules: Whole | None = None


class TankPlate(Model):
    """Data plate of a fuel or water tank."""

    contents: (
        Literal["propane", "gasoline", "gasoline E10", "diesel", "kerosene", "water"] | None
    ) = None
    capacity: Volume | None = Field(None, description="Water capacity")
    count: Whole = Field(
        default=1, description="Like tanks or cylinders on one manifold; the sizes are of one"
    )
    diameter: Length | None = None
    length: Length | None = None
    reserve: Percent | None = Field(None, description="Level kept in reserve")
    order_at: Percent | None = Field(None, description="Level at which fuel is ordered")
    daily_use: Volume | None = Field(None, description="Of a cistern: water drawn on a usual day")


class LoadPlate(Model):
    """Data plate of something that uses power or fuel."""

    power: Power | None = None
    starting: Power | None = Field(None, description="Starting surge")
    input: HeatRate | None = Field(None, description="Fuel input")
    voltage: Line | None = None


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
    silencer: Pressure | None = Field(None, description="Back pressure of the silencer, its maker's")
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

    name: Line
    saves: Hours = Field(description="Genset hours it saves in a year")
    life: Calendar | None = Field(None, description="How long it lasts, such as 12 years")


class Machine(Owned):
    """What every machine of the place has, whatever its kind."""

    name: Line
    place: Line | None = Field(None, description="Where it stands")
    make: Line | None = None
    model: Line | None = None
    serial: Line | None = Field(None, description="Serial number; put it under private to hide it")
    made: Date | None = Field(None, description="Date of manufacture")
    installed: Date | None = Field(None, description="Date it came into service here")
    bought_used: YesNo = False
    spare: YesNo = Field(False, description="A spare, used only when the main one is down")
    lasts: Calendar | None = Field(None, description="How long one lasts here, such as 12 years")
    meter: Meter | None = Field(None, description="Present where the machine has an hour meter")
    specs: dict[Line, Spec] = Field(default_factory=dict)
    tasks: dict[Name, Task] = Field(default_factory=dict)
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
    ] = Field(default_factory=list)

    _id: str = PrivateAttr("")
    _system: str = PrivateAttr("")

    @property
    def id(self) -> str:
        """The key under which the machine stands in its file."""
        return self._id

    @property
    def system(self) -> str:
        """The file it stands in, without `.yaml`: power, fuel, water, ..."""
        return self._system


class Genset(Machine):
    """An engine-driven machine that makes electricity."""

    kind: Literal["genset"]
    plate: GensetPlate = Field(default_factory=GensetPlate)
    fed_by: Name | None = Field(None, description="The tank that feeds it")
    typical_load: Power | None = Field(
        None, description="Load it usually carries; half its power if left out"
    )
    house_load: Power | None = Field(
        None, description="Of that, what house and farm draw while it charges the bank"
    )
    exhaust: ExhaustPipe | None = None
    shed: GensetShed | None = None
    alternatives: dict[Name, Alternative] = Field(
        default_factory=dict, description="What would save its hours, to compare the cost"
    )


class BatteryBank(Machine):
    """The batteries that carry the house."""

    kind: Literal["battery bank"]
    plate: BatteryPlate = Field(default_factory=BatteryPlate)


class Inverter(Machine):
    """An inverter, or an inverter-charger."""

    kind: Literal["inverter"]
    plate: InverterPlate = Field(default_factory=InverterPlate)
    charge_limit: Current | None = Field(
        None, description="Charge current from the genset to which it is set"
    )


class Array(Machine):
    """A solar array of one aim."""

    kind: Literal["array"]
    plate: ArrayPlate = Field(default_factory=ArrayPlate)


class Tank(Machine):
    """A tank for fuel or water."""

    kind: Literal["tank"]
    plate: TankPlate = Field(default_factory=TankPlate)
    feeds: list[Name] = Field(default_factory=list, description="What it feeds")
    supplier: Name | None = Field(None, description="Who fills it")
    stabilizer: YesNo = Field(False, description="Whether fuel stabilizer goes in when filled")
    lines: dict[Name, GasLine] = Field(default_factory=dict)


class Load(Machine):
    """Something that uses power or fuel: a chiller, a pump, a heater."""

    kind: Literal["load"]
    plate: LoadPlate = Field(default_factory=LoadPlate)
    fed_by: Name | None = Field(None, description="The tank that feeds it")
    use: list[FuelUse] = Field(default_factory=list, description="How long it burns in a day")
    heating: Heating | None = Field(None, description="For a heater: its fuel by the weather")


class Other(Machine):
    """Any other equipment: a charge controller, a regulator, an alarm, a structure."""

    kind: Literal["other"]
    plate: dict[Line, Line] = Field(default_factory=dict)


# --- water, heat, waste, safety, structure --------------------------------------------------


class WellPump(Machine):
    """A well with its pump."""

    kind: Literal["well pump"]
    plate: household.WellPumpPlate = Field(default_factory=household.WellPumpPlate)


class PressureTank(Machine):
    """A pressure tank."""

    kind: Literal["pressure tank"]
    plate: household.PressureTankPlate = Field(default_factory=household.PressureTankPlate)


class WaterLine(Machine):
    """A water line, buried or not."""

    kind: Literal["water line"]
    plate: household.WaterLinePlate = Field(default_factory=household.WaterLinePlate)


class UvLamp(Machine):
    """An ultraviolet lamp for drinking water."""

    kind: Literal["uv lamp"]
    plate: household.UvLampPlate = Field(default_factory=household.UvLampPlate)


class WaterFilter(Machine):
    """A water filter with a cartridge."""

    kind: Literal["water filter"]
    plate: household.WaterFilterPlate = Field(default_factory=household.WaterFilterPlate)


class House(Machine):
    """A heated house."""

    kind: Literal["house"]
    plate: household.HousePlate = Field(default_factory=household.HousePlate)


class Stove(Machine):
    """A wood stove."""

    kind: Literal["stove"]
    plate: household.StovePlate = Field(default_factory=household.StovePlate)


class Chimney(Machine):
    """A chimney."""

    kind: Literal["chimney"]
    plate: household.ChimneyPlate = Field(default_factory=household.ChimneyPlate)


class SepticTank(Machine):
    """A septic tank with its drain field."""

    kind: Literal["septic tank"]
    plate: household.SepticPlate = Field(default_factory=household.SepticPlate)


class Extinguishers(Machine):
    """The fire extinguishers."""

    kind: Literal["extinguishers"]
    plate: household.ExtinguishersPlate = Field(default_factory=household.ExtinguishersPlate)


class Alarms(Machine):
    """Alarms that sense smoke, carbon monoxide or propane."""

    kind: Literal["alarms"]
    plate: household.AlarmsPlate


class Regulator(Machine):
    """A propane regulator."""

    kind: Literal["regulator"]
    plate: household.RegulatorPlate = Field(default_factory=household.RegulatorPlate)


class Cylinders(Machine):
    """Portable propane cylinders."""

    kind: Literal["cylinders"]
    plate: household.CylindersPlate = Field(default_factory=household.CylindersPlate)


class StoredWater(Machine):
    """Drinking water for an emergency."""

    kind: Literal["stored water"]
    plate: household.StoredWaterPlate = Field(default_factory=household.StoredWaterPlate)


class DatedStores(Machine):
    """First aid, food, batteries: what runs out of date."""

    kind: Literal["dated stores"]
    plate: household.DatedStoresPlate = Field(default_factory=household.DatedStoresPlate)


class Roof(Machine):
    """A roof under snow."""

    kind: Literal["roof"]
    plate: household.RoofPlate = Field(default_factory=household.RoofPlate)


class Building(Machine):
    """A building with its ground and the distances to keep there."""

    kind: Literal["building"]
    plate: household.BuildingPlate = Field(default_factory=household.BuildingPlate)


class SmallEngine(Machine):
    """A saw, blower, mower, tractor: an engine that does not make electricity."""

    kind: Literal["small engine"]
    plate: household.SmallEnginePlate = Field(default_factory=household.SmallEnginePlate)


class FuelCans(Machine):
    """Cans of fuel, each with the day it was filled."""

    kind: Literal["fuel cans"]
    plate: household.FuelCansPlate = Field(default_factory=household.FuelCansPlate)


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

    title: Line
    summary: Text | None = Field(None, description="What the system does, in a few sentences")
    equipment: dict[Name, AnyMachine]


# --- storekeeping ---------------------------------------------------------------------------


class Supplier(Owned):
    """Somebody who sells parts or fuel."""

    name: Line
    sells: Line | None = None
    phone: Line | None = None
    email: Line | None = None
    address: Line | None = None
    lead_time: Calendar = Field(description="From order to receipt, as promised")


class Suppliers(Model):
    """`suppliers.yaml`."""

    suppliers: dict[Name, Supplier]


class Part(Owned):
    """Something kept on the shelf for the tasks."""

    name: Line
    number: Line | None = Field(None, description="Part number")
    supplier: Name
    alternatives: list[Line] = Field(default_factory=list)
    on_hand: Amount = Field(description="How much was counted")
    counted: Date = Field(description="When it was counted")
    kept: Line | None = Field(None, description="Where it is kept")
    pack: Amount | None = Field(None, description="How much is in a package")


class Parts(Model):
    """`parts.yaml`."""

    parts: dict[Name, Part]


# --- the log --------------------------------------------------------------------------------


class Reading(Owned):
    """An hour-meter reading; with `old_meter` it is the first of a new meter."""

    date: Date
    machine: Name
    hours: Hours
    old_meter: Hours | None = Field(
        None, description="Last reading of the meter that this one replaced"
    )


class Service(Owned):
    """Work done on a machine."""

    date: Date
    machine: Name
    tasks: list[Name]
    hours: Hours | None = Field(None, description="Meter reading at the service")
    parts: dict[Name, Amount] = Field(default_factory=dict)
    by: Line | None = None


class Run(Owned):
    """A run of a machine: how long, and under what load where it was read."""

    date: Date
    machine: Name
    duration: Duration = Field(description="How long it ran, such as 2.5 h")
    load: Power | None = None


class Count(Owned):
    """Stock-take of a part: what was on the shelf at the end of the day."""

    date: Date
    part: Name
    amount: Amount


class Level(Owned):
    """A tank gauge reading."""

    date: Date
    tank: Name
    level: Percent
    temperature: Temperature | None = Field(
        None, description="Of the liquid; after a steady day that of the air"
    )


class Delivery(Owned):
    """Fuel delivered into a tank."""

    date: Date
    tank: Name
    amount: Volume
    before: Percent | None = Field(None, description="Gauge before")
    after: Percent | None = Field(None, description="Gauge after")
    supplier: Name | None = None


class Order(Owned):
    """Parts ordered from a supplier."""

    date: Date
    supplier: Name
    parts: dict[Name, Amount]
    promised: Date | None = None
    back_order_until: Date | None = Field(
        None, description="The supplier is out; expects to have it by this date"
    )
    received: Date | None = None


class Measurement(Owned):
    """A value measured on a machine, to be compared with a spec or watched over time."""

    date: Date
    machine: Name
    spec: Line
    value: Line


class Event(Owned):
    """Anything else worth keeping: a fault, a storm, a repair."""

    date: Date
    machine: Name | None = None
    text: Text


class LogYear(Model):
    """`log/YYYY.yaml`: what happened in a year."""

    readings: list[Reading] = Field(default_factory=list)
    services: list[Service] = Field(default_factory=list)
    runs: list[Run] = Field(default_factory=list)
    levels: list[Level] = Field(default_factory=list)
    deliveries: list[Delivery] = Field(default_factory=list)
    orders: list[Order] = Field(default_factory=list)
    counts: list[Count] = Field(default_factory=list)
    measurements: list[Measurement] = Field(default_factory=list)
    events: list[Event] = Field(default_factory=list)

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
