"""The press: sets one HTML document in sheets, and looks at what came out.

It is used twice or more for each tab: `proof` to learn on which sheet each heading stands and
to take each sheet's fingerprint, `print` for the sheets as they go in the binder.
Results are kept on a :class:`Shelf`, so that an unchanged tab is not set again.
"""

from __future__ import annotations

import base64
import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from steadbook.bind.engines import Engine, engine_named
from steadbook.bind.paper import Format
from steadbook.bind.resources import LocalFiles
from steadbook.bind.setting import Place, probes
from steadbook.bind.shelf import Shelf
from steadbook.errors import BindError

_DRAWING = re.compile(r"(?<=data:image/svg\+xml;base64,)[A-Za-z0-9+/=]+")


def _frame(drawing: re.Match[str]) -> str:
    """The drawing with its size alone: only its look costs time, and a layout shows none."""
    svg = base64.b64decode(drawing[0]).decode("utf-8", "replace")
    head = re.search(r"<svg\b[^>]*?/?>", svg)
    empty = f"{head[0].removesuffix('>').removesuffix('/')}/>" if head else svg
    return base64.b64encode(empty.encode()).decode("ascii")


@dataclass(frozen=True)
class Proof:
    """What a setting showed. ``marks`` are the sheets' fingerprints, None if not yet taken."""

    sheets: int
    places: Mapping[str, Place]
    marks: tuple[str, ...] | None


class Press:
    """Sets documents with one set of resource folders and one shelf."""

    def __init__(
        self, roots: Sequence[Path], cache_dir: Path | None = None, engine: Engine | None = None
    ) -> None:
        self.files = LocalFiles(roots)
        self.shelf = Shelf(cache_dir, self.files)
        self.engine = engine or engine_named(None)

    def proof(
        self, where: str, document: str, ids: Sequence[str], form: Format, *, inspect: bool
    ) -> Proof:
        """Set the document and see on which sheet each id stands.

        With `inspect` also look at the edges of each sheet and take its fingerprint.
        """
        document = document.replace("<body>", "<body>" + probes(ids), 1)
        document = document.replace(' href="binder:', ' data-href="binder:')
        if not inspect:
            document = _DRAWING.sub(_frame, document)
        key = Shelf.key("proof" if inspect else "layout", self.engine.version, document)
        kept = self.shelf.get(key)
        if kept is None:
            setting = self.engine.setting(where, document, self.files)
            places = setting.places(ids, form)
            marks = setting.marks(form) if inspect else None
            kept = json.dumps(
                [setting.sheets, {i: [p.number, p.top] for i, p in places.items()}, marks]
            ).encode()
            self.shelf.put(key, kept, setting.resources())
        sheets, places, marks = json.loads(kept)
        return Proof(
            sheets,
            {i: Place(*place) for i, place in places.items()},
            None if marks is None else tuple(marks),
        )

    def print(self, where: str, document: str, sheets: int | None = None) -> tuple[bytes, bool]:
        """Set the document and give its PDF, and whether it is newly made.

        BindError if it has not this number of `sheets`.
        """
        key = Shelf.key("print", self.engine.version, document)
        kept = self.shelf.get(key)
        if kept is not None:
            return kept, False
        setting = self.engine.setting(where, document, self.files)
        if sheets is not None and setting.sheets != sheets:
            raise BindError(
                f"tab {where!r}: came out on {setting.sheets} sheets and before on {sheets}"
            )
        pdf = setting.pdf
        self.shelf.put(key, pdf, setting.resources())
        return pdf, True
