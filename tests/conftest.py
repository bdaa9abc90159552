"""Homes for tests: a small one made of texts, so that a test can change one thing in it; the demo."""

import os
import shutil
import time
from datetime import date
from pathlib import Path

import pytest

from steadbook.errors import InventoryErrors
from steadbook.inventory import read_inventory

ROOT = Path(__file__).parents[1]
AS_OF = date(2026, 3, 1)
DEMO_DAY = date(2026, 11, 25)

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


@pytest.fixture(scope="session")
def demo_once(tmp_path_factory):
    """The demo, built once for the tests of all processes."""
    shared = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        shared = shared.parent
    place, lock = shared / "demo-once", shared / "demo-lock"
    while not place.exists():
        try:
            lock.mkdir()
        except FileExistsError:
            time.sleep(0.2)
            continue
        try:
            if not place.exists():
                _built_demo(shared / "demo-half").rename(place)
        finally:
            lock.rmdir()
    return place


def _built_demo(home):
    from steadbook.bind.results import build
    from steadbook.making import made_manual

    shutil.rmtree(home, ignore_errors=True)
    shutil.copytree(ROOT / "site_data", home / "site_data")
    shutil.copy(ROOT / "mkdocs.yml", home)
    build(home, as_of=DEMO_DAY)
    for edition in ("sitter", "technician"):
        made_manual(home, as_of=DEMO_DAY, edition=edition)
    return home


@pytest.fixture(scope="session")
def demo_copy(demo_once):
    """``demo_copy(folder)``: the demo in a folder, without results, but with what a build keeps for
    the next one: it is made again in a tenth of the time. `tests/test_reproducible.py` holds that
    nothing kept leaves a trace in results."""

    def results(folder, names):
        return [name for name in names if Path(folder).name == "build" and name[0] != "."]

    def copy(to):
        return Path(shutil.copytree(demo_once, to, ignore=results, dirs_exist_ok=True))

    return copy


# Few tests, but long ones: they begin first, or at the end one core would wait for them. The others
# come in the order of their files (pyproject.toml keeps xdist from another order).
LONG = {
    "test_reproducible.py", "test_results.py", "test_cli.py", "test_last_results.py",
    "test_help.py", "test_editions.py", "test_site_in_browser.py", "test_procedures.py",
    "test_bad_inventories.py", "test_power_pages.py", "test_winter_ahead.py", "test_compose.py",
}  # fmt: skip


def pytest_collection_modifyitems(items):
    items.sort(key=lambda item: item.path.name not in LONG)
