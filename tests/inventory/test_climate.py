"""climate.yaml and what-if.yaml: what is refused, where, and in which words."""

import json

import pytest

from steadbook.inventory.climate import ClockHours
from steadbook.inventory.schema import schema_text

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
CLIMATE = (
    "source: a table\n"
    "months:\n"
    + "".join(f"  {month}: {{sun: 3.0 kWh/m2, air: 10 degC}}\n" for month in MONTHS)
    + """\
house:
  all:
    months: [January, February, March, April, May, June, July, August, September, October, November, December]
    power: {22-6: 250 W, 6-22: 500 W}
heavy_loads:
  washing: {name: Washing machine, power: 0.9 kW, daily: 1.5 h, hours: 8-12, waits_in: [January]}
run_rule: {start_below: 50 %, stop_at: 80 %, quiet: 22-6}
"""
)
WHAT_IF = """\
changes:
  more:
    title: One more array
    array: {power: 2 kW, tilt: 60 deg, azimuth: 180 deg}
"""


@pytest.fixture
def climate(home):
    return home({"climate.yaml": CLIMATE})


def test_a_climate_is_read(climate):
    found = climate.read().climate
    assert found.months["January"].sun.to("kWh/m2") == 3.0
    assert found.months["January"].ground.to("%") == 20
    assert found.run_rule.quiet.pair == (22, 6)
    assert found.run_rule.usual_hours.pair == (16, 20)
    assert climate.read().what_if is None


def test_hours_of_the_day_go_over_midnight():
    assert ClockHours.read("22-6").clock == [0, 1, 2, 3, 4, 5, 22, 23]
    assert ClockHours.read("8 to 10").clock == [8, 9]
    assert ClockHours.read("0-24").clock == list(range(24))


@pytest.mark.parametrize(
    "old, new, key, found, allowed",
    [
        ("  May: {sun: 3.0 kWh/m2, air: 10 degC}\n", "", "months", "no May", "all twelve months"),
        ("  May: {sun: 3.0 kWh/m2", "  May: {sun: 93 kWh/m2", "months.May.sun", "93 kWh/m2",
         "the mean of one day, at most 12 kWh/m2"),
        ("  May: {sun: 3.0 kWh/m2", "  May: {sun: 3.0", "months.May.sun", "3.0",
         "an irradiation with its unit, such as 4.2 kWh/m2"),
        ("November, December]", "November]", "house", "December 0 times",
         "seasons that name each month once"),
        ("6-22: 500 W", "6-21: 500 W", "house.all.power", "21 h 0 times",
         "spans that hold each hour of the day once"),
        ("22-6: 250 W", "22-26: 250 W", "house.all.power.22-26", "22-26",
         "whole hours of the day such as 22-6"),
        ("daily: 1.5 h", "daily: 5 h", "heavy_loads.washing.daily", "5 h",
         "no more than its 4 hours of the day (8 to 12 h)"),
        ("stop_at: 80 %", "stop_at: 40 %", "run_rule.stop_at", "40 %",
         "more than start_below (50 %)"),
        ("stop_at: 80 %", "stop_at: 800 %", "run_rule.stop_at", "800 %",
         "a share from 0 to 100 %, such as 60 %"),
        ("quiet: 22-6}", "quiet: 22-6}\nplant: {genset: gnset}", "plant.genset",
         "the genset 'gnset', which does not exist", "genset"),
        ("  May: {sun: 3.0 kWh/m2", "  May: {snow_days: 40, sun: 3.0 kWh/m2",
         "months.May.snow_days", "40 days", "0 to 28 days of the month"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(climate, old, new, key, found, allowed):
    problem = climate.change("climate.yaml", old, new).problem()
    assert (problem.key, problem.found, problem.allowed) == (key, found, allowed)
    assert problem.file == "site_data/climate.yaml"
    assert problem.line > 0


def test_a_misspelt_month_names_the_nearest(climate):
    climate.change("climate.yaml", "  May: {sun", "  Mai: {sun")
    words = " ".join(f"{one.found} {one.fix}" for one in climate.problems())
    assert "Mai" in words
    assert "did you mean 'May'?" in words


def test_what_if_needs_a_climate(home):
    assert home({"what-if.yaml": WHAT_IF}).problem().found == "no climate.yaml beside it"


def test_what_if_names_loads_that_are_there(climate):
    climate.write("what-if.yaml", WHAT_IF + "    without: [washin]\n")
    problem = climate.problem()
    assert problem.found == "the heavy load 'washin', which does not exist"
    assert problem.fix == "did you mean 'washing'?"
    assert problem.line == 5


def test_a_cold_spell_begins_on_a_day(climate):
    climate.write(
        "what-if.yaml",
        "changes:\n  cold:\n    title: Cold\n"
        "    cold: {first: 31 June, air: -30 degC, bank: 0 degC, more_load: 0.3 kW}\n",
    )
    assert climate.problem().allowed == "a day of the year such as 15 October"


def test_what_a_change_costs_is_private(climate):
    climate.write("what-if.yaml", WHAT_IF + "    private: {price: 900 USD}\n")
    assert climate.read().what_if.changes["more"].private.price.magnitude == 900
    assert climate.read(edition="sitter").what_if.changes["more"].private is None


@pytest.mark.parametrize("name", ["climate", "what-if"])
def test_the_schema_of_each_is_there(name):
    assert json.loads(schema_text(name))["title"].startswith(f"site_data/{name}.yaml")
