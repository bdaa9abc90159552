"""A battery in the cold: where its electrolyte freezes and what capacity is left.

**WARNING: a frozen battery can burst or explode when charged or jump-started. Thaw it slowly
above freezing, look for cracks, and do not use it if the case is split.**
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures._choice import choice
from steadbook.figures._declare import require, units
from steadbook.figures._factors import celsius, fahrenheit
from steadbook.figures.battery import GRAVITY

# Specific gravity -> freezing point [degF]. US Army OD1002, TM 5-1185 Tables II to IV and
# TM 10-6140-200-14 Table 1-1; 1.050 from a vehicle owner's manual. A widely copied web table shows
# 1.120 and 1.155 safe some 20 to 25 degF colder (Celsius under a Fahrenheit heading): not used.
_FREEZING_GRAVITY = (1.000, 1.050, 1.100, 1.150, 1.160, 1.200, 1.220, 1.250, 1.280)
_FREEZING_DEGF = (32.0, 27.0, 19.0, 5.0, 1.0, -16.0, -31.0, -62.0, -90.0)

# Temperature [degF] -> capacity left. US Army TM 10-6140-200-14, para 1-9.
_CAPACITY_DEGF = (0.0, 32.0, 80.0)
_CAPACITY_LEFT = (0.40, 0.75, 1.0)


@units(gravity="", returns="degC")
def freezing_point(gravity: ArrayLike) -> Any:
    """Temperature at which the electrolyte begins to freeze.

    Parameters
    ----------
    gravity : float or array
        Specific gravity at 80 degF, 1.000 to 1.280.

    Returns
    -------
    float or array
        Freezing point. [degC]

    Examples
    --------
    >>> round(float(freezing_point(1.150)), 1)
    -15.0

    Source: US Army OD1002, TM 5-1185 Tables II to IV, TM 10-6140-200-14 Table 1-1.
    """
    value = np.asarray(gravity, dtype=float)
    require((value >= 1) & (value <= 1.28), "specific gravity", value, "", "1.000 to 1.280")
    return celsius(np.interp(value, _FREEZING_GRAVITY, _FREEZING_DEGF))


@units(temperature="degC", margin="degC", full_gravity="", returns="")
def charge_against_freezing(
    temperature: ArrayLike, margin: float = 5.0, full_gravity: float = 1.265
) -> Any:
    """Lowest state of charge at which a flooded battery does not freeze.

    Parameters
    ----------
    temperature : float or array
        Coldest the battery itself will be. [degC]
    margin : float
        Kept between that and the freezing point; >= 0. [degC]
    full_gravity : float
        Of the full cell: 1.265 or 1.280.

    Returns
    -------
    float or array
        0 to 1; nan where even a full battery would be within the margin.

    Examples
    --------
    >>> round(float(charge_against_freezing(-20.0)), 2)
    0.52

    Source: `freezing_point` and `gravity_from_charge`, read backwards.
    """
    require(margin >= 0, "margin", margin, "degC", "0 or more")
    charges, gravities = choice(GRAVITY, full_gravity, "full specific gravity")
    # between the charge's own rows the freezing table has rows too: keep them all
    known = np.union1d(
        gravities, [g for g in _FREEZING_GRAVITY if gravities[0] < g < gravities[-1]]
    )
    coldest = freezing_point(known)[::-1]
    charge = np.interp(known, gravities, charges)[::-1]
    return np.interp(np.subtract(temperature, margin), coldest, charge, left=np.nan)


@units(temperature="degC", returns="")
def capacity_left(temperature: ArrayLike) -> Any:
    """Share of the rated capacity a lead-acid battery gives at a temperature.

    Below 0 degF, the last of the table, its slope is carried on: an extrapolation. Sources differ
    by 10 points at freezing and 20 at 0 degF; this one is the lowest seen.

    Parameters
    ----------
    temperature : float or array
        Of the battery, -40 to 52. [degC]

    Returns
    -------
    float or array
        0 to 1, where 1 is the capacity at 80 degF and above.

    Examples
    --------
    >>> float(capacity_left(0.0))
    0.75

    Source: US Army TM 10-6140-200-14, para 1-9.
    """
    value = np.asarray(temperature, dtype=float)
    require((value >= -40) & (value <= 52), "battery temperature", value, "degC", "-40 to 52")
    degf = fahrenheit(value)
    slope = (_CAPACITY_LEFT[1] - _CAPACITY_LEFT[0]) / (_CAPACITY_DEGF[1] - _CAPACITY_DEGF[0])
    below = np.maximum(0.0, _CAPACITY_LEFT[0] + slope * np.minimum(0.0, degf))
    return np.where(degf < 0, below, np.interp(degf, _CAPACITY_DEGF, _CAPACITY_LEFT))[()]
