"""Ten years of daily levels for a thousand tanks in one call, against loops over the scalar call."""

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


def test_a_thousand_tanks_at_once_beat_loops_a_hundred_times(ratios):
    start, use, truck = _case()
    days = []
    levels = ratios.by_turns(
        "ten years of 1,000 tanks",
        lambda: reserve.tank_level(start, use, truck, 1_514.0),
        "a loop over tanks and days",
        lambda: days.append([_day_by_day(start[i], use[i], truck) for i in range(SAMPLE)]),
        bound=1 / 100,
        floor_share=SAMPLE / TANKS,
    )
    alone = [reserve.tank_level(start[i], use[i], truck, 1_514.0) for i in range(SAMPLE)]
    assert levels.shape == (TANKS, DAYS)
    assert levels[:SAMPLE] == approx(np.array(days[0]))
    assert levels[:SAMPLE] == approx(np.array(alone))


def test_time_grows_in_step_with_the_tanks(ratios):
    start, use, truck = _case()
    ratios.growth(
        "ten years of 1,000 tanks",
        [
            lambda many=many: reserve.tank_level(start[:many], use[:many], truck, 1_514.0)
            for many in (10, 100, 1_000)
        ],
        bound=13,
        rounds=4,
    )
    ratios.memory(
        "ten years of 1,000 tanks", lambda: reserve.tank_level(start, use, truck, 1_514.0)
    )
