"""The plan as a calendar file that any calendar program reads (RFC 5545).

An event keeps its UID while its day moves: it is named by the task, by the service that it follows
and by its number after that service. Nothing in the file comes from the clock.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from steadbook.figures.schedule import Season
from steadbook.inventory.models import Supplier
from steadbook.units import CalendarInterval
from steadbook.workings import PlannedVisit, TaskState, Workings, words
from steadbook.workings.shelf import ShelfLine

NINE = timedelta(hours=9)  # in the morning, counted from the midnight that begins the day
SELDOM = 14  # days
WEEK_BEFORE = NINE - timedelta(days=7)


@dataclass(frozen=True)
class Entry:
    """One event of whole days; ``repeats`` is a recurrence rule or nothing."""

    uid: str
    day: date
    summary: str
    text: str
    category: str
    alarms: tuple[timedelta, ...] = ()
    place: str = ""
    repeats: tuple[tuple[str, object], ...] = ()


def calendar_file(workings: Workings) -> bytes:
    """The calendar of the next 24 months, owner's edition. The same input gives the same bytes."""
    from icalendar import Alarm, Calendar, Event

    calendar = Calendar()
    calendar.add("prodid", "-//Steadbook//Systems manual//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("name", f"{workings.homestead.place.name}: upkeep")
    calendar.add("x-wr-calname", f"{workings.homestead.place.name}: upkeep")
    stamp = datetime.combine(workings.as_of, time(), UTC)
    for entry in sorted(entries(workings), key=lambda one: (one.day, one.uid)):
        event = Event()
        event.add("uid", f"{entry.uid}@steadbook")
        event.add("dtstamp", stamp)
        event.add("dtstart", entry.day)
        event.add("dtend", entry.day + timedelta(days=1))
        event.add("summary", _plain(entry.summary))
        event.add("description", _plain(entry.text))
        event.add("categories", [entry.category])
        event.add("transp", "TRANSPARENT")
        if entry.place:
            event.add("location", entry.place)
        if entry.repeats:
            event.add("rrule", dict(entry.repeats))
        for trigger in entry.alarms:
            alarm = Alarm()
            alarm.add("action", "DISPLAY")
            alarm.add("description", _plain(entry.summary))
            alarm.add("trigger", trigger)
            event.add_component(alarm)
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _plain(text: str) -> str:
    return text.replace(words.NBSP, " ")


def entries(workings: Workings) -> Iterator[Entry]:
    """Everything that has a day: services, rounds, days to order by, parts on their way."""
    yield from _services(workings)
    yield from _units(workings)
    yield from _rounds(workings)
    for line in workings.shelf.values():
        yield from _orders(line, workings)
    yield from _fuel_orders(workings)
    yield from _arrivals(workings)


def _services(workings: Workings) -> Iterator[Entry]:
    seen: Counter[str] = Counter()
    for visit in workings.visits:
        for state in visit.tasks:
            seen[state.id] += 1
            yield _service(workings, visit, state, seen[state.id])
        for state in visit.covered:
            seen[state.id] += 1


def _service(workings: Workings, visit: PlannedVisit, state: TaskState, number: int) -> Entry:
    task, after = state.task, state.done.day or "never"
    lines = []
    if number == 1:
        lines.append(f"Status on {words.day(workings.as_of)}: {workings.status(state)}.")
        if state.due.day is not None and state.due.day < workings.as_of:
            lines.append(f"It was due on {words.day(state.due.day)}.")
        if state.due.earliest and state.due.latest and state.due.earliest != state.due.latest:
            lines.append(
                f"Between {words.day(state.due.earliest)} and {words.day(state.due.latest)}, "
                "as the hours run."
            )
    lines.append(f"Interval: {task.every.text}.")
    if task.season is not None:
        lines.append(f"Season: {task.season.text}.")
    if task.minutes is not None:
        lines.append(f"Work: {words.minutes(task.minutes.to('min'))}.")
    parts = workings.homestead.parts
    taken = [f"{amount.text} {parts[name].name}" for name, amount in state.takes.items()]
    if taken:
        lines.append(f"Parts: {', '.join(taken)}.")
    if state.tools:
        lines.append(f"Tools: {', '.join(state.tools)}.")
    with_it = [one.task.title for one in visit.tasks if one is not state]
    if with_it:
        lines.append(f"On the same visit: {'; '.join(with_it)}.")
    return Entry(
        uid=f"{state.id}.{after}.{number}",
        day=visit.day,
        summary=f"{state.machine.name}: {task.title}",
        text="\n".join(lines),
        category="Seasonal" if task.season is not None else "Service",
        alarms=(WEEK_BEFORE,),
        place=state.machine.place or "",
    )


def _units(workings: Workings) -> Iterator[Entry]:
    """What runs out on a day that no task stands for; what has run out already falls on today."""
    for one in workings.expiring:
        if one.day > workings.until:
            continue
        lines = [_sentence(f"{one.unit.what}, by {words.day(one.day)}")]
        if one.unit.made is not None:
            lines.append(f"Made {words.day(one.unit.made)}.")
        lines.append("When it is done, write the new date into the inventory.")
        yield Entry(
            uid=f"unit.{one.key}",
            day=max(one.day, workings.as_of),
            summary=f"{one.unit.machine.name}: {one.unit.title}",
            text="\n".join(lines),
            category="Service",
            alarms=(WEEK_BEFORE,),
            place=one.unit.place,
        )


def _rounds(workings: Workings) -> Iterator[Entry]:
    """One repeating event for the tasks of a system that come equally often.

    What comes more often than every two weeks is left to the sheet of the rounds.
    """
    groups: dict[tuple[str, CalendarInterval, Season | None], list[TaskState]] = defaultdict(list)
    for state in workings.rounds():
        calendar = state.rule.calendar
        assert calendar is not None
        if state.due.day is not None and (calendar.months or calendar.days >= SELDOM):
            groups[state.machine.system, calendar, state.rule.season].append(state)
    for (system, interval, season), states in groups.items():
        day = max(min(one.due.day for one in states if one.due.day), workings.as_of)
        if season is not None:
            day = season.next_day_in(day)
        lines = [f"{one.machine.name}: {one.task.title}." for one in states]
        if states[0].task.season is not None:
            lines.append(f"Season: {states[0].task.season.text}.")
        named = f".{season.first[0]}-{season.first[1]}" if season else ""
        yield Entry(
            uid=f"round.{system}.{interval.months}m{interval.days}d{named}",
            day=day,
            summary=f"{workings.homestead.systems[system].title}: round, every {interval}",
            text="\n".join(lines),
            category="Round",
            repeats=_rule(day, interval, season, workings.until),
        )


def _rule(
    day: date, interval: CalendarInterval, season: Season | None, until: date
) -> tuple[tuple[str, object], ...]:
    rule: list[tuple[str, object]]
    if interval.months and not interval.days:
        rule = [("freq", "MONTHLY"), ("interval", interval.months)]
        if day.day > 28:  # no month may be passed over for want of such a day
            rule.append(("bymonthday", -1))
    else:
        rule = [("freq", "DAILY"), ("interval", interval.months * 30 + interval.days)]
    if season is not None:
        first, last = season.first[0], season.last[0]
        rule.append(("bymonth", [1 + (first - 1 + n) % 12 for n in range((last - first) % 12 + 1)]))
    return (*rule, ("until", until))


def _orders(line: ShelfLine, workings: Workings) -> Iterator[Entry]:
    for number, one in enumerate(workings.order_lines(line), start=1):
        here_by = line.here_by(one.needed_on)
        before_closing = (
            f" It must be here by {words.day(here_by)}, before the road closes."
            if here_by != one.needed_on
            else ""
        )
        yield _order(
            f"{line.name}.{number}",
            f"{line.part.name}, {one.quantity}",
            one.order_by,
            workings.as_of,
            [
                _from(line.supplier, line.lead.words()),
                f"Part number: {line.part.number}." if line.part.number else "No part number.",
                f"First needed on {words.day(one.needed_on)}; missing {line.amount(one.amount)}."
                + before_closing,
                *_late(one.order_by, workings.as_of),
            ],
        )


def _fuel_orders(workings: Workings) -> Iterator[Entry]:
    for stock in workings.fuel.to_order:
        order, supplier = stock.order, stock.supplier
        assert order is not None and supplier is not None
        if order.order_by > workings.until:
            continue
        truck = workings.fuel.late.get(stock.tank.id)
        reason = workings.fuel.reasons.get(stock.tank.id)
        yield _order(
            f"fuel.{stock.tank.id}",
            f"fuel for {stock.tank.name}",
            order.order_by,
            workings.as_of,
            [
                _from(supplier, supplier.lead_time.text),
                f"The truck must be here by {words.day(order.arrives_by)}"
                + (", before the road closes." if order.closed else "."),
                *_late(order.order_by, workings.as_of),
                *([_sentence(truck.words())] if truck else []),
                *([f"This day is {reason}."] if reason else []),
            ],
        )


def _order(uid: str, what: str, order_by: date, as_of: date, lines: Sequence[str]) -> Entry:
    """A day to order by; what should have been ordered before falls on today."""
    return Entry(
        uid=f"order.{uid}",
        day=max(order_by, as_of),
        summary=f"Order by today: {what}",
        text="\n".join(lines),
        category="Order",
        alarms=(WEEK_BEFORE, NINE),
    )


def _from(supplier: Supplier, lead: str) -> str:
    phone = f", {supplier.phone}" if supplier.phone else ""
    return f"From {supplier.name}{phone}; lead time {lead}."


def _late(order_by: date, as_of: date) -> list[str]:
    return [f"It was to be ordered by {words.day(order_by)}."] if order_by < as_of else []


def _sentence(words_: str) -> str:
    return f"{words_[:1].upper()}{words_[1:]}."


def _arrivals(workings: Workings) -> Iterator[Entry]:
    coming: dict[tuple[str, date], list[tuple[ShelfLine, date, float]]] = defaultdict(list)
    why: dict[tuple[str, date], str] = {}
    for line in workings.shelf.values():
        for order, due, size in line.on_order:
            coming[order.supplier, order.date].append((line, due, size))
            open_order = workings.orders.of(order)
            if open_order is not None and open_order.why:
                why[order.supplier, order.date] = open_order.why
    for (supplier, ordered), lines in coming.items():
        name, reason = workings.homestead.suppliers[supplier].name, why.get((supplier, ordered))
        yield Entry(
            uid=f"arrives.{supplier}.{ordered}",
            day=lines[0][1],
            summary=f"Expected from {name}",
            text="\n".join(
                [
                    f"Ordered on {words.day(ordered)}.",
                    *([f"Not earlier: {reason}."] if reason else []),
                    *(f"{line.amount(size)} {line.part.name}." for line, _, size in lines),
                    "When it is here: steadbook record received.",
                ]
            ),
            category="Order",
        )
