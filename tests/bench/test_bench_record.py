"""One more entry after twenty years of log: how long beside reading that log once."""

from datetime import date, timedelta

import pytest

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
def homes(tmp_path_factory):
    """500, 5,000 and 50,000 entries in twenty files."""
    return [written(tmp_path_factory.mktemp("place"), each) for each in (25, 250, 2500)]


def written(folder, each):
    """So many entries a year for twenty years, as people write them."""
    data = folder / "site_data"
    (data / "log").mkdir(parents=True)
    for name, text in HOME.items():
        (data / f"{name}.yaml").write_text(text, "utf-8")
    hours = 0.0
    for year in range(2007, 2027):
        lists = {"services": [], "levels": [], "measurements": []}
        for place in range(each):
            day = date(year, 1, 1) + timedelta(days=place * 320 // each)
            key = ("services", "levels", "measurements", "services", "levels")[place % 5]
            hours += 250 / each
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


def recorded(home):
    """All that `record` does but asking and writing: what was, what will be, what it changes."""
    filled = {"machine": "main-genset", "tasks": ["oil-change"], "hours": "5,100 h",
              "parts": {"oil": "3 qt"}, "date": "2026-11-24"}  # fmt: skip
    record = record_of(KINDS["service"], filled, ("the new entry", 0))
    before = read_home(home, DAY)
    plan = planned(home, [record], DAY, before=before)
    return plan, what_changes(plan.before, plan.after, DAY)


def test_a_record_after_fifty_thousand_costs_little_more_than_reading_them(homes, ratios):
    what, home = "record after 50,000 entries", homes[-1]
    plan, lines = ratios.by_turns(
        what,
        lambda: recorded(home),
        "reading and checking them",
        lambda: read_home(home, DAY),
        bound=2.5,
    )
    log = plan.before.log
    assert len(log.services) + len(log.levels) + len(log.measurements) == 50_000
    assert any("Oil change (Main genset): next due moves" in line for line in lines)
    ratios.memory(what, lambda: recorded(home))


def test_a_record_grows_in_step_with_the_log(homes, ratios):
    works = [lambda home=home: recorded(home) for home in homes]
    ratios.growth("record after 50,000 entries", works, bound=13)


def test_writing_a_record_is_little_beside_reading_the_log(homes, ratios):
    home = homes[-1]
    plan, _ = recorded(home)
    log = home / "site_data" / "log" / "2026.yaml"
    old = log.read_bytes()

    def written_again():
        log.write_bytes(old)
        write(home, plan, DAY)

    ratios.by_turns(
        "writing that record",
        written_again,
        "reading and checking them",
        lambda: read_home(home, DAY),
        bound=0.5,
    )
    assert log.read_bytes() != old
