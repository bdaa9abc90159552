"""Site and binder against plain MkDocs, and after one change; whole processes, as people start them.

`steadbook build --no-binder` may take at most 1.5 times as long as `mkdocs build` of the same finished
Markdown, search index and all.
"""

import os
import shutil
import subprocess
import sys
from datetime import date
from itertools import count
from pathlib import Path

import pytest
import yaml

from steadbook.making import made_manual

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)
TASKS = 6


def run(folder, *command):
    program = Path(sys.executable).with_name(command[0])
    quiet = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    subprocess.run([program, *command[1:]], cwd=folder, env=quiet, check=True, capture_output=True)


def build(home, *more):
    run(home, "steadbook", "build", "--as-of", DAY.isoformat(), *more)


def anew(home, *more):
    """A build with nothing kept from the one before."""
    shutil.rmtree(home / "build", ignore_errors=True)
    build(home, *more)


def copied(folder):
    """The demo, its results left behind."""
    folder.mkdir()
    shutil.copytree(ROOT / "site_data", folder / "site_data")
    shutil.copy(ROOT / "mkdocs.yml", folder)
    return folder


@pytest.fixture
def home(tmp_path):
    return copied(tmp_path / "home")


@pytest.fixture
def plain(home, tmp_path):
    """The finished Markdown as a project of plain MkDocs."""
    folder = tmp_path / "plain"
    manual = made_manual(home, as_of=DAY).manual
    files = {page.path: page.markdown for page in manual.pages} | manual.drawings
    for name, text in files.items():
        path = folder / "docs" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    (folder / "mkdocs.yml").write_text(
        yaml.safe_dump(
            {
                "site_name": "Plain",
                "theme": {"name": "material", "font": False},
                "use_directory_urls": False,
                "plugins": ["search", "offline"],
                "markdown_extensions": ["tables", "attr_list", "md_in_html", "def_list", "toc"],
                "extra": {"polyfills": ["iframe-worker"], "generator": False},
            }
        )
    )
    return folder


def test_site_takes_at_most_one_and_a_half_times_plain_mkdocs(home, plain, ratios):
    what = "site of the demo"
    ratios.by_turns(
        what,
        lambda: build(home, "--no-binder"),
        "plain mkdocs",
        lambda: run(plain, "mkdocs", "build", "-q"),
        bound=1.5,
        rounds=4,
    )
    ratios.memory(what, lambda: build(home, "--no-binder"))


def test_site_and_binder_anew(home, plain, ratios):
    what = "site and binder of the demo, the first time"
    ratios.by_turns(
        what,
        lambda: anew(home),
        "plain mkdocs (site alone)",
        lambda: run(plain, "mkdocs", "build", "-q"),
        rounds=2,
    )
    ratios.memory(what, lambda: anew(home))


def changed(path, old, new):
    text = path.read_text("utf-8")
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {path}"
    path.write_text(text.replace(old, new), "utf-8")


def test_site_and_binder_after_a_reading_come_sooner_than_the_first(home, tmp_path, ratios):
    first = copied(tmp_path / "first")
    build(home)
    hours = count(200)

    def read_and_build():
        entry = f"  - {{date: 2026-11-24, machine: tractor, hours: {next(hours)} h}}"
        changed(
            home / "site_data" / "log" / "2026.yaml", "\nreadings:\n", f"\nreadings:\n{entry}\n"
        )
        build(home)

    what = "site and binder after a reading"
    ratios.by_turns(what, read_and_build, "the first time", lambda: anew(first), rounds=2, bound=1)
    ratios.memory(what, read_and_build)


def test_a_reprint_comes_sooner_than_the_binder(home, tmp_path, ratios):
    first = copied(tmp_path / "first")
    build(home, "--no-site")
    run(home, "steadbook", "printed")
    torques = count(26)

    def reprint():
        old = next(torques)
        words = "drain plug: {{torque: {} lbf*ft, thread: M14x1.5"
        changed(home / "site_data" / "power.yaml", words.format(old), words.format(old + 1))
        run(home, "steadbook", "reprint", "--as-of", DAY.isoformat())

    what = "reprint after a changed torque"
    ratios.by_turns(
        what, reprint, "the binder anew", lambda: anew(first, "--no-site"), rounds=2, bound=1
    )
    ratios.memory(what, reprint)


def farm(folder, machines):
    """A new home with so many gensets more, each with its tasks and ten readings."""
    run(folder.parent, "steadbook", "new", folder.name)
    power = ["title: Many", "equipment:"]
    log = ["readings:"]
    for number in range(machines):
        power += [
            f"  engine-{number}:", "    kind: genset", f"    name: Genset {number}",
            "    installed: 2024-01-01", "    meter: {installed_at: 0 h}", "    tasks:",
        ]  # fmt: skip
        power += [
            f"      task-{task}: {{title: Task {task}, every: {100 * (task + 1)} h or 12 months}}"
            for task in range(TASKS)
        ]
        log += [
            f"  - {{date: 2025-{1 + month:02d}-01, machine: engine-{number}, hours: {20 * month} h}}"
            for month in range(10)
        ]
    (folder / "site_data" / "many.yaml").write_text("\n".join(power), "utf-8")
    (folder / "site_data" / "log" / "many.yaml").write_text("\n".join(log), "utf-8")
    return folder


def test_the_site_grows_in_step_with_the_machines(tmp_path, ratios):
    homes = [farm(tmp_path / f"place-{many}", many) for many in (1, 10, 100)]
    ratios.growth(
        "site of the demo",
        [lambda home=home: anew(home, "--no-binder") for home in homes],
        bound=13,
        rounds=1,
    )
