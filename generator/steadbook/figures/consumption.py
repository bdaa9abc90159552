"""Fuel used by a genset, by appliances and by heating."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import Number

MEGAJOULE = 3.6  # MJ in a kWh


class LoadLine(NamedTuple):
    """Straight line of fuel against load; unpack it into `line_burn_rate`."""

    no_load_rate: float  # L/h
    rate_per_kilowatt: float  # L/kWh
    rating: float  # kW


@units(rating="kW", half_load_rate="L/h", full_load_rate="L/h", returns="L/h, L/kWh, kW")
def load_line(rating: float, half_load_rate: float, full_load_rate: float) -> LoadLine:
    """Line of fuel against load through the two points a data sheet gives.

    Good between the points; below half load a fixed-speed set tends to use more than the line
    says, and an inverter set that slows down does not follow one line.

    Parameters
    ----------
    rating : float
        Rated electrical power; > 0. [kW]
    half_load_rate : float
        Fuel in an hour at half of it; > 0. [L/h]
    full_load_rate : float
        Fuel in an hour at all of it; between once and twice the half-load rate. [L/h]

    Returns
    -------
    LoadLine
        Fuel at no load, fuel for each kWh above that, and the rating. [L/h, L/kWh, kW]

    Raises
    ------
    OutOfRange
        No rating, or two points no engine of steady speed can have.

    Examples
    --------
    >>> load_line(10.0, 3.6, 5.7)
    LoadLine(no_load_rate=1.5, rate_per_kilowatt=0.42, rating=10.0)

    Source: Willans line, engine textbooks; two points make a line.
    """
    require(rating > 0, "genset rating", rating, "kW", "more than 0")
    require(half_load_rate > 0, "fuel at half load", half_load_rate, "L/h", "more than 0")
    require(
        half_load_rate < full_load_rate <= 2 * half_load_rate,
        "fuel at full load",
        full_load_rate,
        "L/h",
        f"more than the half-load rate, at most twice it ({2 * half_load_rate:g})",
    )
    slope = (full_load_rate - half_load_rate) / (rating / 2)
    return LoadLine(2 * half_load_rate - full_load_rate, slope, rating)


@units(load="kW", no_load_rate="L/h", rate_per_kilowatt="L/kWh", rating="kW", returns="L/h")
def line_burn_rate(
    load: Number, no_load_rate: Number, rate_per_kilowatt: Number, rating: Number
) -> Any:
    """Fuel a running genset uses in an hour, from its load line.

    Parameters
    ----------
    load : float or array, shape (n,)
        Electrical load, 0 to the rating. [kW]
    no_load_rate : float or array
        Fuel in an hour when running without load; >= 0. [L/h]
    rate_per_kilowatt : float or array
        Fuel for each kWh; > 0. [L/kWh]
    rating : float or array
        Rated electrical power. [kW]

    Returns
    -------
    float or array, shape (n,)
        Fuel in an hour. [L/h]

    Raises
    ------
    OutOfRange
        A load below 0 or above the rating.

    Examples
    --------
    >>> line_burn_rate(5.0, *load_line(10.0, 3.6, 5.7))
    3.6

    Source: Willans line, engine textbooks.
    """
    require(no_load_rate >= 0, "fuel at no load", no_load_rate, "L/h", "0 or more")
    require(rate_per_kilowatt > 0, "fuel for a kWh", rate_per_kilowatt, "L/kWh", "more than 0")
    require(
        (load >= 0) & (load <= rating),
        "genset load",
        load,
        "kW",
        f"from 0 to the rating of {np.max(rating):g}",
    )
    return no_load_rate + rate_per_kilowatt * load


@units(load="kW", efficiency="", heating_value="MJ/L", returns="L/h")
def burn_rate(load: Number, efficiency: Number, heating_value: Number) -> Any:
    """Fuel used in an hour, from the efficiency.

    Parameters
    ----------
    load : float or array, shape (n,)
        Power given; >= 0. [kW]
    efficiency : float or array
        Power given over heat of the fuel, above 0 and below 1.
    heating_value : float or array
        Heat in a litre, on the same basis (higher or lower) as the efficiency; > 0. [MJ/L]

    Returns
    -------
    float or array, shape (n,)
        Fuel in an hour. [L/h]

    Raises
    ------
    OutOfRange
        Negative load, an efficiency outside 0 to 1, no heat.

    Examples
    --------
    >>> round(burn_rate(5.0, 0.22, 25.5), 2)
    3.21

    Source: definition.
    """
    require(load >= 0, "load", load, "kW", "0 or more")
    require((efficiency > 0) & (efficiency < 1), "efficiency", efficiency, "", "above 0, below 1")
    require(heating_value > 0, "heating value", heating_value, "MJ/L", "more than 0")
    return load * MEGAJOULE / (efficiency * heating_value)


@units(load="kW", burn_rate="L/h", heating_value="MJ/L", returns="")
def efficiency(load: Number, burn_rate: Number, heating_value: Number) -> Any:
    """Share of the fuel's heat that becomes power.

    Parameters
    ----------
    load : float or array, shape (n,)
        Power given; >= 0. [kW]
    burn_rate : float or array, shape (n,)
        Fuel in an hour; > 0. [L/h]
    heating_value : float or array
        Heat in a litre; > 0. [MJ/L]

    Returns
    -------
    float or array, shape (n,)
        Efficiency on the basis of the heating value.

    Raises
    ------
    OutOfRange
        Negative load, no fuel, or more power than the fuel has heat.

    Examples
    --------
    >>> round(efficiency(10.0, 5.7, 25.5), 3)
    0.248

    Source: definition.
    """
    require(load >= 0, "load", load, "kW", "0 or more")
    require(burn_rate > 0, "burn rate", burn_rate, "L/h", "more than 0")
    require(heating_value > 0, "heating value", heating_value, "MJ/L", "more than 0")
    share = load * MEGAJOULE / (burn_rate * heating_value)
    require(share < 1, "efficiency", share, "", "below 1: load, fuel and heat do not fit")
    return share


@units(usable_fuel="L", burn_rate="L/h", returns="h")
def runtime(usable_fuel: Number, burn_rate: Number) -> Any:
    """Hours a genset can run on the fuel at hand.

    Parameters
    ----------
    usable_fuel : float or array, shape (n,)
        Fuel above the reserve mark; >= 0. [L]
    burn_rate : float or array, shape (n,)
        Fuel in an hour at this load; > 0. [L/h]

    Returns
    -------
    float or array, shape (n,)
        Running time at steady load; cold starts and ageing not included. [h]

    Raises
    ------
    OutOfRange
        Negative fuel, or a burn rate of zero or less.

    Examples
    --------
    >>> runtime(756.0, 4.5)
    168.0

    Source: definition.
    """
    require(usable_fuel >= 0, "usable fuel", usable_fuel, "L", "0 or more")
    require(burn_rate > 0, "burn rate", burn_rate, "L/h", "more than 0")
    return usable_fuel / burn_rate


@units(usable_fuel="L", daily_use="L/d", returns="d")
def days_left(usable_fuel: Number, daily_use: Number) -> Any:
    """Days until the reserve mark at a steady use.

    Parameters
    ----------
    usable_fuel : float or array, shape (n,)
        Fuel above the reserve mark; >= 0. [L]
    daily_use : float or array, shape (n,)
        Fuel in a day, all users together; > 0. [L/d]

    Returns
    -------
    float or array, shape (n,)
        Days; the forecast of `reserve` knows the seasons, this does not. [d]

    Raises
    ------
    OutOfRange
        Negative fuel, or a use of zero or less.

    Examples
    --------
    >>> days_left(1200.0, 8.0)
    150.0

    Source: definition.
    """
    require(usable_fuel >= 0, "usable fuel", usable_fuel, "L", "0 or more")
    require(daily_use > 0, "daily use", daily_use, "L/d", "more than 0")
    return usable_fuel / daily_use


@units(rating="kW", hours="h/d", duty="", heating_value="MJ/L", returns="L/d")
def appliance_use(rating: Number, hours: Number, duty: Number, heating_value: Number) -> Any:
    """Fuel an appliance uses in a day.

    Parameters
    ----------
    rating : float or array, shape (n,)
        Input rating of its data plate (gross heat of the gas); >= 0. [kW]
    hours : float or array, shape (n,)
        Hours in a day it is on, 0 to 24. [h/d]
    duty : float or array, shape (n,)
        Share of that time its burner burns, 0 to 1.
    heating_value : float or array
        Higher heat in a litre; > 0. [MJ/L]

    Returns
    -------
    float or array, shape (n,)
        Fuel in a day. [L/d]

    Raises
    ------
    OutOfRange
        A negative rating, more than 24 h, a duty outside 0 to 1.

    Examples
    --------
    >>> round(appliance_use(10.0, 2.0, 0.5, 25.5), 2)
    1.41

    Source: definition.
    """
    require(rating >= 0, "appliance rating", rating, "kW", "0 or more")
    require((hours >= 0) & (hours <= 24), "hours in a day", hours, "h/d", "from 0 to 24")
    require((duty >= 0) & (duty <= 1), "duty", duty, "", "from 0 to 1")
    require(heating_value > 0, "heating value", heating_value, "MJ/L", "more than 0")
    return rating * hours * duty * MEGAJOULE / heating_value


@units(mean_temperature="degC", base="degC", returns="K*d")
def degree_days(mean_temperature: Number, base: Number = 55.0 / 3.0) -> Any:
    """Heating degree days of one day.

    Parameters
    ----------
    mean_temperature : float or array, shape (days,)
        Mean outdoor temperature of the day. [degC]
    base : float or array
        Outdoor temperature above which the house needs no heat; 65 F unless said. [degC]

    Returns
    -------
    float or array, shape (days,)
        Degree days; times 1.8 for those in F. [K*d]

    Raises
    ------
    OutOfRange
        A mean temperature below -90 or above 60 degC.

    Examples
    --------
    >>> round(float(degree_days(-1.6667)), 4)      # 29 F: 36 degree days in F
    20.0

    Source: definition; base of 65 F as in US climate records.
    """
    require(
        (mean_temperature >= -90) & (mean_temperature <= 60),
        "mean temperature",
        mean_temperature,
        "degC",
        "from -90 to 60",
    )
    return np.maximum(np.subtract(base, mean_temperature), 0.0)


@units(degree_days="K*d", heat_loss="W/K", efficiency="", heating_value="MJ/L", returns="L")
def heating_use(
    degree_days: Number, heat_loss: Number, efficiency: Number, heating_value: Number
) -> Any:
    """Fuel to heat a house over some degree days.

    Parameters
    ----------
    degree_days : float or array, shape (days,)
        Heating degree days; >= 0. [K*d]
    heat_loss : float or array
        Heat the house loses for each degree between inside and outside; >= 0. [W/K]
    efficiency : float or array
        Share of the fuel's heat the heater leaves in the house, above 0 and at most 1.
    heating_value : float or array
        Heat in a litre, on the basis of the efficiency; > 0. [MJ/L]

    Returns
    -------
    float or array, shape (days,)
        Fuel. [L]

    Raises
    ------
    OutOfRange
        Negative degree days or loss, an efficiency outside 0 to 1.

    Examples
    --------
    >>> round(heating_use(20.0, 200.0, 0.9, 25.5), 1)
    15.1

    Source: degree-day method, definition: 24 h x loss x degree days.
    """
    require(degree_days >= 0, "degree days", degree_days, "K*d", "0 or more")
    require(heat_loss >= 0, "heat loss", heat_loss, "W/K", "0 or more")
    require(
        (efficiency > 0) & (efficiency <= 1), "efficiency", efficiency, "", "above 0, at most 1"
    )
    require(heating_value > 0, "heating value", heating_value, "MJ/L", "more than 0")
    return degree_days * heat_loss * 86_400 / 1e6 / (efficiency * heating_value)
