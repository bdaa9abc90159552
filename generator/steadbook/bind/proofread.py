"""Reads the finished sheets and compares them with the HTML: no word may be lost on the way.

The engine drops text in silence when it has no glyph or no font for it, or when it is hidden.
"""

from __future__ import annotations

import re
import threading
import unicodedata

from steadbook.bind.paper import MM, Format
from steadbook.errors import BindError

# also hyphens: at the end of a line the reader of the PDF takes one for a mark of hyphenation
_SPACE = re.compile(r"[\s\-\x02\u00ad\u200b-\u200f\u2010\u2011\u2060\ufeff\ufe0e\ufe0f\ufffe]+")

# Hebrew, Arabic and their neighbours are written from right to left.
_LEFT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc"
_LEFTWARD = re.compile(f"[{_LEFT}]")
_RUN = re.compile(f"[{_LEFT}]+|\\d+|[^\\W\\d{_LEFT}]+")

_PDFIUM = threading.Lock()  # PDFium works for one thread at a time


def refuse_lost_text(where: str, text: str, pdf: bytes, form: Format) -> None:
    """BindError if a word of `text` is not on the sheets."""
    printed = _squeezed(_sheets_text(pdf, form))
    for word in sorted(set(_words(text))):
        if word not in printed:
            raise BindError(
                f"tab {where!r}: the text {word!r} is lost between HTML and paper; "
                "is it hidden, cut off at the side, or set in a font of its own?"
            )


def _words(text: str) -> list[str]:
    words = [word for word in map(_squeezed, text.split()) if word]
    return [piece for word in words for piece in _one_way(word)]


def _one_way(word: str) -> list[str]:
    """A word in runs that are read in one direction: on paper the runs of one word change places."""
    return _RUN.findall(word) if _LEFTWARD.search(word) else [word]


def _squeezed(text: str) -> str:
    plain = _SPACE.sub("", unicodedata.normalize("NFKC", text))
    marks = [
        one for one in set(plain) if unicodedata.category(one) == "Mn"
    ]  # no place of their own
    return plain.translate(dict.fromkeys(map(ord, marks)))


def _sheets_text(pdf: bytes, form: Format) -> str:
    """The text inside the margins of all sheets; what sticks out is cut off by the engine."""
    import pypdfium2

    m = form.margins
    area = {
        "left": (m.left - 1) * MM,
        "bottom": (m.bottom - 1) * MM,
        "right": (form.width - m.right + 1) * MM,
        "top": (form.height - m.top + 1) * MM,
    }
    with _PDFIUM:
        document = pypdfium2.PdfDocument(pdf)
        try:
            return "".join(page.get_textpage().get_text_bounded(**area) for page in document)
        finally:
            document.close()
