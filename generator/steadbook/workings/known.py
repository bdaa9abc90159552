"""What is known of a machine: its plate, its specs, what was last measured, each with its line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from steadbook import units
from steadbook.errors import QuantityError
from steadbook.inventory.homestead import Homestead
from steadbook.inventory.models import Machine
from steadbook.units import Quantity
from steadbook.workings import words
from steadbook.workings.figure import Figure, Input

INVENTORY = "as entered by the owner"


@dataclass(frozen=True)
class Known:
    """A quantity of the inventory, and where it stands."""

    name: str
    quantity: Quantity
    where: str
    day: date | None = None

    def to(self, unit: str) -> float:
        """Its magnitude in a unit."""
        return self.quantity.to(unit)

    @property
    def input(self) -> Input:
        """As an input of a figure."""
        on = f" on {words.day(self.day)}" if self.day else ""
        return Input(self.name, f"{self.quantity.text}{on}", self.where)


@dataclass(frozen=True)
class Sheet:
    """The figures of one machine, in the order of its page."""

    machine: Machine
    figures: tuple[Figure, ...]

    @classmethod
    def of(cls, machine: Machine, figures: Iterable[Figure]) -> Sheet:
        """The figures as they come."""
        return cls(machine, tuple(figures))

    def rows(self) -> list[tuple[str, Figure]]:
        """What each figure is, without the machine's name."""
        name = f"{self.machine.name}: "
        return [(figure.title.removeprefix(name), figure) for figure in self.figures]


@dataclass(frozen=True)
class Facts:
    """The facts of one machine, and how figures made from them are told."""

    homestead: Homestead
    machine: Machine

    def plate(self, key: str, name: str | None = None) -> Known | None:
        """A value of its plate."""
        quantity = getattr(getattr(self.machine, "plate", None), key, None)
        if not isinstance(quantity, Quantity):
            return None
        return Known(name or key.replace("_", " "), quantity, self.where("plate", key))

    def spec(self, name: str, part: str) -> Known | None:
        """A field of one of its specs."""
        quantity = getattr(self.machine.specs.get(name), part, None)
        if not isinstance(quantity, Quantity):
            return None
        return Known(name, quantity, self.where("specs", name, part))

    def measured(self, spec: str, kind: str) -> Known | None:
        """The last measurement of a spec that reads as a quantity of the kind."""
        for one in reversed(self.homestead.log.measurements):
            if one.machine == self.machine.id and one.spec == spec:
                try:
                    quantity = units.parse(one.value, kind)
                except QuantityError:
                    continue
                return Known(spec, quantity, self.homestead.files.where(one), one.date)
        return None

    def where(self, *inside: str | int) -> str:
        """File and line of a key of the machine; of its nearest key above where it is not written."""
        return self.homestead.files.where(self.machine, *inside)

    def given(self, name: str, value: str, *inside: str | int) -> Input:
        """An input that is no quantity, at a key of the machine."""
        return Input(name, value, self.where(*inside))

    def show(
        self, value: float, unit: str, *, kind: str | None = None, digits: int | None = 3
    ) -> str:
        """A computed value in both systems."""
        prefer = self.homestead.place.units
        return units.show_value(value, unit, prefer, kind=kind, digits=digits)

    def both(self, us: str, metric: str) -> str:
        """Two texts of one value, the preferred system first."""
        first, second = (us, metric) if self.homestead.place.units == "us" else (metric, us)
        return f"{first} ({second})"

    def figure(
        self,
        word: str,
        title: str,
        value: str,
        working: tuple[str, ...],
        *inputs: Known | Input | None,
        source: str,
        caution: str = "",
    ) -> Figure:
        """A figure of this machine; inputs that are not given are left out."""
        return Figure(
            key=f"{self.machine.id}.{word}",
            title=f"{self.machine.name}: {title}",
            value=value,
            working=working,
            inputs=tuple(
                one.input if isinstance(one, Known) else one for one in inputs if one is not None
            ),
            source=source,
            caution=caution,
        )

    def elevation(self) -> Known:
        """Height of the place above the sea."""
        place = self.homestead.place
        where = self.homestead.files.where(place, "elevation")
        return Known("elevation", place.elevation, where)


def last_done(facts: Facts, *begins: str) -> tuple[date, str] | None:
    """The last record of a task whose name begins so: its day, and its line."""
    for service in reversed(facts.homestead.log.services):
        if service.machine == facts.machine.id and any(
            name.startswith(begins) for name in service.tasks
        ):
            return service.date, facts.homestead.files.where(service)
    return None
