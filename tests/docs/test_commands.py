"""Every command that README.md and DEVELOPERS.md show is run by `.ci/run`, or at least could be."""

import ast
import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from steadbook import cli

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
RUN = (ROOT / ".ci" / "run").read_text("utf-8")


def commands(text):
    """Each command of the shell blocks, without its comment."""
    for block in re.findall(r"^```sh\n(.*?)^```$", text, re.MULTILINE | re.DOTALL):
        for line in block.splitlines():
            assert not line.endswith("\\"), f"one command a line: {line}"
            yield from re.sub(r"\s+#.*", "", line).split(" && ")


def test_readme_shows_one_command_for_the_tests_and_the_package_check_runs_the_others():
    """`.ci/package` takes every line of the blocks but the one with pytest, which `.ci/run` takes."""
    lines = [line for line in README.splitlines() if "-m pytest -q" in line]
    (tests,) = [line for line in lines if line.startswith("python3 -m venv .venv-test ")]
    assert lines == [tests], "another command with pytest would be run by nobody"
    assert "bash .ci/package" in RUN and "README.md" in (ROOT / ".ci" / "package").read_text()


@pytest.mark.parametrize("command", sorted(set(commands(DEVELOPERS))))
def test_a_command_for_developers_is_there(command):
    words = shlex.split(command)
    if words[0] == "bash":
        subprocess.run(["bash", "-n", words[1]], cwd=ROOT, check=True)
    elif "pip" in words[0]:
        (extras,) = re.findall(r"\.\[([\w,]+)\]", command)
        assert set(extras.split(",")) <= set(PROJECT["project"]["optional-dependencies"])
    elif words[1:3] == ["-m", "pytest"]:
        files = [word for word in words[3:] if word.startswith("tests/")]
        assert all(any((ROOT / file).rglob("test_*.py")) for file in files), files
    elif words[1:2] and words[1].startswith(".ci/"):
        ast.parse((ROOT / words[1]).read_text("utf-8"))
    elif words[:3] != ["python3", "-m", "venv"]:
        checked = command.removeprefix(".venv/bin/").replace("ruff format", "ruff format --check")
        assert f".venv-test/bin/{checked}\n" in RUN, f"{command}: not run by .ci/run"


def test_the_benches_take_the_option_that_is_told():
    (bench,) = [line for line in commands(DEVELOPERS) if "tests/bench" in line]
    pytest.importorskip("pytest_benchmark")
    words = [sys.executable, *shlex.split(bench)[1:], "--collect-only", "-q"]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def spans(text):
    return re.findall(r"`(steadbook [^`]+)`", text)


@pytest.mark.parametrize("shown", sorted(set(spans(README) + spans(DEVELOPERS))))
def test_a_command_named_in_the_text_is_one(shown):
    cli._parser().parse_args(shlex.split(shown)[1:])


def test_readme_names_every_command():
    (actions,) = [part.choices for part in cli._parser()._actions if isinstance(part.choices, dict)]
    table = "\n".join(line for line in README.splitlines() if line.startswith("| `steadbook"))
    missing = [name for name in actions if not re.search(rf"`(steadbook )?{name}\b", table)]
    assert not missing


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_links_and_pictures_are_there(text):
    for address in re.findall(r"\]\(([^)#]+)\)", text):
        assert address.startswith("https://") or (ROOT / address).is_file(), address


def test_changes_tell_of_the_version():
    changes = (ROOT / "content" / "help" / "changes.md").read_text("utf-8")
    version = PROJECT["tool"]["hatch"]["version"]["fallback-version"]
    assert re.findall(r"^## (\S+)", changes, re.MULTILINE)[0] == version
