"""The press: sets one HTML document in sheets with plutoprint, and looks at what came out.

It is used twice or more for each tab: `proof` to learn on which sheet each heading stands and
to take each sheet's fingerprint, `print` for the sheets as they go in the binder.
Results are kept on a :class:`Shelf`, so that an unchanged tab is not set again.

Nothing is ever fetched from a network: resources come from the folders named, or not at all.
"""

from __future__ import annotations

import io
import json
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from steadbook.bind.paper import MM, Format
from steadbook.bind.resources import BASE, FONTS, LocalFiles, faces_hash
from steadbook.bind.sheets import fingerprint
from steadbook.bind.shelf import Shelf
from steadbook.errors import BindError

RULER = {"steadbook-ruler-top": 0.0, "steadbook-ruler-foot": 100.0}
"""Ids of two marks and their distance from the head of the text. [mm]"""

STILL = "2000-01-01T00:00:00Z"
"""The engine's own time stamp, held still: the same input gives the same bytes."""

PROOF_DPI = 75
"""Fine enough: sheets are drawn with grey edges, so that a moved comma changes some dot."""


@dataclass(frozen=True)
class Place:
    """Where an id stands: sheet within the tab, height above the sheet's foot in points."""

    number: int
    top: float


@dataclass(frozen=True)
class Proof:
    """What a setting showed. ``marks`` are the sheets' fingerprints, None if not yet taken."""

    sheets: int
    places: Mapping[str, Place]
    marks: tuple[str, ...] | None


@cache
def engine() -> Any:
    """The plutoprint module, cut off from the system's fonts."""
    os.environ["FONTCONFIG_FILE"] = str(FONTS / "fontconfig.conf")
    try:
        import plutoprint
    except ImportError as error:
        raise BindError(
            "the binder is set by plutoprint, which is not installed: pip install plutoprint"
        ) from error
    return plutoprint


@cache
def engine_name() -> str:
    """Engine and fonts, with versions: fingerprints of two binders compare only within one."""
    pp = engine()
    return (
        f"plutoprint {pp.__version__}, PlutoBook {pp.PLUTOBOOK_VERSION_STRING}, "
        f"DejaVu {faces_hash()[:8]}"
    )


class TooWide(BindError):
    """Something in a document is wider than the sheet."""


class Press:
    """Sets documents with one set of resource folders and one shelf."""

    def __init__(self, roots: Sequence[Path], cache_dir: Path | None = None) -> None:
        self.files = LocalFiles(roots)
        self.shelf = Shelf(cache_dir, self.files)
        self.engine = engine()

    def proof(
        self, where: str, document: str, ids: Sequence[str], form: Format, *, inspect: bool
    ) -> Proof:
        """Set the document and see on which sheet each id stands.

        With `inspect` also look at the edges of each sheet and take its fingerprint.
        """
        document = document.replace("<body>", "<body>" + _probes(ids), 1)
        document = document.replace(' href="binder:', ' data-href="binder:')
        key = Shelf.key("proof" if inspect else "layout", engine_name(), document)
        kept = self.shelf.get(key)
        if kept is None:
            setting = _Setting(self.engine, where, document, self.files)
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
        key = Shelf.key("print", engine_name(), document)
        kept = self.shelf.get(key)
        if kept is not None:
            return kept, False
        setting = _Setting(self.engine, where, document, self.files)
        if sheets is not None and setting.sheets != sheets:
            raise BindError(
                f"tab {where!r}: came out on {setting.sheets} sheets and before on {sheets}"
            )
        pdf = setting.pdf()
        self.shelf.put(key, pdf, setting.resources())
        return pdf, True


class _Setting:
    """One document set by the engine, with what it fetched."""

    def __init__(self, engine: Any, where: str, document: str, files: LocalFiles) -> None:
        self.engine, self.where = engine, where
        self.fetcher = _fetcher_class()(files)
        self.book = engine.Book(engine.PAGE_SIZE_A4)
        self.book.custom_resource_fetcher = self.fetcher
        self.book.load_html(document, base_url=f"file://{BASE}")
        self.book.set_metadata(engine.PDF_METADATA_TITLE, "")
        self.book.set_metadata(engine.PDF_METADATA_CREATION_DATE, STILL)
        self.book.set_metadata(engine.PDF_METADATA_MODIFICATION_DATE, STILL)
        self.sheets: int = self.book.get_page_count()
        if not self.sheets:
            raise BindError(
                f"tab {where!r}: gives no sheets; is it empty, or its page format changed by CSS?"
            )

    def resources(self) -> list[str]:
        """What was fetched; BindError if something could not be. Ask when all is drawn."""
        if self.fetcher.missing:
            lost = ", ".join(sorted({_shown(url) for url in self.fetcher.missing}))
            raise BindError(
                f"tab {self.where!r}: cannot find {lost} in the folders resources may come from; "
                "nothing is ever fetched from a network"
            )
        return list(self.fetcher.found)

    def pdf(self) -> bytes:
        stream = io.BytesIO()
        self.book.write_to_pdf_stream(stream)
        self.resources()
        return stream.getvalue()

    def places(self, ids: Sequence[str], form: Format) -> dict[str, Place]:
        """Where each id stands, by the destinations the probes made the engine note."""
        places = _destinations(self.pdf())
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
        return [self._mark(number, form) for number in range(self.sheets)]

    def _mark(self, number: int, form: Format) -> str:
        pp = self.engine
        wide, high = (round(length / 25.4 * PROOF_DPI) for length in (form.width, form.height))
        with pp.ImageCanvas(wide, high, pp.IMAGE_FORMAT_RGB24) as canvas:
            canvas.clear_surface(1, 1, 1)
            canvas.scale(PROOF_DPI / 96, PROOF_DPI / 96)
            self.book.render_page(canvas, number)
            pixels = np.frombuffer(canvas.get_data(), np.uint32).reshape(high, -1)[:, :wide]
            _refuse_full_edges(f"{self.where} {number + 1}", pixels, form)
            return fingerprint(np.ascontiguousarray(pixels).data)


@cache
def _fetcher_class() -> Any:
    pp = engine()
    base: Any = pp.ResourceFetcher

    class Fetcher(base):  # type: ignore[misc]
        def __init__(self, files: LocalFiles) -> None:
            super().__init__()
            self.files = files
            self.found: list[str] = []
            self.missing: list[str] = []

        def fetch_url(self, url: str) -> Any:
            found = self.files.find(url)
            if found is None:
                self.missing.append(url)
                return pp.ResourceData(b"", "text/plain")
            if found.parent != FONTS:
                self.found.append(url)
            return super().fetch_url(found.as_uri())

    return Fetcher


def _shown(url: str) -> str:
    return repr(url.removeprefix(f"file://{BASE}"))


def _probes(ids: Sequence[str]) -> str:
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
