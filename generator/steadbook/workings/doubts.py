"""Words of doubt: a torque not of its thread (260 for 26), more used than the shelf held."""

from __future__ import annotations

from collections.abc import Iterator

from steadbook import units
from steadbook.errors import OutOfRange, Problem
from steadbook.figures.plausible import TorqueRange, torque_range
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Spec
from steadbook.workings import words
from steadbook.workings.shelf import overdrawn

SOFT_JOINT = 3.0
"""A gasket, a hollow plug or an aluminium thread takes less than its bolt could bear, down to a
third; none takes more than the bolt. Common practice, no source."""


def doubts(homestead: Homestead) -> Iterator[Problem]:
    """A warning for each entry that is possible but hardly true."""
    yield from _torques(homestead)
    yield from _shelf(homestead)


def _shelf(homestead: Homestead) -> Iterator[Problem]:
    """A warning for each part of which more was used than the shelf held."""
    for one in overdrawn(homestead):
        like = homestead.parts[one.part].on_hand
        used, had, came = (words.amount(size, like) for size in (one.used, one.had, one.received))
        day = one.counted.day
        yield homestead.files.problem(
            one.service,
            ("parts", one.part),
            f"{used} of {one.part} used since the count of {day}",
            f"{had} counted and {came} received by then: the shelf cannot give more",
            f"count it again (steadbook record count --part {one.part}), or record what came",
            warning=True,
        )


def _torques(homestead: Homestead) -> Iterator[Problem]:
    """A warning for each spec whose torque is far from what its thread bears."""
    for machine in homestead.machines.values():
        for name, spec in machine.specs.items():
            torque, limits = spec.torque, _limits(spec)
            if torque is None or limits is None:
                continue
            least, most = (
                float(units.convert(one, "N*m", torque.unit))
                for one in (limits.least / SOFT_JOINT, limits.most)
            )
            high = torque.magnitude if torque.high is None else torque.high
            if high <= most and torque.magnitude >= least:
                continue
            word = "much" if high > most else "little"
            on = f"{spec.thread} {spec.grade}" if spec.grade else spec.thread
            prefer = homestead.place.units
            yield homestead.files.problem(
                machine,
                ("specs", name, "torque"),
                f"{torque.text}, which is {word} for {on}",
                f"from {units.show_value(least, torque.unit, prefer, digits=2)} to "
                f"{units.show_value(most, torque.unit, prefer, digits=2)} on such a thread",
                "look in the maker's manual at the decimal point and the unit (N*m, lbf*ft or "
                "lbf*in), and at the thread; what the maker says wins",
                warning=True,
            )


def _limits(spec: Spec) -> TorqueRange | None:
    """What the thread bears; None where the thread or its grade is none of those in the tables."""
    if spec.thread is None:
        return None
    for grade in (spec.grade, None):
        try:
            return torque_range(spec.thread, grade)
        except OutOfRange:
            continue
    return None
