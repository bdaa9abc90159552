"""Air for a genset's shed: how warm it gets, by the fan and by draught alone, and under snow."""

from __future__ import annotations

from dataclasses import dataclass

from steadbook import units
from steadbook.figures import airflow, atmosphere, consumption, fuel
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Genset
from steadbook.workings.figure import Figure, Input
from steadbook.workings.fuel_users import load_line

BLOCKED = (0.0, 0.25, 0.5, 0.75)
RISE = 20 / 1.8  # K; 20 F, common practice, no source
SHARES = {"in the shed": 0.40, "outside": 0.10}
"""Part of the fuel's heat that ends in the shed: cooling and radiation, or radiation alone.
Source: industrial ventilation article, upper ends."""
USUAL_SUMMER = 25.0  # degC where no hottest temperature is entered


@dataclass(frozen=True)
class AirRow:
    """With part of the louvre covered: air by the fan [m3/h] and the rise [K]; the rise without."""

    blocked: float
    flow: float
    rise: float
    draught_rise: float | None


@dataclass(frozen=True)
class ShedAir:
    """One genset's shed at full load on the hottest day."""

    genset: Genset
    heat: float  # kW
    share: float
    summer: float  # degC
    density: float  # kg/m3
    combustion: float | None  # m3/h
    needed: float  # m3/h for a rise of 20 F, combustion air included
    louvre: float  # m2 of face for that
    inlet: float  # m2 of face
    smaller: float  # m2 of clear opening, the smaller of inlet and outlet
    rows: tuple[AirRow, ...]

    @property
    def is_enough(self) -> bool:
        """Whether the inlet passes what is needed."""
        return self.inlet >= self.louvre


def shed_airs(homestead: Homestead) -> list[ShedAir]:
    """Every genset whose shed and fuel are known."""
    return [
        found
        for one in homestead.machines.values()
        if isinstance(one, Genset) and (found := _shed_air(homestead, one)) is not None
    ]


def _shed_air(homestead: Homestead, genset: Genset) -> ShedAir | None:
    shed, line, name = genset.shed, load_line(genset), genset.plate.fuel
    if shed is None or line is None or name not in fuel.FUELS or shed.inlet.to("m2") <= 0:
        return None
    free = min(max(shed.free_share.to("%") / 100, 0.01), 1.0)
    rate = float(consumption.line_burn_rate(line.rating, *line))
    share = SHARES[shed.radiator]
    heat = float(airflow.room_heat(rate, fuel.heating_value(name), share))
    place = homestead.place
    summer = place.hottest.to("degC") if place.hottest else USUAL_SUMMER
    pressure = float(atmosphere.pressure(place.elevation.to("m")))
    density = float(atmosphere.air_density(pressure, summer))
    burnt = float(airflow.combustion_air(rate)) if name == "propane" else None
    needed = float(airflow.cooling_air(heat, RISE, density)) + (burnt or 0.0)
    inlet = shed.inlet.to("m2")
    smaller = min(inlet, shed.outlet.to("m2") if shed.outlet else inlet) * free
    height = shed.height.to("m") if shed.height else 0.0
    rows = []
    for blocked in BLOCKED:
        flow = float(airflow.opening_flow(inlet, free, blocked))
        area = min(smaller, inlet * free * (1 - blocked))
        rows.append(
            AirRow(
                blocked,
                flow,
                float(airflow.temperature_rise(heat, flow, density)),
                float(airflow.natural_rise(heat, area, height, density)) if height > 0 else None,
            )
        )
    return ShedAir(
        genset,
        heat,
        share,
        summer,
        density,
        burnt,
        needed,
        float(airflow.gross_area(airflow.free_area(needed), free)),
        inlet,
        smaller,
        tuple(rows),
    )


def air_figures(homestead: Homestead, found: list[ShedAir]) -> list[Figure]:
    """The rise in each shed with its louvre clear, and the louvre it should have."""
    return [figure for one in found for figure in _figures(homestead, one)]


def _figures(homestead: Homestead, one: ShedAir) -> list[Figure]:
    prefer, where = homestead.place.units, homestead.files.where
    shed = one.genset.shed
    assert shed is not None
    clear = one.rows[0]
    rise, heat = show_rise(clear.rise, prefer), show_heat(one.heat, prefer)
    louvre = units.show_value(one.louvre, "m2", prefer)
    inputs = (
        Input("inlet louvre", shed.inlet.text, where(one.genset, "shed", "inlet")),
        Input("elevation", homestead.place.elevation.text, where(homestead.place, "elevation")),
    )
    flow = units.show_value(clear.flow, "m3/h", prefer)
    source = (
        "heat balance; 500 ft/min through the clear part: common practice, no source; shares of "
        "the fuel's heat: industrial ventilation article"
    )
    return [
        Figure(
            key=f"{one.genset.id}.shed-rise",
            title=f"{one.genset.name}: rise of the air in its shed, louvre clear, fan running",
            value=rise,
            working=(
                f"Fuel at full load, {one.share:.0%} of its heat into the shed: {heat}.",
                f"Louvre {shed.inlet.text}, {shed.free_share.text} clear, at 500 ft/min: {flow}.",
                f"Air of {one.density:.3f} kg/m³ (hottest day, this elevation) warms by {rise}.",
            ),
            inputs=inputs,
            source=source,
            caution="The alternator's own losses come on top.",
        ),
        Figure(
            key=f"{one.genset.id}.louvre",
            title=f"{one.genset.name}: face of louvre for a rise of {show_rise(RISE, prefer)}",
            value=louvre,
            working=(
                f"{heat} at a rise of {show_rise(RISE, prefer)}"
                + (" and the air the engine burns" if one.combustion else "")
                + f": {units.show_value(one.needed, 'm3/h', prefer)}.",
                f"At 500 ft/min through {shed.free_share.text} of the face: {louvre}.",
            ),
            inputs=inputs,
            source=source,
            caution="The outlet no smaller than the inlet.",
        ),
    ]


def show_rise(kelvins: float, prefer: units.System) -> str:
    """A difference of temperatures in whole degrees."""
    return units.show_value(kelvins, "delta degC", prefer, digits=2)


def show_heat(kilowatts: float, prefer: units.System) -> str:
    """A rate of heat."""
    return units.show_value(kilowatts, "kW", prefer, kind="heat rate")
