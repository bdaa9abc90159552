"""A build that fails leaves every byte of the last good results, whatever it failed at."""

import subprocess
import sys
from pathlib import Path

import pytest
from tests.hostile.cases import AS_OF, tree_hash

from steadbook.cli import main
from steadbook.starting import start_home

# What goes wrong: the file, its change, and what is said of it.
FAILURES = {
    "the inventory": ("site_data/power.yaml", lambda old: old.replace("26 lbf*ft", "26"), "allowed: a torque"),
    "a file cut short": ("site_data/parts.yaml", lambda old: old[: len(old) // 2] + "{", "not YAML"),
    "a page's template": ("content/own.md", lambda old: old + "{{ nothing }}", "content/own.md:5"),
    "a page that cannot be read": ("content/own.md", lambda old: old + "{% if %}", "content/own.md:5"),
    "a page without front matter": ("content/own.md", lambda old: "# Own\n", "no front matter"),
    "a page's link": ("content/own.md", lambda old: old + "[x](#nowhere)\n\n{: #y}\n", "nowhere"),
    "the site's settings": ("mkdocs.yml", lambda old: "plugins: [", "mkdocs.yml"),
    "the site's theme": ("mkdocs.yml", lambda old: old.replace("material", "nosuch"), "nosuch"),
    "a plugin that is not there": ("mkdocs.yml", lambda old: old.replace("- search", "- nosuch"), "nosuch"),
    "no plugin": ("mkdocs.yml", lambda old: old.replace("- steadbook", "# "), "plugin steadbook"),
    "the note of what was printed": ("printed.yaml", lambda old: "tabs: [\n", "list of printed sheets"),
}  # fmt: skip


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """A small home with a page of its own and results of a good build."""
    home = tmp_path_factory.mktemp("last") / "place"
    start_home(home)
    (home / "content").mkdir()
    (home / "content/own.md").write_text("---\ntitle: Own\ntab: Own\n---\n")
    assert main(["build", "--home", str(home), *AS_OF]) == 0
    return home


def results(home: Path) -> dict[str, str]:
    """All results; what is kept to save time is none."""
    return {
        name: mark
        for name, mark in tree_hash(home / "build").items()
        if not name.startswith((".kept", ".winter"))
    }


@pytest.mark.parametrize("what", FAILURES)
def test_the_last_good_results_stay(what, built, capsys):
    name, spoil, says = FAILURES[what]
    path = built / name
    good = path.read_text("utf-8") if path.exists() else None
    before = results(built)
    assert {"site/index.html", "site.zip", "binder.pdf", "calendar.ics"} <= before.keys()
    spoiled = spoil(good or "")
    assert spoiled != good
    try:
        path.write_text(spoiled, "utf-8")
        status = main(["build", "--home", str(built), *AS_OF])
    finally:
        path.unlink() if good is None else path.write_text(good, "utf-8")
    words = capsys.readouterr().err
    assert status == 2, what
    assert says in words
    assert "Traceback" not in words
    assert results(built) == before
    assert not list((built / "build").glob(".new-*"))


@pytest.mark.parametrize("what", ["the inventory", "a page's template", "no plugin"])
def test_the_same_as_a_user_starts_it(what, built):
    name, spoil, says = FAILURES[what]
    path = built / name
    good = path.read_text("utf-8")
    before = results(built)
    try:
        path.write_text(spoil(good), "utf-8")
        done = subprocess.run(
            [sys.executable, "-m", "steadbook.cli", "build", "--home", str(built), *AS_OF],
            capture_output=True,
            text=True,
        )
    finally:
        path.write_text(good, "utf-8")
    assert done.returncode == 2
    assert says in done.stderr and "Traceback" not in done.stderr
    assert "Done in" not in done.stdout
    assert results(built) == before
