"""One more entry after twenty years of log: how long beside reading that log once."""

from datetime import date, timedelta
from time import perf_counter

import pytest

from steadbook.inventory.read import read_file
from steadbook.records.changes import what_changes
from steadbook.records.kinds import KINDS
from steadbook.records.recording import planned, read_home, record_of, write

DAY = date(2026, 11, 25)
HOME = {
    "homestead": "name: Test place\nwhere: Nowhere\nlatitude: 45\nlongitude: -110\nelevation: 1000 ft\n",
    "suppliers": "suppliers:\n  shop: {name: The shop, lead_time: 2 weeks}\n",
    "parts": "parts:\n  oil: {name: Oil, supplier: shop, on_hand: 9 qt, counted: 2026-10-01}\n",
    "power": """\
title: Power
equipment:
  main-genset:
    kind: genset
    name: Main genset
    installed: 2006-12-01
    meter: {installed_at: 0 h}
    tasks:
      oil-change: {title: Oil change, every: 100 h or 12 months, parts: {oil: 3 qt}}
      look: {title: Look at the oil, every: 1 week}
  tank: {kind: tank, name: Tank, plate: {contents: propane, capacity: 500 gal, reserve: 20 %}}
""",
}


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    """50,000 entries in twenty files, as people write them."""
    folder = tmp_path_factory.mktemp("place")
    data = folder / "site_data"
    (data / "log").mkdir(parents=True)
    for name, text in HOME.items():
        (data / f"{name}.yaml").write_text(text, "utf-8")
    hours = 0.0
    for year in range(2007, 2027):
        lists = {"services": [], "levels": [], "measurements": []}
        for place in range(2500):
            day = date(year, 1, 1) + timedelta(days=place * 320 // 2500)
            key = ("services", "levels", "measurements", "services", "levels")[place % 5]
            hours += 0.1
            lists[key].append({
                "services": f"{{date: {day}, machine: main-genset, tasks: [look], hours: {hours:.1f} h, by: Ben}}",
                "levels": f"{{date: {day}, tank: tank, level: {30 + place % 50} %}}",
                "measurements": f"{{date: {day}, machine: main-genset, spec: oil pressure, value: 41 psi}}",
            }[key])  # fmt: skip
        text = "".join(
            f"{key}:\n" + "".join(f"  - {one}\n" for one in entries)
            for key, entries in lists.items()
        )
        (data / "log" / f"{year}.yaml").write_text(text, "utf-8")
    return folder


def _timed(work):
    clock = perf_counter()
    result = work()
    return result, perf_counter() - clock


def test_a_record_after_fifty_thousand_costs_little_more_than_reading_them(home, record_property):
    filled = {"machine": "main-genset", "tasks": ["oil-change"], "hours": "5,100 h",
              "parts": {"oil": "3 qt"}, "date": "2026-11-24"}  # fmt: skip
    record = record_of(KINDS["service"], filled, ("the new entry", 0))
    times = []
    for _ in range(2):
        before, reading = _timed(lambda: read_home(home, DAY))
        plan, planning = _timed(lambda: planned(home, [record], DAY, before=before))  # noqa: B023
        lines, telling = _timed(lambda: what_changes(plan.before, plan.after, DAY))  # noqa: B023
        times.append((reading, planning, telling))
    _, parsing = _timed(
        lambda: [
            read_file(path, path.name) for path in sorted((home / "site_data").rglob("*.yaml"))
        ]
    )
    _, writing = _timed(lambda: write(home, plan, DAY))
    log = before.log
    assert len(log.services) + len(log.levels) + len(log.measurements) == 50_000
    assert any("Oil change (Main genset): next due moves" in line for line in lines)

    reading, planning, telling = (min(one) for one in zip(*times, strict=True))
    whole = reading + planning + telling + writing
    record_property("record / reading and checking the inventory", round(whole / reading, 2))
    record_property("record / parsing the files alone", round(whole / parsing, 2))
    print(
        f"\nreading {reading:.2f} s (of it parsing {parsing:.2f}), checking the entry {planning:.2f}, "
        f"what it changes {telling:.2f}, writing {writing:.3f}; "
        f"record / reading {whole / reading:.2f}, record / parsing {whole / parsing:.2f}"
    )
    assert whole / reading <= 2.5  # 1.3 to 1.9 here; twice is the aim
