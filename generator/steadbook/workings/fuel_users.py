"""Who draws from a tank, and how much on each day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from steadbook.errors import OutOfRange
from steadbook.figures import consumption, fuel, propane
from steadbook.figures.consumption import LoadLine
from steadbook.figures.schedule import Season
from steadbook.inventory.fields import MONTHS
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Genset, Heating, Load, Tank
from steadbook.units import Quantity
from steadbook.workings.tasks import Running

User = Genset | Load
Days = NDArray[np.float64]
APPLIANCE_DOUBT = 1.2
"""Factor by which the owner's word on an appliance's hours may be off; common practice, no source."""


@dataclass(frozen=True)
class Draw:
    """Litres used up to the end of each day by one user: as expected, heavily, lightly."""

    user: User
    expected: Days
    heavy: Days
    light: Days


def fuel_tanks(homestead: Homestead) -> list[Tank]:
    """The tanks that hold fuel and say which."""
    machines = homestead.machines.values()
    return [one for one in machines if isinstance(one, Tank) and one.holds_fuel]


def users(homestead: Homestead, tank: Tank) -> list[User]:
    """The machines a tank feeds: as either side says, else the only tank of a genset's fuel."""
    return [
        one
        for one in homestead.machines.values()
        if isinstance(one, Genset | Load) and tank_of(homestead, one) is tank
    ]


def tank_of(homestead: Homestead, machine: User) -> Tank | None:
    """The tank that feeds a machine."""
    tanks = fuel_tanks(homestead)
    named = [one for one in tanks if machine.fed_by == one.id or machine.id in one.feeds]
    if named:
        return named[0]
    if isinstance(machine, Genset) and machine.plate.fuel and not machine.fed_by:
        same = [one for one in tanks if (one.plate.contents or "").startswith(machine.plate.fuel)]
        return same[0] if len(same) == 1 else None
    return None


def heat_of(tank: Tank) -> float:
    """Higher heat of a litre of what a tank holds. [MJ/L]"""
    assert tank.plate.contents is not None
    return fuel.heating_value(tank.plate.contents)


def litres_an_hour(rate: Quantity, contents: str) -> float | None:
    """A fuel rate in L/h; one by mass only for propane, whose density is known here."""
    if rate.unit in ("lb/h", "kg/h"):
        if contents != "propane":
            return None
        density = float(propane.liquid_density(propane.REFERENCE_TEMPERATURE))
        return rate.to("kg/h") / density * 1000
    return rate.to("L/h")


def load_line(genset: Genset) -> LoadLine | None:
    """Fuel against load from the two points of the data plate; None where it has not both."""
    plate = genset.plate
    half, full = plate.fuel_at_half_load, plate.fuel_at_full_load
    if plate.power is None or half is None or full is None or plate.fuel is None:
        return None
    low, high = litres_an_hour(half, plate.fuel), litres_an_hour(full, plate.fuel)
    if low is None or high is None:
        return None
    try:
        return consumption.load_line(plate.power.to("kW"), low, high)
    except OutOfRange:  # `check` warns of such points
        return None


def typical_load(genset: Genset) -> float | None:
    """Load a genset usually carries: as the owner says, else half its power. [kW]"""
    power = genset.plate.power
    if power is None:
        return None
    rating = power.to("kW")
    return min(genset.typical_load.to("kW"), rating) if genset.typical_load else rating / 2


def typical_rate(genset: Genset) -> float | None:
    """Fuel of an hour at the load it usually carries. [L/h]"""
    line, load = load_line(genset), typical_load(genset)
    if line is None or load is None:
        return None
    return float(consumption.line_burn_rate(load, *line))


def full_demand(user: User, heat: float) -> float | None:
    """Gross heat of the fuel a user takes at its most. [kW]"""
    if isinstance(user, Load):
        return user.plate.input.to("kW") if user.plate.input else None
    line = load_line(user)
    if line is None:
        return None
    return float(consumption.line_burn_rate(line.rating, *line)) * heat / consumption.MEGAJOULE


def genset_draw(genset: Genset, running: Running | None, days: Sequence[date]) -> Draw | None:
    """What a genset uses up to the end of each of the days, by its forecast hours."""
    rate = typical_rate(genset)
    if rate is None or running is None or running.forecast is None or running.rate is None:
        return None
    forecast = running.forecast
    begin = forecast.hours_on(days[0])
    hours = np.array([forecast.hours_on(day + timedelta(days=1)) - begin for day in days])
    doubt = np.array([running.rate.doubt(float(one)) for one in hours])
    return Draw(genset, hours * rate, hours * rate * doubt, hours * rate / doubt)


def load_draw(homestead: Homestead, load: Load, heat: float, days: Sequence[date]) -> Draw | None:
    """What an appliance uses up to the end of each of the days, by its hours or the weather."""
    daily = np.zeros(len(days))
    known = False
    if load.plate.input is not None and load.use:
        known = True
        daily += appliance_daily(load, heat, days)
    if load.heating is not None:
        by_weather = heating_daily(homestead, load.heating, heat, days)
        if by_weather is not None:
            known = True
            daily += by_weather
    if not known:
        return None
    total = np.cumsum(daily)
    return Draw(load, total, total * APPLIANCE_DOUBT, total / APPLIANCE_DOUBT)


def appliance_daily(load: Load, heat: float, days: Sequence[date]) -> Days:
    """Fuel of each day by the hours the owner wrote. [L]"""
    assert load.plate.input is not None
    rating = load.plate.input.to("kW")
    found = np.zeros(len(days))
    for use in load.use:
        season = Season(use.season.first, use.season.last) if use.season else None
        amount = float(
            consumption.appliance_use(rating, use.hours.to("h"), use.duty.to("%") / 100, heat)
        )
        found += [amount if season is None or season.holds(day) else 0.0 for day in days]
    return found


def heating_daily(
    homestead: Homestead, heating: Heating, heat: float, days: Sequence[date]
) -> Days | None:
    """Fuel of each day by degree days of its month; None without a table of months."""
    climate, coldest = homestead.climate, homestead.place.coldest
    if climate is None or coldest is None:
        return None
    base = 55.0 / 3.0  # degC; 65 F
    loss = heating.loss.to("W") / (base - coldest.to("degC"))
    monthly = []
    for month in MONTHS:
        air = climate.months[month].air.to("degC")  # type: ignore[index]
        degrees = float(consumption.degree_days(air, base))
        litres = consumption.heating_use(degrees, loss, heating.efficiency.to("%") / 100, heat)
        monthly.append(float(litres) * heating.share.to("%") / 100)
    return np.array([monthly[day.month - 1] for day in days])


def draws(
    homestead: Homestead, tank: Tank, meters: dict[str, Running], days: Sequence[date]
) -> list[Draw]:
    """What each user of a tank is expected to take; a spare genset stands still."""
    found = []
    heat = heat_of(tank)
    for user in users(homestead, tank):
        if isinstance(user, Load):
            draw = load_draw(homestead, user, heat, days)
        elif user.spare:
            draw = None
        else:
            draw = genset_draw(user, meters.get(user.id), days)
        if draw is not None:
            found.append(draw)
    return found
