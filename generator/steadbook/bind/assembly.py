"""Puts the set tabs together into one PDF: links, outline, sheet labels, mirrored margins."""

from __future__ import annotations

import gc
import io
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from urllib.parse import unquote

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.constants import PageLabelStyle
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NullObject,
    NumberObject,
    RectangleObject,
    TextStringObject,
)

from steadbook.bind.flow import Flow
from steadbook.bind.paper import MM, Format
from steadbook.bind.press import FACES, Place
from steadbook.errors import BindError

OUTLINE_DEPTH = 3


@dataclass(frozen=True)
class SetPart:
    """A tab, or a part of one, as it came from the press. ``before``: sheets that come before."""

    flow: Flow
    form: Format
    places: Mapping[str, Place]
    before: int
    sheets: int
    pdf: bytes


@dataclass(frozen=True)
class Imprint:
    """What the PDF says of itself."""

    title: str
    subject: str
    day: date
    producer: str
    language: str = "en"


def assemble(parts: Sequence[SetPart], imprint: Imprint) -> bytes:
    """One PDF of all parts, in order."""
    with _uncollected():
        return _assemble(parts, imprint)


@contextmanager
def _uncollected() -> Iterator[None]:
    """No garbage collection meanwhile: a PDF is many small objects, none of them garbage yet.

    It took a third off the time for 460 sheets.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _assemble(parts: Sequence[SetPart], imprint: Imprint) -> bytes:
    writer = PdfWriter()
    starts: list[int] = []
    for part in parts:
        starts.append(len(writer.pages))
        for page in PdfReader(io.BytesIO(part.pdf)).pages:
            writer.add_page(page)
    pages = list(writer.pages)
    for part, start in zip(parts, starts, strict=True):
        _mirror(pages[start : start + part.sheets], part)
        writer.set_page_label(
            start,
            start + part.sheets - 1,
            style=PageLabelStyle.DECIMAL,
            prefix=f"{part.flow.tab.title} ",
            start=part.before + 1,
        )
    _outline(writer, parts, starts)
    _point_links(pages, parts, starts)
    return finish(writer, imprint)


def _mirror(pages: Sequence[PageObject], part: SetPart) -> None:
    """Shift the backs of leaves outward by moving their box; what they draw is not touched."""
    for number, page in enumerate(pages, start=part.before + 1):
        shift = part.form.mirror_shift(number) * MM
        if shift:
            box = page.mediabox
            moved = RectangleObject(
                (
                    float(box.left) + shift,
                    float(box.bottom),
                    float(box.right) + shift,
                    float(box.top),
                )
            )
            page.mediabox = page.cropbox = moved


def _outline(writer: PdfWriter, parts: Sequence[SetPart], starts: Sequence[int]) -> None:
    above: list[tuple[int, IndirectObject]] = []
    for part, start in zip(parts, starts, strict=True):
        title = part.flow.tab.title
        if not part.before:
            above = [(0, writer.add_outline_item(title=title, page_number=start))]
        for heading in part.flow.headings:
            if heading.level > OUTLINE_DEPTH or not heading.text:
                continue
            if heading.level == 1 and heading.text == title:
                continue
            while above[-1][0] >= heading.level:
                above.pop()
            page = start + part.places[heading.id].number - 1
            item = writer.add_outline_item(
                title=heading.text, page_number=page, parent=above[-1][1]
            )
            above.append((heading.level, item))


def _point_links(
    pages: Sequence[PageObject], parts: Sequence[SetPart], starts: Sequence[int]
) -> None:
    """Turn each ``binder:id`` into a jump to the place of that id."""
    places = {
        name: (start + place.number - 1, place.top)
        for part, start in zip(parts, starts, strict=True)
        for name, place in part.places.items()
    }
    for page in pages:
        annotations = page.get("/Annots")
        if annotations is None:
            continue
        for reference in annotations.get_object():
            link = reference.get_object()
            action = link.get("/A")
            target = str(action.get_object().get("/URI", "")) if action is not None else ""
            if target.startswith("binder:"):
                number, top = places[unquote(target.removeprefix("binder:"))]
                _jump(link, pages[number], top)


def _jump(link: DictionaryObject, page: PageObject, top: float) -> None:
    del link["/A"]
    assert page.indirect_reference is not None
    link[NameObject("/Dest")] = ArrayObject(
        [
            page.indirect_reference,
            NameObject("/XYZ"),
            NullObject(),
            NumberObject(round(top)),
            NullObject(),
        ]
    )


def finish(writer: PdfWriter, imprint: Imprint) -> bytes:
    """Stamp the PDF with its imprint and give its bytes; BindError for a font not ours."""
    refuse_strange_fonts(writer.pages)
    stamp = f"D:{imprint.day:%Y%m%d}000000Z"
    writer.add_metadata(
        {
            "/Title": imprint.title,
            "/Subject": imprint.subject,
            "/Creator": "Steadbook",
            "/Producer": imprint.producer,
            "/CreationDate": stamp,
            "/ModDate": stamp,
        }
    )
    writer.root_object[NameObject("/Lang")] = TextStringObject(imprint.language)
    writer.root_object[NameObject("/ViewerPreferences")] = DictionaryObject(
        {NameObject("/DisplayDocTitle"): BooleanObject(True)}
    )
    writer.page_mode = "/UseOutlines"
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


def refuse_strange_fonts(pages: Sequence[PageObject]) -> None:
    """BindError if a page is set in a face that is not one of ours."""
    seen: set[int] = set()
    for page in pages:
        resources = page.get("/Resources")
        fonts = resources.get_object().get("/Font") if resources is not None else None
        for reference in (fonts.get_object() if fonts is not None else {}).values():
            font = reference.get_object()
            if id(font) in seen:
                continue
            seen.add(id(font))
            face = str(font.get("/BaseFont", "?")).lstrip("/").split("+")[-1]
            if face not in FACES:
                raise BindError(f"the binder came out in the font {face!r}, which is not its own")
