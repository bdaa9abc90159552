"""Heat: what the house loses, the wood for a winter, how long it stays warm, stove and chimney."""

from __future__ import annotations

import calendar
import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from steadbook.figures import freeze, heat, safety, structure
from steadbook.figures._factors import celsius
from steadbook.figures.schedule import month_starts
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Chimney, House, Stove
from steadbook.units import CalendarInterval, add_interval
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.frost import degree_days_words, in_order, means_input
from steadbook.workings.known import Facts, Known, Sheet, last_done

IN_HAND = 1.2
"""Cut a fifth more than the figure: other tables of wood heat run up to 20 % lower."""
PIPES_FREEZE_AT = 4.0
"""Room temperature at which pipes in an outside wall are near freezing [degC]."""
KWH_PER_MILLION_BTU = heat.KWH_PER_MILLION_BTU
LOSS_CAUTION = "Wind, damp and open doors make other nights differ; measure a second one."


@dataclass(frozen=True)
class HeatPages:
    """What the pages of heat show."""

    sheets: tuple[Sheet, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All of them."""
        return tuple(figure for sheet in self.sheets for figure in sheet.figures)


def heat_pages(homestead: Homestead, as_of: date) -> HeatPages:
    """Everything of the heat that the inventory is enough for."""
    sheets = []
    for machine in homestead.machines.values():
        facts = Facts(homestead, machine)
        if isinstance(machine, House):
            sheets.append(Sheet.of(machine, _house(facts, machine)))
        elif isinstance(machine, Stove):
            sheets.append(Sheet.of(machine, _stove(facts, machine, as_of)))
        elif isinstance(machine, Chimney):
            sheets.append(Sheet.of(machine, _chimney(facts)))
    return HeatPages(tuple(sheets))


# --- the house ------------------------------------------------------------------------------


def _house(facts: Facts, house: House) -> Iterator[Figure]:
    loss = _loss(facts, house)
    if loss is not None:
        figure, conductance = loss
        yield figure
        yield from _design(facts, house, conductance)
        yield from _winter(facts, house, conductance)
    yield from _cooling(facts, house)


def _stove_of(facts: Facts, house: House) -> tuple[Facts, Stove] | None:
    stove = facts.homestead.machines.get(house.plate.stove or "")
    return (Facts(facts.homestead, stove), stove) if isinstance(stove, Stove) else None


def _base(facts: Facts) -> str:
    """The base of heating degree-days."""
    return facts.show(65, "degF", digits=2)


def _per_degree(facts: Facts, conductance: float) -> str:
    btu = conductance * 3.412142 / 1.8  # W/K to Btu/(h degF)
    return facts.both(f"{btu:,.0f} Btu/h for each °F", f"{conductance:,.0f} W/K")


def _loss(facts: Facts, house: House) -> tuple[Figure, float] | None:
    """Heat loss for each degree from the measured night [W/K]."""
    night, found = house.plate.cold_night, _stove_of(facts, house)
    if night is None:
        return None
    given, steps, inputs = 0.0, [], []

    def known(key: str) -> Known | None:
        quantity = getattr(night, key)
        where = facts.where("plate", "cold_night", key)
        return Known(key.replace("_", " "), quantity, where) if quantity is not None else None

    if night.wood is not None and found is not None:
        plate = found[1].plate
        share = plate.efficiency.to("%") / 100
        gross = float(heat.heat_by_weight(night.wood.to("kg"), plate.moisture.to("%") / 100))
        given += gross * share
        steps.append(
            f"{night.wood.text} of wood at {plate.moisture.text} moisture: "
            f"{facts.show(gross, 'kWh')}, of which the stove leaves {plate.efficiency.text} "
            f"inside: {facts.show(given, 'kWh')}."
        )
        inputs += [known("wood"), found[0].plate("moisture"), found[0].plate("efficiency")]
    if night.other_heat is not None:
        given += night.other_heat.to("kWh")
        steps.append(f"Other heat: {night.other_heat.text}.")
        inputs.append(known("other_heat"))
    inside, outside, hours = night.inside.to("degC"), night.outside.to("degC"), night.hours.to("h")
    if given <= 0 or hours <= 0 or inside - outside < 5:
        return None
    conductance = float(heat.measured_heat_loss(given, hours, inside, outside))
    value = _per_degree(facts, conductance)
    steps.append(
        f"{facts.show(given, 'kWh')} in {night.hours.text} from {night.inside.text} inside to "
        f"{night.outside.text} outside = {value}."
    )
    figure = facts.figure(
        "loss", f"heat it loses, from the night of {words.day(night.date)}", value, tuple(steps),
        *inputs, known("hours"), known("inside"), known("outside"),
        source="definition; heat of wood: Iowa State University Extension", caution=LOSS_CAUTION,
    )  # fmt: skip
    return figure, conductance


def _design(facts: Facts, house: House, conductance: float) -> Iterator[Figure]:
    place = facts.homestead.place
    inside = facts.plate("inside")
    if inside is None or place.coldest is None:
        return
    cold = Known("coldest", place.coldest, facts.homestead.files.where(place, "coldest"))
    need = conductance * (inside.to("degC") - cold.to("degC"))
    value = facts.show(need / 1000, "kW", kind="heat rate")
    yield facts.figure(
        "coldest", f"heat it takes at {cold.quantity.text}", value,
        (f"{_per_degree(facts, conductance)} from {inside.quantity.text} to {cold.quantity.text} = {value}.",),
        inside, cold, source="definition",
    )  # fmt: skip
    heater = facts.homestead.machines.get(house.plate.backup or "")
    rated = Facts(facts.homestead, heater).plate("input") if heater else None
    if rated is None:
        return
    share = house.plate.backup_efficiency
    output = rated.to("kW") * share.to("%") / 100
    holds = min(cold.to("degC") + output * 1000 / conductance, inside.to("degC"))
    shown = facts.show(holds, "degC", kind="temperature")
    freezes = holds < PIPES_FREEZE_AT
    yield facts.figure(
        "backup", f"what the backup heater holds inside at {cold.quantity.text}", shown,
        (
            f"{rated.quantity.text} x {share.text} = {facts.show(output, 'kW', kind='heat rate')}; "
            f"over {_per_degree(facts, conductance)} above {cold.quantity.text}: {shown}.",
        ),
        rated, facts.plate("backup_efficiency"), cold, source="definition",
        caution="Too little to keep pipes in outside walls from freezing on such a night: drain "
        "them or keep the stove going." if freezes else "",
    )  # fmt: skip


def season_degree_days(facts: Facts) -> float | None:
    """Heating degree days of a year from the monthly means, base 65 degF [K*d]."""
    means = in_order(facts.homestead.place)
    if len(means) < 12:
        return None
    lengths = [calendar.monthrange(2026, month)[1] for month in range(1, 13)]
    return sum(
        length * float(heat.degree_days(mean.to("degC"), mean.to("degC"), celsius(65)))
        for length, mean in zip(lengths, means, strict=True)
    )


def _winter(facts: Facts, house: House, conductance: float) -> Iterator[Figure]:
    days = season_degree_days(facts)
    if days is None:
        return
    need = float(heat.season_heat(conductance, days))
    value = facts.both(f"{need / KWH_PER_MILLION_BTU:.0f} million Btu", f"{_rounded(need)} kWh")
    yield facts.figure(
        "season", "heat for a year", value,
        (
            f"Each month's days x ({_base(facts)} - its mean), summed: "
            f"{degree_days_words(facts, days)}.",
            f"x 24 h x {_per_degree(facts, conductance)} = {value}.",
        ),
        means_input(facts.homestead), source="degree-day method, ASHRAE Fundamentals",
        caution="Sun, cooking and people give part of it; the base of "
        f"{_base(facts)} counts them in.",
    )  # fmt: skip
    found = _stove_of(facts, house)
    cord = _cord(found[0], found[1]) if found else None
    if found is None or cord is None:
        return
    held, words_of_it, inputs = cord
    share = found[1].plate.efficiency
    cords = float(heat.fuel_needed(need, held, share.to("%") / 100))
    cut = cords * IN_HAND
    yield facts.figure(
        "cords", "firewood to cut for a winter", f"{cut:.1f} cords: {cords:.1f} for a usual winter and a fifth in hand",
        (
            f"{words_of_it}",
            f"{_rounded(need)} kWh / {_rounded(held)} kWh / {share.text} = {cords:.1f} cords; with a fifth "
            f"in hand {cut:.1f}.",
        ),
        *inputs, found[0].plate("efficiency"), source="definition; 128 ft3 to the cord",
        caution="Full cords, 4 x 4 x 8 ft stacked. What other heaters give comes off it.",
    )  # fmt: skip
    yield from _stacked(found[0], cords)


def _rounded(value: float) -> str:
    return f"{float(f'{value:.3g}'):,.0f}"


def _cord(facts: Facts, stove: Stove) -> tuple[float, str, tuple[Known | Input | None, ...]] | None:
    """Gross heat of a cord [kWh], in words, and from what."""
    plate, moisture = stove.plate, stove.plate.moisture.to("%") / 100
    if plate.wood is not None:
        held = float(heat.heat_per_cord(plate.wood, moisture))
        what = f"A cord of {plate.wood} at {plate.moisture.text} moisture: {_rounded(held)} kWh (University of Kentucky)."
        inputs = (facts.given("wood", plate.wood, "plate", "wood"), facts.plate("moisture"))
        return held, what, inputs
    weight = facts.plate("cord_weight")
    if weight is None:
        return None
    held = float(heat.heat_by_weight(weight.to("kg"), moisture))
    what = (
        f"A cord of {weight.quantity.text} at {plate.moisture.text} moisture: {_rounded(held)} kWh."
    )
    return held, what, (weight, facts.plate("moisture"))


def _stacked(facts: Facts, cords: float) -> Iterator[Figure]:
    stack = facts.measured("dry wood", "wood")
    if stack is None:
        return
    winters = stack.to("cord") / cords if cords > 0 else math.inf
    value = f"{stack.quantity.text}: {winters:.0%} of the {cords:.1f} cords of a usual winter"
    yield facts.figure(
        "stack", f"dry wood on {words.day(stack.day)}", value,
        (f"{stack.quantity.text} / {cords:.1f} cords = {winters:.0%}.",), stack,
        source="definition",
    )  # fmt: skip


def _cooling(facts: Facts, house: House) -> Iterator[Figure]:
    out, place = house.plate.stove_out, facts.homestead.place
    inside = facts.plate("inside")
    if out is None:
        return
    start, end, outside = (one.to("degC") for one in (out.start, out.end, out.outside))
    hours = out.hours.to("h")
    if not (start > end > outside) or hours <= 0:
        return
    constant = float(freeze.measured_cooling_time(start, end, outside, hours))
    where = facts.where("plate", "stove_out")
    measured = Input("stove out", f"{out.start.text} to {out.end.text} in {out.hours.text}", where)
    begin = inside.to("degC") if inside else start
    if begin < PIPES_FREEZE_AT:
        return
    temperatures = [("coldest", place.coldest)] if place.coldest else []
    if len(in_order(place)) == 12:
        temperatures.append(("mean of the coldest month", min(in_order(place), key=lambda q: q.to("degC"))))  # fmt: skip
    for word, air in temperatures:
        left = float(freeze.room_time_to_freezing(begin, air.to("degC"), constant, PIPES_FREEZE_AT))
        if not math.isfinite(left):
            continue
        limit = facts.show(PIPES_FREEZE_AT, "degC", kind="temperature", digits=2)
        yield facts.figure(
            f"cools-{'coldest' if word == 'coldest' else 'usual'}",
            f"hours without heat to {limit} inside, at {air.text} ({word})", f"{left:.0f} h",
            (
                f"On {words.day(out.date)} it fell from {out.start.text} to {out.end.text} in "
                f"{out.hours.text} at {out.outside.text}: time constant {constant:.0f} h.",
                f"From {facts.show(begin, 'degC', kind='temperature')} to {limit} at {air.text}: "
                f"{left:.0f} h.",
            ),
            measured, inside, source="Newton's law of cooling, one warm mass",
            caution="Corners and pipes in outside walls get there first: wind shortens it.",
        )  # fmt: skip


# --- stove and chimney ----------------------------------------------------------------------


def _stove(facts: Facts, stove: Stove, as_of: date) -> Iterator[Figure]:
    plate = stove.plate
    soft = plate.wood in heat.SOFTWOODS if plate.wood else plate.is_softwood
    if plate.burn_from is None or soft is None:
        return
    months = heat.SEASONING_MONTHS["softwood" if soft else "hardwood"]
    begin = month_starts(as_of, 1)[0]
    month, day = plate.burn_from
    fires = [date(year, month, min(day, 28) if month == 2 else day) for year in range(begin.year, begin.year + 4)]  # fmt: skip
    for fire in fires:
        split = add_interval(fire, CalendarInterval(months=-months))
        if split >= begin:
            break
    yield facts.figure(
        "split", f"next wood split, stacked and covered by, to burn from {words.day(fire)}",
        words.day(split),
        (f"{words.day(fire)} - {months} months ({'softwood' if soft else 'hardwood'}) = {words.day(split)}.",),
        facts.given("burn from", f"{words.day(fire)}", "plate", "burn_from"),
        source="US EPA guidance: 6 months softwood, 12 hardwood, seen in a reprint",
        caution="Dense oak and damp places need longer. Trust a moisture meter on a fresh split: "
        "burn at 20 % or less.",
    )  # fmt: skip


def _chimney(facts: Facts) -> Iterator[Figure]:
    slope, ridge = facts.plate("roof_slope"), facts.plate("to_ridge")
    above = facts.plate("above_roof")
    if slope and ridge:
        rise = math.tan(math.radians(slope.to("deg")))
        least = float(structure.chimney_height(rise, ridge.to("m")))
        value = facts.show(least, "m", kind="length", digits=2)
        low = above is not None and above.to("m") < least - 0.01
        feet = [facts.show(one, "ft", kind="length", digits=2) for one in (3, 2, 10)]
        yield facts.figure(
            "height", "least height above the roof",
            f"{value}; it has {above.quantity.text}" if above else value,
            (
                f"{feet[0]}, or {feet[1]} above all of the roof within {feet[2]}: roof of {slope.quantity.text}, "
                f"{ridge.quantity.text} to the ridge: {value}.",
            ),
            slope, ridge, above, source="NFPA 211 (3 ft, 2 ft, 10 ft), seen in a reprint",
            caution="TOO LOW: it may smoke and shed sparks on the roof. Ask a certified sweep."
            if low else "",
        )  # fmt: skip
    found = facts.measured("creosote", "length")
    if found:
        advice = heat.sweep_advice(found.to("mm"))
        yield facts.figure(
            "creosote", f"creosote on {words.day(found.day)}", f"{found.quantity.text}: {advice}",
            (f"{found.quantity.text}; sweep at 1/8 in, do not burn at 1/4 in or any glaze.",), found,
            source="sweeps' guidance, seen in reprints; 1/4 in from memory, check",
            caution="Shiny, tar-like creosote in any thickness is not to be burned under.",
        )  # fmt: skip
    done = last_done(facts, "sweep", "inspect")
    if done:
        day, where = done
        due = safety.chimney_inspection(day)
        yield facts.figure(
            "inspection", "inspected again by", words.day(due),
            (f"{words.day(day)} + 1 year = {words.day(due)}.",),
            Input("last swept and inspected", words.day(day), where),
            source="NFPA 211 14.2.1: at least once a year, seen in a reprint",
        )  # fmt: skip
