"""Parts that cannot be there in time: `now`, and beside the task of the visit."""

from datetime import date, timedelta

import pytest

from steadbook.making import made_manual
from steadbook.terminal import due_table
from steadbook.workings import words, work_out

AS_OF = date(2027, 1, 20)  # the annual service is due on 1 Feb 2027; the filter takes 2 months


@pytest.fixture
def late_home(home):
    made = home().change("suppliers.yaml", "lead_time: 2 weeks", "lead_time: 60 days")
    made.change("log/2026.yaml", "tasks: [oil-change]", "tasks: [annual-service]")
    return made.change("power.yaml", "        procedure: genset-oil\n", "")


def plain(text):
    return text.replace(words.NBSP, " ")


def test_a_past_day_to_order_is_now(late_home):
    workings = work_out(late_home.read(as_of=AS_OF), AS_OF)
    line = workings.shelf["oil-filter"]
    assert line.order_by < AS_OF
    told = f"now (was to be by {plain(words.day(line.order_by))})"
    assert plain(workings.figures["parts/oil-filter.order-by"].value) == told
    assert told in due_table(workings)


def test_a_visit_tells_which_task_waits_for_parts(late_home):
    workings = work_out(late_home.read(as_of=AS_OF), AS_OF)
    visit = next(one for one in workings.visits if one.parts)
    state = next(one for one in visit.tasks if one.takes)
    late = workings.late_parts(visit, state)
    assert late.come_by == AS_OF + timedelta(days=60)
    assert not late.are_ordered
    made = made_manual(late_home.folder, as_of=AS_OF)
    pages = {page.path: plain(page.markdown) for page in made.manual.pages}
    assert "**parts missing, order now**" in pages["visits.md"]
    assert "come by" not in pages["visits.md"]
    assert f"parts missing: come by {plain(words.day(late.come_by))}" in pages["index.md"]
    assert "now (was to be by" in pages["shelf.md"]
    assert "now (was to be by" in pages["index.md"]


def test_parts_in_time_are_not_told_as_missing(home):
    made = home().change("parts.yaml", "on_hand: 1,", "on_hand: 5,")
    made.change("parts.yaml", "on_hand: 5 qt", "on_hand: 50 qt")
    workings = work_out(made.read(), date(2026, 3, 1))
    told = [workings.late_parts(v, s) for v in workings.visits for s in v.tasks if s.takes]
    assert told
    assert not any(told)


def test_work_without_minutes_has_no_time(late_home):
    assert words.work(0) == "time not entered"
    assert plain(words.work(75)) == "about 1 h 15 min of work"
    made = made_manual(late_home.folder, as_of=AS_OF)
    text = next(page.markdown for page in made.manual.pages if page.path == "visits.md")
    assert "Time not entered." in text
    assert "0\u00a0min" not in text
