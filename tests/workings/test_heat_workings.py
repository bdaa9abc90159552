"""From one cold night to the cords of a winter, by hand and by published tables."""

from datetime import date
from math import exp

import pytest
from pytest import approx

from steadbook.units import NO_BREAK
from steadbook.workings import work_out

AS_OF = date(2026, 3, 15)
MONTHS = [
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
]  # fmt: skip
MEANS = [20, 25, 35, 45, 55, 60, 68, 66, 57, 45, 32, 22]  # degF
HEAT = """\
title: Heat
equipment:
  cabin:
    kind: house
    name: Cabin
    plate:
      inside: 68 degF
      stove: stove
      backup: heater
      backup_efficiency: 80 %
      cold_night: {date: 2026-01-10, hours: 10 h, inside: 68 degF, outside: 8 degF, wood: 50 lb}
      stove_out: {date: 2026-02-01, hours: 6 h, start: 68 degF, end: 58 degF, outside: 20 degF}
  stove:
    kind: stove
    name: Stove
    plate: {wood: white ash, efficiency: 70 %, moisture: 20 %, burn_from: 15 October}
  heater: {kind: load, name: Heater, plate: {input: 20000 Btu/h}}
  chimney:
    kind: chimney
    name: Chimney
    plate: {roof_slope: 26.565 deg, to_ridge: 20 ft, above_roof: 6 ft}
    tasks: {sweep: {title: Sweep, every: 12 months}}
"""
LOG = """\
services:
  - {date: 2025-09-14, machine: chimney, tasks: [sweep]}
measurements:
  - {date: 2025-09-14, machine: chimney, spec: creosote, value: 1/8 in}
  - {date: 2025-10-01, machine: stove, spec: dry wood, value: 3 cord}
"""


@pytest.fixture
def figures(home):
    def make(*changes, as_of=AS_OF):
        made = home({"heat.yaml": HEAT, "fuel.yaml": None, "log/2026.yaml": LOG})
        means = "".join(f"  {m}: {t} degF\n" for m, t in zip(MONTHS, MEANS, strict=True))
        made.change("homestead.yaml", "elevation: 3000 ft\n", f"elevation: 3000 ft\ncoldest: -20 degF\nmonth_means:\n{means}")  # fmt: skip
        for file, old, new in changes:
            made.change(file, old, new)
        return {f.key: f for f in work_out(made.read(as_of=as_of), as_of).house.heat.figures}

    return make


def value(figure):
    return figure.value.replace(NO_BREAK, " ")


# 50 lb at 7,000 Btu (Iowa State University Extension) and 70 %: 245,000 Btu in 10 h over 60 degF
LOSS = 50 * 7000 * 0.70 / 10 / 60


def test_the_night_by_hand(figures):
    assert approx(408, abs=0.5) == LOSS
    assert value(figures()["cabin.loss"]).startswith("408 Btu/h for each °F")


def test_the_coldest_night_and_the_backup_by_hand(figures):
    found = figures()
    assert value(found["cabin.coldest"]).startswith(f"{round(LOSS * 88, -2):,.0f} Btu/h")
    # 20,000 x 0.8 = 16,000 Btu/h over 408 = 39 degF above -20
    assert value(found["cabin.backup"]).startswith("19.2 °F")
    assert "drain" in found["cabin.backup"].caution


def test_a_strong_backup_holds_no_more_than_is_kept(figures):
    found = figures(("heat.yaml", "input: 20000", "input: 90000"))["cabin.backup"]
    assert value(found).startswith("68 °F") and found.caution == ""


def test_the_winters_wood_by_degree_days_and_the_cord_table(figures):
    lengths = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    days = sum(n * max(65 - t, 0) for n, t in zip(lengths, MEANS, strict=True))
    cords = days * 24 * LOSS / 24.6e6 / 0.70  # University of Kentucky: white ash 24.6 million Btu
    found = figures()
    assert f"{days:,} °F·days" in " ".join(found["cabin.season"].working)
    assert (
        value(found["cabin.cords"])
        == f"{cords * 1.2:.1f} cords: {cords:.1f} for a usual winter and a fifth in hand"
    )
    assert (
        value(found["stove.stack"])
        == f"3 cord: {3 / cords:.0%} of the {cords:.1f} cords of a usual winter"
    )


def test_wood_outside_the_table_goes_by_its_weight(figures):
    # a cord of 3,514 lb at 7,000 Btu holds the 24.6 million Btu of white ash
    other = ("heat.yaml", "wood: white ash", "cord_weight: 3514 lb, is_softwood: no")
    assert value(figures(other)["cabin.cords"]) == value(figures()["cabin.cords"])


def test_the_room_cools_by_newtons_law(figures):
    # 48 degF over outside fall to 38 in 6 h; from 88 over -20 degF to 59.2 (39.2 degF, 4 degC)
    hours = float(value(figures()["cabin.cools-coldest"]).split()[0])
    assert 88 * exp(-hours / 6 * 0.23361) == approx(59.2, abs=2)  # ln(48 / 38) = 0.23361


@pytest.mark.parametrize(
    ("as_of", "split", "fire"),
    [
        # US EPA: 12 months for hardwood; the next season that can still be met
        (date(2026, 3, 15), "15 Oct 2026", "15 Oct 2027"),
        (date(2026, 10, 31), "15 Oct 2026", "15 Oct 2027"),
        (date(2026, 11, 1), "15 Oct 2027", "15 Oct 2028"),
    ],
)
def test_the_day_to_split_by_stays_the_same_through_a_month(figures, as_of, split, fire):
    found = figures(as_of=as_of)["stove.split"]
    assert value(found) == split and fire in found.title.replace(NO_BREAK, " ")


def test_a_day_to_split_by_that_is_the_first_of_this_month_still_counts(figures):
    change = ("heat.yaml", "burn_from: 15 October", "burn_from: 1 October")
    assert value(figures(change, as_of=date(2026, 10, 20))["stove.split"]) == "1 Oct 2026"


def test_the_chimney_by_the_code(figures):
    found = figures()
    # NFPA 211: 6 in 12 rises 5 ft in 10 ft, and 2 ft more
    assert value(found["chimney.height"]).startswith("7.0 ft")
    assert found["chimney.height"].caution.startswith("TOO LOW")
    assert value(found["chimney.creosote"]) == "1/8 in: sweep"
    assert value(found["chimney.inspection"]) == "14 Sep 2026"


@pytest.mark.parametrize(
    ("old", "new", "found", "allowed"),
    [
        (
            "stove: stove",
            "stove: stoev",
            "'stoev', which does not exist as a `kind: stove`",
            "stove",
        ),
        ("stove: stove", "stove: heater", "'heater', which is no `kind: stove`", "stove"),
        ("backup: heater", "backup: chimney", "'chimney', which is no `kind: load`", "heater"),
    ],
)
def test_a_name_that_leads_nowhere_is_told(home, old, new, found, allowed):
    made = home({"heat.yaml": HEAT, "fuel.yaml": None, "log/2026.yaml": LOG})
    problem = made.change("heat.yaml", old, new).problem()
    assert (problem.file, problem.line) == ("site_data/heat.yaml", made.line("heat.yaml", new))
    assert (problem.found, problem.allowed) == (found, allowed)


def test_a_night_too_warm_to_tell_gives_no_loss(figures):
    found = figures(("heat.yaml", "outside: 8 degF", "outside: 64 degF"))
    assert "cabin.loss" not in found and "cabin.cords" not in found
