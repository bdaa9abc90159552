"""Where gauge and deliveries tell another use than plate and usual load, the reserve says so."""

from datetime import date

import pytest

from steadbook.making import made_manual
from steadbook.workings import work_out
from steadbook.workings.fuel_drift import drift_doubts
from steadbook.workings.words import NBSP

AS_OF = date(2026, 3, 1)
FUEL = """\
title: Fuel
equipment:
  tank:
    kind: tank
    name: Tank
    feeds: [genset]
    plate: {contents: diesel, capacity: 1000 L, reserve: 20 %}
"""
LOG = """\
readings:
  - {{date: 2024-01-01, machine: genset, hours: 0 h}}
  - {{date: 2025-01-01, machine: genset, hours: 100 h}}
  - {{date: 2026-01-01, machine: genset, hours: 200 h}}
levels:
  - {{date: 2025-01-01, tank: tank, level: {begin} %}}
  - {{date: 2026-01-01, tank: tank, level: 40 %}}
"""
PLATE = "plate: {power: 8 kW, fuel: diesel, fuel_at_half_load: 2 L/h, fuel_at_full_load: 4 L/h}"


def told(home, begin):
    """100 h in the year from `begin` % to 40 % of 1,000 L; at half its power 2 L/h by the plate."""
    made = home({"fuel.yaml": FUEL, "log/2026.yaml": LOG.format(begin=begin)})
    return made.change("power.yaml", "plate: {power: 8 kW}", PLATE)


def test_the_measured_rate_and_the_day_at_it_by_hand(home):
    """400 L in 100 h: 4 L/h, twice the 2 L/h. 200 L above the mark last 50 h instead of 100 h."""
    workings = work_out(told(home, 80).read(), AS_OF)
    (one,) = workings.drifts
    assert (one.year.rate, one.reckoned) == (pytest.approx(4), pytest.approx(2))
    begin = date(2026, 1, 1)
    forecast = workings.running["genset"].forecast
    hours = forecast.hours_on(one.mark_days[0]) - forecast.hours_on(begin)
    assert hours == pytest.approx(50, abs=0.5)
    (stock,) = workings.fuel.stocks
    hours = forecast.hours_on(stock.mark_days[0]) - forecast.hours_on(begin)
    assert hours == pytest.approx(100, abs=0.5)
    assert one.mark_days[1] < one.mark_days[0]  # heavy use
    (doubt,) = drift_doubts(workings)
    found = doubt.found.replace(NBSP, " ")
    assert doubt.warning and "(4 L/h) by gauge" in found and "(2 L/h) by plate" in found


@pytest.mark.parametrize("begin", [61, 62, 58])
def test_a_difference_of_ten_percent_is_not_told(home, begin):
    """210, 220, 180 L in 100 h against the 200 L reckoned; the gauge alone may be 20 L off."""
    assert work_out(told(home, begin).read(), AS_OF).drifts == ()


def test_less_than_reckoned_is_told_too(home):
    (one,) = work_out(told(home, 55).read(), AS_OF).drifts  # 150 L: three quarters
    assert one.times == pytest.approx(0.75)


def test_the_page_of_the_reserve_and_the_check_tell_it(home):
    place = told(home, 80).change("power.yaml", "        procedure: genset-oil\n", "")
    made = made_manual(place.folder, as_of=AS_OF)
    page = next(one.markdown for one in made.manual.pages if one.path == "fuel/reserve.md")
    assert "2.0 times as much" in page and "At the measured rate Tank reaches" in page
    assert any("by gauge and deliveries" in one.found for one in made.doubts)
