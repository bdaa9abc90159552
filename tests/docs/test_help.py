"""The pages of help do what they say: their commands run, their files are read, their output is shown."""

import datetime
import doctest
import os
import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest

from steadbook import cli

HELP = Path(__file__).parents[2] / "content" / "help"
FENCE = re.compile(r"^```(\w+)\n(.*?)^```$|today is (\d+ \w+ \d{4})", re.MULTILINE | re.DOTALL)
RUN = sorted(path.stem for path in HELP.glob("*.md") if "```sh" in path.read_text("utf-8"))
COMPARE = doctest.OutputChecker()


@pytest.mark.parametrize("name", RUN)
def test_what_a_page_shows_is_so(name, tmp_path, monkeypatch, capsys):
    """Blocks in order: commands run in a home, YAML goes where its first line says."""
    reader = _Reader(monkeypatch, capsys, tmp_path)
    if name != "first-hour":  # the other pages begin in a new home
        reader.command("steadbook new my-place")
        reader.command("cd my-place")
    text = (HELP / f"{name}.md").read_text("utf-8")
    before = 0
    for block in FENCE.finditer(text):
        kind, body, day = block.groups()
        if day:
            reader.day = datetime.datetime.strptime(day, "%d %B %Y").date()
        elif kind == "sh":
            reader.status = cli.GOOD
            reader.said = "".join(reader.command(line) for line in body.splitlines())
            answer = text[block.end() :].lstrip()
            told = answer.startswith("```text") and "  found: " in answer.split("```")[1]
            assert (reader.status == cli.GOOD) is not told, f"{name}:\n{body}\n{reader.said}"
        elif kind == "text":
            shown = COMPARE.check_output(body, reader.said, doctest.ELLIPSIS)
            assert shown, f"{name}: the page shows\n{body}\nbut said was\n{reader.said}"
        elif kind == "yaml":
            reader.write_yaml(body)
        else:
            assert kind == "markdown", f"{name}: a block of {kind}"
            path = re.findall(r"`(content/[^`]+)`", text[before : block.start()])[-1]
            reader.write(path, body)
        before = block.end() if kind else before


class _Reader:
    """Somebody who follows a page to the letter."""

    day = datetime.date(2026, 11, 25)
    said = ""
    status = cli.GOOD

    def __init__(self, monkeypatch, capsys, folder):
        self.monkeypatch, self.capsys = monkeypatch, capsys
        monkeypatch.chdir(folder)
        monkeypatch.setenv("COLUMNS", "120")  # as wide a terminal as the pages were written on
        monkeypatch.setattr(
            cli, "_today", lambda chosen: getattr(chosen, "as_of", None) or self.day
        )
        for role in ("AUTHOR", "COMMITTER"):
            monkeypatch.setenv(f"GIT_{role}_NAME", "Reader")
            monkeypatch.setenv(f"GIT_{role}_EMAIL", "reader@example.org")
        monkeypatch.setenv("GIT_CONFIG_GLOBAL", os.devnull)

    def command(self, line):
        """What a command says, on either stream."""
        program, *arguments = shlex.split(line, comments=True) or [""]
        if program == "cd":
            self.monkeypatch.chdir(*arguments)
        elif program == "rm":
            Path(*arguments).unlink()
        elif program == "git":
            return self.git(line, arguments)
        elif program == "steadbook":
            self.status = max(self.status, cli.main(arguments))
            said = self.capsys.readouterr()
            assert "Traceback" not in said.err, line
            return said.out + said.err
        else:
            assert program == "", f"no such command: {line}"
        return ""

    def git(self, line, arguments):
        if shutil.which("git") is None:
            pytest.skip("git is not installed here")
        done = subprocess.run(["git", *arguments], capture_output=True, text=True, check=False)
        assert done.returncode == 0, f"{line}\n{done.stderr}"
        return done.stdout

    def write(self, path, text):
        Path(path).parent.mkdir(parents=True, exist_ok=True)
        Path(path).write_text(text, "utf-8")

    def write_yaml(self, body):
        """Put a block where its first line says."""
        first, rest = body.split("\n", 1)
        where = re.fullmatch(
            r"# (add at the end of |in )?(site_data/[\w/-]+\.yaml)"
            r"(, instead of the line that begins the same)?",
            first,
        )
        assert where, f"a block of YAML that says not where it goes: {first}"
        place, path, instead = where.groups()
        old = Path(path).read_text("utf-8") if place else ""
        if not instead:
            self.write(path, old.rstrip("\n") + "\n" * bool(old) + body)
            return
        start = rest.split(":")[0] + ":"
        assert sum(line.startswith(start) for line in old.splitlines()) == 1, rest
        lines = [rest.rstrip("\n") if x.startswith(start) else x for x in old.splitlines()]
        self.write(path, "\n".join(lines) + "\n")
