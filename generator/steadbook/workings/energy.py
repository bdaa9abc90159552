"""Energy by month: what the arrays give, what the house takes, what is left to the genset."""

from __future__ import annotations

from dataclasses import dataclass

from steadbook.figures.usage import MONTH_LENGTHS
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Array
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.plant import INVERTER_EFFICIENCY, MONTH, Plant, usual_sun
from steadbook.workings.winter import Outlook, Range


@dataclass(frozen=True)
class MonthBalance:
    """A mean day of one month. Energies in kWh a day.

    `by_array` in the order of the plant's arrays; `need`: the load with the inverter's loss;
    `sun` is the range of the month's mean over the winters, `genset` what it gives, `spilled` what
    the bank did not take.
    """

    month: int
    by_array: tuple[float, ...]
    load: float
    need: float
    sun: Range | None
    genset: float
    spilled: float

    @property
    def arrays(self) -> float:
        """All arrays together."""
        return sum(self.by_array)

    @property
    def balance(self) -> float:
        """Arrays less need: below nil the genset fills in, and the bank's losses come on top."""
        return self.arrays - self.need


@dataclass(frozen=True)
class Energy:
    """The year's balance."""

    arrays: tuple[Array, ...]
    months: tuple[MonthBalance, ...]

    def of(self, month: int) -> MonthBalance:
        """One month, 1 to 12."""
        return self.months[month - 1]

    @property
    def darkest(self) -> MonthBalance:
        """The month that lacks most."""
        return min(self.months, key=lambda row: row.balance)

    @property
    def short(self) -> tuple[MonthBalance, ...]:
        """Months in which the arrays do not carry the house on a mean day."""
        return tuple(row for row in self.months if row.balance < 0)


def energy_of(plant: Plant, ahead: Outlook | None) -> Energy | None:
    """The balance of the plant's year, where the climate is entered."""
    case = plant.case
    if case is None:
        return None
    loads = case.daily_load()
    rows = tuple(
        MonthBalance(
            month=month,
            by_array=tuple(
                sum(usual_sun(case, month, number)) for number in range(len(case.arrays))
            ),
            load=loads[month - 1],
            need=loads[month - 1] / INVERTER_EFFICIENCY,
            sun=ahead.of("sun", month) if ahead else None,
            genset=_daily(ahead, "genset_energy", month),
            spilled=_daily(ahead, "spilled", month),
        )
        for month in range(1, 13)
    )  # fmt: skip
    return Energy(plant.arrays, rows)


def _daily(ahead: Outlook | None, figure: str, month: int) -> float:
    return ahead.of(figure, month).mean / MONTH_LENGTHS[month - 1] if ahead else 0.0


def energy_figures(homestead: Homestead, plant: Plant, found: Energy | None) -> list[Figure]:
    """Yield of each array in each month, and the darkest month's balance."""
    climate, case = plant.climate, plant.case
    if found is None or climate is None or case is None:
        return []
    figures = []
    for number, array in enumerate(found.arrays):
        month = found.darkest.month
        name = MONTH[month - 1]
        given = found.darkest.by_array[number]
        power = case.arrays[number][0]
        figures.append(
            Figure(
                key=f"{array.id}.yield",
                title=f"{array.name}: a mean day in {words.MONTHS[month - 1]}",
                value=f"{given:.1f}{words.NBSP}kWh",
                working=(
                    f"{case.sun[month - 1]:g} kWh/m2 on level ground, split into beam and diffuse, "
                    f"turned to {case.arrays[number][1]:g} deg of tilt facing "
                    f"{case.arrays[number][2]:g} deg, ground at {100 * case.ground[month - 1]:.0f} "
                    f"%, clear and dull days as they come; {power:g} kW less 14 % losses, cells at their "
                    "temperature; "
                    f"{case.snow_days[month - 1]:g} days under snow: {given:.1f} kWh, "
                    f"{given / power:.2f} for each kW.",
                ),
                inputs=(
                    Input("light", f"{case.sun[month - 1]:g} kWh/m2",
                          homestead.files.where(climate, "months", name, "sun")),
                ),
                source="Bendt and others 1981, Erbs and others 1982, Liu & Jordan 1963, as in Duffie & Beckman; PVWatts 5",
                caution="Trees and hills on the horizon are not in it.",
            )
        )  # fmt: skip
    row = found.darkest
    figures.append(
        Figure(
            key=f"{plant.inverter.id if plant.inverter else 'energy'}.balance",
            title=f"Balance of a mean day in {words.MONTHS[row.month - 1]}, the darkest month",
            value=f"{row.balance:.1f}{words.NBSP}kWh".replace("-", "\N{MINUS SIGN}"),
            working=(
                f"Arrays {row.arrays:.1f} kWh; the house takes {row.load:.1f} kWh, with the "
                f"inverter's loss {row.need:.1f} kWh; {row.arrays:.1f} - {row.need:.1f} = "
                f"{row.balance:.1f} kWh.",
            ),
            inputs=(Input("house load", f"{row.load:.1f} kWh",
                          homestead.files.where(climate, "house")),),
            source="energy balance; inverter at 90 %, common practice",
        )
    )  # fmt: skip
    return figures
