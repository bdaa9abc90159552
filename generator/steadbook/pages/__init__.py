"""Workings + content/ -> Markdown pages. Knows nothing of MkDocs or paper."""

from steadbook.pages.compose import Manual, Page, compose, content_files

__all__ = ["Manual", "Page", "compose", "content_files"]
