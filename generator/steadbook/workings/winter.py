"""The winter ahead: made-up winters of the plant, kept by a hash of all that went in.

What is kept and what is newly made pass through the same text, so that a figure is the same with
or without it. The hash holds the source of every module behind the winters: another model, another
name.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from math import sqrt
from pathlib import Path
from typing import TYPE_CHECKING, Any

from steadbook import figures, units
from steadbook.figures import usage
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.kept import write_whole
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input

if TYPE_CHECKING:
    from steadbook.figures.winter import Season
    from steadbook.workings.plant import Case, Plant
    from steadbook.workings.tasks import Running

COUNT = 1000  # winters
KEPT_AT_MOST = 60  # files, of some 130 kB
LEDGER_COUNT = 20  # of them with every hour written down
SUN_COUNT = 200  # of them with the yield of each month
SEED = 1
YEAR = 2025  # any year without a 29 February: the winters belong to none
CAPACITY_SPEC = "capacity"  # a measurement of this spec is a capacity test
BEHIND = (
    "outlook", "winter", "cloud", "clearness", "panels", "sun", "load", "charge", "battery",
    "battery_care", "battery_cold", "consumption", "engine",
)  # fmt: skip
WORKINGS = ("winter.py", "plant.py")
SUMS = (
    "genset_hours", "starts", "genset_energy", "fuel", "days_below", "unserved", "spilled",
)  # fmt: skip


@dataclass(frozen=True)
class Range:
    """A figure over all winters: `low` and `high` leave one winter in ten to each side.

    `error` is the sampling error of the mean, one standard deviation.
    """

    mean: float
    low: float
    high: float
    error: float


@dataclass(frozen=True)
class Outlook:
    """What the winters of a case came to.

    `months` in the order of the season; `by_month` holds one `Range` a month for each figure,
    `whole` the season's. `hours` and `fuel` are each winter's own, (months, winters) [h, L].
    `discharged` is the energy out of the bank on a mean day of each month [kW*h].
    """

    case: Case
    months: tuple[int, ...]
    by_month: Mapping[str, tuple[Range, ...]]
    whole: Mapping[str, Range]
    hours: tuple[tuple[float, ...], ...]
    fuel: tuple[tuple[float, ...], ...]
    discharged: tuple[float, ...]
    winters: int

    def of(self, figure: str, month: int) -> Range:
        """A figure of one month, 1 to 12."""
        return self.by_month[figure][self.months.index(month)]

    def hours_a_day(self, other_hours: float = 0.0) -> tuple[float, ...]:
        """Genset hours a day by month, January first; ``other_hours`` in each month on top. [h/d]"""
        return tuple(
            (self.of("genset_hours", month).mean + other_hours) / usage.MONTH_LENGTHS[month - 1]
            for month in range(1, 13)
        )

    @property
    def year_spread(self) -> float:
        """Relative standard deviation of the genset hours of whole seasons."""
        sums = [sum(column) for column in zip(*self.hours, strict=True)]
        mean = sum(sums) / len(sums)
        if mean <= 0:
            return 0.0
        return float(sqrt(sum((one - mean) ** 2 for one in sums) / len(sums)) / mean)


def outlook(case: Case, kept: Path | None, count: int | None = None, whole: bool = True) -> Outlook:
    """The winters of a case, out of the folder ``kept`` where they lie there already.

    Without ``whole`` the yield by month and the bank's discharge are left out, which saves time.
    """
    count = count or COUNT
    name = key(case, count, whole)
    file = kept / f"{name}.json" if kept else None
    text = _read(file) if file else None
    if text is None:
        text = json.dumps(_made(case, count, whole), separators=(",", ":"))
        if file is not None:
            with contextlib.suppress(OSError):  # keeping it only saves time
                write_whole(file, text.encode())
                _prune(file.parent)
    return _outlook(case, json.loads(text))


def key(case: Case, count: int, whole: bool = True) -> str:
    """Name of a case: a hash of its numbers and of the source of the model."""
    mixed = hashlib.sha256(
        json.dumps([asdict(case), count, whole, LEDGER_COUNT, SUN_COUNT, SEED]).encode()
    )
    mixed.update(model_source())
    return mixed.hexdigest()[:24]


def model_source() -> bytes:
    """The source of every module behind the winters."""
    folder, here = Path(figures.__file__).parent, Path(__file__).parent
    paths = [*(folder / f"{name}.py" for name in BEHIND), *(here / name for name in WORKINGS)]
    return b"".join(path.read_bytes() for path in paths)


def _read(file: Path) -> str | None:
    """What was kept, if it is whole."""
    try:
        text = file.read_text("utf-8")
        whole = json.loads(text)
    except (OSError, ValueError):
        return None
    return text if isinstance(whole, dict) and "discharged" in whole else None


def _prune(folder: Path) -> None:
    """Only the youngest are kept: what has changed ten times is not asked for again."""
    old = sorted(folder.glob("*.json"), key=lambda path: path.stat().st_mtime, reverse=True)
    for path in old[KEPT_AT_MOST:]:
        path.unlink(missing_ok=True)


def _outlook(case: Case, found: dict[str, Any]) -> Outlook:
    def ranges(rows: Sequence[Sequence[float]]) -> tuple[Range, ...]:
        return tuple(Range(*row) for row in rows)

    return Outlook(
        case=case,
        months=tuple(found["months"]),
        by_month={name: ranges(rows) for name, rows in found["by_month"].items()},
        whole={name: Range(*row) for name, row in found["whole"].items()},
        hours=tuple(tuple(row) for row in found["hours"]),
        fuel=tuple(tuple(row) for row in found["fuel"]),
        discharged=tuple(found["discharged"]),
        winters=found["winters"],
    )


# --- making them ------------------------------------------------------------------------------


def _made(case: Case, count: int, whole: bool) -> dict[str, Any]:
    from steadbook.figures import outlook as ahead

    season = made_season(case, count)
    by_month: dict[str, list[list[float]]] = {}
    of_season: dict[str, list[float]] = {}
    for name, ranges in ahead.ranges(season).items():
        if name in (*SUMS, "lowest_charge"):
            by_month[name] = [_row(ranges[str(month)]) for month in season.months]
            of_season[name] = _row(ranges["all"])
    if whole:
        by_month["sun"] = _sun_by_month(case)
    return {
        "months": list(season.months),
        "by_month": by_month,
        "whole": of_season,
        "hours": season.genset_hours.round(1).tolist(),
        "fuel": season.fuel.round(1).tolist(),
        "discharged": _discharged(case) if whole else [],
        "winters": season.genset_hours.shape[1],
    }


def _row(one: Any) -> list[float]:
    return [one.mean, one.low, one.high, one.error]


def made_season(case: Case, count: int) -> Season:
    """Made-up winters of a case."""
    from steadbook.figures import outlook as ahead

    plant, rule, site, arrays, house = parts_of(case)
    return ahead.winters(
        plant, rule, arrays, site, house, date(YEAR, *case.first_day), case.days, count, SEED,
        case.start_charge, case.chemistry,
    )  # fmt: skip


def parts_of(case: Case) -> Any:
    """(plant, rule, site, arrays, hourly load) as the figures take them."""
    from steadbook.figures import outlook as ahead
    from steadbook.figures import panels, winter

    plant = winter.plant_of(
        case.voltage, case.usable_capacity, case.chemistry, case.charger_current,
        case.genset_power, case.no_load_fuel, case.fuel_per_energy, case.floor,
    )  # fmt: skip
    rule = winter.RunRule(
        case.start_below, case.stop_at, case.quiet, case.break_quiet_below, case.mark
    )
    site = ahead.Site(case.latitude, case.sun, case.air, case.snow_days, case.ground, case.bank_air)
    arrays = [panels.Array(power, tilt, azimuth) for power, tilt, azimuth in case.arrays]
    return plant, rule, site, arrays, _hourly_load(case)


def _hourly_load(case: Case) -> Any:
    """Load of each hour of the season; a load of two days a week falls on two days."""
    import numpy as np

    from steadbook.figures import load

    first = date(YEAR, *case.first_day)
    house = load.hourly_load(case.house, first, case.days) + case.extra_load
    day = np.arange(case.days)
    for one in case.loads:
        hours = load.hourly_load(one.profile, first, case.days).reshape(case.days, 24)
        # spread over the week: of 7 days, those on which the running sum steps up
        used = (day + 1) * one.days_a_week // 7 > day * one.days_a_week // 7
        house = house + (hours * used[:, np.newaxis]).ravel()
    return house


def _sun_by_month(case: Case) -> list[list[float]]:
    """What the arrays give on a mean day of each month of the season, over winters. [kW*h]"""
    import numpy as np

    from steadbook.figures import clearness, cloud, load
    from steadbook.figures import outlook as ahead

    _, _, site, arrays, _ = parts_of(case)
    first = date(YEAR, *case.first_day)
    months = load.months_of_days(first, case.days)
    monthly = clearness.monthly_clearness(site.monthly_global, site.latitude)
    days = cloud.daily_clearness(monthly, months, SUN_COUNT, SEED)
    snowy = np.asarray(site.snow_days)[months - 1] / 30.4
    drawn = np.random.default_rng([SEED, 1]).random((SUN_COUNT, case.days)).T
    snow = drawn < snowy[:, np.newaxis]
    sun = ahead.hourly_sun(arrays, site, months, first.timetuple().tm_yday, days, snow)
    by_day = sun.reshape(case.days, 24, -1).sum(axis=1)
    return [
        _row(ahead.spread(by_day[months == month].mean(axis=0)))
        for month in dict.fromkeys(months.tolist())
    ]


def _discharged(case: Case) -> list[float]:
    """Energy out of the bank on a mean day of each month of the season. [kW*h]"""
    import numpy as np

    from steadbook.figures import charge, clearness, cloud, load, winter
    from steadbook.figures import outlook as ahead

    plant, rule, site, arrays, house = parts_of(case)
    first = date(YEAR, *case.first_day)
    months = load.months_of_days(first, case.days)
    monthly = clearness.monthly_clearness(site.monthly_global, site.latitude)
    days = cloud.daily_clearness(monthly, months, LEDGER_COUNT, SEED)
    sun = ahead.hourly_sun(arrays, site, months, first.timetuple().tm_yday, days)
    ledger = winter.Ledger(24 * case.days, LEDGER_COUNT)
    warm = charge.charging_is_allowed(np.asarray(case.bank_air)[months - 1], case.chemistry)
    winter.season(plant, rule, house, sun, months, case.start_charge, warm, ledger)
    by_day = ledger.rows["discharge"].reshape(case.days, 24, -1).sum(axis=1).mean(axis=1)
    return [float(by_day[months == month].mean()) for month in dict.fromkeys(months.tolist())]


# --- figures ----------------------------------------------------------------------------------


def year_hours(ahead: Outlook, other_hours: float) -> float:
    """Genset hours of a year: charging and the rest. [h]"""
    return ahead.whole["genset_hours"].mean + 12 * other_hours


def winter_figures(
    homestead: Homestead, plant: Plant, ahead: Outlook | None, log_hours: Sequence[float | None]
) -> list[Figure]:
    """Hours and fuel of the made-up winters, with their working."""
    climate, case, genset = plant.climate, plant.case, plant.genset
    if ahead is None or climate is None or case is None or genset is None:
        return []
    prefer = homestead.place.units
    whole = ahead.whole["genset_hours"]
    quiet = f", quiet {climate.run_rule.quiet.text}" if climate.run_rule.quiet else ""
    rule = (
        f"The genset starts below {100 * case.start_below:.0f} % and stops at "
        f"{100 * case.stop_at:.0f} %{quiet}; bank {case.usable_capacity:,.0f} Ah as cold and old as "
        f"it is; charger {case.charger_current:.0f} A"
    )
    inputs = (
        Input("run rule", rule, homestead.files.where(climate, "run_rule")),
        Input("light", climate.source, homestead.files.where(climate, "months")),
        Input("load", f"{sum(case.daily_load()) / 12:.1f} kWh a day, mean of the year",
              homestead.files.where(climate, "house")),
    )  # fmt: skip
    source = (
        "days of light after Bendt and others 1981 and Graham and others 1988; energy balance hour "
        "by hour"
    )
    caution = (
        "Years differ by more than these: a cold that stays and a drift of the climate are not made "
        "up, and the load is taken as entered."
    )
    figures = [
        Figure(
            key=f"{genset.id}.year-ahead",
            title=f"{genset.name}: charging hours of a year, by {ahead.winters:,} made-up winters",
            value=words.hours(whole.mean),
            working=(
                f"{ahead.winters:,} years of days drawn from the table of light, each stepped hour "
                f"by hour: mean {whole.mean:.1f} h, sampling error {whole.error:.1f} h.",
                f"One year in ten is below {whole.low:.0f} h, one in ten above {whole.high:.0f} h.",
                _beside_log(ahead, climate.run_rule.other_hours.to("h"), log_hours),
            ),
            inputs=inputs,
            source=source,
            caution=caution,
        )
    ]
    if plant.fuel_is_known:
        fuel = ahead.whole["fuel"]
        figures.append(
            Figure(
                key=f"{genset.id}.charging-fuel",
                title=f"{genset.name}: fuel for charging in a year",
                value=units.show_value(fuel.mean, "L", prefer),
                working=(
                    f"{case.no_load_fuel:.2f} L in each hour plus {case.fuel_per_energy:.3f} L for "
                    f"each kWh, from the plate's two points: mean {fuel.mean:.0f} L, one year in ten "
                    f"above {fuel.high:.0f} L.",
                ),
                inputs=inputs,
                source="Willans line through the plate's fuel at half and full load",
                caution="The work it does besides charging comes on top.",
            )
        )
    return figures


def _beside_log(ahead: Outlook, other: float, log_hours: Sequence[float | None]) -> str:
    known = [(month, one) for month, one in enumerate(log_hours, 1) if one is not None]
    if not known:
        return "No full month of the meter to compare with yet."
    made = sum(ahead.of("genset_hours", month).mean + other for month, _ in known)
    read = sum(one for _, one in known)
    differs = f"{100 * (made / read - 1):+.0f} %" if read > 0 else "not to be compared"
    return (
        f"With {other:g} h a month of other running, {made:.0f} h in {len(known)} months against "
        f"{read:.0f} h by the meter in the same ones: {differs}.".replace("-", "\N{MINUS SIGN}")
    )


def log_by_month(running: Running | None) -> tuple[float | None, ...]:
    """Hours a month by the meter alone, mean of the years that saw at least ten days of it. [h]"""
    if running is None:
        return (None,) * 12
    readings = running.readings
    seen: list[list[float]] = [[] for _ in range(12)]
    for (_, month), (days, hours) in usage.hours_by_month(readings).items():
        if days >= 10:
            seen[month - 1].append(hours / days * usage.MONTH_LENGTHS[month - 1])
    return tuple(sum(one) / len(one) if one else None for one in seen)
