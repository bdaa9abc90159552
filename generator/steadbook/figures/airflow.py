"""Air for a genset's enclosure: to cool it, to burn with, through openings that snow may block.

Air for cooling does not make an enclosure safe to enter or an exhaust safe indoors: see
`carbon_monoxide`.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import (
    BTU,
    CUBIC_FOOT,
    CUBIC_FOOT_PER_MINUTE,
    FOOT,
    POUND,
    SQUARE_FOOT,
    Number,
)
from steadbook.figures.propane import vapour_volume

SPECIFIC_HEAT = 0.24 * BTU / POUND * 1.8  # kJ/(kg*K); 0.24 Btu/(lb*F)
STANDARD_DENSITY = 0.075 * POUND / CUBIC_FOOT  # kg/m3; the air of the 1.08 rule
AIR_FOR_PROPANE = 23.86  # m3 of air for 1 m3 of gas; LP-gas handbook table, seen in a reprint

HEAT_SPLIT = {"exhaust": (0.30, 0.35), "cooling": (0.25, 0.30), "radiation": (0.05, 0.10)}
"""Where the fuel's heat goes beside the shaft. Source: industrial ventilation article. An
air-cooled engine puts both cooling and radiation into the room."""

FREE_SHARES = {"typical": 0.50, "metal, unknown": 0.75, "wood, unknown": 0.25}
"""Free part of a louvre's face. Source: NFPA 54 for the unknown ones, seen in a utility's
guide; 0.50 is common practice, no source."""

FACE_VELOCITY = 500 * FOOT / 60  # m/s; 300 to 700 ft/min, common practice, no source


def _require_share(quantity: str, share: Number) -> None:
    require((share > 0) & (share <= 1), quantity, share, "", "above 0, at most 1")


@units(fuel_rate="L/h", heating_value="MJ/L", share="", returns="kW")
def room_heat(fuel_rate: Number, heating_value: Number, share: Number = 0.40) -> Any:
    """Heat an engine gives to the air around it.

    Parameters
    ----------
    fuel_rate : float or array
        Fuel in an hour; > 0. [L/h]
    heating_value : float or array
        Heat in a litre; > 0. [MJ/L]
    share : float or array
        Part of the fuel's heat that ends in the room, above 0 and at most 1; 0.40 is cooling
        and radiation of an air-cooled engine, 0.10 the radiation of one cooled from outside.

    Returns
    -------
    float or array
        Heat to carry away. [kW]

    Raises
    ------
    OutOfRange
        No fuel or heat, a share outside 0 to 1.

    Examples
    --------
    >>> round(room_heat(3.6, 25.5), 1)
    10.2

    Source: definition; shares of an industrial ventilation article, see `HEAT_SPLIT`.
    """
    require(fuel_rate > 0, "burn rate", fuel_rate, "L/h", "more than 0")
    require(heating_value > 0, "heating value", heating_value, "MJ/L", "more than 0")
    _require_share("share of heat to the room", share)
    return fuel_rate * heating_value / 3.6 * share


@units(heat="kW", rise="K", density="kg/m3", returns="m3/h")
def cooling_air(heat: Number, rise: Number, density: Number = STANDARD_DENSITY) -> Any:
    """Air that carries heat away at a rise of its temperature.

    Parameters
    ----------
    heat : float or array
        Heat given to the room; >= 0. [kW]
    rise : float or array
        Temperature of the outgoing air above the incoming; > 0. [K]
    density : float or array
        Density of the incoming air; lower at altitude, from `atmosphere.air_density`. [kg/m3]

    Returns
    -------
    float or array
        Air. [m3/h]

    Raises
    ------
    OutOfRange
        Negative heat, no rise or density.

    Examples
    --------
    >>> round(cooling_air(14.65, 11.11))       # 50,000 Btu/h, 20 F
    3932

    Source: heat balance; at standard density the rule CFM = Btu/h / (1.08 x rise in F).
    """
    require(heat >= 0, "heat", heat, "kW", "0 or more")
    require(rise > 0, "temperature rise", rise, "K", "more than 0")
    require(density > 0, "air density", density, "kg/m3", "more than 0")
    return heat * 3600 / (density * SPECIFIC_HEAT * rise)


@units(heat="kW", flow="m3/h", density="kg/m3", returns="K")
def temperature_rise(heat: Number, flow: Number, density: Number = STANDARD_DENSITY) -> Any:
    """How much warmer the air leaves than it comes.

    Parameters
    ----------
    heat : float or array
        Heat given to the room; >= 0. [kW]
    flow : float or array
        Air through it; > 0. [m3/h]
    density : float or array
        Density of the incoming air; > 0. [kg/m3]

    Returns
    -------
    float or array
        Rise at steady running, walls taken as tight to heat. [K]

    Raises
    ------
    OutOfRange
        Negative heat, no flow or density.

    Examples
    --------
    >>> round(temperature_rise(14.65, 3933.0), 1)
    11.1

    Source: heat balance.
    """
    require(heat >= 0, "heat", heat, "kW", "0 or more")
    require(flow > 0, "air flow", flow, "m3/h", "more than 0")
    require(density > 0, "air density", density, "kg/m3", "more than 0")
    return heat * 3600 / (density * SPECIFIC_HEAT * flow)


@units(burn_rate="L/h", returns="m3/h")
def combustion_air(burn_rate: Number) -> Any:
    """Air propane needs to burn, none to spare.

    Parameters
    ----------
    burn_rate : float or array
        Liquid propane in an hour; >= 0. [L/h]

    Returns
    -------
    float or array
        Air at 60 F and sea level; add it to the cooling air. [m3/h]

    Raises
    ------
    OutOfRange
        Negative burn rate.

    Examples
    --------
    >>> round(combustion_air(5.678), 1)        # 1.5 gal/h: 21.7 cfm
    36.9

    Source: LP-gas handbook table, 23.86 volumes of air to one of gas; seen in a reprint.
    """
    require(burn_rate >= 0, "burn rate", burn_rate, "L/h", "0 or more")
    return vapour_volume(burn_rate) * AIR_FOR_PROPANE


@units(flow="m3/h", velocity="m/s", returns="m2")
def free_area(flow: Number, velocity: Number = FACE_VELOCITY) -> Any:
    """Clear opening that air needs at a velocity.

    Parameters
    ----------
    flow : float or array
        Air; > 0. [m3/h]
    velocity : float or array
        Velocity in the opening; 2.54 unless said, less keeps rain and snow out. [m/s]

    Returns
    -------
    float or array
        Clear area; the outlet is to be no smaller than the inlet. [m2]

    Raises
    ------
    OutOfRange
        No flow or velocity.

    Examples
    --------
    >>> round(free_area(3933.0), 2)
    0.43

    Source: definition; velocity of 300 to 700 ft/min is common practice, no source.
    """
    require(flow > 0, "air flow", flow, "m3/h", "more than 0")
    require(velocity > 0, "face velocity", velocity, "m/s", "more than 0")
    return flow / 3600 / velocity


@units(free="m2", free_share="", blocked="", returns="m2")
def gross_area(free: Number, free_share: Number = 0.50, blocked: Number = 0.0) -> Any:
    """Louvre to buy or build for a clear area, with snow allowed for.

    Parameters
    ----------
    free : float or array
        Clear area wanted; > 0. [m2]
    free_share : float or array
        Clear part of the louvre's face, above 0 and at most 1; see `FREE_SHARES`.
    blocked : float or array
        Part that snow or leaves may cover, 0 to below 1.

    Returns
    -------
    float or array
        Area of the face. [m2]

    Raises
    ------
    OutOfRange
        No area, a share outside its limits.

    Examples
    --------
    >>> gross_area(0.4, 0.5, 0.2)
    1.0

    Source: definition.
    """
    require(free > 0, "free area", free, "m2", "more than 0")
    _require_share("free share of the louvre", free_share)
    require((blocked >= 0) & (blocked < 1), "blocked share", blocked, "", "from 0 to below 1")
    return free / (free_share * (1 - blocked))


@units(gross="m2", free_share="", blocked="", velocity="m/s", returns="m3/h")
def opening_flow(
    gross: Number,
    free_share: Number = 0.50,
    blocked: Number = 0.0,
    velocity: Number = FACE_VELOCITY,
) -> Any:
    """Air a louvre passes at a velocity, some of it covered.

    Parameters
    ----------
    gross : float or array
        Area of the face; > 0. [m2]
    free_share : float or array
        Clear part of the face, above 0 and at most 1.
    blocked : float or array
        Part that snow or leaves cover, 0 to below 1.
    velocity : float or array
        Velocity in what is clear; > 0. [m/s]

    Returns
    -------
    float or array
        Air; give it to `temperature_rise`. [m3/h]

    Raises
    ------
    OutOfRange
        No area or velocity, a share outside its limits.

    Examples
    --------
    >>> round(opening_flow(0.86), 0), round(opening_flow(0.86, blocked=0.5), 0)
    (3932.0, 1966.0)

    Source: definition.
    """
    require(gross > 0, "louvre area", gross, "m2", "more than 0")
    require(velocity > 0, "face velocity", velocity, "m/s", "more than 0")
    _require_share("free share of the louvre", free_share)
    require((blocked >= 0) & (blocked < 1), "blocked share", blocked, "", "from 0 to below 1")
    return gross * free_share * (1 - blocked) * velocity * 3600


@units(area="m2", height="m", rise="K", returns="m3/h")
def stack_flow(area: Number, height: Number, rise: Number) -> Any:
    """Air that warm air draws through openings one above the other, without a fan.

    Parameters
    ----------
    area : float or array
        Clear area of the inlet, the outlet as large; > 0. [m2]
    height : float or array
        Outlet above inlet, middle to middle; > 0. [m]
    rise : float or array
        Air inside warmer than outside; >= 0. [K]

    Returns
    -------
    float or array
        Air; wind may help or stop it. [m3/h]

    Raises
    ------
    OutOfRange
        No area or height, a negative rise.

    Examples
    --------
    >>> round(float(stack_flow(1.0, 1.5, 10.0)))
    1618

    Source: Handbook of Energy Engineering Calculations, engine-room ventilation: 9.4 x area x
    root of height and rise, in feet, F and cfm.
    """
    require(area > 0, "opening", area, "m2", "more than 0")
    require(height > 0, "height between openings", height, "m", "more than 0")
    require(rise >= 0, "temperature rise", rise, "K", "0 or more")
    root = np.sqrt(height / FOOT * rise * 1.8)
    return 9.4 * area / SQUARE_FOOT * root * CUBIC_FOOT_PER_MINUTE


@units(heat="kW", area="m2", height="m", density="kg/m3", returns="K")
def natural_rise(
    heat: Number, area: Number, height: Number, density: Number = STANDARD_DENSITY
) -> Any:
    """Rise at which the draught of warm air just carries the heat away.

    Parameters
    ----------
    heat : float or array
        Heat given to the room; >= 0. [kW]
    area : float or array
        Clear area of the inlet, the outlet as large; take off what snow covers; > 0. [m2]
    height : float or array
        Outlet above inlet; > 0. [m]
    density : float or array
        Density of the incoming air; > 0. [kg/m3]

    Returns
    -------
    float or array
        Rise of the air without a fan. [K]

    Raises
    ------
    OutOfRange
        Negative heat, no area, height or density.

    Examples
    --------
    >>> round(float(natural_rise(2.0, 0.2, 1.5)), 1)
    15.0

    Source: `stack_flow` and `temperature_rise`, solved together.
    """
    require(heat >= 0, "heat", heat, "kW", "0 or more")
    require(density > 0, "air density", density, "kg/m3", "more than 0")
    # The flow grows with the root of the rise, the heat it carries with the rise times that.
    at_one_kelvin = stack_flow(area, height, 1.0) * density * SPECIFIC_HEAT / 3600
    return (heat / at_one_kelvin) ** (2 / 3)
