"""The site on this computer, remade when the inventory or a page changes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from steadbook.errors import BindError


def serve(home: Path, *, as_of: date | None, port: int) -> None:
    """Serve the site until the user stops it. Raises BindError."""
    from mkdocs.commands.serve import serve as mkdocs_serve
    from mkdocs.exceptions import Abort, MkDocsException

    settings = home / "mkdocs.yml"
    plugins = [{"steadbook": {"as_of": as_of.isoformat()}}, "search", "offline"] if as_of else None
    try:
        mkdocs_serve(str(settings), dev_addr=f"127.0.0.1:{port}", plugins=plugins)
    except (MkDocsException, Abort) as error:
        raise BindError(str(error)) from None
