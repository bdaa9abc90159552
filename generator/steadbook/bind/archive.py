"""The site as one file to send: the same bytes for the same site, and it opens where it is unpacked."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

OLDEST = (1980, 1, 1, 0, 0, 0)  # the first moment that the format can write
PLAIN_FILE = 0o644 << 16


def archive_name(title: str, edition: str) -> str:
    """The folder inside the archive: `hollow-larch-dairy-sitter`.

    >>> archive_name("Hollow Larch Dairy", "sitter")
    'hollow-larch-dairy-sitter'
    """
    words = re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-") or "manual"
    return words if edition == "owner" else f"{words}-{edition}"


def write_archive(site: Path, to: Path, name: str) -> None:
    """Pack the folder ``site`` into the zip file ``to``, all of it in one folder ``name``."""
    with zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(site.rglob("*"), key=lambda one: one.relative_to(site).as_posix()):
            if path.is_file():
                entry = zipfile.ZipInfo(f"{name}/{path.relative_to(site).as_posix()}", OLDEST)
                entry.compress_type = zipfile.ZIP_DEFLATED
                entry.external_attr = PLAIN_FILE
                entry.create_system = 3  # as Unix writes it, on every system
                archive.writestr(entry, path.read_bytes())
