"""`steadbook add`: a piece of equipment written into a system file, with the tasks to start from."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any, get_args

from steadbook.errors import RecordError
from steadbook.inventory import models
from steadbook.inventory.explain import listing, nearest
from steadbook.inventory.fields import NAME
from steadbook.inventory.load import ALONE
from steadbook.inventory.read import as_read, read_text
from steadbook.making import inventory_of
from steadbook.plate_examples import plate_example
from steadbook.records import journal, layout
from steadbook.records.entry import Value, block_lines, scalar
from steadbook.records.layout import BYTE_ORDER_MARK, Insertion
from steadbook.records.saving import FileChange, contents, locked

KIND_OF = {
    "well-pump": "well pump", "pressure-tank": "pressure tank", "cistern": "tank",
    "sediment-filter": "water filter", "carbon-filter": "water filter", "uv-lamp": "uv lamp",
    "water-line": "water line", "septic-tank": "septic tank", "wood-stove": "stove",
    "chimney": "chimney", "propane-tank": "tank", "propane-regulator": "regulator",
    "propane-cylinder": "cylinders", "gasoline-store": "tank", "diesel-store": "tank",
    "genset-spark-ignition": "genset", "genset-diesel": "genset",
    "flooded-battery-bank": "battery bank", "sealed-battery-bank": "battery bank",
    "lfp-battery-bank": "battery bank", "inverter": "inverter", "solar-array": "array",
    "fire-extinguisher": "extinguishers", "smoke-alarm": "alarms",
    "carbon-monoxide-alarm": "alarms", "propane-detector": "alarms",
    "first-aid-kit": "dated stores", "stored-food": "dated stores",
    "stored-water": "stored water", "chainsaw": "small engine", "snow-blower": "small engine",
    "tractor": "small engine", "utility-vehicle": "small engine", "water-pump": "small engine",
    "pressure-washer": "small engine", "roof": "roof", "brush-clearing": "building",
    "water-heater": "load", "propane-heater": "load",
}  # fmt: skip
"""The `kind:` of each kind of starter; `other` for those not named."""
PLATE_KNOWN = {
    "cistern": {"contents": "water"}, "propane-tank": {"contents": "propane"},
    "gasoline-store": {"contents": "gasoline"}, "diesel-store": {"contents": "diesel"},
    "smoke-alarm": {"senses": "smoke"}, "propane-detector": {"senses": "propane"},
    "carbon-monoxide-alarm": {"senses": "carbon monoxide"},
    "flooded-battery-bank": {"chemistry": "flooded"}, "lfp-battery-bank": {"chemistry": "LFP"},
    "genset-diesel": {"fuel": "diesel"},
}  # fmt: skip
"""What the name of the starter says of the plate already."""
FROM_MANUFACTURE = {"replace", "internal", "hydrostatic", "requalify"}
"""Tasks that count from the date on the unit while nothing is logged."""
EXPECTED_HOURS = {"uv-lamp": "8760 h"}
USUAL_HOURS = "50 h"
COMMENT_COLUMN = 34
FILE_OF = {"engines and tools": "engines", "house and land": "structure"}
"""System files of the sections that are not named like them."""


@dataclass(frozen=True)
class Starter:
    """A kind of equipment that can be added, with the tasks to start from."""

    name: str
    section: str
    title: str
    place: str
    hazards: tuple[str, ...]
    tasks: Mapping[str, Mapping[str, Any]]

    @property
    def kind(self) -> str:
        """Its `kind:` in the inventory."""
        return KIND_OF.get(self.name, "other")

    @property
    def usual_file(self) -> str:
        """The system file that such a machine usually stands in."""
        return f"{FILE_OF.get(self.section, self.section)}.yaml"


@dataclass(frozen=True)
class Added:
    """What was written: file, name of the entry, its text."""

    file: str
    name: str
    text: str


@cache
def starters() -> dict[str, Starter]:
    """Every kind of starter_tasks.yaml, in its order."""
    import yaml

    text = resources.files("steadbook").joinpath("starter_tasks.yaml").read_text("utf-8")
    sections, section = {}, ""
    for line in text.splitlines():
        if line.startswith("# ---"):
            section = line.strip("# -")
        elif re.fullmatch(r"[a-z0-9-]+:", line):
            sections[line[:-1]] = section
    return {
        name: Starter(
            name, sections[name], entry["title"], entry["place"],
            tuple(entry.get("hazards", ())), entry["tasks"],
        )
        for name, entry in yaml.safe_load(text).items()
    }  # fmt: skip


def chosen_starter(words: str) -> Starter:
    """The kind that a person means: `well pump`, `well-pump` or its title. Raises RecordError."""
    found = starters()
    key = re.sub(r"[^a-z0-9]+", "-", words.strip().lower()).strip("-")
    by_title = {re.sub(r"[^a-z0-9]+", "-", one.title.lower()): one for one in found.values()}
    for plural in (key, key.removesuffix("s")):
        if plural in found or plural in by_title:
            return found.get(plural) or by_title[plural]
    inside = [one for name, one in found.items() if key and key in name]
    if len(inside) == 1:
        return inside[0]
    fix = nearest(key, found) or "steadbook add --list shows all of them"
    raise RecordError(
        f"steadbook add {words!r}\n  found:   no kind of that name\n"
        f"  allowed: {listing([one.name for one in inside] or found)}\n  fix:     {fix}"
    )


def listed() -> str:
    """All kinds by section, for the terminal."""
    lines, section = [], ""
    for one in starters().values():
        if one.section != section:
            section = one.section
            lines += ["", section]
        count = f"{len(one.tasks)} task{'s' if len(one.tasks) > 1 else ''}"
        lines.append(f"  {one.name:<24} {one.title} ({count})")
    return "\n".join(lines[1:])


# --- the entry ------------------------------------------------------------------------------


def entry_lines(
    starter: Starter,
    name: str,
    *,
    title: str | None = None,
    installed: date | None = None,
    prefer: str = "us",
) -> list[str]:
    """The entry as lines, its name at the margin. Whoever adds it fills in the commented lines."""
    lines = [f"{name}:", f"  kind: {starter.kind}", f"  name: {_text(title or starter.title)}"]
    lines.append(f"  place: {_commented(_text(starter.place), 'where it stands')}")
    if installed:
        lines.append(f"  installed: {installed.isoformat()}")
    else:
        lines.append(
            "  # installed: 2024-06-01      # tasks count from this day until one is logged"
        )
    lines += ["  # make: as on the data plate", "  # model: as on the data plate"]
    if any(_by_hours(task) for task in starter.tasks.values()):
        hours = EXPECTED_HOURS.get(starter.name, USUAL_HOURS)
        lines.append(
            f"  meter: {{installed_at: 0 h, expected: {hours}}}   # its reading then; hours in a year"
        )
    lines += [f"  {line}" for line in plate_lines(starter, prefer)]
    if starter.hazards:
        lines.append(f"  hazards: [{', '.join(starter.hazards)}]")
    lines.append("  # how_to_stop: What shuts it off, and where that is.")
    lines.append("  tasks:   # your machine's manual goes before every interval here")
    for task_name, task in starter.tasks.items():
        lines.append(f"    {task_name}:")
        lines += [f"      {line}" for line in _task_lines(task_name, task)]
    return lines


def _text(words: str) -> str:
    return scalar(words, inside_brackets=False)


def _commented(value: str, words: str) -> str:
    return f"{value.ljust(COMMENT_COLUMN - 10)} # {words}"


def _by_hours(task: Mapping[str, Any]) -> bool:
    return any(re.search(r"\d h\b", str(task.get(key, ""))) for key in ("every", "first"))


def _task_lines(name: str, task: Mapping[str, Any]) -> list[str]:
    kept: dict[str, Value] = {}
    for key, value in task.items():
        if key == "steps":
            continue
        kept[key] = [str(one) for one in value] if isinstance(value, list) else str(value)
        if key == "every" and name in FROM_MANUFACTURE:
            kept["counts_from"] = "manufacture"
    return block_lines(kept)


# --- its plate, in comments -----------------------------------------------------------------


def plate_lines(starter: Starter, prefer: str = "us") -> Iterator[str]:
    """The plate: what is known, and every other key as a comment with an example."""
    plate = _plate_model(starter.kind)
    if plate is None:
        yield "# plate: {size: as on the data plate}"
        return
    known = PLATE_KNOWN.get(starter.name, {})
    schema = plate.model_json_schema()
    yield (
        "plate:"
        if known
        else "# plate:   # what the data plate says; leave out what you do not know"
    )
    for key, field in schema.get("properties", {}).items():
        if key in known:
            yield f"  {key}: {known[key]}"
            continue
        example = plate_example(starter.name, starter.kind, key, prefer)
        if example is None:
            example = _example(field, schema)
        if example:
            words = field.get("description", "")
            yield f"#   {key}: {example}".ljust(COMMENT_COLUMN if words else 0) + (
                f" # {words}" if words else ""
            )


def _plate_model(kind: str) -> Any:
    for model in get_args(get_args(models.AnyMachine)[0]):
        if get_args(model.model_fields["kind"].annotation) == (kind,):
            plate = model.model_fields["plate"].annotation
            return plate if hasattr(plate, "model_json_schema") else None
    return None


def _example(field: Mapping[str, Any], schema: Mapping[str, Any]) -> str | None:
    """A value that the key takes, from its schema; None for a group of keys."""
    for one in (field, *field.get("anyOf", ())):
        if "$ref" in one:
            return None
        if one.get("examples"):
            return str(one["examples"][0])
        if one.get("enum"):
            return "no" if "no" in one["enum"] else str(one["enum"][0])
        if one.get("const"):
            return str(one["const"])
        if one.get("minimum") == 0:
            return "2"
        if one.get("type") == "object":
            return _member_example(one, schema)
    return "as on the data plate" if any(
        one.get("type") == "string" and "pattern" not in one for one in field.get("anyOf", (field,))
    ) else None  # fmt: skip


def _member_example(field: Mapping[str, Any], schema: Mapping[str, Any]) -> str | None:
    """One member of a group of units, with the keys that it needs and its place."""
    inside = next(iter(field.get("patternProperties", {}).values()), None)
    inside = inside or field.get("additionalProperties") or {}
    if not isinstance(inside, dict):
        return None
    model = schema.get("$defs", {}).get(str(inside.get("$ref", "")).rsplit("/", 1)[-1])
    if model is None:
        return None
    wanted = [*model.get("required", ())]
    if "place" in model["properties"] and "place" not in wanted:
        wanted.insert(0, "place")
    values = {
        key: "Kitchen" if key == "place" else _example(model["properties"][key], schema)
        for key in wanted
    }
    if None in values.values():
        return None
    return "{first: {" + ", ".join(f"{key}: {value}" for key, value in values.items()) + "}}"


# --- into the file --------------------------------------------------------------------------


def add_equipment(
    home: Path,
    words: str,
    file: str | None,
    as_of: date,
    *,
    name: str | None = None,
    title: str | None = None,
    installed: date | None = None,
) -> Added:
    """Write the entry into a system file, the usual one if None; every other byte of it stays.

    A file that is not there yet is begun. The whole inventory is checked with the entry in it
    before anything is written. Raises RecordError, InventoryErrors.
    """
    starter = chosen_starter(words)
    path = _system_file(home, file or starter.usual_file)
    key = name or starter.name
    if not re.fullmatch(NAME, key):
        raise RecordError(
            f"--id {key}\n  found:   {key!r}\n"
            "  allowed: small letters, digits and single hyphens, such as well-pump\n"
            "  fix:     choose another name; the log and the links use it"
        )
    prefer = _preferred(home)
    lines = entry_lines(starter, key, title=title, installed=installed, prefer=prefer)
    with locked(home):
        before = contents(path)
        addition = _placed(path, before, key, lines)
        assert addition.change.after is not None
        _checked(home, path, addition.change.after, as_of)
        said = f"{starter.title} added as {key} to {path.name}"
        journal.keep(home, [addition], [said], as_of)
    return Added(path.relative_to(home).as_posix(), key, "\n".join(lines))


def _preferred(home: Path) -> str:
    """The units that the place prefers, as its file says; `us` while it cannot be read."""
    path = home / "site_data" / "homestead.yaml"
    tree = read_text(
        (contents(path) or b"").decode(errors="replace").removeprefix(BYTE_ORDER_MARK), path.name
    )[0]
    return str(dict(tree).get("units", "us"))


def _system_file(home: Path, file: str) -> Path:
    stem = file.removeprefix("site_data/").removesuffix(".yaml")
    alone = {*ALONE, "climate", "what-if"}
    if not re.fullmatch(NAME, stem) or stem in alone:
        folder = home / "site_data"
        known = sorted(path.name for path in folder.glob("*.yaml") if path.stem not in alone)
        raise RecordError(
            f"--to {file}\n  found:   {file!r}, which cannot hold equipment\n"
            f"  allowed: a system file of site_data ({listing(known)}) or a new one\n"
            "  fix:     name it by its system, such as --to water.yaml"
        )
    return home / "site_data" / f"{stem}.yaml"


def _placed(path: Path, before: bytes | None, key: str, lines: list[str]) -> journal.Addition:
    indented = [f"  {line}" for line in lines]
    if before is None:
        text = "\n".join(
            [f"title: {path.stem.replace('-', ' ').capitalize()}", "equipment:", *indented, ""]
        )
        return journal.Addition(FileChange(path, None, text.encode()), (Insertion(0, text),))
    try:
        text = before.decode()
    except UnicodeDecodeError:
        raise _no_place(path, "a file that is no UTF-8 text") from None
    tree = _tree(text, path)
    had = tree.get("equipment") or {}
    if key in had:
        raise RecordError(
            f"{path.name}\n  found:   {key!r} is in it already\n"
            "  allowed: each name once\n  fix:     choose another one with --id"
        )
    wanted = _tree("\n".join(lines), path)[key]
    for place in layout.with_member(text, "equipment", lines):
        new = place.into(text)
        found, problems = read_text(new.removeprefix(BYTE_ORDER_MARK), path.name)
        rest = {**found, "equipment": {k: v for k, v in (found.get("equipment") or {}).items() if k != key}}  # fmt: skip
        if not problems and found["equipment"].get(key) == wanted and rest == {**tree, "equipment": had}:  # fmt: skip
            return journal.Addition(FileChange(path, before, new.encode()), (place,))
    raise _no_place(path, "a layout in which no place for the entry was found")


def _tree(text: str, path: Path) -> dict[str, Any]:
    tree, problems = read_text(text.removeprefix(BYTE_ORDER_MARK), path.name)
    if problems:
        raise _no_place(path, f"{problems[0].found} (line {problems[0].line})")
    return dict(tree)


def _no_place(path: Path, found: str) -> RecordError:
    return RecordError(
        f"{path.name}\n  found:   {found}\n"
        "  allowed: a system file with one machine under the other below `equipment:`\n"
        "  fix:     correct the file (steadbook check), or put the entry in by hand"
    )


def _checked(home: Path, path: Path, after: bytes, as_of: date) -> None:
    text = after.decode().removeprefix(BYTE_ORDER_MARK)
    inventory_of(
        home, as_of=as_of, changed={path: as_read(text, path.relative_to(home).as_posix())}
    )
