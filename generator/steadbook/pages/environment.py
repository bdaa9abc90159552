"""The Jinja environment of the pages: sandboxed, strict, and exact about where a page is wrong."""

from __future__ import annotations

import contextlib
import traceback
from collections.abc import Callable, Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import jinja2
from jinja2.loaders import split_template_path
from jinja2.sandbox import ImmutableSandboxedEnvironment

from steadbook.errors import PageError
from steadbook.pages.escape import as_text, paragraphs, phone_link, pretty, verbatim
from steadbook.pages.front_matter import without_front_matter

COMPILED = "templates-2"  # raise the number when the settings below change


PLAIN = (str, int, float, dict, list, tuple, date, timedelta)


class Sandbox(ImmutableSandboxedEnvironment):
    """Pages look at values, and call the methods of plain ones and of our own things.

    All other methods are kept from them: a path could read a file, a table of numbers write one.
    A loop without end or a text that fills the memory is the owner's own affair: the page is his.
    """

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self._safe: dict[tuple[type, str], bool] = {}  # Jinja's word hangs on these two alone

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """Whether a page may have this attribute."""
        asked = type(obj), attr
        if asked not in self._safe:
            self._safe[asked] = super().is_safe_attribute(obj, attr, value)
        if not self._safe[asked]:
            return False
        if not callable(value) or isinstance(obj, PLAIN):
            return True
        return str(getattr(value, "__module__", "")).startswith(("steadbook.", "jinja2."))


class ContentLoader(jinja2.BaseLoader):
    """Finds a template in the first folder that has it, its front matter blanked.

    Line numbers stay those of the file, and errors name it `content/...` wherever it lies.
    """

    def __init__(self, folders: list[Path]) -> None:
        self.folders = folders

    def get_source(
        self, environment: jinja2.Environment, template: str
    ) -> tuple[str, str, Callable[[], bool]]:
        """The text of a template, what to call it, and whether it is still the same."""
        parts = split_template_path(template)  # refuses a way out of the folder
        for folder in self.folders:
            path = folder.joinpath(*parts)
            with contextlib.suppress(OSError):  # a name that no file can have
                if path.is_file() and path.resolve().is_relative_to(folder.resolve()):
                    text = path.read_text("utf-8-sig")
                    return without_front_matter(text), f"content/{template}", lambda: True
        raise jinja2.TemplateNotFound(template)


def environment(folders: list[Path], kept: Path | None) -> jinja2.Environment:
    """The environment for pages in ``folders``.

    ``kept`` is a folder in which compiled templates are kept from one build to the next.
    """
    cache = None
    if kept is not None:
        with contextlib.suppress(OSError):  # keeping them only saves time
            folder = kept / COMPILED
            folder.mkdir(parents=True, exist_ok=True)
            cache = jinja2.FileSystemBytecodeCache(str(folder))
    made = Sandbox(
        loader=ContentLoader(folders),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        finalize=pretty,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        bytecode_cache=cache,
    )
    made.filters.update(
        text=as_text,
        pretty=pretty,
        paragraphs=paragraphs,
        phone=phone_link,
        verbatim=verbatim,
        at=_at,
    )
    return made


def _at(row: Sequence[Any], place: int) -> Any:
    """One value of a row by its place, for `map("at", 3)`."""
    return row[place]


def render(made: jinja2.Environment, name: str, context: dict[str, Any]) -> str:
    """The Markdown of the template at ``name`` under content/. Raises PageError with file and line."""
    try:
        return made.get_template(name).render(context)
    except jinja2.TemplateSyntaxError as error:
        raise PageError(
            f"content/{(error.name or name).removeprefix('content/')}",
            error.lineno,
            error.message or "a template that cannot be read",
            "correct the template",
        ) from None
    except (jinja2.TemplateError, PageError) as error:
        raise _located(error, name) from None
    except RecursionError:
        raise PageError(
            f"content/{name}",
            0,
            "a part that calls itself without end, or brackets too deep",
            "look for an include, a macro or brackets within themselves",
        ) from None
    except (ArithmeticError, LookupError, TypeError, ValueError, AttributeError) as error:
        raise _located(error, name) from error


def _located(error: Exception, name: str) -> PageError:
    """The error with the place in the template that called for it."""
    file, line = f"content/{name}", 0
    for frame in traceback.extract_tb(error.__traceback__):
        if frame.filename.startswith("content/"):
            file, line = frame.filename, frame.lineno or 0
    if isinstance(error, PageError):
        return PageError(error.file or file, error.line or line, error.found, error.fix)
    if isinstance(error, jinja2.UndefinedError):
        fix = "correct the name, or add the value to the inventory"
        return PageError(file, line, str(error.message), fix)
    if isinstance(error, jinja2.TemplateNotFound):
        return PageError(file, line, f"no file {error.name} in content/", "correct the name")
    return PageError(file, line, str(error) or type(error).__name__, "correct the template")
