"""Tonight's card: run the genset or not, for how long, until which reading, with what fuel.

The rule behind it: run when the bank would fall below its mark before the sun takes over. Once
running, go on to the point from which tomorrow's sun reaches the target, unless the taper makes the
last of it not worth its fuel; but never stop before the mark is safe.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from steadbook.figures import battery, battery_care, charge
from steadbook.figures._choice import choice
from steadbook.figures._declare import require, units

LEAST_SHARE = 0.5
"""Share of the charger's current below which running on for the bank alone is not worth it.
Source: common practice, no source."""


@dataclass(frozen=True, slots=True)
class NightPlant:
    """Bank, charger and genset as the card needs them.

    `nominal_voltage` [V]; `capacity` at the 20 h rate, as cold as it is [A*h]; `charger_current`
    into the bank [A]; `genset_power` [kW]; `idle_fuel` [L/h] running unloaded; `fuel_per_energy`
    [L/kWh] on top; `mark`: lowest charge wanted; `target`: charge wanted tomorrow evening;
    `shortest_run` that does the engine no harm [h]; `temperature` of the bank [degC].
    """

    nominal_voltage: float
    capacity: float
    charger_current: float
    genset_power: float
    idle_fuel: float
    fuel_per_energy: float
    chemistry: str = "flooded"
    mark: float = 0.5
    target: float = 0.9
    shortest_run: float = 1.0
    temperature: float = 20.0
    inverter_efficiency: float = 0.90
    charger_efficiency: float = 0.85


@dataclass(frozen=True, slots=True)
class Tomorrow:
    """The sun expected: `current` into the bank, the day's load taken off [A], for `hours` [h]."""

    current: float
    hours: float


@dataclass(frozen=True, slots=True)
class Night:
    """What to do from one reading.

    `stop_at`: state of charge at the end of the run; `stop_current`: what the charger then shows
    [A]; `fuel` [L]; `dawn`: state of charge when the sun takes over; `dawn_if_not_run`: without.
    """

    charge: float
    run: bool
    hours: float
    stop_at: float
    stop_current: float
    fuel: float
    dawn: float
    dawn_if_not_run: float
    reason: str


@units(sun="kW", load="kW", nominal_voltage="V", inverter_efficiency="", returns="")
def expected_sun(
    sun: ArrayLike, load: ArrayLike, nominal_voltage: float, inverter_efficiency: float = 0.90
) -> Tomorrow:
    """Tomorrow's sun for the card, from its hourly power and the house's hourly load.

    Parameters
    ----------
    sun : array, shape (24,)
        From the panels, as `panels.hourly_output` gives it. [kW]
    load : array, shape (24,)
        Of the house. [kW]
    nominal_voltage : float
        Of the bank. [V]
    inverter_efficiency : float
        Above 0 to 1.

    Returns
    -------
    Tomorrow
        Mean current over the hours in which the sun gives more than the house takes.

    Examples
    --------
    >>> light = np.zeros(24)
    >>> light[10:14] = 2.4
    >>> expected_sun(light, np.full(24, 0.432), 48.0)
    Tomorrow(current=40.0, hours=4.0)

    Source: power balance.
    """
    require(nominal_voltage > 0, "nominal voltage", nominal_voltage, "V", "more than 0")
    over = np.asarray(sun, dtype=float) - np.divide(load, inverter_efficiency)
    hours = over > 0
    if not hours.any():
        return Tomorrow(0.0, 0.0)
    return Tomorrow(float(1000 * over[hours].mean() / nominal_voltage), float(hours.sum()))


@units(plant="", load="kW", returns="A")
def charging_current(plant: NightPlant, load: float) -> float:
    """Current into the bank while the genset also carries the house.

    Parameters
    ----------
    plant : NightPlant
        Bank, charger and genset.
    load : float
        Of the house; >= 0. [kW]

    Returns
    -------
    float
        0 where the house takes all the genset gives. [A]

    Examples
    --------
    >>> plant = NightPlant(48.0, 600.0, 60.0, 11.0, 1.1, 0.28)
    >>> charging_current(plant, 1.0), charging_current(plant, 11.0)
    (60.0, 0.0)

    Source: power balance, at the absorption voltage.
    """
    require(load >= 0, "load", load, "kW", "0 or more")
    spare = max(0.0, plant.genset_power - load) * plant.charger_efficiency
    return min(plant.charger_current, 1000 * spare / _charging_voltage(plant))


def _charging_voltage(plant: NightPlant) -> float:
    cells = battery.cell_count(plant.nominal_voltage, plant.chemistry)
    return battery_care.set_points(plant.chemistry, cells).absorption[0]


@units(plant="", charge_now="", load="kW", hours_to_sun="h", tomorrow="", returns="")
def tonight(
    plant: NightPlant,
    charge_now: float,
    load: float,
    hours_to_sun: float,
    tomorrow: Tomorrow,
) -> Night:
    """The card's line for one state of charge and one load.

    Parameters
    ----------
    plant : NightPlant
        Bank, charger and genset.
    charge_now : float
        State of charge this evening, 0 to 1.
    load : float
        Mean of the house until the sun takes over; >= 0. [kW]
    hours_to_sun : float
        Until then; > 0. [h]
    tomorrow : Tomorrow
        The sun expected.

    Returns
    -------
    Night
        What to do.

    Examples
    --------
    >>> plant = NightPlant(48.0, 600.0, 60.0, 11.0, 1.1, 0.28)
    >>> tonight(plant, 0.85, 0.5, 14.0, Tomorrow(40.0, 4.0)).run
    False

    Source: composed of the figures of `charge`; the rule is common practice, no source.
    """
    now = float(battery.require_charge(charge_now))
    require(load >= 0, "load", load, "kW", "0 or more")
    require(hours_to_sun > 0, "hours to the sun", hours_to_sun, "h", "more than 0")
    drawn = 1000 * load / plant.inverter_efficiency / plant.nominal_voltage / plant.capacity
    left = max(0.0, now - drawn * hours_to_sun)
    if left >= plant.mark:
        return _stand_still(now, left, "the bank lasts to the sun")
    current = charging_current(plant, load)
    if not charge.charging_is_allowed(plant.temperature, plant.chemistry):
        return _stand_still(now, left, "the bank may not be charged at its temperature: warm it")
    if current <= 0:
        return _stand_still(now, left, "the house takes all the genset gives: shed load")

    grid = np.linspace(0.0, hours_to_sun, round(hours_to_sun * 60) + 1)  # minute by minute
    reached = charge.charge_after(now, grid, current, plant.capacity, plant.chemistry)
    dawn = np.maximum(0.0, reached - drawn * (hours_to_sun - grid))
    hours, reason = _run_length(plant, current, grid, reached, dawn, tomorrow)
    at = int(np.searchsorted(grid, hours - 1e-9))
    stop = float(reached[at])
    accepted = charge.accepted_current(stop, plant.capacity, plant.chemistry, plant.temperature)
    return Night(
        charge=now, run=True, hours=float(grid[at]), stop_at=stop,
        stop_current=min(current, float(accepted)),
        fuel=_fuel(plant, float(grid[at]), stop - now, load),
        dawn=float(dawn[at]), dawn_if_not_run=left, reason=reason,
    )  # fmt: skip


def _stand_still(now: float, left: float, reason: str) -> Night:
    return Night(now, False, 0.0, now, 0.0, 0.0, left, left, reason)


def _run_length(
    plant: NightPlant,
    current: float,
    grid: NDArray[np.float64],
    reached: NDArray[np.float64],
    dawn: NDArray[np.float64],
    tomorrow: Tomorrow,
) -> tuple[float, str]:
    """Hours to run and why then; the least that keeps the mark, more where it is worth it."""
    if dawn[-1] < plant.mark:
        return float(grid[-1]), "all night, and the bank is still below its mark at dawn"
    must = float(grid[np.argmax(dawn >= plant.mark)])
    leave = float(
        charge.charge_before(plant.target, tomorrow.hours, tomorrow.current, plant.capacity,
                             plant.chemistry)
    ) if tomorrow.current > 0 else plant.target  # fmt: skip
    want = float(grid[np.argmax(dawn >= leave)]) if dawn[-1] >= leave else float(grid[-1])
    knee = float(charge.taper_start(LEAST_SHARE * current, plant.capacity, plant.chemistry))
    worth = float(grid[np.argmax(reached >= knee)]) if reached[-1] >= knee else float(grid[-1])
    hours = max(must, min(want, worth), min(plant.shortest_run, float(grid[-1])))
    if hours > max(must, min(want, worth)):
        return hours, "the shortest run that does the engine no harm"
    if hours == must and must > min(want, worth):
        return hours, "to keep the mark until the sun"
    if want <= worth:
        return hours, "tomorrow's sun finishes from there"
    return hours, "beyond it the bank takes too little to be worth the fuel"


def _fuel(plant: NightPlant, hours: float, gained: float, load: float) -> float:
    kept = charge.ACCEPTANCE[plant.chemistry].efficiency
    put_in = gained * plant.capacity / kept * _charging_voltage(plant) / 1000
    given = load * hours + put_in / plant.charger_efficiency
    return plant.idle_fuel * hours + plant.fuel_per_energy * given


@units(plant="", readings="", loads="kW", hours_to_sun="h", tomorrow="", by="", returns="")
def card(
    plant: NightPlant,
    readings: Sequence[float],
    loads: Sequence[float],
    hours_to_sun: float,
    tomorrow: Tomorrow,
    by: str = "charge",
) -> list[list[Night]]:
    """The whole card: a row for each reading, a column for each load.

    Parameters
    ----------
    plant : NightPlant
        Bank, charger and genset.
    readings : sequence of float
        States of charge, 0 to 1, or voltages of the rested bank.
    loads : sequence of float
        Mean loads until the sun takes over. [kW]
    hours_to_sun : float
        Until then. [h]
    tomorrow : Tomorrow
        The sun expected.
    by : str
        "charge" or "voltage".

    Returns
    -------
    list of list of Night
        In the order given.

    Examples
    --------
    >>> plant = NightPlant(48.0, 600.0, 60.0, 11.0, 1.1, 0.28)
    >>> rows = card(plant, [48.96, 50.6], [0.5], 14.0, Tomorrow(40.0, 4.0), by="voltage")
    >>> [row[0].run for row in rows]
    [True, False]

    Source: `tonight`.
    """
    read = choice({"charge": float, "voltage": _from_voltage}, by, "reading by")
    charges = [read(reading, plant) if by == "voltage" else float(reading) for reading in readings]
    return [
        [tonight(plant, one, load, hours_to_sun, tomorrow) for load in loads] for one in charges
    ]


def _from_voltage(reading: float, plant: NightPlant) -> float:
    return float(battery.charge_from_voltage(reading, plant.nominal_voltage, plant.chemistry))
