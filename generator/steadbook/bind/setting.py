"""One document set in sheets by some engine: what is looked at is the same whichever it was."""

from __future__ import annotations

import io
from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from steadbook.bind.paper import MM, Format
from steadbook.bind.resources import BASE
from steadbook.bind.sheets import fingerprint
from steadbook.errors import BindError

RULER = {"steadbook-ruler-top": 0.0, "steadbook-ruler-foot": 100.0}
"""Ids of two marks and their distance from the head of the text. [mm]"""

PROOF_DPI = 75
"""Fine enough: sheets are drawn with grey edges, so that a moved comma changes some dot."""

Pixels = np.ndarray[Any, Any]
"""A sheet's dots, a row a line of them, each 0xRRGGBB in its lower bytes."""


@dataclass(frozen=True)
class Place:
    """Where an id stands: sheet within the tab, height above the sheet's foot in points."""

    number: int
    top: float


class TooWide(BindError):
    """Something in a document is wider than the sheet."""


class Setting(ABC):
    """A document set by an engine. ``found`` and ``missing`` are the URLs it asked for."""

    sheets: int

    def __init__(self, where: str) -> None:
        self.where = where
        self.found: list[str] = []
        self.missing: list[str] = []

    @abstractmethod
    def written(self) -> bytes:
        """The sheets as a PDF."""

    @abstractmethod
    def pixels(self, number: int, wide: int, high: int) -> Pixels:
        """A sheet drawn so many dots wide and high; numbers count from 0."""

    @cached_property
    def pdf(self) -> bytes:
        """The sheets as a PDF; BindError where there are none, or a resource was not found."""
        if not self.sheets:
            raise BindError(
                f"tab {self.where!r}: gives no sheets; is it empty, or its page format changed by CSS?"
            )
        pdf = self.written()
        self.resources()
        return pdf

    def resources(self) -> list[str]:
        """What was fetched; BindError if something could not be. Ask when all is drawn."""
        if self.missing:
            lost = ", ".join(sorted({_shown(url) for url in self.missing}))
            raise BindError(
                f"tab {self.where!r}: cannot find {lost} in the folders resources may come from; "
                "nothing is ever fetched from a network"
            )
        return list(self.found)

    def places(self, ids: Sequence[str], form: Format) -> dict[str, Place]:
        """Where each id stands, by the destinations the probes made the engine note."""
        places = _destinations(self.pdf)
        _refuse_shrunk(self.where, places, form)
        lost = [i for i in ids if i not in places]
        if lost:
            raise BindError(
                f"tab {self.where!r}: {lost[0]!r} is linked to but prints nothing a link could "
                "lead to"
            )
        return {i: places[i] for i in ids}

    def marks(self, form: Format) -> list[str]:
        """Each sheet's fingerprint, after a look at its edges."""
        wide, high = (round(length / 25.4 * PROOF_DPI) for length in (form.width, form.height))
        marks = []
        for number in range(self.sheets):
            pixels = self.pixels(number, wide, high)
            _refuse_full_edges(f"{self.where} {number + 1}", pixels, form)
            marks.append(fingerprint(np.ascontiguousarray(pixels).data))
        return marks


def _shown(url: str) -> str:
    return repr(url.removeprefix(f"file://{BASE}"))


def probes(ids: Sequence[str]) -> str:
    """Hidden links that make the engine note where each id stands.

    Two of them measure the scale: the engine shrinks a document that is too wide for the sheet.
    """
    links = "".join(f'<a href="#{_attribute(i)}"></a>' for i in (*ids, *RULER))
    marks = "".join(
        f'<div id="{name}" style="position:absolute;top:{top}mm;width:1mm;height:1mm"></div>'
        for name, top in RULER.items()
    )
    return f'{marks}<div style="position:absolute">{links}</div>'


def _attribute(text: str) -> str:
    return text.replace("&", "&amp;").replace('"', "&quot;")


def _destinations(pdf: bytes) -> dict[str, Place]:
    import pikepdf

    with pikepdf.open(io.BytesIO(pdf)) as book:
        numbers = {page.objgen: number for number, page in enumerate(book.pages, start=1)}
        if "/Names" not in book.Root:
            return {}
        places: dict[str, Any] = dict(pikepdf.NameTree(book.Root.Names.Dests))
        return {
            name: Place(numbers[place[0].objgen], float(place[3])) for name, place in places.items()
        }


def _refuse_shrunk(where: str, places: Mapping[str, Place], form: Format) -> None:
    (top, high), (foot, low) = RULER.items()
    scale = (places[top].top - places[foot].top) / ((low - high) * MM)
    if scale < 0.999:
        raise TooWide(
            f"tab {where!r}: something in it is about {form.text_width / scale:.0f} mm wide, and a "
            f"sheet takes {form.text_width:.0f} mm; make it narrower, or the tab landscape"
        )


def _refuse_full_edges(where: str, pixels: np.ndarray[Any, Any], form: Format) -> None:
    white = form.keep_white
    dot = PROOF_DPI / 25.4
    high, wide = pixels.shape
    edges = {
        "top": pixels[: int(white.top * dot)],
        "foot": pixels[high - int(white.bottom * dot) :],
        "left": pixels[:, : int(white.left * dot)],
        "right": pixels[:, wide - int(white.right * dot) :],
    }
    for edge, strip in edges.items():
        if not (strip & 0xFFFFFF == 0xFFFFFF).all():
            raise BindError(
                f"sheet {where!r}: something runs into its {edge} edge, where holes are "
                "punched or printers do not print; make the wide part narrower"
            )
