"""Water: pressure tank, cistern, lamp and filter, and all that the pages of water show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from steadbook import units
from steadbook.errors import OutOfRange
from steadbook.figures import safety, water
from steadbook.figures._factors import GALLON
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import (
    PressureTank,
    Tank,
    UvLamp,
    WaterFilter,
    WaterLine,
    WellPump,
)
from steadbook.units import CalendarInterval, add_interval
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.frost import FreezingTable, freezing_table, line_figures
from steadbook.workings.known import INVENTORY, Facts, Known, Sheet, last_done
from steadbook.workings.reserves import Reserve
from steadbook.workings.well import DoseTable, dose_tables, pump_figures, well_figures

ALIKE = 3.5  # kPa: two pressures that a gauge cannot tell apart; common practice, no source


@dataclass(frozen=True)
class WaterPages:
    """What the pages of water show."""

    sheets: tuple[Sheet, ...]
    doses: tuple[DoseTable, ...]
    freezing: FreezingTable

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All of them."""
        return tuple(figure for sheet in self.sheets for figure in sheet.figures)

    @property
    def lines(self) -> tuple[Sheet, ...]:
        """The water lines alone."""
        return tuple(one for one in self.sheets if isinstance(one.machine, WaterLine))


def water_pages(homestead: Homestead, reserves: Iterable[Reserve]) -> WaterPages:
    """Everything of the water that the inventory is enough for."""
    stocks = {one.tank.id: one for one in reserves}
    sheets: list[Sheet] = []
    doses: list[DoseTable] = []
    for machine in homestead.machines.values():
        facts = Facts(homestead, machine)
        if isinstance(machine, WellPump):
            sheets.append(Sheet.of(machine, [*pump_figures(facts, machine), *well_figures(facts)]))
            doses += dose_tables(facts)
        elif isinstance(machine, PressureTank):
            sheets.append(Sheet.of(machine, _pressure_tank(facts, machine)))
        elif isinstance(machine, Tank) and machine.plate.contents == "water":
            sheets.append(Sheet.of(machine, _cistern(facts, stocks.get(machine.id))))
        elif isinstance(machine, UvLamp):
            sheets.append(Sheet.of(machine, _lamp(facts, machine)))
        elif isinstance(machine, WaterFilter):
            sheets.append(Sheet.of(machine, _filter(facts)))
        elif isinstance(machine, WaterLine):
            sheets.append(Sheet.of(machine, line_figures(facts, machine)))
    return WaterPages(tuple(sheets), tuple(doses), freezing_table(homestead))


# --- tanks ----------------------------------------------------------------------------------


def _pressure_tank(facts: Facts, machine: PressureTank) -> Iterator[Figure]:
    cut_in, cut_out = facts.spec("cut-in", "pressure"), facts.spec("cut-out", "pressure")
    if cut_in is None:
        return
    rule = float(water.precharge(cut_in.to("kPa")))
    own = facts.spec("precharge", "pressure")
    yield _precharge(facts, cut_in, own, rule)
    set_to = own.to("kPa") if own else rule
    volume = facts.plate("capacity")
    if cut_out is None or volume is None:
        return
    try:
        yield from _cycle(facts, machine, volume, set_to, cut_in, cut_out)
    except OutOfRange as error:
        yield facts.figure(
            "drawdown", "drawdown", "not worked out", (f"{error}.",), volume, cut_in, cut_out,
            source=INVENTORY,
        )  # fmt: skip


def _precharge(facts: Facts, cut_in: Known, own: Known | None, rule: float) -> Figure:
    """The owner's precharge before the rule's, all in the unit of the switch. `rule` [kPa]."""

    def shown(pressure: float) -> str:
        unit = cut_in.quantity.unit
        return facts.show(float(units.convert(pressure, "kPa", unit)), unit)

    found = facts.measured("precharge", "pressure")
    low = shown(cut_in.to("kPa"))
    steps = [f"By the rule: {low} - {shown(water.PRECHARGE_BELOW_CUT_IN)} = {shown(rule)}."]
    value, caution = shown(rule), ""
    if own is not None:
        apart = own.to("kPa") - rule
        steps.insert(0, f"As entered: {shown(own.to('kPa'))}. It goes before the rule.")
        value = f"{shown(own.to('kPa'))}; the rule gives {shown(rule)}"
        if abs(apart) > ALIKE:
            caution = (
                f"The value entered is {shown(abs(apart))} {'above' if apart > 0 else 'below'} the "
                "rule's: see which one the tank's plate and the switch as set ask for."
            )
    if found and found.day:
        steps.append(f"Last found: {shown(found.to('kPa'))} on {words.day(found.day)}.")
    return facts.figure(
        "precharge", "precharge to set, pump off and tank drained", value, tuple(steps), own,
        cut_in, found, source="Water Systems Council, Jan 2007, seen in a reprint", caution=caution,
    )  # fmt: skip


def _cycle(
    facts: Facts,
    machine: PressureTank,
    volume: Known,
    set_to: float,
    cut_in: Known,
    cut_out: Known,
) -> Iterator[Figure]:
    height = facts.elevation()
    switch = (set_to, cut_in.to("kPa"), cut_out.to("kPa"), height.to("m"))
    given = float(water.drawdown(volume.to("L"), *switch))
    low, high = (facts.show(one.quantity.magnitude, one.quantity.unit) for one in (cut_in, cut_out))
    value = facts.show(given, "L")
    yield facts.figure(
        "drawdown", "drawdown: water between pump off and pump on", value,
        (
            f"{volume.quantity.text} x (P1/P2 - P1/P3), with the precharge, {low} "
            f"and {high} each above the air pressure of {height.quantity.text}: "
            f"{value}, {given / volume.to('L'):.0%} of the tank.",
        ),
        volume, cut_in, cut_out, height, source="Boyle's law",
    )  # fmt: skip
    flow = facts.plate("pump_flow")
    if flow is not None:
        yield _run(facts, volume, flow, given)
        yield _smallest(facts, machine, volume, flow, switch)


def _run(facts: Facts, volume: Known, flow: Known, given: float) -> Figure:
    run = float(water.run_time(given, flow.to("L/min")))
    shortest = float(water.cycle_time(given, flow.to("L/min"), flow.to("L/min") / 2))
    return facts.figure(
        "cycle", "one run of the pump with no tap open", f"{run * 60:.0f} s",
        (
            f"{facts.show(given, 'L')} / {flow.quantity.text} = {run * 60:.0f} s. With half of that drawn the pump "
            f"starts most often: every {shortest * 60:.0f} s.",
        ),
        volume, flow, source="definition",
        caution="Much shorter runs mean a tank full of water: low precharge or a torn bladder.",
    )  # fmt: skip


def _smallest(
    facts: Facts,
    machine: PressureTank,
    volume: Known,
    flow: Known,
    switch: tuple[float, float, float, float],
) -> Figure:
    wanted = machine.plate.shortest_run
    least = float(water.smallest_tank(flow.to("L/min"), *switch, wanted.to("min")))
    enough = volume.to("L") >= least
    return facts.figure(
        "smallest", "smallest tank for its pump",
        f"{facts.show(least, 'L')}; this one is {volume.quantity.text}",
        (
            f"A run of {wanted.text} at {flow.quantity.text} takes "
            f"{facts.show(flow.to('L/min') * wanted.to('min'), 'L')} of drawdown: "
            f"{facts.show(least, 'L')} of tank. This one, {volume.quantity.text}, is "
            f"{'large enough' if enough else 'TOO SMALL'}.",
        ),
        volume, flow,
        source="one minute's run between cycles, National Driller, seen in a reprint",
        caution="" if enough else "Too small: the pump starts too often. Add a second tank beside "
        "it, or fit a larger one.",
    )  # fmt: skip


def _cistern(facts: Facts, stock: Reserve | None) -> Iterator[Figure]:
    daily = facts.plate("daily_use")
    if stock is None or stock.usable is None or stock.read_on is None or daily is None:
        return
    days = float(water.cistern_days(stock.usable * GALLON, 0, 0.0, daily.to("L")))
    reaches = stock.read_on + timedelta(days=int(days))
    yield facts.figure(
        "days", "days to the reserve mark with nothing coming in", f"{days:.1f} days",
        (
            f"{facts.show(stock.usable, 'gal')} above the reserve mark on "
            f"{words.day(stock.read_on)} / {daily.quantity.text} a day = {days:.1f} days: until "
            f"{words.day(reaches)}.",
        ),
        daily, source="definition",
        caution="What stands below the mark is kept for fire and is not counted.",
    )  # fmt: skip


# --- lamp and filter ------------------------------------------------------------------------


def _changed(facts: Facts, begins: str) -> tuple[date, str] | None:
    """When a part was last changed: the last task of that name, or when the machine came."""
    if facts.machine.installed:
        return last_done(facts, begins) or (facts.machine.installed, facts.where("installed"))
    return last_done(facts, begins)


def _lamp(facts: Facts, machine: UvLamp) -> Iterator[Figure]:
    changed = _changed(facts, "lamp")
    height = facts.elevation()
    if changed is not None:
        day, where = changed
        lit = machine.plate.hours_a_day.to("h")
        by_hours = day + timedelta(days=int(machine.plate.life.to("h") / lit)) if lit else None
        by_months = add_interval(day, CalendarInterval(months=int(water.LAMP_MONTHS)))
        end = min(by_hours, by_months) if by_hours else by_months
        reckoned = f"{machine.plate.life.text} at {machine.plate.hours_a_day.text} a day: "
        yield facts.figure(
            "life", "lamp at the end of its life", words.day(end),
            (
                f"Changed {words.day(day)}.",
                f"{reckoned}{words.day(by_hours)}." if by_hours else "",
                f"12 months: {words.day(by_months)}. Whichever comes first.",
            ),
            facts.plate("life"), Input("changed", words.day(day), where),
            source="common practice, no source: 9000 h or 12 months; the maker's figure goes first",
            caution="It still glows after that, and no longer kills what it should.",
        )  # fmt: skip
    minutes = float(safety.boiling_time(height.to("m")))
    yield facts.figure(
        "boil", "rolling boil when the lamp is out", f"{minutes:g} min",
        (
            f"At {height.quantity.text}: {minutes:g} min (1 min up to "
            f"{facts.show(5000, 'ft', digits=2)}, 3 min above, where water boils cooler).",
        ),
        height, source="US EPA, Emergency Disinfection of Drinking Water (2017)",
        caution="Boiling does nothing against nitrate, fuel or metals.",
    )  # fmt: skip


def _filter(facts: Facts) -> Iterator[Figure]:
    rated, daily, changed = (
        facts.plate("rated_volume"), facts.plate("daily_use"), _changed(facts, "cartridge")
    )  # fmt: skip
    if rated and daily and changed and daily.to("L") > 0:
        day, where = changed
        days = int(rated.to("L") / daily.to("L"))
        end = day + timedelta(days=days)
        yield facts.figure(
            "life", "cartridge used up by volume", words.day(end),
            (
                f"{rated.quantity.text} / {daily.quantity.text} a day = {days} days from "
                f"{words.day(day)}.",
            ),
            rated, daily, Input("changed", words.day(day), where), source="definition",
        )  # fmt: skip
    loss = facts.plate("largest_loss")
    if loss:
        yield facts.figure(
            "loss", "change it at a loss of", facts.show(loss.to("kPa"), "kPa"),
            ("Gauge before less gauge after, with several taps open.",), loss, source=INVENTORY,
        )  # fmt: skip
