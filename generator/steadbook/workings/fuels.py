"""All fuel of the place: what each tank holds, how cold it still feeds, how long fuel keeps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from steadbook.inventory.homestead import Homestead
from steadbook.workings.figure import Figure
from steadbook.workings.fuel import FuelStock, stock_of
from steadbook.workings.fuel_drift import FuelDrift, by_measure, fuel_drifts, lasts, order_reason
from steadbook.workings.fuel_figures import fuel_figures
from steadbook.workings.fuel_forecast import LateTruck, Verdict, closures, late_truck
from steadbook.workings.fuel_users import fuel_tanks
from steadbook.workings.history import GensetFuel
from steadbook.workings.stored_fuels import (
    FuelHeat,
    StoredFuel,
    heat_table,
    rotate_figures,
    stored_fuels,
)
from steadbook.workings.tasks import Running
from steadbook.workings.vaporising import GasSupply, gas_figures, gas_supplies


@dataclass(frozen=True)
class FuelState:
    """All fuel of the place."""

    stocks: tuple[FuelStock, ...]
    gas: tuple[GasSupply, ...]
    stored: tuple[StoredFuel, ...]
    heats: tuple[FuelHeat, ...]
    drifts: tuple[FuelDrift, ...]
    reasons: dict[str, str]
    """Why a tank is ordered earlier than by plate and usual load, where it is."""
    late: dict[str, LateTruck]
    """The truck ordered today of each tank for which it comes too late."""
    figures: tuple[Figure, ...]

    @property
    def forecast(self) -> list[FuelStock]:
        """The tanks whose use can be told."""
        return [one for one in self.stocks if one.levels is not None]

    @property
    def to_order(self) -> list[FuelStock]:
        """The tanks with a day to order by, the soonest first."""
        found = [(one.order.order_by, one.tank.id, one) for one in self.stocks if one.order]
        return [one for _, _, one in sorted(found, key=lambda found: found[:2])]

    def lasts(self, stock: FuelStock) -> Verdict | None:
        """Whether a tank lasts until the road opens, also by the measured use."""
        return lasts(stock, self.drifts)

    def of(self, machine_id: str) -> FuelStock | None:
        """The stock of one tank."""
        return next((one for one in self.stocks if one.tank.id == machine_id), None)

    def gas_of(self, machine_id: str) -> GasSupply | None:
        """The gas that one propane tank can make."""
        return next((one for one in self.gas if one.stock.tank.id == machine_id), None)


def fuel_state(
    homestead: Homestead,
    meters: dict[str, Running],
    as_of: date,
    measured: Sequence[GensetFuel] = (),
) -> FuelState:
    """Every fuel tank; ``measured`` is what gauge and deliveries tell of the gensets."""
    reckoned = [stock_of(homestead, one, meters, as_of) for one in fuel_tanks(homestead)]
    drifts = fuel_drifts(homestead, reckoned, measured, meters)
    by_tank = {one.fuel.tank.id: one for one in drifts}
    stocks = tuple(
        by_measure(one, by_tank[one.tank.id]) if one.tank.id in by_tank else one for one in reckoned
    )
    prefer, closed = homestead.place.units, closures(homestead, as_of)
    late = {
        one.tank.id: late_truck(
            one.order, one.supplier, closed, as_of, (one.closure, lasts(one, drifts))
        )
        for one in stocks
    }
    gas = gas_supplies(homestead, stocks)
    stored = stored_fuels(homestead, stocks)
    return FuelState(
        stocks=stocks,
        gas=tuple(gas),
        stored=tuple(stored),
        heats=heat_table(),
        drifts=drifts,
        reasons={one.tank.id: order_reason(one, prefer) for one in stocks if one.measured},
        late={name: one for name, one in late.items() if one is not None},
        figures=(
            *fuel_figures(homestead, stocks),
            *gas_figures(homestead, gas),
            *rotate_figures(homestead, stored),
        ),
    )
