"""A slip of the pen in a torque or a count is doubted, with its line; what can be is not."""

from datetime import date
from pathlib import Path

import pytest

from steadbook.inventory import read_inventory
from steadbook.workings.doubts import doubts

ROOT = Path(__file__).parents[2]
BOLT = "      drain plug: {torque: 26 lbf*ft}"


def warnings(home, spec):
    made = home().change("power.yaml", BOLT, f"      drain plug: {spec}")
    return tuple(doubts(made.read()))


@pytest.mark.parametrize(
    "spec",
    [
        "{torque: 260 lbf*ft, thread: M14x1.5}",  # decimal slip up
        "{torque: 2.6 lbf*ft, thread: M14x1.5}",  # and down
        "{torque: 2.5 N*m, thread: M8, grade: '8.8'}",
        "{torque: 25 lbf*ft, thread: M8, grade: '8.8'}",  # 25 N*m typed as lbf*ft
        "{torque: 50 lbf*ft, thread: M10, grade: '8.8'}",  # 50 N*m typed as lbf*ft
        "{torque: 84 lbf*ft, thread: M6}",  # lbf*in typed as lbf*ft
        "{torque: 18 lbf*in, thread: 14 mm gasket}",  # lbf*ft typed as lbf*in
        "{torque: 20 to 30 lbf*ft, thread: M8, grade: '8.8'}",  # upper end of a range
    ],
)
def test_a_slip_of_the_pen_is_doubted(home, spec):
    (found,) = warnings(home, spec)
    assert found.warning
    assert found.key.endswith("genset.specs.drain plug.torque")


@pytest.mark.parametrize(
    "spec",
    [
        "{torque: 26 lbf*ft}",  # no thread: nothing to hold it against
        "{torque: 260 lbf*ft, thread: 1/2 NPT}",  # a pipe thread is in no table
        # ISO 898-1 M8 8.8: 21,200 N proof load, 75 % of it at K 0.20 is 25.4 N*m
        "{torque: 25 N*m, thread: M8, grade: '8.8'}",
        "{torque: 7 lbf*ft, thread: M8, grade: '8.8'}",  # gasketed cover
        # LSU AgCenter: 14 mm gasket plug 15 to 22 lbf*ft in aluminium
        "{torque: 15-22 lbf*ft, thread: 14 mm gasket}",
        "{torque: 25 N*m, thread: M8, grade: stainless}",  # grade in no table: any grade allowed
    ],
)
def test_a_torque_of_the_trade_is_not(home, spec):
    assert warnings(home, spec) == ()


def test_the_warning_says_where_what_and_how_to_put_it_right(home):
    made = home().change(
        "power.yaml", BOLT, "      drain plug: {torque: 250 N*m, thread: M8, grade: '8.8'}"
    )
    (found,) = doubts(made.read())
    assert (found.file, found.line) == (
        "site_data/power.yaml",
        made.line("power.yaml", "drain plug: {torque"),
    )
    assert found.found == "250 N*m, which is much for M8 8.8"
    # 17.8 N*m / 3 and 33.1 N*m: K 0.20, 75 % of 580 MPa x 36.6 mm2, 30 % either way
    assert found.allowed.replace("\N{NO-BREAK SPACE}", " ") == (
        "from 4.4 lbf·ft (5.9 N·m) to 24 lbf·ft (33 N·m) on such a thread"
    )
    assert "decimal point and the unit" in found.fix


USED = "  - {{date: {day}, machine: genset, tasks: [oil-change], parts: {{oil-filter: {count}}}}}\n"


def shelf_doubts(home, services, orders=""):
    """Of the filters 1 was counted on 1 January, and 1 used on 1 February."""
    made = home()
    made.change("log/2026.yaml", "levels:\n", services + orders + "levels:\n")
    return made, tuple(doubts(made.read()))


def test_more_used_than_the_shelf_held_asks_for_a_count(home):
    made, (found,) = shelf_doubts(home, USED.format(day="2026-02-10", count=2))
    assert found.warning
    assert (found.file, found.line) == (
        "site_data/log/2026.yaml",
        made.line("log/2026.yaml", "2026-02-10"),
    )
    assert found.found == "3 of oil-filter used since the count of 2026-01-01"
    assert found.allowed == "1 counted and 0 received by then: the shelf cannot give more"
    assert "count it again" in found.fix


@pytest.mark.parametrize(("received", "doubted"), [("2026-02-10", 0), ("2026-02-11", 1)])
def test_what_came_by_that_day_is_there(home, received, doubted):
    order = f"orders:\n  - {{date: 2026-01-20, supplier: parts-shop, parts: {{oil-filter: 1}}, received: {received}}}\n"
    _, found = shelf_doubts(home, USED.format(day="2026-02-10", count=1), order)
    assert len(found) == doubted


def test_a_new_count_puts_the_shelf_right(home):
    count = "counts:\n  - {date: 2026-02-05, part: oil-filter, amount: 2}\n"
    _, found = shelf_doubts(home, USED.format(day="2026-02-10", count=2), count)
    assert found == ()


def test_the_demo_has_none():
    assert list(doubts(read_inventory(ROOT / "site_data", as_of=date(2026, 11, 25)))) == []
