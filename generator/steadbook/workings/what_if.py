"""Changes to try, each beside today: hours, fuel, lowest charge, what it saves and pays back."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from steadbook.inventory.climate import Change, Climate
from steadbook.inventory.fields import read_month_day
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Genset, Tank
from steadbook.workings.plant import Case, Plant, capacity_left_at, member
from steadbook.workings.winter import Outlook, outlook

COUNT = 500  # winters of each change, the same for all
START_OF_SPELL = 0.75  # charge on the evening before a cold spell, today and with it alike


@dataclass(frozen=True)
class FuelPrice:
    """What the genset's fuel cost at the last priced delivery. [currency/L]"""

    per_litre: float
    currency: str
    day: date


def fuel_price(homestead: Homestead, genset: Genset | None) -> FuelPrice | None:
    """Of the tank that feeds the genset, or of any tank with its fuel; None without a price."""
    if genset is None:
        return None
    for delivery in reversed(homestead.log.deliveries):
        tank = homestead.machines.get(delivery.tank)
        feeds = genset.fed_by in (None, delivery.tank)
        same = isinstance(tank, Tank) and tank.plate.contents == genset.plate.fuel
        price = delivery.private.price if delivery.private else None
        litres = delivery.amount.to("L")
        if feeds and same and price and litres > 0:
            return FuelPrice(price.magnitude / litres, price.unit, delivery.date)
    return None


@dataclass(frozen=True)
class Tried:
    """A change and what the winters came to with it, beside the same winters without.

    ``of_season`` is false where only some days are compared. Money is the owner's alone.
    """

    name: str
    change: Change
    today: Outlook
    changed: Outlook
    of_season: bool

    @property
    def hours_saved(self) -> float:
        """Genset hours it saves; negative where it costs some. [h]"""
        return self._less("genset_hours")

    @property
    def fuel_saved(self) -> float:
        """Fuel it saves. [L]"""
        return self._less("fuel")

    def _less(self, figure: str) -> float:
        return self.today.whole[figure].mean - self.changed.whole[figure].mean

    @property
    def price(self) -> float | None:
        """What it costs, where the edition has it."""
        private = self.change.private
        return private.price.magnitude if private and private.price else None

    def payback(self, fuel: FuelPrice) -> float | None:
        """Years until the fuel saved has paid for it."""
        from steadbook.figures.cost import simple_payback

        if self.price is None or self.fuel_saved <= 0:
            return None
        return float(simple_payback(self.price, self.fuel_saved * fuel.per_litre))


def changes_of(
    homestead: Homestead, plant: Plant, today: Outlook | None, kept: Path | None
) -> tuple[Tried, ...]:
    """Every change of what-if.yaml, worked out."""
    case, climate = plant.case, plant.climate
    if homestead.what_if is None or case is None or climate is None or today is None:
        return ()
    now = outlook(case, kept, COUNT, whole=False)
    found = []
    for name, change in homestead.what_if.changes.items():
        if change.cold is not None:
            usual = _spell(case, change, cold=False)
            before = outlook(usual, kept, COUNT, whole=False)
            changed = _changed(_spell(case, change, cold=True), change, climate)
            after = outlook(changed, kept, COUNT, whole=False)
            found.append(Tried(name, change, before, after, of_season=False))
        else:
            after = outlook(_changed(case, change, climate), kept, COUNT, whole=False)
            found.append(Tried(name, change, now, after, of_season=True))
    return tuple(found)


def _changed(case: Case, change: Change, climate: Climate) -> Case:
    """The case with the change made."""
    if change.array is not None:
        more = change.array
        aim = (more.power.to("kW"), more.tilt.to("deg"), more.azimuth.to("deg"))
        case = replace(case, arrays=(*case.arrays, aim))
    if change.bank is not None:  # a new bank of the same kind
        case = replace(case, capacity=change.bank.to("Ah"), tested=1.0)
    if change.charger is not None:
        case = replace(case, charger_current=change.charger.to("A"))
    if change.run_rule is not None:
        rule = change.run_rule
        case = replace(
            case,
            start_below=_share(rule.start_below, case.start_below),
            stop_at=_share(rule.stop_at, case.stop_at),
            break_quiet_below=_share(rule.break_quiet_below, case.break_quiet_below),
            mark=_share(rule.mark, case.mark),
            quiet=rule.quiet.pair if rule.quiet else case.quiet,
        )
    if change.without:
        left_out = {climate.heavy_loads[name].name for name in change.without}
        kept = tuple(one for one in case.loads if one.name not in left_out)
        case = replace(case, loads=kept)
    if change.heavy_load is not None:
        case = replace(case, loads=(*case.loads, member(change.heavy_load, climate)))
    return case


def _share(value: object, before: float) -> float:
    return float(value.to("%")) / 100 if value is not None else before  # type: ignore[attr-defined]


def _spell(case: Case, change: Change, *, cold: bool) -> Case:
    """Only the days of the cold spell, as usual or in the cold."""
    spell = change.cold
    assert spell is not None
    short = replace(
        case, first_day=read_month_day(spell.first), days=spell.days, start_charge=START_OF_SPELL
    )
    if not cold:
        return short
    air, bank = spell.air.to("degC"), spell.bank.to("degC")
    return replace(
        short,
        air=(air,) * 12,
        bank_air=(bank,) * 12,
        cold=capacity_left_at(bank, case.chemistry),
        extra_load=spell.more_load.to("kW"),
    )
