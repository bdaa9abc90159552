"""The gensets' starter batteries: condition by voltage, cranking in the cold, the holding panel."""

from __future__ import annotations

from dataclasses import dataclass

from steadbook.figures import starter
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Genset
from steadbook.workings.plant import Plant, drawn_days, toward_noon_sun

VOLTAGES = (12.7, 12.6, 12.5, 12.4, 12.3, 12.2, 12.1, 12.0, 11.8)
TEMPERATURES = tuple((one - 32) / 1.8 for one in (80, 32, 14, 0, -13, -22))  # degC
TEST_TEMPERATURES = (70, 0)  # degF, the ends of the load test's table
PANEL_TILT = 75.0  # deg, steep for a low sun and to shed snow


@dataclass(frozen=True)
class Starter:
    """One genset's starter battery. `panel` [W] holds it full in the darkest month, by
    `sun_hours` [h] of its mean day."""

    genset: Genset
    coldest: float
    conditions: tuple[tuple[float, starter.Condition], ...]
    cranking: tuple[tuple[float, float, float | None, float], ...]
    capacity: float | None
    standing_days: float | None
    panel: float | None
    sun_hours: float | None


def starters(homestead: Homestead, plant: Plant) -> tuple[Starter, ...]:
    """Starter batteries of the gensets whose plate names one."""
    return tuple(
        _starter(homestead, plant, one)
        for one in homestead.machines.values()
        if isinstance(one, Genset) and (one.plate.starter_capacity or one.plate.starter_cranking)
    )


def _starter(homestead: Homestead, plant: Plant, genset: Genset) -> Starter:
    plate = genset.plate
    coldest = _coldest(homestead)
    label = plate.starter_cranking.to("A") if plate.starter_cranking else None
    capacity = plate.starter_capacity.to("Ah") if plate.starter_capacity else None
    drain = plate.starter_drain.to("A") if plate.starter_drain else 0.0
    hours = dark_sun_hours(plant)
    return Starter(
        genset=genset,
        coldest=coldest,
        conditions=tuple((volts, starter.condition(volts, coldest)) for volts in VOLTAGES),
        cranking=tuple(
            (
                at,
                float(starter.cranking_power_left(at)),
                float(starter.cranking_current(label, 1.0, at)) if label else None,
                float(starter.load_test_voltage(at)),
            )
            for at in TEMPERATURES
        ),
        capacity=capacity,
        standing_days=float(starter.standing_days(capacity, drain)) if capacity else None,
        panel=float(starter.holding_panel(capacity, hours, drain)) if capacity and hours else None,
        sun_hours=hours,
    )


def charge_below(homestead: Homestead) -> float:
    """Rested voltage below which a 12 V battery is not `ready` for the coldest of the place."""
    coldest = _coldest(homestead)
    ready = [volts for volts in VOLTAGES if starter.condition(volts, coldest).word == "ready"]
    return min(ready, default=VOLTAGES[0])


def _coldest(homestead: Homestead) -> float:
    return homestead.place.coldest.to("degC") if homestead.place.coldest else -20.0


def load_test() -> tuple[tuple[float, float], ...]:
    """Temperature [degC] and lowest voltage of a 12 V battery at the ends of the load test's table."""
    ends = [(one - 32) / 1.8 for one in TEST_TEMPERATURES]
    return tuple((at, float(starter.load_test_voltage(at))) for at in ends)


def dark_sun_hours(plant: Plant) -> float | None:
    """Light of a mean day of the darkest month on a steep plane to the noon sun. [kWh/m²]"""
    from steadbook.figures import panels, sun

    case = plant.case
    if case is None:
        return None
    month = case.darkest - 1
    day = sun.MEAN_DAYS[month]
    beam, diffuse = panels.hourly_light(case.latitude, day, drawn_days(case, case.darkest))
    facing = toward_noon_sun(case.latitude)
    ratio = panels.beam_ratio(panels.Array(1.0, PANEL_TILT, facing), case.latitude, day)
    light = panels.on_the_plane(beam, diffuse, ratio, PANEL_TILT, case.ground[month])
    found = float(light.mean(axis=0).sum())
    return found if found > 0 else None
