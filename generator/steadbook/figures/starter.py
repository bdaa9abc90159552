"""The starter battery: what its voltage tells, what it cranks in the cold, what keeps it charged.

**WARNING: batteries give off gas that explodes at a spark; connect the last lead away from the
battery, wear eye protection, never charge a frozen one.**
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures import battery, battery_cold
from steadbook.figures._declare import require, units
from steadbook.figures._factors import fahrenheit

SELF_DISCHARGE = 0.001 / (1.265 - 1.120)
"""Share of a full charge lost in a day below 80 degF, at most: 0.001 of specific gravity.
Source: US Army TM 5-1185; over the span of the industry's gravity table."""

FREEZE_MARGIN = 5.0
"""Kept between the coldest night and the freezing point, for a weak cell and a wrong meter. [degC]
Source: common practice, no source."""

# Temperature [degF] -> cranking power left of a full battery. US Army TM 5-1185.
_CRANKING_DEGF = (0.0, 30.0, 80.0)
_CRANKING_LEFT = (0.40, 0.65, 1.0)

# Temperature [degF] -> lowest voltage of a 12 V battery in the load test. Truck maintenance column.
_TEST_DEGF = (0.0, 70.0)
_TEST_VOLTAGE = (8.5, 9.6)


@dataclass(frozen=True, slots=True)
class Condition:
    """What a rested voltage tells: `charge` 0 to 1, `freezes_at` [degC], and a word for it."""

    charge: float
    freezes_at: float
    word: str


@units(voltage="V", coldest="degC", returns="")
def condition(voltage: float, coldest: float) -> Condition:
    """State of a 12 V flooded starter battery from its voltage at rest.

    Parameters
    ----------
    voltage : float
        Hours after the last charge or start. [V]
    coldest : float
        It will stand in before the next look. [degC]

    Returns
    -------
    Condition
        Word: "may freeze" (the coldest comes within `FREEZE_MARGIN` of its freezing point),
        "charge now" (below half), "charge soon" (below three quarters) or "ready".

    Examples
    --------
    >>> condition(12.65, -25.0).word, condition(12.0, -25.0).word
    ('ready', 'may freeze')

    Source: `battery` and `battery_cold`; the words' limits are common practice, no source.
    """
    charge = float(battery.charge_from_voltage(voltage))
    freezes = float(battery_cold.freezing_point(battery.gravity_from_charge(charge)))
    if coldest < freezes + FREEZE_MARGIN:
        return Condition(charge, freezes, "may freeze")
    if charge < 0.5:
        return Condition(charge, freezes, "charge now")
    return Condition(charge, freezes, "charge soon" if charge < 0.75 else "ready")


@units(temperature="degC", returns="")
def cranking_power_left(temperature: ArrayLike) -> Any:
    """Share of a full battery's cranking power that is left in the cold.

    Below 0 degF, the last of the table, its slope is carried on: an extrapolation.

    Parameters
    ----------
    temperature : float or array
        Of the battery, -40 to 52. [degC]

    Returns
    -------
    float or array
        1 at 80 degF and above.

    Examples
    --------
    >>> round(float(cranking_power_left(-17.8)), 2)
    0.4

    Source: US Army TM 5-1185.
    """
    value = np.asarray(temperature, dtype=float)
    require((value >= -40) & (value <= 52), "battery temperature", value, "degC", "-40 to 52")
    degf = fahrenheit(value)
    slope = (_CRANKING_LEFT[1] - _CRANKING_LEFT[0]) / (_CRANKING_DEGF[1] - _CRANKING_DEGF[0])
    below = np.maximum(0.0, _CRANKING_LEFT[0] + slope * np.minimum(0.0, degf))
    return np.where(degf < 0, below, np.interp(degf, _CRANKING_DEGF, _CRANKING_LEFT))[()]


@units(cold_cranking="A", state_of_charge="", temperature="degC", returns="A")
def cranking_current(
    cold_cranking: ArrayLike, state_of_charge: ArrayLike, temperature: ArrayLike
) -> Any:
    """Current to count on for 30 s of cranking, on the safe side.

    The label's current holds at 0 degF, full and new; no credit is taken for warmer weather, below
    that the table's slope takes away, and charge counts in proportion.

    Parameters
    ----------
    cold_cranking : float or array
        Of the label, 0 degF at 1.2 V a cell; > 0. [A]
    state_of_charge : float or array
        0 to 1.
    temperature : float or array
        Of the battery. [degC]

    Returns
    -------
    float or array
        [A]

    Examples
    --------
    >>> round(float(cranking_current(800.0, 0.75, -10.0)))
    600

    Source: SAE J537 for the label (seen in glossaries); proportion: common practice, no source.
    """
    require(np.greater(cold_cranking, 0), "cold cranking current", cold_cranking, "A",
            "more than 0")  # fmt: skip
    left = np.minimum(1.0, cranking_power_left(temperature) / _CRANKING_LEFT[0])
    return np.multiply(cold_cranking, battery.require_charge(state_of_charge)) * left


@units(temperature="degC", returns="V")
def load_test_voltage(temperature: ArrayLike) -> Any:
    """Voltage a charged 12 V battery must keep while half its cold cranking current flows for 15 s.

    Parameters
    ----------
    temperature : float or array
        Of the battery; outside 0 to 70 degF the nearest of the two is used. [degC]

    Returns
    -------
    float or array
        Below it the battery is worn out. [V]

    Examples
    --------
    >>> round(float(load_test_voltage(10.0)), 2)
    9.29

    Source: truck maintenance column, 9.6 V at 70 degF and 8.5 V at 0 degF; straight between.
    """
    return np.interp(fahrenheit(np.asarray(temperature, dtype=float)), _TEST_DEGF, _TEST_VOLTAGE)


@units(capacity="A*h", drain="A", returns="A*h")
def daily_loss(capacity: ArrayLike, drain: ArrayLike = 0.0) -> Any:
    """Charge a standing battery loses in a day.

    Parameters
    ----------
    capacity : float or array
        > 0. [A*h]
    drain : float or array
        What clock, alarm and controller draw all the time; >= 0. [A]

    Returns
    -------
    float or array
        A day's loss; less in the cold. [A*h]

    Examples
    --------
    >>> round(float(daily_loss(100.0, 0.02)), 2)
    1.17

    Source: US Army TM 5-1185, 0.001 of gravity a day.
    """
    require(np.greater(capacity, 0), "capacity", capacity, "A*h", "more than 0")
    require(np.greater_equal(drain, 0), "drain", drain, "A", "0 or more")
    return np.multiply(capacity, SELF_DISCHARGE) + 24.0 * np.asarray(drain, dtype=float)


@units(capacity="A*h", drain="A", start="", stop="", returns="d")
def standing_days(
    capacity: ArrayLike, drain: ArrayLike = 0.0, start: ArrayLike = 1.0, stop: ArrayLike = 0.75
) -> Any:
    """Days a battery may stand before it falls from one charge to another.

    Parameters
    ----------
    capacity : float or array
        > 0. [A*h]
    drain : float or array
        Drawn all the time; >= 0. [A]
    start : float or array
        State of charge now, 0 to 1.
    stop : float or array
        State of charge at which to recharge, 0 to 1.

    Returns
    -------
    float or array
        0 when already below. [d]

    Examples
    --------
    >>> round(float(standing_days(100.0)))
    36

    Source: `daily_loss`.
    """
    fall = np.maximum(0.0, battery.require_charge(start) - battery.require_charge(stop))
    return np.multiply(capacity, fall) / daily_loss(capacity, drain)


@units(
    capacity="A*h", sun_hours="h", drain="A", derate="", panel_voltage="V", returns="W",
)  # fmt: skip
def holding_panel(
    capacity: ArrayLike,
    sun_hours: ArrayLike,
    drain: ArrayLike = 0.0,
    derate: ArrayLike = 0.5,
    panel_voltage: ArrayLike = 18.0,
) -> Any:
    """Smallest panel that holds a 12 V starter battery full through the darkest month.

    Parameters
    ----------
    capacity : float or array
        > 0. [A*h]
    sun_hours : float or array
        On the panel, mean of a December day in hours of full sun (kWh/m²); > 0. [h]
    drain : float or array
        Drawn all the time, the controller's own use in it; >= 0. [A]
    derate : float or array
        Share left after charge losses, dirt, snow and dull weeks, above 0 to 1.
    panel_voltage : float or array
        At the panel's best point; a plain controller passes its current alone; > 0. [V]

    Returns
    -------
    float or array
        Nameplate. [W]

    Examples
    --------
    >>> round(float(holding_panel(100.0, 1.0, 0.005)), 1)
    29.1

    Source: balance of `daily_loss`; derate common practice, no source.
    """
    require(np.greater(sun_hours, 0), "sun hours", sun_hours, "h", "more than 0")
    require(np.greater(derate, 0) & np.less_equal(derate, 1), "derate", derate, "",
            "above 0, up to 1")  # fmt: skip
    require(np.greater(panel_voltage, 0), "panel voltage", panel_voltage, "V", "more than 0")
    return daily_loss(capacity, drain) * panel_voltage / np.multiply(sun_hours, derate)
