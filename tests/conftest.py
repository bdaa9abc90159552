"""A small valid home made of texts, so that a test can change one thing in it."""

from datetime import date

import pytest

from steadbook.errors import InventoryErrors
from steadbook.inventory import read_inventory

AS_OF = date(2026, 3, 1)

HOME = {
    "homestead.yaml": """\
name: Test place
where: A valley
latitude: 45.0
longitude: -110.0
elevation: 3000 ft
people:
  neighbour: {name: A neighbour, role: has a key, phone: 555-0100}
call_first: [neighbour]
""",
    "suppliers.yaml": """\
suppliers:
  parts-shop:
    name: The parts shop
    lead_time: 2 weeks
    private: {account: "AC-7788", notes: ask for the trade price}
""",
    "parts.yaml": """\
parts:
  oil-filter: {name: Oil filter, supplier: parts-shop, on_hand: 1, counted: 2026-01-01}
  engine-oil: {name: Engine oil, supplier: parts-shop, on_hand: 5 qt, counted: 2026-01-01}
""",
    "power.yaml": """\
title: Power
equipment:
  genset:
    kind: genset
    name: Genset
    installed: 2024-01-01
    meter: {installed_at: 0 h}
    plate: {power: 8 kW}
    private: {serial: "SN-0001", price: 4200 USD}
    specs:
      drain plug: {torque: 26 lbf*ft}
    tasks:
      oil-change:
        title: Change the oil
        every: 200 h or 24 months
        first: 25 h
        parts: {oil-filter: 1, engine-oil: 2.5 qt}
        specs: [drain plug]
        procedure: genset-oil
      annual-service:
        title: Annual service
        every: 12 months
        covers: [oil-change]
""",
    "fuel.yaml": """\
title: Fuel
equipment:
  tank:
    kind: tank
    name: Propane tank
    plate: {contents: propane, capacity: 500 gal, reserve: 20 %}
""",
    "log/2026.yaml": """\
readings:
  - {date: 2026-01-01, machine: genset, hours: 100 h}
  - {date: 2026-02-01, machine: genset, hours: 120 h}
services:
  - {date: 2026-02-01, machine: genset, tasks: [oil-change], hours: 120 h, parts: {oil-filter: 1}}
levels:
  - {date: 2026-02-01, tank: tank, level: 60 %}
""",
}
PROCEDURES = frozenset({"genset-oil", "genset-start"})


class Home:
    """A home in a folder; each change replaces a piece of text that stands in a file once."""

    def __init__(self, folder):
        self.folder = folder
        self.site_data = folder / "site_data"

    def write(self, name, content):
        path = self.site_data / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    def change(self, name, old, new):
        text = (self.site_data / name).read_text()
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {name}"
        self.write(name, text.replace(old, new))
        return self

    def line(self, name, words):
        """The number of the first line that holds the words."""
        lines = (self.site_data / name).read_text().splitlines()
        return next(number for number, line in enumerate(lines, 1) if words in line)

    def read(self, **options):
        options = {"as_of": AS_OF, "procedures": PROCEDURES} | options
        return read_inventory(self.site_data, **options)

    def problems(self, **options):
        with pytest.raises(InventoryErrors) as caught:
            self.read(**options)
        return caught.value.problems

    def problem(self, **options):
        """The only problem."""
        found = self.problems(**options)
        assert len(found) == 1, [str(one) for one in found]
        return found[0]


@pytest.fixture
def home(tmp_path):
    """``home()`` is the small valid home; ``home({"power.yaml": ...})`` replaces files of it
    (None: leaves one out)."""
    count = 0

    def make(files=None):
        nonlocal count
        count += 1
        made = Home(tmp_path / f"home{count}")
        for name, content in (HOME | (files or {})).items():
            if content is not None:
                made.write(name, content)
        return made

    return make
