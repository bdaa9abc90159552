"""Back pressure of the pipe on each genset's exhaust, against what its engine allows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from steadbook import units
from steadbook.figures import atmosphere, exhaust, exhaust_gas
from steadbook.figures.pipe import SCHEDULE_40
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import ExhaustPipe, Genset
from steadbook.workings.figure import Figure, Input

SOOT = 0.15  # mm; a sooty or rusty pipe
INTAKE = 25.0  # degC
SIZES_SHOWN = 3  # above the pipe that is there


@dataclass(frozen=True)
class PipeRow:
    """The loss in one size of pipe, new and sooty [kPa], and with the silencer's [kPa]."""

    size: str
    bore: float
    run: float
    new: float
    sooty: float
    total: float
    is_there: bool
    fits: bool | None


@dataclass(frozen=True)
class Exhaust:
    """One genset's pipe. Pressures in kPa, flow in m3/min, temperature in degC."""

    genset: Genset
    pipe: ExhaustPipe
    flow: float
    temperature: float
    silencer: float
    limit: float | None
    rows: tuple[PipeRow, ...]
    next_size: str | None

    @property
    def there(self) -> PipeRow:
        """The pipe as it is."""
        return next(row for row in self.rows if row.is_there)


def exhausts(homestead: Homestead) -> list[Exhaust]:
    """Every genset whose pipe, displacement and speed are known."""
    return [
        found
        for one in homestead.machines.values()
        if isinstance(one, Genset) and (found := _exhaust(homestead, one)) is not None
    ]


def _exhaust(homestead: Homestead, genset: Genset) -> Exhaust | None:
    pipe, plate = genset.exhaust, genset.plate
    if pipe is None or plate.displacement is None or plate.speed is None:
        return None
    size, speed = plate.displacement.to("L"), plate.speed.to("rpm")
    if size <= 0 or speed <= 0 or pipe.length.to("m") <= 0:
        return None
    temperature = min(max(pipe.gas_temperature.to("degC"), 0.0), 1000.0)
    intake = float(exhaust_gas.intake_flow(size, speed))
    flow = float(exhaust_gas.exhaust_flow(intake, temperature, INTAKE))
    air = float(atmosphere.pressure(homestead.place.elevation.to("m")))
    silencer = pipe.silencer.to("kPa") if pipe.silencer else 0.0
    limit = plate.exhaust_limit.to("kPa") if plate.exhaust_limit else None
    names = list(SCHEDULE_40)
    place = names.index(pipe.pipe)
    shown = names[max(place - 1, 0) : place + SIZES_SHOWN + 1]
    rows = tuple(_row(pipe, name, flow, temperature, air, (silencer, limit)) for name in shown)
    fitting = [row.size for row in rows if row.fits and names.index(row.size) >= place]
    return Exhaust(
        genset,
        pipe,
        flow,
        temperature,
        silencer,
        limit,
        rows,
        fitting[0] if fitting else None,
    )


def _row(
    pipe: ExhaustPipe,
    name: str,
    flow: float,
    temperature: float,
    air: float,
    against: tuple[float, float | None],
) -> PipeRow:
    silencer, limit = against
    bore = SCHEDULE_40[name]
    bends: Mapping[str, int] = {str(kind): count for kind, count in pipe.bends.items()}
    flexible = pipe.flexible.to("m") if pipe.flexible else 0.0
    run = float(exhaust.equivalent_length(pipe.length.to("m"), bore, bends, flexible))
    new, sooty = (
        float(exhaust.back_pressure(flow, temperature, bore, run, roughness, air))
        for roughness in (exhaust.STEEL_ROUGHNESS, min(SOOT, bore / 20))
    )
    total = sooty + silencer
    fits = None if limit is None else total <= limit
    return PipeRow(name, bore, run, new, sooty, total, name == pipe.pipe, fits)


def exhaust_figures(homestead: Homestead, found: list[Exhaust]) -> list[Figure]:
    """The back pressure of each pipe as it is."""
    return [_figure(homestead, one) for one in found]


def _figure(homestead: Homestead, one: Exhaust) -> Figure:
    prefer, where, row = homestead.place.units, homestead.files.where, one.there
    plate = one.genset.plate
    assert plate.displacement is not None and plate.speed is not None
    value = pressure(row.total, prefer)
    return Figure(
        key=f"{one.genset.id}.back-pressure",
        title=f"{one.genset.name}: back pressure of pipe and silencer",
        value=value,
        working=(
            f"Exhaust: {units.show_value(plate.displacement.to('L'), 'L', prefer)} x "
            f"{plate.speed.to('rpm'):g} / 2 turns x 0.85 filling, with the fuel, from "
            f"{INTAKE:g} °C to {one.temperature:.0f} °C = "
            f"{units.show_value(one.flow * 60, 'm3/h', prefer)}.",
            f"Pipe with bends and flexible part as straight pipe: "
            f"{units.show_value(row.run, 'm', prefer)} of {row.bore:.1f} mm bore.",
            f"Darcy-Weisbach at this elevation: {pressure(row.new, prefer)} new, "
            f"{pressure(row.sooty, prefer)} sooty.",
            f"Sooty pipe {pressure(row.sooty, prefer)} + silencer "
            f"{pressure(one.silencer, prefer)} = {value}.",
        ),
        inputs=(
            Input("pipe", f"{one.pipe.pipe} in", where(one.genset, "exhaust", "pipe")),
            Input("displacement", plate.displacement.text, where(one.genset, "plate", "displacement")),
        ),
        source="Darcy-Weisbach; bends after a silencer maker's worksheet; filling of 0.85: "
        "common practice, no source",
        caution="Steady flow: the pulses of a single cylinder add to it. Measure it with a gauge.",
    )  # fmt: skip


def pressure(value: float, prefer: units.System) -> str:
    """A low pressure as the trade shows it: inches of water, millibar beside it."""
    return units.show_value(float(units.convert(value, "kPa", "inH2O")), "inH2O", prefer, digits=2)
