"""The one dialect of Markdown, for site and binder alike: nothing that only one theme knows."""

from __future__ import annotations

from typing import Any

EXTENSIONS = [
    "tables", "fenced_code", "attr_list", "md_in_html", "def_list", "toc", "sane_lists",
]  # fmt: skip
CONFIGS: dict[str, dict[str, Any]] = {}


def to_html(text: str) -> str:
    """A page's Markdown as an HTML fragment."""
    import markdown

    made = markdown.Markdown(extensions=EXTENSIONS, extension_configs=CONFIGS, output_format="html")
    return made.convert(text)
