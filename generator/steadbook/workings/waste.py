"""Waste: when the septic tank is pumped, by the table or, better, by what a stick found."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from steadbook.errors import OutOfRange
from steadbook.figures import septic
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Machine, SepticTank
from steadbook.units import CalendarInterval, add_interval
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.known import Facts, Known, Sheet, last_done

SYSTEM = "waste"
GRINDER_SHARE = 0.2
"""Share by which a waste grinder shortens the interval. Source: common practice, no source."""
YEAR = 365.25
TABLE = "K. Mancl, Penn State table, seen in reprints; cap: US EPA SepticSmart"


@dataclass(frozen=True)
class WastePages:
    """What the pages of waste show. ``machines`` are those of waste.yaml and every septic tank."""

    machines: tuple[Machine, ...]
    sheets: tuple[Sheet, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All of them."""
        return tuple(figure for sheet in self.sheets for figure in sheet.figures)


def waste_pages(homestead: Homestead) -> WastePages:
    """Everything of the waste that the inventory is enough for."""
    machines = tuple(
        machine
        for machine in homestead.machines.values()
        if machine.system == SYSTEM or isinstance(machine, SepticTank)
    )
    sheets = tuple(
        Sheet.of(machine, _septic(Facts(homestead, machine), machine))
        for machine in machines
        if isinstance(machine, SepticTank)
    )
    return WastePages(machines, sheets)


def _septic(facts: Facts, tank: SepticTank) -> Iterator[Figure]:
    capacity = facts.plate("capacity")
    years = None
    if capacity is not None and tank.plate.people:
        try:
            years = _years(tank, capacity)
        except OutOfRange as error:
            yield facts.figure(
                "interval", "years from pumping to pumping", "not in the table", (f"{error}.",),
                capacity, source=TABLE,
            )  # fmt: skip
    if capacity is not None and years is not None:
        yield _interval(facts, tank, capacity, years)
    pumped = last_done(facts, "pump")
    if pumped is None and tank.installed and not tank.bought_used:
        pumped = tank.installed, facts.where("installed")
    measure = _measure(facts, tank)
    if measure is not None:
        yield measure.figure
    yield from _next(facts, years, pumped, measure)
    daily = facts.plate("daily_use")
    if capacity is not None and daily is not None and daily.to("L") > 0:
        share = measure.share if measure else 0.0
        days = float(septic.retention(capacity.to("L"), daily.to("L"), share))
        yield facts.figure(
            "retention", "days the water rests in the tank", f"{days:.1f} days",
            (f"{capacity.quantity.text} x (1 - {share:.0%}) / {daily.quantity.text} a day = {days:.1f} days.",),
            capacity, daily, source="definition; a day at least is the basis of the pumping table",
            caution="Under a day the solids leave with the water and clog the field."
            if days < 1 else "",
        )  # fmt: skip


def _years(tank: SepticTank, capacity: Known) -> float:
    return float(
        septic.pumping_interval(
            capacity.to("L"),
            float(tank.plate.people or 0),
            tank.plate.occupancy.to("%") / 100,
            GRINDER_SHARE if tank.plate.waste_grinder else 0.0,
        )
    )


def _interval(facts: Facts, tank: SepticTank, capacity: Known, years: float) -> Figure:
    plate = tank.plate
    grinder = ", a fifth less for the waste grinder" if plate.waste_grinder else ""
    return facts.figure(
        "interval", "years from pumping to pumping, by the table", f"{years:.1f} years",
        (
            f"{capacity.quantity.text}, {plate.people} people, {plate.occupancy.text} of the "
            f"year{grinder}; never more than {septic.LONGEST_INTERVAL:g}: {years:.1f} years.",
        ),
        capacity, facts.given("people", str(plate.people), "plate", "people"),
        facts.plate("occupancy"), source=TABLE,
        caution="Have it looked at every "
        f"{septic.INSPECTION_INTERVAL['with pump or float' if plate.pump_or_float else 'plain']:g} "
        "years at least, and let the measured solids decide.",
    )  # fmt: skip


@dataclass(frozen=True)
class _Measure:
    """Sludge and scum as found: their share, whether that is too much, and the day."""

    share: float
    is_due: bool
    day: date
    figure: Figure


def _measure(facts: Facts, tank: SepticTank) -> _Measure | None:
    sludge, scum = facts.measured("sludge", "length"), facts.measured("scum", "length")
    depth, outlet = facts.plate("liquid_depth"), facts.plate("outlet_bottom")
    if sludge is None or depth is None or sludge.day is None:
        return None
    floating = scum.to("mm") if scum and scum.day == sludge.day else 0.0
    layer, liquid = sludge.to("mm"), depth.to("mm")
    if layer + floating > liquid or liquid <= 0:
        return None
    share = float(septic.solids_share(layer, floating, liquid))
    steps = [
        f"({sludge.quantity.text} of sludge + {scum.quantity.text if floating and scum else 'no'} "
        f"scum) / {depth.quantity.text} = {share:.0%}; pump at {septic.SOLIDS_LIMIT:.0%}."
    ]
    over, under = float("inf"), float("inf")
    if outlet is not None:
        over = outlet.to("mm") - floating
        under = liquid - outlet.to("mm") - layer
        steps.append(
            f"From the scum down to the outlet's bottom {facts.show(over, 'mm', kind='length', digits=2)} "
            f"(6 in at least), from there to the sludge "
            f"{facts.show(under, 'mm', kind='length', digits=2)} (12 in at least)."
        )
    due = bool(septic.is_due_by_measure(share, over, under))
    figure = facts.figure(
        "solids", f"solids on {words.day(sludge.day)}", f"{share:.0%}: {'PUMP NOW' if due else 'wait'}",
        tuple(steps), sludge, scum if floating else None, depth, outlet,
        source="US EPA SepticSmart (25 %, 6 in, 12 in), seen in reprints",
    )  # fmt: skip
    return _Measure(share, due, sludge.day, figure)


def _next(
    facts: Facts, years: float | None, pumped: tuple[date, str] | None, measure: _Measure | None
) -> Iterator[Figure]:
    """The day to have it pumped: what was measured since the last time goes before the table."""
    since = Input("last pumped", words.day(pumped[0]), pumped[1]) if pumped else None
    if measure is not None and (pumped is None or measure.day > pumped[0]):
        if measure.is_due or pumped is None:
            if not measure.is_due:
                return
            day, step = measure.day, "Due by what was measured."
        else:
            age = (measure.day - pumped[0]).days / YEAR
            left = float(septic.years_left_by_measure(measure.share, age))
            day = measure.day + timedelta(days=round(left * YEAR))
            step = (
                f"{measure.share:.0%} in {age:.1f} years: 25 %, or {septic.LONGEST_INTERVAL:g} "
                f"years from pumping, in another {left:.1f} years."
            )
        source = "rule of three to the 25 % limit, within the cap of 5 years (US EPA SepticSmart)"
    elif pumped is not None and years:
        day = add_interval(pumped[0], CalendarInterval(months=int(years * 12)))
        step = f"{words.day(pumped[0])} + {years:.1f} years, whole months = {words.day(day)}."
        source = TABLE
    else:
        return
    yield facts.figure(
        "pump", "to be pumped by", words.day(day), (step,), since,
        facts.given("measured", f"{measure.share:.0%} on {words.day(measure.day)}")
        if measure else None,
        source=source, caution="By a licensed pumper, while the road is open. Where a task says a later day, "
        "this one goes first.",
    )  # fmt: skip
