"""The shelf and the plan of a homestead: what the visits take, what is missing, what to order."""

from datetime import date, timedelta

import pytest
from tests.conftest import AS_OF

from steadbook.figures.stock import Need
from steadbook.workings import work_out
from steadbook.workings.words import NBSP


def worked(made, as_of=AS_OF):
    return work_out(made.read(as_of=as_of), as_of)


def test_the_shelf_is_the_count_less_what_services_took_since(home):
    shelf = worked(home()).shelf
    # 1 filter counted on 1 January, 1 used on 1 February
    assert shelf["oil-filter"].on_hand == 0.0
    assert shelf["engine-oil"].on_hand == 5.0


def test_a_service_on_the_day_of_the_count_was_counted_with(home):
    made = home().change("parts.yaml", "on_hand: 1, counted: 2026-01-01",
                         "on_hand: 1, counted: 2026-02-01")  # fmt: skip
    assert worked(made).shelf["oil-filter"].on_hand == 1.0


def test_the_shelf_is_never_below_nothing(home):
    made = home().change("log/2026.yaml", "parts: {oil-filter: 1}", "parts: {oil-filter: 3}")
    assert worked(made).shelf["oil-filter"].on_hand == 0.0


def test_amounts_are_counted_in_the_unit_of_the_shelf(home):
    made = home().change("log/2026.yaml", "parts: {oil-filter: 1}", "parts: {engine-oil: 1 L}")
    # 1 quart is 0.946353 L (US gallon of 231 cubic inches): 5 - 1.0567
    assert worked(made).shelf["engine-oil"].on_hand == pytest.approx(5 - 1 / 0.946352946)


ORDER = "orders:\n  - {{date: 2026-02-10, supplier: parts-shop, parts: {{oil-filter: 2}}{more}}}\n"


@pytest.mark.parametrize(
    ("more", "on_hand", "expected"),
    [
        (", received: 2026-02-20", 2.0, None),
        ("", 0.0, AS_OF),  # two weeks from 10 February are over: today at the earliest
        (", promised: 2026-03-20", 0.0, date(2026, 3, 20)),
        (", promised: 2026-03-20, back_order_until: 2026-06-01", 0.0, date(2026, 6, 1)),
    ],
)
def test_orders(home, more, on_hand, expected):
    made = home().change("log/2026.yaml", "levels:", ORDER.format(more=more) + "levels:")
    line = worked(made).shelf["oil-filter"]
    assert line.on_hand == on_hand
    assert [day for _, day, _ in line.on_order] == ([expected] if expected else [])


def visits_with(workings, task):
    """The visits in which a task is done, by itself or within one that covers it."""
    return [
        visit
        for visit in workings.visits
        if any(task == one.name or task in one.covers for one in visit.tasks)
    ]


def test_what_the_planned_visits_take(home):
    workings = worked(home())
    needed = {"oil-filter": 0.0, "engine-oil": 0.0}
    for visit in workings.visits:
        for _, name, size in visit.parts:
            needed[name] += size
    assert needed == {name: line.needed for name, line in workings.shelf.items()}
    # the annual service of 7 March and the one a year later both include an oil change
    changes = visits_with(workings, "oil-change")
    assert [visit.day.year for visit in changes] == [2026, 2027]
    assert needed == {"oil-filter": 2, "engine-oil": 5.0}


def test_order_by_is_the_lead_time_before_the_first_visit_the_shelf_does_not_reach(home):
    workings = worked(home())
    visit = visits_with(workings, "oil-change")[0]
    line = workings.shelf["oil-filter"]
    assert line.order_by == visit.day - timedelta(days=14)
    annual = next(one for one in workings.tasks if one.name == "annual-service")
    assert workings.order_by[annual.key] == line.order_by
    working = " ".join(workings.figures["parts/oil-filter.order-by"].working).replace(NBSP, " ")
    assert "2 weeks (14 days) from The parts shop" in working


def test_order_now_when_the_lead_time_reaches_back_to_today(home):
    made = home().change("suppliers.yaml", "lead_time: 2 weeks", "lead_time: 11 months")
    made.change("log/2026.yaml", "tasks: [oil-change]", "tasks: [annual-service]")
    workings = worked(made)
    annual = next(one for one in workings.tasks if one.name == "annual-service")
    # due on 1 February 2027, to be ordered by 1 March 2026
    assert annual.due.day == date(2027, 2, 1)
    assert workings.status(annual) == "order now"


def test_what_is_to_order_is_what_a_walk_through_the_visits_lacks(home):
    workings = worked(home())
    for name, line in workings.shelf.items():
        needs = [
            Need(v.day, size) for v in workings.visits for _, part, size in v.parts if part == name
        ]
        lacking = max(0.0, sum(one.amount for one in needs) - line.on_hand)
        assert line.to_order == pytest.approx(lacking)


def test_parts_of_a_covered_task_are_those_of_the_greater_one(home):
    made = home().change("power.yaml", "every: 12 months\n",
                         "every: 12 months\n        parts: {oil-filter: 3}\n")  # fmt: skip
    made.change("power.yaml", "every: 200 h or 24 months", "every: 12 months")
    made.change("power.yaml", "        first: 25 h\n", "")
    made.change("log/2026.yaml", "tasks: [oil-change]", "tasks: [annual-service]")
    visit = worked(made).visits[0]
    assert [one.name for one in visit.tasks] == ["annual-service"]
    assert [one.name for one in visit.covered] == ["oil-change"]
    # the greater task names its filters itself, and leaves the oil to the smaller one
    assert [(name, size) for _, name, size in visit.parts] == [
        ("oil-filter", 3.0), ("engine-oil", 2.5),
    ]  # fmt: skip


def test_the_gauge_after_a_delivery_comes_after_the_one_before_it(home):
    made = home().change(
        "log/2026.yaml", "levels:",
        "deliveries:\n  - {date: 2026-02-01, tank: tank, amount: 100 gal, after: 80 %}\nlevels:",
    )  # fmt: skip
    (reserve,) = worked(made).reserves
    assert (reserve.level, reserve.contents, reserve.usable) == (80.0, 400.0, 300.0)


def test_a_tank_without_a_reading(home):
    made = home({"log/2026.yaml": "events: []\n"})
    (reserve,) = worked(made).reserves
    assert reserve.level is None and reserve.usable is None


def test_a_part_called_like_a_machine_has_a_working_of_its_own(home):
    made = home()
    made.change("parts.yaml", "  oil-filter:", "  genset:")
    made.change("power.yaml", "{oil-filter: 1,", "{genset: 1,")
    made.change("log/2026.yaml", "parts: {oil-filter: 1}", "parts: {genset: 1}")
    figures = work_out(made.read(), AS_OF).figures
    part = figures["parts/genset.order-by"]
    assert part.title == "Oil filter, order by"
    assert "genset.order-by" not in figures
    anchors = [figure.anchor for figure in figures.values()]
    assert len(anchors) == len(set(anchors))
    assert part.anchor == "w-parts--genset--order-by"
