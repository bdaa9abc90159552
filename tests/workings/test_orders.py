"""The next order from each supplier, in whole packages, with what goes along and what is open."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from tests.conftest import AS_OF

from steadbook.figures.stock import Need, Shortage
from steadbook.workings import work_out
from steadbook.workings.orders import order_line
from steadbook.workings.words import NBSP

PARTS = """\
parts:
  oil-filter: {{name: Oil filter, number: F-1, supplier: parts-shop, on_hand: 0, counted: 2026-02-15, alternatives: [G-2, H-3]}}
  engine-oil: {{name: Engine oil, supplier: parts-shop, on_hand: 0 qt, counted: 2026-02-15, pack: 5 qt}}
  belt: {{name: Belt, supplier: parts-shop, on_hand: 0, counted: 2026-02-15{more}}}
"""
BELT = (
    "      belt: {{title: New belt, every: {every}, parts: {{belt: 3}}}}\n      annual-service:\n"
)


def ordered(home, every="18 months", more="", together=None, log=""):
    """Oil falls due first; the belt so long after the machine came, on 1 January 2024."""
    made = home({"parts.yaml": PARTS.format(more=more)})
    made.change("power.yaml", "      annual-service:\n", BELT.format(every=every))
    if together:
        made.change(
            "homestead.yaml",
            "name: Test place\n",
            f"name: Test place\norders_together: {together}\n",
        )
    if log:
        made.change("log/2026.yaml", "levels:\n", log + "levels:\n")
    return work_out(made.read(), AS_OF)


def names(lines):
    return [one.part.name for one in lines]


def test_one_order_a_supplier_with_what_falls_due_soon_after(home):
    workings = ordered(home, every="32 months")  # 1 September 2026
    (order,) = workings.orders.coming
    oil, belt = workings.shelf["engine-oil"], workings.shelf["belt"]
    apart = (belt.order_by - oil.order_by).days
    assert apart > 8 * 7  # the default
    assert order.order_by == oil.order_by
    assert set(names(order.lines)) == {"Oil filter", "Engine oil"}
    assert belt.order_by <= order.order_by + timedelta(weeks=100)
    (order,) = ordered(home, every="32 months", together="100 weeks").orders.coming
    assert "Belt" in names(order.along)
    assert "Belt" not in names(order.first)


@pytest.mark.parametrize(
    ("missing", "pack", "quantity"),
    [
        (3, None, "3"), (2.2, None, "3"), (3, "4", "1 package of 4"), (4, "4", "1 package of 4"),
        (5, "4", "2 packages of 4"),
    ],
)  # fmt: skip
def test_whole_packages_are_ordered(home, missing, pack, quantity):
    more = f", pack: {pack}" if pack else ""
    line = ordered(home, more=more).shelf["belt"]
    day = date(2026, 6, 1)
    from dataclasses import replace

    line = replace(line, short=(Shortage(Need(day, missing), missing, day, False),))
    assert order_line(line, day).quantity == quantity
    assert order_line(line, day - timedelta(days=1)) is None


def test_oil_is_ordered_by_the_can(home):
    """The year's service takes 2.5 qt, a can holds 5 qt."""
    (order,) = ordered(home).orders.coming
    oil = next(one for one in order.lines if one.part.name == "Engine oil")
    assert oil.quantity.replace(NBSP, " ") == "1 package of 5 qt"
    assert (oil.amount, oil.size) == (2.5, 5.0)


def test_the_mail_has_all_that_the_shop_asks_for(home):
    (order,) = ordered(home).orders.coming
    lines = order.text("Test place").split("\n")
    assert lines[:4] == ["Subject: Order from Test place", "Account: AC-7788", "",
                         "Please send in one parcel:"]  # fmt: skip
    assert "1                     F-1           Oil filter" in lines
    assert "Instead of F-1, these fit too: G-2; H-3" in lines


def test_other_editions_never_see_the_account(home):
    made = home({"parts.yaml": PARTS.format(more="")})
    made.change("power.yaml", "      annual-service:\n", BELT.format(every="18 months"))
    workings = work_out(made.read(edition="technician"), AS_OF)
    assert "AC-7788" not in workings.orders.coming[0].text("x")


def test_all_orders_of_a_part_one_after_the_other_buy_what_is_missing_once(home):
    """Two weeks together: each covers what falls due within them, none twice."""
    found = ordered(home, together="2 weeks")
    for line in found.shelf.values():
        lines = found.order_lines(line)
        assert sum(one.amount for one in lines) == pytest.approx(line.to_order)
        for before, after in pairwise(lines):
            assert before.until < after.order_by <= after.until
    oil = found.shelf["engine-oil"]
    first, *later = found.order_lines(oil)
    assert first == found.next_order(oil)
    assert later and all(one.packs * 5 == one.size for one in later)


OPEN = """\
orders:
  - {date: 2026-01-10, supplier: parts-shop, parts: {oil-filter: 2}, received: 2026-01-24}
  - {date: 2026-01-11, supplier: parts-shop, parts: {oil-filter: 2}, received: 2026-01-26}
  - {date: 2026-01-12, supplier: parts-shop, parts: {oil-filter: 2}, promised: 2026-02-20, received: 2026-02-14}
  - {date: 2026-02-20, supplier: parts-shop, parts: {oil-filter: 2}}
  - {date: 2026-02-21, supplier: parts-shop, parts: {oil-filter: 1}, promised: 2026-03-05, back_order_until: 2026-04-01}
"""


def test_promises_and_what_became_of_them(home):
    """14, 15 and 33 days by the calendar; the first and the third came by the promised day."""
    kept = ordered(home, log=OPEN).orders.kept["parts-shop"]
    assert (kept.received, kept.in_time) == (3, 2)
    assert kept.lead.took.median == 15
    # numpy-free by hand: 15 + 0.8 x (33 - 15)
    assert kept.lead.took.nine_in_ten == pytest.approx(29.4)


def test_orders_under_way_with_their_days(home):
    first, second = ordered(home, log=OPEN).orders.under_way
    assert (first.promised, first.expected) == (date(2026, 3, 6), date(2026, 3, 6))
    assert (second.promised, second.expected) == (date(2026, 3, 5), date(2026, 4, 1))
    assert second.what == "1 Oil filter"


def test_every_page_names_the_amount_of_the_next_order(home):
    """Today and the shelf show what the order itself does: whole packages."""
    found = ordered(home)
    (order,) = found.orders.coming
    for line in order.lines:
        assert found.next_order(line.line) == line
    oil = next(one.line for one in order.lines if one.part.name == "Engine oil")
    assert oil.whole(2.5).replace(NBSP, " ") == "5 qt"
