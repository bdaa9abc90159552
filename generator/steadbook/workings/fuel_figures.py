"""The fuel figures that pages show, each with its working."""

from __future__ import annotations

from dataclasses import replace

from steadbook import units
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Genset
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.fuel import FuelStock
from steadbook.workings.fuel_forecast import NOT_REACHED, fill_limit, on_mark_day
from steadbook.workings.fuel_users import (
    APPLIANCE_DOUBT,
    heat_of,
    load_line,
    typical_load,
    typical_rate,
)


def fuel_figures(homestead: Homestead, stocks: tuple[FuelStock, ...]) -> list[Figure]:
    """Every figure of every fuel tank whose level is known."""
    found = []
    for stock in stocks:
        if not stock.is_full_known:
            continue
        teller = _Teller(homestead, stock)
        found += [teller.contents(), teller.usable(), teller.heat(), teller.delivery()]
        if stock.levels is not None:
            found.append(teller.mark_day())
        if stock.order is not None:
            found.append(teller.order_day())
        if stock.shut_in is not None:
            found.append(teller.shut_in())
    return found


class _Teller:
    """Writes the figures of one tank."""

    def __init__(self, homestead: Homestead, stock: FuelStock) -> None:
        assert stock.reading is not None and stock.capacity is not None
        self.homestead, self.stock, self.tank = homestead, stock, stock.tank
        self.reading, self.capacity = stock.reading, stock.capacity
        self.prefer = homestead.place.units

    def value(self, magnitude: float, unit: str, digits: int = 3) -> str:
        return units.show_value(magnitude, unit, self.prefer, digits=digits)

    def inputs(self, *more: Input) -> tuple[Input, ...]:
        where = self.homestead.files.where
        plate = self.tank.plate
        assert plate.capacity is not None
        found = [
            Input("water capacity", plate.capacity.text, where(self.tank, "plate", "capacity")),
            Input(
                "gauge",
                f"{self.reading.level:g} % on {words.day(self.reading.day)}",
                where(self.reading.entry),
            ),
        ]
        if plate.reserve is not None:
            found.append(
                Input("reserve mark", plate.reserve.text, where(self.tank, "plate", "reserve"))
            )
        return (*found, *more)

    def figure(self, word: str, title: str, value: str, *steps: str, **more: str) -> Figure:
        return Figure(
            key=f"{self.tank.id}.{word}",
            title=f"{self.tank.name}: {title}",
            value=value,
            working=steps,
            inputs=self.inputs(),
            source=more.get("source", "definition"),
            caution=more.get("caution", ""),
        )

    def correction(self) -> tuple[str, ...]:
        """The step from the liquid as it stands to gallons at 60 F."""
        if self.tank.plate.contents != "propane":
            return ()
        if self.reading.temperature is None:
            return (
                "The liquid's temperature was not written with the reading, so it is taken as it "
                "stands; add `temperature:` to the reading for the volume at "
                f"{self.value(60, 'degF', 2)}.",
            )
        return (
            f"Liquid at {self.value(self.reading.temperature, 'degC')}: times "
            f"{self.stock.factor:.4f} for its volume at {self.value(60, 'degF', 2)}.",
        )

    def contents(self) -> Figure:
        """What is in the tank, at 60 F."""
        raw = self.stock.contents / self.stock.factor
        value = self.value(self.stock.contents, "L")
        return self.figure(
            "contents", f"contents at {self.value(60, 'degF', 2)}" if self._is_propane() else "contents", value,
            f"{self.value(self.capacity, 'L')} x {self.reading.level:g} / 100 = "
            f"{self.value(raw, 'L')}.",
            *self.correction(),
            f"That is {value}.",
            source="definition; density of liquid propane: Lemmon et al., J. Chem. Eng. Data 54 "
            "(2009) 3141" if self._is_propane() else "definition",
            caution="A float gauge may read some percent wrong." if self._is_propane() else "",
        )  # fmt: skip

    def _is_propane(self) -> bool:
        return self.tank.plate.contents == "propane"

    def usable(self) -> Figure:
        """What is above the reserve mark."""
        value = self.value(self.stock.usable, "L")
        return self.figure(
            "usable", "usable down to the reserve mark", value,
            f"{self.value(self.capacity, 'L')} x ({self.reading.level:g} - {self.stock.mark:g}) "
            "/ 100, not below 0.",
            *self.correction(),
            f"That is {value}.",
        )  # fmt: skip

    def heat(self) -> Figure:
        """The heat of all of it."""
        value = self.value(self.stock.heat, "MJ")
        each = self.value(heat_of(self.tank), "MJ/L")
        return self.figure(
            "heat", "heat of the contents (gross)", value,
            f"{self.value(self.stock.contents, 'L')} x {each} = {value}.",
            source="propane: LP-gas handbook table, 91,502 Btu/gal; other fuels: US DOE "
            "Alternative Fuels Data Center; kerosene: US EIA",
        )  # fmt: skip

    def delivery(self) -> Figure:
        """What a truck could bring."""
        limit = f"{fill_limit(self.tank.plate.contents):g}"
        value = self.value(self.stock.delivery, "L")
        return self.figure(
            "delivery", "room for a delivery", value,
            f"{self.value(self.capacity, 'L')} x ({limit} - {self.reading.level:g}) / 100 = "
            f"{value}.",
            source="filling rule of 80 % after NFPA 58, common practice of the trade"
            if self._is_propane() else "definition",
        )  # fmt: skip

    def mark_day(self) -> Figure:
        """When the reserve mark is reached."""
        expected, early, late = self.stock.mark_days
        value = words.day(expected) if expected else NOT_REACHED
        between = (
            f"With heavy use {on_mark_day(early)}, with light use {on_mark_day(late)}."
            if early
            else "Not with heavy use either."
        )
        return self.figure(
            "mark-day", "reserve mark reached", value,
            f"From {words.day(self.reading.day)} on, day by day, what the users take:",
            *self._use_steps(),
            f"The level falls to {self.stock.mark:g} % {on_mark_day(expected)}. {between}",
            source="balance day by day; genset hours from the meter's seasonal rate, with the "
            "range of that rate; appliances' hours are the owner's word, taken "
            f"{(APPLIANCE_DOUBT - 1) * 100:.0f} % up or down (common practice, no source)",
            caution="A forecast: read the gauge every week in winter.",
        )  # fmt: skip

    def _use_steps(self) -> list[str]:
        steps = []
        for row in self.stock.by_user:
            user = row.user
            year = self.value(row.year, "L")
            if isinstance(user, Genset):
                line, load, rate = load_line(user), typical_load(user), typical_rate(user)
                assert line is not None and load is not None and rate is not None
                steps.append(
                    f"{user.name}: {self.value(line.no_load_rate, 'L/h')} without load + "
                    f"{self.value(line.rate_per_kilowatt, 'L')} for each kWh; at {load:.1f} kW "
                    f"{self.value(rate, 'L/h')}; times its forecast hours {year} in a year."
                )
            else:
                steps.append(f"{user.name}: {year} in a year by its rating and hours.")
        return steps

    def order_day(self) -> Figure:
        """The last day to order."""
        order, supplier = self.stock.order, self.stock.supplier
        assert order is not None and supplier is not None
        value = words.day(order.order_by)
        steps = [*self._measured_steps()]
        steps.append(f"With heavy use the reserve mark comes on {words.day(order.needed)}.")
        if order.closed is not None:
            steps.append(
                f"The road is closed from {words.day(order.closed.first)} to "
                f"{words.day(order.closed.last)}: the truck must come by "
                f"{words.day(order.arrives_by)}."
            )
        steps.append(
            f"{words.day(order.arrives_by)} - {supplier.lead_time.text} lead time of "
            f"{supplier.name} = {value}."
        )
        made = self.figure("order-fuel-by", "order fuel by", value, *steps)
        return replace(made, inputs=(*made.inputs, *self._measured_inputs()))

    def _measured_steps(self) -> list[str]:
        """Why the measured use decides, where it does."""
        drift, reckoned = self.stock.measured, self.stock.reckoned_order
        if drift is None:
            return []
        by_plate = words.day(reckoned.order_by) if reckoned else NOT_REACHED
        return [
            f"{drift.fuel.genset.name} takes {self.value(drift.year.rate, 'L/h')} by gauge and "
            f"deliveries ({words.day(drift.year.first.date)} to {words.day(drift.year.last.date)}), "
            f"not the {self.value(drift.reckoned, 'L/h')} of plate and usual load: its forecast "
            f"use times {drift.times:.2f}.",
            f"Of the two days to order by the earlier one counts; by plate and usual load it "
            f"would be {by_plate}.",
        ]

    def _measured_inputs(self) -> tuple[Input, ...]:
        drift = self.stock.measured
        if drift is None:
            return ()
        where = self.homestead.files.where
        return tuple(
            Input(name, f"{one.level.text} on {words.day(one.date)}", where(one, "level"))
            for name, one in (("gauge before", drift.year.first), ("gauge after", drift.year.last))
        )

    def shut_in(self) -> Figure:
        """What is left when the road opens."""
        shut = self.stock.shut_in
        assert shut is not None
        percent = self.stock.percent
        value = f"{percent(shut.expected):.0f} % ({percent(shut.low):.0f} % with heavy use)"
        return self.figure(
            "shut-in", f"level on {words.day(shut.until)} without a delivery", value,
            f"Contents {self.value(shut.start, 'L')} on {words.day(self.reading.day)}.",
            f"Heavy use until {words.day(shut.until)} and the mark of {self.stock.mark:g} % take "
            f"{self.value(shut.needed, 'L')}: "
            + ("enough." if shut.needed <= shut.start else "more than there is."),
            f"Left: {value}, as the gauge would show it at the temperature of the reading.",
        )  # fmt: skip
