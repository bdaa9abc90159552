"""How cold it may get before a propane tank no longer boils off gas as fast as it is drawn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from steadbook import units
from steadbook.figures import propane, tank, vaporisation
from steadbook.figures._factors import BTU_PER_HOUR, GALLON, POUND, celsius
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Genset, Tank
from steadbook.workings.figure import Figure, Input
from steadbook.workings.fuel import FuelStock
from steadbook.workings.fuel_users import User, full_demand, heat_of

FILLS = (60, 50, 40, 30, 20, 10)
CYLINDER = (20 * GALLON, 32 * GALLON)  # L of water in a 100 lb cylinder, with room for makers
CYLINDER_COLDEST, CYLINDER_WARMEST = 0, 70  # F, the ends of its table
NOMINAL_SLACK = 0.03


@dataclass(frozen=True)
class Shell:
    """Where the tank's size comes from, and the size in mm; none for a 100 lb cylinder."""

    source: str
    diameter: float = 0.0
    length: float = 0.0
    capacity: float = 0.0

    @property
    def is_cylinder(self) -> bool:
        """Whether the table of 100 lb cylinders holds."""
        return self.diameter == 0.0


@dataclass(frozen=True)
class ColdRow:
    """At one fill: the coldest air for all users at once and for the genset alone. [degC]

    Infinite where no air of the table is warm enough.
    """

    fill: int
    everything: float
    genset: float | None


@dataclass(frozen=True)
class GasSupply:
    """A propane tank and what it is asked for, at full input. Gross heat in kW."""

    stock: FuelStock
    shell: Shell
    demands: tuple[tuple[User, float], ...]
    rows: tuple[ColdRow, ...]
    genset_demand: float | None
    design: float | None
    at_level: float | None
    at_mark: float | None

    @property
    def demand(self) -> float:
        """All users at once. [kW]"""
        return sum(one for _, one in self.demands)

    @property
    def asked(self) -> float:
        """What must not fail: the genset's full load, or all users where there is none. [kW]"""
        return self.demand if self.genset_demand is None else self.genset_demand

    @property
    def starves(self) -> bool:
        """Whether at the design temperature the tank, at its level or at the mark, is too slow."""
        return any(one is not None and one < self.asked for one in (self.at_level, self.at_mark))

    def supply(self, fill: float, air: float) -> float:
        """Gas it can make. [kW]"""
        return _supply(self.shell, self.stock.tank.plate.count, fill, air)


def gas_supplies(homestead: Homestead, stocks: tuple[FuelStock, ...]) -> list[GasSupply]:
    """Every propane tank of known size that feeds something of known input."""
    found = [_gas_supply(homestead, one) for one in stocks]
    return [one for one in found if one is not None]


def shell_of(one: Tank) -> Shell | None:
    """The size of a tank: of its plate, the usual one of its capacity, or a 100 lb cylinder."""
    plate = one.plate
    across, long = (one.to("mm") if one else 0.0 for one in (plate.diameter, plate.length))
    if across > 0 and long > 0:
        return Shell("its data plate", across, long)
    if plate.capacity is None:
        return None
    capacity = plate.capacity.to("L")
    if CYLINDER[0] <= capacity <= CYLINDER[1]:
        return Shell("the table for 100 lb cylinders", capacity=capacity)
    for name, nominal in tank.NOMINAL_TANKS.items():
        if abs(capacity / nominal.water_capacity - 1) <= NOMINAL_SLACK:
            return Shell(f"the usual size of a {name} tank", nominal.diameter, nominal.length)
    return None


def _supply(shell: Shell, count: int, fill: float, air: float) -> float:
    if not shell.is_cylinder:
        return count * float(vaporisation.tank_supply(shell.diameter, shell.length, fill, air))
    density = float(propane.liquid_density(propane.REFERENCE_TEMPERATURE)) / 1000  # kg/L
    held = min(shell.capacity * fill / 100 * density, 100 * POUND)
    return count * float(vaporisation.cylinder_supply(held, air))


def _coldest(shell: Shell, count: int, fill: float, demand: float) -> float:
    if not shell.is_cylinder:
        return float(
            vaporisation.coldest_supply(shell.diameter, shell.length, fill, demand / count)
        )
    for degrees in np.arange(CYLINDER_COLDEST, CYLINDER_WARMEST + 1):
        air = float(celsius(degrees))
        if _supply(shell, count, fill, air) >= demand:
            return air
    return np.inf


def _gas_supply(homestead: Homestead, stock: FuelStock) -> GasSupply | None:
    one = stock.tank
    shell = shell_of(one) if one.plate.contents == "propane" else None
    if shell is None:
        return None
    heat = heat_of(one)
    asked = [(user, full_demand(user, heat)) for user in stock.users]
    demands = tuple((user, demand) for user, demand in asked if demand)
    if not demands:
        return None
    gensets = [demand for user, demand in demands if isinstance(user, Genset)]
    genset = max(gensets) if gensets else None
    everything = sum(demand for _, demand in demands)
    count = one.plate.count
    rows = tuple(
        ColdRow(
            fill,
            _coldest(shell, count, fill, everything),
            _coldest(shell, count, fill, genset) if genset else None,
        )
        for fill in FILLS
    )
    coldest = homestead.place.coldest
    design = max(coldest.to("degC"), -60.0) if coldest else None
    level = min(stock.reading.level, 100.0) if stock.reading else None

    def at(fill: float | None) -> float | None:
        if design is None or fill is None:
            return None
        return _supply(shell, count, fill, design)

    return GasSupply(
        stock, shell, demands, rows, genset, design, at(level), at(min(stock.mark, 100.0))
    )


def gas_figures(homestead: Homestead, found: list[GasSupply]) -> list[Figure]:
    """The coldest air at which each tank, at its reserve mark, still feeds what must not fail."""
    return [_coldest_figure(homestead, one) for one in found]


def _coldest_figure(homestead: Homestead, one: GasSupply) -> Figure:
    prefer = homestead.place.units
    mark = one.stock.mark
    plate = one.stock.tank.plate
    coldest = _coldest(one.shell, plate.count, mark, one.asked)
    value = (
        units.show_value(coldest, "degC", prefer)
        if np.isfinite(coldest)
        else "no air is warm enough"
    )
    asked = units.show_value(one.asked / BTU_PER_HOUR, "Btu/h", prefer)
    steps = [f"Asked for: {asked}."]
    if one.shell.is_cylinder:
        steps.append(f"Read from {one.shell.source}, between its rows.")
    else:
        across, long = one.shell.diameter / 25.4, one.shell.length / 25.4
        factor = float(vaporisation.fill_factor(mark))
        zero = across * long * factor * plate.count
        steps += [
            f"D x L x K at the mark of {mark:g} %: {across:.4g} in x {long:.4g} in x {factor:.3g}"
            + (f" x {plate.count} tanks" if plate.count > 1 else "")
            + f" = {zero:,.0f} Btu/h at 0 °F.",
            "It falls by a twentieth for each °F below that, to nothing at −20 °F.",
        ]
    return Figure(
        key=f"{one.stock.tank.id}.coldest",
        title=f"{one.stock.tank.name}: coldest air at which it still feeds "
        + ("the genset's full load" if one.genset_demand else "all its users")
        + " at the reserve mark",
        value=value,
        working=(*steps, f"That meets the demand down to {value}."),
        inputs=(
            Input(
                "reserve mark",
                f"{mark:g} %",
                homestead.files.where(one.stock.tank, "plate", "reserve") if plate.reserve else "",
            ),
            Input("size", one.shell.source),
        ),
        source="rule of the LP-gas service handbooks; from memory, check"
        if not one.shell.is_cylinder
        else "LP-gas handbook table for 100 lb cylinders, seen in a reprint",
        caution="For a steady draw. Snow on the tank and a long cold spell make it worse.",
    )
