"""The battery bank's figures with their working."""

from __future__ import annotations

from steadbook import units
from steadbook.inventory.climate import Climate
from steadbook.inventory.homestead import Homestead
from steadbook.workings import words
from steadbook.workings.battery import TARGET, Battery
from steadbook.workings.figure import Figure, Input
from steadbook.workings.plant import MONTH, Plant


def battery_figures(homestead: Homestead, plant: Plant, found: Battery | None) -> list[Figure]:
    """The bank's figures with their working."""
    if found is None:
        return []
    figures = [_usable_figure(homestead, plant, found), _floor_figure(homestead, found)]
    figures += _stop_figures(homestead, plant, found)
    if found.ageing.year is not None:
        figures.append(_age_figure(homestead, found))
    if found.water:
        figures.append(_water_figure(homestead, found))
    return figures


def _at(homestead: Homestead, entry: object, *inside: str) -> str:
    return homestead.files.where(entry, *inside)


def _usable_figure(homestead: Homestead, plant: Plant, found: Battery) -> Figure:
    bank, case = found.bank, plant.case
    assert bank.plate.capacity
    inputs = [
        Input("capacity", bank.plate.capacity.text, _at(homestead, bank, "plate", "capacity"))
    ]
    if case is None:
        working = ("As on the plate; the winters' bank temperature is not entered.",)
    else:
        working = (
            f"{found.capacity:,.0f} Ah x {case.tested:.2f} (last capacity test) x {case.cold:.2f} "
            f"(temperature of the bank in the four darkest months) = {found.usable:,.0f} Ah.",
        )
    return Figure(
        key=f"{bank.id}.capacity-now",
        title=f"{bank.name}: capacity to reckon with in winter",
        value=f"{found.usable:,.0f}{words.NBSP}Ah",
        working=working,
        inputs=tuple(inputs),
        source=(
            "capacity in the cold: US Army TM 10-6140-200-14, para 1-9, the lowest of several tables"
            if found.is_lead_acid
            else "no loss in the cold is taken for lithium iron phosphate: common practice, no source"
        ),
        caution=(
            "Sources differ by 10 points at freezing."
            if found.is_lead_acid
            else "Below freezing it gives less: the maker's sheet goes first."
        ),
    )


def _floor_figure(homestead: Homestead, found: Battery) -> Figure:
    entered = found.bank.plate.floor
    kind = "lead-acid" if found.is_lead_acid else "lithium iron phosphate"
    return Figure(
        key=f"{found.bank.id}.floor",
        title=f"{found.bank.name}: floor, at which the inverter stops",
        value=f"{100 * found.floor:.0f}{words.NBSP}%",
        working=(
            f"As entered: {entered.text}."
            if entered
            else f"Taken because none is entered: {100 * found.floor:.0f} %, usual for {kind}.",
        ),
        inputs=(
            (Input("floor", entered.text, _at(homestead, found.bank, "plate", "floor")),)
            if entered
            else ()
        ),
        source="as entered by the owner" if entered else "common practice, no source",
        caution="" if entered else "Set it as the inverter is set: add `floor:` to the plate.",
    )


def _stop_figures(homestead: Homestead, plant: Plant, found: Battery) -> list[Figure]:
    case, climate = plant.case, plant.climate
    if case is None or climate is None or not found.sun or found.genset_current is None:
        return []
    figures = []
    for row in found.sun:
        month = words.MONTHS[row.month - 1]
        figures.append(
            Figure(
                key=f"{found.bank.id}.stop.{row.month}",
                title=f"{found.bank.name}: where to stop the genset in {month}",
                value=f"{100 * row.stop:.0f}{words.NBSP}%",
                working=(
                    f"A mean day's sun puts {row.current:.0f} A into the bank for {row.hours:.0f} h "
                    f"over what the house takes; the other hours take {row.night_use:.0f} Ah.",
                    f"The charge from which that sun still reaches {100 * TARGET:.0f} %, plus the "
                    f"night's use, but not beyond the point at which the charger gives less than "
                    f"half of its {found.genset_current:.0f} A: {100 * row.stop:.0f} %.",
                ),
                inputs=(
                    Input("light", _month_sun(climate, row.month),
                          _at(homestead, climate, "months", MONTH[row.month - 1], "sun")),
                ),
                source="taper of the charging current, integrated; half of the charger's current "
                "as the point where it is not worth its fuel: common practice, no source",
                caution="A mean day: after a dark one the bank ends lower.",
            )
        )  # fmt: skip
    return figures


def _month_sun(climate: Climate, month: int) -> str:
    return climate.months[MONTH[month - 1]].sun.text  # type: ignore[index]


def _age_figure(homestead: Homestead, found: Battery) -> Figure:
    age = found.ageing
    steps, inputs = [], []
    if age.wear_life is not None and found.bank.installed:
        steps.append(
            f"Wear: {100 * age.depth:.0f} % of the rated capacity goes out on a mean day, by the "
            f"made-up winters; by the maker's table of cycles and the life on the shelf that is "
            f"{age.wear_life:.1f} years from {words.day(found.bank.installed)}: "
            f"{age.wear_year:.1f}."
        )
        inputs.append(
            Input("cycles", "maker's table", _at(homestead, found.bank, "plate", "cycles"))
        )
    if age.test_year is not None:
        shares = ", ".join(f"{100 * share:.0f} % in {year:.1f}" for year, share in age.tests)
        steps.append(f"Tests: {shares}; a straight line meets 80 % in {age.test_year:.1f}.")
    steps.append("The earlier of the two counts." if len(steps) > 1 else "")
    assert age.year is not None
    return Figure(
        key=f"{found.bank.id}.replace",
        title=f"{found.bank.name}: year of replacement",
        value=f"{int(age.year)}",
        working=tuple(step for step in steps if step),
        inputs=tuple(inputs),
        source="Miner's rule on the maker's cycles; least-squares line to 80 % as in IEEE 450 (seen "
        "in secondary texts)",
        caution="Two tests make a line, not a proof: test every summer.",
    )


def _water_figure(homestead: Homestead, found: Battery) -> Figure:
    prefer = homestead.place.units
    year = sum(found.water)
    share = found.bank.plate.overcharge
    text = share.text if share else "18 %, as usual"
    passed = sum(found.throughput) / 12
    return Figure(
        key=f"{found.bank.id}.water",
        title=f"{found.bank.name}: water in a year",
        value=units.show_value(year, "L", prefer, digits=2),
        working=(
            f"{passed:.0f} Ah a day out of the bank, mean of the year; {text} of it is put in on "
            f"top and splits water: 0.336 g an amp-hour and cell, {found.cells} cells in series, "
            "the strings sharing the current.",
        ),
        inputs=(
            (Input("overcharge", text, _at(homestead, found.bank, "plate", "overcharge")),)
            if share else ()
        ),
        source="Faraday's law",
        caution="Spray and evaporation come on top; hot weather and old plates take more.",
    )  # fmt: skip
