"""Workings + content/ -> the finished Markdown pages of an edition."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from markupsafe import Markup

from steadbook.errors import InventoryErrors, PageError
from steadbook.inventory.models import Machine
from steadbook.inventory.redact import Edition
from steadbook.pages.abroad import told_abroad
from steadbook.pages.called import answers_to, home_answers_to
from steadbook.pages.cautions import Message, read_cautions
from steadbook.pages.environment import environment, render
from steadbook.pages.escape import as_text
from steadbook.pages.fault_paths import FaultPath, fault_paths
from steadbook.pages.faults import check_faults, chosen_faults, read_faults
from steadbook.pages.front_matter import ContentFile, read_content
from steadbook.pages.vocabulary import Vocabulary
from steadbook.workings import Workings

NOT_PAGES = ("parts/", "assets/")
TAB_ORDER = (
    "Start", "Today", "Rounds", "Schedule", "Wall sheet", "Power", "Fuel", "Water", "Heat", "Waste", "Safety",
    "Structure", "Engines", "Faults", "Procedures", "What to do", "Specs", "Stores", "Workings",
    "Help",
)  # fmt: skip


@dataclass(frozen=True)
class Page:
    """A finished page: its path under the site, its tab, its Markdown."""

    path: str
    title: str
    tab: str
    order: tuple[int, str]
    markdown: str
    landscape: bool = False
    in_binder: bool = True
    is_brief: bool = False

    @property
    def key(self) -> str:
        """The path as a name for ids: `power-main-genset`."""
        return self.path.removesuffix(".md").replace("/", "-")


@dataclass(frozen=True)
class Manual:
    """All pages of one edition, in the order of the binder, and the drawings they show."""

    title: str
    pages: tuple[Page, ...]
    drawings: dict[str, str] = field(default_factory=dict)

    def tabs(self) -> dict[str, list[Page]]:
        """The pages under each tab."""
        found: dict[str, list[Page]] = {}
        for page in self.pages:
            found.setdefault(page.tab, []).append(page)
        return found


def content_files(folders: list[Path]) -> list[ContentFile]:
    """The pages of all folders; of two with one name the first folder's counts."""
    chosen: dict[str, Path] = {}
    for folder in folders:
        for path in sorted(folder.rglob("*.md")):
            name = path.relative_to(folder).as_posix()
            if not name.startswith(NOT_PAGES) and path.resolve().is_relative_to(folder.resolve()):
                chosen.setdefault(name, path)
    return [read_content(path, name) for name, path in sorted(chosen.items())]


def compose(
    workings: Workings,
    files: list[ContentFile],
    folders: list[Path],
    *,
    kept: Path | None,
    machine: str | None = None,
) -> Manual:
    """Compose every page of the workings' edition.

    ``kept`` is a folder in which charts and compiled templates are kept from one build to the next
    (None: nothing is kept). ``machine`` leaves only what is about that machine, and what is about
    none but concerns everybody's safety. Raises PageError, InventoryErrors.
    """
    edition = workings.homestead.edition
    cautions = read_cautions(
        next(f for f in folders if (f / "cautions.yaml").exists()) / "cautions.yaml"
    )
    made = environment(folders, kept)
    paths = _checked_faults(workings, files, folders, cautions, machine)
    has = home_answers_to(workings.homestead.machines.values())
    planned = [
        (file, path.removeprefix(f"{edition}/"), subject)
        for file in files
        if edition in file.front.editions and _is_needed(file, workings, has)
        for path, subject in _expanded(file, workings, paths)
        if machine is None or _concerns(file, subject, workings.homestead.machines[machine])
    ]
    titles = {path: _title(file, subject, edition) for file, path, subject in planned}
    words = Vocabulary(workings, titles, cautions, kept)
    words.faults = paths
    words.only = machine
    words.procedure_titles = {
        file.stem: _own_title(file, edition) for file, _, _ in planned if file.is_procedure
    }
    is_abroad = workings.homestead.place.units == "metric"  # the United States alone are not
    pages = []
    for file, path, subject in planned:
        words.turn_to(path, subject)
        context = {
            **words.names(),
            **_subject_names(subject),
            "page": file.front,
            "title": titles[path],
        }
        if file.is_procedure:
            context["procedure"] = file
        text = render(made, file.name, context)
        if file.is_procedure:
            text = render(made, "parts/procedure.md", {**context, "steps": Markup(text)})
        if is_abroad:
            text = told_abroad(text)
        pages.append(
            Page(
                path=path,
                title=titles[path],
                tab=_tab(file, subject, edition),
                order=(file.front.order, path),
                markdown=f"# {as_text(titles[path])}\n\n{_tidy(text)}",
                landscape=file.front.landscape,
                in_binder=file.front.in_binder,
                is_brief=edition == "sitter",
            )
        )
    pages.sort(key=lambda page: (_tab_place(page.tab), page.tab, page.order))
    words.check_links()
    words.drawer.sweep()
    _refuse_two_pages(pages)
    return Manual(workings.homestead.place.name, tuple(pages), words.drawn)


@dataclass(frozen=True)
class SystemSubject:
    """What a page for `each: system` is about."""

    key: str
    title: str


Subject = Machine | SystemSubject | FaultPath | None


def _checked_faults(
    workings: Workings,
    files: list[ContentFile],
    folders: list[Path],
    cautions: dict[str, Message],
    machine: str | None,
) -> list[FaultPath]:
    """The faults of the edition. Raises InventoryErrors."""
    found = read_faults(folders)
    problems = check_faults(
        found,
        procedures={file.stem for file in files if file.is_procedure},
        cautions=cautions,
        people=workings.homestead.place.people,
    )
    if problems:
        raise InventoryErrors(problems)
    return fault_paths(workings.homestead, chosen_faults(found), machine)


def _concerns(file: ContentFile, subject: Subject, machine: Machine) -> bool:
    """Whether a page belongs to the manual of one machine."""
    if isinstance(subject, Machine):
        return subject.id == machine.id
    if isinstance(subject, FaultPath):
        return True
    return _names(machine, file) or file.front.any_machine


def _expanded(
    file: ContentFile, workings: Workings, faults: list[FaultPath]
) -> Iterator[tuple[str, Subject]]:
    homestead = workings.homestead
    if file.front.each == "fault":
        for fault in faults:
            yield posixpath.join(posixpath.dirname(file.name), f"{fault.key}.md"), fault
        return
    if file.front.each == "machine":
        folder = posixpath.dirname(file.name)
        for machine in homestead.machines.values():
            yield posixpath.join(folder, machine.system, f"{machine.id}.md"), machine
    elif file.front.each == "system":
        for key, system in homestead.systems.items():
            yield f"{file.name.removesuffix('.md')}-{key}.md", SystemSubject(key, system.title)
    elif file.front.machine_kind is not None:
        yield from _for_machines(file, workings)
    else:
        yield file.name, None


def _for_machines(file: ContentFile, workings: Workings) -> Iterator[tuple[str, Subject]]:
    """A procedure once for each machine whose tasks name it; if none does, for each of its kind."""
    for_sitter = workings.homestead.edition == "sitter"  # who minds the place runs no spare
    machines = [m for m in workings.homestead.machines.values() if not (for_sitter and m.spare)]
    chosen = [m for m in machines if _names(m, file)]
    if not chosen and not file.front.needs_task:
        kind, only = file.front.machine_kind, file.front.only_with
        chosen = [m for m in machines if getattr(m, "kind", "") == kind]
        chosen = [m for m in chosen if not only or answers_to(m).intersection(only)]
    for machine in chosen:
        suffix = f"-{machine.id}" if len(chosen) > 1 else ""
        yield file.name.removesuffix(".md") + suffix + ".md", machine


def _is_needed(file: ContentFile, workings: Workings, has: set[str]) -> bool:
    """Whether the home has such a machine and the workings something of what the page is about."""
    only, machines = file.front.only_with, workings.homestead.machines.values()
    if only and not has.intersection(only) and not any(_names(m, file) for m in machines):
        return False
    found: Any = workings
    for name in (file.front.needs or "").split(".") if file.front.needs else ():
        if found is None:
            return False
        if not hasattr(found, name):
            raise PageError(
                f"content/{file.name}", 1, f"`needs: {file.front.needs}`, which is not worked out",
                "correct it, or remove the line",
            )  # fmt: skip
        found = getattr(found, name)
    return bool(found) or file.front.needs is None


def _names(machine: Machine, file: ContentFile) -> bool:
    """Whether a task of the machine names this procedure."""
    return file.is_procedure and any(t.procedure == file.stem for t in machine.tasks.values())


def _own_title(file: ContentFile, edition: Edition) -> str:
    return (file.front.short if edition == "sitter" else None) or file.front.title


def _title(file: ContentFile, subject: Subject, edition: Edition) -> str:
    title = _own_title(file, edition)
    if isinstance(subject, FaultPath):
        return subject.title
    if isinstance(subject, SystemSubject):
        return f"{title}: {subject.title}"
    if isinstance(subject, Machine):
        return subject.name if file.front.each else f"{title}: {subject.name}"
    return title


def _tab(file: ContentFile, subject: Subject, edition: Edition) -> str:
    if edition == "sitter" and file.front.tab in ("Faults", "Procedures"):
        return "What to do"
    if file.front.each == "machine" and isinstance(subject, Machine):
        return subject.system.capitalize()
    return file.front.tab


def _tab_place(tab: str) -> int:
    return TAB_ORDER.index(tab) if tab in TAB_ORDER else TAB_ORDER.index("What to do")


def _subject_names(subject: Subject) -> dict[str, Any]:
    if isinstance(subject, Machine):
        return {"machine": subject}
    if isinstance(subject, SystemSubject):
        return {"system": subject}
    if isinstance(subject, FaultPath):
        return {"fault": subject}
    return {}


def _tidy(text: str) -> str:
    """No more than one blank line in a row, one newline at the end."""
    return re.sub(r"\n[ \t]*(\n[ \t]*)+\n", "\n\n", text).strip() + "\n"


def _refuse_two_pages(pages: list[Page]) -> None:
    """Two pages may not land on one path."""
    seen: set[str] = set()
    for page in pages:
        if page.path in seen:
            raise PageError(
                f"content/{page.path}", 0, "two pages for one path", "rename one of the two"
            )
        seen.add(page.path)
