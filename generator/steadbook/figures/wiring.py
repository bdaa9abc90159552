"""Voltage lost in a cable, and what a conductor may carry.

DANGER: mains and battery cables burn and kill. The electrical code of the place and a licensed
electrician decide size and fuse; these figures only tell whether a voltage makes sense.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from steadbook.errors import OutOfRange
from steadbook.figures._declare import require, units
from steadbook.figures._factors import FOOT, Number


class Conductor(NamedTuple):
    """A copper or aluminium conductor by its gauge."""

    circular_mils: float
    copper: float  # ohm for 1,000 ft at 75 degC, direct current
    aluminium: float  # ohm for 1,000 ft at 75 degC, direct current
    ampacity: float  # A, copper at 75 degC, not more than three in a conduit at 30 degC


CONDUCTORS = {
    "14": Conductor(4_110, 3.07, 5.06, 20),
    "12": Conductor(6_530, 1.93, 3.18, 25),
    "10": Conductor(10_380, 1.21, 2.00, 35),
    "8": Conductor(16_510, 0.764, 1.26, 50),
    "6": Conductor(26_240, 0.491, 0.808, 65),
    "4": Conductor(41_740, 0.308, 0.508, 85),
    "2": Conductor(66_360, 0.194, 0.319, 115),
    "1/0": Conductor(105_600, 0.122, 0.201, 150),
    "2/0": Conductor(133_100, 0.0967, 0.159, 175),
    "4/0": Conductor(211_600, 0.0608, 0.100, 230),
}
"""Source: NEC chapter 9 table 8 (14 to 8 AWG are its solid rows, 2 to 3 % below the stranded)
and table 310.16 of 2023; both seen in reprints. Breakers on 14, 12 and 10 AWG copper are held to
15, 20 and 30 A by 240.4(D)."""

SMALL_BREAKERS = {"14": 15.0, "12": 20.0, "10": 30.0}  # A
ADVISED_DROP = 0.03  # of the voltage, NEC informational notes to 210.19 and 215.2
CIRCULAR_MIL_RESISTANCE = {"copper": 12.9, "aluminium": 21.2}  # ohm*cmil/ft at 75 degC


def _conductor(gauge: str) -> Conductor:
    if gauge not in CONDUCTORS:
        raise OutOfRange("conductor gauge", repr(gauge), "AWG", "one of " + ", ".join(CONDUCTORS))
    return CONDUCTORS[gauge]


@units(gauge="", metal="", returns="ohm/km")
def resistance(gauge: str, metal: str = "copper") -> float:
    """Resistance of a conductor at 75 degC, direct current.

    Parameters
    ----------
    gauge : str
        A name of `CONDUCTORS`, such as 6 or 2/0.
    metal : str
        ``copper`` or ``aluminium``.

    Returns
    -------
    float
        Resistance, one way; a fifth less at 20 degC. [ohm/km]

    Raises
    ------
    OutOfRange
        A gauge or metal not listed.

    Examples
    --------
    >>> round(resistance("6"), 2)
    1.61

    Source: NEC chapter 9 table 8, seen in a reprint.
    """
    if metal not in CIRCULAR_MIL_RESISTANCE:
        raise OutOfRange("metal", repr(metal), "", "copper or aluminium")
    row = _conductor(gauge)
    return (row.copper if metal == "copper" else row.aluminium) / FOOT


@units(current="A", length="m", resistance="ohm/km", returns="V")
def voltage_drop(current: Number, length: Number, resistance: Number) -> Any:
    """Voltage lost in both wires of a cable, direct current or single phase.

    Parameters
    ----------
    current : float or array
        Current; >= 0. [A]
    length : float or array
        Length of the run, one way; >= 0. [m]
    resistance : float or array
        Of one wire, from `resistance`; > 0. [ohm/km]

    Returns
    -------
    float or array
        Loss there and back; reactance of large cables is left out. [V]

    Raises
    ------
    OutOfRange
        A negative current or length, no resistance.

    Examples
    --------
    >>> round(voltage_drop(40.0, 45.72, resistance("6")), 2)
    5.89

    Source: definition, V = 2 I L R.
    """
    require(current >= 0, "current", current, "A", "0 or more")
    require(length >= 0, "cable length", length, "m", "0 or more")
    require(resistance > 0, "resistance", resistance, "ohm/km", "more than 0")
    return 2 * current * length * resistance / 1000


@units(current="A", gauge="", length="m", metal="", returns="V")
def circular_mil_drop(current: Number, gauge: str, length: Number, metal: str = "copper") -> Any:
    """Voltage lost by the trade's circular-mil rule, for comparison.

    Parameters
    ----------
    current : float or array
        Current; >= 0. [A]
    gauge : str
        A name of `CONDUCTORS`.
    length : float or array
        Length of the run, one way; >= 0. [m]
    metal : str
        ``copper`` or ``aluminium``.

    Returns
    -------
    float or array
        Loss there and back. [V]

    Raises
    ------
    OutOfRange
        A gauge or metal not listed, a negative current or length.

    Examples
    --------
    >>> round(circular_mil_drop(20.0, "10", 30.48), 2)
    4.97

    Source: V = 2 K I L / CM with K 12.9 copper, 21.2 aluminium at 75 degC; pages on the NEC.
    """
    if metal not in CIRCULAR_MIL_RESISTANCE:
        raise OutOfRange("metal", repr(metal), "", "copper or aluminium")
    per_foot = CIRCULAR_MIL_RESISTANCE[metal] / _conductor(gauge).circular_mils
    return voltage_drop(current, length, per_foot * 1000 / FOOT)


@units(drop="V", voltage="V", returns="%")
def drop_percent(drop: Number, voltage: Number) -> Any:
    """Loss as a share of the voltage at the source.

    Parameters
    ----------
    drop : float or array
        Voltage lost; >= 0. [V]
    voltage : float or array
        Voltage at the source; > 0, at least the drop. [V]

    Returns
    -------
    float or array
        Share; 3 in a branch and 5 in all is the usual advice. [%]

    Raises
    ------
    OutOfRange
        A drop below 0 or above the voltage.

    Examples
    --------
    >>> round(drop_percent(5.892, 240.0), 2)
    2.46

    Source: definition; advice of the NEC's informational notes to 210.19 and 215.2.
    """
    require(voltage > 0, "voltage", voltage, "V", "more than 0")
    require((drop >= 0) & (drop <= voltage), "voltage drop", drop, "V", "from 0 to the voltage")
    return 100 * drop / voltage
