"""The reference of the inventory's keys and units, made from the models, so that it stays true."""

from __future__ import annotations

import inspect
import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Annotated, Any, Literal

from markupsafe import Markup
from pydantic import BaseModel, StringConstraints, WithJsonSchema
from pydantic.fields import FieldInfo

from steadbook import units
from steadbook.figures.nomenclature import NOMENCLATURE
from steadbook.inventory.fields import NAME
from steadbook.inventory.models import AnyMachine, Machine, Owned, Private
from steadbook.inventory.schema import FILES
from steadbook.units.spelling import UNITS

EVERYWHERE = tuple(Owned.model_fields)  # notes and private are told once
LONG_TEXT = 1000  # characters; a text that may be longer is more than a line


@dataclass(frozen=True)
class Key:
    """One key: what it means, how it is written, an example, and whether it may be left out."""

    name: str
    meaning: str
    form: str
    examples: tuple[str, ...]
    needed: str
    group: str = ""  # the title of the section with the keys inside it

    @property
    def group_anchor(self) -> str:
        """The id of that section's heading."""
        return anchor(self.group)


@dataclass(frozen=True)
class Section:
    """A group of keys: where it stands, what it is about."""

    title: str
    about: str
    keys: tuple[Key, ...]
    takes_notes: bool

    @property
    def anchor(self) -> str:
        """The title as the id of its heading."""
        return anchor(self.title)


@dataclass(frozen=True)
class MachineKind:
    """A kind of machine: its own keys, beside those that every machine has."""

    word: str
    about: str
    sections: tuple[Section, ...]


@dataclass(frozen=True)
class UnitRow:
    """What is accepted where one kind of quantity is expected."""

    kind: str
    spelled: tuple[tuple[str, tuple[str, ...]], ...]  # unit, other spellings
    examples: tuple[str, ...]
    limits: str


def anchor(title: str) -> str:
    """A title as an id.

    >>> anchor("people: each")
    'people-each'
    """
    return "".join(
        char for char in title.lower().replace(" ", "-") if char.isalnum() or char == "-"
    )


def file_sections(kind: str) -> list[Section]:
    """The keys of a kind of file, such as `homestead`; for a system file those of every machine."""
    if kind == "private":
        return _walk(Private, "private", set())
    if kind == "machine":
        return _walk(Machine, "equipment: each", set())
    prefix = "what-if: " if kind == "what-if" else ""  # it shares a page with climate.yaml
    return _walk(FILES[kind], _file_name(kind), set(), prefix)


def _file_name(kind: str) -> str:
    return {"log": "log/YYYY.yaml", "system": "power.yaml and the like"}.get(kind, f"{kind}.yaml")


def machine_kinds() -> list[MachineKind]:
    """Every kind of machine, in the order of the models."""
    return [_machine_kind(model) for model in _members(typing.get_args(AnyMachine)[0])]


def unit_rows() -> list[UnitRow]:
    """Every kind of quantity with its units, their other spellings and its limits."""
    return [_unit_row(kind) for kind in units.KINDS.values()]


def starter_file(name: str) -> Markup:
    """The text of a file of a new home, for a block of code: an example that is known to be read."""
    folder = Path(str(resources.files("steadbook"))) / "starter" / "site_data"
    return Markup(folder.joinpath(*name.split("/")).read_text("utf-8").rstrip())


# --- walking through the models ---------------------------------------------------------------


def _walk(
    model: type[BaseModel], title: str, seen: set[type[BaseModel]], prefix: str = ""
) -> list[Section]:
    """The section of a model, then those of the groups inside it; machines stand elsewhere.

    ``prefix`` goes before the titles of the groups, where a page has several of one name.
    """
    seen.add(model)
    fields = {
        name: field
        for name, field in model.model_fields.items()
        if name not in EVERYWHERE or model is Private
    }
    found = [_section(model, title, fields, prefix)]
    for name, field in fields.items():
        for inner in _models_in(_written(field)):
            if inner not in seen and not issubclass(inner, Machine):
                found += _walk(inner, prefix + _group_title(name, field), seen, prefix)
    return found


def _machine_kind(model: type[BaseModel]) -> MachineKind:
    own = {
        name: field
        for name, field in model.model_fields.items()
        if name not in Machine.model_fields and name != "kind"
    }
    (word,) = typing.get_args(model.model_fields["kind"].annotation)
    prefix = f"{word}: "
    sections = [_section(model, word, own, prefix)]
    seen: set[type[BaseModel]] = {model}
    for name, field in own.items():
        for inner in _models_in(_written(field)):
            if inner not in seen:
                sections += _walk(inner, prefix + _group_title(name, field), seen, prefix)
    return MachineKind(word, _about(model), tuple(sections))


def _section(
    model: type[BaseModel], title: str, fields: dict[str, FieldInfo], prefix: str
) -> Section:
    keys = tuple(_key(name, field, prefix) for name, field in fields.items())
    return Section(title, _about(model), keys, issubclass(model, Owned))


def _about(model: type[BaseModel]) -> str:
    """The class's docstring, its code marks taken off."""
    return " ".join((inspect.getdoc(model) or "").replace("`", "").split())


def _key(name: str, field: FieldInfo, prefix: str) -> Key:
    annotation = _written(field)
    form, examples = _form(annotation)
    groups = [one for one in _models_in(annotation) if not issubclass(one, Machine)]
    return Key(
        name=name,
        meaning=(field.description or "").replace("`", ""),
        form=form,
        examples=examples,
        needed=_needed(field),
        group=prefix + _group_title(name, field) if groups else "",
    )


def _written(field: FieldInfo) -> Any:
    """The type of a field as the model has it, the marks of its outermost layer put back."""
    if not field.metadata:
        return field.annotation
    return Annotated[(field.annotation, *field.metadata)]


def _group_title(name: str, field: FieldInfo) -> str:
    many = any(typing.get_origin(one) in (list, dict) for one in _members(_written(field)))
    return f"{name}: each" if many else name


def _needed(field: FieldInfo) -> str:
    if field.is_required():
        return "yes"
    default = field.default
    if default is None or field.default_factory is not None:
        return "no"
    if isinstance(default, bool):
        default = "yes" if default else "no"
    return f"no: {default}"


def _members(annotation: Any) -> tuple[Any, ...]:
    """The members of a union without None; the type itself where it is none."""
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        return tuple(one for one in typing.get_args(annotation) if one is not type(None))
    return (annotation,)


def _models_in(annotation: Any) -> Iterator[type[BaseModel]]:
    """The models that a type holds, each once it is met."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    elif not any(
        isinstance(one, WithJsonSchema) for one in getattr(annotation, "__metadata__", ())
    ):
        for inner in typing.get_args(annotation):
            yield from _models_in(inner)


# --- how a value is written -------------------------------------------------------------------


def _form(annotation: Any) -> tuple[str, tuple[str, ...]]:
    """How a value of a type is written, in words, and examples."""
    members = _members(annotation)
    if len(members) > 1:
        return "one of several kinds of entry", ()
    (one,) = members
    origin = typing.get_origin(one)
    if origin is Annotated:
        return _annotated_form(*typing.get_args(one))
    if origin is Literal:
        words = typing.get_args(one)
        if words[0] == "January":
            return "a month", (words[0],)
        return f"one of: {', '.join(words)}", ()
    if origin is list:
        form, examples = _form(typing.get_args(one)[0])
        return f"a list; each: {form}", tuple(f"[{example}]" for example in examples[:1])
    if origin is dict:
        return _dict_form(*typing.get_args(one))
    if isinstance(one, type) and issubclass(one, BaseModel):
        return "a group of keys", ()
    raise TypeError(f"no words for {one!r}")


def _annotated_form(inner: Any, *metadata: Any) -> tuple[str, tuple[str, ...]]:
    for mark in metadata:
        if isinstance(mark, WithJsonSchema):
            return _schema_form(mark.json_schema or {})
        if isinstance(mark, StringConstraints):
            if mark.pattern == NAME:
                return "a name", ()
            long = (mark.max_length or 0) > LONG_TEXT
            return ("words, as many lines as needed" if long else "words"), ()
    return _form(inner)


def _schema_form(schema: dict[str, Any]) -> tuple[str, tuple[str, ...]]:
    """The words of a field type's own schema: `A torque with its unit, such as ...`."""
    said = str(schema["description"]).split(", such as ")[0].split(". ")[0].rstrip(".")
    said = said.replace(" with its unit", ", with its unit")
    return said[0].lower() + said[1:], tuple(map(str, schema.get("examples", ())))


def _dict_form(key: Any, value: Any) -> tuple[str, tuple[str, ...]]:
    if any(True for _ in _models_in(value)):
        return "a group of entries, each under its name", ()
    key_form, _ = _form(key)
    form, _ = _form(value)
    return f"pairs; before the colon {key_form}, after it {form}", ()


def _unit_row(kind: units.Kind) -> UnitRow:
    spelled = tuple(
        (unit, tuple(word for word in spellings[1:] if _worth_showing(word, unit))[:5])
        for unit, spellings in kind.spellings.items()
    )
    return UnitRow(kind.name, spelled, kind.examples, _limits(kind))


def _worth_showing(spelling: str, unit: str) -> bool:
    """Short spellings tell enough, and those of a unit that is made of others when they are its own."""
    if "/" in unit or "*" in unit:
        return spelling in UNITS[unit][1].split()
    return len(spelling) <= len(unit) + 4 and spelling.lower() != unit.lower()


def _limits(kind: units.Kind) -> str:
    said = []
    if kind.above is not None:
        said.append(f"more than {kind.above:g}")
    elif isinstance(kind.least, (int, float)):
        said.append(f"{kind.least:g} or more")
    elif kind.least:
        said.append("above absolute zero")
    if kind.most is not None:
        said.append(f"at most {kind.most:g}")
    if kind.whole:
        said.append("a whole number")
    said.append("one value or a range" if kind.ranges else "one value")
    return ", ".join(said)


def names() -> dict[str, Any]:
    """What the pages of help may name."""
    return {
        "key_sections": file_sections,
        "machine_kinds": machine_kinds,
        "unit_rows": unit_rows,
        "starter_file": starter_file,
        "nomenclature": NOMENCLATURE,
    }
