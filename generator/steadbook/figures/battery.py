"""What a battery's readings tell: state of charge from voltage and from specific gravity.

State of charge is a fraction, 0 (flat) to 1 (full). All readings are of a battery at rest: no
charge and no load for several hours. Cold is in `battery_cold`, care in `battery_care`.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures._choice import choice
from steadbook.figures._declare import require, units
from steadbook.figures._factors import celsius, fahrenheit

REFERENCE_DEGF = 80.0
"""Temperature to which a hydrometer reading is corrected, the American custom [degF]."""

REFERENCE_DEGC = float(celsius(REFERENCE_DEGF))

UNSERVICEABLE_SPREAD = 0.025
"""Spread of specific gravity between cells above which a battery is unserviceable.
Source: US Army TM 9-6140-200-14, para 4-7."""

# State of charge -> voltage at rest of one cell [V].
# flooded: table of 12 V batteries at 80 degF, full at SG 1.265 (industry table, seen in reprints).
# agm: lower ends of the bands in a vehicle maker's charging table (seen in a reprint); the
#      voltage when flat is from memory, check.
# lfp: from memory, check; the curve is too flat between 0.2 and 0.9 to tell the charge.
_REST_VOLTAGE: dict[str, tuple[tuple[float, ...], tuple[float, ...]]] = {
    "flooded": (
        (0.0, 0.25, 0.50, 0.75, 1.0),
        (11.89 / 6, 12.06 / 6, 12.24 / 6, 12.45 / 6, 12.65 / 6),
    ),
    "agm": ((0.0, 0.25, 0.50, 0.75, 1.0), (11.80 / 6, 12.0 / 6, 12.3 / 6, 12.6 / 6, 12.8 / 6)),
    "lfp": ((0.0, 0.10, 0.20, 0.50, 0.90, 1.0), (2.80, 3.10, 3.215, 3.29, 3.34, 3.40)),
}
# Above these a battery is being charged, or has not rested long enough [V/cell].
_NOT_AT_REST = {"flooded": 2.20, "agm": 2.24, "lfp": 3.50}
_CELL_VOLTAGE = {"flooded": 2.0, "agm": 2.0, "lfp": 3.2}

# Full specific gravity -> (state of charge, specific gravity at 80 degF).
# 1.265: industry table (seen in reprints). 1.280: US Army TM 5-1185, Table II.
GRAVITY: dict[float, tuple[tuple[float, ...], tuple[float, ...]]] = {
    1.265: ((0.0, 0.25, 0.50, 0.75, 1.0), (1.120, 1.155, 1.190, 1.225, 1.265)),
    1.280: ((0.0, 0.25, 0.50, 0.75, 1.0), (1.130, 1.190, 1.220, 1.250, 1.280)),
}


def require_charge(state_of_charge: ArrayLike) -> Any:
    """The state of charge as an array, or `OutOfRange`.

    Source: definition.
    """
    charge = np.asarray(state_of_charge, dtype=float)
    require((charge >= 0) & (charge <= 1), "state of charge", charge, "", "between 0 and 1")
    return charge


@units(state_of_charge="", nominal_voltage="V", chemistry="", returns="V")
def rested_voltage(
    state_of_charge: ArrayLike, nominal_voltage: float = 12.0, chemistry: str = "flooded"
) -> Any:
    """Voltage of a battery at rest, near 25 degC.

    Parameters
    ----------
    state_of_charge : float or array
        0 (flat) to 1 (full).
    nominal_voltage : float
        Of the whole bank: 12, 24, 48; for lfp cells of 3.2 V: 12.8, 25.6, 51.2. [V]
    chemistry : str
        "flooded", "agm" or "lfp".

    Returns
    -------
    float or array
        Voltage between the bank's posts. [V]

    Examples
    --------
    >>> float(rested_voltage(0.5, 48.0))
    48.96

    Source: industry table for flooded 12 V batteries, seen in reprints; lfp from memory, check.
    """
    charges, voltages = choice(_REST_VOLTAGE, chemistry, "battery chemistry")
    cells = cell_count(nominal_voltage, chemistry)
    return np.interp(require_charge(state_of_charge), charges, voltages) * cells


@units(nominal_voltage="V", chemistry="", returns="")
def cell_count(nominal_voltage: float, chemistry: str = "flooded") -> int:
    """Cells in series of a bank.

    Parameters
    ----------
    nominal_voltage : float
        Of the whole bank; for lfp 48 is read as 51.2, as the trade says it. [V]
    chemistry : str
        "flooded", "agm" or "lfp".

    Returns
    -------
    int
        Cells in series.

    Examples
    --------
    >>> cell_count(48.0), cell_count(48.0, "lfp"), cell_count(51.2, "lfp")
    (24, 16, 16)

    Source: definition.
    """
    cell = float(choice(_CELL_VOLTAGE, chemistry, "battery chemistry"))
    require(nominal_voltage > 0, "nominal voltage", nominal_voltage, "V", "more than 0")
    if chemistry == "lfp" and nominal_voltage % 12 == 0:
        return round(nominal_voltage / 12) * 4
    return round(nominal_voltage / cell)


@units(voltage="V", nominal_voltage="V", chemistry="", returns="")
def charge_from_voltage(
    voltage: ArrayLike, nominal_voltage: float = 12.0, chemistry: str = "flooded"
) -> Any:
    """State of charge from the voltage of a bank at rest.

    Not corrected for temperature: the voltage at rest moves by about 0.2 mV a degree and cell,
    less than a meter shows. On lfp it says little between 0.2 and 0.9: count amp-hours there.

    Parameters
    ----------
    voltage : float or array
        After several hours without charge or load; below the table counts as flat. [V]
    nominal_voltage : float
        Of the whole bank. [V]
    chemistry : str
        "flooded", "agm" or "lfp".

    Returns
    -------
    float or array
        0 (flat) to 1 (full).

    Raises
    ------
    OutOfRange
        No voltage, or one so high that the bank is not at rest.

    Examples
    --------
    >>> float(charge_from_voltage(12.24)), float(charge_from_voltage(48.96, 48.0))
    (0.5, 0.5)

    Source: industry table for flooded 12 V batteries, seen in reprints; lfp from memory, check.
    """
    charges, voltages = choice(_REST_VOLTAGE, chemistry, "battery chemistry")
    cells = cell_count(nominal_voltage, chemistry)
    limit = _NOT_AT_REST[chemistry] * cells
    reading = np.asarray(voltage, dtype=float)
    require(
        (reading > 0) & (reading <= limit),
        "voltage at rest",
        reading,
        "V",
        f"more than 0 and at most {limit:.1f} (above that the bank is charging or has not rested)",
    )
    return np.interp(reading / cells, voltages, charges)


@units(voltage="V", reading_error="V", nominal_voltage="V", chemistry="", returns="")
def charge_bounds(
    voltage: float,
    reading_error: float,
    nominal_voltage: float = 12.0,
    chemistry: str = "flooded",
) -> tuple[float, float]:
    """Lowest and highest state of charge that fit a reading with its error.

    Parameters
    ----------
    voltage : float
        Read on the bank at rest. [V]
    reading_error : float
        How far off the meter and the settling may be, either way; >= 0. [V]
    nominal_voltage : float
        Of the whole bank. [V]
    chemistry : str
        "flooded", "agm" or "lfp".

    Returns
    -------
    tuple of float
        Lowest and highest state of charge, 0 to 1.

    Examples
    --------
    >>> low, high = charge_bounds(51.2 * 3.28 / 3.2, 0.4, 51.2, "lfp")
    >>> high - low > 0.25    # a voltage says little about lithium iron phosphate
    True

    Source: definition, over the tables of `charge_from_voltage`.
    """
    require(reading_error >= 0, "reading error", reading_error, "V", "0 or more")
    ceiling = _NOT_AT_REST[chemistry] * cell_count(nominal_voltage, chemistry)
    require(0 < voltage <= ceiling, "voltage at rest", voltage, "V", f"at most {ceiling:.1f}")
    ends = np.array([voltage - reading_error, min(voltage + reading_error, ceiling)])
    low, high = charge_from_voltage(ends, nominal_voltage, chemistry)
    return float(low), float(high)


@units(gravity="", temperature="degC", returns="")
def gravity_at_reference(gravity: ArrayLike, temperature: ArrayLike) -> Any:
    """Specific gravity corrected to 80 degF.

    Parameters
    ----------
    gravity : float or array
        As read on the hydrometer, 1.000 to 1.350.
    temperature : float or array
        Of the electrolyte, not of the room. [degC]

    Returns
    -------
    float or array
        Specific gravity at 80 degF (26.7 degC).

    Examples
    --------
    >>> round(float(gravity_at_reference(1.250, (40 - 32) / 1.8)), 3)
    1.234

    Source: 0.004 for 10 degF, industry table seen in reprints (the naval rule, 0.001 for 3 degF in
    NAVEDTRA 14344, differs by rounding).
    """
    reading = np.asarray(gravity, dtype=float)
    require((reading >= 1) & (reading <= 1.35), "specific gravity", reading, "", "1.000 to 1.350")
    return reading + 0.0004 * (fahrenheit(np.asarray(temperature, dtype=float)) - REFERENCE_DEGF)


@units(gravity="", temperature="degC", full_gravity="", returns="")
def charge_from_gravity(
    gravity: ArrayLike, temperature: ArrayLike = REFERENCE_DEGC, full_gravity: float = 1.265
) -> Any:
    """State of charge of a flooded cell from its hydrometer reading.

    Parameters
    ----------
    gravity : float or array
        As read on the hydrometer.
    temperature : float or array
        Of the electrolyte. [degC]
    full_gravity : float
        Of the full cell as filled by the maker: 1.265 or 1.280.

    Returns
    -------
    float or array
        0 (flat) to 1 (full); readings outside the table count as flat or full.

    Examples
    --------
    >>> float(charge_from_gravity(1.190)), float(charge_from_gravity(1.220, full_gravity=1.280))
    (0.5, 0.5)

    Source: industry table for 1.265 (seen in reprints); US Army TM 5-1185, Table II for 1.280.
    """
    charges, gravities = choice(GRAVITY, full_gravity, "full specific gravity")
    return np.interp(gravity_at_reference(gravity, temperature), gravities, charges)


@units(state_of_charge="", full_gravity="", returns="")
def gravity_from_charge(state_of_charge: ArrayLike, full_gravity: float = 1.265) -> Any:
    """Specific gravity at 80 degF that goes with a state of charge.

    Parameters
    ----------
    state_of_charge : float or array
        0 (flat) to 1 (full).
    full_gravity : float
        Of the full cell: 1.265 or 1.280.

    Returns
    -------
    float or array
        Specific gravity at 80 degF.

    Examples
    --------
    >>> float(gravity_from_charge(0.25))
    1.155

    Source: as `charge_from_gravity`.
    """
    charges, gravities = choice(GRAVITY, full_gravity, "full specific gravity")
    return np.interp(require_charge(state_of_charge), charges, gravities)


@units(gravities="", returns="")
def gravity_spread(gravities: ArrayLike) -> float:
    """Largest difference between any two cells; compare `UNSERVICEABLE_SPREAD` when full.

    Parameters
    ----------
    gravities : array
        Corrected readings of all cells of one battery.

    Returns
    -------
    float
        Highest less lowest.

    Examples
    --------
    >>> round(gravity_spread([1.265, 1.260, 1.235]), 3)
    0.03

    Source: definition.
    """
    return float(np.ptp(np.asarray(gravities, dtype=float)))
