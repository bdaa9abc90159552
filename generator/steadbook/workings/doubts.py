"""Words of doubt: what is possible but hardly true, and what a home should not be without."""

from __future__ import annotations

from collections.abc import Iterator

from steadbook.errors import Problem
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import (
    Alarms,
    Array,
    Chimney,
    Extinguishers,
    Genset,
    Load,
    Machine,
    SmallEngine,
    Stove,
)
from steadbook.workings.doubtful_fit import doubtful_fit
from steadbook.workings.doubtful_log import doubtful_log
from steadbook.workings.doubtful_plates import doubtful_plates
from steadbook.workings.doubtful_specs import doubtful_specs
from steadbook.workings.plant import toward_noon_sun

TROPIC = 23.44  # degrees of latitude; Source: definition, the tilt of the Earth's axis
FLAT = 15.0
"""Tilt below which an array may face anywhere [deg]. Source: common practice, no source."""


def doubts(homestead: Homestead) -> Iterator[Problem]:
    """A warning for each entry that is possible but hardly true, or that is missing."""
    yield from doubtful_specs(homestead)
    yield from doubtful_plates(homestead)
    yield from doubtful_fit(homestead)
    yield from doubtful_log(homestead)
    yield from _far_side(homestead)
    yield from _turned_away(homestead)
    yield from _unguarded(homestead)


def _far_side(homestead: Homestead) -> Iterator[Problem]:
    """A place that dials 911 and lies where nobody does: the minus of its longitude is missing.

    911 is the number of North America (47 USC 251(e)(3) for the United States), which lies west.
    Beyond 55 degrees east, north of the Philippines, no country dials it: from memory, check.
    """
    place = homestead.place
    dials_911 = (place.emergency or "").strip().strip("\"'") == "911"
    if dials_911 and place.latitude > 24 and 55 < place.longitude < 169:
        yield homestead.files.problem(
            place,
            ("longitude",),
            f"{place.longitude:g}, east of Greenwich, and the emergency number 911",
            "a negative number in North America, where 911 is dialled",
            f"write {-place.longitude:g}; the sun, and all that is worked out of it, follow",
            warning=True,
        )


def _turned_away(homestead: Homestead) -> Iterator[Problem]:
    """An array that faces the pole: the noon sun of a winter stands behind it.

    Source: definition; between the tropics the noon sun stands on either side.
    """
    latitude = homestead.place.latitude
    toward = toward_noon_sun(latitude)
    for array in homestead.machines.values():
        if not isinstance(array, Array) or abs(latitude) <= TROPIC:
            continue
        plate = array.plate
        if plate.tilt is None or plate.azimuth is None or plate.tilt.to("deg") < FLAT:
            continue
        off = abs((plate.azimuth.to("deg") - toward + 180) % 360 - 180)
        if off > 90:
            yield homestead.files.problem(
                array,
                ("plate", "azimuth"),
                f"{plate.azimuth.text}, away from the noon sun at latitude {latitude:g}",
                f"toward {toward:g} deg or thereabouts, from north eastward: north 0, south 180",
                "correct the azimuth, or the sign of `latitude:`, which is negative in the south",
                warning=True,
            )


def _unguarded(homestead: Homestead) -> Iterator[Problem]:
    """Fuel is burned, and no alarm for carbon monoxide or no extinguisher is entered."""
    burning = [one for one in homestead.machines.values() if _burns(one)]
    if not burning:
        return
    kept = homestead.machines.values()
    first = burning[0]
    if not any(isinstance(o, Alarms) and o.plate.senses == "carbon monoxide" for o in kept):
        yield homestead.files.problem(
            first, (), f"{first.name}, which burns fuel, and no carbon monoxide alarm anywhere",
            "a CO alarm outside each sleeping area (in the US: IRC R315, NFPA 72)",
            "hang alarms and add them to safety.yaml as `kind: alarms`, with "
            "`senses: carbon monoxide` on the plate",
            warning=True,
        )  # fmt: skip
    if not any(isinstance(one, Extinguishers) for one in kept):
        yield homestead.files.problem(
            first, (), f"{first.name}, which burns fuel, and no fire extinguisher anywhere",
            "extinguishers within reach, looked at every month (in the US: NFPA 10)",
            "hang them and add them to safety.yaml as `kind: extinguishers`",
            warning=True,
        )  # fmt: skip


def _burns(machine: Machine) -> bool:
    if isinstance(machine, Genset | Stove | Chimney | SmallEngine):
        return True
    return isinstance(machine, Load) and (
        machine.fed_by is not None or machine.plate.input is not None
    )
