"""Fuel that ages: which delivery is still there, and the day by which it is used up."""

from datetime import date

import pytest

from steadbook.units import convert
from steadbook.workings import work_out
from steadbook.workings.fuels import fuel_state
from steadbook.workings.stored_fuels import heat_table

DAY = date(2026, 3, 1)
CANS = """\
title: Fuel
equipment:
  tank:
    kind: tank
    name: Cans
    stabilizer: no
    plate: {contents: gasoline, capacity: 20 gal}
"""
LOG = """\
levels:
  - {date: 2026-02-01, tank: tank, level: 50 %}
deliveries:
  - {date: 2025-06-30, tank: tank, amount: 12 gal}
  - {date: 2025-08-31, tank: tank, amount: 8 gal}
  - {date: 2026-02-10, tank: tank, amount: 5 gal}
"""


def stored(home, cans=CANS, log=LOG):
    made = home({"fuel.yaml": cans, "log/2026.yaml": log})
    return next(iter(fuel_state(made.read(), {}, DAY).stored), None)


def gallons(batch):
    return round(convert(batch.left, "L", "gal"), 6)


def test_what_is_left_comes_from_the_newest_deliveries(home):
    found = stored(home)
    # 10 gal on 1 February: 8 of August and 2 of June; what came later is not in the reading
    assert [(gallons(one), one.delivery.date) for one in found.batches] == [
        (8, date(2025, 8, 31)),
        (2, date(2025, 6, 30)),
    ]
    assert found.older == 0


def test_plain_gasoline_keeps_three_to_six_months(home):
    """Common practice, no source: 3 to 6 months without, 12 to 24 with stabilizer."""
    found = stored(home)
    assert (found.batches[0].use_by, found.batches[0].at_last) == (
        date(2025, 11, 30),  # no 31 November
        date(2026, 2, 28),
    )
    assert found.rotate_by == date(2025, 9, 30)


def test_stabilizer_makes_it_twelve_to_twenty_four(home):
    assert stored(home, CANS.replace("stabilizer: no", "stabilizer: yes")).rotate_by == date(
        2026, 6, 30
    )


@pytest.mark.parametrize(
    ("contents", "use_by"),
    [("gasoline E10", date(2025, 7, 30)), ("diesel", date(2025, 12, 30)), ("kerosene", date(2027, 6, 30))],
)  # fmt: skip
def test_each_fuel_has_its_own_life(home, contents, use_by):
    cans = CANS.replace("contents: gasoline", f"contents: {contents}")
    assert stored(home, cans).rotate_by == use_by


def test_kerosene_has_no_stabilizer(home):
    cans = CANS.replace("stabilizer: no", "stabilizer: yes").replace("gasoline", "kerosene")
    assert stored(home, cans).treated is False


def test_fuel_of_no_delivery_has_no_age(home):
    found = stored(home, log=LOG.replace("50 %", "90 %").replace("12 gal", "6 gal"))
    assert convert(found.older, "L", "gal") == pytest.approx(4)  # 18 - 8 - 6


def test_without_a_delivery_no_day_is_made_up(home):
    made = home({"fuel.yaml": CANS, "log/2026.yaml": LOG.split("deliveries")[0]})
    workings = work_out(made.read(), DAY)
    assert workings.fuel.stored[0].rotate_by is None
    assert "tank.rotate-by" not in workings.figures


def test_propane_does_not_age(home):
    assert stored(home, CANS.replace("gasoline", "propane")) is None


def test_a_gallon_of_gasoline_is_1_36_of_propane():
    """US DOE: 124,340 Btu/gal gross; LP-gas handbook: 91,502."""
    rows = {row.fuel: row for row in heat_table()}
    assert rows["gasoline"].in_propane == pytest.approx(124_340 / 91_502)
    assert rows["propane"].in_propane == 1
    assert rows["kerosene"].lower is None
