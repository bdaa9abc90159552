"""A file of content/: the front matter between two lines of `---`, and the text below."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from steadbook.errors import InventoryErrors, PageError
from steadbook.inventory import explain
from steadbook.inventory.fields import Duration, Line, Whole, YesNo
from steadbook.inventory.read import read_text

Hazard = Line


class FrontMatter(BaseModel):
    """What a page says about itself."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    title: Line = Field(description="Title; may hold {{ }} where `each` is used")
    tab: Line = Field(description="Tab of the binder and section of the site")
    order: Whole = Field(default=50, description="Place within the tab, small numbers first")
    each: Literal["machine", "system", "fault"] | None = Field(
        None, description="One page for each machine, system or fault"
    )
    any_machine: YesNo = Field(
        default=False, description="Also in the manual of one machine, whichever it is"
    )
    short: Line | None = Field(None, description="Title in the sitter's edition")
    editions: list[Literal["owner", "sitter", "technician"]] = Field(
        default=["owner"], description="Editions that hold the page"
    )
    landscape: YesNo = Field(default=False, description="Printed sideways, as a tab of its own")
    in_binder: YesNo = Field(default=True, description="Whether the page is printed")
    needs: Line | None = Field(
        None, description="Left out unless the workings have some of this, such as fuel.stocks"
    )
    only_with: list[Line] = Field(
        default_factory=list,
        description="Left out unless a machine is of one of these kinds, such a spare, such a bank "
        "(flooded battery bank), engine (spark genset), tank (propane tank) or `fuel gas`, or a "
        "task names the procedure",
    )
    # a procedure says more:
    machine_kind: Line | None = Field(None, description="Kind of machine, or nothing: the place")
    needs_task: YesNo = Field(
        default=False, description="Only for machines whose tasks name this procedure"
    )
    purpose: Line | None = None
    when: Line | None = None
    minutes: Duration | None = None
    people: Whole | None = None
    tools: list[Line] = Field(default_factory=list)
    off: list[
        Literal["automatic start", "fuel", "mains power", "battery power", "solar power", "water"]
    ] = Field(default_factory=list, description="What must be off, locked and tagged")
    cautions: list[Hazard] = Field(default_factory=list)


@dataclass(frozen=True)
class ContentFile:
    """A page's template as it lies in content/."""

    name: str  # path under content/, with /
    path: Path
    front: FrontMatter

    @property
    def is_procedure(self) -> bool:
        """Whether it is one of content/procedures."""
        return self.name.startswith("procedures/")

    @property
    def stem(self) -> str:
        """The name of the page without folder and ending."""
        return self.name.rsplit("/", 1)[-1].removesuffix(".md")


def read_content(path: Path, name: str) -> ContentFile:
    """Read a page. Raises PageError or InventoryErrors."""
    shown = f"content/{name}"
    try:
        source = path.read_text("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise PageError(shown, 0, f"it cannot be read ({error})", "save it as UTF-8 text") from None
    lines = source.split("\n")
    end = _end(lines)
    if not end:
        raise PageError(
            shown, 1, "no front matter", "begin with ---, then `title:` and `tab:`, then ---"
        )
    # the leading newline keeps the line numbers of the file
    tree, problems = read_text("\n" + "\n".join(lines[1:end]), shown)
    if problems:
        raise InventoryErrors(problems)
    try:
        front = FrontMatter.model_validate(tree)
    except ValidationError as error:
        raise InventoryErrors(explain.problems(error, FrontMatter, tree, shown)) from None
    return ContentFile(name, path, front)


def _end(lines: list[str]) -> int:
    """The line that closes the front matter; 0 where there is none."""
    if lines[0].strip() != "---":
        return 0
    return next((n for n, line in enumerate(lines[1:], start=1) if line.strip() == "---"), 0)


def without_front_matter(source: str) -> str:
    """The text below the front matter, on the lines on which it stands in the file."""
    lines = source.split("\n")
    end = _end(lines)
    return "\n" * (end + 1) + "\n".join(lines[end + 1 :]) if end else source
