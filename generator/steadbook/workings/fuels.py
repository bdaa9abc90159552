"""All fuel of the place: what each tank holds, how cold it still feeds, how long fuel keeps."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from steadbook.inventory.homestead import Homestead
from steadbook.workings.figure import Figure
from steadbook.workings.fuel import FuelStock, stock_of
from steadbook.workings.fuel_figures import fuel_figures
from steadbook.workings.fuel_users import fuel_tanks
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
    figures: tuple[Figure, ...]

    @property
    def forecast(self) -> list[FuelStock]:
        """The tanks whose use can be told."""
        return [one for one in self.stocks if one.levels is not None]

    def of(self, machine_id: str) -> FuelStock | None:
        """The stock of one tank."""
        return next((one for one in self.stocks if one.tank.id == machine_id), None)

    def gas_of(self, machine_id: str) -> GasSupply | None:
        """The gas that one propane tank can make."""
        return next((one for one in self.gas if one.stock.tank.id == machine_id), None)


def fuel_state(homestead: Homestead, meters: dict[str, Running], as_of: date) -> FuelState:
    """Every fuel tank."""
    stocks = tuple(stock_of(homestead, one, meters, as_of) for one in fuel_tanks(homestead))
    gas = gas_supplies(homestead, stocks)
    stored = stored_fuels(homestead, stocks)
    return FuelState(
        stocks=stocks,
        gas=tuple(gas),
        stored=tuple(stored),
        heats=heat_table(),
        figures=(
            *fuel_figures(homestead, stocks),
            *gas_figures(homestead, gas),
            *rotate_figures(homestead, stored),
        ),
    )
