"""Reading a long log against the plain YAML parser, and starting against its own libraries."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from tests.conftest import AS_OF, HOME

from steadbook.inventory import read_inventory
from steadbook.inventory.read import read_file

ENTRIES = 50_000
STARTER = Path(__file__).parents[2] / "generator" / "steadbook" / "starter"


def written(folder, entries):
    """A home with so many readings in its log."""
    site_data = folder / "site_data"
    (site_data / "log").mkdir(parents=True)
    for name, text in HOME.items():
        (site_data / name).write_text(text.replace("        procedure: genset-oil\n", ""))
    lines = ["readings:"]
    for number in range(entries):
        day = f"{2024 + number * 2 // entries}-{1 + number % 12:02d}-{1 + number % 28:02d}"
        lines.append(f"  - {{date: {day}, machine: genset, hours: 20 h, notes: round {number}}}")
    (site_data / "log" / "2026.yaml").write_text("\n".join(lines))
    return site_data


@pytest.fixture(scope="module")
def homes(tmp_path_factory):
    """Homes with a hundredth, a tenth and the whole of the log."""
    folder = tmp_path_factory.mktemp("homes")
    return [written(folder / str(part), ENTRIES // part) for part in (100, 10, 1)]


def plain(home):
    """The log as the plain parser, written in C, reads it."""
    text = (home / "log" / "2026.yaml").read_text()
    return lambda: yaml.load(text, yaml.CSafeLoader)


def test_reading_with_lines_takes_less_than_three_times_the_plain_parser(homes, ratios):
    path = homes[-1] / "log" / "2026.yaml"
    tree, found = ratios.by_turns(
        "50,000 entries read with their lines",
        lambda: read_file(path, "a.yaml"),
        "the plain YAML parser",
        plain(homes[-1]),
        bound=3,
    )
    assert len(tree["readings"]) == ENTRIES and not found


def test_the_whole_load_takes_less_than_three_times_the_plain_parser(homes, ratios):
    homestead = ratios.by_turns(
        "load: 50,000 entries read and checked",
        lambda: read_inventory(homes[-1], as_of=AS_OF),
        "the plain YAML parser",
        plain(homes[-1]),
        bound=3,
    )
    assert len(homestead.log.readings) == ENTRIES


def test_loading_grows_in_step_with_the_log(homes, ratios):
    what = "load: 50,000 entries read and checked"
    works = [lambda home=home: read_inventory(home, as_of=AS_OF) for home in homes]
    ratios.growth(what, works, bound=13)
    ratios.memory(what, works[-1])


def due(home):
    command = [
        sys.executable,
        "-m",
        "steadbook.cli",
        "due",
        "--home",
        home,
        "--as-of",
        "2026-03-01",
    ]
    return subprocess.run(command, check=True, capture_output=True, timeout=120).stdout


def test_due_starts_in_less_than_twice_the_time_of_its_libraries(ratios, tmp_path):
    home = shutil.copytree(STARTER, tmp_path / "home")  # what it keeps must not lie among the code
    what = "due, from start to end"
    libraries = [sys.executable, "-c", "import pydantic, yaml, pint"]
    shown = ratios.by_turns(
        what,
        lambda: due(home),
        "its libraries alone",
        lambda: subprocess.run(libraries, check=True, capture_output=True, timeout=60),
        bound=2,
        rounds=8,
    )
    assert b"Main genset" in shown
    ratios.memory(what, lambda: due(home))


def test_due_grows_in_step_with_the_log(homes, ratios):
    works = [lambda home=home: due(home.parent) for home in homes]
    ratios.growth("due, from start to end", works, bound=13)
