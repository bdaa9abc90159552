"""What the charts of fuel and engine show: numbers, a text for who cannot see them, a caption."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from steadbook import units
from steadbook.figures import consumption
from steadbook.figures._factors import celsius
from steadbook.inventory.models import Genset
from steadbook.workings import Workings, words
from steadbook.workings.exhausts import pressure
from steadbook.workings.fuel_forecast import on_mark_day
from steadbook.workings.fuel_users import load_line, typical_load

Data = dict[str, Any]
STEP = 7  # days between the points of a forecast


def tank_level(workings: Workings, subject: str) -> tuple[Data, str, str]:
    """The level of a tank from its last reading on, with the range of its use."""
    stock = workings.fuel.of(subject)
    if stock is None or stock.reading is None or stock.levels is None or len(stock.months) < 2:
        return {}, "", "Nothing tells yet how fast this tank empties."
    begin, end = stock.reading.day, stock.months[-1].day
    days = [begin + timedelta(days=n) for n in range(0, (end - begin).days + 1, STEP)]
    found = [stock.level_on(day) or (0.0, 0.0, 0.0) for day in days]
    data: Data = {
        "x": [day.isoformat() for day in days],
        "curves": [{"label": "expected", "y": [round(one[0], 1) for one in found]}],
        "range": [[round(one[1], 1) for one in found], [round(one[2], 1) for one in found]],
        "marks": [{"y": stock.mark, "label": f"reserve mark {stock.mark:g} %"}],
        "y_label": "gauge, %",
        "top": 100,
        "months": 1 if len(days) < 60 else 2,
    }
    if stock.closure is not None:
        closed = stock.closure
        data["closed"] = [
            {
                "days": [max(closed.first, begin).isoformat(), closed.last.isoformat()],
                "label": "road closed",
            }
        ]
    expected, early, late = stock.mark_days
    alt = (
        f"Chart of the level of {stock.tank.name}: {stock.reading.level:g} % on {words.day(begin)}, "
        f"reserve mark {stock.mark:g} % reached {on_mark_day(expected)}; the table holds the "
        "level on the first of each month."
    )
    caption = (
        f"Level of {stock.tank.name} without a delivery from {words.day(begin)} on. The band runs "
        f"from heavy use (mark {on_mark_day(early)}) to light use ({on_mark_day(late)})."
    )
    return data, alt, caption


def load(workings: Workings, subject: str) -> tuple[Data, str, str]:
    """Fuel of an hour against load."""
    genset = workings.homestead.machines[subject]
    line = load_line(genset) if isinstance(genset, Genset) else None
    if line is None or not isinstance(genset, Genset):
        return {}, "", "Power, and fuel at half and full load, are not on its data plate."
    prefer = workings.homestead.place.units
    unit = "gal/h" if prefer == "us" else "L/h"
    loads = [line.rating * place / 4 for place in range(5)]
    rates = [float(consumption.line_burn_rate(one, *line)) for one in loads]
    usual = typical_load(genset)
    data = {
        "x": [round(one, 3) for one in loads],
        "curves": [
            {
                "label": f"fuel, {unit}",
                "y": [round(float(units.convert(one, "L/h", unit)), 3) for one in rates],
                "marked": True,
            }
        ],
        "x_label": "load, kW",
        "y_label": unit,
        "height": 2.3,
    }
    ends = [units.show_value(rates[place], "L/h", prefer) for place in (0, 4)]
    alt = f"Chart of fuel against load of {genset.name}: {ends[0]} without load, {ends[1]} at {line.rating:g} kW; the table holds the same numbers."
    caption = (
        f"Fuel of {genset.name} against load, a straight line through the two points of its data "
        f"plate. It usually carries {usual:.1f} kW. Below half load a real set takes more than the line."
    )
    return data, alt, caption


def gas_supply(workings: Workings, subject: str) -> tuple[Data, str, str]:
    """Gas a tank can make against the temperature of the air, at four fills."""
    found = workings.fuel.gas_of(subject)
    if found is None:
        return {}, "", "The size of this tank, or what it feeds, is not known."
    prefer = workings.homestead.place.units
    unit, degrees = ("Btu/h", "degF") if prefer == "us" else ("kW", "degC")
    lowest, highest = (0, 70) if found.shell.is_cylinder else (-20, 20)
    air = [float(celsius(one)) for one in range(lowest, highest + 1, 5)]

    def rate(kilowatts: float) -> float:
        shown = float(units.convert(kilowatts, "kW", unit))
        return round(shown / 1000 if unit == "Btu/h" else shown, 1)

    data: Data = {
        "x": [round(float(units.convert(one, "degC", degrees)), 1) for one in air],
        "curves": [
            {"label": f"{fill} % full", "y": [rate(found.supply(fill, one)) for one in air]}
            for fill in (60, 40, 20, 10)
        ],
        "marks": [{"y": rate(found.asked), "label": "asked for"}],
        "x_label": f"air, {units.symbol(degrees)}",
        "y_label": "gas, 1,000 Btu/h" if unit == "Btu/h" else "gas, kW",
        "columns": 4,
    }
    name = found.stock.tank.name
    mark = workings.figures[f"{subject}.coldest"].value
    alt = (
        f"Chart of the gas {name} can make from {units.show_value(air[0], 'degC', prefer)} to "
        f"{units.show_value(air[-1], 'degC', prefer)} at 60, 40, 20 and 10 % full; at the reserve "
        f"mark it meets the demand down to {mark}. The table holds the coldest air at each fill."
    )
    caption = (
        f"Gas {name} can make against the air's temperature. Where a line falls below the dashed "
        "one, "
        + ("the genset's full load" if found.genset_demand else "all users together")
        + " would starve."
    )
    return data, alt, caption


def exhaust(workings: Workings, subject: str) -> tuple[Data, str, str]:
    """Pressure lost in the exhaust pipe against its size."""
    found = next((one for one in workings.engine.exhausts if one.genset.id == subject), None)
    if found is None:
        return {}, "", "The pipe, or the engine's displacement and speed, are not known."
    prefer = workings.homestead.place.units
    unit = "inH2O" if prefer == "us" else "mbar"

    def shown(kilopascals: float) -> float:
        return round(float(units.convert(kilopascals, "kPa", unit)), 2)

    data: Data = {
        "x": [f"{row.size} in" + (", as it is" if row.is_there else "") for row in found.rows],
        "curves": [
            {"label": "new pipe", "y": [shown(row.new) for row in found.rows], "marked": True},
            {"label": "sooty pipe", "y": [shown(row.sooty) for row in found.rows], "marked": True},
        ],
        "x_label": "size of pipe",
        "y_label": f"lost in the pipe, {units.symbol(unit)}",
        "height": 2.5,
    }
    room = None if found.limit is None else found.limit - found.silencer
    if room is not None and room > 0:
        data["marks"] = [{"y": shown(room), "label": "left for the pipe"}]
    there = found.there
    alt = (
        f"Chart of pressure lost in the exhaust pipe of {found.genset.name} against its size: "
        f"{pressure(there.sooty, prefer)} in the sooty {there.size} in pipe; the table holds the "
        "same numbers."
    )
    caption = (
        f"Pressure lost in the exhaust pipe of {found.genset.name}, by size. The dashed line is "
        "what the engine's limit leaves after the silencer."
        if room is not None
        else f"Pressure lost in the exhaust pipe of {found.genset.name}, by size."
    )
    return data, alt, caption
