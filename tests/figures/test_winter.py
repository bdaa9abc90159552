"""The stepped winter: energy kept, a case solved by hand, what more sun and a larger bank do."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import cloud, load, outlook, winter
from steadbook.figures.panels import Array

PLANT = winter.Plant(32.0, 3.2, 11.0, idle_fuel=1.1, fuel_per_energy=0.28)
NEVER = winter.RunRule(0.0, 0.8)  # nothing is below nothing: the genset stands still
seeds = st.integers(0, 10_000)


def weather(seed, winters=8, days=30, peak=5.0):
    """Sun as a half sine by day times a day's luck; the house as it comes."""
    rng = np.random.default_rng(seed)
    half_sine = np.maximum(0.0, np.sin((np.arange(24) - 7.5) / 9 * np.pi))
    luck = rng.random((days, 1, winters)) ** 2
    sun = (peak * half_sine[:, np.newaxis] * luck).reshape(24 * days, winters)
    house = rng.uniform(0.1, 1.2, 24 * days)
    return house, sun, np.repeat([12, 1], [days // 2, days - days // 2])


# --- Energy ----------------------------------------------------------------


@given(
    seed=seeds,
    capacity=st.floats(4, 80),
    genset=st.floats(0.5, 12),
    start=st.floats(0.25, 0.6),
    quiet=st.sampled_from([None, (22, 7), (0, 12)]),
)
@settings(max_examples=30, deadline=None)
def test_energy_is_kept_in_every_hour(seed, capacity, genset, start, quiet):
    house, sun, months = weather(seed, peak=8.0)
    plant = replace(PLANT, capacity=capacity, genset_power=genset)
    ledger = winter.Ledger(*sun.shape)
    rule = winter.RunRule(start, 0.85, quiet, break_quiet_below=0.3)
    result = winter.season(plant, rule, house, sun, months, ledger=ledger)
    row = ledger.rows
    # what comes to the bus leaves it
    comes = sun + row["discharge"] + row["short"] + row["genset_charge"]
    goes = row["need"] + row["sun_charge"] + row["genset_charge"] + row["spilled"]
    assert np.abs(comes - goes).max() < 1e-9
    # the bank holds what was put in less what came out
    before = np.vstack([np.full((1, sun.shape[1]), 0.9 * capacity), row["stored"][:-1]])
    put_in = plant.charge_efficiency * (row["sun_charge"] + row["genset_charge"])
    assert np.abs(row["stored"] - before - put_in + row["discharge"]).max() < 1e-9
    # the house gets its load from the genset or through the inverter, or is told it did not
    carried = np.minimum(house, genset)[:, np.newaxis] * row["running"]
    served = (row["need"] - row["short"]) * plant.inverter_efficiency
    missing = row["short"] * plant.inverter_efficiency
    assert np.abs(carried + served + missing - house[:, np.newaxis]).max() < 1e-9
    # nothing runs backwards, nothing beyond the bank
    for name, values in row.items():
        assert values.min() > -1e-12, name
    assert row["stored"].max() <= capacity * (1 + 1e-12)
    # and the monthly sums are those of the hours
    assert result.unserved.sum() == approx(missing.sum(), abs=1e-9)
    assert result.spilled.sum(axis=0) == approx(row["spilled"].sum(axis=0), abs=1e-9)
    given = carried + row["genset_charge"] / plant.charger_efficiency
    assert result.genset_energy.sum() == approx(given.sum(), rel=1e-12, abs=1e-9)
    assert result.genset_hours.sum() == row["running"].sum()
    assert np.array_equal(result.lowest_charge.min(axis=0), np.minimum(
        row["stored"].min(axis=0), 0.9 * capacity) / capacity)  # fmt: skip
    assert (carried + row["genset_charge"] / plant.charger_efficiency).max() <= genset + 1e-9


def test_a_dark_steady_winter_is_the_one_solved_by_hand():
    """No sun, a house of 0.9 kW behind an inverter of 0.9: 1 kWh out of the bank each hour.

    The charger puts in 5 kW, of which 0.8 are kept: 4 kWh an hour while the genset carries the
    house. So 4 d = 1 - d: it runs d = 1/5 of all hours. With start below 50, stop at 60 of 100 kWh
    the bank goes 61 to 49 in 12 hours and 49 to 61 in 3.
    """
    plant = winter.Plant(100.0, 5.0, 10.0, 1.0, 0.3, floor=0.1)
    cycles, winters = 48, 7
    hours = 15 * cycles
    house, dark = np.full(hours, 0.9), np.zeros((hours, winters))
    result = winter.season(plant, winter.RunRule(0.50, 0.60, mark=0.505), house, dark,
                           np.full(hours // 24, 1), start_charge=0.61)  # fmt: skip
    assert result.genset_hours[0] == approx(hours / 5)
    assert result.starts[0] == approx(cycles)
    assert result.genset_energy[0] == approx(hours / 5 * (0.9 + 5 / 0.85))
    assert result.fuel[0] == approx(hours / 5 * (1.0 + 0.3 * (0.9 + 5 / 0.85)))
    assert result.lowest_charge[0] == approx(0.49)
    assert result.last_charge == approx(0.61)
    assert result.unserved.sum() == 0
    assert outlook.spread(result.genset_hours[0]).error == 0


@given(seed=seeds, start=st.floats(0.3, 0.55))
@settings(max_examples=20, deadline=None)
def test_mean_genset_energy_is_what_sun_and_bank_do_not_give(seed, start):
    """Steady balance over a long season: the genset makes up load and losses, whatever the rule."""
    rng = np.random.default_rng(seed)
    days, winters = 120, 20
    sun = np.zeros((24 * days, winters))
    sun[10::24] = rng.uniform(0, 2.0, (days, winters))  # small: nothing is ever spilled
    house = np.full(24 * days, 0.9)
    plant = replace(PLANT, capacity=60.0, charger_power=4.0)
    result = winter.season(plant, winter.RunRule(start, start + 0.2), house, sun, [1] * days, 0.6)
    assert result.spilled.sum() == 0
    hours = result.genset_hours.sum(axis=0)
    into_bank = (result.genset_energy.sum(axis=0) - 0.9 * hours) * 0.85
    # Bank from first to last: kept charge less discharge. Sun serves the house (all at 1) while the
    # genset rests, or is charged (at 0.8) while it runs: between these two the balance must lie.
    change = (result.last_charge - 0.6) * 60
    drawn = (24 * days - hours) * 1.0
    most_sun, least_sun = sun.sum(axis=0), 0.8 * sun.sum(axis=0)
    assert (drawn + change - most_sun <= 0.8 * into_bank + 1e-6).all()
    assert (0.8 * into_bank <= drawn + change - least_sun + 1e-6).all()


# --- More sun, larger bank -------------------------------------------------


@given(seed=seeds, more=st.floats(1.0, 2.0))
@settings(max_examples=25, deadline=None)
def test_without_genset_more_sun_never_lowers_the_bank_in_any_hour(seed, more):
    house, sun, months = weather(seed)
    less_ledger, more_ledger = winter.Ledger(*sun.shape), winter.Ledger(*sun.shape)
    less = winter.season(PLANT, NEVER, house, sun, months, ledger=less_ledger)
    greater = winter.season(PLANT, NEVER, house, sun * more, months, ledger=more_ledger)
    assert (more_ledger.rows["stored"] >= less_ledger.rows["stored"] - 1e-9).all()
    assert (greater.unserved.sum(axis=0) <= less.unserved.sum(axis=0) + 1e-9).all()
    assert less.genset_hours.sum() == 0


@given(seed=seeds, more=st.floats(1.02, 1.6))
@settings(max_examples=15, deadline=None)
def test_more_sun_means_fewer_genset_hours_on_the_mean(seed, more):
    """Held fixed: plant, rule, load, start, and the clouds of each winter.

    A single winter may disagree (next test), so it is a statement about the mean: not above, by
    more than three sampling errors of the winters' differences.
    """
    house, sun, months = weather(seed, winters=150, days=40)
    rule = winter.RunRule(0.5, 0.8)
    less = winter.season(PLANT, rule, house, sun, months).genset_hours.sum(axis=0)
    greater = winter.season(PLANT, rule, house, sun * more, months).genset_hours.sum(axis=0)
    change = outlook.spread(greater - less)
    assert change.mean <= 3 * change.error
    if more > 1.2:
        assert change.mean < 0


def test_a_start_and_stop_rule_may_run_longer_in_one_winter_for_a_little_more_sun():
    """Why the statement above is about the mean: a start comes or not by a hair's breadth.

    With more sun a run may start a day later, just before a sunny day instead of just after it, and
    the season may end in the middle of one. It never costs more than a few hours.
    """
    house, sun, months = weather(1, winters=300, days=60)
    rule = winter.RunRule(0.5, 0.8)
    less = winter.season(PLANT, rule, house, sun, months).genset_hours.sum(axis=0)
    greater = winter.season(PLANT, rule, house, sun * 1.01, months).genset_hours.sum(axis=0)
    longer = greater - less
    assert longer.max() > 0
    assert longer.mean() < 0


@given(seed=seeds, larger=st.floats(1.0, 3.0), floor=st.sampled_from([0.0, 0.2]))
@settings(max_examples=25, deadline=None)
def test_without_genset_a_larger_bank_never_falls_lower(seed, larger, floor):
    """Held fixed: load and sun in kWh, both banks full at the start, the same floor and taper.

    Then the larger bank is never emptier in kWh below full, so never lower in percent.
    """
    house, sun, months = weather(seed)
    small = replace(PLANT, floor=floor)
    big = replace(small, capacity=small.capacity * larger)
    low = winter.season(small, NEVER, house, sun, months, start_charge=1.0)
    high = winter.season(big, NEVER, house, sun, months, start_charge=1.0)
    lowest = (low.lowest_charge.min(axis=0), high.lowest_charge.min(axis=0))
    assert (lowest[1] >= lowest[0] - 1e-12).all()
    assert (high.unserved.sum(axis=0) <= low.unserved.sum(axis=0) + 1e-9).all()


def test_under_a_start_and_stop_rule_a_larger_bank_is_lower_now_and_then_but_not_on_the_mean():
    """With a rule in percent the runs of the larger bank fall at other hours, so one winter's lowest
    charge may be lower by a part of an hour's load; the mean over winters is not."""
    house, sun, months = weather(3, winters=400, days=60)
    rule = winter.RunRule(0.5, 0.8, quiet=(22, 7))
    small = winter.season(PLANT, rule, house, sun, months).lowest_charge.min(axis=0)
    larger = replace(PLANT, capacity=PLANT.capacity * 1.1)
    big = winter.season(larger, rule, house, sun, months).lowest_charge.min(axis=0)
    assert (big < small).any()
    assert big.mean() > small.mean()


# --- The rule --------------------------------------------------------------


def test_the_genset_keeps_quiet_hours_unless_the_bank_is_too_low():
    house, sun, months = np.full(24 * 20, 1.5), np.zeros((24 * 20, 1)), [1] * 20
    clock = np.arange(24 * 20) % 24
    night = (clock >= 22) | (clock < 7)
    for urgent, heard in ((0.0, False), (0.45, True)):
        ledger = winter.Ledger(*sun.shape)
        rule = winter.RunRule(0.5, 0.8, (22, 7), break_quiet_below=urgent)
        winter.season(PLANT, rule, house, sun, months, ledger=ledger)
        ran = ledger.rows["running"][:, 0] > 0
        assert ran.any()
        assert ran[night].any() == heard


def test_it_runs_from_below_the_start_to_the_stop():
    house, sun, months = weather(5, winters=4)
    ledger = winter.Ledger(*sun.shape)
    rule = winter.RunRule(0.5, 0.8)
    winter.season(PLANT, rule, house, sun, months, ledger=ledger)
    stored = ledger.rows["stored"] / PLANT.capacity
    ran = ledger.rows["running"] > 0
    began = ran[1:] & ~ran[:-1]
    ended = ~ran[1:] & ran[:-1]
    assert began.any()
    assert (stored[:-1][began] < 0.5).all()
    assert (stored[:-1][ended] >= 0.8).all()


def test_days_below_the_mark_are_days():
    house, sun, months = np.full(96, 1.0), np.zeros((96, 2)), [1] * 4
    plant = replace(PLANT, capacity=100.0)
    # 1.111 kWh an hour from 90: 63.3, 36.7, 20 after a day each; the floor is 20
    result = winter.season(plant, winter.RunRule(0.0, 0.8, mark=0.5), house, sun, months)
    assert result.days_below.sum(axis=0).tolist() == [3.0, 3.0]
    assert result.lowest_charge.min() == approx(0.2)
    assert result.unserved.sum(axis=0) == approx(96 - 0.9 * 70)


def test_errors_name_the_quantity():
    house, sun, months = np.ones(24), np.zeros((24, 2)), [1]
    with pytest.raises(OutOfRange, match=r"start below and stop at is 0.8 and 0.5; .* rising"):
        winter.season(PLANT, winter.RunRule(0.8, 0.5), house, sun, months)
    with pytest.raises(OutOfRange, match=r"hours is 24 of load, 24 of sun, 2 days"):
        winter.season(PLANT, NEVER, house, sun, [1, 1])
    with pytest.raises(OutOfRange, match=r"load is -1.0 kW"):
        winter.season(PLANT, NEVER, -house, sun, months)
    with pytest.raises(OutOfRange, match=r"power from the sun is -1.0 kW"):
        winter.season(PLANT, NEVER, house, sun - 1, months)
    with pytest.raises(OutOfRange, match=r"capacity is 0"):
        winter.season(replace(PLANT, capacity=0), NEVER, house, sun, months)
    with pytest.raises(OutOfRange, match=r"inverter efficiency is 90"):
        winter.season(replace(PLANT, inverter_efficiency=90), NEVER, house, sun, months)
    with pytest.raises(OutOfRange, match=r"quiet hours is \(22, 31\)"):
        winter.season(PLANT, winter.RunRule(0.5, 0.8, (22, 31)), house, sun, months)
    with pytest.raises(OutOfRange, match=r"winters is 1; it must be 2 or more"):
        outlook.spread([3.0])
    with pytest.raises(OutOfRange, match=r"mean clearness is 0.9"):
        cloud.clearest_day(0.9)
    with pytest.raises(OutOfRange, match=r"day-to-day correlation is 1.0"):
        cloud.daily_clearness(np.full(12, 0.5), [1], 3, 1, 1.0)


# --- Made-up weather and the whole -----------------------------------------

SITE = outlook.Site(46.0, (1.4, 2.3, 3.5, 4.6, 5.5, 6.0, 6.2, 5.3, 3.9, 2.4, 1.5, 1.1))
PROFILE = load.house_profile(8.0, np.ones(24))
FIRST = date(2026, 11, 1)


def whole(site=SITE, count=200, seed=4, days=60):
    return outlook.winters(PLANT, winter.RunRule(), (Array(4.0, 60.0),), site, PROFILE, FIRST,
                           days, count, seed)  # fmt: skip


def test_the_same_seed_gives_the_same_winters_and_more_winters_keep_the_first():
    few, again, other = whole(count=50), whole(count=50), whole(count=50, seed=5)
    assert np.array_equal(few.fuel, again.fuel)
    assert not np.array_equal(few.fuel, other.fuel)
    assert np.array_equal(few.fuel, whole(count=120).fuel[:, :50])


def test_winters_beyond_a_block_are_the_same_as_in_one(monkeypatch):
    one = whole(count=90)
    monkeypatch.setattr(outlook, "_AT_ONCE", 40)
    split = whole(count=90)
    assert np.array_equal(one.fuel, split.fuel)
    assert np.array_equal(one.last_charge, split.last_charge)


def test_more_winters_make_the_sampling_error_smaller():
    few = outlook.ranges(whole(count=100))["genset_hours"]["all"]
    many = outlook.ranges(whole(count=1600))["genset_hours"]["all"]
    assert many.error == approx(few.error / 4, rel=0.3)
    assert many.low < many.mean < many.high
    assert abs(few.mean - many.mean) < 4 * few.error


def test_snow_on_the_panels_costs_fuel():
    snow = replace(SITE, snow_days=(10.0,) * 12)
    clean, covered = (outlook.ranges(whole(s))["fuel"]["all"].mean for s in (SITE, snow))
    assert covered > clean


def test_every_month_and_the_whole_have_a_range():
    found = outlook.ranges(whole())
    assert set(found) == {
        "genset_hours", "starts", "genset_energy", "fuel", "lowest_charge", "days_below",
        "unserved", "spilled",
    }  # fmt: skip
    assert list(found["fuel"]) == ["11", "12", "all"]
    assert found["fuel"]["all"].mean == approx(found["fuel"]["11"].mean + found["fuel"]["12"].mean)
    assert found["lowest_charge"]["all"].mean <= found["lowest_charge"]["12"].mean


def test_a_range_holds_eight_winters_in_ten():
    found = outlook.spread(np.arange(101.0))
    assert (found.mean, found.low, found.high) == approx((50.0, 10.0, 90.0))
    # spread of 0..100: sqrt(101 x 102 / 12), over sqrt(101)
    assert found.error == approx(np.sqrt(102 / 12))


def test_days_add_up_to_the_season():
    result = whole()
    assert result.fuel_by_day[-1] == approx(result.fuel.sum(axis=0))
    assert result.hours_by_day[-1] == approx(result.genset_hours.sum(axis=0))
    assert (np.diff(result.fuel_by_day, axis=0) >= 0).all()


def test_fuel_lasts_longer_in_nine_winters_than_in_all_but_one():
    result = whole()
    days = outlook.days_to_reach(result.fuel_by_day, 40.0)
    nine, half = outlook.day_in_most(days), outlook.day_in_most(days, 0.5)
    assert nine <= half
    assert (days >= nine).mean() >= 0.9
    assert outlook.day_in_most(outlook.days_to_reach(result.fuel_by_day, 1e6)) == np.inf
    with pytest.raises(OutOfRange, match=r"amount is 0"):
        outlook.days_to_reach(result.fuel_by_day, 0)
    with pytest.raises(OutOfRange, match=r"share of winters is 0"):
        outlook.day_in_most(days, 0)


def test_a_plant_is_what_its_labels_say():
    plant = winter.plant_of(48.0, 600.0, "flooded", 60.0, 11.0, 1.1, 0.28)
    assert plant.capacity == approx(600 * 48.96 / 1000)
    assert plant.charger_power == approx(60 * 57.6 / 1000)
    with pytest.raises(OutOfRange, match=r"one of flooded, agm, lfp"):
        winter.plant_of(48.0, 600.0, "gel", 60.0, 11.0, 1.1, 0.28)


def test_a_cold_lithium_bank_is_not_charged():
    house, sun, months = weather(9, winters=3, days=4)
    ledger = winter.Ledger(*sun.shape)
    warm = [True, False, False, True]
    winter.season(PLANT, winter.RunRule(), house, sun, months, chargeable=warm, ledger=ledger)
    put_in = (ledger.rows["sun_charge"] + ledger.rows["genset_charge"]).reshape(4, 24, 3)
    assert put_in[1:3].max() == 0
    assert put_in[0].max() > 0
    assert put_in[3].max() > 0


def test_an_unheated_lithium_bank_costs_genset_hours_where_lead_does_not():
    cold = replace(SITE, bank_temperature=(-4.0,) * 12)
    args = (PLANT, winter.RunRule(), (Array(4.0, 60.0),), cold, PROFILE, FIRST, 30, 50)
    lithium = outlook.winters(*args, chemistry="lfp")
    lead = outlook.winters(*args, chemistry="flooded")
    assert lithium.genset_hours.mean() > lead.genset_hours.mean()
    assert np.array_equal(lead.fuel, outlook.winters(*args[:3], SITE, *args[4:]).fuel)
