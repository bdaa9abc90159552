"""What to hold of the parts that take longer to come than their machine can be done without."""

import pytest
from tests.conftest import AS_OF

from steadbook.workings import work_out
from steadbook.workings.words import NBSP


def held(home, wait="can_wait: 3 days", filters=1, orders="", filter_count=1):
    """No visit comes within the shop's 14 days: the oil was changed on 1 February."""
    made = home()
    made.change("power.yaml", "every: 12 months", "every: 10 years")
    made.change(
        "power.yaml", "    installed: 2024-01-01\n", f"    installed: 2024-01-01\n    {wait}\n"
    )
    made.change("power.yaml", "parts: {oil-filter: 1,", f"parts: {{oil-filter: {filter_count},")
    made.change(
        "parts.yaml",
        "Oil filter, supplier: parts-shop, on_hand: 1",
        f"Oil filter, supplier: parts-shop, on_hand: {filters}",
    )
    if orders:
        made.change("log/2026.yaml", "levels:\n", orders + "levels:\n")
    return work_out(made.read(), AS_OF)


def test_nothing_is_critical_where_the_machine_can_wait(home):
    """The shop takes 14 days."""
    assert held(home, "notes: x").spares == ()
    assert held(home, "can_wait: 14 days").spares == ()
    assert len(held(home, "can_wait: 13 days").spares) == 2


@pytest.mark.parametrize(("on_shelf", "verdict"), [(1, "order 1"), (2, "enough"), (0, "order 1")])
def test_one_set_against_a_failure(home, on_shelf, verdict):
    """Filters on 1 January, one used on 1 February; no visit within the lead time takes one."""
    workings = held(home, filters=on_shelf)
    spare = next(one for one in workings.spares if one.line.name == "oil-filter")
    assert [one for one in workings.visits if one.day <= spare.until and one.parts] == []
    assert (spare.planned, spare.one_set, spare.advised) == (0, 1, 1)
    assert spare.verdict == verdict


def test_what_planned_work_takes_meanwhile_comes_on_top(home):
    """Changed on 1 February and every 45 days: one filter by the end of March."""
    made = home()
    made.change(
        "power.yaml",
        "    installed: 2024-01-01\n",
        "    installed: 2024-01-01\n    can_wait: 3 days\n",
    )
    made.change("power.yaml", "every: 200 h or 24 months", "every: 200 h or 45 days")
    made.change("power.yaml", "every: 12 months", "every: 10 years")
    workings = work_out(made.read(), AS_OF)
    spare = next(one for one in workings.spares if one.line.name == "oil-filter")
    assert str(spare.until) == "2026-03-31"
    assert (spare.planned, spare.advised) == (1, 2)
    working = " ".join(workings.figures["oil-filter.hold"].working).replace(NBSP, " ")
    assert "Planned visits up to 31 Mar 2026" in working
    assert "1 + 1 = 2." in working


def test_what_is_on_its_way_counts(home):
    order = "orders:\n  - {date: 2026-02-25, supplier: parts-shop, parts: {oil-filter: 2}}\n"
    spare = next(one for one in held(home, orders=order).spares if one.line.name == "oil-filter")
    assert (spare.line.on_hand, spare.coming) == (0, 2)
    assert spare.verdict == "enough when the order is here"


def test_volumes_are_rounded_up_to_whole_quarts(home):
    spare = next(one for one in held(home).spares if one.line.name == "engine-oil")
    assert (spare.one_set, spare.advised) == (2.5, 3)
    assert spare.verdict == "enough"


def test_a_set_of_four_is_held_as_four(home):
    spare = next(one for one in held(home, filter_count=4).spares if one.line.name == "oil-filter")
    assert (spare.advised, spare.verdict) == (4, "order 4")


def test_of_two_machines_the_one_that_waits_least_tells(home):
    workings = held(home)
    assert {one.machine.name for one in workings.spares} == {"Genset"}
    assert {one.wait.text for one in workings.spares} == {"3 days"}
