"""Whether a torque can belong to a thread, a gap to a plug or a valve."""

from __future__ import annotations

from typing import NamedTuple

from steadbook.errors import OutOfRange
from steadbook.figures._declare import require, units
from steadbook.figures._factors import FOOT_POUND
from steadbook.figures.fasteners import (
    SPARK_PLUGS,
    SparkPlug,
    clamping_force,
    parse_thread,
    torque,
)

SCATTER = 0.30  # of K from joint to joint; common practice, no source
WEAKEST = {"metric": ("4.6", 0.10), "inch": ("grade 2", 0.10)}  # waxed, soft: least torque
PLUG_GAP = (0.3, 2.1)  # mm; magnetos 0.016 in, widest coil ignition 0.080 in: from memory, check
VALVE_LASH = (0.02, 1.0)  # mm; small engines 0.002 in to large diesels: common practice, no source
STRONGEST = {"metric": ("12.9", 0.22), "inch": ("grade 8", 0.22)}  # zinc, hard: most torque


class TorqueRange(NamedTuple):
    """Least and most torque that makes sense on a thread."""

    least: float  # N*m
    most: float  # N*m


class Verdict(NamedTuple):
    """Whether a torque is ``within``, ``low`` or ``high``, and the range it was held against."""

    word: str
    range: TorqueRange


@units(thread="", grade="", head="", returns="N*m")
def torque_range(thread: str, grade: str | None = None, head: str | None = None) -> TorqueRange:
    """Torques that make sense on a thread.

    Parameters
    ----------
    thread : str
        Designation, such as M8, M14x1.5, 3/8-16 or 14 mm gasket.
    grade : str, optional
        Property class or grade of the bolt; left out, any common one is allowed for.
    head : str, optional
        ``cast iron`` or ``aluminium`` for a spark plug; left out, either.

    Returns
    -------
    TorqueRange
        For a bolt of known grade 75 % of proof at K 0.20, less and more by 30 %; for an unknown
        one from soft and waxed to hard and dry; for a plug the table. [N*m]

    Raises
    ------
    OutOfRange
        A thread that cannot be read, a grade or head not listed.

    Examples
    --------
    >>> least, most = torque_range("M8", "8.8")
    >>> round(least, 1), round(most, 1)
    (17.8, 33.1)

    Source: T = K D F with its usual scatter, common practice; plugs: LSU AgCenter, 2006.
    """
    read = parse_thread(thread)
    if isinstance(read, SparkPlug):
        heads = SPARK_PLUGS[read]
        if head is not None and head not in heads:
            raise OutOfRange("cylinder head", repr(head), "", "one of " + ", ".join(heads))
        ranges = [heads[head]] if head else list(heads.values())
        least, most = min(low for low, _ in ranges), max(high for _, high in ranges)
        return TorqueRange(least * FOOT_POUND, most * FOOT_POUND)
    if grade is not None:
        usual = torque(read.diameter, clamping_force(read, grade))
        return TorqueRange(usual * (1 - SCATTER), usual * (1 + SCATTER))
    soft, slippery = WEAKEST[read.series]
    hard, rough = STRONGEST[read.series]
    return TorqueRange(
        torque(read.diameter, clamping_force(read, soft), slippery),
        torque(read.diameter, clamping_force(read, hard), rough),
    )


@units(value="N*m", thread="", grade="", head="", returns="")
def plausible(
    value: float, thread: str, grade: str | None = None, head: str | None = None
) -> Verdict:
    """Whether a torque can belong to a thread.

    Parameters
    ----------
    value : float
        The torque in question; > 0. [N*m]
    thread : str
        Designation, such as M8, M14x1.5, 3/8-16 or 14 mm gasket.
    grade : str, optional
        Property class or grade of the bolt.
    head : str, optional
        ``cast iron`` or ``aluminium`` for a spark plug.

    Returns
    -------
    Verdict
        ``within``, ``low`` or ``high``, and the range. A word of doubt, not a torque to use.

    Raises
    ------
    OutOfRange
        A torque of zero or less, or as `torque_range`.

    Examples
    --------
    >>> plausible(25.0, "M8", "8.8").word, plausible(250.0, "M8", "8.8").word
    ('within', 'high')

    Source: as `torque_range`.
    """
    require(value > 0, "torque", value, "N*m", "more than 0")
    limits = torque_range(thread, grade, head)
    if value < limits.least:
        return Verdict("low", limits)
    return Verdict("high" if value > limits.most else "within", limits)
