"""When a septic tank is pumped: by the table, and by what the stick found."""

from datetime import date

import pytest

from steadbook.units import NO_BREAK
from steadbook.workings import work_out

AS_OF = date(2026, 3, 1)
WASTE = """\
title: Waste
equipment:
  septic:
    kind: septic tank
    name: Septic tank
    installed: 2020-06-01
    plate: {capacity: 1000 gal, people: 4, liquid_depth: 48 in, outlet_bottom: 16 in, daily_use: 200 gal}
    tasks: {pump-out: {title: Pump, every: 5 years}}
"""
PUMPED = "services:\n  - {date: 2024-01-01, machine: septic, tasks: [pump-out]}\n"


def measured(sludge, scum, day="2026-01-01"):
    return (
        PUMPED + "measurements:\n"
        f"  - {{date: {day}, machine: septic, spec: sludge, value: {sludge}}}\n"
        f"  - {{date: {day}, machine: septic, spec: scum, value: {scum}}}\n"
    )


@pytest.fixture
def values(home):
    def make(log=PUMPED, *changes):
        made = home({"waste.yaml": WASTE, "fuel.yaml": None, "log/2026.yaml": log})
        for old, new in changes:
            made.change("waste.yaml", old, new)
        figures = work_out(made.read(), AS_OF).house.waste.figures
        return {f.key.split(".")[1]: f.value.replace(NO_BREAK, " ") for f in figures}

    return make


def test_the_table_by_its_print(values):
    # Mancl, Penn State: 1000 gal and 4 people, 2.6 years; 31 whole months from 1 January 2024
    found = values()
    assert found["interval"] == "2.6 years"
    assert found["pump"] == "1 Aug 2026"


def test_few_people_get_the_cap_and_not_the_table(values):
    # the table says 12.4 years for one person; US EPA SepticSmart says 5 at most
    assert values(PUMPED, ("people: 4", "people: 1"))["interval"] == "5.0 years"


def test_without_a_record_it_counts_from_new(values):
    assert values("services: []\n")["pump"] == "1 Jan 2023"  # 1 June 2020 + 31 months


def test_a_used_tank_without_a_record_has_no_date(values):
    found = values("services: []\n", ("installed: 2020-06-01", "installed: 2020-06-01\n    bought_used: yes"))  # fmt: skip
    assert "pump" not in found


def test_what_was_measured_goes_before_the_table(values):
    # (4 + 2) / 48 = 12.5 % in two years: 25 % in two more
    found = values(measured("4 in", "2 in"))
    assert found["solids"] == "12%: wait"
    assert found["pump"] in ("31 Dec 2027", "1 Jan 2028", "2 Jan 2028")


@pytest.mark.parametrize(
    ("sludge", "scum", "limit"),
    [
        ("10 in", "2 in", "25 % solids"),
        ("1 in", "10 in", "scum within 6 in of the outlet's bottom"),
        ("20 in", "0 in", "sludge within 12 in of it"),
    ],
)
def test_each_limit_calls_for_the_pumper(values, sludge, scum, limit):
    found = values(measured(sludge, scum))
    assert found["solids"].endswith("PUMP NOW"), limit
    assert found["pump"] == "1 Jan 2026"


def test_a_measure_from_before_the_last_pumping_is_history(values):
    found = values(measured("10 in", "2 in", "2023-06-01"))
    assert found["pump"] == "1 Aug 2026"


def test_the_rest_of_the_water_by_hand(values):
    assert values()["retention"] == "5.0 days"  # 1000 gal / 200 gal a day
    assert values(measured("4 in", "2 in"))["retention"] == "4.4 days"  # 12.5 % less


def test_a_tank_outside_the_table_is_told(values):
    found = values(PUMPED, ("capacity: 1000 gal", "capacity: 200 gal"))
    assert found["interval"] == "not in the table" and "pump" not in found


def test_an_empty_plate_gives_nothing(values):
    line = WASTE.splitlines()[6]
    assert values(PUMPED, (line + "\n", "")) == {}
