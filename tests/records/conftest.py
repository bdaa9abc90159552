"""A small home of which every figure can be followed by hand."""

from datetime import date

import pytest

DAY = date(2026, 11, 25)

HOMESTEAD = """\
name: Test place
where: Nowhere
latitude: 45
longitude: -110
elevation: 1000 ft
"""
POWER = """\
title: Power
equipment:
  main-genset:
    kind: genset
    name: Main genset
    installed: 2025-01-01
    meter: {installed_at: 0 h, expected: 365 h}
    specs:
      drain plug: {torque: 26 lbf*ft}
    tasks:
      oil-change:
        title: Oil change
        every: 100 h or 24 months
        parts: {engine-oil: 3 qt, oil-filter: 1}
      valve-lash: {title: Valve lash, every: 24 months}
  propane-tank:
    kind: tank
    name: Propane tank
    plate: {contents: propane, capacity: 500 gal, reserve: 20 %}
"""
SUPPLIERS = """\
suppliers:
  shop: {name: The shop, lead_time: 2 weeks}
  gas: {name: Gas man, lead_time: 10 days}
"""
PARTS = """\
parts:
  engine-oil: {name: Engine oil, supplier: shop, on_hand: 7 qt, counted: 2026-01-01}
  oil-filter: {name: Oil filter, supplier: shop, on_hand: 2, counted: 2026-01-01}
"""
LOG = """\
# The year.
readings: # hour meters
  - {date: 2026-01-01, machine: main-genset, hours: 365 h}
  - {date: 2026-11-01, machine: main-genset, hours: 669 h} # cold

# Work.
services:
  - date: 2026-06-30
    machine: main-genset
    tasks: [oil-change, valve-lash]
    hours: 545 h
    by: Ann

levels:
  - {date: 2026-11-01, tank: propane-tank, level: 62 %}

orders:
  - {date: 2026-10-01, supplier: shop, parts: {oil-filter: 3}}
  - date: 2026-10-20
    supplier: gas
    parts:
      engine-oil: 5 qt
    promised: 2026-11-30
"""


@pytest.fixture
def as_of():
    return DAY


@pytest.fixture
def home(tmp_path):
    """The small home on disk."""
    data = tmp_path / "place" / "site_data"
    (data / "log").mkdir(parents=True)
    for name, text in (
        ("homestead", HOMESTEAD), ("power", POWER), ("suppliers", SUPPLIERS), ("parts", PARTS),
        ("log/2026", LOG),
    ):  # fmt: skip
        (data / f"{name}.yaml").write_text(text, "utf-8")
    return data.parent


@pytest.fixture
def log(home):
    """The year's log of the small home."""
    return home / "site_data" / "log" / "2026.yaml"


@pytest.fixture
def plan(home, as_of):
    """Plans one record of a kind."""
    from steadbook.records.kinds import KINDS
    from steadbook.records.recording import planned, record_of

    def make(word, again=False, **filled):
        filled.setdefault("date", as_of.isoformat())
        record = record_of(KINDS[word], filled, ("the new entry", 0))
        return planned(home, [record], as_of, again=again)

    return make
