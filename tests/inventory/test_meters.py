"""Hour meters: readings in order, replaced meters, machines that came with hours on them."""

from datetime import date
from itertools import permutations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from steadbook.errors import Problem
from steadbook.inventory.meters import marks


def log_of(*lines, services=()):
    return (
        "readings:\n"
        + "".join(f"  - {{{line}}}\n" for line in lines)
        + ("services:\n" if services else "")
        + "".join(f"  - {{{line}}}\n" for line in services)
    )


def reading(day, hours, **more):
    extra = "".join(f", {key}: {value}" for key, value in more.items())
    return f"date: {day}, machine: genset, hours: {hours} h{extra}"


def line_of(made):
    return [(mark.day, mark.shown, mark.hours) for mark in marks(made.read())[0]["genset"]]


def test_marks_begin_with_the_day_the_machine_came(home):
    assert line_of(home()) == [
        (date(2024, 1, 1), 0.0, 0.0),
        (date(2026, 1, 1), 100.0, 100.0),
        (date(2026, 2, 1), 120.0, 120.0),
        (date(2026, 2, 1), 120.0, 120.0),
    ]


def test_a_reading_that_goes_backwards(home):
    made = home({"log/2026.yaml": log_of(reading("2026-01-01", 100), reading("2026-01-09", 90))})
    assert made.problem() == Problem(
        "site_data/log/2026.yaml", 3, "readings[2].hours", "90 h, after 100 h on 2026-01-01",
        "readings that stay or rise from day to day",
        "correct the reading or its date; if the meter was replaced, add to the first reading "
        "of the new one `old_meter:` with the last reading of the old",
    )  # fmt: skip


def test_a_service_whose_hours_go_backwards(home):
    made = home({
        "log/2026.yaml": log_of(
            reading("2026-01-01", 100),
            services=["date: 2026-02-01, machine: genset, tasks: [oil-change], hours: 99.5 h"],
        )
    })  # fmt: skip
    problem = made.problem()
    assert (problem.key, problem.line) == ("services[1].hours", 4)
    assert problem.found == "99.5 h, after 100 h on 2026-01-01"


def test_one_wrong_reading_is_told_once_and_the_next_ones_are_held_against_the_last_good_one(home):
    made = home({
        "log/2026.yaml": log_of(
            reading("2026-01-01", 100), reading("2026-01-09", 9), reading("2026-01-17", 130)
        )
    })  # fmt: skip
    assert made.problem().key == "readings[2].hours"


def test_a_replaced_meter_explains_it(home):
    made = home({
        "log/2026.yaml": log_of(
            reading("2026-01-01", 100), reading("2026-01-09", 2, old_meter="110 h"),
            reading("2026-02-01", 20),
        )
    })  # fmt: skip
    # 110 h on the old one when the new one showed 2 h: 18 h later it is 128 h
    assert line_of(made)[1:] == [
        (date(2026, 1, 1), 100.0, 100.0),
        (date(2026, 1, 9), 2.0, 110.0),
        (date(2026, 2, 1), 20.0, 128.0),
    ]


def test_meters_replaced_twice_add_up(home):
    made = home({
        "log/2026.yaml": log_of(
            reading("2026-01-09", 0, old_meter="110 h"), reading("2026-01-19", 0, old_meter="40 h"),
            reading("2026-02-01", 5),
        )
    })  # fmt: skip
    assert line_of(made)[-1] == (date(2026, 2, 1), 5.0, 155.0)


def test_an_old_meter_that_goes_backwards(home):
    made = home({
        "log/2026.yaml": log_of(reading("2026-01-01", 100), reading("2026-01-09", 0, old_meter="90 h"))
    })  # fmt: skip
    assert made.problem().found == "90 h, after 100 h on 2026-01-01"


def test_a_new_meter_that_goes_backwards_itself(home):
    made = home({
        "log/2026.yaml": log_of(
            reading("2026-01-09", 0, old_meter="110 h"), reading("2026-01-19", 50),
            reading("2026-02-01", 40),
        )
    })  # fmt: skip
    assert made.problem().found == "40 h, after 50 h on 2026-01-19"


DAY_OF_CHANGE = [
    reading("2026-01-01", 100), reading("2026-01-09", 110),
    reading("2026-01-09", 0, old_meter="110 h"), reading("2026-01-09", 3),
    reading("2026-02-01", 20),
]  # fmt: skip


@pytest.mark.parametrize("order", list(permutations(range(5))))
def test_the_order_in_the_file_does_not_matter_even_on_the_day_of_a_new_meter(home, order):
    made = home({"log/2026.yaml": log_of(*(DAY_OF_CHANGE[n] for n in order))})
    assert [hours for _, _, hours in line_of(made)[1:]] == [100, 110, 110, 113, 130]


def test_readings_may_stay_the_same(home):
    made = home({"log/2026.yaml": log_of(reading("2026-01-01", 100), reading("2026-01-09", 100))})
    assert len(line_of(made)) == 3


def test_a_machine_that_came_with_hours_on_its_meter(home):
    made = home().change("power.yaml", "installed_at: 0 h", "installed_at: 90 h")
    assert line_of(made)[0] == (date(2024, 1, 1), 90.0, 90.0)
    made.change("power.yaml", "installed_at: 90 h", "installed_at: 101 h")
    problem = made.problem()
    assert problem.found == "100 h, after 101 h on 2024-01-01"


def test_a_sellers_service_book_lies_before_the_day_the_machine_came(home):
    made = home({
        "log/2026.yaml": log_of(
            reading("2026-01-01", 1900),
            services=["date: 2023-05-01, machine: genset, tasks: [oil-change], hours: 1780 h"],
        )
    })  # fmt: skip
    made.change("power.yaml", "installed_at: 0 h", "installed_at: 1846 h")
    assert line_of(made) == [
        (date(2023, 5, 1), 1780.0, 1780.0),
        (date(2024, 1, 1), 1846.0, 1846.0),
        (date(2026, 1, 1), 1900.0, 1900.0),
    ]
    made.change("log/2026.yaml", "1780 h", "1880 h")
    assert made.problem().found == "1880 h, before 1846 h on 2024-01-01"


def test_a_machine_without_a_meter_has_no_marks(home):
    assert set(marks(home().read())[0]) == {"genset"}


@given(
    st.lists(st.tuples(st.integers(0, 300), st.integers(0, 24)), min_size=2, max_size=8),
    st.randoms(use_true_random=False),
)
@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_the_order_of_entries_in_the_file_does_not_matter(home, pairs, chance):
    days, hours = sorted(day for day, _ in pairs), sorted(hours for _, hours in pairs)
    lines = [
        reading(date.fromordinal(date(2025, 1, 1).toordinal() + day), run)
        for day, run in zip(days, hours, strict=True)
    ]
    mixed = lines.copy()
    chance.shuffle(mixed)
    kept = home({"log/2026.yaml": log_of(*lines)})
    assert line_of(kept) == line_of(home({"log/2026.yaml": log_of(*mixed)}))


def test_a_meter_does_not_outrun_the_clock(home):
    """2 days of 24 h at the most from one day to the next; a reading has no time of day."""
    made = home({"log/2026.yaml": log_of(reading("2026-01-01", 100), reading("2026-01-02", 148.1))})
    assert made.problem() == Problem(
        "site_data/log/2026.yaml", 3, "readings[2].hours",
        "148.1 h on 2026-01-02, 48.1 h more than on 2026-01-01",
        "at most 48 h more: 2 days of 24 h",
        "correct the reading or its date (a decimal point left out, two digits swapped); this one "
        "or the one before it is wrong",
    )  # fmt: skip
    home({
        "log/2026.yaml": log_of(reading("2026-01-01", 100), reading("2026-01-02", 148))
    }).read()  # fmt: skip


def test_a_decimal_point_left_out_is_told_at_its_own_line(home):
    made = home({
        "log/2026.yaml": log_of(
            reading("2026-01-01", 1432.5), reading("2026-01-11", 14380), reading("2026-01-21", 1443)
        )
    })  # fmt: skip
    problems = made.problems()
    assert {one.line: one.found for one in problems} == {
        3: "14380 h on 2026-01-11, 12947.5 h more than on 2026-01-01",
        4: "1443 h, after 14380 h on 2026-01-11",
    }


def test_hours_over_a_replaced_meter_count_on(home):
    """Old 100 to 130 h, the new one from 0 to 60 h: 90 h more in 2 days have no room."""
    made = home({
        "log/2026.yaml": log_of(
            reading("2026-01-01", 100), reading("2026-01-02", 0, old_meter="130 h"),
            reading("2026-01-03", 48),
        )
    })  # fmt: skip
    made.read()
    made = home({
        "log/2026.yaml": log_of(
            reading("2026-01-01", 100), reading("2026-01-02", 0, old_meter="149 h")
        )
    })  # fmt: skip
    assert made.problem().allowed == "at most 48 h more: 2 days of 24 h"


def test_a_machine_that_came_with_more_hours_than_its_book_allows(home):
    made = home({"log/2026.yaml": log_of(reading("2023-12-31", 10))})
    made.change("power.yaml", "installed_at: 0 h", "installed_at: 100 h")
    problem = made.problem()
    assert (problem.key, problem.found) == (
        "equipment.genset.meter.installed_at",
        "100 h on 2024-01-01, 90 h more than on 2023-12-31",
    )
