"""Safety dates: extinguishers, alarms, regulators, cylinders, stored water, what runs out of date."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from steadbook.figures import safety
from steadbook.figures._factors import GALLON
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.household import ExtinguisherUnit
from steadbook.inventory.models import (
    Alarms,
    Cylinders,
    DatedStores,
    Extinguishers,
    Machine,
    Regulator,
    StoredWater,
)
from steadbook.units import CalendarInterval, add_interval
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.known import INVENTORY, Facts, Sheet, last_done

USUAL_LIFE = {
    "smoke": safety.SMOKE_ALARM_YEARS,
    "carbon monoxide": safety.CARBON_MONOXIDE_ALARM_YEARS,
    "propane": safety.GAS_DETECTOR_YEARS,
}
LIFE_SOURCE = {
    "smoke": "NFPA 72 29.10: 10 years, seen in a reprint",
    "carbon monoxide": "the life printed on the unit; 5 years, the shortest, without it",
    "propane": "common practice, no source: 5 years without a figure on the unit",
}
ALARM_WORDS = {"smoke": "smoke alarm", "carbon monoxide": "CO alarm", "propane": "gas detector"}


@dataclass(frozen=True)
class SafetyDate:
    """Something to be done by a day, for one unit at its place."""

    day: date
    what: str
    place: str
    machine: Machine
    figure: Figure
    task: str
    made: date | None = None

    @property
    def title(self) -> str:
        """What to do, as a task says it: `Replace: CO alarm, Utility room`."""
        return f"{self.task}, {self.place}" if self.place else self.task


@dataclass(frozen=True)
class DateGroup:
    """Dates that are alike: the same thing by the same day at several places."""

    day: date
    what: str
    dates: tuple[SafetyDate, ...]


def _grouped(dates: list[SafetyDate]) -> tuple[DateGroup, ...]:
    alike: dict[tuple[date, str], list[SafetyDate]] = {}
    for one in dates:
        alike.setdefault((one.day, one.what), []).append(one)
    return tuple(DateGroup(day, what, tuple(found)) for (day, what), found in alike.items())


@dataclass(frozen=True)
class SafetyPages:
    """What the pages of safety show: dates, the soonest first, and amounts."""

    dates: tuple[SafetyDate, ...]
    groups: tuple[DateGroup, ...]
    amounts: tuple[Sheet, ...]
    extinguishers: tuple[tuple[Machine, str, ExtinguisherUnit], ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All of them."""
        amounts = tuple(figure for sheet in self.amounts for figure in sheet.figures)
        return (*(one.figure for one in self.dates), *amounts)


def safety_pages(homestead: Homestead) -> SafetyPages:
    """Every date that is worked out from a date on a unit."""
    amounts, units = [], []
    for machine in homestead.machines.values():
        if isinstance(machine, Extinguishers):
            units += [(machine, name, unit) for name, unit in machine.plate.units.items()]
        elif isinstance(machine, StoredWater):
            amounts.append(Sheet.of(machine, _water_amount(Facts(homestead, machine), machine)))
    dates = safety_dates(homestead)
    return SafetyPages(tuple(dates), _grouped(dates), tuple(amounts), tuple(units))


def safety_dates(homestead: Homestead) -> list[SafetyDate]:
    """The dates of all units, the soonest first."""
    dates: list[SafetyDate] = []
    for machine in homestead.machines.values():
        facts = Facts(homestead, machine)
        if isinstance(machine, Extinguishers):
            dates += _extinguishers(facts, machine)
        elif isinstance(machine, Alarms):
            dates += _alarms(facts, machine)
        elif isinstance(machine, Regulator) and machine.made is not None:
            dates.append(_regulator(facts, machine, machine.made))
        elif isinstance(machine, Cylinders):
            dates += _cylinders(facts, machine)
        elif isinstance(machine, StoredWater):
            dates += _water_change(facts, machine)
        elif isinstance(machine, DatedStores):
            dates += _dated(facts, machine)
    return sorted(dates, key=lambda one: (one.day, one.figure.key))


def _date(
    facts: Facts,
    word: str,
    what: str,
    place: str,
    day: date,
    working: str,
    *inputs: Input,
    task: str,
    source: str,
    made: date | None = None,
    caution: str = "",
) -> SafetyDate:
    figure = facts.figure(
        word, f"{what}, {place}" if place else what, words.day(day), (working,), *inputs,
        source=source, caution=caution,
    )  # fmt: skip
    return SafetyDate(day, what, place, facts.machine, figure, task, made)


# --- extinguishers --------------------------------------------------------------------------


def _latest(made: date, *days: date | None) -> date | None:
    """The last of some days on which something was done; none before it was made."""
    return max((day for day in days if day is not None and day >= made), default=None)


def _extinguishers(facts: Facts, machine: Extinguishers) -> Iterator[SafetyDate]:
    begins = (
        ("serviced", ("service", "maintenance")),
        ("opened", ("internal", "six-year")),
        ("tested", ("hydro", "pressure-test")),
    )
    records = {key: last_done(facts, *names) for key, names in begins}
    logged = {key: record[0] if record else None for key, record in records.items()}
    for name, unit in machine.plate.units.items():
        done = {key: _latest(unit.made, getattr(unit, key), logged[key]) for key in logged}
        dates = safety.extinguisher_dates(unit.made, unit.agent, **done)
        opened = _latest(unit.made, done["opened"], done["tested"])
        made = Input("made", words.day(unit.made), facts.where("plate", "units", name, "made"))
        agent = facts.given("agent", unit.agent, "plate", "units", name)
        internal, test = safety.EXTINGUISHER_YEARS[unit.agent]
        rows = (
            ("service", "Yearly maintenance: extinguisher", "extinguisher: yearly maintenance due", dates.service, done["serviced"], 1, "NFPA 10 (2010) 7.3"),
            ("internal", "Open and examine: extinguisher", "extinguisher: to be opened and examined", dates.internal, opened, internal, "NFPA 10 (1998) 4-4.3"),
            ("hydrostatic", "Pressure test or replace: extinguisher", "extinguisher: to be pressure tested or replaced", dates.hydrostatic, done["tested"], test, "NFPA 10 (2010) table 8.3.1"),
            ("discard", "Replace: extinguisher", "extinguisher: to be replaced", dates.discard, None, safety.NON_RECHARGEABLE_YEARS, "NFPA 10 (2010) 7.3, 12 years, from memory, check"),
        )  # fmt: skip
        for word, task, what, day, last, years, source in rows:
            if day is None or years is None:
                continue
            begun = f"last done {words.day(last)}" if last else f"made {words.day(unit.made)}"
            yield _date(
                facts, f"{name}-{word}", what, unit.place, day,
                f"{begun[0].upper()}{begun[1:]} + {years:g} year{'s' if years != 1 else ''} = {words.day(day)}.",
                made, agent, task=task, source=f"{source}, seen in reprints", made=unit.made,
                caution="Leave it to a licensed shop." if word in ("internal", "hydrostatic") else "",
            )  # fmt: skip


# --- alarms, regulators, cylinders ----------------------------------------------------------


def _years(life: CalendarInterval) -> float:
    return life.months / 12 + life.days / 365.25


def _alarms(facts: Facts, machine: Alarms) -> Iterator[SafetyDate]:
    plate, senses = machine.plate, machine.plate.senses
    units: list[tuple[str, str, date, CalendarInterval | None, tuple[str, ...]]] = [
        (name, unit.place, unit.made, unit.life, ("plate", "units", name, "made"))
        for name, unit in plate.units.items()
    ]
    if not units and machine.made is not None:
        units = [("all", machine.place or "", machine.made, None, ("made",))]
    for name, place, made, own_life, where in units:
        life = own_life or plate.life
        interval = life or CalendarInterval(months=round(USUAL_LIFE[senses] * 12))
        day = add_interval(made, interval)
        printed = life.text if life else f"{USUAL_LIFE[senses]:g} years"
        yield _date(
            facts, f"{name}-replace", f"{ALARM_WORDS[senses]}: to be replaced", place, day,
            f"Made {words.day(made)} + {printed} = {words.day(day)}; it counts from manufacture.",
            Input("made", words.day(made), facts.where(*where)), source=LIFE_SOURCE[senses],
            task=f"Replace: {ALARM_WORDS[senses]}", made=made,
        )  # fmt: skip


def _regulator(facts: Facts, machine: Regulator, made: date) -> SafetyDate:
    day = safety.regulator_replacement(made, _years(machine.plate.life))
    return _date(
        facts, "replace-by", "propane regulator: to be replaced", machine.place or "", day,
        f"Made {words.day(made)} + {machine.plate.life.text} = {words.day(day)}.",
        Input("made", words.day(made), facts.where("made")),
        task="Replace: propane regulator", made=made,
        source="makers' figures in the LP-gas trade press, Dec 2006",
        caution="By a licensed gas fitter. Salt air, floods or a buried dome shorten its life.",
    )  # fmt: skip


def _cylinders(facts: Facts, machine: Cylinders) -> Iterator[SafetyDate]:
    for name, unit in machine.plate.units.items():
        done = unit.requalified if unit.requalified and unit.requalified >= unit.made else None
        day = safety.cylinder_requalification(unit.made, done, unit.method)
        begun = (
            f"Requalified {words.day(done)} ({unit.method})"
            if done
            else f"Made {words.day(unit.made)}"
        )
        years = safety.CYLINDER_YEARS[unit.method] if done else safety.CYLINDER_FIRST_YEARS
        size = f" {unit.size.text}" if unit.size else ""
        yield _date(
            facts, f"{name}-requalify", f"propane cylinder{size}: to be requalified or swapped",
            unit.place or machine.place or "", day,
            f"{begun} + {years:g} years = {words.day(day)}.",
            Input("made", words.day(unit.made), facts.where("plate", "units", name, "made")),
            task=f"Requalify or swap: propane cylinder{size}", made=unit.made,
            source="49 CFR 180.209 table 1, (e), (g), seen in trade notices",
            caution="After it the cylinder is not to be filled; what is in it may be used.",
        )  # fmt: skip


# --- stores ---------------------------------------------------------------------------------


def _water_change(facts: Facts, machine: StoredWater) -> Iterator[SafetyDate]:
    done = last_done(facts, "change")
    if done is None and machine.plate.filled:
        done = machine.plate.filled, facts.where("plate", "filled")
    if done is None:
        return
    day = safety.stored_water_change(done[0])
    yield _date(
        facts, "change-by", "stored water: to be changed", machine.place or "", day,
        f"{words.day(done[0])} + {safety.STORED_WATER_MONTHS} months = {words.day(day)}.",
        Input("last changed", words.day(done[0]), done[1]),
        task="Change: stored water",
        source="FEMA, Red Cross: each 6 months, seen in reprints",
    )  # fmt: skip


def _water_amount(facts: Facts, machine: StoredWater) -> Iterator[Figure]:
    plate, volume = machine.plate, facts.plate("volume")
    if plate.people and plate.days:
        animals = facts.plate("animals")
        need = float(
            safety.stored_water(plate.people, plate.days, other=animals.to("L") if animals else 0.0)
        )
        daily = need / plate.days
        value = facts.show(need, "L")
        steps = [
            f"{plate.people} people x {plate.days} days x {facts.show(safety.WATER_EACH_DAY, 'L')}"
            f"{f' + {animals.quantity.text} a day for animals' if animals else ''} = {value}."
        ]
        short = ""
        if volume:
            lasts = volume.to("L") / daily
            steps.append(f"{volume.quantity.text} lasts {lasts:.1f} days.")
            short = "Too little stored for that." if volume.to("L") < need - 0.5 else ""
        yield facts.figure(
            "need", f"water for {plate.days} days", value, tuple(steps), volume, animals,
            facts.given("people", str(plate.people), "plate", "people"),
            source="FEMA, Red Cross, CDC: 1 US gal a person a day, seen in reprints", caution=short,
        )  # fmt: skip
    drops = safety.bleach_drops(GALLON, 6.0)
    yield facts.figure(
        "drops", "plain bleach of 5 to 6 % to make a gallon drinkable", f"{drops} drops",
        (f"{drops} drops a gallon (3.8 L), {safety.bleach_drops(GALLON, 6.0, True)} if it is cloudy "
         f"or very cold; {safety.bleach_drops(GALLON, 8.25)} of 8.25 %. Stir, wait 30 minutes.",),
        source="CDC, Make Water Safe",
        caution="Boiling is surer. Neither does anything against fuel, salts or metals.",
    )  # fmt: skip


def _dated(facts: Facts, machine: DatedStores) -> Iterator[SafetyDate]:
    for number, (item, entry) in enumerate(machine.plate.items.items()):
        amount = f" ({entry.amount})" if entry.amount else ""
        yield _date(
            facts, f"item-{number + 1}", f"{item}{amount}: out of date",
            machine.place or "", entry.best_by, "The date on it.",
            Input(item, words.day(entry.best_by), facts.where("plate", "items", item, "best_by")),
            task=f"Replace: {item}{amount}", source=INVENTORY,
        )  # fmt: skip
