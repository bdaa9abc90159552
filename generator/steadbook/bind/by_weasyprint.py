"""Sets a document with weasyprint: slower, but with tags that screen readers follow."""

from __future__ import annotations

import logging
import os
import threading
import warnings
from functools import cache, cached_property
from typing import Any

import numpy as np

from steadbook.bind.resources import BASE, FONTS, LocalFiles, faces_hash
from steadbook.bind.setting import Pixels, Setting

_ONE_AT_A_TIME = threading.RLock()  # neither weasyprint nor PDFium is made for threads


@cache
def engine() -> Any:
    """The weasyprint module, cut off from the system's fonts.

    Raises ImportError, or OSError where the system lacks its libraries.
    """
    os.environ["FONTCONFIG_FILE"] = str(FONTS / "fontconfig.conf")
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", "No fonts configured")  # as is meant
        import weasyprint
    logging.getLogger("weasyprint").setLevel(logging.CRITICAL)  # what is missing we tell ourselves
    return weasyprint


def version() -> str:
    from pypdfium2 import PDFIUM_INFO
    from weasyprint.text.ffi import pango

    return (
        f"weasyprint {engine().__version__}, Pango {pango.pango_version()}, "
        f"PDFium {PDFIUM_INFO.build}, DejaVu {faces_hash()[:8]}"
    )


class WeasyprintSetting(Setting):
    """One document set by weasyprint."""

    def __init__(self, where: str, document: str, files: LocalFiles) -> None:
        super().__init__(where)
        with _ONE_AT_A_TIME:
            html = engine().HTML(
                string=document,
                base_url=f"file://{BASE}",
                url_fetcher=_fetcher_class()(files, self),
            )
            self.document = html.render(pdf_tags=True)
        self.sheets = len(self.document.pages)

    def written(self) -> bytes:
        with _ONE_AT_A_TIME:
            pdf: bytes = self.document.write_pdf(pdf_tags=True, pdf_identifier=b"steadbook")
        return pdf

    @cached_property
    def drawn(self) -> Any:
        import pypdfium2

        return pypdfium2.PdfDocument(self.pdf)

    def pixels(self, number: int, wide: int, high: int) -> Pixels:
        with _ONE_AT_A_TIME:
            page = self.drawn[number]
            dots = page.render(scale=wide / page.get_width(), rev_byteorder=False).to_numpy()
        sheet = np.full((high, wide), 0xFFFFFF, np.uint32)
        blue, green, red = (dots[:high, :wide, layer].astype(np.uint32) for layer in range(3))
        sheet[: len(red), : len(red[0])] = red << 16 | green << 8 | blue
        return sheet


@cache
def _fetcher_class() -> Any:
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    base: Any = URLFetcher

    class Fetcher(base):  # type: ignore[misc]
        def __init__(self, files: LocalFiles, setting: Setting) -> None:
            super().__init__(allowed_protocols=("data",))
            self.files, self.noted, self.lost = files, setting.found, setting.missing

        def fetch(self, url: str, headers: Any = None) -> Any:
            if url.startswith("data:"):
                return super().fetch(url, headers)
            found = self.files.find(url)
            if found is None:
                self.lost.append(url)
                raise ValueError(f"not in the folders resources may come from: {url}")
            if found.parent != FONTS:
                self.noted.append(url)
            return URLFetcherResponse(url, found.read_bytes(), _kind(found.suffix))

    return Fetcher


def _kind(suffix: str) -> dict[str, str]:
    return {"Content-Type": "image/svg+xml"} if suffix == ".svg" else {}
