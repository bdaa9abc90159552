"""Fuel that ages: which deliveries are still in a tank or can, and when each is used up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from steadbook import units
from steadbook.figures import fuel
from steadbook.figures.fuel import Months
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Delivery
from steadbook.units import CalendarInterval, add_interval
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.fuel import FuelStock

LEAST_BATCH = 0.05  # L; less is the rounding of a gauge


@dataclass(frozen=True)
class Batch:
    """What is left of one delivery [L], and the days by which it is best and at last used up."""

    delivery: Delivery
    left: float
    use_by: date
    at_last: date


@dataclass(frozen=True)
class StoredFuel:
    """A tank of a fuel that ages. ``older`` is what no logged delivery accounts for. [L]"""

    stock: FuelStock
    fuel: str
    treated: bool
    life: Months
    batches: tuple[Batch, ...]
    older: float

    @property
    def rotate_by(self) -> date | None:
        """The day by which the oldest of it is used up; None where that is not known."""
        return self.batches[-1].use_by if self.batches else None


@dataclass(frozen=True)
class FuelHeat:
    """Heat of a litre of one fuel [MJ/L] and how many litres of propane hold as much."""

    fuel: str
    higher: float
    lower: float | None
    in_propane: float


def heat_table() -> tuple[FuelHeat, ...]:
    """Every fuel known here, the leanest first."""
    propane = fuel.heating_value("propane")
    rows = [
        FuelHeat(
            name,
            fuel.heating_value(name),
            fuel.heating_value(name, "lower") if name in fuel.FUELS else None,
            fuel.heating_value(name) / propane,
        )
        for name in (*fuel.FUELS, *fuel.HIGHER_ONLY)
        if name != "ethanol"
    ]
    return tuple(sorted(rows, key=lambda row: row.higher))


def stored_fuels(homestead: Homestead, stocks: tuple[FuelStock, ...]) -> list[StoredFuel]:
    """The tanks whose fuel ages and whose level is known, oldest fuel used first."""
    found = []
    for stock in stocks:
        contents = stock.tank.plate.contents or ""
        if contents not in fuel.STORAGE_LIFE or not stock.is_full_known:
            continue
        treated = stock.tank.stabilizer and True in fuel.STORAGE_LIFE[contents]
        life = fuel.storage_life(contents, treated)
        batches, older = _batches(homestead, stock, life)
        found.append(StoredFuel(stock, contents, treated, life, batches, older))
    return found


def _batches(
    homestead: Homestead, stock: FuelStock, life: fuel.Months
) -> tuple[tuple[Batch, ...], float]:
    """The newest deliveries that together make up what is there, the newest first."""
    assert stock.reading is not None
    mine = [
        one
        for one in homestead.log.deliveries
        if one.tank == stock.tank.id and one.date <= stock.reading.day
    ]
    left = stock.contents
    found = []
    for one in sorted(mine, key=lambda delivery: delivery.date, reverse=True):
        if left < LEAST_BATCH:
            break
        part = min(left, one.amount.to("L"))
        left -= part
        best, last = (add_interval(one.date, CalendarInterval(months=months)) for months in life)
        found.append(Batch(one, part, best, last))
    return tuple(found), left if left >= LEAST_BATCH else 0.0


def rotate_figures(homestead: Homestead, found: list[StoredFuel]) -> list[Figure]:
    """The day by which the oldest fuel of each tank is used up."""
    prefer = homestead.place.units
    made = []
    for one in found:
        if not one.batches:
            continue
        oldest = one.batches[-1]
        treated = "with stabilizer" if one.treated else "without stabilizer"
        made.append(
            Figure(
                key=f"{one.stock.tank.id}.rotate-by",
                title=f"{one.stock.tank.name}: oldest fuel used up by",
                value=words.day(oldest.use_by),
                working=(
                    f"There is {units.show_value(one.stock.contents, 'L', prefer)}; counted back "
                    "from the newest delivery, with the oldest fuel used first, the oldest in it "
                    f"is {units.show_value(oldest.left, 'L', prefer, digits=2)} of "
                    f"{words.day(oldest.delivery.date)}.",
                    f"{one.fuel[0].upper()}{one.fuel[1:]} {treated} keeps {one.life.least} to "
                    f"{one.life.most} months: {words.day(oldest.delivery.date)} + "
                    f"{one.life.least} months = {words.day(oldest.use_by)}.",
                ),
                inputs=(
                    Input(
                        "delivery",
                        f"{oldest.delivery.amount.text} on {words.day(oldest.delivery.date)}",
                        homestead.files.where(oldest.delivery),
                    ),
                ),
                source="storage life in sealed cans, cool and dark: common practice, no source",
                caution="Smell and look before you use old fuel: sour, dark or cloudy fuel goes "
                "to the collection point, never into an engine.",
            )
        )
    return made
