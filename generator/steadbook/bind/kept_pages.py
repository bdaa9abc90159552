"""Pages of the site as they were converted, kept so that only what changed is converted again.

A page is kept under a hash of all that its conversion looks at: its Markdown and path, the paths of
all files (links are checked against them), the settings and the versions of the converters. One that
was spoken of is never kept, so that the warning comes again. The file may be deleted at any time.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import logging
import os
from importlib.metadata import version
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import AnchorLink, TableOfContents

from steadbook.bind.heard import heard
from steadbook.bind.markdown import CONFIGS, EXTENSIONS

Kept = dict[str, Any]
MKDOCS_ADDS = {"toc", "tables", "fenced_code"}  # to every site's extensions


def is_plain(config: MkDocsConfig) -> bool:
    """Whether the site is converted by our own extensions alone: others may read further files."""
    return set(config.markdown_extensions) == set(EXTENSIONS) | MKDOCS_ADDS and not any(
        settings for name, settings in config.mdx_configs.items() if CONFIGS.get(name) != settings
    )


class KeptPages:
    """What was converted before, and what is being converted now."""

    def __init__(self, file: Path, files: Files, config: MkDocsConfig) -> None:
        self._file = file
        self._now: dict[str, Kept] = {}
        self._salt = json.dumps(
            [
                [version(name) for name in ("mkdocs", "markdown")],
                [EXTENSIONS, CONFIGS, str(config.validation), config.use_directory_urls],
                sorted(one.src_uri for one in files),
            ]
        )
        self._before: dict[str, Kept] = {}
        with contextlib.suppress(OSError, ValueError, TypeError):
            self._before = dict(json.loads(file.read_text("utf-8")))

    def key(self, page: Page) -> str:
        """The hash of all that the conversion of a page looks at."""
        asked = "\0".join((self._salt, page.file.src_uri, page.markdown or ""))
        return hashlib.sha256(asked.encode("utf-8", "surrogatepass")).hexdigest()

    def find(self, key: str) -> Kept | None:
        """A page converted before."""
        found = self._before.get(key)
        if found is not None:
            self._now[key] = found
        return found

    def keep(self, key: str, page: Kept) -> None:
        """Note a page for the next time."""
        self._now[key] = page

    def write(self) -> None:
        """Leave the pages of this build for the next one."""
        if self._now == self._before:
            return
        with contextlib.suppress(OSError):  # keeping them only saves time
            self._file.parent.mkdir(parents=True, exist_ok=True)
            new = self._file.with_suffix(f".{os.getpid()}.new")
            new.write_text(json.dumps(self._now), "utf-8")
            os.replace(new, self._file)


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
            with contextlib.suppress(LookupError, TypeError, AttributeError):
                self._take(found, files)
                return
        with heard(logging.INFO) as messages:
            super().render(config, files)
        if not messages:
            self._kept.keep(key, self._as_kept())

    def _as_kept(self) -> Kept:
        links = self.links_to_anchors or {}
        return {
            "content": self.content,
            "toc": [_unlinked(one) for one in self.toc],
            "anchors": sorted(self.present_anchor_ids or ()),
            "links": {file.src_uri: to for file, to in links.items()},
        }

    def _take(self, found: Kept, files: Files) -> None:
        links = {files.src_uris[uri]: dict(to) for uri, to in found["links"].items()}
        toc = TableOfContents([_linked(one) for one in found["toc"]])
        self.content = str(found["content"])
        self.toc, self.present_anchor_ids, self.links_to_anchors = toc, set(found["anchors"]), links


def _unlinked(one: AnchorLink) -> list[Any]:
    return [one.title, one.id, one.level, [_unlinked(child) for child in one.children]]


def _linked(one: list[Any]) -> AnchorLink:
    title, anchor, level, children = one
    made = AnchorLink(str(title), str(anchor), int(level))
    made.children = [_linked(child) for child in children]
    return made
