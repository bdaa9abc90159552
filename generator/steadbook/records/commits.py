"""A git commit of what was recorded, where the home is in a repository and git is there."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

LONGEST_SUBJECT = 72


def _git(home: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["git", "-C", str(home), *words], capture_output=True, text=True, check=False
    )


def has_repository(home: Path) -> bool:
    """Whether git is there and the home stands in one of its repositories."""
    if shutil.which("git") is None:
        return False
    return _git(home, "rev-parse", "--is-inside-work-tree").stdout.strip() == "true"


def changed_before(home: Path, files: Sequence[Path]) -> list[str]:
    """Those of the files that hold changes which are not committed yet, by their names."""
    return [
        one.name
        for one in files
        if one.exists() and _git(home, "status", "--porcelain", "--", _name(one)).stdout.strip()
    ]


def commit(home: Path, files: Sequence[Path], words: str) -> str | None:
    """Commit these files and nothing else; what git says where it would not, or None."""
    subject = words if len(words) <= LONGEST_SUBJECT else words[: LONGEST_SUBJECT - 1] + "…"
    names = [_name(one) for one in files]
    for call in (("add", "--", *names), ("commit", "--quiet", "-m", subject, "--", *names)):
        done = _git(home, *call)
        if done.returncode:
            return (done.stderr or done.stdout).strip() or f"git {call[0]} failed"
    return None


def _name(path: Path) -> str:
    return str(path.resolve())
