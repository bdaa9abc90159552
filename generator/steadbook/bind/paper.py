"""The paper a binder is printed on: its size, its holes, and the margins that keep clear of them.

All lengths are in millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from steadbook.errors import BindError

PaperName = Literal["letter", "a4"]

MM = 72 / 25.4
"""Points in a millimetre."""

HOLE_EDGE = 12.0
"""From the bound edge to the centres of the holes.

Source: ISO 838 (12 +-1 mm), seen in descriptions of the standard; US punches vary about it.
"""

HOLE_DIAMETER = 8.0
"""Widest hole in use: ISO 838 has 6 +-0.5 mm, US punches up to 8 mm (common practice, no source)."""

BINDING_MARGIN = 25.0
"""From the bound edge to the text. ISO 838 practice is 20 to 25 mm."""

OUTER_MARGIN = 15.0
HEAD_MARGIN = 22.0
FOOT_MARGIN = 20.0
PRINTER_EDGE = 6.0
"""Strip along every edge that most printers leave white (common practice, no source)."""


@dataclass(frozen=True)
class Paper:
    """One size of paper, upright, with where its holes are punched.

    ``holes`` gives for each punch (2, 3 or 4 holes) the centres' distances from the top edge.
    """

    name: PaperName
    width: float
    height: float
    holes: Mapping[int, tuple[float, ...]]


# ISO 838: two holes 80 mm apart, centred on the edge; four-hole punches add one 80 mm beyond each.
# US three-hole: 4.25 in apart, centred.
PAPERS: Mapping[str, Paper] = {
    "a4": Paper("a4", 210.0, 297.0, {2: (108.5, 188.5), 4: (28.5, 108.5, 188.5, 268.5)}),
    "letter": Paper("letter", 215.9, 279.4, {3: (31.75, 139.7, 247.65)}),
}


def paper_named(name: str) -> Paper:
    """The paper of this name; BindError lists those there are."""
    try:
        return PAPERS[name]
    except KeyError:
        known = ", ".join(sorted(PAPERS))
        raise BindError(f"paper is {name!r}; the binder knows {known}") from None


@dataclass(frozen=True)
class Margins:
    """White space round the text of a sheet. [mm]"""

    top: float
    right: float
    bottom: float
    left: float


@dataclass(frozen=True)
class Format:
    """A sheet as it is set: paper, which way round, and printed on one side or both.

    An upright sheet is set as a right-hand one, bound on the left; the backs of leaves are
    shifted sideways when the binder is put together. A landscape sheet keeps clear of holes
    along both long edges, because printers turn it either way.
    """

    paper: Paper
    landscape: bool
    duplex: bool

    @property
    def width(self) -> float:
        return self.paper.height if self.landscape else self.paper.width

    @property
    def height(self) -> float:
        return self.paper.width if self.landscape else self.paper.height

    @property
    def margins(self) -> Margins:
        if self.landscape:
            # The running head stands between the holes and the text.
            return Margins(BINDING_MARGIN + 8, OUTER_MARGIN, BINDING_MARGIN + 8, OUTER_MARGIN)
        return Margins(HEAD_MARGIN, OUTER_MARGIN, FOOT_MARGIN, BINDING_MARGIN)

    @property
    def keep_white(self) -> Margins:
        """Edge strips nothing may touch: the punched edge (or edges) and the printer's own."""
        punched = BINDING_MARGIN - 1
        if self.landscape:
            return Margins(punched, PRINTER_EDGE, punched, PRINTER_EDGE)
        return Margins(PRINTER_EDGE, PRINTER_EDGE, PRINTER_EDGE, punched)

    @property
    def text_width(self) -> float:
        return self.width - self.margins.left - self.margins.right

    @property
    def text_height(self) -> float:
        return self.height - self.margins.top - self.margins.bottom

    def mirror_shift(self, number: int) -> float:
        """How far sheet `number` of a tab moves outward because it is the back of a leaf. [mm]"""
        if self.duplex and not self.landscape and number % 2 == 0:
            return BINDING_MARGIN - OUTER_MARGIN
        return 0.0
