"""The stepped winters against the same model as a plain loop: same numbers, far sooner.

STEADBOOK_WHOLE_BENCH=1 runs the plain loop over all 1,000 winters
instead of a few of them.
"""

import os
from datetime import date
from math import exp

import numpy as np
import pytest

from steadbook.figures import cloud, load, outlook, winter
from steadbook.figures.clearness import monthly_clearness
from steadbook.figures.panels import Array

PLANT = winter.Plant(32.0, 3.2, 11.0, idle_fuel=1.1, fuel_per_energy=0.28)
RULE = winter.RunRule(0.5, 0.8, quiet=(22, 7), break_quiet_below=0.3, mark=0.45)
SITE = outlook.Site(46.0, (1.4, 2.3, 3.5, 4.6, 5.5, 6.0, 6.2, 5.3, 3.9, 2.4, 1.5, 1.1))
ARRAYS = (Array(4.0, 60.0), Array(2.0, 35.0, 120.0))
FIRST, DAYS = date(2026, 10, 1), 212
SHAPE = [0.6] * 6 + [1.2] * 3 + [0.9] * 8 + [2.0] * 5 + [1.0] * 2


def weather(winters, days=DAYS):
    months = load.months_of_days(FIRST, days)
    shares = monthly_clearness(SITE.monthly_global, SITE.latitude)
    clearness = cloud.daily_clearness(shares, months, winters, seed=7)
    sun = outlook.hourly_sun(ARRAYS, SITE, months, FIRST.timetuple().tm_yday, clearness)
    house = load.hourly_load(load.house_profile(9.0, SHAPE), FIRST, days)
    return house, sun, months


def plain_winter(plant, rule, house, sun, months, warm, start_charge=0.9):
    """One winter, hour by hour, in plain numbers; sums by month as in `winter.Season`."""
    first, last = rule.quiet or (0, 0)
    floor, mark = plant.floor * plant.capacity, rule.mark * plant.capacity
    start, stop = rule.start_below * plant.capacity, rule.stop_at * plant.capacity
    urgent = rule.break_quiet_below * plant.capacity
    full = (1.0 + plant.tail * plant.time_constant) * plant.capacity
    pace = 1.0 - exp(-plant.charge_efficiency / plant.time_constant)
    stored, wanted, running = start_charge * plant.capacity, False, False
    day_lowest = stored
    by_day = []
    sums = {m: [0.0, 0.0, 0.0, np.inf, 0.0, 0.0, 0.0] for m in dict.fromkeys(months)}
    for hour, (use, light) in enumerate(zip(house, sun, strict=True)):
        clock = hour % 24
        if rule.quiet is None:
            quiet = False
        else:
            quiet = first <= clock < last if first < last else clock >= first or clock < last
        wanted = (wanted and stored < stop) or stored < start
        ran, running = running, wanted and (not quiet or stored < urgent)

        carried = min(use, plant.genset_power)
        charger = min(
            plant.charger_power, (plant.genset_power - carried) * plant.charger_efficiency
        )
        need = ((use - carried) if running else use) / plant.inverter_efficiency
        surplus = light - need
        room = min((full - stored) * pace, plant.capacity - stored) / plant.charge_efficiency
        if not warm[hour // 24]:
            room = 0.0
        over = max(surplus, 0.0)
        sun_charge = min(over, room)
        spilled = over - sun_charge
        genset_charge = min(room - sun_charge, charger) if running else 0.0
        deficit = over - surplus
        discharge = min(deficit, max(stored - floor, 0.0))
        short = deficit - discharge
        stored = stored + (sun_charge + genset_charge) * plant.charge_efficiency - discharge

        row = sums[months[hour // 24]]
        row[0] += running
        row[1] += running and not ran
        row[2] += genset_charge / plant.charger_efficiency
        if running:
            row[2] += carried
        row[5] += short
        row[6] += spilled
        day_lowest = min(day_lowest, stored)
        if clock == 23:
            row[4] += day_lowest < mark
            row[3] = min(row[3], day_lowest)
            day_lowest = stored
            by_day.append((sum(r[0] for r in sums.values()), sum(r[2] for r in sums.values())))
    rows = np.array(list(sums.values()))
    return {
        "genset_hours": rows[:, 0],
        "starts": rows[:, 1],
        "genset_energy": rows[:, 2],
        "fuel": plant.idle_fuel * rows[:, 0] + plant.fuel_per_energy * rows[:, 2],
        "lowest_charge": rows[:, 3] / plant.capacity,
        "days_below": rows[:, 4],
        "unserved": rows[:, 5] * plant.inverter_efficiency,
        "spilled": rows[:, 6],
        "hours_by_day": np.array([hours for hours, _ in by_day]),
        "fuel_by_day": np.array(
            [plant.idle_fuel * hours + plant.fuel_per_energy * given for hours, given in by_day]
        ),
        "last_charge": stored / plant.capacity,
    }


def plain_winters(plant, rule, house, sun, months, warm=None):
    house, months = house.tolist(), months.tolist()
    warm = [True] * len(months) if warm is None else warm.tolist()
    return [plain_winter(plant, rule, house, one.tolist(), months, warm) for one in sun.T]


@pytest.mark.parametrize(
    ("plant", "rule"),
    [
        (PLANT, RULE),
        (PLANT, winter.RunRule(0.5, 0.8)),
        # a genset too small for the house, a bank too small for both
        (winter.Plant(8.0, 1.0, 0.7, 0.5, 0.4, floor=0.3), winter.RunRule(0.4, 0.95, (0, 12))),
    ],
    ids=["quiet nights", "any hour", "too small"],
)
def test_stepped_winters_are_the_plain_loop_to_the_last_bit(plant, rule):
    house, sun, months = weather(5)
    warm = np.arange(months.size) % 17 != 5  # now and then a day too cold to charge
    stepped = winter.season(plant, rule, house, sun, months, chargeable=warm)
    for number, plain in enumerate(plain_winters(plant, rule, house, sun, months, warm)):
        for name, expected in plain.items():
            assert np.array_equal(getattr(stepped, name)[..., number], expected), name


def test_a_thousand_winters_come_15_times_sooner_than_a_plain_loop(ratios):
    count = 1000
    house, sun, months = weather(count)
    few = count if os.environ.get("STEADBOOK_WHOLE_BENCH") else 20
    ratios.by_turns(
        "1,000 winters, hour by hour",
        lambda: winter.season(PLANT, RULE, house, sun, months),
        "a plain loop",
        lambda: plain_winters(PLANT, RULE, house, sun[:, :few], months),
        bound=1 / 15,
        floor_share=few / count,
    )


def test_time_grows_in_step_with_the_winters(ratios):
    """Ten times the winters: at most twelve times as long, whatever the machine."""
    house, sun, months = weather(10_000, days=30)
    suns = [np.ascontiguousarray(sun[:, :count]) for count in (100, 1_000, 10_000)]
    ratios.growth(
        "1,000 winters, hour by hour",
        [lambda sun=sun: winter.season(PLANT, RULE, house, sun, months) for sun in suns],
        bound=12,
        rounds=4,
    )


def test_memory_does_not_grow_with_the_hours_of_all_winters(ratios):
    """Winters are made 1,000 at a time: 3,000 need little more room than 1,000."""
    profile = load.house_profile(9.0, SHAPE)
    peaks = [
        ratios.memory(
            "1,000 winters, hour by hour",
            lambda count=count: outlook.winters(
                PLANT, RULE, ARRAYS, SITE, profile, FIRST, 60, count, seed=3
            ),
        )
        for count in (3000, 1000)
    ]
    assert peaks[0] < 2.2 * peaks[1]
