"""How long a supplier takes, as the orders of the log show; what rounds use up besides the visits."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from steadbook.figures import reorder
from steadbook.figures.reorder import LeadTime
from steadbook.figures.stock import Need
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Order, Service, Supplier
from steadbook.units import add_interval
from steadbook.workings.tasks import rule_of

SERVICE_LEVEL = 0.95
WINDOW = 730  # days of the log that use is taken from
BUCKET = 30  # days in which use is summed, to see how it varies
FEWEST_USES = FEWEST_BUCKETS = 6
MONTH = 365.25 / 12  # days


@dataclass(frozen=True)
class Lead:
    """Days from order to receipt: as promised, or longer where the orders of the past took longer."""

    supplier: Supplier
    promised: timedelta
    took: LeadTime | None
    last: Order | None = None

    @property
    def days(self) -> timedelta:
        """What is reckoned with."""
        learned = ceil(self.took.nine_in_ten) if self.took else 0
        return max(self.promised, timedelta(days=learned))

    def words(self) -> str:
        """Where the days come from."""
        text, days = self.supplier.lead_time.text, f"{self.promised.days} days"
        promise = text if text == days else f"{text} ({days})"
        if self.took is None or self.days == self.promised:
            return f"{promise} from {self.supplier.name}"
        return (
            f"{self.days.days} days, in which 9 in 10 of {self.took.orders} orders from "
            f"{self.supplier.name} came (promised: {promise})"
        )


def leads(homestead: Homestead, as_of: date) -> dict[str, Lead]:
    """The lead time of each supplier, counted from ``as_of`` where months are promised."""
    history: dict[str, list[tuple[date, date]]] = defaultdict(list)
    last: dict[str, Order] = {}
    for order in homestead.log.orders:
        if order.received is not None:
            history[order.supplier].append((order.date, order.received))
            last[order.supplier] = order
    return {
        name: Lead(
            supplier,
            add_interval(as_of, supplier.lead_time) - as_of,
            reorder.lead_time(history[name]),
            last.get(name),
        )
        for name, supplier in homestead.suppliers.items()
    }


@dataclass(frozen=True)
class SteadyUse:
    """What goes of a part besides the planned visits, from the log. Amounts as it is counted."""

    daily: float
    spread: float
    uses: int
    first: date
    last: date

    @property
    def monthly(self) -> float:
        """Use of a mean month."""
        return self.daily * MONTH

    def needs(self, as_of: date, until: date) -> list[Need]:
        """The use of each month to come, on its first day."""
        found: list[Need] = []
        day = as_of
        while True:
            day = (day.replace(day=1) + timedelta(days=32)).replace(day=1)
            if day > until:
                return found
            found.append(Need(day, self.monthly))

    def safety_stock(self, lead: Lead) -> float:
        """What is kept so that the shelf holds out in 19 of 20 lead times."""
        took = lead.took
        mean, spread = (took.mean, took.spread) if took else (float(lead.promised.days), 0.0)
        return reorder.safety_stock(self.spread, mean, self.daily, spread, SERVICE_LEVEL)


def steady_use(homestead: Homestead) -> dict[str, SteadyUse]:
    """Parts used often without a planned visit, such as oil topped up on the monthly round.

    It ends with the last service of the log, not today, so that no page changes by the day alone.
    """
    end = homestead.log.last_day("services")
    if end is None:
        return {}
    begin = end - timedelta(days=WINDOW)
    uses: dict[str, list[tuple[date, float]]] = defaultdict(list)
    for service in homestead.log.having("services", "parts"):
        if service.date > begin:
            for name, amount in service.parts.items():
                if not _is_planned(homestead, service, name):
                    unit = homestead.parts[name].on_hand.unit
                    uses[name].append((service.date, amount.to(unit)))
    found = {name: _use(entries, end) for name, entries in uses.items()}
    return {name: use for name, use in found.items() if use is not None}


def _is_planned(homestead: Homestead, service: Service, part: str) -> bool:
    """Whether one of the tasks done has the part in its plan."""
    tasks = homestead.machines[service.machine].tasks
    waiting, seen = list(service.tasks), set[str]()
    while waiting:
        name = waiting.pop()
        if name in tasks and name not in seen:
            seen.add(name)
            waiting += tasks[name].covers
            is_round = rule_of(tasks[name]).is_round()
            if part in tasks[name].parts and not is_round:
                return True
    return False


def _use(entries: list[tuple[date, float]], end: date) -> SteadyUse | None:
    """Use from the first entry on, in whole buckets of days; None where there is too little."""
    first = entries[0][0]
    count = (end - first).days // BUCKET
    last = first + timedelta(days=count * BUCKET - 1)
    inside = [(day, size) for day, size in entries if day <= last]
    if count < FEWEST_BUCKETS or len(inside) < FEWEST_USES:
        return None
    sums = [0.0] * count
    for day, size in inside:
        sums[(day - first).days // BUCKET] += size
    mean = sum(sums) / count
    variance = sum((one - mean) ** 2 for one in sums) / (count - 1)
    return SteadyUse(mean / BUCKET, (variance / BUCKET) ** 0.5, len(inside), first, last)
