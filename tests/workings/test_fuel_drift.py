"""Where gauge and deliveries tell another use than plate and usual load, the reserve says so."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from steadbook.bind.calendar import entries
from steadbook.making import made_manual
from steadbook.terminal import due_table
from steadbook.workings import work_out
from steadbook.workings.fuel_drift import drift_doubts, lasts
from steadbook.workings.words import NBSP

AS_OF = date(2026, 3, 1)
FUEL = """\
title: Fuel
equipment:
  tank:
    kind: tank
    name: Tank
    feeds: [genset]
    supplier: parts-shop
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


def test_the_earlier_day_to_order_by_counts_and_says_why(home):
    """4 L/h with heavy use down to 200 L, less the two weeks of the supplier; 2 L/h lasts longer."""
    workings = work_out(told(home, 80).read(), AS_OF)
    (stock,), (drift,) = workings.fuel.stocks, workings.drifts
    running, begin = workings.running["genset"], date(2026, 1, 1)
    hours = running.forecast.hours_on(stock.order.needed) - running.forecast.hours_on(begin)
    assert hours * running.rate.doubt(hours) * 4 == pytest.approx(200, abs=3)
    assert stock.order.order_by == stock.order.needed - timedelta(days=14)
    assert stock.measured is drift and stock.order.order_by < stock.reckoned_order.order_by
    figure = workings.figures["tank.order-fuel-by"]
    assert figure.value == workings_day(stock.order.order_by)
    assert "of plate and usual load: its forecast use times 2.00" in plain(" ".join(figure.working))
    assert {one.name for one in figure.inputs} >= {"gauge before", "gauge after"}
    (doubt,) = drift_doubts(workings)
    assert doubt.fix.endswith("the day to order by with the first")


def test_pages_calendar_and_terminal_name_the_same_day_and_reason(home):
    place = told(home, 80).change("power.yaml", "        procedure: genset-oil\n", "")
    made = made_manual(place.folder, as_of=AS_OF)
    (stock,) = made.workings.fuel.stocks
    day = plain(workings_day(stock.order.order_by))
    reason = plain(made.workings.fuel.reasons["tank"])
    assert reason.startswith("by the 1.06 gal/h (4 L/h) measured; by plate and usual load ")
    assert reason.endswith(plain(workings_day(stock.reckoned_order.order_by)))
    pages = {one.path: plain(one.markdown) for one in made.manual.pages}
    for path in ("index.md", "orders.md", "fuel/reserve.md"):
        row = next(one for one in pages[path].splitlines() if reason in one)
        assert f"[{day}](" in row and "tank--order-fuel-by" in row, path
    (event,) = [one for one in entries(made.workings) if one.uid == "order.fuel.tank"]
    assert event.day == max(stock.order.order_by, AS_OF)
    assert reason in plain(event.text)
    line = next(
        one
        for one in due_table(made.workings, everything=True).splitlines()
        if one.startswith("Fuel for Tank")
    )
    assert day in line and reason in line


def test_the_terminal_tells_it_anew_when_the_log_changes(home, tmp_path):
    """What is kept from the look before stands for the same entries on the same day alone."""
    place = told(home, 80)
    first = due_table(work_out(place.read(), AS_OF, tmp_path), everything=True)
    assert "4 L/h) measured" in first
    assert due_table(work_out(place.read(), AS_OF, tmp_path), everything=True) == first
    place.change("log/2026.yaml", "level: 80 %", "level: 90 %")
    assert "5 L/h) measured" in due_table(work_out(place.read(), AS_OF, tmp_path), everything=True)
    (tmp_path / "fuel-orders.json").write_text("{")
    assert "5 L/h) measured" in due_table(work_out(place.read(), AS_OF, tmp_path), everything=True)


def test_a_lower_measured_use_moves_no_day(home):
    workings = work_out(told(home, 55).read(), AS_OF)
    (stock,), (drift,) = workings.fuel.stocks, workings.drifts
    assert drift.order.order_by > stock.order.order_by
    assert stock.order is stock.reckoned_order and stock.measured is None
    assert workings.fuel.reasons == {}
    (doubt,) = drift_doubts(workings)
    assert doubt.fix.endswith("with the second number")


def test_whether_it_lasts_until_the_road_opens_is_told_by_the_worse_use(home):
    """Closed to 1 May: at 2 L/h the 200 L above the mark last, at 4 L/h they do not."""
    place = told(home, 80)
    road = "road_closed: {season: 1 December to 1 May, reason: snow}\n"
    place.change("homestead.yaml", "elevation: 3000 ft\n", "elevation: 3000 ft\n" + road)
    workings = work_out(place.read(), AS_OF)
    (stock,), (drift,) = workings.fuel.stocks, workings.drifts
    assert stock.shut_in.expected - drift.shut_in.expected == pytest.approx(
        stock.contents - stock.shut_in.expected, abs=0.01
    )  # twice as much is gone
    for ours, theirs, word in (("yes", "no", "no"), ("with usual use", "yes", "with usual use")):
        mine = replace(stock, shut_in=replace(stock.shut_in, verdict=ours))
        other = replace(drift, shut_in=replace(drift.shut_in, verdict=theirs))
        assert lasts(mine, [other]) == word


def workings_day(day):
    return f"{day:%-d}{NBSP}{day:%b}{NBSP}{day:%Y}"


def plain(text):
    return text.replace(NBSP, " ")
