"""What a shed needs besides the binder: blank forms, cards to laminate, dividers, a spine label."""

from __future__ import annotations

from collections.abc import Iterator

from steadbook.bind.binder import Binder, bind
from steadbook.bind.engines import Engine
from steadbook.bind.forms import (
    FUEL_LOG,
    RUN_LOG,
    SERVICE_RECORD,
    Card,
    Form,
    cards_tab,
    dividers_tab,
    forms_tab,
    gravity_sheet,
    spine_tab,
)
from steadbook.inventory.models import BatteryBank, Genset, Tank
from steadbook.making import Made
from steadbook.pages.site_map import ShutOffRow, grouped

FUELS = ("propane", "gasoline", "diesel", "kerosene")
MOST_CELLS = 24  # a sheet each string of a 48 V bank
LETTERS_ACROSS_A_CARD, LINES_OF_A_CARD = 46, 13


def stationery(made: Made, engine: Engine | None = None) -> Binder:
    """Forms, cards, dividers and spine label as a PDF of their own. Raises BindError.

    All are for one side of the paper: what is cut out, laminated or stood between tabs has no back.
    """
    place = made.workings.homestead.place
    tabs = [
        forms_tab(blank_forms(made)),
        cards_tab(cards(made)),
        dividers_tab(list(made.manual.tabs()), duplex=False),
        spine_tab(made.manual.title, "Systems manual"),
    ]
    return bind(
        [tab for tab in tabs if tab.html],
        title=f"{place.name}: forms and cards",
        subtitle=place.where,
        paper=place.paper,
        as_of=made.workings.as_of,
        roots=[],
        engine=engine,
        duplex=False,
        with_front=False,
    )


def blank_forms(made: Made) -> list[tuple[Form, str]]:
    """A run log for each genset, a service record for what has a meter, a log for each fuel tank,
    a gravity sheet for each string of a flooded bank."""
    found: list[tuple[Form, str]] = []
    for machine in made.workings.homestead.machines.values():
        if isinstance(machine, Genset):
            found.append((RUN_LOG, machine.name))
        if machine.meter is not None:
            found.append((SERVICE_RECORD, machine.name))
        if isinstance(machine, Tank) and machine.plate.contents in FUELS:
            found.append((FUEL_LOG, machine.name))
        if isinstance(machine, BatteryBank) and machine.plate.chemistry == "flooded":
            cells = machine.plate.cells_in_series or MOST_CELLS
            strings = machine.plate.strings or 1
            for number in range(1, strings + 1):
                name = machine.name if strings == 1 else f"{machine.name}, string {number}"
                found.append((gravity_sheet(min(cells, MOST_CELLS)), name))
    return found


def cards(made: Made) -> list[Card]:
    """Whom to call, what to shut off, and the round of every day."""
    homestead = made.workings.homestead
    place = homestead.place
    people = [place.people[name] for name in place.call_first]
    calls = [f"Fire, ambulance, police: {place.emergency}"] if place.emergency else []
    calls += [f"{who.name} ({who.role}): {who.phone}" for who in people if who.phone]
    stops = {
        f"Shut off: {group.lower()}": [_shut_off(row) for row in rows if row.how]
        for group, rows in grouped(homestead)
    }
    daily = [
        f"{state.machine.name}: {state.task.title}"
        + (f", every {state.task.every.text}" if state.rule.hours is not None else "")
        for state in made.workings.rounds()
        if state.rule.calendar and state.rule.calendar.months == 0 and state.rule.calendar.days <= 7
    ]
    return [
        Card(title, tuple(part))
        for title, lines in (
            ("Call", calls),
            *stops.items(),
            ("Daily and weekly round", daily),
        )
        for part in _that_fit(lines)
    ]


def _shut_off(row: ShutOffRow) -> str:
    """A machine, where and how it is shut off, and how it is stopped where that says more."""
    where = f", {row.where}" if row.where else ""
    return f"{row.machine.name}{where}: {row.how}" + (
        f" To stop it: {row.stop}" if row.stop else ""
    )


def _that_fit(lines: list[str]) -> Iterator[list[str]]:
    """The lines in runs that fit on half a sheet in large type."""
    part: list[str] = []
    room = LINES_OF_A_CARD
    for line in lines:
        needed = -(-len(line) // LETTERS_ACROSS_A_CARD)
        if part and needed > room:
            yield part
            part, room = [], LINES_OF_A_CARD
        part.append(line)
        room -= needed
    if part:
        yield part
