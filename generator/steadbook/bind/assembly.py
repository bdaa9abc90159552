"""Puts the set tabs together into one PDF: links, outline, sheet labels, mirrored margins."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any
from urllib.parse import unquote

import pikepdf
from pikepdf import Array, Dictionary, Name, OutlineItem, String

from steadbook.bind.flow import Flow
from steadbook.bind.paper import MM, Format
from steadbook.bind.resources import FACES, FAMILIES
from steadbook.bind.setting import Place
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
    duplex: bool = True


def assemble(parts: Sequence[SetPart], imprint: Imprint) -> bytes:
    """One PDF of all parts, in order."""
    with pikepdf.new() as binder:
        starts: list[int] = []
        sources = [pikepdf.open(io.BytesIO(part.pdf)) for part in parts]
        for source in sources:
            starts.append(len(binder.pages))
            binder.pages.extend(source.pages)
        pages = list(binder.pages)
        for part, start in zip(parts, starts, strict=True):
            _mirror(pages[start : start + part.sheets], part)
        label_pages(
            binder,
            {
                start: (f"{part.flow.tab.title} ", part.before + 1)
                for part, start in zip(parts, starts, strict=True)
            },
        )
        _outline(binder, parts, starts)
        _point_links(pages, parts, starts)
        _join_tags(binder, sources, starts)
        return finish(binder, imprint)


def label_pages(binder: pikepdf.Pdf, labels: Mapping[int, tuple[str, int | None]]) -> None:
    """Name the pages as the sheets are: from each page on, a text and the number it counts from.

    Where the number is None the text stands alone.
    """
    ranges: list[Any] = []
    for page, (text, first) in sorted(labels.items()):
        ranges += [page, Dictionary(P=String(text))]
        if first is not None:
            ranges[-1].S, ranges[-1].St = Name.D, first
    binder.Root.PageLabels = Dictionary(Nums=Array(ranges))


def _mirror(pages: Sequence[pikepdf.Page], part: SetPart) -> None:
    """Shift the backs of leaves outward by moving their box; what they draw is not touched."""
    for number, page in enumerate(pages, start=part.before + 1):
        shift = part.form.mirror_shift(number) * MM
        if shift:
            left, bottom, right, top = map(float, page.mediabox)
            box = [round(Decimal(edge), 3) for edge in (left + shift, bottom, right + shift, top)]
            page.mediabox = page.cropbox = Array(box)


def _outline(binder: pikepdf.Pdf, parts: Sequence[SetPart], starts: Sequence[int]) -> None:
    with binder.open_outline() as outline:
        above: list[tuple[int, OutlineItem]] = []
        for part, start in zip(parts, starts, strict=True):
            title = part.flow.tab.title
            if not part.before:
                above = [(0, OutlineItem(title, start))]
                outline.root.append(above[0][1])
            for heading in part.flow.headings:
                if heading.level > OUTLINE_DEPTH or not heading.text:
                    continue
                if heading.level == 1 and heading.text == title:
                    continue
                while above[-1][0] >= heading.level:
                    above.pop()
                item = OutlineItem(heading.text, start + part.places[heading.id].number - 1)
                above[-1][1].children.append(item)
                above.append((heading.level, item))


def _point_links(
    pages: Sequence[pikepdf.Page], parts: Sequence[SetPart], starts: Sequence[int]
) -> None:
    """Turn each ``binder:id`` into a jump to the place of that id."""
    places = {
        name: (start + place.number - 1, place.top)
        for part, start in zip(parts, starts, strict=True)
        for name, place in part.places.items()
    }
    for page in pages:
        links: Any = page.obj.get(Name.Annots, ())
        for link in links:
            target = str(link.get(Name.A, {}).get(Name.URI, ""))
            if target.startswith("binder:"):
                number, top = places[unquote(target.removeprefix("binder:"))]
                del link.A
                link.Dest = Array([pages[number].obj, Name.XYZ, None, round(top), None])


def _join_tags(binder: pikepdf.Pdf, sources: Sequence[pikepdf.Pdf], starts: Sequence[int]) -> None:
    """Carry over the tags, by which a screen reader knows a heading from a table, if all have them.

    Pages and links name their place in a tree of numbers, which count on from part to part.
    """
    if not all("/MarkInfo" in source.Root for source in sources):
        return
    whole: Any = binder.make_indirect(Dictionary(Type=Name.StructTreeRoot, K=Array()))
    numbers: list[Any] = []
    taken = 0
    for source, start in zip(sources, starts, strict=True):
        part: Any = binder.copy_foreign(source.make_indirect(source.Root.StructTreeRoot))
        for child in part.K if isinstance(part.K, Array) else [part.K]:
            child.P = whole
            whole.K.append(child)
        if "/Namespaces" in part:
            whole.Namespaces = part.Namespaces
        branches: dict[int, Any] = dict(pikepdf.NumberTree(part.ParentTree))
        for number, branch in branches.items():
            numbers += [taken + number, branch]
        for page in binder.pages[start : start + len(source.pages)]:
            _count_on(page.obj, Name.StructParents, taken)
            links: Any = page.obj.get(Name.Annots, ())
            for link in links:
                _count_on(link, Name.StructParent, taken)
        taken += 1 + max(branches, default=-1)
    whole.ParentTree = Dictionary(Nums=Array(numbers))
    binder.Root.StructTreeRoot = whole
    binder.Root.MarkInfo = Dictionary(Marked=True)


def _count_on(thing: Any, key: Name, taken: int) -> None:
    if key in thing:
        thing[key] = int(thing[key]) + taken


def finish(binder: pikepdf.Pdf, imprint: Imprint) -> bytes:
    """Stamp the PDF with its imprint and give its bytes; BindError for a font not ours."""
    refuse_strange_fonts(binder.pages)
    stamp = f"D:{imprint.day:%Y%m%d}000000Z"
    binder.docinfo = binder.make_indirect(
        Dictionary(
            Title=String(imprint.title),
            Subject=String(imprint.subject),
            Creator=String("Steadbook"),
            Producer=String(imprint.producer),
            CreationDate=String(stamp),
            ModDate=String(stamp),
        )
    )
    binder.Root.Lang = String(imprint.language)
    binder.Root.ViewerPreferences = Dictionary(
        DisplayDocTitle=True,
        # what the print window begins with, where the viewer heeds it
        PrintScaling=Name("/None"),
        Duplex=Name.DuplexFlipLongEdge if imprint.duplex else Name.Simplex,
    )
    binder.Root.PageMode = Name.UseOutlines
    stream = io.BytesIO()
    binder.save(
        stream,
        deterministic_id=True,
        object_stream_mode=pikepdf.ObjectStreamMode.generate,
    )
    return stream.getvalue()


def refuse_strange_fonts(pages: Iterable[pikepdf.Page]) -> None:
    """BindError if a page is set in a face that is not one of ours."""
    seen: set[tuple[int, int]] = set()
    for page in pages:
        fonts: Any = page.resources.get(Name.Font, {})
        for font in fonts.values():
            if font.objgen in seen:
                continue
            seen.add(font.objgen)
            face = str(font.get(Name.BaseFont, "?")).lstrip("/").split("+")[-1]
            if face not in FACES and not face.startswith(FAMILIES):
                raise BindError(f"the binder came out in the font {face!r}, which is not its own")
