"""A truck of fuel that, ordered today, comes too late: told, with what to do until the next one."""

from datetime import date
from pathlib import Path

import pytest

from steadbook.bind.calendar import entries
from steadbook.inventory.models import Supplier
from steadbook.making import made_manual
from steadbook.terminal import due_table
from steadbook.workings.fuel_forecast import OrderDay, Window, late_truck

ROOT = Path(__file__).parents[2]
GAS = Supplier.model_validate({"name": "Gas yard", "lead_time": "10 days"})
WINTER = Window(date(2026, 12, 1), date(2027, 4, 20))
BEFORE_SNOW = OrderDay(date(2026, 11, 20), date(2026, 11, 30), date(2027, 2, 1), WINTER)
MARK = OrderDay(date(2026, 6, 10), date(2026, 6, 20), date(2026, 6, 20), None)


def plain(text):
    return text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("order", "as_of", "comes"),
    [
        (BEFORE_SNOW, date(2026, 11, 20), None),  # the last day to order
        (BEFORE_SNOW, date(2026, 11, 21), date(2027, 4, 21)),  # the truck would meet the snow
        (MARK, date(2026, 6, 10), None),
        (MARK, date(2026, 6, 13), date(2026, 6, 23)),  # ten days
        (MARK, date(2026, 11, 25), date(2027, 4, 21)),
    ],
)
def test_the_truck_ordered_today_comes_when_the_road_lets_it(order, as_of, comes):
    late = late_truck(order, GAS, [WINTER], as_of, (WINTER, "no"))
    assert (late.comes if late else None) == comes


@pytest.mark.parametrize(
    ("verdict", "words"),
    [
        ("yes", "it does, even with heavy use"),
        ("with usual use", "with usual use it does, with heavy use not; use less or ask"),
        ("no", "it does not; use less or ask for an early truck"),
        (None, "not known; use less or ask for an early truck"),
    ],
)
def test_it_says_what_must_last_and_whether(verdict, words):
    late = late_truck(BEFORE_SNOW, GAS, [WINTER], date(2026, 11, 25), (WINTER, verdict))
    assert late
    told = plain(late.words())
    assert told.startswith("too late for this road: the next truck can come on 21 Apr 2027; until")
    assert words in told
    assert ("use less" in told) is (verdict != "yes")


def test_a_verdict_on_another_winter_is_not_this_one_s():
    other = Window(date(2025, 12, 1), date(2026, 4, 20))
    late = late_truck(BEFORE_SNOW, GAS, [WINTER], date(2026, 11, 25), (other, "yes"))
    assert late and late.lasts is None


def test_orders_today_terminal_and_calendar_say_it():
    """The demo's road closes on 1 December and the gas yard takes ten days: 20 November is last."""
    made = made_manual(ROOT, as_of=date(2026, 11, 25))
    told = "too late for this road: the next truck can come on 21 Apr 2027"
    pages = {page.path: plain(page.markdown) for page in made.manual.pages}
    late = made.workings.fuel.late
    assert late
    assert pages["index.md"].count(told) == pages["orders.md"].count(told) == len(late)
    assert plain(due_table(made.workings)).count(told) == len(late)
    events = [one for one in entries(made.workings) if one.uid.startswith("order.fuel.")]
    assert sum("Too late for this road" in one.text for one in events) == len(late)
