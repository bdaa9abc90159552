"""How long a charge takes: full current first, then what the bank still accepts.

A bank takes the charger's whole current until its voltage reaches the absorption limit; from then
on it accepts less and less. The current it accepts falls in a straight line with the charge still
missing, down to the tail current at full, so that the current tapers exponentially in time and the
last fifth takes its real time:

    accepted current / capacity = tail + (1 - state of charge) / time constant

The more current, the earlier the taper begins. With C/10 and the flooded figures it begins at
80 % and the rest takes four hours. LFP is not charged below 0 degC, lead-acid not above 52 degC.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from steadbook.figures._choice import choice
from steadbook.figures._declare import require, units
from steadbook.figures.battery import require_charge


@dataclass(frozen=True, slots=True)
class Acceptance:
    """What a kind of battery takes.

    `tail`: current at full, as a share of the capacity [1/h]; `time_constant` of the taper [h];
    `efficiency`: amp-hours kept of each put in; `coldest`, `warmest`: battery temperatures between
    which it may be charged [degC].
    """

    tail: float
    time_constant: float
    efficiency: float
    coldest: float
    warmest: float


ACCEPTANCE = {
    "flooded": Acceptance(0.02, 2.5, 0.85, -40.0, 52.0),
    "agm": Acceptance(0.01, 2.0, 0.95, -40.0, 52.0),
    "lfp": Acceptance(0.05, 0.25, 0.99, 0.0, 45.0),
}
"""Source: taper so that bulk ends at 80 % with C/10, tail 1 to 3 % of the 20 h capacity (charging
articles; common practice); efficiencies from memory, check; 125 degF electrolyte limit NAVEDTRA
14113; no charge of lfp below 0 degC (seen in several)."""


@units(temperature="degC", chemistry="", returns="")
def charging_is_allowed(temperature: ArrayLike, chemistry: str = "flooded") -> Any:
    """Whether a battery of this temperature may be charged.

    Parameters
    ----------
    temperature : float or array
        Of the battery itself. [degC]
    chemistry : str
        "flooded", "agm" or "lfp". A frozen lead-acid battery must not be charged either.

    Returns
    -------
    bool or array
        True where it may.

    Examples
    --------
    >>> bool(charging_is_allowed(-1.0, "lfp")), bool(charging_is_allowed(-1.0, "flooded"))
    (False, True)

    Source: several makers' limits for lfp (seen); NAVEDTRA 14113, 125 degF for lead-acid.
    """
    limits = choice(ACCEPTANCE, chemistry, "battery chemistry")
    value = np.asarray(temperature, dtype=float)
    return ((value >= limits.coldest) & (value <= limits.warmest))[()]


@units(state_of_charge="", capacity="A*h", chemistry="", temperature="degC", returns="A")
def accepted_current(
    state_of_charge: ArrayLike,
    capacity: ArrayLike,
    chemistry: str = "flooded",
    temperature: ArrayLike = 25.0,
) -> Any:
    """Most current a bank takes at the absorption voltage.

    Parameters
    ----------
    state_of_charge : float or array
        0 to 1.
    capacity : float or array
        At the 20 h rate; > 0. [A*h]
    chemistry : str
        "flooded", "agm" or "lfp".
    temperature : float or array
        Of the battery; the taper itself is not corrected for it, a cold bank is slower. [degC]

    Returns
    -------
    float or array
        0 where charging is not allowed. [A]

    Examples
    --------
    >>> float(accepted_current(0.8, 600.0)), float(accepted_current(1.0, 600.0))
    (60.0, 12.0)

    Source: straight line from bulk end to tail, see the head of this module.
    """
    bank = choice(ACCEPTANCE, chemistry, "battery chemistry")
    charge = require_charge(state_of_charge)
    require(np.greater(capacity, 0), "capacity", capacity, "A*h", "more than 0")
    share = bank.tail + (1.0 - charge) / bank.time_constant
    return np.where(charging_is_allowed(temperature, chemistry), capacity * share, 0.0)[()]


@units(current="A", capacity="A*h", chemistry="", returns="")
def taper_start(current: ArrayLike, capacity: ArrayLike, chemistry: str = "flooded") -> Any:
    """State of charge at which a charger's current begins to taper.

    Parameters
    ----------
    current : float or array
        What the charger can give; > 0. [A]
    capacity : float or array
        At the 20 h rate; > 0. [A*h]
    chemistry : str
        "flooded", "agm" or "lfp".

    Returns
    -------
    float or array
        0 to 1.

    Examples
    --------
    >>> round(float(taper_start(60.0, 600.0)), 3), round(float(taper_start(120.0, 600.0)), 3)
    (0.8, 0.55)

    Source: straight line from bulk end to tail, see the head of this module.
    """
    bank = choice(ACCEPTANCE, chemistry, "battery chemistry")
    require(np.greater(current, 0), "charging current", current, "A", "more than 0")
    require(np.greater(capacity, 0), "capacity", capacity, "A*h", "more than 0")
    return np.clip(1.0 - (np.divide(current, capacity) - bank.tail) * bank.time_constant, 0.0, 1.0)


def _bank(chemistry: str, efficiency: float | None) -> tuple[Acceptance, float]:
    bank: Acceptance = choice(ACCEPTANCE, chemistry, "battery chemistry")
    kept = bank.efficiency if efficiency is None else efficiency
    require(0 < kept <= 1, "charge efficiency", kept, "", "above 0, up to 1")
    return bank, kept


@units(
    start="", stop="", current="A", capacity="A*h", chemistry="", temperature="degC",
    efficiency="", returns="h",
)  # fmt: skip
def charge_time(
    start: ArrayLike,
    stop: ArrayLike,
    current: ArrayLike,
    capacity: ArrayLike,
    chemistry: str = "flooded",
    temperature: ArrayLike = 25.0,
    efficiency: float | None = None,
) -> Any:
    """Hours of charging from one state of charge to another.

    Parameters
    ----------
    start : float or array
        State of charge now, 0 to 1.
    stop : float or array
        State of charge wanted, 0 to 1; at or below `start` takes no time.
    current : float or array
        Into the bank: the charger's, less what the house draws from it; > 0. [A]
    capacity : float or array
        At the 20 h rate; > 0. [A*h]
    chemistry : str
        "flooded", "agm" or "lfp".
    temperature : float or array
        Of the battery. [degC]
    efficiency : float
        Amp-hours kept of each put in; the usual one of the chemistry when not given.

    Returns
    -------
    float or array
        inf where the bank may not be charged at that temperature. [h]

    Examples
    --------
    >>> round(float(charge_time(0.5, 0.8, 60.0, 600.0)), 2)
    3.53
    >>> round(float(charge_time(0.8, 1.0, 60.0, 600.0, efficiency=1.0)), 2)
    4.02

    Source: the taper of this module, integrated.
    """
    bank, kept = _bank(chemistry, efficiency)
    first, last = require_charge(start), require_charge(stop)
    knee = taper_start(current, capacity, chemistry)
    bulk = np.maximum(0.0, np.minimum(last, knee) - first)
    bulk_hours = bulk * np.asarray(capacity) / np.asarray(current) / kept

    from_here = np.maximum(first, knee)
    gap = _gap(bank, from_here) / _gap(bank, np.maximum(from_here, last))
    hours = bulk_hours + bank.time_constant / kept * np.log(gap)
    return np.where(charging_is_allowed(temperature, chemistry) | (last <= first), hours, np.inf)[
        ()
    ]


def _gap(bank: Acceptance, charge: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far a state of charge is from where the taper's current would be nil."""
    return 1.0 + bank.tail * bank.time_constant - charge


@units(
    start="", hours="h", current="A", capacity="A*h", chemistry="", efficiency="", returns="",
)  # fmt: skip
def charge_after(
    start: ArrayLike,
    hours: ArrayLike,
    current: ArrayLike,
    capacity: ArrayLike,
    chemistry: str = "flooded",
    efficiency: float | None = None,
) -> Any:
    """State of charge after some hours of charging.

    Parameters
    ----------
    start : float or array
        State of charge now, 0 to 1.
    hours : float or array
        Of charging; >= 0. [h]
    current : float or array
        Into the bank; > 0. [A]
    capacity : float or array
        At the 20 h rate; > 0. [A*h]
    chemistry : str
        "flooded", "agm" or "lfp".
    efficiency : float
        Amp-hours kept of each put in; the usual one when not given.

    Returns
    -------
    float or array
        0 to 1; the battery must be warm enough, see `charging_is_allowed`.

    Examples
    --------
    >>> round(float(charge_after(0.5, 3.53, 60.0, 600.0)), 2)
    0.8

    Source: the taper of this module, integrated.
    """
    bank, kept = _bank(chemistry, efficiency)
    first, time = require_charge(start), np.asarray(hours, dtype=float)
    require(time >= 0, "hours of charging", time, "h", "0 or more")
    knee = taper_start(current, capacity, chemistry)
    rate = np.divide(current, capacity) * kept
    bulk_hours = np.minimum(time, np.maximum(0.0, knee - first) / rate)
    reached = first + rate * bulk_hours
    full_gap = _gap(bank, np.zeros(()))
    taper = np.exp(-kept / bank.time_constant * (time - bulk_hours))
    return np.minimum(1.0, full_gap - (full_gap - reached) * taper)


@units(
    stop="", hours="h", current="A", capacity="A*h", chemistry="", efficiency="", returns="",
)  # fmt: skip
def charge_before(
    stop: ArrayLike,
    hours: ArrayLike,
    current: ArrayLike,
    capacity: ArrayLike,
    chemistry: str = "flooded",
    efficiency: float | None = None,
) -> Any:
    """Lowest state of charge from which some hours of charging reach another.

    Parameters
    ----------
    stop : float or array
        State of charge wanted at the end, 0 to 1.
    hours : float or array
        Of charging; >= 0. [h]
    current : float or array
        Into the bank; > 0. [A]
    capacity : float or array
        At the 20 h rate; > 0. [A*h]
    chemistry : str
        "flooded", "agm" or "lfp".
    efficiency : float
        Amp-hours kept of each put in; the usual one when not given.

    Returns
    -------
    float or array
        0 where even a flat bank gets there.

    Examples
    --------
    >>> round(float(charge_before(0.8, 3.53, 60.0, 600.0)), 2)
    0.5

    Source: `charge_after`, solved for the start.
    """
    bank, kept = _bank(chemistry, efficiency)
    last, time = require_charge(stop), np.asarray(hours, dtype=float)
    require(time >= 0, "hours of charging", time, "h", "0 or more")
    knee = np.minimum(taper_start(current, capacity, chemistry), last)
    pace = kept / bank.time_constant
    taper_hours = np.minimum(time, np.log(_gap(bank, knee) / _gap(bank, last)) / pace)
    full_gap = _gap(bank, np.zeros(()))
    reached = full_gap - _gap(bank, last) * np.exp(pace * taper_hours)
    rate = np.divide(current, capacity) * kept
    return np.clip(reached - rate * (time - taper_hours), 0.0, 1.0)


@units(
    target="", night_use="A*h", sun_current="A", sun_hours="h", current="A", capacity="A*h",
    chemistry="", least_share="", returns="",
)  # fmt: skip
def break_point(
    target: ArrayLike,
    night_use: ArrayLike,
    sun_current: ArrayLike,
    sun_hours: ArrayLike,
    current: ArrayLike,
    capacity: ArrayLike,
    chemistry: str = "flooded",
    least_share: float = 0.5,
) -> Any:
    """State of charge at which to stop the genset and let tomorrow's sun finish.

    It is the charge that, less the night's use, tomorrow's sun still lifts to the target; but never
    beyond the point where the taper leaves the charger less than a share of its current, for there
    the genset burns fuel to little use.

    Parameters
    ----------
    target : float or array
        State of charge wanted tomorrow evening, 0 to 1.
    night_use : float or array
        Taken out between stopping and the sun; >= 0. [A*h]
    sun_current : float or array
        Mean current from the sun into the bank, the day's load taken off; > 0, or 0 for none. [A]
    sun_hours : float or array
        It is expected to flow; >= 0. [h]
    current : float or array
        The genset's charger gives; > 0. [A]
    capacity : float or array
        At the 20 h rate; > 0. [A*h]
    chemistry : str
        "flooded", "agm" or "lfp".
    least_share : float
        Share of the charger's current below which the genset is not worth running, above 0 to 1.

    Returns
    -------
    float or array
        0 to 1; at or below the present charge means: do not start.

    Examples
    --------
    >>> round(float(break_point(0.95, 60.0, 40.0, 6.0, 60.0, 600.0)), 2)
    0.73

    Source: `charge_before` and `taper_start`; least share common practice, no source.
    """
    require(0 < least_share <= 1, "least share", least_share, "", "above 0, up to 1")
    require(np.greater_equal(night_use, 0), "night use", night_use, "A*h", "0 or more")
    require(np.greater_equal(sun_current, 0), "sun current", sun_current, "A", "0 or more")
    sun = np.asarray(sun_current, dtype=float)
    hours = np.where(sun > 0, sun_hours, 0.0)
    by_morning = charge_before(target, hours, np.where(sun > 0, sun, 1.0), capacity, chemistry)
    needed = by_morning + np.divide(night_use, capacity)
    worth = taper_start(np.multiply(current, least_share), capacity, chemistry)
    return np.minimum(needed, worth)
