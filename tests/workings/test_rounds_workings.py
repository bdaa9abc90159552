"""Rounds in walking order, seasonal rounds, and weekends that do not overflow."""

from datetime import date
from pathlib import Path

import pytest

from steadbook.inventory import read_inventory
from steadbook.workings import work_out
from steadbook.workings.rounds import NO_PLACE, frequency, stop_of

DEMO = Path(__file__).parents[2] / "site_data"
DAY = date(2026, 11, 25)

POWER = """\
title: Power
equipment:
  stove:
    kind: other
    name: Stove
    place: Cabin, south wall
    installed: 2024-01-01
    tasks:
      ash: {title: Ash, every: 1 week, minutes: 15 min}
      seal: {title: Seal, every: 12 months, season: 1 May to 15 October, minutes: 20 min}
  pump:
    kind: other
    name: Pump
    place: Well house behind the barn
    installed: 2024-01-01
    tasks:
      look: {title: Look, every: 1 day}
      current: {title: Current, every: 1 month, minutes: 10 min}
      thaw: {title: Open the drains, every: 12 months, season: 1 April to 31 May, minutes: 30 min}
  gate:
    kind: other
    name: Gate
    installed: 2024-01-01
    tasks:
      oil: {title: Oil, every: 2 weeks, minutes: 5 min}
      rebuild: {title: Rebuild, every: 24 months, minutes: 9 h}
"""
WALK = "walk: [Cabin, Barn, Well house]\nweekend_hours: 2 h\n"


@pytest.fixture
def plan(home):
    def make(latitude="45.0", walk=WALK):
        made = home({"power.yaml": POWER, "fuel.yaml": None, "log/2026.yaml": None})
        made.change("homestead.yaml", "latitude: 45.0\n", f"latitude: {latitude}\n{walk}")
        return work_out(made.read(), date(2026, 3, 1)).house.rounds

    return make


@pytest.mark.parametrize(
    ("place", "stop"),
    [
        ("Cabin", "Cabin"),
        ("cabin, south wall", "Cabin"),
        ("Battery room, north side of the barn", "Battery room"),
        ("Behind the barn", "Barn"),
        ("Barn bay", "Barn bay"),  # of two at one spot the longer
        ("Barnacle rock", "Barnacle rock"),  # no word of the walk
        ("Ridge", "Ridge"),
        (None, NO_PLACE),
    ],
)
def test_equipment_joins_a_stop_by_the_words_of_its_place(place, stop):
    assert stop_of(place, ["Cabin", "Barn", "Barn bay", "Battery room"]) == stop


def test_rounds_go_by_frequency_and_in_walking_order(plan):
    daily, weekly, monthly = plan().regular
    assert [job.state.id for job in daily.jobs] == ["pump.look"]
    assert [(stop, [job.state.id for job in jobs]) for stop, jobs in weekly.stops] == [
        ("Cabin", ["stove.ash"]),
        (NO_PLACE, ["gate.oil"]),  # what the walk does not name comes last
    ]
    assert monthly.minutes == 10


def test_a_task_without_minutes_counts_a_quarter_of_an_hour_and_is_told(plan):
    made = plan()
    daily = made.regular[0]
    assert daily.minutes == 15 and daily.jobs[0].is_assumed
    assert made.assumed == 1


def test_seasonal_rounds_go_by_the_end_of_the_season(plan):
    seasonal = {one.title: [job.state.id for job in one.jobs] for one in plan().seasonal}
    assert seasonal == {"Spring round": ["pump.thaw"], "Before the dark season": ["stove.seal"]}


def test_seasons_turn_round_south_of_the_equator(plan):
    # 1 May to 15 October ends in the southern spring; 31 May lies before the southern winter
    seasonal = {one.title: [job.state.id for job in one.jobs] for one in plan("-45.0").seasonal}
    assert seasonal == {"Spring round": ["stove.seal"], "Before the dark season": ["pump.thaw"]}


def test_a_job_longer_than_a_weekend_is_told_and_not_planned(plan):
    made = plan()
    planned = [job.state.id for weekend in made.weekends for job in weekend.jobs]
    now = [job.state.id for job in made.this_month.jobs]
    assert "gate.rebuild" not in planned
    left = [(job.state.id, why) for job, _, why in made.unplaced]
    assert "gate.rebuild" in now or ("gate.rebuild", "longer than a weekend: split it or get help") in left  # fmt: skip


def test_without_a_walk_every_place_is_a_stop(plan):
    monthly = plan(walk="").regular[2]
    assert [stop for stop, _ in monthly.stops] == ["Well house behind the barn"]


@pytest.fixture(scope="module")
def demo():
    return work_out(read_inventory(DEMO, as_of=DAY), DAY)


def test_no_weekend_of_the_demo_overflows(demo):
    plan = demo.house.rounds
    assert len(plan.weekends) > 10
    assert all(weekend.minutes <= plan.hours * 60 for weekend in plan.weekends)
    assert all(weekend.saturday.weekday() == 5 for weekend in plan.weekends)


def test_every_planned_job_is_on_a_weekend_or_told(demo):
    plan = demo.house.rounds
    placed = sum(len(weekend.jobs) for weekend in plan.weekends) + len(plan.unplaced)
    wanted = {
        (state.id, visit.day)
        for visit in demo.visits
        for state in visit.tasks
        if date(2026, 12, 1) <= visit.day <= date(2027, 11, 30)
    }
    assert placed == len(wanted)


def test_jobs_keep_to_their_seasons(demo):
    for weekend in demo.house.rounds.weekends:
        for job in weekend.jobs:
            season = job.state.rule.season
            days = (weekend.saturday, date.fromordinal(weekend.saturday.toordinal() + 1))
            assert season is None or any(season.holds(day) for day in days), job.state.id


def test_what_is_only_ticked_does_not_press(demo):
    ticked = [state for state in demo.tasks if state.is_ticked]
    assert {frequency(state) for state in ticked} <= {"daily", "weekly"} and ticked
    assert not {state.key for state in ticked} & {state.key for state in demo.pressing()}
    assert sum(demo.counts().values()) == len(demo.tasks) - len(ticked) + len(demo.expiring)


def test_no_job_of_the_demo_is_done_long_before_it_falls_due(demo):
    """`visit_days` at most, counted from the weekend's Sunday."""
    window = demo.homestead.place.visit_days + 1
    seen = set()
    for weekend in demo.house.rounds.weekends:
        for job in weekend.jobs:
            due = job.state.due.day
            if job.state.key not in seen and due is not None:
                assert (due - weekend.saturday).days <= window, job.state.id
            seen.add(job.state.key)
