"""Files made to exhaust the reader are refused at once, in little memory; links lead nowhere."""

import os
import shutil
import subprocess
import sys
import time
import tracemalloc
from pathlib import Path

import pytest
from tests.hostile.cases import AS_OF, told_problems

from steadbook.cli import main
from steadbook.inventory.read import LARGEST_FILE, read_file
from steadbook.starting import start_home

MB = 1_000_000
NINE = ["a: &a [x, x, x, x, x, x, x, x, x]"] + [
    f"{new}: &{new} [{', '.join([f'*{old}'] * 9)}]"
    for old, new in zip("abcdefgh", "bcdefghi", strict=True)
]
HUGE = {
    # what it is: the text, what is said of it, the most memory that reading may take [MB]
    "a bomb of nine to the ninth": ("\n".join(NINE), "the alias *a", 1),
    "fifty megabytes": ("x: y\n" * 10_000_000, "a file of 50 MB", 1),
    "ten thousand brackets": ("a: " + "[" * 10_000 + "]" * 10_000, "nesting more than 40", 1),
    "ten thousand braces": ("a: " + "{a: " * 10_000 + "}" * 10_000, "nesting more than 40", 1),
    "ten thousand dashes": ("a:\n " + "- " * 10_000 + "x", "nesting more than 40", 1),
    "two thousand steps in": (
        "".join(f"{' ' * n}a:\n" for n in range(2_000)), "nesting more than 40", 10,
    ),
    "fifty thousand anchors": (
        "".join(f"k{n}: &a{n} x\n" for n in range(50_000)) + "z: *a1", "the alias *a1", 40,
    ),
    "a key of a million letters": ("k" * MB + ": x", "which is not YAML", 10),
    "a key twice, twenty thousand times": ("k: x\n" * 20_000, "a second time", 25),
}  # fmt: skip


@pytest.mark.parametrize("what", HUGE)
def test_the_reader_takes_little_memory_to_refuse(what, tmp_path):
    text, says, most = HUGE[what]
    path = tmp_path / "power.yaml"
    path.write_text(text)
    tracemalloc.start()
    try:
        _, problems = read_file(path, "power.yaml")
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert problems
    assert says in problems[-1].found + problems[0].found
    text_kept = 0 if len(text) > LARGEST_FILE else 8 * len(text)  # bytes, text, the parser's copies
    assert peak < most * MB + text_kept, f"{peak / MB:.1f} MB"


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="the system tells no peak")
def test_refusing_takes_no_more_than_starting(tmp_path):
    """The whole command, in a process of its own that may have no more memory than a good one."""
    home = tmp_path / "place"
    start_home(home)
    good = _peak(home, "2026-11-25")
    power = home / "site_data/power.yaml"
    for what in ("a bomb of nine to the ninth", "fifty megabytes", "ten thousand brackets"):
        power.write_text(HUGE[what][0])
        began = time.perf_counter()
        peak = _peak(home, "2026-11-25", status=2)
        assert peak < good + 20, what
        assert time.perf_counter() - began < 60, what


def _peak(home: Path, day: str, status: int = 0) -> float:
    """The most memory that `steadbook due` held. [MB]"""
    code = (
        "import re, sys\nfrom pathlib import Path\nfrom steadbook.cli import main\n"
        f"status = main(['due', '--home', {str(home)!r}, '--as-of', {day!r}])\n"
        "print(re.search(r'VmHWM:\\s+(\\d+)', Path('/proc/self/status').read_text())[1])\n"
        "sys.exit(status)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == status, done.stderr
    assert "Traceback" not in done.stderr
    return int(done.stdout.splitlines()[-1]) / 1000


@pytest.fixture
def place(tmp_path):
    """A home beside a folder with files that are none of its own."""
    home = tmp_path / "place"
    start_home(home)
    (tmp_path / "outside").mkdir()
    (tmp_path / "outside/power.yaml").write_text("title: s3cret\n")
    (tmp_path / "outside/2025.yaml").write_text("events:\n  - {date: 2025-01-01, text: s3cret}\n")
    return home


LINKS = {
    "a file": ("power.yaml", "../../outside/power.yaml", "a link that leads out"),
    "a file by its whole path": ("power.yaml", "/etc/hostname", "a link that leads out"),
    "the log": ("log", "../../outside", "a link that leads out"),
    "itself": ("power.yaml", "power.yaml", "a link that leads out"),
    "nothing": ("power.yaml", "nowhere.yaml", "cannot be read"),
    "a device": ("power.yaml", "/dev/zero", "a link that leads out"),
}


@pytest.mark.parametrize("what", LINKS)
def test_a_link_is_not_followed_out_of_the_folder(what, place, capsys):
    name, target, says = LINKS[what]
    there = place / "site_data" / name
    shutil.rmtree(there) if there.is_dir() else there.unlink()
    os.symlink(target, there)
    assert main(["build", "--home", str(place), *AS_OF]) == 2
    words = capsys.readouterr().err
    assert any(says in one["found"] for one in told_problems(words)), words
    assert "s3cret" not in words
    assert not (place / "build").exists()


@pytest.mark.parametrize("kind", ["folder", "pipe"])
def test_what_is_no_file_is_not_read(kind, place, capsys):
    path = place / "site_data/power.yaml"
    path.unlink()
    path.mkdir() if kind == "folder" else os.mkfifo(path)
    assert main(["build", "--home", str(place), *AS_OF]) == 2
    assert "something that is not a file" in capsys.readouterr().err
