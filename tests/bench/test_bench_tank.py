"""Ten years of daily levels for a thousand tanks in one call, against loops over the figure."""

from time import perf_counter

import numpy as np
from pytest import approx

from steadbook.figures import reserve

TANKS, DAYS = 1_000, 3_652
SAMPLE = 4  # tanks the loops are timed on; their time is stretched to a thousand


def _case():
    chance = np.random.default_rng(7)
    season = 6.0 + 5.0 * np.cos(2 * np.pi * np.arange(DAYS) / 365.25)
    use = season * chance.uniform(0.5, 1.5, (TANKS, 1))
    truck = np.where(np.arange(DAYS) % 60 == 59, 700.0, 0.0)
    return chance.uniform(400.0, 1_500.0, TANKS), use, truck


def _day_by_day(start, use, truck):
    """A Python loop over the scalar call: one tank, one day."""
    level, levels = start, []
    for wanted, brought in zip(use, truck, strict=True):
        level = reserve.tank_level(level, [wanted], [brought], 1_514.0).item()
        levels.append(level)
    return levels


def _best_of(runs, work):
    """Result and shortest time of some runs: other work on the machine only ever adds."""
    times = []
    for _ in range(runs):
        clock = perf_counter()
        result = work()
        times.append(perf_counter() - clock)
    return result, min(times)


def test_a_thousand_tanks_at_once_beat_loops_a_hundred_times(record_property):
    start, use, truck = _case()
    levels, at_once = _best_of(5, lambda: reserve.tank_level(start, use, truck, 1_514.0))
    days, by_day = _best_of(
        1, lambda: [_day_by_day(start[i], use[i], truck) for i in range(SAMPLE)]
    )
    alone, by_tank = _best_of(
        3, lambda: [reserve.tank_level(start[i], use[i], truck, 1_514.0) for i in range(SAMPLE)]
    )
    assert levels.shape == (TANKS, DAYS)
    assert levels[:SAMPLE] == approx(np.array(days))
    assert levels[:SAMPLE] == approx(np.array(alone))

    day_ratio, tank_ratio = (slow * TANKS / SAMPLE / at_once for slow in (by_day, by_tank))
    record_property("day by day / at once", round(day_ratio))
    record_property("tank by tank / at once", round(tank_ratio))
    print(f"\nratio to a loop over days {day_ratio:,.0f}, to a loop over tanks {tank_ratio:,.0f}")
    assert day_ratio >= 100
