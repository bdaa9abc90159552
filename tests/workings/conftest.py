"""A home with a whole plant: genset, bank, inverter, array, and the weather to work it out."""

from datetime import date

import pytest

from steadbook.workings import work_out

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
LIGHT = (1.2, 2.1, 3.3, 4.5, 5.4, 5.9, 6.4, 5.4, 4.0, 2.3, 1.3, 0.9)  # kWh/m2 on a day, 45 N
AS_OF = date(2026, 3, 1)

POWER = """\
title: Power
equipment:
  genset:
    kind: genset
    name: Genset
    installed: 2026-01-01
    meter: {installed_at: 1000 h}
    plate: {power: 8 kW, fuel_at_half_load: 3 L/h, fuel_at_full_load: 5 L/h, starter_capacity: 100 Ah, starter_cranking: 800 A}
    tasks:
      oil-change: {title: Change the oil, every: 200 h}
  bank:
    kind: battery bank
    name: Bank
    installed: 2020-01-01
    plate: {chemistry: flooded, voltage: 48 V, capacity: 600 Ah, floor: 30 %}
  inverter:
    kind: inverter
    name: Inverter
    plate: {charge_current: 60 A}
  roof:
    kind: array
    name: Roof
    plate: {power: 4 kW, tilt: 45 deg, azimuth: 180 deg}
"""
CLIMATE = (
    "source: a table\n"
    "months:\n"
    + "".join(
        f"  {month}: {{sun: {light} kWh/m2, air: 0 degC, bank: 25 degC}}\n"
        for month, light in zip(MONTHS, LIGHT, strict=True)
    )
    + f"""\
house:
  all:
    months: [{", ".join(MONTHS)}]
    power: {{22-6: 300 W, 6-22: 500 W}}
heavy_loads:
  washing: {{name: Washing machine, power: 1 kW, daily: 2 h, hours: 8-12, waits_in: [January]}}
run_rule: {{start_below: 50 %, stop_at: 80 %, quiet: 22-6, other_hours: 2 h}}
"""
)
LOG = """\
readings:
  - {date: 2026-01-01, machine: genset, hours: 1000 h}
  - {date: 2026-02-01, machine: genset, hours: 1090 h}
  - {date: 2026-03-01, machine: genset, hours: 1150 h}
"""


@pytest.fixture
def few_winters(monkeypatch):
    """Sixty winters instead of a thousand: enough to see what moves."""
    from steadbook.workings import what_if, winter

    monkeypatch.setattr(winter, "COUNT", 60)
    monkeypatch.setattr(winter, "LEDGER_COUNT", 3)
    monkeypatch.setattr(winter, "SUN_COUNT", 20)
    monkeypatch.setattr(what_if, "COUNT", 60)


@pytest.fixture
def plant_home(home, few_winters):
    """``plant_home()`` is a home with its plant; files given replace its own."""

    def make(files=None):
        own = {
            "power.yaml": POWER,
            "climate.yaml": CLIMATE,
            "log/2026.yaml": LOG,
            "parts.yaml": None,
        }
        return home(own | (files or {}))

    return make


@pytest.fixture(scope="session")
def kept_winters(tmp_path_factory):
    """A folder in which the winters of all tests are kept."""
    return tmp_path_factory.mktemp("winters")


@pytest.fixture
def worked(plant_home, kept_winters):
    """Workings of a home with its plant, ``worked(files, kept)``."""

    def make(files=None, kept=kept_winters):
        return work_out(plant_home(files).read(), AS_OF, kept)

    return make
