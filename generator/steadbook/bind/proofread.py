"""Reads the finished sheets and compares them with the HTML: no word may be lost on the way.

The engine drops text in silence when it has no glyph or no font for it.
"""

from __future__ import annotations

import io
import re
import threading
import unicodedata
from functools import cache

from steadbook.bind.paper import MM, Format
from steadbook.bind.press import FACES, FONTS
from steadbook.errors import BindError

# also hyphens: at the end of a line the reader of the PDF takes one for a mark of hyphenation
_SPACE = re.compile(r"[\s\-\x02\u00ad\u200b-\u200f\u2010\u2011\u2060\ufeff\ufe0e\ufe0f\ufffe]+")

_PDFIUM = threading.Lock()  # PDFium works for one thread at a time


def refuse_lost_text(where: str, text: str, pdf: bytes, form: Format) -> None:
    """BindError if a word of `text` is not on the sheets, or a character has no glyph."""
    _refuse_unknown_characters(where, text)
    printed = _squeezed(_sheets_text(pdf, form))
    for word in sorted(set(_words(text))):
        if word not in printed:
            raise BindError(
                f"tab {where!r}: the text {word!r} is lost between HTML and paper; "
                "is it hidden, cut off at the side, or set in a font of its own?"
            )


def _words(text: str) -> list[str]:
    return [word for word in map(_squeezed, text.split()) if word]


def _squeezed(text: str) -> str:
    return _SPACE.sub("", unicodedata.normalize("NFKC", text))


def _sheets_text(pdf: bytes, form: Format) -> str:
    """The text inside the margins of all sheets; what sticks out is cut off by the engine."""
    try:
        import pypdfium2  # type: ignore[import-untyped]
    except ImportError:
        from pypdf import PdfReader

        return "".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)
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


def _refuse_unknown_characters(where: str, text: str) -> None:
    strange = {c for c in set(_SPACE.sub("", text)) if ord(c) > 0x17F}
    strange -= _glyphs() if strange else frozenset()
    for character in sorted(strange):
        near = next(word for word in text.split() if character in word)
        name = unicodedata.name(character, f"U+{ord(character):04X}")
        raise BindError(
            f"tab {where!r}: the fonts of the binder have no {character!r} ({name}), found in "
            f"{near!r}; write it in other characters"
        )


@cache
def _glyphs() -> frozenset[str]:
    """Characters that the upright face can print."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    with TTFont(FONTS / f"{FACES[0]}.ttf", lazy=True) as font:
        return frozenset(map(chr, font.getBestCmap()))
