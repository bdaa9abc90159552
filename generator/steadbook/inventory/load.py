"""A folder of site_data -> a checked `Homestead`, or all of its problems at once."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from steadbook.errors import InventoryErrors, Problem
from steadbook.inventory import explain, models
from steadbook.inventory.check import check
from steadbook.inventory.homestead import Files, Homestead, Log
from steadbook.inventory.read import Map, read_file
from steadbook.inventory.redact import Edition, redact

M = TypeVar("M", bound=BaseModel)
ALONE: dict[str, type[BaseModel]] = {
    "homestead": models.Place,
    "suppliers": models.Suppliers,
    "parts": models.Parts,
}
NEEDED = ("homestead",)


def read_inventory(
    folder: Path,
    *,
    edition: Edition = "owner",
    as_of: date | None = None,
    procedures: frozenset[str] | None = None,
) -> Homestead:
    """Read and check the inventory in ``folder`` (a site_data).

    ``as_of`` is the day on which entries of the log may not yet lie in the future;
    ``procedures`` are the names of the pages that tasks may refer to (None: not checked).
    Raises InventoryErrors with every problem of every file.
    """
    found: list[Problem] = []
    files = Files()
    parsed: dict[str, BaseModel] = {}
    logs: list[tuple[str, models.LogYear]] = []
    for path in _yaml_files(folder, found):
        name = path.relative_to(folder.parent).as_posix()
        tree, troubles = read_file(path, name)
        found += troubles
        files.trees[name] = tree
        if not tree and troubles:
            continue
        model: type[BaseModel] = models.LogYear if path.parent != folder else _model_of(path)
        entry = _validated(model, redact(tree, edition), name, found)
        if entry is None:
            continue
        if isinstance(entry, models.LogYear):
            logs.append((name, entry))
        else:
            parsed[path.stem] = entry
    for stem in NEEDED:
        if not any(tree.endswith(f"/{stem}.yaml") for tree in files.trees):
            found.append(_missing_file(folder, stem))
    if any(not problem.warning for problem in found):
        raise InventoryErrors(found)
    homestead = _assembled(folder, parsed, logs, files, edition, found)
    found += check(homestead, as_of=as_of, procedures=procedures)
    if any(not problem.warning for problem in found):
        raise InventoryErrors(found)
    return replace(homestead, warnings=tuple(sorted(found)))


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
    """The files in a fixed order; links that lead out of the folder are problems."""
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
    root = folder.resolve()
    kept = []
    for path in [*sorted(folder.glob("*.y*ml")), *sorted((folder / "log").glob("*.y*ml"))]:
        name = path.relative_to(folder.parent).as_posix()
        if path.suffix == ".yml":
            found.append(
                Problem(name, 0, "", "a file ending in .yml", "files ending in .yaml", "rename it")
            )
        elif not path.resolve().is_relative_to(root):
            found.append(
                Problem(
                    name,
                    0,
                    "",
                    "a link that leads out of the folder",
                    "files inside site_data",
                    "put the file itself here",
                )
            )
        else:
            kept.append(path)
    return kept


def _validated(model: type[M], tree: Map, name: str, found: list[Problem]) -> M | None:
    try:
        return model.model_validate(tree)
    except ValidationError as error:
        found += explain.problems(error, model, tree, name)
        return None


def _assembled(
    folder: Path,
    parsed: dict[str, BaseModel],
    logs: list[tuple[str, models.LogYear]],
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
    place = parsed["homestead"]
    assert isinstance(place, models.Place)
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
        log=_whole_log(logs, files),
        files=files,
        edition=edition,
    )


def _whole_log(logs: list[tuple[str, models.LogYear]], files: Files) -> Log:
    lists: dict[str, list[Any]] = {key: [] for key in models.LogYear.model_fields}
    for name, year in logs:
        for key, entries in lists.items():
            for number, entry in enumerate(getattr(year, key)):
                files.places[id(entry)] = (name, (key, number))
                entries.append(entry)
    for entries in lists.values():
        entries.sort(key=lambda entry: entry.date)
    return Log(**{key: tuple(entries) for key, entries in lists.items()})
