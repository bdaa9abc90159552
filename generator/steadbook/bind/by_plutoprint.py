"""Sets a document with plutoprint: quick, and the engine of a binder unless another is asked for."""

from __future__ import annotations

import io
import os
from functools import cache
from typing import Any

import numpy as np

from steadbook.bind.resources import BASE, FONTS, LocalFiles, faces_hash
from steadbook.bind.setting import PROOF_DPI, Pixels, Setting

STILL = "2000-01-01T00:00:00Z"
"""The engine's own time stamp, held still: the same input gives the same bytes."""


@cache
def engine() -> Any:
    """The plutoprint module, cut off from the system's fonts. Raises ImportError."""
    os.environ["FONTCONFIG_FILE"] = str(FONTS / "fontconfig.conf")
    import plutoprint

    return plutoprint


def version() -> str:
    pp = engine()
    return (
        f"plutoprint {pp.__version__}, PlutoBook {pp.PLUTOBOOK_VERSION_STRING}, "
        f"DejaVu {faces_hash()[:8]}"
    )


class PlutoprintSetting(Setting):
    """One document set by plutoprint."""

    def __init__(self, where: str, document: str, files: LocalFiles) -> None:
        super().__init__(where)
        pp = self.engine = engine()
        self.fetcher = _fetcher_class()(files, self)
        self.book = pp.Book(pp.PAGE_SIZE_A4)
        self.book.custom_resource_fetcher = self.fetcher
        self.book.load_html(document, base_url=f"file://{BASE}")
        self.book.set_metadata(pp.PDF_METADATA_TITLE, "")
        self.book.set_metadata(pp.PDF_METADATA_CREATION_DATE, STILL)
        self.book.set_metadata(pp.PDF_METADATA_MODIFICATION_DATE, STILL)
        self.sheets = self.book.get_page_count()

    def written(self) -> bytes:
        stream = io.BytesIO()
        self.book.write_to_pdf_stream(stream)
        return stream.getvalue()

    def pixels(self, number: int, wide: int, high: int) -> Pixels:
        pp = self.engine
        with pp.ImageCanvas(wide, high, pp.IMAGE_FORMAT_RGB24) as canvas:
            canvas.clear_surface(1, 1, 1)
            canvas.scale(PROOF_DPI / 96, PROOF_DPI / 96)  # the engine draws in CSS's 96 to the inch
            self.book.render_page(canvas, number)
            return np.frombuffer(canvas.get_data(), np.uint32).reshape(high, -1)[:, :wide].copy()


@cache
def _fetcher_class() -> Any:
    pp = engine()
    base: Any = pp.ResourceFetcher

    class Fetcher(base):  # type: ignore[misc]
        def __init__(self, files: LocalFiles, setting: Setting) -> None:
            super().__init__()
            self.files, self.found, self.missing = files, setting.found, setting.missing

        def fetch_url(self, url: str) -> Any:
            found = self.files.find(url)
            if found is None:
                self.missing.append(url)
                return pp.ResourceData(b"", "text/plain")
            if found.parent != FONTS:
                self.found.append(url)
            return super().fetch_url(found.as_uri())

    return Fetcher
