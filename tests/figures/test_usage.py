"""How fast a machine's hours run: by hand, at the edges, and what must always hold."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.figures.usage import (
    MONTH_LENGTHS,
    UseRate,
    hours_by_month,
    hours_forecast,
    use_rate,
)

START = date(2024, 1, 1)
TWO_A_DAY = UseRate((2.0,) * 12)


def after(days):
    return START + timedelta(days=days)


# --- hours by month -----------------------------------------------------------------------


def test_hours_between_two_readings_are_spread_evenly_over_the_days():
    # 16 January to 15 February: 30 days, 16 of them in January; 60 h are 2 h a day
    found = hours_by_month([(date(2026, 1, 16), 100.0), (date(2026, 2, 15), 160.0)])
    assert found == {(2026, 1): (16, approx(32.0)), (2026, 2): (14, approx(28.0))}


def test_readings_of_one_day_add_no_days():
    found = hours_by_month([(START, 0.0), (START, 5.0), (after(10), 25.0)])
    assert found == {(2024, 1): (10, approx(20.0))}


def test_what_ran_between_two_readings_of_one_day_is_counted():
    line = [(START, 0.0), (after(10), 20.0), (after(10), 26.0), (after(20), 46.0)]
    assert hours_by_month(line) == {(2024, 1): (20, approx(46.0))}
    # read twice on the day of each of twelve runs, or once: a month's rate is the same
    twice = [(after(30 * n), 6.0 * n + late) for n in range(13) for late in (0.0, 3.0)]
    once = [(after(30 * n), 6.0 * n + 3.0) for n in range(13)]
    assert use_rate(twice).by_month == approx(use_rate(once).by_month)


def test_no_readings_no_months():
    assert hours_by_month([]) == {} == hours_by_month([(START, 5.0)])


readings = st.lists(
    st.tuples(st.integers(1, 90), st.floats(0, 500)), min_size=1, max_size=30
).map(
    lambda steps: [
        (after(sum(days for days, _ in steps[:n])), sum(hours for _, hours in steps[:n]))
        for n in range(len(steps) + 1)
    ]
)  # fmt: skip


@given(readings)
def test_no_hour_and_no_day_is_lost(line):
    found = hours_by_month(line)
    assert sum(days for days, _ in found.values()) == (line[-1][0] - line[0][0]).days
    assert sum(hours for _, hours in found.values()) == approx(line[-1][1] - line[0][1], abs=1e-6)


# --- the rate -----------------------------------------------------------------------------


def test_nothing_is_known():
    assert use_rate([]) is None
    assert use_rate([(START, 0.0)]) is None
    assert use_rate([(START, 0.0), (after(29), 500.0)]) is None


@pytest.mark.parametrize("line", [[], [(START, 0.0)], [(START, 0.0), (after(29), 500.0)]])
def test_what_is_expected_stands_in_for_less_than_30_days(line):
    rate = use_rate(line, expected=365.25)
    assert rate.by_month == (1.0,) * 12
    assert rate.year == approx(365.25)
    assert rate.evidence == "the hours expected in a year"


def test_30_days_count_and_with_what_is_expected_they_count_a_twelfth():
    line = [(START, 0.0), (after(30), 60.0)]
    assert use_rate(line).year == approx(2 * 365.25)
    # the months without readings: 30/365.25 of 2 h a day and the rest of 1 h a day
    mixed = use_rate(line, expected=365.25)
    assert mixed.by_month[6] / mixed.recent == approx(1 + 30 / 365.25)
    # January itself: 30 days of 2 h and 3 of that mean
    assert mixed.by_month[0] / mixed.recent == approx((30 * 2 + 3 * (1 + 30 / 365.25)) / 33)


def test_steady_use_is_found_exactly():
    line = [(after(14 * n), 28.0 * n) for n in range(100)]
    rate = use_rate(line)
    assert rate.by_month == approx((2.0,) * 12)
    assert rate.recent == approx(1.0)
    assert rate.lump == approx(0.0, abs=1e-9)


def test_a_machine_that_never_ran():
    rate = use_rate([(START, 7.0), (after(800), 7.0)])
    assert rate.year == 0.0
    assert hours_forecast([(START, 7.0), (after(800), 7.0)], rate).day_reaching(8.0) is None


def test_a_month_is_the_mean_of_its_years_the_younger_weighing_more():
    # January ran 31 h in 2024 and 62 h in 2025, every other month 1 h a day
    line = [(date(2024, 1, 1), 0.0), (date(2024, 2, 1), 31.0), (date(2025, 1, 1), 366.0),
            (date(2025, 2, 1), 428.0), (date(2026, 1, 1), 762.0)]  # fmt: skip
    rate = use_rate(line)
    older, younger = 0.85**2, 0.85  # 24 and 12 months before January 2026
    mean = 762 / 731
    by_hand = (older * 31 + younger * 62 + 3 * mean) / ((older + younger) * 31 + 3)
    assert rate.by_month[0] / rate.recent == approx(by_hand)
    assert 1.0 < by_hand < 2.0


def test_the_last_half_year_counts_half_of_what_it_differs():
    # 1 h a day for four years, then 2 h a day for 180 days; the month means are left as they are
    from steadbook.figures import usage

    line = [(after(0), 0.0), (after(1461), 1461.0), (after(1641), 1821.0)]
    mean = 1821 / 1641
    assert usage._recent_factor(line, [1.0] * 12, mean) == approx(
        (360 + 90 * mean) / (180 + 90 * mean)
    )


def test_doubt_shrinks_with_the_hours_ahead_down_to_that_of_a_year():
    rate = UseRate((1.0,) * 12, spread=0.15, lump=4.0)
    doubts = [rate.doubt(hours) for hours in (1, 10, 100, 1000, 1e9)]
    assert doubts == sorted(doubts, reverse=True)
    assert doubts[-1] == approx(1 + 1.28 * 0.15, abs=1e-4)
    assert rate.doubt(0) == rate.doubt(-5) == 1.0


def test_runs_of_four_hours_by_chance_have_a_lump_of_four_hours():
    # variance over mean of a Poisson count of runs, each 4 h long, is 4 h: definition
    import numpy as np

    chance = np.random.default_rng(3)
    lumps = []
    for _ in range(30):
        runs = chance.poisson(0.25, 8 * 365) * 4.0
        total = np.concatenate([[0.0], np.cumsum(runs)])
        line = [(after(day), float(total[day])) for day in range(0, len(total), 14)]
        lumps.append(use_rate(line).lump)
    assert np.mean(lumps) == approx(4.0, rel=0.1)  # 30 machines of 100 stretches: 3 % scatter


@given(readings, st.floats(0.1, 50))
def test_a_machine_that_runs_twice_as_much_has_twice_the_rate(line, factor):
    rate = use_rate(line)
    scaled = use_rate([(day, hours * factor) for day, hours in line])
    if rate is None:
        assert scaled is None
    else:
        assert scaled.by_month == approx(
            [one * factor for one in rate.by_month], rel=1e-6, abs=1e-9
        )
        assert all(one >= 0 for one in rate.by_month)
        assert rate.lump >= 0 and rate.spread > 0


def test_the_twelve_months_are_a_year():
    assert sum(MONTH_LENGTHS) == 365.25


# --- the forecast -------------------------------------------------------------------------


def test_two_hours_a_day_reach_200_hours_in_100_days():
    forecast = hours_forecast([(date(2026, 3, 1), 120.0)], TWO_A_DAY)
    assert forecast.day_reaching(320.0) == date(2026, 6, 9)
    assert forecast.hours_on(date(2026, 6, 9)) == approx(320.0)


def test_seasons_by_hand():
    # 10 h a day in January, none in the rest: 400 h need January and then 9 days of the next
    winter = UseRate((10.0,) + (0.0,) * 11)
    forecast = hours_forecast([(date(2026, 1, 1), 0.0)], winter)
    assert forecast.day_reaching(310.0) == date(2026, 2, 1)
    assert forecast.day_reaching(310.1) == date(2027, 1, 2)
    assert forecast.day_reaching(400.0) == date(2027, 1, 10)
    assert forecast.hours_on(date(2026, 8, 1)) == approx(310.0)


def test_a_mark_that_is_passed_tells_the_day_it_was_passed():
    line = [(date(2026, 1, 1), 100.0), (date(2026, 1, 11), 110.0), (date(2026, 1, 21), 130.0)]
    forecast = hours_forecast(line, TWO_A_DAY, date(2026, 2, 1))
    assert forecast.day_reaching(105.0) == date(2026, 1, 6)
    assert forecast.day_reaching(110.0) == date(2026, 1, 11)
    assert forecast.day_reaching(111.0) == date(2026, 1, 12)  # half a day: the next whole one
    assert forecast.day_reaching(50.0) == date(2026, 1, 1)
    assert forecast.days_between(105.0) == (date(2026, 1, 6),) * 2


def test_a_mark_passed_since_the_last_reading_is_reckoned():
    forecast = hours_forecast([(date(2026, 1, 1), 100.0)], TWO_A_DAY, date(2026, 2, 1))
    assert forecast.hours == approx(162.0)
    assert forecast.day_reaching(120.0) == date(2026, 1, 11)


def test_hours_of_the_past_lie_on_straight_lines():
    line = [(date(2026, 1, 1), 100.0), (date(2026, 1, 11), 110.0), (date(2026, 1, 11), 112.0)]
    forecast = hours_forecast(line, TWO_A_DAY)
    assert forecast.hours_on(date(2025, 6, 1)) == 100.0
    assert forecast.hours_on(date(2026, 1, 4)) == approx(103.0)
    assert forecast.hours_on(date(2026, 1, 11)) == 112.0
    assert forecast.hours_on(date(2026, 1, 12)) == approx(114.0)


def test_beyond_15_years_nothing_is_told():
    slow = hours_forecast([(START, 0.0)], UseRate((0.01,) * 12))
    assert slow.day_reaching(0.01 * 365 * 14) is not None
    assert slow.day_reaching(0.01 * 366 * 15.2) is None


@given(readings, st.floats(0, 3000), st.integers(0, 400))
@settings(max_examples=60)
def test_the_day_is_the_first_one_with_so_many_hours(line, ahead, later):
    rate = use_rate(line, expected=300.0)
    forecast = hours_forecast(line, rate, line[-1][0] + timedelta(days=later))
    mark = line[0][1] + ahead
    day = forecast.day_reaching(mark)
    if day is None:
        return
    assert forecast.hours_on(day) >= mark - 1e-6
    if day > line[0][0]:
        assert forecast.hours_on(day - timedelta(days=1)) < mark + 1e-6
    early, late = forecast.days_between(mark)
    assert early <= day and (late is None or day <= late)


@given(readings, st.floats(0, 2000), st.floats(0.05, 1.0))
@settings(max_examples=60)
def test_less_use_never_brings_a_day_nearer(line, ahead, less):
    rate = use_rate(line, expected=300.0)
    lower = UseRate(tuple(one * less for one in rate.by_month), rate.spread, rate.lump)
    mark = line[-1][1] + ahead
    day = hours_forecast(line, rate).day_reaching(mark)
    later = hours_forecast(line, lower).day_reaching(mark)
    assert later is None or (day is not None and day <= later)
