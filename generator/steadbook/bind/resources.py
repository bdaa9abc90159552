"""The files a sheet may be made from: Steadbook's own style and fonts, and the folders named.

Nothing is ever fetched from a network: a resource comes from these, or not at all.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from urllib.parse import unquote, urlsplit

PACKAGE = Path(__file__).resolve().parent.parent
FONTS = PACKAGE / "fonts"
FACES = (
    "DejaVuSans",
    "DejaVuSans-Bold",
    "DejaVuSans-Oblique",
    "DejaVuSans-BoldOblique",
    "DejaVuSansMono",
)
FAMILIES = ("Binder-Sans", "Binder-Mono", "DejaVu-Sans")
"""What the style sheet calls them: an engine may write these names into the PDF."""

STYLE = Path(__file__).resolve().parent / "print" / "binder.css"

BASE = "/binder/"
"""Resources are named below this made-up folder, so that no path of this machine is printed."""


@cache
def faces_hash() -> str:
    """A hash of the fonts: with others, sheets look different."""
    return hashlib.sha256(b"".join((FONTS / f"{f}.ttf").read_bytes() for f in FACES)).hexdigest()


class LocalFiles:
    """Finds resources below the folders named."""

    def __init__(self, roots: Sequence[Path]) -> None:
        self.roots = [Path(os.path.realpath(root)) for root in roots]

    def find(self, url: str) -> Path | None:
        """The file a URL means, or None when there is none inside the folders."""
        parts = urlsplit(url)
        if parts.scheme not in ("", "file") or parts.netloc:
            return None
        path = unquote(parts.path)
        if path.startswith(BASE + "fonts/"):
            face = FONTS / path.removeprefix(BASE + "fonts/")
            return face if face.parent == FONTS and face.is_file() else None
        for root in self.roots:
            below = path.removeprefix(BASE) if path.startswith(BASE) else path
            found = Path(os.path.realpath(root / below))
            if found.is_relative_to(root) and found.is_file():
                return found
        return None

    def state(self, url: str) -> str:
        """A hash of the file a URL means; empty when there is none."""
        found = self.find(url)
        return "" if found is None else hashlib.sha256(found.read_bytes()).hexdigest()
