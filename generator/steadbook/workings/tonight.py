"""Tonight's card: what to do with the genset at each reading of the bank and each load."""

from __future__ import annotations

from dataclasses import dataclass

from steadbook.figures import battery
from steadbook.figures import tonight as card_figures
from steadbook.figures.tonight import Night, NightPlant, Tomorrow
from steadbook.workings.battery import night_plant, sun_of_month
from steadbook.workings.plant import INVERTER_EFFICIENCY, Plant, usual_sun

READINGS = (0.80, 0.75, 0.70, 0.65, 0.60, 0.55, 0.50, 0.45)
SHARES = (0.5, 1.0, 2.0)  # of the house's usual load of the night
EVENING = 18  # o'clock at which the card is read
TARGET = 0.9


@dataclass(frozen=True)
class CardRow:
    """One reading: charge, voltage of the rested bank, and the night for each load."""

    charge: float
    voltage: float
    nights: tuple[Night, ...]


@dataclass(frozen=True)
class Card:
    """The card of one month."""

    month: int
    loads: tuple[float, ...]
    rows: tuple[CardRow, ...]
    hours_to_sun: float
    sun: Tomorrow
    plant: NightPlant
    usual_load: float

    @property
    def usual(self) -> list[tuple[float, float, Night]]:
        """(charge, voltage, night) at the house's usual load of the month."""
        column = SHARES.index(1.0)
        return [(row.charge, row.voltage, row.nights[column]) for row in self.rows]


def card_of(plant: Plant, month: int) -> Card | None:
    """The card for a mean day of a month; half, whole and twice the house's own night load."""
    night = night_plant(plant, TARGET)
    if night is None or plant.case is None:
        return None
    hours = hours_to_sun(plant, month)
    usual = _night_load(plant, month, hours)
    loads = tuple(share * usual for share in SHARES)
    sun = sun_of_month(plant, month)
    nights = card_figures.card(night, READINGS, loads, hours, sun)
    rows = tuple(
        CardRow(
            share,
            float(battery.rested_voltage(share, night.nominal_voltage, night.chemistry)),
            tuple(row),
        )
        for share, row in zip(READINGS, nights, strict=True)
    )
    return Card(month, loads, rows, hours, sun, night, usual)


def hours_to_sun(plant: Plant, month: int) -> float:
    """Hours from the evening reading until the sun gives more than the house takes."""
    assert plant.case is not None
    sun, load = usual_sun(plant.case, month), plant.case.profile()[month - 1]
    over = [h for h in range(24) if sun[h] > load[h] / INVERTER_EFFICIENCY]
    first = min((h for h in over if h < EVENING), default=12)  # noon where it never does
    return float(24 - EVENING + first)


def _night_load(plant: Plant, month: int, hours: float) -> float:
    """Mean load from the evening reading until the sun takes over, to a tenth. [kW]"""
    assert plant.case is not None
    load = plant.case.profile()[month - 1]
    clock = [(EVENING + step) % 24 for step in range(int(hours))]
    return round(sum(load[hour] for hour in clock) / len(clock), 1)
