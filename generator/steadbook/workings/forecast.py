"""What the schedule takes from the made-up winters: a dozen numbers, kept beside the winters.

They lie under a hash of the entries they came from, so that a quick look at what is due neither
makes the winters nor loads what makes them.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise
from math import sqrt
from pathlib import Path

from steadbook.errors import OutOfRange
from steadbook.figures import usage
from steadbook.figures.evidence import blended, weight_of_log
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.kept import write_whole
from steadbook.inventory.models import Array, BatteryBank, Genset, Inverter
from steadbook.workings import winter
from steadbook.workings.tasks import Running

MODEL_DOUBT = 0.25  # how far off a whole simulated year may be for want of knowing load and light
FAR_APART = 62  # days between readings, beyond which they say little of a season
FILE = "forecast.json"
RULE = (
    "In each month the meter counts n/(n + 1) where it has seen that month n times, "
    "and the made-up winters the rest"
)


@dataclass(frozen=True)
class MadeUp:
    """Genset hours a day by month, January first [h/d], and how much whole years differ."""

    hours_a_day: tuple[float, ...]
    year_spread: float
    winters: int


def charging_genset(homestead: Homestead) -> Genset | None:
    """The genset that charges the bank: the one named, or the first that is no spare."""
    names = homestead.climate.plant if homestead.climate else None
    found = [one for one in homestead.machines.values() if isinstance(one, Genset)]
    if names and names.genset:
        return next((one for one in found if one.id == names.genset), None)
    return next((one for one in found if not one.spare), None)


def made_up(homestead: Homestead, kept: Path | None) -> MadeUp | None:
    """The made-up hours of the homestead's genset; None where they cannot be made."""
    if homestead.climate is None:
        return None
    key = _key(homestead)
    found = _read(kept, key)
    if found is None:
        from steadbook.workings.plant import plant_of

        case = plant_of(homestead).case
        if case is None:
            return None
        try:
            ahead = winter.outlook(case, kept)
        except OutOfRange:
            return None  # the page of the winter tells why
        other = homestead.climate.run_rule.other_hours.to("h")
        found = MadeUp(ahead.hours_a_day(other), ahead.year_spread, ahead.winters)
        _write(kept, key, found)
    return found


def _key(homestead: Homestead) -> str:
    """A hash of every entry that the winters are made from, and of the model's source."""
    plant = [
        (one.id, one.spare, repr(one.plate), repr(getattr(one, "charge_limit", None)))
        for one in homestead.machines.values()
        if isinstance(one, Genset | BatteryBank | Inverter | Array)
    ]
    tests = [repr(one) for one in homestead.log.measurements if one.spec == winter.CAPACITY_SPEC]
    place = homestead.place
    entries = [repr(homestead.climate), plant, tests, place.latitude, repr(place.elevation)]
    mixed = hashlib.sha256(json.dumps(entries).encode())
    mixed.update(winter.model_source())
    return mixed.hexdigest()[:24]


def _read(kept: Path | None, key: str) -> MadeUp | None:
    if kept is None:
        return None
    try:
        found = json.loads((kept / FILE).read_text("utf-8"))
        if found["key"] != key:
            return None
        hours = tuple(float(one) for one in found["hours_a_day"])
        return MadeUp(hours, float(found["year_spread"]), int(found["winters"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _write(kept: Path | None, key: str, found: MadeUp) -> None:
    if kept is None:
        return
    text = json.dumps(
        {
            "key": key,
            "hours_a_day": found.hours_a_day,
            "year_spread": found.year_spread,
            "winters": found.winters,
        }
    )
    with contextlib.suppress(OSError):  # keeping it only saves time
        write_whole(kept / FILE, text.encode())


def times_seen(running: Running) -> tuple[float, ...]:
    """How often the meter has seen each calendar month, parts counted.

    Readings far apart tell a year but no month: of such a stretch only two months' worth counts.
    """
    seen = [0.0] * 12
    for before, after in pairwise(running.readings):
        share = min(1.0, FAR_APART / max(1, (after[0] - before[0]).days))
        for (_, month), (days, _) in usage.hours_by_month([before, after]).items():
            seen[month - 1] += share * days / usage.MONTH_LENGTHS[month - 1]
    return tuple(seen)


def with_winters(running: Running, winters: MadeUp, as_of: date) -> Running:
    """The genset's hours with both kinds of evidence: its meter and the made-up winters."""
    if not running.marks:
        return running
    known = running.rate
    seen = times_seen(running) if known and known.days >= 30 else (0.0,) * 12
    measured = known.by_month if known else winters.hours_a_day
    rows = zip(measured, winters.hours_a_day, seen, strict=True)
    weights = [weight_of_log(one) for one in seen]
    weight = sum(weights) / 12
    doubt = sqrt(winters.year_spread**2 + MODEL_DOUBT**2)
    known = known or usage.UseRate(winters.hours_a_day, doubt)
    rate = replace(
        known,
        by_month=tuple(blended(*row) for row in rows),
        spread=weight * known.spread + (1 - weight) * doubt,
        evidence=_evidence(known, weights, winters.winters),
    )
    forecast = usage.hours_forecast(running.readings, rate, as_of)
    return replace(running, rate=rate, reckoned=forecast)


def _evidence(known: usage.UseRate, weights: Sequence[float], winters: int) -> str:
    if max(weights) == 0:
        return f"{winters:,} made-up winters of this plant, for want of meter readings"
    low, high = round(100 * min(weights)), round(100 * max(weights))
    share = f"{low} %" if low == high else f"{low} to {high} %"
    return (
        f"{known.evidence}, which count {share} by month; {winters:,} made-up winters of this "
        "plant count the rest"
    )
