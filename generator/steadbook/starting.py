"""A new home: a small commented inventory that builds at once."""

from __future__ import annotations

import shutil
from importlib import resources
from pathlib import Path

from steadbook.errors import SteadbookError


def start_home(folder: Path) -> None:
    """Copy the starter into a folder that does not exist yet, or is empty. Raises SteadbookError."""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise SteadbookError(
            f"{folder}\n  found:   a folder that is in use already\n"
            "  allowed: a folder that does not exist yet, or an empty one\n"
            "  fix:     choose another name; nothing was changed"
        )
    starter = Path(str(resources.files("steadbook"))) / "starter"
    try:
        shutil.copytree(starter, folder, dirs_exist_ok=True)
    except OSError as error:
        raise SteadbookError(
            f"{folder}\n  found:   {error.strerror or error}\n"
            "  allowed: a place where this user may make folders\n"
            "  fix:     choose another place"
        ) from None
