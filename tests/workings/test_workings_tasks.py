"""Tasks of a homestead: last done, next due, status, and the working that tells how."""

import csv
import io
from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.conftest import AS_OF

from steadbook.bind.calendar import entries
from steadbook.bind.tables import tables
from steadbook.terminal import due_table
from steadbook.workings import work_out
from steadbook.workings.words import NBSP


def worked(made, as_of=AS_OF):
    return work_out(made.read(as_of=as_of), as_of)


def state_of(workings, name="oil-change", machine="genset"):
    return next(one for one in workings.of_machine(machine) if one.name == name)


def readings(*pairs):
    return "".join(
        f"  - {{date: {day}, machine: genset, hours: {hours} h}}\n" for day, hours in pairs
    )


def test_the_small_home_by_hand(home):
    workings = worked(home())
    oil = state_of(workings)
    # done at 120 h on 1 February 2026: next at 320 h, or on 1 February 2028
    assert (oil.done.day, oil.done.hours) == (date(2026, 2, 1), 120.0)
    assert (oil.due.at_hours, oil.due.calendar_day) == (320.0, date(2028, 2, 1))
    assert workings.status(oil) == "in hand"
    annual = state_of(workings, "annual-service")
    # never recorded, installed on 1 January 2024
    assert (annual.due.day, annual.service) == (date(2025, 1, 1), None)
    assert workings.status(annual) == "no record"
    assert [one.name for one in workings.pressing()] == ["annual-service"]
    assert workings.counts()["no record"] == 1


def test_a_service_that_covers_a_task_counts_for_it(home):
    made = home().change("log/2026.yaml", "tasks: [oil-change]", "tasks: [annual-service]")
    workings = worked(made)
    assert state_of(workings).done.day == date(2026, 2, 1)
    assert state_of(workings, "annual-service").due.day == date(2027, 2, 1)


def test_a_smaller_task_does_not_count_for_the_greater(home):
    assert state_of(worked(home()), "annual-service").service is None


def test_the_break_in_change_of_a_new_machine(home):
    made = home({"log/2026.yaml": "readings:\n" + readings(("2026-01-01", 10), ("2026-02-01", 20))})
    oil = state_of(worked(made))
    assert (oil.due.first_interval, oil.due.at_hours) == (True, 25.0)


def test_a_machine_bought_used_and_without_a_record_is_due_since_that_day(home):
    made = home({"log/2026.yaml": "readings:\n" + readings(("2026-01-01", 1900))})
    made.change(
        "power.yaml", "    meter: {installed_at: 0 h}\n",
        "    bought_used: yes\n    meter: {installed_at: 1846 h}\n",
    )  # fmt: skip
    workings = worked(made)
    oil = state_of(workings)
    assert (oil.due.day, oil.due.by) == (date(2024, 1, 1), "purchase")
    assert workings.status(oil) == "no record"
    figure = workings.figures["genset.oil-change.due"]
    assert figure.working[0].replace(NBSP, " ") == (
        "Never recorded, and bought used on 1 Jan 2024: nothing tells when it was last done, so it "
        "is due since that day."
    )


def test_a_sellers_record_counts_from_his_hours(home):
    made = home({
        "log/2026.yaml": "readings:\n" + readings(("2026-02-01", 1900)) + "services:\n"
        "  - {date: 2023-05-01, machine: genset, tasks: [oil-change], hours: 1780 h}\n"
    })  # fmt: skip
    made.change(
        "power.yaml", "    meter: {installed_at: 0 h}\n",
        "    bought_used: yes\n    meter: {installed_at: 1846 h}\n",
    )  # fmt: skip
    oil = state_of(worked(made))
    assert (oil.done.hours, oil.due.at_hours, oil.due.calendar_day) == (
        1780.0, 1980.0, date(2025, 5, 1),
    )  # fmt: skip


def test_a_replaced_meter_does_not_move_what_is_due(home):
    plain = home(
        {"log/2026.yaml": "readings:\n" + readings(("2026-01-01", 10), ("2026-02-01", 24))}
    )
    replaced = home({
        "log/2026.yaml": "readings:\n" + readings(("2026-01-01", 10))
        + "  - {date: 2026-01-11, machine: genset, hours: 2 h, old_meter: 14 h}\n"
        + readings(("2026-02-01", 12))
    })  # fmt: skip
    one, other = state_of(worked(plain)), state_of(worked(replaced))
    assert one.due.at_hours == other.due.at_hours == 25.0
    assert one.due.day == other.due.day


def test_a_mark_already_passed_is_past_due_even_without_a_use_rate(home):
    # twenty days in service and 240 h on the meter: too short for a rate, long enough for the oil
    made = home({"log/2026.yaml": "readings:\n" + readings(("2026-02-18", 0), ("2026-02-28", 240))})
    made.change("power.yaml", "installed: 2024-01-01", "installed: 2026-02-08")
    made.change("power.yaml", "        first: 25 h\n", "")
    workings = worked(made)
    oil = state_of(workings)
    assert workings.running["genset"].rate is None
    # no record in the log, and the day it was due is behind us
    assert oil.due.day == date(2026, 2, 27) and workings.status(oil) == "no record"


def test_a_mark_not_passed_without_a_use_rate_is_not_told(home):
    made = home({"log/2026.yaml": "readings:\n" + readings(("2026-02-20", 0), ("2026-02-28", 20))})
    made.change("power.yaml", "installed: 2024-01-01", "installed: 2026-02-08")
    workings = worked(made)
    assert state_of(workings).due.hours_day is None
    assert "how fast the hours run is not known yet" in " ".join(
        workings.figures["genset.oil-change.due"].working
    )


def test_past_due_tells_the_day_it_was_passed(home):
    made = home().change("log/2026.yaml", "  - {date: 2026-02-01, machine: genset, hours: 120 h}\n",
                         readings(("2026-02-01", 120), ("2026-02-11", 330)))  # fmt: skip
    workings = worked(made)
    oil = state_of(workings)
    # 21 h a day from 120 h: 320 h on the tenth day after 1 February
    assert oil.due.day == date(2026, 2, 11)
    assert workings.status(oil) == "past due"
    assert "it got there on 11 Feb 2026" in " ".join(
        workings.figures["genset.oil-change.due"].working
    ).replace(NBSP, " ")


def test_a_service_without_hours_takes_them_from_the_line_between_readings(home):
    made = home().change("log/2026.yaml", "[oil-change], hours: 120 h,", "[oil-change],")
    made.change("log/2026.yaml", "{date: 2026-02-01, machine: genset, tasks",
                "{date: 2026-01-17, machine: genset, tasks")  # fmt: skip
    assert state_of(worked(made)).done.hours == pytest.approx(100 + 20 * 16 / 31)


def test_a_service_after_the_last_reading_is_reckoned(home):
    made = home().change(
        "log/2026.yaml", "{date: 2026-02-01, machine: genset, tasks: [oil-change], hours: 120 h,",
        "{date: 2026-02-21, machine: genset, tasks: [oil-change],",
    )  # fmt: skip
    workings = worked(made)
    running = workings.running["genset"]
    hours = state_of(workings).done.hours
    assert hours == pytest.approx(120 + 20 * running.rate.by_month[1])
    assert 120 < hours < running.forecast.hours


def test_the_working_holds_the_numbers_and_where_they_come_from(home):
    made = home()
    figure = worked(made).figures["genset.oil-change.due"]
    told = " ".join(figure.working).replace(NBSP, " ")
    assert "Last done 1 Feb 2026 at 120 h." in told
    assert "By hours: 120 h + 200 h = 320 h" in told
    assert "By calendar: 1 Feb 2026 + 24 months = 1 Feb 2028." in told
    where = {one.name: one.where for one in figure.inputs}
    assert where["interval"] == f"site_data/power.yaml:{made.line('power.yaml', 'every: 200 h')}"
    assert where["last done"] == f"site_data/log/2026.yaml:{made.line('log/2026.yaml', 'tasks:')}"
    assert where["last meter reading"].startswith("site_data/log/2026.yaml:")


def test_the_same_home_gives_the_same_workings(home):
    one, other = worked(home()), worked(home())
    assert one.figures == other.figures
    assert [(visit.day, visit.parts) for visit in one.visits] == [
        (visit.day, visit.parts) for visit in other.visits
    ]


def test_every_task_has_a_figure_a_status_and_a_place_in_the_order(home):
    workings = worked(home())
    assert {f"{one.id}.due" for one in workings.tasks} <= set(workings.figures)
    assert {one.key for one in workings.tasks} == set(workings.statuses)
    assert sorted(one.id for one in workings.by_urgency()) == sorted(
        one.id for one in workings.tasks
    )


days_back = st.lists(st.integers(0, 700), min_size=1, max_size=6)


def services_text(rows):
    return "services:\n" + "".join(
        f"  - {{date: {AS_OF - timedelta(days=back)}, machine: genset, tasks: [{task}]{hours}}}\n"
        for back, task, hours in rows
    )


@given(
    st.lists(st.tuples(st.integers(0, 700), st.sampled_from(["oil-change", "annual-service"])),
             min_size=1, max_size=6),
    st.randoms(use_true_random=False),
)  # fmt: skip
@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_the_order_of_services_in_the_file_does_not_matter(home, rows, chance):
    # hours that rise with the days, so that two services of one day differ in theirs
    rows = [
        (back, task, f", hours: {8_000 - 10 * back + number} h")
        for number, (back, task) in enumerate(sorted(rows))
    ]
    mixed = rows.copy()
    chance.shuffle(mixed)
    one = worked(home({"log/2026.yaml": services_text(sorted(rows, reverse=True))}))
    other = worked(home({"log/2026.yaml": services_text(mixed)}))
    assert [(s.key, s.done, s.due) for s in one.tasks] == [
        (s.key, s.done, s.due) for s in other.tasks
    ]


@given(st.integers(0, 700), st.integers(0, 700))
@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_doing_a_task_again_never_makes_it_due_sooner(home, first, again):
    rows = [(max(first, again), "oil-change", "")]
    log = "readings:\n" + readings(("2024-06-01", 20), ("2026-02-01", 800))
    once = state_of(worked(home({"log/2026.yaml": log + services_text(rows)})))
    rows.append((min(first, again), "oil-change", ""))
    twice = state_of(worked(home({"log/2026.yaml": log + services_text(rows)})))
    assert twice.due.day >= once.due.day


SHED = """\
title: Shed
equipment:
  shed:
    kind: other
    name: Shed
    installed: 2026-01-01
    tasks:
      snow-clear: {title: Clear the snow, every: 1 month, season: 1 November to 30 April}
      ash: {title: Empty the ash, every: 1 week, season: 1 October to 30 April}
"""


@pytest.mark.parametrize(
    ("as_of", "due", "status", "told"),
    [
        (date(2026, 12, 20), date(2026, 12, 15), "past due", ""),
        (date(2027, 6, 15), date(2027, 11, 1), "in hand", "and the season of that day is over"),
        (date(2027, 10, 20), date(2027, 11, 1), "coming up", "the season of that day is over"),
    ],
)
def test_a_round_outside_its_season_is_next_due_as_the_season_begins(
    home, as_of, due, status, told
):
    """Last done on 15 November; the table, the calendar and the terminal give the same day."""
    log = "services:\n  - {date: 2026-11-15, machine: shed, tasks: [snow-clear]}\n"
    made = home({"shed.yaml": SHED, "log/2027.yaml": log})
    workings = work_out(made.read(as_of=as_of), as_of)
    state = state_of(workings, "snow-clear", "shed")
    assert (state.due.day, workings.status(state)) == (due, status)
    figure = workings.figures["shed.snow-clear.due"]
    assert told in " ".join(figure.working)
    assert "15 Nov 2026 + 1 month = 15 Dec 2026" in " ".join(figure.working).replace(NBSP, " ")
    (row,) = [one for one in tables_of(workings) if one["task"] == "Clear the snow"]
    assert row["due"] == due.isoformat()
    (event,) = [one for one in entries(workings) if "Clear the snow" in one.text]
    assert event.day == max(due, as_of)
    day = f"{due:%-d %b %Y}"
    line = next(
        one for one in due_table(workings, everything=True).splitlines() if "Clear the snow" in one
    )
    assert day in line


def test_what_is_ticked_on_the_rounds_alone_shows_no_day_long_past(home):
    workings = worked(home({"shed.yaml": SHED}))
    assert state_of(workings, "ash", "shed").is_ticked
    figure = workings.figures["shed.ash.due"]
    assert figure.value == "on the round, every 1 week, 1 October to 30 April"


def tables_of(workings):
    return csv.DictReader(io.StringIO(tables(workings)["schedule.csv"]))
