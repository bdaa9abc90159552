"""Puts the set tabs together into one PDF: links, outline, sheet labels, mirrored margins."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.constants import PageLabelStyle
from pypdf.generic import (
    ArrayObject,
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
class SetTab:
    """A tab as it came from the press."""

    flow: Flow
    form: Format
    places: Mapping[str, Place]
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


def assemble(tabs: Sequence[SetTab], imprint: Imprint) -> bytes:
    """One PDF of all tabs, in order."""
    writer = PdfWriter()
    starts: list[int] = []
    for tab in tabs:
        starts.append(len(writer.pages))
        reader = PdfReader(io.BytesIO(tab.pdf))
        writer.append(reader, import_outline=False)
    pages = list(writer.pages)
    for tab, start in zip(tabs, starts, strict=True):
        _mirror(pages[start : start + tab.sheets], tab.form)
        writer.set_page_label(
            start, start + tab.sheets - 1, style=PageLabelStyle.DECIMAL, prefix=f"{tab.flow.tab.title} ", start=1
        )
        _outline(writer, tab, start)
    _point_links(pages, tabs, starts)
    return _finish(writer, imprint)


def _mirror(pages: Sequence[PageObject], form: Format) -> None:
    """Shift the backs of leaves outward by moving their box; what they draw is not touched."""
    for number, page in enumerate(pages, start=1):
        shift = form.mirror_shift(number) * MM
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


def _outline(writer: PdfWriter, tab: SetTab, start: int) -> None:
    title = tab.flow.tab.title
    above: list[tuple[int, IndirectObject]] = [
        (0, writer.add_outline_item(title=title, page_number=start))
    ]
    for heading in tab.flow.headings:
        if heading.level > OUTLINE_DEPTH or not heading.text:
            continue
        if heading.level == 1 and heading.text == title:
            continue
        while above[-1][0] >= heading.level:
            above.pop()
        page = start + tab.places[heading.id].number - 1
        item = writer.add_outline_item(title=heading.text, page_number=page, parent=above[-1][1])
        above.append((heading.level, item))


def _point_links(
    pages: Sequence[PageObject], tabs: Sequence[SetTab], starts: Sequence[int]
) -> None:
    """Turn each ``binder:id`` into a jump to the place of that id."""
    places = {
        name: (start + place.number - 1, place.top)
        for tab, start in zip(tabs, starts, strict=True)
        for name, place in tab.places.items()
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
                number, top = places[_plain(target)]
                _jump(link, pages[number], top)


def _plain(target: str) -> str:
    from urllib.parse import unquote

    return unquote(target.removeprefix("binder:"))


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


def _finish(writer: PdfWriter, imprint: Imprint) -> bytes:
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
        {NameObject("/DisplayDocTitle"): _true()}
    )
    writer.page_mode = "/UseOutlines"
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


def _true() -> NameObject:
    from pypdf.generic import BooleanObject

    return BooleanObject(True)  # type: ignore[return-value]


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
