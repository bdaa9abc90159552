"""Finished pages -> the tabs of the binder: HTML whose links and pictures need no site around it."""

from __future__ import annotations

import base64
import posixpath
import re
from collections.abc import Iterator

from lxml import html as lxml_html
from lxml.html import HtmlElement

from steadbook.bind.markdown import to_html
from steadbook.bind.sheets import Tab
from steadbook.pages import Manual, Page


def binder_tabs(manual: Manual) -> list[Tab]:
    """The tabs of a manual, in its order. Pages printed sideways are tabs of their own."""
    printed = {page.path: page for page in manual.pages if page.in_binder}
    tabs: dict[str, list[Page]] = {}
    for page in printed.values():
        tabs.setdefault(page.tab, []).append(page)
    return [
        Tab(
            key=_slug(title),
            title=title,
            html="\n".join(_fragment(page, printed, manual.drawings) for page in pages),
            landscape=all(page.landscape for page in pages),
        )
        for title, pages in tabs.items()
    ]


def _slug(title: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")


def _fragment(page: Page, printed: dict[str, Page], drawings: dict[str, str]) -> str:
    body = lxml_html.fragment_fromstring(to_html(page.markdown), create_parent="section")
    body.set("class", "page")
    for element in _elements(body):
        if element.get("id"):
            element.set("id", f"{page.key}--{element.get('id')}")
    first = next(iter(body.iter("h1")), None)
    if first is not None:
        first.set("id", page.key)
    for link in list(body.iter("a")):
        _point(link, page, printed)
    for image in body.iter("img"):
        _inline(image, page, drawings)
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
            return
    link.drop_tag()


def _inline(image: HtmlElement, page: Page, drawings: dict[str, str]) -> None:
    path = posixpath.normpath(posixpath.join(posixpath.dirname(page.path), image.get("src", "")))
    if path in drawings:
        code = base64.b64encode(drawings[path].encode()).decode("ascii")
        image.set("src", f"data:image/svg+xml;base64,{code}")
