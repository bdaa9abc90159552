"""The quick plan of weekends is the plain one, job by job; its time grows with the jobs alone."""

import sys
from datetime import date, timedelta

from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.figures.plain_rounds import plain_plan

from steadbook.figures import rounds
from steadbook.figures.rounds import Job

BEGIN, END = date(2026, 6, 1), date(2026, 7, 15)
JOBS = st.lists(
    st.tuples(
        st.sampled_from([0, 5, 10, 15, 30, 45, 60, 100, 120, 7.5]),
        st.sampled_from(["shed", "house", "well"]),
        st.integers(-20, 50),
        st.integers(0, 40),
    ),
    max_size=40,
)


def listed(drawn):
    jobs = []
    for number, (minutes, place, first, length) in enumerate(drawn):
        earliest = BEGIN + timedelta(days=first)
        jobs.append(Job(f"j{number}", minutes, place, earliest, earliest + timedelta(days=length)))
    return jobs


@settings(max_examples=150, deadline=None)
@given(JOBS, st.sampled_from([0.5, 1, 2, 4]), st.sampled_from([0.0, 15.0, 60.0]))
@example([(60, "shed", 0, 20), (60, "shed", 0, 6), (60, "shed", 0, 6)], 1, 0.0)
def test_the_quick_plan_is_the_plain_one(drawn, hours, gather):
    jobs = listed(drawn)
    weekends, reasons = plain_plan(jobs, BEGIN, END, hours, gather)
    plan = rounds.balanced_plan(jobs, BEGIN, END, hours, gather=gather)
    assert {one.saturday: {job.key for job in one.jobs} for one in plan.weekends} == weekends
    assert {job.key: reason for job, reason in plan.unplaced} == reasons


def steps(count):
    """Calls of Python functions that a plan of so many jobs takes."""
    drawn = [(5 + n % 60, f"place {n % 40}", n * 7 % 60 - 10, n % 30) for n in range(count)]
    jobs, calls = listed(drawn), 0

    def count_call(frame, event, argument):
        nonlocal calls
        calls += event == "call"

    sys.setprofile(count_call)
    try:
        rounds.balanced_plan(jobs, BEGIN, END, hours=8, gather=120)
    finally:
        sys.setprofile(None)
    return calls


def test_four_times_the_jobs_take_at_most_some_four_times_the_steps():
    assert steps(2_000) <= 5 * steps(500)
