"""Pages of the site as they were converted, kept so that only what changed is converted again.

A page is kept under a hash of all that its conversion looks at: its Markdown and path, the paths of
all files (links are checked against them), the settings and the versions of the converters. One that
was spoken of is never kept, so that the warning comes again. The folder may be deleted at any time.
"""

from __future__ import annotations

import contextlib
import json
import logging
from importlib.metadata import version
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import AnchorLink, TableOfContents

from steadbook.bind.heard import heard
from steadbook.bind.markdown import CONFIGS, EXTENSIONS
from steadbook.bind.shelf import Shelf

MKDOCS_ADDS = {"toc", "tables", "fenced_code"}  # to every site's extensions


def is_plain(config: MkDocsConfig) -> bool:
    """Whether the site is converted by our own extensions alone: others may read further files."""
    return set(config.markdown_extensions) == set(EXTENSIONS) | MKDOCS_ADDS and not any(
        settings for name, settings in config.mdx_configs.items() if CONFIGS.get(name) != settings
    )


class KeptPages:
    """The pages converted before, for the files and settings of one site."""

    def __init__(self, folder: Path, files: Files, config: MkDocsConfig) -> None:
        try:
            self._shelf = Shelf(folder)
        except OSError:  # keeping them only saves time
            self._shelf = Shelf(None)
        self._site = [
            [version(name) for name in ("mkdocs", "markdown")],
            [EXTENSIONS, CONFIGS, str(config.validation), config.use_directory_urls],
            sorted(one.src_uri for one in files),
        ]

    def key(self, page: Page) -> str:
        """The hash of all that the conversion of a page looks at."""
        return Shelf.key("page", self._site, page.file.src_uri, page.markdown)

    def find(self, key: str) -> dict[str, Any] | None:
        """A page converted before."""
        found = self._shelf.get(key)
        return None if found is None else json.loads(found)

    def keep(self, key: str, page: dict[str, Any]) -> None:
        """Keep a page for the next time."""
        with contextlib.suppress(OSError):
            self._shelf.put(key, json.dumps(page).encode())

    def sweep(self) -> None:
        """Leave those of this site alone."""
        with contextlib.suppress(OSError):
            self._shelf.sweep()


class KeptPage(Page):
    """A page that is converted only where it was not before."""

    def __init__(self, title: str, file: File, config: MkDocsConfig, kept: KeptPages) -> None:
        super().__init__(title, file, config)
        self._kept = kept

    def render(self, config: MkDocsConfig, files: Files) -> None:
        """Convert the Markdown, or take what an equal conversion gave."""
        key = self._kept.key(self)
        found = self._kept.find(key)
        if found is not None:
            self._take(found, files)
            return
        with heard(logging.INFO) as messages:
            super().render(config, files)
        if not messages:
            self._kept.keep(key, self._as_kept())

    def _as_kept(self) -> dict[str, Any]:
        links = self.links_to_anchors or {}
        return {
            "content": self.content,
            "toc": [_unlinked(one) for one in self.toc],
            "anchors": sorted(self.present_anchor_ids or ()),
            "links": {file.src_uri: to for file, to in links.items()},
        }

    def _take(self, found: dict[str, Any], files: Files) -> None:
        self.content = found["content"]
        self.toc = TableOfContents([_linked(one) for one in found["toc"]])
        self.present_anchor_ids = set(found["anchors"])
        self.links_to_anchors = {files.src_uris[uri]: to for uri, to in found["links"].items()}


def _unlinked(one: AnchorLink) -> list[Any]:
    return [one.title, one.id, one.level, [_unlinked(child) for child in one.children]]


def _linked(one: list[Any]) -> AnchorLink:
    title, anchor, level, children = one
    made = AnchorLink(title, anchor, level)
    made.children = [_linked(child) for child in children]
    return made
