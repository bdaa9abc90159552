"""Makes a tab's HTML ready for paper: what must stay together, signal words, links, tick boxes.

The HTML is parsed, changed as a tree and written out again. Cross references print the sheet
they lead to; as sheets are known only after setting, their places are marked first and filled
in later (:meth:`Flow.filled`).
"""

from __future__ import annotations

import copy
import html as htmllib
import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import astuple, dataclass
from functools import cached_property
from typing import Any
from urllib.parse import unquote

from lxml import etree
from lxml import html as lxml_html
from lxml.html import HtmlElement

from steadbook.bind.glyphs import printable, unprintable
from steadbook.bind.longwords import SIDEWAYS, UPRIGHT, column_shares, free_long_words
from steadbook.bind.sheets import Tab
from steadbook.bind.shelf import Shelf
from steadbook.errors import BindError

DEEPEST = 500
"""Deeper nesting than this is refused: no page has it, and the engine crashes far beyond."""

HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
SIGNALS = ("danger", "warning", "caution", "notice")
UNPRINTED = ("script", "noscript", "template", "iframe", "object", "embed")
LEAD_IN = 150
"""Letters of the longest paragraph that is kept with the table or list below it."""

# Blocks a heading can be joined to, because they are never split between sheets.
WHOLE = ("p", "figure", "img", "svg", "dl", "blockquote")

# The safety alert symbol of ANSI Z535.4: an exclamation mark in a triangle. Drawn as paths, so
# that it needs no font; without colour, so that it prints on any machine.
ALERT = (
    '<svg class="alert" viewBox="0 0 24 22" width="24" height="22">'
    '<path d="M12 1.5 L22.8 20.5 H1.2 Z" fill="#fff" stroke="#000" stroke-width="2"'
    ' stroke-linejoin="round"/>'
    '<path d="M10.8 7.5 H13.2 L12.7 14.5 H11.3 Z M11 16 H13 V18.2 H11 Z" fill="#000"/></svg>'
)

_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ufffe\uffff]")
_SLOT = re.compile("\ue000([^\ue000\ue001]*)\ue001")
_NOT_IN_IDS = re.compile(r"[^\x21-\x7e]|[%\"<>#]")
_SCHEME = re.compile(r"[a-zA-Z][a-zA-Z0-9+.-]*:")


@dataclass(frozen=True)
class Heading:
    level: int
    id: str
    text: str


@dataclass(frozen=True)
class Flow:
    """A tab ready for setting."""

    tab: Tab
    html: str
    headings: tuple[Heading, ...]
    targets: frozenset[str]
    """Ids in this tab that a heading has or a link leads to."""
    links: tuple[str, ...]
    """Ids this tab's links lead to, wherever they are."""
    text: str
    """The words as they are to be found on paper."""
    unprintable: Mapping[str, str]
    """Characters that print as a box, each with the word it stands in."""

    def filled(self, labels: Mapping[str, str], *, fixed: bool = False) -> str:
        """The HTML with the sheet labels of its cross references filled in.

        With `fixed`, each takes the same room whatever its label is.
        """
        html = self.html
        if fixed:
            html = html.replace(' data-room="', ' style="display:inline-block;width:')
        # a slot that no link has made is a text with private characters of its own
        return _SLOT.sub(
            lambda slot: htmllib.escape(labels.get(slot[1], slot[0])).replace(" ", "&nbsp;"), html
        )


def prepare(
    tabs: Sequence[Tab], *, elsewhere: Sequence[Flow] = (), shelf: Shelf | None = None
) -> list[Flow]:
    """Parse all tabs, check their links against one another, and make each ready for setting.

    Links may also lead to targets in the flows `elsewhere`, made ready before. What is found on
    the `shelf` is not made again.

    Raises
    ------
    BindError
        The same id twice; a link that leads nowhere; nesting deeper than `DEEPEST`.
    """
    shelf = shelf or Shelf(None)
    sources = [_Source(tab, shelf) for tab in tabs]
    homes = {target: flow.tab for flow in elsewhere for target in flow.targets}
    homes |= _homes(sources, homes)
    wanted = {target: source.tab for source in sources for target in source.links}
    for target, tab in wanted.items():
        if target not in homes:
            raise BindError(
                f"tab {tab.title!r}: a link leads to {target!r}, which no tab has; "
                "give the heading that id or mend the link"
            )
    return [_flow(source, homes, wanted) for source in sources]


class _Source:
    """A tab's HTML, parsed when first needed, with its ids and the ids that it links to."""

    def __init__(self, tab: Tab, shelf: Shelf) -> None:
        self.tab, self.shelf = tab, shelf
        self.made_from = [tab.key, tab.title, tab.landscape, tab.html]
        key = shelf.key("ids", self.made_from)
        kept = shelf.get(key)
        if kept is None:
            ids = [e.get("id") for e in self.body.iter(etree.Element) if e.get("id")]
            kept = json.dumps([ids, _links(tab, self.body)]).encode()
            shelf.put(key, kept)
        self.ids: list[str]
        self.links: list[str]
        self.ids, self.links = json.loads(kept)

    @cached_property
    def body(self) -> HtmlElement:
        return _parse(self.tab)


def _flow(source: _Source, homes: Mapping[str, Tab], wanted: Mapping[str, Tab]) -> Flow:
    tab, shelf = source.tab, source.shelf
    links = tuple(dict.fromkeys(source.links))
    sought = sorted(target for target in wanted if homes[target] is tab)
    key = shelf.key("flow", source.made_from, {one: homes[one].title for one in links}, sought)
    kept = shelf.get(key)
    if kept is None:
        kept = json.dumps(_made_ready(tab, source.body, homes)).encode()
        shelf.put(key, kept)
    html, found, text, lacking = json.loads(kept)
    headings = tuple(Heading(*one) for one in found)
    targets = frozenset(sought) | {heading.id for heading in headings}
    return Flow(tab, html, headings, targets, links, text, lacking)


def _made_ready(tab: Tab, body: HtmlElement, homes: Mapping[str, Tab]) -> list[Any]:
    """HTML, headings, words to be found on paper, and what of them prints as a box."""
    headings = [astuple(heading) for heading in _headings(body)]
    _draw_ticks(body)
    _draw_signals(body)
    text = _visible_text(body)
    free_long_words(body, SIDEWAYS if tab.landscape else UPRIGHT)
    _draw_boxes(body)
    _point_links(body, homes)
    _keep_headings(body)
    inner = htmllib.escape(body.text or "", quote=False) + "".join(
        lxml_html.tostring(child, encoding="unicode") for child in body
    )
    return [inner, headings, printable(text), unprintable(text)]


def _parse(tab: Tab) -> HtmlElement:
    source = _CONTROL.sub("", tab.html)
    parser = lxml_html.HTMLParser(encoding="utf-8", huge_tree=True)
    page = f"<!doctype html><html><body>{source}</body></html>".encode("utf-8", "replace")
    root = lxml_html.document_fromstring(page, parser=parser)
    body = root.find("body")
    assert body is not None
    _refuse_deep(tab, body)
    etree.strip_elements(body, etree.Comment, *UNPRINTED, with_tail=False)
    _spell_ids(body)
    for number, heading in enumerate(body.iter(*HEADINGS), start=1):
        if not heading.get("id"):
            heading.set("id", f"{tab.key}--heading-{number}")
    return body


def _spell_ids(body: HtmlElement) -> None:
    """Write ids, and the links to them, in the characters that the engine's links can hold."""
    for element in body.iter(etree.Element):
        name, href = element.get("id"), element.get("href", "")
        if name:
            element.set("id", _spelled(name))
        for head in ("#", "binder:"):
            if href.startswith(head) and len(href) > len(head):
                element.set("href", head + _spelled(unquote(href.removeprefix(head))))


def _spelled(name: str) -> str:
    return _NOT_IN_IDS.sub(lambda found: f"_{ord(found[0]):x}_", name)


def _refuse_deep(tab: Tab, body: HtmlElement) -> None:
    level = [body]
    for _ in range(DEEPEST):
        level = [child for element in level for child in element]
        if not level:
            return
    raise BindError(
        f"tab {tab.title!r}: its HTML is nested more than {DEEPEST} deep; "
        "look for a tag that is never closed"
    )


def _homes(sources: Sequence[_Source], taken: Mapping[str, Tab]) -> dict[str, Tab]:
    homes = dict(taken)
    for source in sources:
        for name in source.ids:
            if name in homes:
                raise BindError(
                    f"tab {source.tab.title!r}: the id {name!r} is already used in tab "
                    f"{homes[name].title!r}; ids are unique over the whole binder"
                )
            homes[name] = source.tab
    return homes


def _links(tab: Tab, body: HtmlElement) -> list[str]:
    """Ids that the links lead to; BindError for a link to a file."""
    found = []
    for link in body.iter("a"):
        href = (link.get("href") or "").strip()
        if href.startswith(("#", "binder:")):
            found.append(href.removeprefix("binder:").removeprefix("#"))
        elif (href and not _SCHEME.match(href)) or href.startswith("file:"):
            raise BindError(
                f"tab {tab.title!r}: a link leads to {href!r}, a file or page; "
                "in a binder a link leads to a heading: '#id' or 'binder:id'"
            )
    return found


def _headings(body: HtmlElement) -> list[Heading]:
    return [
        Heading(int(h.tag[1]), h.get("id", ""), " ".join(h.text_content().split()))
        for h in body.iter(*HEADINGS)
    ]


def _visible_text(body: HtmlElement) -> str:
    """The words a reader must find on paper: all but those inside drawings and style sheets."""
    return " ".join(body.xpath(".//text()[not(ancestor::svg or ancestor::style)]"))


def _draw_boxes(body: HtmlElement) -> None:
    """Put a box for what the fonts lack; ids stay as they are, for they are not printed."""
    for element in body.iter():
        if isinstance(element.tag, str) and element.text:
            element.text = printable(element.text)
        if element.tail:
            element.tail = printable(element.tail)
        if element.get("data-at"):
            element.set("data-at", printable(element.get("data-at")))


def _draw_ticks(body: HtmlElement) -> None:
    """A box to tick where the page has one, and before each step of a procedure.

    The short procedures of the sitter have none: each stays on one side of a leaf.
    """
    for box in body.xpath(".//input[@type='checkbox']"):
        box.tag = "span"
        box.attrib.clear()
        box.set("class", "tick")
    procedure = ".//*[contains(@class, 'procedure')][not(ancestor::*[contains(@class, 'brief')])]"
    for step in body.xpath(f"{procedure}//ol/li"):
        first = step if (step.text or "").strip() or not len(step) else step[0]
        box = lxml_html.fragment_fromstring('<span class="tick"></span>')
        box.tail, first.text = first.text, None
        first.insert(0, box)


def _draw_signals(body: HtmlElement) -> None:
    """Give each signal box its word panel, and its alert symbol unless it is a NOTICE."""
    for box in body.xpath(".//*[contains(concat(' ', normalize-space(@class), ' '), ' signal ')]"):
        kind = next((k for k in SIGNALS if k in box.get("class", "").split()), None)
        if kind is None:
            continue
        word = next(iter(box.xpath(".//*[contains(@class, 'signal-word')]")), None)
        if word is None:
            word = _word_panel(box, kind)
        if kind != "notice" and not word.xpath(".//*[local-name()='svg']"):
            alert = lxml_html.fragment_fromstring(ALERT)
            alert.tail, word.text = " " + (word.text or ""), None
            word.insert(0, alert)


def _word_panel(box: HtmlElement, kind: str) -> HtmlElement:
    """The panel of a box that has none: its first child if that is the word, else a new one."""
    first = box[0] if len(box) and not (box.text or "").strip() else None
    if first is not None and first.text_content().strip(" :.!").lower() == kind:
        word = first
        for child in list(word):
            word.remove(child)
    else:
        word = lxml_html.Element("p")
        word.tail, box.text = box.text, None
        box.insert(0, word)
    word.tag = "p"
    word.set("class", "signal-word")
    word.text = kind.upper()
    return word


def _point_links(body: HtmlElement, homes: Mapping[str, Tab]) -> None:
    """Turn each link inside the binder into ``binder:id`` and leave room for its sheet's label."""
    for link in list(body.iter("a")):
        href = (link.get("href") or "").strip()
        if not href.startswith(("#", "binder:")):
            continue
        target = href.removeprefix("binder:").removeprefix("#")
        link.set("href", f"binder:{target}")
        if "bare" in link.get("class", "").split():
            continue
        room = lxml_html.Element("span")
        room.set("class", "at")
        room.set("data-room", f"{0.62 * (len(homes[target].title) + 6):.1f}em")
        room.text = f" (\ue000{target}\ue001)"
        room.tail, link.tail = link.tail, None
        link.addnext(room)


def _keep_headings(body: HtmlElement) -> None:
    """Join each heading to what follows it, so that it never stands last on a sheet."""
    for heading in list(body.iter(*HEADINGS)):
        parent = heading.getparent()
        if parent is None or parent.get("class") == "keep" or not _stands_alone(heading):
            continue
        keep = lxml_html.Element("div")
        keep.set("class", "keep")
        heading.addprevious(keep)
        block: HtmlElement | None = heading
        while block is not None and block.tag in HEADINGS:
            following = block.getnext()
            keep.append(block)
            block = following if _stands_alone(block) else None
        if block is None:
            continue
        after = block.getnext() if _leads_in(block) else block
        if _is_whole(block):
            keep.append(block)
        if after is not None and not _is_whole(after) and after.tag not in HEADINGS:
            room = _first_piece(after)
            keep.set("style", f"padding-bottom:{room}mm;margin-bottom:-{room}mm")


def _stands_alone(element: HtmlElement) -> bool:
    return not (element.tail or "").strip()


def _is_whole(block: HtmlElement) -> bool:
    if block.tag in WHOLE or "signal" in block.get("class", "").split():
        return True
    short = len(block.text_content()) < 400
    return block.tag == "div" and short and not block.xpath(".//table|.//ol|.//ul|.//h2|.//h3")


def _leads_in(block: HtmlElement) -> bool:
    """Whether it is a line or two that say what stands below: without that they say nothing."""
    following = block.getnext()
    return (
        block.tag == "p"
        and len(block.text_content()) <= LEAD_IN
        and following is not None
        and following.tag in ("table", "ol", "ul")
        and _stands_alone(block)
    )


def _first_piece(block: HtmlElement) -> int:
    """Height to reserve below a heading for the first piece of a splittable block. [mm]

    Counted generously from the words in it, at about 75 letters and 5 mm a line.
    """
    head = copy.copy(block)
    if block.tag == "table":
        letters = [max(4, 75 * share - 2) for share in column_shares(head)]
        lines: float = sum(_row_lines(row, letters) for row in head.xpath(".//tr")[:3])
    elif block.tag in ("ol", "ul") and len(head):
        lines = 2 + len(head[0].text_content()) // 65
    else:
        lines = 3 + min(len(head.text_content()), 900) // 75
    return max(20, min(110, round(6 * lines + 8)))


def _row_lines(row: HtmlElement, letters: Sequence[float]) -> float:
    """Lines of the fullest cell, its borders among them; `letters` a line of each column takes."""
    lines = [1.0]
    place = 0
    for cell in row.iterchildren("td", "th"):
        span = int(cell.get("colspan") or 1)
        across = sum(letters[place : place + span]) or 4
        lines.append(1.5 + len(cell.text_content()) // across)
        place += span
    return max(lines)
