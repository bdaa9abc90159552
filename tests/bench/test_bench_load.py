"""Reading a long log against the plain YAML parser, and starting against its own libraries."""

import subprocess
import sys
from pathlib import Path
from time import perf_counter

import pytest
import yaml
from tests.conftest import AS_OF, HOME

from steadbook.inventory import read_inventory
from steadbook.inventory.read import read_file

ENTRIES = 50_000
STARTER = Path(__file__).parents[2] / "generator" / "steadbook" / "starter"


@pytest.fixture(scope="module")
def long_home(tmp_path_factory):
    folder = tmp_path_factory.mktemp("long") / "site_data"
    (folder / "log").mkdir(parents=True)
    for name, text in HOME.items():
        (folder / name).write_text(text)
    lines = ["readings:"]
    for number in range(ENTRIES):
        day = f"{2024 + number // 25_000}-{1 + number % 12:02d}-{1 + number % 28:02d}"
        lines.append(f"  - {{date: {day}, machine: genset, hours: 100 h, notes: round {number}}}")
    (folder / "log" / "2026.yaml").write_text("\n".join(lines))
    return folder


def best_of(runs, work):
    """Result and shortest time of some runs: other work on the machine only ever adds."""
    times = []
    for _ in range(runs):
        clock = perf_counter()
        result = work()
        times.append(perf_counter() - clock)
    return result, min(times)


@pytest.fixture(scope="module")
def plain(long_home):
    """What the plain parser makes of the log, and its time."""
    text = (long_home / "log" / "2026.yaml").read_text()
    return best_of(2, lambda: yaml.load(text, yaml.CSafeLoader))


def test_reading_with_lines_takes_less_than_three_times_the_plain_parser(long_home, plain):
    path = long_home / "log" / "2026.yaml"
    values, plain_time = plain
    (tree, found), time = best_of(2, lambda: read_file(path, "a.yaml"))
    assert len(tree["readings"]) == len(values["readings"]) == ENTRIES and not found
    assert time < 3 * plain_time, f"{time / plain_time:.2f} times the plain parser"


def test_the_whole_load_takes_less_than_three_times_the_plain_parser(long_home, plain):
    _, plain_time = plain
    homestead, time = best_of(2, lambda: read_inventory(long_home, as_of=AS_OF))
    assert len(homestead.log.readings) == ENTRIES
    print(f"whole load: {time / plain_time:.2f} times the plain parser")
    assert time < 3 * plain_time, f"{time / plain_time:.2f} times the plain parser"


def test_due_starts_in_less_than_twice_the_time_of_its_libraries():
    due = [sys.executable, "-m", "steadbook.cli", "due", "--home", STARTER, "--as-of", "2026-03-01"]
    libraries = [sys.executable, "-c", "import pydantic, yaml, pint"]

    def run(command):
        return subprocess.run(command, check=True, capture_output=True, timeout=60)

    times, leasts = [], []
    for _ in range(8):  # by turns, so that other work on the machine hits both
        shown, time = best_of(1, lambda: run(due))
        times.append(time)
        leasts.append(best_of(1, lambda: run(libraries))[1])
    time, least = min(times), min(leasts)
    assert b"Main genset" in shown.stdout
    print(f"due: {time / least:.2f} times its libraries")
    assert time < 2 * least, f"{time / least:.2f} times its libraries"
