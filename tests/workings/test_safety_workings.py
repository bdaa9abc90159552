"""Dates from the dates on the units, held to the standards' years."""

from datetime import date
from pathlib import Path

import pytest

from steadbook.inventory import read_inventory
from steadbook.making import made_manual
from steadbook.units import NO_BREAK
from steadbook.workings import work_out

DEMO = Path(__file__).parents[2] / "site_data"
AS_OF = date(2026, 3, 1)
SAFETY = """\
title: Safety
equipment:
  extinguishers:
    kind: extinguishers
    name: Extinguishers
    plate:
      units:
        kitchen: {place: Kitchen, made: 2020-05-01}
        shop: {place: Shop, made: 2024-05-01, agent: carbon dioxide}
        car: {place: Car, made: 2019-02-01, agent: non-rechargeable}
    tasks: {maintenance: {title: Service, every: 12 months}}
  smoke:
    kind: alarms
    name: Smoke alarms
    plate: {senses: smoke, units: {loft: {place: Loft, made: 2018-03-01}}}
    tasks: {replace: {title: Replace, every: 10 years, counts_from: manufacture}}
  co:
    kind: alarms
    name: CO alarms
    made: 2021-01-31
    place: Hall
    plate: {senses: carbon monoxide}
  regulator: {kind: regulator, name: Regulator, made: 2012-06-01}
  cylinders:
    kind: cylinders
    name: Cylinders
    plate:
      units:
        old: {made: 2015-06-01}
        older: {made: 2003-06-01, requalified: 2024-06-01}
        tested: {made: 2003-06-01, requalified: 2024-06-01, method: proof pressure}
  water:
    kind: stored water
    name: Stored water
    plate: {volume: 40 gal, people: 4, days: 14, filled: 2025-08-31}
  kit:
    kind: dated stores
    name: First aid
    plate: {items: {"Eyewash, two": {best_by: 2026-05-31}}}
"""
LOG = "services:\n  - {date: 2025-06-14, machine: extinguishers, tasks: [maintenance]}\n"


@pytest.fixture
def pages(home):
    def make(*changes):
        made = home({"safety.yaml": SAFETY, "fuel.yaml": None, "log/2026.yaml": LOG})
        for old, new in changes:
            made.change("safety.yaml", old, new)
        return work_out(made.read(), AS_OF).house.safety

    return make


@pytest.mark.parametrize(
    ("key", "day", "source"),
    [
        ("extinguishers.kitchen-service", date(2026, 6, 14), "NFPA 10 (2010) 7.3: yearly"),
        ("extinguishers.kitchen-internal", date(2026, 5, 1), "NFPA 10 (1998) 4-4.3: 6 years"),
        ("extinguishers.kitchen-hydrostatic", date(2032, 5, 1), "NFPA 10 table 8.3.1: 12 years"),
        ("extinguishers.shop-hydrostatic", date(2029, 5, 1), "NFPA 10 table 8.3.1: 5 years"),
        ("extinguishers.car-discard", date(2031, 2, 1), "NFPA 10: 12 years"),
        ("smoke.loft-replace", date(2028, 3, 1), "NFPA 72 29.10: 10 years from manufacture"),
        ("co.all-replace", date(2026, 1, 31), "5 years, the shortest life printed on units"),
        ("regulator.replace-by", date(2027, 6, 1), "LP-gas trade press: 15 years"),
        (
            "cylinders.old-requalify",
            date(2027, 6, 1),
            "49 CFR 180.209(e): 12 years from manufacture",
        ),
        ("cylinders.older-requalify", date(2029, 6, 1), "49 CFR 180.209(g): 5 years after visual"),
        ("cylinders.tested-requalify", date(2034, 6, 1), "49 CFR 180.209: 10 years after proof"),
        ("water.change-by", date(2026, 2, 28), "FEMA: 6 months, at the end of a short month"),
        ("kit.item-1", date(2026, 5, 31), "the date on it"),
    ],
)
def test_date(pages, key, day, source):
    found = {one.figure.key: one.day for one in pages().dates}
    assert found[key] == day, source


def test_dates_come_in_order_and_alike_ones_together(pages):
    made = pages(("shop: {place: Shop, made: 2024-05-01, agent: carbon dioxide}", "shop: {place: Shop, made: 2020-05-01}"))  # fmt: skip
    days = [one.day for one in made.dates]
    assert days == sorted(days)
    inside = next(one for one in made.groups if "opened" in one.what)
    assert [one.place for one in inside.dates] == ["Kitchen", "Shop"]
    assert sum(len(group.dates) for group in made.groups) == len(made.dates)


def test_carbon_dioxide_is_not_opened_between_tests(pages):
    assert not any(one.figure.key == "extinguishers.shop-internal" for one in pages().dates)


def test_work_before_a_unit_was_made_does_not_count_for_it(pages):
    made = pages(("made: 2020-05-01}", "made: 2025-09-01}"))
    found = {one.figure.key: one.day for one in made.dates}
    assert found["extinguishers.kitchen-service"] == date(2026, 9, 1)


def test_the_life_on_the_unit_goes_before_that_of_the_set(pages):
    made = pages(("made: 2018-03-01}", "made: 2018-03-01, life: 8 years}"))
    found = {one.figure.key: one.day for one in made.dates}
    assert found["smoke.loft-replace"] == date(2026, 3, 1)


def test_the_task_counts_from_manufacture_as_the_date_does(home):
    made = home({"safety.yaml": SAFETY, "fuel.yaml": None, "log/2026.yaml": LOG})
    workings = work_out(made.read(), AS_OF)
    state = next(one for one in workings.tasks if one.id == "smoke.replace")
    dated = {one.figure.key: one.day for one in workings.house.safety.dates}
    assert state.due.day == dated["smoke.loft-replace"]
    steps = " ".join(workings.figures["smoke.replace.due"].working).replace(NO_BREAK, " ")
    assert "Counted from manufacture, 1 Mar 2018" in steps


def test_too_little_water_is_told(pages):
    figure = pages().amounts[0].figures[0]
    # FEMA, CDC: a gallon a person a day
    assert figure.value.replace(NO_BREAK, " ").startswith("56 gal")
    assert figure.caution == "Too little stored for that."
    assert pages(("volume: 40 gal", "volume: 60 gal")).amounts[0].figures[0].caution == ""


def test_every_date_of_the_demo_leads_to_its_line():
    day = date(2026, 11, 25)
    demo = work_out(read_inventory(DEMO, as_of=day), day)
    assert len(demo.house.safety.dates) > 30
    for one in demo.house.safety.dates:
        assert demo.figures[one.figure.key] is one.figure
        assert all(source.where.count(":") == 1 for source in one.figure.inputs)


def test_tasks_and_dates_of_the_demo_agree():
    day = date(2026, 11, 25)
    demo = work_out(read_inventory(DEMO, as_of=day), day)
    first = {}
    for one in demo.house.safety.dates:
        if "replaced" in one.what and "tested" not in one.what:
            first.setdefault(one.machine.id, one.day)
    due = {state.machine.id: state.due.day for state in demo.tasks if state.name == "replace"}
    assert len(first) == 6
    assert {name: due[name] for name in first} == first


def test_today_names_what_runs_out_within_the_owners_span(home):
    made = home({"safety.yaml": SAFETY, "fuel.yaml": None, "log/2026.yaml": LOG})
    made.change("power.yaml", "        procedure: genset-oil\n", "")
    made.change("homestead.yaml", "elevation: 3000 ft\n", "elevation: 3000 ft\ndue_soon: 90 days\n")
    pages = {p.path: p.markdown for p in made_manual(made.folder, as_of=AS_OF).manual.pages}
    today = pages["index.md"].split("## Running out")[1].split("## Next visit")[0]
    # 90 days from 1 March reach 30 May: the kitchen's examination of 1 May, not the kit's 31 May
    assert "Extinguisher: to be opened and examined" in today
    assert "Eyewash" not in today and "Eyewash" in pages["safety/dates.md"]
