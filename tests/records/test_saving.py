"""Old file or new file: killed, out of room, forbidden, two at once."""

import errno
import json
import os
import shutil
import stat
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path

import pytest

from steadbook.errors import RecordError
from steadbook.records import journal, saving
from steadbook.records.recording import write
from steadbook.records.saving import FileChange, contents, locked, save

FORKS = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")

KILLED = """
import json, os, random, shutil, signal, sys, time
from datetime import date
from pathlib import Path
from steadbook.records import journal, saving
from steadbook.records.kinds import KINDS
from steadbook.records.recording import planned, record_of, write

home, day = Path(sys.argv[1]), date(2026, 11, 25)
log = home / "site_data" / "log" / "2026.yaml"
filler = "".join(f"  - {{date: 2026-01-01, text: filler {n:06}}}\\n" for n in range(5000))
log.write_text(log.read_text() + "events:\\n" + filler)
filled = {"machine": "main-genset", "duration": "2 h", "date": "2026-11-24"}
plan = planned(home, [record_of(KINDS["run"], filled, ("entry", 0))], day)
old, new = plan.additions[0].change.before, plan.additions[0].change.after

def one(after):
    log.write_bytes(old)
    began = time.perf_counter()
    child = os.fork()
    if child == 0:
        write(home, plan, day)
        os._exit(0)
    if after is not None:
        time.sleep(after)
        os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return time.perf_counter() - began

longest = 2 * one(None)
chance = random.Random(7)
found = {"old": 0, "new": 0, "broken": 0, "half a copy beside it": 0, "not taken back": 0}
for _ in range(200):
    shutil.rmtree(home / ".steadbook", ignore_errors=True)
    one(chance.uniform(0, longest))
    now = log.read_bytes()
    longest *= 1.05 if now == old else 0.95  # so that about half come before the swap
    found["old" if now == old else "new" if now == new else "broken"] += 1
    beside = log.with_name(".2026.yaml.new")
    found["half a copy beside it"] += beside.exists()
    if now == new:
        journal.take_back(home)
        found["not taken back"] += log.read_bytes() != old
one(None)
found["good after all that"] = log.read_bytes() == new
print(json.dumps(found))
"""

TOGETHER = """
import os, sys
from datetime import date
from pathlib import Path
from steadbook.records.kinds import KINDS
from steadbook.records.recording import planned, record_of, write

home, day = Path(sys.argv[1]), date(2026, 11, 25)
children = []
for number in range(8):
    child = os.fork()
    if child == 0:
        for hour in (1, 2):
            filled = {"machine": "main-genset", "duration": f"{hour}.{number} h", "date": "2026-11-24"}
            plan = planned(home, [record_of(KINDS["run"], filled, ("entry", 0))], day)
            write(home, plan, day)
        os._exit(0)
    children.append(child)
print([os.waitpid(child, 0)[1] for child in children])
"""

TOO_LARGE = """
import resource, signal, sys
from pathlib import Path
from steadbook.records.saving import FileChange, save
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (5000, 5000))
path = Path(sys.argv[1])
try:
    save([FileChange(path, path.read_bytes(), b"x" * 50_000)])
except Exception as error:
    print(type(error).__name__, error)
"""


def _run(script, *arguments):
    done = subprocess.run(
        [sys.executable, "-c", script, *map(str, arguments)],
        capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return done.stdout


@FORKS
def test_killed_at_two_hundred_moments_the_log_is_old_or_new(home):
    memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None  # no disk to wait for
    with tempfile.TemporaryDirectory(dir=memory) as folder:
        place = Path(shutil.copytree(home, Path(folder, "place")))
        found = json.loads(_run(KILLED, place))
    assert found["broken"] == 0
    assert found["not taken back"] == 0
    assert found["good after all that"]
    assert found["old"] + found["new"] == 200
    # the moments reach from before the swap to after it, and into the writing
    assert found["old"] >= 30
    assert found["new"] >= 30
    assert found["half a copy beside it"] >= 1


@FORKS
def test_eight_at_once_lose_nothing(home, log):
    before = log.read_text("utf-8")
    assert _run(TOGETHER, home).strip() == str([0] * 8)
    lines = log.read_text("utf-8").removeprefix(before).splitlines()
    runs = {f"  - {{date: 2026-11-24, machine: main-genset, duration: {hour}.{n} h}}"
            for hour in (1, 2) for n in range(8)}  # fmt: skip
    assert sorted(lines[2:]) == sorted(runs)
    assert lines[:2] == ["", "runs:"]


@FORKS
def test_a_disk_that_takes_no_more_leaves_the_old_file(tmp_path):
    path = tmp_path / "log.yaml"
    path.write_bytes(b"old\n")
    words = _run(TOO_LARGE, path)
    assert "RecordError" in words
    assert "File too large" in words
    assert "nothing was changed" in words
    assert [one.name for one in tmp_path.iterdir()] == ["log.yaml"]
    assert path.read_bytes() == b"old\n"


@pytest.mark.parametrize("call", ["open", "fsync", "replace", "chmod"])
def test_no_room_at_any_step_leaves_log_and_journal(home, log, plan, as_of, call):
    """The journal is written first, then the log: fail in each, at each step."""
    for failing in (1, 2) if call != "chmod" else (1,):  # a new file keeps no permissions
        before = log.read_bytes()
        made = plan("level", tank="propane-tank", level="60 %")
        with (
            _full(failing, call),
            pytest.raises(RecordError, match=r"No space left on device(.|\n)*nothing was changed"),
        ):
            write(home, made, as_of)
        assert log.read_bytes() == before
        assert not list(log.parent.glob(".*"))
        assert not journal.journal_file(home).exists()
        write(home, made, as_of)
        assert log.read_bytes() != before
        journal.take_back(home)


@contextmanager
def _full(failing, call):
    """Let the given call fail for the first or the second new copy of a file."""
    copies = []

    def count(real):
        def counted(*arguments, **options):
            if _name(arguments[0]).endswith(".new"):
                copies.append(arguments[0])
                if len(copies) == failing:
                    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return real(*arguments, **options)

        return counted

    with pytest.MonkeyPatch.context() as patch:
        if call == "open":
            patch.setattr(saving, "open", count(open), raising=False)
        else:
            patch.setattr(saving.os, call, count(getattr(os, call)))
        yield


def _name(path):
    """The name of a file, also of an open one where the system tells it."""
    if isinstance(path, int):
        link = f"/proc/self/fd/{path}"
        return os.readlink(link) if os.path.exists(link) else ".new"
    return str(path)


def test_a_batch_is_written_whole_or_not_at_all(tmp_path, monkeypatch):
    first, second = tmp_path / "a.yaml", tmp_path / "b.yaml"
    first.write_bytes(b"a\n")
    real = os.replace

    def replace(new, old):
        if Path(old) == second:
            raise OSError(errno.ENOSPC, "No space left on device")
        real(new, old)

    monkeypatch.setattr(saving.os, "replace", replace)
    changes = [FileChange(first, b"a\n", b"a\nb\n"), FileChange(second, None, b"new\n")]
    with pytest.raises(RecordError, match=r"b\.yaml\n  found:   No space left"):
        save(changes)
    assert first.read_bytes() == b"a\n"
    assert not second.exists()
    assert sorted(one.name for one in tmp_path.iterdir()) == ["a.yaml"]


def test_a_folder_that_may_not_be_written(home):
    """As a user without rights; where the tests run as root, as nobody."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "log.yaml")
        path.write_bytes(b"old\n")
        os.chmod(folder, 0o555)
        root = hasattr(os, "geteuid") and os.geteuid() == 0
        if root:
            os.seteuid(65534)
        try:
            with pytest.raises(RecordError, match=r"Permission denied(.|\n)*nothing was changed"):
                save([FileChange(path, b"old\n", b"new\n")])
            with (
                pytest.raises(RecordError, match=r"\.steadbook\n  found:   Permission denied"),
                locked(Path(folder)),
            ):
                pass
        finally:
            if root:
                os.seteuid(0)
            os.chmod(folder, 0o755)
        assert path.read_bytes() == b"old\n"


def test_a_file_changed_meanwhile_is_not_written_over(tmp_path):
    path = tmp_path / "log.yaml"
    path.write_bytes(b"edited\n")
    with pytest.raises(RecordError, match="changed meanwhile, perhaps in an editor"):
        save([FileChange(path, b"old\n", b"new\n")])
    assert path.read_bytes() == b"edited\n"


def test_permissions_and_links_stay(tmp_path):
    real = tmp_path / "real.yaml"
    real.write_bytes(b"old\n")
    os.chmod(real, 0o640)
    link = tmp_path / "log.yaml"
    link.symlink_to(real)
    save([FileChange(link, b"old\n", b"new\n")])
    assert link.is_symlink()
    assert real.read_bytes() == b"new\n"
    assert stat.S_IMODE(real.stat().st_mode) == 0o640


def test_one_at_a_time(home):
    with (
        locked(home),
        pytest.raises(RecordError, match="somebody else is recording"),
        locked(home, wait=0.05),
    ):
        pass
    with locked(home, wait=0.05):
        assert contents(home / "no such file") is None
