"""Lead times as they were, use besides the visits, and stock-takes in the log."""

from datetime import date, timedelta

import pytest
from tests.conftest import AS_OF

from steadbook.workings import work_out
from steadbook.workings.shelf import order_figures
from steadbook.workings.supply import leads, steady_use
from steadbook.workings.words import NBSP

ORDERED = date(2025, 1, 6)


def _orders(*days, supplier="parts-shop"):
    return "orders:\n" + "".join(
        f"  - {{date: {ORDERED}, supplier: {supplier}, parts: {{oil-filter: 1}}, "
        f"received: {ORDERED + timedelta(days=one)}}}\n"
        for one in days
    )


def _line(made, part="oil-filter"):
    return work_out(made.read(), AS_OF).shelf[part]


def test_a_promise_holds_until_three_orders_tell_otherwise(home):
    made = home({"log/2025.yaml": _orders(40, 40)})
    assert leads(made.read(), AS_OF)["parts-shop"].days == timedelta(days=14)
    made = home({"log/2025.yaml": _orders(40, 20, 30)})
    # nine in ten of 20, 30, 40 by straight line: 38
    assert leads(made.read(), AS_OF)["parts-shop"].days == timedelta(days=38)


def test_a_supplier_who_is_early_is_reckoned_with_as_promised(home):
    lead = leads(home({"log/2025.yaml": _orders(5, 6, 7, 8)}).read(), AS_OF)["parts-shop"]
    assert lead.days == timedelta(days=14)
    assert lead.words() == "2 weeks (14 days) from The parts shop"


def test_a_late_supplier_moves_the_day_to_order_by(home):
    promised = _line(home()).order_by
    made = home({"log/2025.yaml": _orders(40, 20, 30)})
    homestead = made.read()
    workings = work_out(homestead, AS_OF)
    line = workings.shelf["oil-filter"]
    # 3 filters more came before the count: they are in it
    assert line.on_hand == 0.0
    assert promised - line.order_by == timedelta(days=38 - 14)
    (figure,) = order_figures(homestead, [line], AS_OF)
    words = " ".join(figure.working).replace(NBSP, " ")
    assert "38 days, in which 9 in 10 of 3 orders from The parts shop came" in words
    assert "(promised: 2 weeks (14 days))" in words
    where = [one.where for one in figure.inputs if one.name == "last order received"]
    assert where == [f"site_data/log/2025.yaml:{made.line('log/2025.yaml', '2025-02-05')}"]


ROUND = "      oil-look: {title: Look at the oil, every: 14 days}\n      annual-service:\n"


def _topped_up(home, count=12, size="0.5 qt", task="oil-look"):
    """Oil topped up every 30 days; the log ends 360 days after the first time."""
    first = date(2026, 2, 1) - timedelta(days=360)
    services = "services:\n" + "".join(
        f"  - {{date: {first + timedelta(days=30 * n)}, machine: genset, tasks: [{task}], "
        f"parts: {{engine-oil: {size}}}}}\n"
        for n in range(count)
    )
    made = home({"log/2025.yaml": services})
    return made.change("power.yaml", "      annual-service:\n", ROUND)


def test_use_besides_the_visits_by_hand(home):
    use = steady_use(_topped_up(home).read())["engine-oil"]
    assert use.daily == pytest.approx(0.5 / 30)
    assert use.spread == pytest.approx(0.0)
    assert (use.uses, use.first, use.last) == (12, date(2025, 2, 6), date(2026, 1, 31))


def test_what_a_visit_plans_is_not_counted_twice(home):
    assert steady_use(_topped_up(home, task="oil-change").read()) == {}
    assert steady_use(_topped_up(home, task="annual-service").read()) == {}  # it covers the other


def test_a_few_uses_are_no_habit(home):
    assert steady_use(_topped_up(home, count=5).read()) == {}
    assert steady_use(home({"log/2026.yaml": "readings: []\n"}).read()) == {}


def test_the_months_to_come_need_their_share(home):
    line = _line(_topped_up(home), "engine-oil")
    # 24 months of 30.44 days at half a quart in 30, and what the visits take, less the shelf
    assert line.to_order == pytest.approx(
        24 * 30.4375 * 0.5 / 30 + line.needed - line.on_hand, abs=0.01
    )
    first = min(line.short, key=lambda one: one.need.day)
    taken = [use for use in line.steady.needs(AS_OF, date(2028, 3, 1)) if use.day <= first.need.day]
    assert line.on_hand - sum(one.amount for one in taken) < 3  # the visit's 2.5 qt did not fit


def test_varying_use_keeps_a_safety_stock(home):
    """Buckets of 0 and 1 in turn: mean 0.5, standard deviation 0.5 * sqrt(12 / 11)."""
    made = _topped_up(home)
    text = (made.site_data / "log/2025.yaml").read_text()
    lines = text.splitlines(keepends=True)
    doubled = lines[:1] + [
        one for line in lines[1::2] for one in (line, line.replace("30}", "30}"))
    ]
    made.write("log/2025.yaml", "".join(doubled))
    line = _line(made, "engine-oil")
    spread = 0.5 * (12 / 11) ** 0.5 / 30**0.5
    assert line.steady.spread == pytest.approx(spread)
    # 95 percent: 1.645 (normal table); 14 days of lead time
    assert line.safety == pytest.approx(1.645 * spread * 14**0.5, rel=1e-3)


def test_no_page_changes_because_a_day_passed(home):
    made = _topped_up(home)
    lines = [
        work_out(made.read(as_of=day), day).shelf["engine-oil"]
        for day in (date(2026, 3, 2), date(2026, 3, 30))
    ]
    assert lines[0].steady == lines[1].steady
    assert lines[0].order_by == lines[1].order_by
