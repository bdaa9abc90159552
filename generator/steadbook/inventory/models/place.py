"""The place and its people: `homestead.yaml`."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from steadbook.inventory.fields import (
    Calendar,
    Elevation,
    Hours,
    Latitude,
    Length,
    Line,
    Longitude,
    Month,
    Name,
    SeasonOfYear,
    Temperature,
    Text,
    Whole,
)
from steadbook.inventory.models.base import Model, Owned


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
    month_means: dict[Month, Temperature] = Field(
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
