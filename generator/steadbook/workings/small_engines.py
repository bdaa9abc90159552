"""Small engines: the oil in their mix, and how long each can of fuel keeps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from steadbook.errors import OutOfRange
from steadbook.figures import small_engines
from steadbook.figures._factors import GALLON
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import FuelCans, Machine, SmallEngine
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input
from steadbook.workings.known import Facts

GALLONS = (1.0, 2.0, 2.5, 5.0)
LITRES = (1.0, 5.0, 10.0, 20.0)


@dataclass(frozen=True)
class MixTable:
    """Oil for an amount of gasoline at one ratio, and the machines that take it."""

    ratio: int
    machines: tuple[Machine, ...]
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class CanRow:
    """A can: what is in it and by when it is used up."""

    machine: Machine
    name: str
    contents: str
    filled: str
    figure: Figure


@dataclass(frozen=True)
class EnginePages:
    """What the pages of the small engines show."""

    engines: tuple[Machine, ...]
    mixes: tuple[MixTable, ...]
    cans: tuple[CanRow, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All of them."""
        return tuple(row.figure for row in self.cans)


def engine_pages(homestead: Homestead) -> EnginePages:
    """Mix tables for the ratios used here, and the cans by their last good day."""
    engines = [m for m in homestead.machines.values() if isinstance(m, SmallEngine)]
    ratios = sorted({m.plate.mix for m in engines if m.plate.mix}, reverse=True)
    mixes = [
        MixTable(
            ratio,
            tuple(m for m in engines if m.plate.mix == ratio),
            tuple(_rows(Facts(homestead, engines[0]), ratio)),
        )
        for ratio in ratios
    ]
    cans = [
        row
        for machine in homestead.machines.values()
        if isinstance(machine, FuelCans)
        for row in _cans(Facts(homestead, machine), machine)
    ]
    return EnginePages(tuple(engines), tuple(mixes), tuple(cans))


def _rows(facts: Facts, ratio: int) -> Iterator[tuple[str, str]]:
    us = facts.homestead.place.units == "us"
    for amount in GALLONS if us else LITRES:
        litres = amount * GALLON if us else amount
        shown = facts.show(amount, "gal" if us else "L")
        try:
            oil = float(small_engines.mix_oil(litres, ratio))
        except OutOfRange as error:
            yield shown, str(error)
            continue
        yield shown, facts.show(oil, "mL")


def _cans(facts: Facts, machine: FuelCans) -> Iterator[CanRow]:
    for name, can in machine.plate.cans.items():
        day = small_engines.use_by(can.filled, can.fuel, can.stabilised)
        months = small_engines.SHELF_MONTHS[can.fuel, can.stabilised]
        kept = "with stabiliser" if can.stabilised else "without stabiliser"
        mix = f", {can.mix} to 1" if can.mix else ""
        figure = facts.figure(
            f"{name}-use-by", f"{name}, used up by", words.day(day),
            (f"{words.day(can.filled)} + {months} month{'s' if months != 1 else ''} ({can.fuel}, {kept}) = {words.day(day)}.",),
            Input("filled", words.day(can.filled), facts.where("plate", "cans", name, "filled")),
            source="common practice, no source: the short end of what is said",
        )  # fmt: skip
        yield CanRow(machine, name, f"{can.volume.text} of {can.fuel}{mix}, {kept}", words.day(can.filled), figure)  # fmt: skip
