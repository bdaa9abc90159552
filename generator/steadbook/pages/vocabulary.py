"""The words a page's template may use: every one gives text that is safe where it lands."""

from __future__ import annotations

import posixpath
from collections import defaultdict
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any

from markupsafe import Markup
from pydantic import BaseModel

from steadbook import units
from steadbook.errors import PageError
from steadbook.figures import schedule
from steadbook.inventory.explain import listing, nearest
from steadbook.inventory.fields import read_date
from steadbook.inventory.models import Machine, Service, Spec
from steadbook.inventory.redact import handed_out
from steadbook.pages import cautions as messages
from steadbook.pages import reference
from steadbook.pages.called import FUEL_GAS, home_answers_to
from steadbook.pages.drawings import Drawer
from steadbook.pages.escape import as_text
from steadbook.pages.fault_paths import FaultPath, outcome_cell, path_data
from steadbook.pages.site_map import shut_offs, stops
from steadbook.units import Quantity
from steadbook.workings import Figure, Workings, words
from steadbook.workings.expiring import Expiry
from steadbook.workings.measured import measured
from steadbook.workings.normal import normal_readings
from steadbook.workings.reserves import reserve_of
from steadbook.workings.tasks import TaskKey, TaskState


class Vocabulary:
    """Names for the templates, bound to the workings and to the page being made."""

    def __init__(
        self,
        workings: Workings,
        titles: dict[str, str],
        cautions: dict[str, messages.Message],
        kept: Path | None,
    ) -> None:
        self.workings = workings
        self.homestead = workings.homestead
        self.titles = titles
        self.cautions = cautions
        self.drawer = Drawer(
            workings, kept / f"drawings-{self.homestead.edition}" if kept else None
        )
        self.here = ""
        self.pointed: dict[str, str] = {}
        self.faults: list[FaultPath] = []
        self.procedure_titles: dict[str, str] = {}
        self.only: str | None = None
        self.has = home_answers_to(self.homestead.machines.values())
        self.machine_pages = {
            path.rsplit("/", 1)[-1][:-3]: path for path in titles if path.count("/")
        }

    @property
    def drawn(self) -> dict[str, str]:
        """The drawings that pages show: path under the site -> SVG."""
        return self.drawer.drawn

    def turn_to(self, path: str) -> None:
        """Links are made for the page at ``path`` from now on."""
        self.here = path

    def names(self) -> dict[str, Any]:
        """Everything a template can name."""
        place = self.homestead.place
        return {
            "home": place,
            "w": self.workings,
            "systems": self.homestead.systems,
            "machines": self.homestead.machines,
            "suppliers": self.homestead.suppliers,
            "parts": self.homestead.parts,
            "log": self.homestead.log,
            "edition": self.homestead.edition,
            "as_of": self.workings.as_of,
            "prefer": place.units,
            "show": self.show,
            "value": self.value,
            "plain": self.plain,
            "day": words.day,
            "hours": words.hours,
            "span": self.span,
            "minutes": words.minutes,
            "work": words.work,
            "order_day": lambda value: words.order_day(value, self.workings.as_of),
            "amount": words.amount,
            "fig": self.fig,
            "figures": self.figures_of,
            "spec": self.spec,
            "spec_rows": spec_rows,
            "lash_spec": lash_spec,
            "plate_rows": self.plate_rows,
            "status": self.status,
            "link": self.link,
            "machine_link": self.machine_link,
            "procedure_link": self.procedure_link,
            "person": self.person,
            "reserve_of": lambda machine: reserve_of(self.workings.reserves, machine),
            "history": self.history,
            "has": self.has,
            "caution": self.caution,
            "fitting": self.fitting,
            "chart": self.chart,
            "faults": self.faults,
            "procedure_titles": self.procedure_titles,
            "outcome": outcome_cell,
            "fault_drawing": self.fault_drawing,
            "only": self.only,
            "shut_offs": lambda: shut_offs(self.homestead),
            "stops": lambda: stops(self.homestead),
            "handed_out": self.handed_out,
            "measured": lambda machine: measured(self.homestead, machine),
            "normal": lambda: normal_readings(self.workings),
            "months": self.months,
            "month_name": lambda month: MONTH_NAMES[month - 1],
            **reference.names(),
        }

    # --- values -----------------------------------------------------------------------------

    def show(self, quantity: Quantity | None) -> Markup:
        """A quantity in both systems, the preferred one first."""
        if quantity is None:
            return Markup("")
        return as_text(words.quantity(quantity, self.homestead.place.units))

    def value(
        self, magnitude: float, unit: str, digits: int = 3, kind: str | None = None
    ) -> Markup:
        """A computed value in both systems; ``kind`` where a unit has two, as kW of heat."""
        prefer = self.homestead.place.units
        return as_text(units.show_value(magnitude, unit, prefer, digits=digits, kind=kind))

    def plain(self, magnitude: float, unit: str, digits: int = 3) -> Markup:
        """A computed value in the preferred system alone, for a card with little room."""
        prefer = self.homestead.place.units
        return as_text(units.show_value(magnitude, unit, prefer, digits=digits, both=False))

    def span(self, day: date) -> str:
        """How far a day is from the day of the manual."""
        return words.span((day - self.workings.as_of).days)

    def figure(self, key: str) -> Figure:
        """A figure by its key."""
        found = self.workings.figures.get(key)
        if found is None:
            raise PageError(
                "",
                0,
                f"the figure {key!r}, which was not worked out",
                nearest(key, self.workings.figures) or "correct its name",
            )
        return found

    def fig(self, key: str) -> Markup:
        """A figure's value, with a link to its working where this edition has one."""
        found = self.figure(key)
        page = self._working_page(found)
        if page is None:
            return as_text(found.value)
        return Markup("[{}]({}#{})").format(as_text(found.value), self._to(page), found.anchor)

    def figures_of(self, system: str) -> list[Figure]:
        """The figures whose working stands on the page of a system."""
        return [
            figure for figure in self.workings.figures.values() if self._system_of(figure) == system
        ]

    def _system_of(self, figure: Figure) -> str:
        subject = figure.key.split(".")[0]
        machine = self.homestead.machines.get(subject)
        return machine.system if machine else "stores"

    def _working_page(self, figure: Figure) -> str | None:
        page = f"workings/workings-{self._system_of(figure)}.md"
        return page if page in self.titles else None

    def spec(self, machine: Machine, name: str, part: str = "") -> Markup:
        """A spec of a machine: one of its fields, or all in one line."""
        file = f"site_data/{machine.system}.yaml"
        found = machine.specs.get(name)
        if found is None:
            raise PageError(
                "",
                0,
                f"the spec {name!r}, which {machine.id} does not have (it has "
                f"{listing(machine.specs)})",
                f"add it under `specs:` of {machine.id} in {file}",
            )
        if part:
            value = getattr(found, part, None) if part in Spec.model_fields else None
            if value is None:
                raise PageError(
                    "",
                    0,
                    f"the {part} of the spec {name!r} of {machine.id}, which is not given",
                    f"add `{part}:` to {name!r} in {file}",
                )
            return self.show(value) if isinstance(value, Quantity) else as_text(value)
        return Markup(", ").join(self._spec_text(row) for row in spec_rows(found))

    def _spec_text(self, row: tuple[str, Any]) -> Markup:
        label, value = row
        shown = self.show(value) if isinstance(value, Quantity) else as_text(value)
        return Markup("{} {}").format(label.lower(), shown) if label else shown

    def plate_rows(self, machine: Machine) -> list[tuple[str, Markup]]:
        """The data plate: what each line is, and its value in both systems."""
        plate = getattr(machine, "plate", None)
        if isinstance(plate, dict):
            return [(key, as_text(value)) for key, value in plate.items()]
        rows = []
        for key, value in plate or ():
            if value is None or value == {} or _has_parts(value):
                continue
            rows.append((key.replace("_", " ").capitalize(), self._plate_text(value)))
        return rows

    def _plate_text(self, value: Any) -> Markup:
        if isinstance(value, Quantity):
            return self.show(value)
        if isinstance(value, units.CalendarInterval):
            return as_text(value.text)
        if isinstance(value, bool):
            return as_text("yes" if value else "no")
        if isinstance(value, tuple):  # a day of the year
            return as_text(f"{value[1]} {words.MONTHS[value[0] - 1]}")
        if isinstance(value, dict):
            return as_text("; ".join(f"{key.text}: {row}" for key, row in value.items()))
        return as_text(value)

    def person(self, name: str) -> Any:
        """Somebody of the place by name."""
        return self.homestead.place.people[name]

    # --- tasks ------------------------------------------------------------------------------

    def status(self, state: TaskState | Expiry) -> Markup:
        """The status word of a task or unit, in a shape that does without colour."""
        word = self.workings.status(state) if isinstance(state, TaskState) else state.status
        return Markup('<span class="status {}">{}</span>').format(
            word.replace(" ", "-"), word.replace(" ", words.NBSP)
        )

    def history(self, machine: Machine) -> list[tuple[date, Markup, str]]:
        """What the log says of a machine, the newest first: day, what, by whom.

        Rounds are left out unless something was noted: the last of each stands among the tasks.
        """
        return sorted(self._told.get(machine.id, []), key=lambda row: row[0], reverse=True)

    @cached_property
    def _told(self) -> dict[str, list[tuple[date, Markup, str]]]:
        """The rows of all machines' histories, as the log has them."""
        log = self.homestead.log
        rows = defaultdict(list)
        for service in log.services:
            told = self._service_told(service)
            if told:
                rows[service.machine].append((service.date, as_text(told), service.by or ""))
        for one in log.measurements:
            note = f". {one.notes}" if one.notes else ""
            what = f"{one.spec}, {one.at}" if one.at else one.spec
            rows[one.machine].append((one.date, as_text(f"Measured {what}: {one.value}{note}"), ""))
        for event in log.events:
            if event.machine is not None:
                rows[event.machine].append((event.date, as_text(event.text), ""))
        for reading in log.readings:
            if reading.old_meter is not None:
                text = f"Meter replaced: old one {words.hours(reading.old_meter.to('h'))}"
                rows[reading.machine].append((reading.date, as_text(text), ""))
        return rows

    def _service_told(self, service: Service) -> str:
        """A service in words; nothing where it was a round without a note."""
        machine = self.homestead.machines.get(service.machine)
        if machine is None:  # not in this edition
            return ""
        names = [name for name in service.tasks if (service.machine, name) not in self._rounds]
        if not names and not service.notes:
            return ""
        tasks = machine.tasks
        titles = ", ".join(tasks[name].title for name in names or service.tasks)
        at = f" at {words.hours(service.hours.to('h'))}" if service.hours else ""
        return f"{titles}{at}" + (f". {service.notes}" if service.notes else "")

    @cached_property
    def _rounds(self) -> set[TaskKey]:
        return {state.key for state in self.workings.tasks if state.rule.is_round()}

    def months(self, count: int) -> list[date]:
        """First days of the months from that of the manual's day on."""
        return schedule.month_starts(self.workings.as_of, count)

    # --- links ------------------------------------------------------------------------------

    def _to(self, path: str) -> str:
        self.pointed.setdefault(path, self.here)
        return posixpath.relpath(path, posixpath.dirname(self.here) or ".")

    def link(self, path: str, text: str | None = None) -> Markup:
        """A link to another page, by its path under content/; the text where it is not there."""
        if path not in self.titles:
            if text is None:
                raise PageError("", 0, f"a link to {path}, which no page has", "correct the path")
            return as_text(text)
        return Markup("[{}]({})").format(as_text(text or self.titles[path]), self._to(path))

    def machine_link(self, machine: Machine | str) -> Markup:
        """A link to a machine's page, or its name where this edition has no such page."""
        found = self.homestead.machines[machine] if isinstance(machine, str) else machine
        return self.link(f"machines/{found.system}/{found.id}.md", found.name)

    def procedure_link(self, state: TaskState, text: str = "procedure") -> Markup:
        """A link to the procedure of a task, or nothing."""
        name = state.task.procedure
        for path in (f"procedures/{name}.md", f"procedures/{name}-{state.machine.id}.md"):
            if name and path in self.titles:
                return self.link(path, text)
        return Markup("")

    def check_links(self) -> None:
        """Every page pointed at is made."""
        for path, origin in self.pointed.items():
            if path not in self.titles:
                raise PageError(f"content/{origin}", 0, f"a link to {path}", "correct the path")

    # --- boxes and drawings -----------------------------------------------------------------

    def caution(self, *names: str) -> Markup:
        """Safety messages of content/cautions.yaml, the gravest first; of gas where there is any."""
        fitting = [name for name in names if name != FUEL_GAS or FUEL_GAS in self.has]
        return Markup("\n{}\n").format(messages.box(self.cautions, fitting))

    def fitting(self, names: list[str], subject: Machine | None = None) -> list[str]:
        """Those messages, of batteries the ones that fit the batteries worked on."""
        return messages.fitting(names, subject, self.homestead.machines.values())

    def chart(self, name: str, subject: str = "") -> Markup:
        """A drawing with its caption; what it shows stands in a table or in words beside it."""
        path, alt, caption = self.drawer.draw(name, subject)
        return as_text(caption) if path is None else self._figure(path, alt, caption)

    def fault_drawing(self, fault: FaultPath) -> Markup:
        """The decision path of a fault; its table stands beside it."""
        data, alt, caption = path_data(fault, self.procedure_titles)
        path = self.drawer.kept_as("fault", fault.key, "fault_plots.decision_path", data, alt)
        return self._figure(path, alt, caption)

    def handed_out(self) -> list[tuple[str, str, str, str]]:
        """Private texts that this edition may show today: of what, which, itself, its last day."""
        rows = []
        for tree in self.homestead.files.trees.values():
            for path, key, text, last in handed_out(tree):
                rows.append((_owner_name(tree, path), key, text, words.day(read_date(last))))
        return rows

    def _figure(self, path: str, alt: str, caption: str) -> Markup:
        return Markup("![{}]({})\n{{: .chart }}\n\n{}\n{{: .caption }}\n").format(
            as_text(alt), self._image(path), as_text(caption)
        )

    def _image(self, path: str) -> str:
        return posixpath.relpath(path, posixpath.dirname(self.here) or ".")


MONTH_NAMES = words.MONTHS


def _has_parts(value: Any) -> bool:
    """Whether a value of a plate is itself a group of keys, or several: a page of its own has them."""
    first = next(iter(value.values()), None) if isinstance(value, dict) else value
    return isinstance(first, BaseModel)


def _owner_name(tree: Any, path: tuple[str | int, ...]) -> str:
    """The name of what a private text belongs to."""
    for step in path:
        tree = tree[step]
    return str(tree.get("name") or tree.get("title") or (path[-1] if path else ""))


SIDES = {"intake valve": ("intake", "inlet"), "exhaust valve": ("exhaust", "outlet")}


def lash_spec(machine: Machine, valve: str) -> str:
    """The name of the spec with the lash of a valve: its own, or one that a task names.

    A spec that names neither side, as `valve lash`, serves both valves.
    """
    given = [name for name, one in machine.specs.items() if one.lash is not None]
    if valve in given:
        return valve
    named = [name for task in machine.tasks.values() for name in task.specs if name in given]
    sides = {name: _side(name) for name in named}
    own = [name for name, side in sides.items() if side == valve]
    both = [name for name, side in sides.items() if side is None]
    return (own + both + [valve])[0]


def _side(name: str) -> str | None:
    """The valve that a spec's name tells of, if it tells of one."""
    told = [valve for valve, words_ in SIDES.items() if any(w in name.lower() for w in words_)]
    return told[0] if len(told) == 1 else None


def spec_rows(spec: Spec) -> list[tuple[str, Any]]:
    """What a spec says, as (label, value) in a fixed order."""
    rows = []
    for key in Spec.model_fields:
        value = getattr(spec, key)
        if value is None or key in ("notes", "private"):
            continue
        label = {"value": "", "fluid": "", "engine": "Engine"}.get(key, key.capitalize())
        rows.append((label, value))
    return rows
