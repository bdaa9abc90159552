"""`steadbook record` and `steadbook undo` as typed."""

import re

import pytest

from steadbook.cli import main

DAY = ["--as-of", "2026-11-25"]
SERVICE = [
    "record", "service", *DAY, "--machine", "main-genset", "--tasks", "oil-change",
    "--hours", "1,032 h", "--parts", "oil-filter=1, engine-oil=3.2 qt", "--date", "2026-11-20",
    "--by", "Ann", "--notes", "Black: change sooner",
]  # fmt: skip
LINES = """\
  - date: 2026-11-20
    machine: main-genset
    tasks: [oil-change]
    hours: 1,032 h
    parts: {oil-filter: 1, engine-oil: 3.2 qt}
    by: Ann
    notes: "Black: change sooner"
"""


@pytest.fixture
def terminal(monkeypatch):
    """A terminal on which somebody answers."""

    def answer(*answers):
        waiting = list(answers)
        monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
        monkeypatch.setattr("builtins.input", lambda question="": waiting.pop(0))

    return answer


def test_a_service_in_one_line(home, log, capsys):
    before = log.read_text("utf-8")
    assert main([*SERVICE, "--home", str(home), "--dry-run"]) == 0
    assert "nothing was written" in capsys.readouterr().out
    assert log.read_text("utf-8") == before
    assert main([*SERVICE, "--home", str(home), "--yes"]) == 0
    words = capsys.readouterr().out
    assert LINES.rstrip() in words
    assert re.search(r"Oil change \(Main genset\): next due moves from .* to ", words)
    assert re.search(r"Oil filter: 2 -> 1 on the shelf", words)
    assert log.read_text("utf-8") == before.replace("    by: Ann\n", "    by: Ann\n" + LINES, 1)
    assert main(["undo", "--home", str(home), "--yes"]) == 0
    assert "service: {date: 2026-11-20" in capsys.readouterr().out
    assert log.read_text("utf-8") == before
    assert main(["undo", "--home", str(home), "--yes"]) == 2
    assert "nothing to take back" in capsys.readouterr().err


def test_work_that_takes_parts_recorded_without_them_is_told(home, log, capsys):
    at = SERVICE.index("--parts")
    assert main([*SERVICE[:at], *SERVICE[at + 2 :], "--home", str(home), "--dry-run"]) == 0
    assert '--parts "engine-oil=3 qt, oil-filter=1"' in capsys.readouterr().out
    assert main([*SERVICE, "--home", str(home), "--dry-run"]) == 0
    assert "No parts named" not in capsys.readouterr().out


def test_without_a_terminal_a_yes_is_needed(home, log, capsys, monkeypatch):
    monkeypatch.setattr("sys.stdin.isatty", lambda: False, raising=False)
    before = log.read_bytes()
    assert main([*SERVICE, "--home", str(home)]) == 2
    assert "add --yes to write it" in capsys.readouterr().err
    assert main(["record", "level", "--home", str(home), *DAY]) == 2
    words = capsys.readouterr().err
    assert "add --tank" in words
    assert "add --level" in words
    assert main(["record", "--home", str(home), *DAY]) == 2
    assert "no kind of record" in capsys.readouterr().err
    assert log.read_bytes() == before


def test_asked_and_answered(home, log, capsys, terminal):
    before = log.read_bytes()
    terminal("no")
    assert main([*SERVICE, "--home", str(home)]) == 0
    assert "Nothing was written." in capsys.readouterr().out
    assert log.read_bytes() == before
    terminal("lev", "", "prop", "60 %", "yes")
    assert main(["record", "--home", str(home), *DAY]) == 0
    assert b"level: 60 %}" in log.read_bytes()
    terminal("no")
    assert main(["undo", "--home", str(home)]) == 0
    assert b"level: 60 %}" in log.read_bytes()


def test_what_does_not_agree_is_asked_again(home, log, capsys, terminal):
    """A meter that would run back is told, and only its hours are asked for once more."""
    terminal("", "gen", "600 h", "700 h", "yes")
    assert main(["record", "reading", "--home", str(home), *DAY]) == 0
    assert "600 h, after 669 h on 2026-11-01" in capsys.readouterr().out
    assert "hours: 700 h" in log.read_text("utf-8")


def test_a_batch_as_typed(home, log, tmp_path, capsys):
    sheet = tmp_path / "run-log.csv"
    sheet.write_text("kind,date,machine,duration\nrun,2026-11-20,main-genset,2 h\n", "utf-8")
    call = ["record", "--from", str(sheet), "--home", str(home), *DAY]
    assert main([*call, "--dry-run"]) == 0
    assert "duration: 2 h" in capsys.readouterr().out
    assert main([*call, "--yes"]) == 0
    assert main([*call, "--yes"]) == 2
    assert "run-log.csv:2" in capsys.readouterr().err
    sheet.write_text("kind,date,machine,duration\nrun,2026-11-20,boat,2\n", "utf-8")
    assert main([*call, "--yes"]) == 2
    words = capsys.readouterr().err
    assert "run-log.csv:2: duration" in words


def test_answers_that_end_stop_it_in_one_line(home, log, capsys, monkeypatch):
    def ended(question=""):
        raise EOFError

    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("builtins.input", ended)
    before = log.read_bytes()
    for words in (["record"], ["record", "service"], SERVICE):
        assert main([*words[:2], *DAY, *words[2:], "--home", str(home)]) == 2
        told = capsys.readouterr().err
        assert told == "stopped: the answers ended; nothing was written\n"
    assert log.read_bytes() == before


def test_a_title_is_answered_with_the_name(home, capsys):
    words = [("Main genset" if one == "main-genset" else one) for one in SERVICE]
    assert main([*words, "--home", str(home), "--yes"]) == 2
    assert "did you mean 'main-genset'?" in capsys.readouterr().err


def test_a_day_written_otherwise_is_answered_with_the_day(home, capsys):
    words = [("15.11.2026" if one == "2026-11-20" else one) for one in SERVICE]
    assert main([*words, "--home", str(home), "--yes"]) == 2
    assert "write 2026-11-15" in capsys.readouterr().err
