"""One input gives one set of bytes: wherever, whenever, in whatever order and language it is built."""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from steadbook.starting import start_home

ROOT = Path(__file__).parents[1]
RESULTS = ("site", "site.zip", "binder.pdf", "sheets.yaml", "calendar.ics", "tables")

# Two surroundings that differ in all that might leak into the results.
HERE = {"TZ": "Pacific/Kiritimati", "LC_ALL": "C", "LANG": "C", "PYTHONHASHSEED": "1"}
THERE = {
    "TZ": "America/Los_Angeles",
    "LC_ALL": "tr_TR.UTF-8",  # whose capital of i is not I
    "LANG": "tr_TR.UTF-8",
    "PYTHONHASHSEED": "4242",
    "PYTHONUTF8": "1",
    "COLUMNS": "40",
    "HOME": "/nonexistent",
    "SOURCE_DATE_EPOCH": "1",
}


def hashes(build: Path) -> dict[str, str]:
    """The hash of every result of a build, by path."""
    found = {}
    for name in RESULTS:
        top = build / name
        for path in sorted(top.rglob("*")) if top.is_dir() else [top]:
            if path.is_file():
                content = hashlib.sha256(path.read_bytes()).hexdigest()
                found[path.relative_to(build).as_posix()] = content
    return found


def copied(home: Path, to: Path, *, backwards: bool) -> None:
    """Copy the inputs of a home, its files made in order or from the last to the first."""
    for path in sorted((p for p in home.rglob("*") if p.is_file()), reverse=backwards):
        there = to / path.relative_to(home)
        there.parent.mkdir(parents=True, exist_ok=True)
        there.write_bytes(path.read_bytes())
        os.utime(there, (1_000_000_000, 1_000_000_000) if backwards else None)


def built(home: Path, surroundings: dict[str, str], umask: int, *more: str) -> dict[str, str]:
    """Build in a process of its own and give the hashes of the results."""
    command = [sys.executable, "-m", "steadbook.cli", "build", "--home", str(home), *more]
    done = subprocess.run(
        [*command, "--as-of", "2026-11-25"],
        env=os.environ | surroundings,
        umask=umask,
        cwd=home.parent,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    return hashes(home / "build")


def differences(first: dict[str, str], second: dict[str, str]) -> list[str]:
    """The results that are not the same in both."""
    return sorted(name for name in first | second if first.get(name) != second.get(name))


@pytest.fixture(params=["small", "demo"])
def twins(request, tmp_path):
    """One home twice, in folders of other names, its files made in opposite order."""
    source = tmp_path / "source"
    if request.param == "small":
        start_home(source)
    else:
        shutil.copytree(ROOT / "site_data", source / "site_data")
        shutil.copy(ROOT / "mkdocs.yml", source)
    first, second = tmp_path / "a", tmp_path / "a rather long name, with spaces" / "größer"
    copied(source, first, backwards=False)
    copied(source, second, backwards=True)
    return first, second


def test_surroundings_leave_no_trace_in_the_results(twins):
    first, second = twins
    here = built(first, HERE, 0o022)
    there = built(second, THERE, 0o077)
    assert differences(here, there) == []
    assert {name.split("/")[0] for name in here} == set(RESULTS)
    # and what is kept from one build to the next leaves none either
    assert differences(here, built(first, THERE, 0o022)) == []


def test_another_input_gives_other_bytes(tmp_path):
    first, second = tmp_path / "a", tmp_path / "b"
    start_home(first)
    start_home(second)
    log = second / "site_data/log/2024.yaml"
    log.write_text(log.read_text() + "events:\n  - {date: 2024-09-01, text: A bear}\n")
    quick = ("--no-site", "--no-binder")
    different = differences(built(first, HERE, 0o022, *quick), built(second, HERE, 0o022, *quick))
    assert different == ["tables/log.csv"]
