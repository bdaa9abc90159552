"""The commit that `steadbook record` offers: its files alone, after a yes, and never in the way."""

import subprocess

import pytest

from steadbook.cli import main

CALL = ["record", "event", "--text", "Chimney swept", "--as-of", "2026-11-25"]


def git(home, *words):
    done = subprocess.run(["git", "-C", str(home), *words], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(autouse=True)
def somebody(monkeypatch, tmp_path):
    """A git of our own, whatever this computer is set to."""
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", str(tmp_path / "none"))
    monkeypatch.setenv("GIT_CONFIG_SYSTEM", str(tmp_path / "none"))
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path))
    for part in ("AUTHOR", "COMMITTER"):
        monkeypatch.setenv(f"GIT_{part}_NAME", "Ann")
        monkeypatch.setenv(f"GIT_{part}_EMAIL", "ann@example.org")


@pytest.fixture
def repository(home):
    """The small home under git."""
    git(home, "init", "--quiet")
    git(home, "add", "site_data")
    git(home, "commit", "--quiet", "-m", "Begin")
    return home


@pytest.fixture
def terminal(monkeypatch):
    """A terminal on which somebody answers."""
    asked = []

    def answer(*answers):
        waiting = list(answers)
        monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
        monkeypatch.setattr(
            "builtins.input", lambda question="": asked.append(question) or waiting.pop(0)
        )
        return asked

    return answer


def subjects(home):
    return git(home, "log", "--format=%s").split("\n")[:-1]


def test_asked_for_on_a_terminal(repository, terminal, capsys):
    asked = terminal("yes", "yes")
    assert main([*CALL, "--home", str(repository)]) == 0
    assert "Commit it to git?" in asked[1]
    assert subjects(repository)[0].startswith("event: {date: 2026-11-25, text: Chimney swept")
    assert "Committed." in capsys.readouterr().out
    assert git(repository, "show", "--name-only", "--format=").split() == [
        "site_data/log/2026.yaml"
    ]


def test_a_no_leaves_it_written_and_not_committed(repository, terminal, log):
    terminal("yes", "no")
    assert main([*CALL, "--home", str(repository)]) == 0
    assert "Chimney swept" in log.read_text()
    assert subjects(repository) == ["Begin"]


def test_other_changes_are_left_alone(repository, capsys):
    """A file in work stays out, staged or not; one that the record changes goes along, and is named."""
    parts = repository / "site_data" / "parts.yaml"
    parts.write_text(parts.read_text() + "# to do\n")
    git(repository, "add", "site_data/parts.yaml")
    log = repository / "site_data" / "log" / "2026.yaml"
    log.write_text("# A note of mine.\n" + log.read_text())
    assert main([*CALL, "--home", str(repository), "--yes", "--commit"]) == 0
    assert "going along: changes in 2026.yaml" in capsys.readouterr().out
    assert git(repository, "show", "--name-only", "--format=").split() == [
        "site_data/log/2026.yaml"
    ]
    assert git(repository, "status", "--porcelain").startswith("M  site_data/parts.yaml")


def test_without_a_terminal_only_where_it_is_asked_for(repository, monkeypatch):
    monkeypatch.setattr("sys.stdin.isatty", lambda: False, raising=False)
    assert main([*CALL, "--home", str(repository), "--yes"]) == 0
    assert subjects(repository) == ["Begin"]


def test_without_a_repository_nothing_is_asked_or_written(home, log, terminal, capsys):
    asked = terminal("yes")
    assert main([*CALL, "--home", str(home)]) == 0
    assert len(asked) == 1
    before = log.read_bytes()
    assert main([*CALL, "--home", str(home), "--yes", "--commit", "--again"]) == 2
    assert "no repository" in capsys.readouterr().err
    assert log.read_bytes() == before


def test_without_git_nothing_is_asked(repository, terminal, monkeypatch):
    monkeypatch.setattr("shutil.which", lambda name: None)
    asked = terminal("yes")
    assert main([*CALL, "--home", str(repository)]) == 0
    assert len(asked) == 1


def test_what_git_refuses_is_told_and_the_record_stays(repository, log, capsys):
    hook = repository / ".git" / "hooks" / "pre-commit"
    hook.parent.mkdir(exist_ok=True)
    hook.write_text("#!/bin/sh\necho not on a Sunday >&2\nexit 1\n")
    hook.chmod(0o755)
    assert main([*CALL, "--home", str(repository), "--yes", "--commit"]) == 0
    assert "Written, but not committed; git says: not on a Sunday" in capsys.readouterr().out
    assert "Chimney swept" in log.read_text()


def test_a_dry_run_commits_nothing(repository):
    assert main([*CALL, "--home", str(repository), "--dry-run", "--commit"]) == 0
    assert subjects(repository) == ["Begin"]
    assert git(repository, "status", "--porcelain") == ""
