"""The Jinja environment of the pages: sandboxed, strict, and exact about where a page is wrong."""

from __future__ import annotations

import traceback
from pathlib import Path
from typing import Any

import jinja2
from jinja2.sandbox import ImmutableSandboxedEnvironment

from steadbook.errors import PageError
from steadbook.pages.escape import as_text, paragraphs, phone_link
from steadbook.pages.front_matter import ContentFile


def environment(folders: list[Path]) -> jinja2.Environment:
    """An environment that finds shared parts in the first of ``folders`` that has them."""
    made = ImmutableSandboxedEnvironment(
        loader=jinja2.FileSystemLoader([str(folder) for folder in folders]),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        finalize=as_text,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.filters.update(text=as_text, paragraphs=paragraphs, phone=phone_link)
    return made


def render(made: jinja2.Environment, page: ContentFile, context: dict[str, Any]) -> str:
    """The page's Markdown. Raises PageError with file and line."""
    shown = f"content/{page.name}"
    try:
        code = made.compile(page.text, name=shown, filename=shown)
        template = jinja2.Template.from_code(made, code, made.make_globals(None))
        return template.render(context)
    except jinja2.TemplateSyntaxError as error:
        offset = page.first_line - 1 if (error.name or shown) == shown else 0
        raise PageError(
            error.name or shown, error.lineno + offset, f"{error.message}", "correct the template"
        ) from None
    except (jinja2.TemplateError, PageError) as error:
        raise _located(error, page, shown) from None
    except (ArithmeticError, LookupError, TypeError, ValueError, AttributeError) as error:
        raise _located(error, page, shown) from error


def _located(error: Exception, page: ContentFile, shown: str) -> PageError:
    """The error with the place in the template that called for it."""
    file, line = shown, 0
    for frame in traceback.extract_tb(error.__traceback__):
        name = frame.filename.replace("\\", "/")
        if name == shown:
            file, line = shown, (frame.lineno or 1) + page.first_line - 1
        elif name.endswith(".md") and "/content/" in f"/{name}":
            file, line = "content/" + name.rsplit("/content/", 1)[-1], frame.lineno or 0
    if isinstance(error, PageError):
        return PageError(error.file or file, error.line or line, error.found, error.fix)
    if isinstance(error, jinja2.UndefinedError):
        fix = "correct the name, or add the value to the inventory"
        return PageError(file, line, str(error.message), fix)
    if isinstance(error, jinja2.TemplateNotFound):
        return PageError(file, line, f"no file {error.name} in content/", "correct the name")
    return PageError(file, line, str(error) or type(error).__name__, "correct the template")
