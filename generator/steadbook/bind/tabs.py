"""Finished pages -> the tabs of the binder: HTML whose links and pictures need no site around it."""

from __future__ import annotations

import base64
import posixpath
import re
from collections.abc import Iterator
from pathlib import Path

from lxml import html as lxml_html
from lxml.html import HtmlElement

from steadbook.bind.columns import set_columns
from steadbook.bind.markdown import to_html
from steadbook.bind.sheets import Tab
from steadbook.bind.shelf import Shelf
from steadbook.bind.together import keep_together
from steadbook.pages import Manual, Page


def binder_tabs(manual: Manual, kept: Path | None = None) -> list[Tab]:
    """The tabs of a manual, in its order. Pages printed sideways are tabs of their own.

    In the folder ``kept`` each tab's HTML is kept, so that an unchanged one is not made again.
    """
    printed = {page.path: page for page in manual.pages if page.in_binder}
    tabs: dict[str, list[Page]] = {}
    for page in printed.values():
        tabs.setdefault(page.tab, []).append(page)
    shelf = Shelf(kept)
    made = [
        Tab(
            key=_slug(title),
            title=title,
            html=_html(pages, printed, manual.drawings, shelf),
            landscape=all(page.landscape for page in pages),
        )
        for title, pages in tabs.items()
    ]
    shelf.sweep()
    return made


def _html(
    pages: list[Page], printed: dict[str, Page], drawings: dict[str, str], shelf: Shelf
) -> str:
    key = shelf.key(
        "tab",
        [(page.path, page.tab, page.is_brief, page.landscape, page.markdown) for page in pages],
        [(page.path, page.tab) for page in printed.values()],
        [
            (path, svg)
            for path, svg in drawings.items()
            if any(posixpath.basename(path) in page.markdown for page in pages)
        ],
    )
    kept = shelf.get(key)
    if kept is None:
        fragments = [_fragment(page, printed, drawings, first=page is pages[0]) for page in pages]
        kept = "\n".join(fragments).encode()
        shelf.put(key, kept)
    return kept.decode()


def _slug(title: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")


def _fragment(
    page: Page, printed: dict[str, Page], drawings: dict[str, str], *, first: bool
) -> str:
    body = lxml_html.fragment_fromstring(to_html(page.markdown), create_parent="section")
    kept_short = " brief" if page.is_brief else ""
    body.set("class", ("page" if first else "page new-sheet") + kept_short)
    for element in _elements(body):
        if element.get("id"):
            element.set("id", f"{page.key}--{element.get('id')}")
    heading = next(iter(body.iter("h1")), None)
    if heading is not None:
        heading.set("id", page.key)
    for link in list(body.iter("a")):
        _point(link, page, printed)
    for image in body.iter("img"):
        _inline(image, page, drawings)
    keep_together(body)
    for table in list(body.iter("table")):
        set_columns(table, landscape=page.landscape)
    return str(lxml_html.tostring(body, encoding="unicode"))


def _elements(body: HtmlElement) -> Iterator[HtmlElement]:
    return (element for element in body.iter() if isinstance(element.tag, str))


def _point(link: HtmlElement, page: Page, printed: dict[str, Page]) -> None:
    """A link to another page leads to its sheet; any other link is text on paper."""
    target, _, part = link.get("href", "").partition("#")
    if ":" not in target:
        path = posixpath.normpath(posixpath.join(posixpath.dirname(page.path), target))
        aim = page if not target else printed.get(path)
        if aim is not None:
            link.set("href", f"#{aim.key}--{part}" if part else f"#{aim.key}")
            in_table = any(True for _ in link.iterancestors("td", "th"))
            if in_table and aim.tab != "Procedures":
                link.set("class", "bare")  # a table of sheet numbers would hide what it says
            return
    elif target.startswith("tel:") and link.text:
        link.text = link.text.replace("-", "\N{NON-BREAKING HYPHEN}")
    link.drop_tag()


def _inline(image: HtmlElement, page: Page, drawings: dict[str, str]) -> None:
    path = posixpath.normpath(posixpath.join(posixpath.dirname(page.path), image.get("src", "")))
    if path in drawings:
        code = base64.b64encode(drawings[path].encode()).decode("ascii")
        image.set("src", f"data:image/svg+xml;base64,{code}")
