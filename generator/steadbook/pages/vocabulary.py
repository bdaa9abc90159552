"""The words a page's template may use: every one gives text that is safe where it lands."""

from __future__ import annotations

import posixpath
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any

from markupsafe import Markup

from steadbook import units
from steadbook.errors import PageError
from steadbook.figures import schedule
from steadbook.inventory.explain import nearest
from steadbook.inventory.fields import read_date
from steadbook.inventory.models import Machine
from steadbook.inventory.redact import handed_out
from steadbook.pages import cautions as messages
from steadbook.pages import reference
from steadbook.pages.called import home_answers_to
from steadbook.pages.drawings import Drawer
from steadbook.pages.escape import as_text
from steadbook.pages.fault_paths import FaultPath, outcome_cell, path_data
from steadbook.pages.machine_history import HistoryRow, told_of_machines
from steadbook.pages.site_map import grouped
from steadbook.pages.specs import lash_spec, plate_rows, spec_rows, spec_text, tells_minutes
from steadbook.units import Quantity
from steadbook.workings import Figure, Workings, words
from steadbook.workings.expiring import Expiry
from steadbook.workings.measured import measured
from steadbook.workings.normal import normal_readings
from steadbook.workings.reserves import reserve_of
from steadbook.workings.tasks import TaskState
from steadbook.workings.treatment import overdue_treatment


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
        self.subject: Machine | None = None
        self.pointed: dict[str, str] = {}
        self.faults: list[FaultPath] = []
        self.procedure_titles: dict[str, str] = {}
        self.only: str | None = None
        self._machines = list(self.homestead.machines.values())
        self.has = home_answers_to(self._machines)
        self.machine_pages = {
            path.rsplit("/", 1)[-1][:-3]: path for path in titles if path.count("/")
        }

    @property
    def drawn(self) -> dict[str, str]:
        """The drawings that pages show: path under the site -> SVG."""
        return self.drawer.drawn

    def turn_to(self, path: str, subject: object = None) -> None:
        """The page at ``path``, about ``subject``, is made from now on."""
        self.here = path
        self.subject = subject if isinstance(subject, Machine) else None

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
            "tells_minutes": tells_minutes,
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
            "caution_in_brief": self.caution_in_brief,
            "fitting": self.fitting,
            "chart": self.chart,
            "faults": self.faults,
            "procedure_titles": self.procedure_titles,
            "outcome": outcome_cell,
            "fault_drawing": self.fault_drawing,
            "only": self.only,
            "shut_offs": lambda: grouped(self.homestead),
            "handed_out": self.handed_out,
            "measured": lambda machine: measured(self.homestead, machine),
            "normal": lambda: normal_readings(self.workings),
            "overdue_treatment": lambda: overdue_treatment(self.workings),
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
        return spec_text(machine, name, part, self.show)

    def plate_rows(self, machine: Machine) -> list[tuple[str, Markup]]:
        """The data plate: what each line is, and its value in both systems."""
        return plate_rows(machine, self.show)

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

    def history(self, machine: Machine) -> list[HistoryRow]:
        """What the log says of a machine, the newest first."""
        return sorted(self._told.get(machine.id, []), key=lambda row: row[0], reverse=True)

    @cached_property
    def _told(self) -> dict[str, list[HistoryRow]]:
        return told_of_machines(self.homestead, self.workings.tasks)

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
        """Safety messages of content/cautions.yaml that fit the home, the gravest first.

        Those of batteries are the page's own choice; `fitting` makes it by their chemistry.
        """
        told = messages.fitting(names, self.subject, self._machines, by_chemistry=False)
        return Markup("\n{}\n").format(messages.box(self.cautions, told))

    def caution_in_brief(self, *names: str) -> Markup:
        """The same messages, the first whole and the others in a line or two each."""
        told = messages.fitting(names, self.subject, self._machines, by_chemistry=False)
        return Markup("\n{}\n").format(messages.box(self.cautions, told, in_brief=True))

    def fitting(self, names: list[str], subject: Machine | None = None) -> list[str]:
        """Those messages that fit the home and the batteries worked on."""
        return messages.fitting(names, subject, self._machines)

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


def _owner_name(tree: Any, path: tuple[str | int, ...]) -> str:
    """The name of what a private text belongs to."""
    for step in path:
        tree = tree[step]
    return str(tree.get("name") or tree.get("title") or (path[-1] if path else ""))
