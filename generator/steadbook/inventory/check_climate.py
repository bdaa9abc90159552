"""What the climate's and the what-if's entries must agree on among themselves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from steadbook.errors import Problem, QuantityError
from steadbook.inventory.climate import Climate, HeavyLoad
from steadbook.inventory.explain import listing, nearest
from steadbook.inventory.fields import MONTHS, read_month_day
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import BatteryBank, Genset, Inverter, Machine

MOST_LIGHT = 12.0  # kWh/m2 on a day; no place on earth has more
PLANT: dict[str, type[Machine]] = {"genset": Genset, "bank": BatteryBank, "inverter": Inverter}


def check_climate(homestead: Homestead) -> list[Problem]:
    """Every problem of climate.yaml and what-if.yaml."""
    climate = homestead.climate
    found: list[Problem] = []
    if climate is not None:
        found += [
            *_months(homestead, climate),
            *_house(homestead, climate),
            *_heavy_loads(homestead, climate),
            *_rule(homestead, climate),
            *_plant(homestead, climate),
        ]
    return [*found, *_what_if(homestead)]


def _months(homestead: Homestead, climate: Climate) -> Iterator[Problem]:
    missing = [month for month in MONTHS if month not in climate.months]
    if missing:
        yield homestead.files.problem(
            climate, ("months",), f"no {listing(missing)}", "all twelve months",
            "add them; the light may be copied from the nearest weather station's table",
        )  # fmt: skip
    for name, month in climate.months.items():
        if month.sun.to("kWh/m2") > MOST_LIGHT:
            yield homestead.files.problem(
                climate, ("months", name, "sun"), month.sun.text,
                f"the mean of one day, at most {MOST_LIGHT:g} kWh/m2",
                "divide a month's sum by its days; MJ/m2 divided by 3.6 are kWh/m2",
            )  # fmt: skip
        if not 0 <= month.snow_days <= 28:
            yield homestead.files.problem(
                climate, ("months", name, "snow_days"), f"{month.snow_days:g} days",
                "0 to 28 days of the month", "count the days on which nothing came in",
            )  # fmt: skip


def _house(homestead: Homestead, climate: Climate) -> Iterator[Problem]:
    named: Counter[str] = Counter(
        month for season in climate.house.values() for month in season.months
    )
    wrong = [month for month in MONTHS if named[month] != 1]
    if wrong:
        words = [f"{month} {named[month]} times" for month in wrong]
        yield homestead.files.problem(
            climate, ("house",), listing(words), "seasons that name each month once",
            "correct the lists `months:` of the seasons",
        )  # fmt: skip
    for name, season in climate.house.items():
        hours = Counter(hour for span in season.power for hour in span.clock)
        off = [f"{hour} h {hours[hour]} times" for hour in range(24) if hours[hour] != 1]
        if off:
            yield homestead.files.problem(
                climate, ("house", name, "power"), listing(off),
                "spans that hold each hour of the day once", "such as 22-6, 6-9, 9-17 and 17-22",
            )  # fmt: skip


def _heavy_loads(homestead: Homestead, climate: Climate) -> Iterator[Problem]:
    for name, load in climate.heavy_loads.items():
        yield from _one_load(homestead, climate, ("heavy_loads", name), load)


def _one_load(
    homestead: Homestead, entry: object, inside: tuple[str, ...], load: HeavyLoad
) -> Iterator[Problem]:
    span = len(load.hours.clock)
    if load.daily.to("h") > span:
        yield homestead.files.problem(
            entry, (*inside, "daily"), load.daily.text,
            f"no more than its {span} hours of the day ({load.hours.text})",
            "correct the running time or the hours",
        )  # fmt: skip
    if not 1 <= load.days_a_week <= 7:
        yield homestead.files.problem(
            entry, (*inside, "days_a_week"), str(load.days_a_week), "1 to 7", "correct it"
        )


def _rule(homestead: Homestead, climate: Climate) -> Iterator[Problem]:
    rule = climate.run_rule
    if rule.stop_at.to("%") <= rule.start_below.to("%"):
        yield homestead.files.problem(
            climate, ("run_rule", "stop_at"), rule.stop_at.text,
            f"more than start_below ({rule.start_below.text})", "correct one of the two",
        )  # fmt: skip


def _plant(homestead: Homestead, climate: Climate) -> Iterator[Problem]:
    if "machine" in homestead.files.unread:
        return
    for key, kind in PLANT.items():
        name = getattr(climate.plant, key)
        known = [one for one, machine in homestead.machines.items() if isinstance(machine, kind)]
        if name is not None and name not in known:
            yield _unknown(homestead, climate, ("plant", key), f"the {key} {name!r}", known)


def _unknown(
    homestead: Homestead,
    entry: object,
    inside: tuple[str | int, ...],
    what: str,
    known: Iterable[str],
) -> Problem:
    names = sorted(known)
    word = what.split("'")[1]
    return homestead.files.problem(
        entry, inside, f"{what}, which does not exist", listing(names),
        nearest(word, names) or "correct the name",
    )  # fmt: skip


def _what_if(homestead: Homestead) -> Iterator[Problem]:
    what_if, climate = homestead.what_if, homestead.climate
    if what_if is None:
        return
    if climate is None and "load" not in homestead.files.unread:
        yield homestead.files.problem(
            what_if, (), "no climate.yaml beside it", "a climate.yaml to compare with",
            "write site_data/climate.yaml first, or remove this file",
        )  # fmt: skip
    for name, change in what_if.changes.items():
        inside = ("changes", name)
        if change.heavy_load is not None:
            yield from _one_load(homestead, what_if, (*inside, "heavy_load"), change.heavy_load)
        loads = climate.heavy_loads if climate else {}
        for number, one in enumerate(change.without):
            if climate is not None and one not in loads:
                where = (*inside, "without", number)
                yield _unknown(homestead, what_if, where, f"the heavy load {one!r}", loads)
        if change.cold is not None:
            try:
                read_month_day(change.cold.first)
            except QuantityError as error:
                yield homestead.files.problem(
                    what_if, (*inside, "cold", "first"), error.found, error.allowed, error.fix
                )
