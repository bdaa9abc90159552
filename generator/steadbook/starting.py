"""A new home: a small commented inventory that builds at once, dated around the day it is made."""

from __future__ import annotations

import re
import shutil
from datetime import date
from importlib import resources
from pathlib import Path

from steadbook.errors import SteadbookError

WRITTEN_FOR = date(2024, 9, 15)
"""The day on which the starter's log, counts and dates of manufacture are two weeks fresh."""
ISO_DATE = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")


def start_home(folder: Path, day: date = WRITTEN_FOR) -> None:
    """Copy the starter into a folder that does not exist yet, or is empty. Raises SteadbookError.

    Its dates are moved so that they lie before ``day`` as they were written before theirs.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise SteadbookError(
            f"{folder}\n  found:   a folder that is in use already\n"
            "  allowed: a folder that does not exist yet, or an empty one\n"
            "  fix:     choose another name; nothing was changed"
        )
    starter = Path(str(resources.files("steadbook"))) / "starter"
    try:
        shutil.copytree(starter, folder, dirs_exist_ok=True)
        _move_dates(folder / "site_data", day)
    except OSError as error:
        raise SteadbookError(
            f"{folder}\n  found:   {error.strerror or error}\n"
            "  allowed: a place where this user may make folders\n"
            "  fix:     choose another place"
        ) from None


def _move_dates(site_data: Path, day: date) -> None:
    later = day - WRITTEN_FOR

    def moved(found: re.Match[str]) -> str:
        return (date.fromisoformat(found[0]) + later).isoformat()

    for path in site_data.rglob("*.yaml"):
        path.write_text(ISO_DATE.sub(moved, path.read_text("utf-8")), "utf-8")
    log = site_data / "log" / f"{WRITTEN_FOR.year}.yaml"
    log.rename(log.with_name(f"{day.year}.yaml"))
