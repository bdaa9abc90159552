"""Hours, fuel of a genset hour and money by year, followed by hand."""

import pytest
from tests.conftest import AS_OF

from steadbook.workings import work_out
from steadbook.workings.words import NBSP

FUEL = """\
title: Fuel
equipment:
  tank:
    kind: tank
    name: Tank
    feeds: [genset, stove]
    plate: {contents: propane, capacity: 1000 L, reserve: 20 %}
  stove:
    kind: load
    name: Stove
    plate: {input: 2.55 kW}
    use: [{hours: 1 h}]
"""
LOG = """\
readings:
  - {{date: 2024-01-01, machine: genset, hours: 0 h}}
  - {{date: 2025-01-01, machine: genset, hours: 100 h}}
  - {{date: 2026-01-01, machine: genset, hours: 200 h}}
levels:
  - {{date: 2024-01-01, tank: tank, level: 80 %}}
  - {{date: 2024-06-01, tank: tank, level: 70 %}}
  - {{date: 2024-12-31, tank: tank, level: 40 %}}
  - {{date: 2025-12-31, tank: tank, level: {end} %}}
deliveries:
  - {{date: 2025-06-01, tank: tank, amount: 300 L, private: {{price: 200 USD}}}}
  - {{date: 2025-07-01, tank: tank, amount: 50 L}}
"""
PLATE = "plate: {power: 8 kW}"


def told(home, end=30, fuel=FUEL, parts=None, log=LOG):
    made = home({"fuel.yaml": fuel, "log/2026.yaml": log.format(end=end)})
    if parts:
        made.change("parts.yaml", "on_hand: 1,", f"on_hand: 1, private: {parts},")
    return work_out(made.read(), AS_OF)


def test_hours_of_each_year_with_their_days(home):
    (row,) = told(home).history.hours
    # 2024 and 2025 whole; 1 January 2026 has no hours after it
    assert row.years[2024] == (366, pytest.approx(100))
    assert row.years[2025] == (365, pytest.approx(100))
    assert set(row.years) == {2024, 2025}


def test_fuel_of_an_hour_by_hand(home):
    """2024: 400 L fell. 2025: 100 L fell and 350 L came. The stove: 2.55 kW 1 h a day."""
    (one,) = told(home).history.fuel
    first, last = one.years
    daily = 2.55 * 3.6 / 25.5  # L; propane 25.5 MJ/L of higher heat, near enough
    assert (first.fell, first.delivered) == (pytest.approx(400), 0)
    assert first.others == pytest.approx(365 * daily, rel=0.01)
    assert (last.fell, last.delivered) == (pytest.approx(100), 350)
    assert last.rate == pytest.approx((450 - 365 * daily) / 100, rel=0.01)
    assert last.doubt == pytest.approx(1000 * 0.02 / 100, rel=0.01)


def test_eighteen_percent_more_points_at_the_air_filter(home):
    """The 131 L of the stove taken off: 269 L, then 18 % more, 317 L: 98 L fall beside 350 L."""
    stove = 365 * 2.55 * 3.6 / 25.5
    used = 1.18 * (400 - stove) + stove
    workings = told(home, end=round(40 - (used - 350) / 10, 2))
    (one,) = workings.history.fuel
    assert one.change == pytest.approx(0.18, abs=0.015)
    assert one.verdict.startswith(f"it uses 18{NBSP}% more")
    assert "air filter first" in one.verdict


def test_a_change_that_the_gauge_cannot_show_is_none(home):
    """20 L of a tank of 1,000 L are its doubt: 410 L beside 400 L are within, 300 L beyond it."""
    assert "no change" in told(home, end=34).history.fuel[0].verdict
    less = told(home, end=45).history.fuel[0]
    assert "less by the hour" in less.verdict


def test_readings_of_the_trucks_day_are_left_out(home):
    log = LOG.replace(
        "deliveries:", "  - {{date: 2025-06-01, tank: tank, level: 80 %}}\ndeliveries:"
    )
    assert told(home, log=log).history.fuel[0].years[1].delivered == 350


def test_nothing_is_told_of_a_tank_of_two_gensets_or_few_hours(home):
    log = LOG.replace("hours: 100 h", "hours: 40 h").replace("hours: 200 h", "hours: 80 h")
    assert told(home, log=log).history.fuel == ()


def test_money_of_the_owner_alone(home):
    workings = told(home, parts="{price: 10 USD}")
    (row,) = [one for one in workings.history.money if one.year == 2025]
    assert (row.fuel, row.parts, row.unpriced) == (200, 0, 1)
    made = home({"fuel.yaml": FUEL, "log/2026.yaml": LOG.format(end=30)})
    assert work_out(made.read(edition="technician"), AS_OF).history.money == ()


def test_parts_count_at_the_price_of_the_shelf(home):
    log = (
        LOG
        + "services:\n  - {{date: 2025-02-01, machine: genset, tasks: [oil-change], parts: {{oil-filter: 2}}}}\n"
    )
    workings = told(home, parts="{price: 10 USD}", log=log)
    assert [one.parts for one in workings.history.money] == [20]


def test_the_working_holds_the_numbers(home):
    figure = told(home).figures["genset.fuel-an-hour"]
    words = " ".join(figure.working).replace(NBSP, " ")
    assert "Gauge 40 % to 30 %" in words
    assert figure.inputs[1].where.endswith(":9")


def test_what_belongs_to_no_machine_is_told_by_year_newest_first(home):
    made = home()
    text = (made.site_data / "log/2026.yaml").read_text()
    made.write(
        "log/2026.yaml",
        text
        + "events:\n"
        + "  - {date: 2026-01-05, text: Road drifted shut}\n"
        + "  - {date: 2026-01-07, machine: genset, text: Would not start}\n"
        + "  - {date: 2026-02-09, text: Road open}\n",
    )
    made.write("log/2025.yaml", "events:\n  - {date: 2025-11-20, text: First snow}\n")
    told = work_out(made.read(), AS_OF).place_events()
    assert {year: [one.text for one in events] for year, events in told.items()} == {
        2026: ["Road open", "Road drifted shut"],
        2025: ["First snow"],
    }
