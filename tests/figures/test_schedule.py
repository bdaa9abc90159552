"""When a task falls due and which tasks go together: worked cases and what must always hold."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from steadbook.figures.schedule import (
    STATUSES,
    Done,
    Due,
    Job,
    Rule,
    Season,
    all_covered,
    in_this_season,
    month_starts,
    next_due,
    status,
    visits,
)
from steadbook.figures.usage import UseRate, hours_forecast
from steadbook.units import CalendarInterval

DAY = date(2026, 3, 1)
COMMON = "common practice, no source"


def months(count):
    return CalendarInterval(months=count)


def days(count):
    return CalendarInterval(days=count)


def at(rate, hours=120.0, day=DAY, begin=None, **more):
    return hours_forecast([(day, hours)], UseRate((rate,) * 12, **more), begin)


EVERY_200_H_OR_24_MONTHS = Rule(hours=200.0, calendar=months(24))

# --- whichever comes first ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("hours_a_day", "due", "by"),
    [
        (0.2, date(2028, 3, 1), "calendar"),  # 200 h would take 1,000 days
        (2.0, date(2026, 6, 9), "hours"),  # 200 h take 100 days
        (0.0, date(2028, 3, 1), "calendar"),
    ],
)
def test_hours_or_calendar_whichever_comes_first(hours_a_day, due, by):
    found = next_due(EVERY_200_H_OR_24_MONTHS, Done(DAY, 120.0), at(hours_a_day))
    assert (found.day, found.by, found.at_hours) == (due, by, 320.0), COMMON


def test_hours_alone_and_calendar_alone():
    assert next_due(Rule(hours=50.0), Done(DAY, 120.0), at(2.0)).day == date(2026, 3, 26)
    assert next_due(Rule(calendar=days(10)), Done(DAY)).day == date(2026, 3, 11)


def test_hours_without_a_forecast_say_at_what_reading_but_not_when():
    found = next_due(Rule(hours=50.0), Done(DAY, 120.0))
    assert (found.day, found.by, found.at_hours) == (None, "nothing", 170.0)


def test_hours_left():
    assert next_due(Rule(hours=50.0), Done(DAY, 120.0), at(2.0)).hours_left == 50.0
    later = at(2.0, begin=DAY + timedelta(days=30))
    assert next_due(Rule(hours=50.0), Done(DAY, 120.0), later).hours_left == -10.0


def test_the_range_hangs_on_the_use_alone():
    found = next_due(Rule(hours=200.0), Done(DAY, 120.0), at(2.0, spread=0.25 / 1.28))
    # a quarter more or less use: 80 or 125 days
    assert found.earliest == DAY + timedelta(days=80)
    assert found.latest == DAY + timedelta(days=125)
    bound = next_due(
        Rule(hours=200.0, calendar=months(3)), Done(DAY, 120.0), at(2.0, spread=0.25 / 1.28)
    )
    assert (bound.earliest, bound.day, bound.latest) == (
        DAY + timedelta(days=80), date(2026, 6, 1), date(2026, 6, 1),
    )  # fmt: skip
    calendar = next_due(Rule(calendar=months(3)), Done(DAY))
    assert calendar.earliest == calendar.day == calendar.latest


def test_a_mark_already_passed_tells_the_day_it_was_passed():
    line = [(DAY, 120.0), (DAY + timedelta(days=100), 420.0)]
    forecast = hours_forecast(line, UseRate((3.0,) * 12), DAY + timedelta(days=120))
    found = next_due(Rule(hours=200.0), Done(DAY, 120.0), forecast)
    assert found.day == DAY + timedelta(days=67)  # 200 h at 3 h a day, the next whole day
    assert found.earliest == found.day == found.latest


# --- the first time -----------------------------------------------------------------------

BREAK_IN = Rule(hours=200.0, calendar=months(24), first_hours=25.0)


def test_the_break_in_interval_counts_until_the_first_record():
    new = next_due(BREAK_IN, Done(DAY, 0.0, recorded=False), at(1.0, hours=0.0))
    assert (new.day, new.at_hours, new.first_interval) == (date(2026, 3, 26), 25.0, True), COMMON
    done = next_due(BREAK_IN, Done(DAY, 25.0), at(1.0, hours=25.0))
    assert (done.at_hours, done.first_interval) == (225.0, False)


def test_a_first_interval_by_hours_leaves_the_calendar_as_it_is():
    idle = next_due(BREAK_IN, Done(DAY, 0.0, recorded=False), at(0.0, hours=0.0))
    assert idle.day == date(2028, 3, 1)
    by_calendar = Rule(hours=200.0, calendar=months(24), first_calendar=months(1))
    new = next_due(by_calendar, Done(DAY, 0.0, recorded=False), at(100.0, hours=0.0))
    assert (new.day, new.at_hours) == (date(2026, 3, 3), 200.0)


def test_a_used_machine_without_a_record_is_due_since_it_was_bought():
    found = next_due(BREAK_IN, Done(DAY, 1846.0, recorded=False, used=True), at(1.0, hours=1846.0))
    assert (found.day, found.by, found.first_interval) == (DAY, "purchase", False)
    assert next_due(BREAK_IN, Done(DAY, 1900.0, used=True), at(1.0, 1900.0)).at_hours == 2100.0


def test_neither_record_nor_a_day_to_count_from():
    found = next_due(EVERY_200_H_OR_24_MONTHS, Done(None, None, recorded=False))
    assert found.day is None and found.by == "nothing"


# --- seasons ------------------------------------------------------------------------------

SUMMER = Season((5, 1), (10, 15))
WINTER = Season((12, 1), (2, 28))


@pytest.mark.parametrize(
    ("season", "day", "inside"),
    [
        (SUMMER, date(2026, 5, 1), True), (SUMMER, date(2026, 10, 15), True),
        (SUMMER, date(2026, 4, 30), False), (SUMMER, date(2026, 10, 16), False),
        (WINTER, date(2026, 12, 1), True), (WINTER, date(2026, 1, 1), True),
        (WINTER, date(2026, 2, 28), True), (WINTER, date(2028, 2, 29), False),
        (WINTER, date(2026, 11, 30), False),
    ],
)  # fmt: skip
def test_what_a_season_holds(season, day, inside):
    assert season.holds(day) is inside
    assert (season.next_day_in(day) == day) is inside


def test_the_next_day_of_a_season_and_the_last_one_before():
    assert SUMMER.next_day_in(date(2026, 10, 16)) == date(2027, 5, 1)
    assert SUMMER.next_day_in(date(2026, 4, 1)) == date(2026, 5, 1)
    assert WINTER.next_day_in(date(2026, 6, 1)) == date(2026, 12, 1)
    assert SUMMER.last_day_before(date(2026, 12, 1)) == date(2026, 10, 15)
    assert WINTER.last_day_before(date(2026, 12, 1)) == date(2026, 2, 28)


month_days = st.dates(date(2028, 1, 1), date(2028, 12, 31)).map(lambda day: (day.month, day.day))


@given(month_days, month_days, st.dates(date(2020, 1, 1), date(2040, 1, 1)))
def test_the_next_day_of_any_season_lies_in_it_unless_it_is_the_29th_of_february_alone(
    first, last, day
):
    season = Season(first, last)
    if (first, last) == ((2, 29), (2, 29)):
        return
    found = season.next_day_in(day)
    assert season.holds(found) and day <= found <= day + timedelta(days=367)
    assert season.last_day_before(day) <= day


def test_a_due_day_outside_its_season_goes_back_to_the_seasons_end():
    rule = Rule(calendar=months(12), season=SUMMER)
    found = next_due(rule, Done(date(2025, 11, 10)))
    assert (found.day, found.by) == (date(2026, 10, 15), "season")
    inside = next_due(rule, Done(date(2025, 8, 1)))
    assert (inside.day, inside.by) == (date(2026, 8, 1), "calendar")


def test_a_season_over_the_end_of_the_year():
    found = next_due(Rule(calendar=months(12), season=WINTER), Done(date(2025, 4, 1)))
    assert found.day == date(2026, 2, 28)


def test_a_season_never_takes_half_the_interval_or_more():
    # 15 October is 31 days after the last time, and the due day would be 1 December
    found = next_due(Rule(calendar=days(77), season=SUMMER), Done(date(2026, 9, 15)))
    assert (found.day, found.by) == (date(2027, 5, 1), "season")
    # hours do not wait for a season: 10 h at 0.13 h a day
    forecast = hours_forecast([(date(2026, 9, 15), 0.0)], UseRate((10 / 77,) * 12))
    found = next_due(Rule(hours=10.0, season=SUMMER), Done(date(2026, 9, 15), 0.0), forecast)
    assert found.by == "hours" and abs(found.day - date(2026, 12, 1)) <= timedelta(days=1)


def test_exactly_half_the_interval_is_half():
    found = next_due(Rule(calendar=days(60), season=SUMMER), Done(date(2026, 9, 15)))
    assert found.calendar_day == date(2026, 11, 14)
    assert found.day == date(2027, 5, 1)
    found = next_due(Rule(calendar=days(59), season=SUMMER), Done(date(2026, 9, 16)))
    assert (found.calendar_day, found.day) == (date(2026, 11, 14), date(2027, 5, 1))
    found = next_due(Rule(calendar=days(61), season=SUMMER), Done(date(2026, 9, 14)))
    assert (found.calendar_day, found.day) == (date(2026, 11, 14), date(2026, 10, 15))


@given(
    st.dates(date(2020, 1, 1), date(2035, 1, 1)), st.integers(1, 1500), month_days, month_days,
)  # fmt: skip
def test_a_season_brings_a_due_day_forward_by_less_than_half(begin, length, first, last):
    """Or it waits for the next season; either way the day lies in the season."""
    season = Season(first, last)
    found = next_due(Rule(calendar=days(length), season=season), Done(begin))
    due = begin + timedelta(days=length)
    if found.day <= due:
        assert (due - found.day) * 2 < timedelta(days=length)
    else:
        assert found.day == season.next_day_in(due) and found.by == "season"
    assert season.holds(found.day) or (2, 29) in (first, last)


WINTER_ROUND = Season((11, 1), (4, 30))


@pytest.mark.parametrize(
    ("due", "as_of", "day"),
    [
        (date(2026, 12, 15), date(2026, 12, 20), date(2026, 12, 15)),  # past due in its season
        (date(2026, 12, 15), date(2027, 4, 30), date(2026, 12, 15)),  # to its last day
        (date(2026, 12, 15), date(2027, 5, 1), date(2027, 11, 1)),  # the season is over
        (date(2026, 12, 15), date(2027, 11, 20), date(2027, 11, 1)),  # past due in the next one
        (date(2027, 11, 14), date(2027, 8, 1), date(2027, 11, 14)),  # to come
        (date(2015, 1, 1), date(2027, 1, 15), date(2026, 11, 1)),  # over the end of the year
    ],
)
def test_what_an_earlier_season_left_undone_is_over_with_it(due, as_of, day):
    found = in_this_season(Due(due, "calendar", due, earliest=due, latest=due), WINTER_ROUND, as_of)
    assert found.day == found.earliest == found.latest == day
    assert found.by == ("calendar" if day == due else "season")
    assert found.calendar_day == due


def test_a_round_without_a_day_or_of_the_whole_year_is_left_as_it_is():
    due = Due(date(2020, 1, 1), "calendar")
    assert in_this_season(due, Season((5, 1), (4, 30)), DAY) is due
    nothing = Due(None, "nothing")
    assert in_this_season(nothing, WINTER_ROUND, DAY) is nothing


# --- what must always hold ----------------------------------------------------------------

rules = st.builds(
    Rule,
    hours=st.none() | st.floats(1, 2000),
    calendar=st.none() | st.builds(CalendarInterval, st.integers(1, 20), st.integers(0, 36)),
    season=st.none() | st.builds(Season, month_days, month_days),
)
rates = st.lists(st.floats(0, 12), min_size=12, max_size=12).map(tuple)


def sooner(one, other):
    """Whether one due day comes before the other; no day is never."""
    return one is not None and (other is None or one < other)


@given(rules, rates, st.floats(0.05, 1.0), st.floats(0, 300))
def test_a_due_date_never_moves_nearer_when_use_falls(rule, by_month, less, run):
    line = [(DAY - timedelta(days=90), 0.0), (DAY, run)]
    done = Done(DAY - timedelta(days=90), 0.0)
    usual = next_due(rule, done, hours_forecast(line, UseRate(by_month)))
    lower = next_due(rule, done, hours_forecast(line, UseRate(tuple(r * less for r in by_month))))
    assert not sooner(lower.day, usual.day)


@given(rules, rates, st.integers(0, 800), st.integers(0, 800))
def test_doing_a_task_again_never_makes_it_due_sooner(rule, by_month, first, again):
    forecast = hours_forecast([(DAY, 0.0)], UseRate(by_month))
    then, later = DAY + timedelta(days=first), DAY + timedelta(days=first + again)
    before = next_due(rule, Done(then, forecast.hours_on(then)), forecast)
    after = next_due(rule, Done(later, forecast.hours_on(later)), forecast)
    assert not sooner(after.day, before.day)


@given(rules, rates, st.floats(0.05, 0.5), st.floats(0, 8))
def test_the_due_day_lies_in_its_range(rule, by_month, spread, lump):
    found = next_due(
        rule, Done(DAY, 0.0), hours_forecast([(DAY, 0.0)], UseRate(by_month, spread, lump))
    )
    assert not sooner(found.day, found.earliest)
    assert not sooner(found.latest, found.day)


# --- status words -------------------------------------------------------------------------

SOON = DAY + timedelta(days=60)


@pytest.mark.parametrize(
    ("due_in", "recorded", "order_in", "word"),
    [
        (-1, True, None, "past due"), (0, True, None, "due now"), (7, True, None, "due now"),
        (8, True, None, "coming up"), (60, True, None, "coming up"), (61, True, None, "in hand"),
        (None, True, None, "in hand"), (None, False, None, "no record"),
        (0, False, None, "no record"), (-900, False, None, "no record"),
        (1, False, None, "due now"), (61, False, None, "in hand"),
        (90, True, 0, "order now"), (90, True, -30, "order now"), (90, True, 1, "in hand"),
        (30, True, 1, "coming up"), (5, True, -30, "due now"), (-1, True, -30, "past due"),
    ],
)  # fmt: skip
def test_status_words(due_in, recorded, order_in, word):
    day = None if due_in is None else DAY + timedelta(days=due_in)
    order_by = None if order_in is None else DAY + timedelta(days=order_in)
    due = Due(day, "calendar")
    found = status(due, Done(DAY, recorded=recorded), DAY, soon=SOON, order_by=order_by)
    assert found == word and word in STATUSES


# --- visits -------------------------------------------------------------------------------

UNTIL = DAY + timedelta(days=730)


def job(key, every, ago, **more):
    return Job(key, Rule(calendar=days(every), **more), Done(DAY - timedelta(days=ago)))


def told(found):
    return [((visit.day - DAY).days, visit.keys) for visit in found]


def test_what_falls_due_within_the_window_is_done_in_one_visit():
    jobs = [job("oil", 100, 90), job("filter", 120, 90), job("plugs", 300, 90)]
    found = visits(jobs, DAY, DAY + timedelta(days=100), window=21)
    # oil falls due in 10 days, the filter in 30: one visit; then oil again 100 days later
    assert told(found) == [(10, ("oil", "filter"))]
    apart = visits(jobs, DAY, DAY + timedelta(days=100), window=19)
    assert told(apart) == [(10, ("oil",)), (30, ("filter",))]


def test_a_visit_on_the_last_day_of_the_window_belongs_to_it():
    jobs = [job("a", 100, 90), job("b", 100, 69)]
    assert told(visits(jobs, DAY, DAY + timedelta(days=40), window=21)) == [(10, ("a", "b"))]


def test_the_next_time_is_counted_from_the_visit():
    assert told(visits([job("oil", 100, 150)], DAY, UNTIL, window=21)) == [
        (0, ("oil",)), *((100 * n, ("oil",)) for n in range(1, 8))
    ]  # fmt: skip


def test_a_greater_task_covers_a_smaller_one():
    small = Job("oil", Rule(calendar=days(100)), Done(DAY - timedelta(days=40)))
    great = Job(
        "annual", Rule(calendar=days(365)), Done(DAY - timedelta(days=355)),
        covers=frozenset({"oil"}),
    )  # fmt: skip
    first, second, *_ = visits([small, great], DAY, UNTIL, window=21)
    # the annual service is in 10 days; oil, due in 60, is done in it and next due 100 days later
    assert (first.day, first.keys, first.covered) == (
        DAY + timedelta(days=10), ("annual",), frozenset(),
    )  # fmt: skip
    assert (second.day, second.keys) == (DAY + timedelta(days=110), ("oil",))
    due = Job("oil", Rule(calendar=days(100)), Done(DAY - timedelta(days=80)))
    together = visits([due, great], DAY, UNTIL, window=21)[0]
    assert (together.keys, together.covered) == (("oil", "annual"), frozenset({"oil"}))


def test_rounds_are_left_out():
    assert visits([job("daily", 1, 0), job("monthly", 31, 40)], DAY, UNTIL) == []
    assert Rule(calendar=months(1)).is_round() and Rule(calendar=days(45)).is_round()
    assert not Rule(calendar=days(46)).is_round()
    assert Rule(hours=8.0, calendar=days(7)).is_round()  # the oil, before the next run
    assert Rule(hours=8.0, calendar=days(14)).is_round()
    assert not Rule(hours=50.0, calendar=days(15)).is_round()  # a visit, for its parts
    assert not Rule(hours=50.0, calendar=months(1)).is_round()


def test_what_is_overdue_waits_for_its_season():
    jobs = [job("stove", 365, 400, season=SUMMER), job("oil", 365, 400)]
    assert told(visits(jobs, DAY, DAY + timedelta(days=90))) == [(0, ("oil",)), (61, ("stove",))]


def test_a_task_is_not_pulled_out_of_its_season():
    # oil is due on 20 April, the stove on 1 May; the visit of 20 April does not take it
    jobs = [job("oil", 100, 50), job("stove", 365, 304, season=SUMMER)]
    assert told(visits(jobs, DAY, DAY + timedelta(days=70))) == [(50, ("oil",)), (61, ("stove",))]


def test_a_season_of_the_29th_of_february_comes_to_an_end():
    leap = Season((2, 29), (3, 31))
    found = visits([job("a", 300, 0, season=leap)], DAY, UNTIL)
    assert all(leap.holds(visit.day) for visit in found)


@pytest.mark.parametrize("hours", [0.25, 1e-9])
def test_a_task_that_falls_due_on_the_day_it_was_done_is_planned_once_a_day(hours):
    busy = Job("grease", Rule(hours=hours), Done(DAY, 120.0), at(24.0))
    found = visits([busy], DAY, DAY + timedelta(days=10), window=0)
    planned = [(visit.day - DAY).days for visit in found]
    assert planned[-10:] == list(range(1, 11)) and len(set(planned)) == len(planned)


def test_what_is_overdue_may_wait_for_a_day_to_catch_up():
    jobs = [job("late", 100, 150), job("today", 100, 100), job("soon", 100, 97)]
    found = visits(jobs, DAY, DAY + timedelta(days=90), window=0, catch_up=DAY + timedelta(days=5))
    assert told(found) == [(0, ("today",)), (3, ("soon",)), (5, ("late",))]


def test_nothing_is_planned_beyond_the_last_day():
    assert visits([job("a", 100, 0)], DAY, DAY + timedelta(days=99)) == []
    assert len(visits([job("a", 100, 0)], DAY, DAY + timedelta(days=100))) == 1


jobs_of = st.lists(
    st.tuples(st.integers(46, 900), st.integers(0, 2000), st.none() | st.builds(Season, month_days, month_days)),
    min_size=1, max_size=12,
).map(
    lambda rows: [
        job(f"task{n}", every, ago, **({"season": season} if season else {}))
        for n, (every, ago, season) in enumerate(rows)
    ]
)  # fmt: skip


@given(jobs_of, st.integers(0, 60))
def test_every_overdue_task_is_visited_on_the_day_unless_its_season_is_to_come(jobs, window):
    overdue = {
        one.key
        for one in jobs
        if next_due(one.rule, one.done).day <= DAY
        and (one.rule.season is None or one.rule.season.holds(DAY))
    }
    found = visits(jobs, DAY, UNTIL, window=window)
    if overdue:
        assert found[0].day == DAY and overdue <= set(found[0].keys)
    days_of = [visit.day for visit in found]
    assert days_of == sorted(set(days_of)) and all(DAY <= day <= UNTIL for day in days_of)


@given(jobs_of, st.integers(0, 60))
@settings(max_examples=60)
def test_no_visit_comes_after_a_task_of_it_was_due(jobs, window):
    state = {one.key: one for one in jobs}
    for visit in visits(jobs, DAY, UNTIL, window=window):
        for key in visit.keys:
            one = state[key]
            due = next_due(one.rule, one.done).day
            wanted = max(due, DAY)
            if one.rule.season is not None:
                wanted = one.rule.season.next_day_in(wanted)
                assert one.rule.season.holds(visit.day)
            assert wanted - timedelta(days=window) <= visit.day <= wanted
            state[key] = Job(key, one.rule, Done(visit.day))


@given(jobs_of, st.randoms(use_true_random=False))
@settings(max_examples=40)
def test_the_same_tasks_in_any_order_give_the_same_visits(jobs, chance):
    mixed = jobs.copy()
    chance.shuffle(mixed)
    assert visits(jobs, DAY, UNTIL) == visits(jobs, DAY, UNTIL)
    assert [(one.day, set(one.keys)) for one in visits(jobs, DAY, UNTIL)] == [
        (one.day, set(one.keys)) for one in visits(mixed, DAY, UNTIL)
    ]


def test_all_that_is_covered_also_through_others():
    graph = {"five years": ["annual"], "annual": ["oil", "plugs"], "oil": []}
    assert all_covered(graph, "five years") == {"annual", "oil", "plugs"}
    assert all_covered({"a": ["b"], "b": ["a"]}, "a") == {"b"}


def test_month_starts():
    assert month_starts(date(2026, 11, 30), 3) == [
        date(2026, 11, 1), date(2026, 12, 1), date(2027, 1, 1),
    ]  # fmt: skip
