"""Torque of bolts and spark plugs: what a thread can bear, and whether a figure is plausible.

The maker's torque always wins. These ranges exist to catch a slip of the pen, 260 for 26 or
N*m for lbf*ft, before it strips a thread.
"""

from __future__ import annotations

import math
import re
from typing import Any, NamedTuple

from steadbook.errors import OutOfRange
from steadbook.figures._declare import require, units
from steadbook.figures._factors import INCH, PSI, Number

NUT_FACTORS = {"plain, dry": 0.20, "zinc, dry": 0.22, "oiled": 0.15, "waxed": 0.10}
"""K of T = K D F. Source: bolt-torque pages of an engineering reference and a conveyor safety
guide; real joints scatter by 25 to 30 % either way (common practice, no source)."""

PROOF_SHARE = 0.75  # of proof load, for joints to be undone again; common practice


class Grade(NamedTuple):
    """Strength of a bolt and the largest diameter for which it holds."""

    proof_stress: float  # MPa
    largest: float  # mm


_INCH_THREADS, _METRIC_THREADS = "inch", "metric"
_THREAD_DEPTHS = {_METRIC_THREADS: 0.9382, _INCH_THREADS: 0.9743}  # pitches taken off

GRADES = {
    "4.6": (_METRIC_THREADS, (Grade(225, 39),)),
    "5.8": (_METRIC_THREADS, (Grade(380, 39),)),
    "8.8": (_METRIC_THREADS, (Grade(580, 16), Grade(600, 39))),
    "10.9": (_METRIC_THREADS, (Grade(830, 39),)),
    "12.9": (_METRIC_THREADS, (Grade(970, 39),)),
    "grade 2": (
        _INCH_THREADS,
        (Grade(55_000 * PSI / 1000, 0.75 * INCH), Grade(33_000 * PSI / 1000, 1.5 * INCH)),
    ),
    "grade 5": (
        _INCH_THREADS,
        (Grade(85_000 * PSI / 1000, 1.0 * INCH), Grade(74_000 * PSI / 1000, 1.5 * INCH)),
    ),
    "grade 8": (_INCH_THREADS, (Grade(120_000 * PSI / 1000, 1.5 * INCH),)),
}
"""Proof stress. Source: ISO 898-1, seen through a distributor's table of proof loads, and SAE
J429, seen in a hardware supplier's table."""

COARSE_PITCHES = {
    3: 0.5, 4: 0.7, 5: 0.8, 6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2.0, 16: 2.0, 18: 2.5,
    20: 2.5, 22: 2.5, 24: 3.0, 27: 3.0, 30: 3.5, 33: 3.5, 36: 4.0, 39: 4.0,
}  # fmt: skip
"""Pitch of the coarse series by diameter, both mm. Source: ISO 261."""

NUMBER_SIZES = {4: 0.112, 5: 0.125, 6: 0.138, 8: 0.164, 10: 0.190, 12: 0.216}
"""Diameter of numbered inch screws, in. Source: ASME B1.1: 0.060 + 0.013 times the number."""

SPARK_PLUGS = {  # (mm, seat): {head: (least, most) lbf*ft}
    (10, "gasket"): {"cast iron": (7, 11), "aluminium": (7, 11)},
    (12, "gasket"): {"cast iron": (11, 19), "aluminium": (11, 19)},
    (14, "gasket"): {"cast iron": (26, 29), "aluminium": (15, 22)},
    (14, "taper"): {"cast iron": (7, 15), "aluminium": (7, 15)},
    (18, "gasket"): {"cast iron": (32, 38), "aluminium": (28, 34)},
    (18, "taper"): {"cast iron": (15, 20), "aluminium": (15, 20)},
}
"""Dry threads. Source: LSU AgCenter, Spark plug tightening torque, 2006. A plug maker's table is
a little lower; with anti-seize take 20 to 30 % less (common practice, no source)."""


class Thread(NamedTuple):
    """A screw thread as its designation tells it."""

    diameter: float  # mm
    pitch: float  # mm
    series: str  # metric or inch


class SparkPlug(NamedTuple):
    """The thread of a spark plug and how it seals."""

    diameter: int  # mm
    seat: str  # gasket or taper


_METRIC = re.compile(r"M\s*(\d+(?:\.\d+)?)(?:\s*[x×]\s*(\d+(?:\.\d+)?))?", re.IGNORECASE)
_INCH = re.compile(
    r"(?:#(\d+)|(\d+)(?:[ -](\d+/\d+))?|(\d+/\d+))\s*-\s*(\d+)(?:\s*UN[CFJR]*)?", re.IGNORECASE
)
_PLUG = re.compile(r"(\d+)\s*mm[ ,]+(?:spark plug[ ,]+)?(gasket|taper)", re.IGNORECASE)
DESIGNATIONS = "a thread such as M8, M14x1.5, 3/8-16 or #10-24, or a plug such as 14 mm gasket"


def _fraction(text: str | None) -> float:
    above, below = (text or "0/1").split("/")
    return int(above) / int(below) if int(below) else math.nan


@units(designation="", returns="")
def parse_thread(designation: str) -> Thread | SparkPlug:
    """Read a thread designation as people write it.

    Parameters
    ----------
    designation : str
        Such as M8 (coarse pitch), M14x1.5, 3/8-16 UNC, 10-24 (screw number 10, not ten inches)
        or 14 mm gasket.

    Returns
    -------
    Thread or SparkPlug
        What it says, inch threads turned into mm.

    Raises
    ------
    OutOfRange
        A text that names no thread.

    Examples
    --------
    >>> parse_thread("M14x1.5")
    Thread(diameter=14.0, pitch=1.5, series='metric')
    >>> parse_thread("14 mm gasket")
    SparkPlug(diameter=14, seat='gasket')

    Source: designations of ISO 965-1 and ASME B1.1; plugs as the trade says them.
    """
    text = designation.strip().removesuffix('"').replace('"', "")
    if found := _PLUG.fullmatch(text):
        plug = SparkPlug(int(found[1]), found[2].lower())
        if plug in SPARK_PLUGS:
            return plug
    elif found := _METRIC.fullmatch(text):
        diameter = float(found[1])
        pitch = float(found[2]) if found[2] else COARSE_PITCHES.get(diameter, math.nan)  # type: ignore[call-overload]
        if 0.1 * diameter / 4 < pitch < diameter / 3:
            return Thread(diameter, pitch, _METRIC_THREADS)
    elif found := _INCH.fullmatch(text):
        number, whole, part, alone, threads = found.groups()
        if number is None and part is None and whole is not None and int(whole) in NUMBER_SIZES:
            number = whole
        inches = (
            NUMBER_SIZES.get(int(number), math.nan)
            if number
            else int(whole or 0) + _fraction(part or alone)
        )
        if int(threads) and 3 / int(threads) < inches <= 4:
            return Thread(inches * INCH, INCH / int(threads), _INCH_THREADS)
    raise OutOfRange("thread", repr(designation), "", DESIGNATIONS)


@units(diameter="mm", pitch="mm", series="", returns="mm2")
def stress_area(diameter: Number, pitch: Number, series: str = "metric") -> Any:
    """Area of a threaded rod that bears the pull.

    Parameters
    ----------
    diameter : float or array
        Nominal diameter; > 0. [mm]
    pitch : float or array
        Distance from thread to thread, above 0 and below the diameter. [mm]
    series : str
        ``metric`` or ``inch``: the two standards take a little off differently.

    Returns
    -------
    float or array
        Tensile stress area. [mm2]

    Raises
    ------
    OutOfRange
        No diameter, a pitch that does not fit it, or a series of another name.

    Examples
    --------
    >>> round(stress_area(8.0, 1.25), 1)
    36.6

    Source: ISO 898-1, pi/4 (d - 0.9382 P)^2, and ASME B1.1, 0.7854 (D - 0.9743 / n)^2; from
    memory, checked against their tables.
    """
    if series not in _THREAD_DEPTHS:
        raise OutOfRange("thread series", repr(series), "", " or ".join(_THREAD_DEPTHS))
    require(diameter > 0, "thread diameter", diameter, "mm", "more than 0")
    require(
        (pitch > 0) & (pitch < diameter), "thread pitch", pitch, "mm", "above 0, below the diameter"
    )
    return math.pi / 4 * (diameter - _THREAD_DEPTHS[series] * pitch) ** 2


@units(thread="", grade="", returns="MPa")
def proof_stress(thread: Thread, grade: str) -> float:
    """Stress a bolt must bear without taking a set.

    Parameters
    ----------
    thread : Thread
        From `parse_thread`.
    grade : str
        Property class or grade, a name of `GRADES` of the same series.

    Returns
    -------
    float
        Proof stress for that diameter. [MPa]

    Raises
    ------
    OutOfRange
        A grade not listed for the series, or a bolt thicker than the grade is made.

    Examples
    --------
    >>> proof_stress(parse_thread("M8"), "8.8")
    580

    Source: ISO 898-1 and SAE J429, seen in reprints; see `GRADES`.
    """
    fitting = [name for name, (series, _) in GRADES.items() if series == thread.series]
    if grade not in fitting:
        raise OutOfRange(
            f"grade of an {thread.series} bolt".replace("an m", "a m"),
            repr(grade),
            "",
            "one of " + ", ".join(fitting),
        )
    rows = GRADES[grade][1]
    largest = rows[-1].largest
    require(
        thread.diameter <= largest + 0.01,
        "bolt diameter",
        thread.diameter,
        "mm",
        f"at most {largest:g} for {grade}",
    )
    return next(row.proof_stress for row in rows if thread.diameter <= row.largest + 0.01)


@units(diameter="mm", pull="N", nut_factor="", returns="N*m")
def torque(diameter: Number, pull: Number, nut_factor: Number = 0.20) -> Any:
    """Torque that stretches a bolt to a pull.

    Parameters
    ----------
    diameter : float or array
        Nominal diameter; > 0. [mm]
    pull : float or array
        Clamping force wanted; >= 0. [N]
    nut_factor : float or array
        K, from `NUT_FACTORS`; above 0, at most 0.5.

    Returns
    -------
    float or array
        Torque T = K D F. [N*m]

    Raises
    ------
    OutOfRange
        No diameter, a negative pull, a nut factor no joint has.

    Examples
    --------
    >>> round(torque(8.0, 15_900.0), 2)
    25.44

    Source: common practice, T = K D F.
    """
    require(diameter > 0, "thread diameter", diameter, "mm", "more than 0")
    require(pull >= 0, "clamping force", pull, "N", "0 or more")
    require(
        (nut_factor > 0) & (nut_factor <= 0.5), "nut factor", nut_factor, "", "above 0, at most 0.5"
    )
    return nut_factor * diameter / 1000 * pull


@units(thread="", grade="", share="", returns="N")
def clamping_force(thread: Thread, grade: str, share: Number = PROOF_SHARE) -> Any:
    """Pull a bolt is tightened to.

    Parameters
    ----------
    thread : Thread
        From `parse_thread`.
    grade : str
        Property class or grade.
    share : float or array
        Share of the proof load, above 0 and at most 1; 0.75 for joints to be undone again.

    Returns
    -------
    float or array
        Share of stress area times proof stress. [N]

    Raises
    ------
    OutOfRange
        As `proof_stress`; or a share outside 0 to 1.

    Examples
    --------
    >>> round(clamping_force(parse_thread("M8"), "8.8"), -2)
    15900.0

    Source: common practice; loads of ISO 898-1 and SAE J429.
    """
    require((share > 0) & (share <= 1), "share of proof load", share, "", "above 0, at most 1")
    return share * stress_area(*thread) * proof_stress(thread, grade)
