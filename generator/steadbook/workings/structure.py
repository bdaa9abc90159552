"""Structure: snow on the roofs, and the distances that buildings and machines keep."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from steadbook.errors import OutOfRange
from steadbook.figures import structure
from steadbook.figures._factors import INCH
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Building, Machine, Roof
from steadbook.workings import words
from steadbook.workings.figure import Figure
from steadbook.workings.known import Facts, Known, Sheet

DEPTHS = (6, 12, 18, 24, 36, 48)
"""Rows of the table of snow loads [in]."""
SNOWS = {"new, dry": 70.0, "settled": 300.0, "wet or old": 500.0}
"""The heavier end of each kind of snow [kg/m3], as in `structure.SNOW_DENSITY`."""
ENGINEER = "No figure says that a roof is safe: its builder's load and a licensed engineer decide."


@dataclass(frozen=True)
class SnowTable:
    """Load of snow by depth and kind, and its share of the load a roof was built for."""

    machine: Machine
    kinds: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True)
class DistanceRow:
    """A distance to keep: as measured, as wanted, and what is lacking."""

    machine: Machine
    what: str
    measured: str
    least: str
    source: str
    verdict: str
    is_short: bool


@dataclass(frozen=True)
class StructurePages:
    """What the pages of structure show."""

    roofs: tuple[Sheet, ...]
    tables: tuple[SnowTable, ...]
    distances: tuple[DistanceRow, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All of them."""
        return tuple(figure for sheet in self.roofs for figure in sheet.figures)

    @property
    def any(self) -> bool:
        """Whether there is something to show."""
        return bool(self.roofs or self.distances)


def structure_pages(homestead: Homestead) -> StructurePages:
    """Everything of the structures that the inventory is enough for."""
    roofs, tables, distances = [], [], []
    for machine in homestead.machines.values():
        facts = Facts(homestead, machine)
        if isinstance(machine, Roof):
            roofs.append(Sheet.of(machine, _roof(facts)))
            tables.append(_table(facts))
        elif isinstance(machine, Building):
            distances += list(_distances(facts, machine))
    return StructurePages(tuple(roofs), tuple(tables), tuple(distances))


def _load(facts: Facts, load: float) -> str:
    return facts.show(load, "kPa", kind="area load", digits=2)


def _roof(facts: Facts) -> Iterator[Figure]:
    design = facts.plate("design_load")
    if design is not None and design.to("kPa") > 0:
        deep = design.to("kPa") * 1000 / (SNOWS["wet or old"] * structure.GRAVITY)
        settled = design.to("kPa") * 1000 / (SNOWS["settled"] * structure.GRAVITY)
        value = facts.show(deep, "m", kind="length", digits=2)
        yield facts.figure(
            "full", "depth of wet snow that is its whole design load", value,
            (
                f"{design.quantity.text} / (500 kg/m3 x g) = {value}; of settled snow (300 kg/m3) "
                f"{facts.show(settled, 'm', kind='length', digits=2)}.",
            ),
            design, source="definition; densities: handbook ranges, the wet one from memory, check",
            caution=f"{ENGINEER} Drifts and valleys carry several times the level load.",
        )  # fmt: skip
    yield from _measured(facts, design)


def _measured(facts: Facts, design: Known | None) -> Iterator[Figure]:
    depth, core = facts.measured("snow depth", "length"), facts.measured("snow core", "mass")
    tube = facts.plate("tube")
    if depth is None or depth.to("m") <= 0:
        return
    density, step = SNOWS["wet or old"], "No core of that day: taken as wet, 500 kg/m3."
    weighed = core if core and tube and core.day == depth.day else None
    if weighed and tube:
        try:
            density = float(structure.snow_density(weighed.to("kg"), tube.to("mm"), depth.to("mm")))
            step = (
                f"{weighed.quantity.text} in a tube {tube.quantity.text} wide, "
                f"{depth.quantity.text} deep: {density:.0f} kg/m3."
            )
        except OutOfRange as error:
            weighed, step = None, f"{error}; taken as wet, 500 kg/m3."
    load = float(structure.snow_load(depth.to("m"), density))
    value = _load(facts, load)
    steps = [step, f"x {depth.quantity.text} x g = {value} on the level."]
    if design:
        share = float(structure.share_of_design_load(load, design.to("kPa")))
        steps.append(f"{share:.0%} of the design load of {design.quantity.text}.")
        value = f"{value}, {share:.0%} of its design load"
    yield facts.figure(
        "snow", f"snow on {words.day(depth.day)}", value, tuple(steps), depth, weighed,
        tube if weighed else None, design, source="definition", caution=ENGINEER,
    )  # fmt: skip


def _table(facts: Facts) -> SnowTable:
    design = facts.plate("design_load")
    rows = []
    for depth in DEPTHS:
        cells = []
        for density in SNOWS.values():
            load = float(structure.snow_load(depth * INCH / 1000, density))
            share = (
                f", {structure.share_of_design_load(load, design.to('kPa')):.0%}"
                if design and design.to("kPa") > 0
                else ""
            )
            cells.append(f"{_load(facts, load)}{share}")
        rows.append((facts.show(float(depth), "in", kind="length", digits=2), tuple(cells)))
    return SnowTable(facts.machine, tuple(SNOWS), tuple(rows))


def _distances(facts: Facts, building: Building) -> Iterator[DistanceRow]:
    for what, one in building.plate.distances.items():
        lacking = one.least.to("mm") - one.measured.to("mm")
        is_short = lacking > 0.5
        yield DistanceRow(
            machine=building,
            what=what,
            measured=facts.show(
                one.measured.to(one.measured.unit), one.measured.unit, kind="length"
            ),
            least=facts.show(one.least.to(one.least.unit), one.least.unit, kind="length"),
            source=one.source,
            verdict=f"{facts.show(lacking / INCH, 'in', kind='length', digits=2)} SHORT"
            if is_short
            else "kept",
            is_short=is_short,
        )
