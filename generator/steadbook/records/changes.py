"""What a record changes: next service days, the shelf, the tanks, in words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date
from pathlib import Path

from steadbook import units
from steadbook.inventory import Homestead
from steadbook.workings import TaskState, Workings, words, work_out
from steadbook.workings.reserves import Reserve
from steadbook.workings.shelf import ShelfLine

SHOWN_AT_MOST = 8


def what_changes(
    before: Homestead, after: Homestead, as_of: date, kept: Path | None = None
) -> list[str]:
    """One line a change, the tasks done first. ``kept`` is where made-up winters are kept."""
    was, now = (work_out(one, as_of, kept=kept) for one in (before, after))
    lines = [
        *_cut(_due_changes(was, now), "next due days move"),
        *_shelf_changes(was, now),
        *_parts_not_named(was, now),
        *_reserve_changes(was, now),
        *_gauge_not_named(before, after),
    ]
    return [line.replace(words.NBSP, " ") for line in lines] or [
        "No service day, shelf or tank changes by it."
    ]


def _cut(lines: Iterable[str], what: str) -> list[str]:
    found = list(lines)
    more = len(found) - SHOWN_AT_MOST
    return [*found[:SHOWN_AT_MOST], f"... and {more} more {what}"] if more > 0 else found


def _due_changes(was: Workings, now: Workings) -> Iterator[str]:
    old = {state.key: state for state in was.tasks}
    done, moved = [], []
    for state in now.tasks:
        before = old[state.key]
        if state.done != before.done and state.done.recorded:
            done.append(_moves(before, state))
        elif state.due.day != before.due.day:
            moved.append((abs(_days(before, state)), _moves(before, state)))
    yield from done
    yield from (text for _, text in sorted(moved, reverse=True))


def _days(before: TaskState, state: TaskState) -> int:
    if before.due.day is None or state.due.day is None:
        return 100_000
    return (state.due.day - before.due.day).days


def _moves(before: TaskState, state: TaskState) -> str:
    name = f"{state.task.title} ({state.machine.name})"
    if state.due.day == before.due.day:
        return f"{name}: next due stays {words.day(state.due.day)}"
    return f"{name}: next due moves from {words.day(before.due.day)} to {words.day(state.due.day)}"


def _shelf_changes(was: Workings, now: Workings) -> Iterator[str]:
    for name, line in now.shelf.items():
        before = was.shelf[name]
        same_amount = abs(line.on_hand - before.on_hand) < 1e-9
        if (
            same_amount
            and line.on_order == before.on_order
            and not _is_news(before, line, now.soon)
        ):
            continue
        text = f"{line.part.name}: {line.amount(before.on_hand)} -> {line.amount(line.on_hand)} on the shelf"
        if same_amount:
            text = f"{line.part.name}: {line.amount(line.on_hand)} on the shelf"
        yield text + _next_visit(now, line) + _order_words(was, now, before, line)


def _parts_not_named(was: Workings, now: Workings) -> Iterator[str]:
    """Work that takes parts, recorded without any: the shelf still has them."""
    old = {state.key: state.service for state in was.tasks}
    taken: dict[str, str] = {}
    for state in now.tasks:
        new = state.service is not None and state.service != old[state.key]
        if new and state.service and not state.service.parts:
            taken |= {name: amount.text for name, amount in state.task.parts.items()}
    if taken:
        listed = ", ".join(f"{name}={amount}" for name, amount in taken.items())
        yield f'No parts named, so the shelf stays as it is. Where they were used: --parts "{listed}"'


def _is_news(before: ShelfLine, line: ShelfLine, soon: date) -> bool:
    """Whether an order day moved that is near."""
    days = [day for day in (before.order_by, line.order_by) if day is not None]
    return before.order_by != line.order_by and min(days) <= soon


def _next_visit(now: Workings, line: ShelfLine) -> str:
    for visit in now.visits:
        for _, name, size in visit.parts:
            if name == line.name:
                if line.on_hand + 1e-9 >= size:
                    return ""
                takes = f"({line.amount(size)} on {words.day(visit.day)})"
                return f", below what the next visit takes {takes}"
    return ""


def _order_words(was: Workings, now: Workings, before: ShelfLine, line: ShelfLine) -> str:
    """The next order of a part, as the page of orders has it."""
    old, new = was.next_order(before), now.next_order(line)
    if new is None:
        return ", nothing to order" if old else ""
    if old and (new.order_by, new.quantity) == (old.order_by, old.quantity):
        return ""
    day = words.day(new.order_by)
    when = f"by {day}" if new.order_by >= now.as_of else f"now (it was to be by {day})"
    return f"; order {new.quantity} from {line.supplier.name} {when}"


def _reserve_changes(was: Workings, now: Workings) -> Iterator[str]:
    old = {one.tank.id: one for one in was.reserves}
    for one in now.reserves:
        before = old[one.tank.id]
        if one.entry is None or (one.level, one.read_on) == (before.level, before.read_on):
            continue
        gauge = f"{one.level:g} % on {words.day(one.read_on)}"
        if before.level is not None:
            gauge = f"{before.level:g} % on {words.day(before.read_on)} -> {gauge}"
        yield f"{one.tank.name}: {gauge}{_usable(now, one)}"


def _usable(now: Workings, one: Reserve) -> str:
    """What of it can be used: of fuel as all pages tell it, by its temperature."""
    prefer = now.homestead.place.units
    if one.tank.holds_fuel:
        from steadbook.workings.fuel import held  # it loads numpy

        stock = held(now.homestead, one.tank, now.as_of)
        return (
            f", {units.show_value(stock.usable, 'L', prefer)} usable" if stock.is_full_known else ""
        )
    if one.usable is None:
        return ""
    return f", {units.show_value(one.usable, 'gal', prefer)} usable"


def _gauge_not_named(before: Homestead, after: Homestead) -> Iterator[str]:
    """Fuel that came without the gauge read after it: what is in the tank stays unknown."""
    old = defaultdict(list)
    for one in before.log.deliveries:
        old[one.date].append(one)
    for one in after.log.deliveries:
        if one.after is None and one not in old[one.date]:
            tank = after.machines[one.tank].name
            yield (
                f"No gauge after it, so {one.amount.text} are not counted into {tank}. "
                'Read it and add, such as: --after "80 %"'
            )
