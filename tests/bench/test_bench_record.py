"""One more entry after twenty years of log: how long beside reading its newest year alone.

The years before are kept as they were read, with what they carry forward. What remains: the newest
year read with the entry in it and checked, and the schedule worked out before and after.
"""

import shutil
import subprocess
import sys
from datetime import date, timedelta

import pytest
import yaml

from steadbook.inventory.read import no_garbage_collection, read_file
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


FILLED = {
    "machine": "main-genset", "tasks": ["oil-change"], "hours": "5,100 h",
    "parts": {"oil": "3 qt"}, "date": "2026-11-24",
}  # fmt: skip


def recorded(home):
    """What `steadbook record` does between its start and its question."""
    record = record_of(KINDS["service"], FILLED, ("the new entry", 0))
    with no_garbage_collection():
        plan = planned(home, [record], DAY, before=read_home(home, DAY))
        return plan, what_changes(plan.before, plan.after, DAY)


@pytest.fixture(scope="module")
def home(homes):
    return homes[-1]


@pytest.fixture(scope="module")
def newest(home):
    return home / "site_data" / "log" / "2026.yaml"


def test_the_record_is_right_and_is_written(home, tmp_path):
    copy = tmp_path / "place"
    shutil.copytree(home, copy)
    for _ in range(2):  # nothing kept, then all kept
        plan, lines = recorded(copy)
        log = plan.before.log
        assert len(log.services) + len(log.levels) + len(log.measurements) == 50_000
        assert len(plan.after.log.services) == len(log.services) + 1
        assert any("Oil change (Main genset): next due moves" in line for line in lines)
    write(copy, plan, DAY)
    assert read_home(copy, DAY).log == plan.after.log


def test_beside_our_reader_on_the_newest_year(home, newest, ratios):
    recorded(home)
    ratios.by_turns(
        "record after 50,000 entries", lambda: recorded(home),
        "reading the newest year, nothing checked", lambda: read_file(newest, newest.name),
        bound=8, rounds=5,
    )  # fmt: skip


def test_beside_the_plain_parser_on_the_newest_year(home, newest, ratios):
    recorded(home)
    ratios.by_turns(
        "record after 50,000 entries, beside another reader", lambda: recorded(home),
        "the plain parser on the newest year",
        lambda: yaml.load(newest.read_text("utf-8"), yaml.CSafeLoader),
        bound=2, rounds=5,
    )  # fmt: skip


def test_with_nothing_kept_beside_reading_all(home, ratios):
    def afresh():
        shutil.rmtree(home / "build", ignore_errors=True)
        recorded(home)

    files = sorted((home / "site_data").rglob("*.yaml"))
    ratios.by_turns(
        "record after 50,000 entries, the first time", afresh,
        "reading them all, nothing checked",
        lambda: [read_file(path, path.name) for path in files],
        bound=5, rounds=2,
    )  # fmt: skip


def test_the_command_beside_the_command_in_a_new_home(home, tmp_path, ratios):
    small = tmp_path / "small"
    shutil.copytree(home, small, ignore=shutil.ignore_patterns("build", "20[01]*", "202[0-5]*"))
    (small / "site_data" / "log" / "2026.yaml").write_text("services:\n", "utf-8")

    def command(folder):
        words = (
            "record service --machine main-genset --task oil-change --hours 5100h "
            f"--date 2026-11-24 --dry-run --as-of {DAY} --home"
        )
        run = [sys.executable, "-m", "steadbook.cli", *words.split(), folder]
        shown = subprocess.run(run, check=True, capture_output=True, timeout=120)
        assert b"Oil change (Main genset): next due" in shown.stdout

    command(home)
    ratios.by_turns(
        "the command `record` after 50,000 entries", lambda: command(home),
        "the same in a new home: its start", lambda: command(small),
        bound=4, rounds=5,
    )  # fmt: skip


def test_a_record_grows_in_step_with_the_log(homes, ratios):
    what = "record after 50,000 entries"
    ratios.growth(what, [lambda home=home: recorded(home) for home in homes], bound=13)
    ratios.memory(what, lambda: recorded(homes[-1]))


def test_writing_a_record_is_little_beside_working_it_out(home, tmp_path, ratios):
    copy = tmp_path / "place"
    shutil.copytree(home, copy)
    plan, _ = recorded(copy)
    (newest,) = plan.files
    old = newest.read_bytes()

    def written_again():
        newest.write_bytes(old)
        write(copy, plan, DAY)

    ratios.by_turns(
        "writing that record", written_again, "working it out", lambda: recorded(home), bound=1,
    )  # fmt: skip
