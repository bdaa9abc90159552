"""A folder of site_data -> a checked `Homestead`, or all of its problems at once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from steadbook.errors import InventoryErrors, Problem
from steadbook.inventory import explain, models
from steadbook.inventory.check import check
from steadbook.inventory.check_climate import check_climate
from steadbook.inventory.climate import Climate, WhatIf
from steadbook.inventory.fields import NAME
from steadbook.inventory.homestead import Files, Homestead
from steadbook.inventory.kept import KeptYears
from steadbook.inventory.read import AsRead, Map, file_text, no_garbage_collection, read_text
from steadbook.inventory.redact import Edition, grant_problems, redact
from steadbook.inventory.year import Log, WrittenYear, Year

M = TypeVar("M", bound=BaseModel)
ALONE: dict[str, type[BaseModel]] = {
    "homestead": models.Place,
    "suppliers": models.Suppliers,
    "parts": models.Parts,
    "climate": Climate,
    "what-if": WhatIf,
}
# What a file that has errors may have named: references to it are not checked.
UNREAD: dict[str, set[str]] = {
    "homestead": {"person"},
    "suppliers": {"supplier"},
    "parts": {"part"},
    "climate": {"load"},
    "what-if": set(),
    "system": {"machine", "tank"},
    "log": {"reading"},
}


@no_garbage_collection()
def read_inventory(
    folder: Path,
    *,
    edition: Edition = "owner",
    as_of: date | None = None,
    procedures: frozenset[str] | None = None,
    changed: Mapping[Path, AsRead] | None = None,
    known: Files | None = None,
    kept: Path | None = None,
) -> Homestead:
    """Read and check the inventory in ``folder`` (a site_data).

    ``as_of`` is the day on which entries of the log may not yet lie in the future;
    ``procedures`` are the names of the pages that tasks may refer to (None: not checked).
    ``changed`` holds files as they were read that take the place of what is on the disk, and
    ``known`` the files of a reading before, from which all others are taken. ``kept`` is a folder
    in which years of the log are kept from one time to the next.
    Raises InventoryErrors with every problem of every file.
    """
    found: list[Problem] = []
    files = Files()
    parsed: dict[str, BaseModel] = {}
    years: list[Year] = []
    changed = changed or {}
    reader = _Reader(edition, as_of, KeptYears(kept if edition == "owner" else None), found)
    for path in _in_order(folder, {*_yaml_files(folder, found), *changed}):
        name = path.relative_to(folder.parent).as_posix()
        in_log = path.parent != folder
        if known and path not in changed and name in known.made:
            files.trees.take(name, known.trees)
            entry = known.made[name]
        else:
            entry = reader.entry(path, name, in_log, changed.get(path), files)
        files.made[name] = entry
        if entry is None:
            files.unread |= UNREAD[
                "log" if in_log else path.stem if path.stem in ALONE else "system"
            ]
        elif isinstance(entry, Year):
            years.append(entry)
        else:
            parsed[path.stem] = entry
    if f"{folder.name}/homestead.yaml" not in files.trees:
        found.append(_missing_file(folder, "homestead"))
    homestead = _assembled(folder, parsed, years, files, edition, found)
    found += check(homestead, as_of=as_of, procedures=procedures)
    found += check_climate(homestead)
    if any(not problem.warning for problem in found):
        raise InventoryErrors(explain.in_own_units(found, homestead.place.units))
    return replace(homestead, warnings=tuple(sorted(found))) if found else homestead


@dataclass
class _Reader:
    """Reads file by file; ``found`` gathers their problems."""

    edition: Edition
    as_of: date | None
    years: KeptYears
    found: list[Problem]

    def entry(
        self, path: Path, name: str, in_log: bool, new: AsRead | None, files: Files
    ) -> BaseModel | Year | None:
        """What a file holds, or None where it has errors. It is read where it is not ``new``."""
        if new is not None:
            text, tree, problems = new
        else:
            found, problems = file_text(path, name)
            if found is None:
                self.found += problems
                files.trees.put(name, Map(1))
                return None
            text = found
            year = self.years.find(path.stem, text) if in_log else None
            if year is not None:
                files.trees.put(name, lambda: read_text(text, name)[0])
                return year
            tree, problems = read_text(text, name)
        before = len(self.found)
        self.found += problems
        if self.edition == "owner":
            self.found += grant_problems(name, tree)
        tree = redact(tree, self.edition, self.as_of)
        files.trees.put(name, tree)
        if problems and not tree:
            return None
        entry = _validated(models.LogYear if in_log else _model_of(path), tree, name, self.found)
        if not isinstance(entry, models.LogYear):
            return entry
        written = WrittenYear(entry)
        if len(self.found) == before:
            self.years.keep(path.stem, text, written, tree)
        return written


def _model_of(path: Path) -> type[BaseModel]:
    return ALONE.get(path.stem, models.System)


def _missing_file(folder: Path, stem: str) -> Problem:
    return Problem(
        f"{folder.name}/{stem}.yaml",
        0,
        "",
        "no such file",
        "a homestead.yaml with the name and the place",
        "run `steadbook new DIR` to see one, or check that this is the right folder",
    )


def _yaml_files(folder: Path, found: list[Problem]) -> list[Path]:
    """The files; links that lead out of the folder are problems."""
    if not folder.is_dir():
        found.append(
            Problem(
                folder.name,
                0,
                "",
                "no such folder",
                "a folder site_data with the inventory",
                "run this inside a home, give it with --home, or make one: steadbook new DIR",
            )
        )
        raise InventoryErrors(found)
    kept = []
    for path in {*folder.rglob("*"), *(folder / "log").glob("*")}:  # the second follows a link
        inside = path.relative_to(folder)
        if path.suffix.lower() not in (".yaml", ".yml") or any(
            part.startswith(".")
            for part in inside.parts  # an editor's own files
        ):
            continue
        wrong = _wrong_place(folder, inside)
        if wrong is None:
            kept.append(path)
        else:
            found.append(Problem(path.relative_to(folder.parent).as_posix(), 0, "", *wrong))
    return kept


def _in_order(folder: Path, paths: Iterable[Path]) -> list[Path]:
    return sorted(paths, key=lambda path: (path.parent != folder, path))


def _wrong_place(folder: Path, inside: Path) -> tuple[str, str, str] | None:
    """Why a file is not read: what was found, what is allowed, how to fix it."""
    if inside.suffix != ".yaml":
        return f"a file ending in {inside.suffix}", "files ending in .yaml", "rename it"
    in_log = inside.parts[:-1] == ("log",)
    if len(inside.parts) > 1 and not in_log:
        return (
            f"a file in the folder {inside.parent.as_posix()!r}, which is not read",
            "files in site_data and in site_data/log",
            "move the file there, or give it another ending than .yaml",
        )
    if not in_log and not re.fullmatch(NAME, inside.stem):
        return (
            f"the file name {inside.stem!r}",
            "a name of small letters, digits and single hyphens, such as power",
            "rename the file; its name is the name of the system",
        )
    try:
        leads_out = not (folder / inside).resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError):  # a link to itself
        leads_out = True
    if leads_out:
        return (
            "a link that leads out of the folder",
            "files inside site_data",
            "put the file itself here",
        )
    return None


def _validated(model: type[M], tree: Map, name: str, found: list[Problem]) -> M | None:
    try:
        return model.model_validate(tree)
    except ValidationError as error:
        found += explain.problems(error, model, tree, name)
        return None


def _assembled(
    folder: Path,
    parsed: dict[str, BaseModel],
    years: list[Year],
    files: Files,
    edition: Edition,
    found: list[Problem],
) -> Homestead:
    def place_all(name: str, key: str, entries: dict[str, Any]) -> dict[str, Any]:
        for entry_name, entry in entries.items():
            files.places[id(entry)] = (name, (key, entry_name))
        return entries

    machines: dict[str, models.Machine] = {}
    systems: dict[str, models.System] = {}
    for stem, system in parsed.items():
        if not isinstance(system, models.System):
            continue
        name = f"{folder.name}/{stem}.yaml"
        systems[stem] = system
        place_all(name, "equipment", system.equipment)
        for key, machine in system.equipment.items():
            if key in machines:
                found.append(
                    files.problem(
                        machine,
                        (),
                        f"a second machine named {key!r} (the first is in {machines[key].system}.yaml)",
                        "each name once in all files",
                        "rename one of the two, also where the log refers to it",
                    )
                )
                continue
            machine._id, machine._system = key, stem
            machines[key] = machine
    suppliers = parsed.get("suppliers")
    parts = parsed.get("parts")
    place = parsed.get("homestead")
    if not isinstance(place, models.Place):  # its file has errors; this one only serves the checks
        nothing: dict[str, Any] = {}
        place = models.Place.model_construct(**nothing)
    climate, what_if = parsed.get("climate"), parsed.get("what-if")
    for stem, entry in (("climate", climate), ("what-if", what_if)):
        if entry is not None:
            files.places[id(entry)] = (f"{folder.name}/{stem}.yaml", ())
    files.places[id(place)] = (f"{folder.name}/homestead.yaml", ())
    return Homestead(
        place=place,
        systems=systems,
        machines=machines,
        suppliers=place_all(
            f"{folder.name}/suppliers.yaml",
            "suppliers",
            suppliers.suppliers if isinstance(suppliers, models.Suppliers) else {},
        ),
        parts=place_all(
            f"{folder.name}/parts.yaml",
            "parts",
            parts.parts if isinstance(parts, models.Parts) else {},
        ),
        log=Log(tuple(years)),
        climate=climate if isinstance(climate, Climate) else None,
        what_if=what_if if isinstance(what_if, WhatIf) else None,
        files=files,
        edition=edition,
    )
