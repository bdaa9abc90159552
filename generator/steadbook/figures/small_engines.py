"""Two-stroke mix and how long fuel keeps in the can.

DANGER: gasoline vapour burns and explodes. Mix and fill outdoors with the engine cold, away from
flames, from a marked can stood on the ground.
"""

from __future__ import annotations

from datetime import date

import numpy as np

from steadbook.figures._declare import require, units
from steadbook.figures._factors import Number
from steadbook.units import CalendarInterval, add_interval

SHELF_MONTHS = {
    ("gasoline with ethanol", False): 1,
    ("gasoline with ethanol", True): 6,
    ("gasoline without ethanol", False): 3,
    ("gasoline without ethanol", True): 12,
    ("two-stroke mix", False): 1,
    ("two-stroke mix", True): 3,
}
"""Months that fuel keeps, sealed and cool, without and with stabiliser: the short end of what is
said. Source: common practice, no source."""


@units(fuel="L", ratio="", returns="mL")
def mix_oil(fuel: Number, ratio: Number) -> Number:
    """Two-stroke oil to add to an amount of gasoline.

    Parameters
    ----------
    fuel : float or array
        Gasoline; >= 0. [L]
    ratio : float or array
        Parts of gasoline to one of oil, from the machine's manual: 50, 40, 32; 10 to 100.

    Returns
    -------
    float or array
        Oil. [mL]

    Raises
    ------
    OutOfRange
        A negative amount, or a ratio outside its limits (such as 0.02 or 1:50 the wrong way).

    Examples
    --------
    >>> mix_oil(5.0, 50)
    100.0

    Source: definition.
    """
    require(np.asarray(fuel) >= 0, "gasoline", fuel, "L", "0 or more")
    good = (np.asarray(ratio) >= 10) & (np.asarray(ratio) <= 100)
    require(good, "mix ratio", ratio, "", "10 to 100 parts of gasoline to one of oil")
    return fuel * 1000 / ratio


def use_by(bought: date, fuel: str, is_stabilised: bool = False) -> date:
    """Day by which fuel is used up.

    >>> use_by(date(2026, 10, 31), "gasoline with ethanol", is_stabilised=True)
    datetime.date(2027, 4, 30)

    Source: common practice, no source; `SHELF_MONTHS`.
    """
    kinds = sorted({kind for kind, _ in SHELF_MONTHS})
    require(fuel in kinds, "fuel", fuel, "", f"one of {', '.join(kinds)}")
    return add_interval(bought, CalendarInterval(months=SHELF_MONTHS[fuel, is_stabilised]))
