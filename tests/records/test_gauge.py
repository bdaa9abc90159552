"""A gauge read in gallons, litres or by weight is written as percent, with what was read."""

from datetime import date

import pytest

from steadbook.errors import InventoryErrors
from steadbook.records.gauge import amount_read

LEVEL = "  - {{date: 2026-11-25, tank: propane-tank, level: {level}, notes: {notes}}}\n"


@pytest.mark.parametrize(
    ("read", "level", "told"),
    [
        ("120 gal", "24 %", "read as 120 gal of 500 gal"),  # of 500 gal
        ("946.353 L", "50 %", "read as 946.353 L of 500 gal"),  # 250 gal of 3.785412 L
        ("0 gal", "0 %", "read as 0 gal of 500 gal"),
        # 504 lb at 4.20 lb a gallon and 60 F are 120 gal (NFPA 58, table of properties; from
        # memory, check)
        ("504 lb", "24 %", "weighed without the cylinder as 504 lb of 500 gal"),
    ],
)
def test_what_was_read_becomes_percent_and_stays_in_the_notes(plan, home, read, level, told):
    made = plan("level", tank="propane-tank", level=read)
    (found,) = [one for one in made.after.log.levels if one.date == date(2026, 11, 25)]
    assert found.level.to("%") == pytest.approx(float(level[:-2]), abs=0.3)
    assert read.split()[0] in told and found.notes == told
    if "lb" not in read:
        assert LEVEL.format(level=level, notes=told) in made.new_text(home) + "\n"


def test_notes_of_ones_own_come_first(plan):
    made = plan("level", tank="propane-tank", level="250 gal", notes="after dark")
    assert made.after.log.levels[-1].notes == "after dark; read as 250 gal of 500 gal"


def test_percent_is_written_as_it_was(plan, home):
    made = plan("level", tank="propane-tank", level="60 %")
    assert "level: 60 %}" in made.new_text(home)


@pytest.mark.parametrize(
    ("read", "allowed", "fix"),
    [
        ("501 gal", "at most what the tank holds, 500 gal", "look at the gauge and the unit again"),
        ("5000 lb", "at most what the tank holds, 500 gal", "the empty cylinder is taken off"),
    ],
)
def test_more_than_it_holds_is_refused(plan, read, allowed, fix):
    with pytest.raises(InventoryErrors) as caught:
        plan("level", tank="propane-tank", level=read)
    (found,) = caught.value.problems
    assert (found.key, found.found, found.allowed) == ("level", read, allowed)
    assert fix in found.fix


@pytest.mark.parametrize(
    ("plate", "read", "allowed", "fix"),
    [
        ("{contents: propane}", "20 gal", "capacity of this tank is not known", "`capacity:`"),
        ("{contents: diesel, capacity: 500 gal}", "90 lb", "density of diesel", "gallons or lit"),
    ],
)
def test_what_the_plate_cannot_tell_is_asked_for(plan, home, plate, read, allowed, fix):
    power = home / "site_data" / "power.yaml"
    old = "{contents: propane, capacity: 500 gal, reserve: 20 %}"
    assert old in power.read_text()
    power.write_text(power.read_text().replace(old, plate))
    with pytest.raises(InventoryErrors) as caught:
        plan("level", tank="propane-tank", level=read)
    (found,) = caught.value.problems
    assert allowed in found.allowed and fix in found.fix


def test_two_like_cylinders_hold_twice_as_much(plan, home):
    power = home / "site_data" / "power.yaml"
    power.write_text(power.read_text().replace("capacity: 500 gal", "capacity: 500 gal, count: 2"))
    made = plan("level", tank="propane-tank", level="250 gal")
    assert made.after.log.levels[-1].level.to("%") == 25
    assert made.after.log.levels[-1].notes == "read as 250 gal of 500 gal x 2"


def test_a_litre_of_water_is_a_kilogram(plan, home):
    power = home / "site_data" / "power.yaml"
    old = "{contents: propane, capacity: 500 gal, reserve: 20 %}"
    power.write_text(power.read_text().replace(old, "{contents: water, capacity: 1200 L}"))
    made = plan("level", tank="propane-tank", level="480 kg")
    assert made.after.log.levels[-1].notes == "weighed as 480 kg of 1200 L"
    assert made.after.log.levels[-1].level.to("%") == 40


def test_what_is_no_amount():
    assert amount_read("20 degF") is None and amount_read("10-20 gal") is None
