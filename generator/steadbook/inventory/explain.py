"""Pydantic's findings -> problems in plain words, with file and line."""

from __future__ import annotations

import difflib
import types
import typing
from dataclasses import replace
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic import BaseModel, RootModel, ValidationError
from pydantic_core import ErrorDetails

from steadbook import units
from steadbook.errors import Problem, QuantityError
from steadbook.inventory import braces
from steadbook.inventory.fields import NAME
from steadbook.inventory.read import Map, line_of

SHOW_AT_MOST = 14


Path = tuple[str | int, ...]


def problems(error: ValidationError, model: type[BaseModel], tree: Map, file: str) -> list[Problem]:
    """One problem for each finding of pydantic; one alone for a slip inside {braces}."""
    details = error.errors(include_url=False)
    slips: dict[Path, Problem] = {}
    told: set[Path] = set()
    for detail in details:
        loc = _loc(detail)
        path = _present(loc, tree)
        if path in told:
            continue
        slip = braces.slip(tree, path, _keys_at(model, loc[:-1]))
        if slip is not None:
            line = line_of(tree, slip.at)
            slips[slip.at] = Problem(
                file, line, dotted(slip.at), slip.found, slip.allowed, slip.fix
            )
            told |= slip.covers
    others = [one for one in details if _present(_loc(one), tree) not in told]
    return [*slips.values(), *(_problem(one, model, tree, file) for one in others)]


def _loc(detail: ErrorDetails) -> Path:
    return tuple(step for step in detail["loc"] if step != "[key]")


def _keys_at(model: type[BaseModel], loc: Path) -> frozenset[str] | None:
    """The keys known there; None where any name may stand."""
    owner = _model_at(model, loc)
    return frozenset(owner.model_fields) if owner else None


def _problem(detail: ErrorDetails, model: type[BaseModel], tree: Map, file: str) -> Problem:
    loc = _loc(detail)
    path = _present(loc, tree)
    if detail["type"] == "union_tag_invalid":
        path += ("kind",)
    found, allowed, fix = _words(detail, model, loc, path)
    return Problem(file, line_of(tree, path), dotted(path), found, allowed, fix)


def dotted(path: tuple[str | int, ...]) -> str:
    """The path of keys as messages show it: `services[3].hours`."""
    text = ""
    for step in path:
        text += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if text else step
    return text


def _present(loc: tuple[str | int, ...], tree: Any) -> tuple[str | int, ...]:
    """The path without pydantic's own steps (the tag of a union), plus a last key that is missing."""
    path: list[str | int] = []
    for number, step in enumerate(loc):
        inside = (isinstance(tree, Map) and step in tree) or (
            isinstance(tree, list) and isinstance(step, int) and step < len(tree)
        )
        if inside:
            tree = tree[step]
            path.append(step)
        elif number == len(loc) - 1 and (not isinstance(tree, Map) or tree.get("kind") != step):
            path.append(step)
    return tuple(path)


def nearest(word: str, allowed: typing.Iterable[str]) -> str:
    """`; did you mean ...?` for the allowed word nearest to ``word``, or nothing."""
    by_lower = {one.lower(): one for one in allowed}
    close = difflib.get_close_matches(word.lower(), by_lower, n=1, cutoff=0.6)
    return f"did you mean {by_lower[close[0]]!r}?" if close else ""


MEANT = {
    "array": ("panel", "photovoltaic", "pv", "solar"),
    "battery bank": ("batteries", "battery", "cells"),
    "genset": ("engine set", "gen"),
    "load": ("freezer", "fridge", "heater", "lamp", "refrigerator"),
    "other": ("breaker", "charger", "controller", "router", "switch"),
    "small engine": ("blower", "chainsaw", "mower", "saw", "tractor"),
    "tank": ("cistern", "drum", "vessel"),
    "well pump": ("pump",),
}
"""What people call a kind of machine."""


def _kind_words(word: str, kinds: list[str]) -> tuple[str, str, str]:
    """Found, allowed and fix for a `kind:` that there is not: all kinds, those it may mean first."""
    told = word.lower()
    near = [one for one in kinds if one in told or told in one.split()]
    near += [one for one, names in MEANT.items() if any(name in told.split() for name in names)]
    near += difflib.get_close_matches(told, kinds, n=2, cutoff=0.6)
    first = [one for one in dict.fromkeys(near) if one in kinds]
    allowed = ", ".join(dict.fromkeys([*first, *kinds]))
    guess = f"did you mean {first[0]!r}? " if first else ""
    return (
        word,
        allowed,
        f'{guess}What is none of them is `kind: other`; the help page "Keys of every machine" and '
        "those after it tell what each is for",
    )


NOT_US_FIRST = frozenset({"duration", "energy", "money", "power"})
"""Kinds whose two examples are no pair of US and metric."""


def in_own_units(problems: list[Problem], prefer: units.System) -> list[Problem]:
    """The problems with the examples of the home's own system of units first."""
    if prefer == "us":
        return problems
    return [replace(one, allowed=_metric_first(one.allowed)) for one in problems]


def _metric_first(text: str) -> str:
    for kind in units.KINDS.values():
        is_pair = len(kind.examples) == 2 and kind.name not in NOT_US_FIRST
        if is_pair and kind.allowed == text:
            first, second = kind.examples
            return text.replace(f"{first} or {second}", f"{second} or {first}")
    return text


def listing(words: typing.Iterable[str]) -> str:
    """A list for a message, cut where it gets long."""
    all_words = list(words)
    shown = ", ".join(all_words[:SHOW_AT_MOST])
    more = len(all_words) - SHOW_AT_MOST
    return f"{shown} and {more} more" if more > 0 else shown or "nothing yet"


def _words(
    detail: ErrorDetails,
    model: type[BaseModel],
    loc: tuple[str | int, ...],
    path: tuple[str | int, ...],
) -> tuple[str, str, str]:
    kind, value, context = detail["type"], detail["input"], detail.get("ctx", {})
    cause = context.get("error")
    if isinstance(cause, QuantityError):
        return _shown(cause.found), cause.allowed, cause.fix
    if kind == "extra_forbidden":
        owner = _model_at(model, loc[:-1])
        keys = sorted(owner.model_fields) if owner else []
        word = str(loc[-1])
        return (
            f"the unknown key {word!r}",
            listing(keys),
            nearest(word, keys) or "correct or remove the key; free words go under `notes:`",
        )
    if kind == "missing":
        return "nothing", f"the key {loc[-1]!r} is needed here", f"add `{loc[-1]}:` with its value"
    if kind in ("union_tag_invalid", "literal_error", "enum"):
        tags = [
            word.strip(" '")
            for word in str(context.get("expected_tags") or context.get("expected"))
            .replace(" or ", ", ")
            .split(",")
        ]
        if kind == "union_tag_invalid":
            return _kind_words(_shown(value["kind"]), tags)
        word = _shown(value)
        return word, listing(tags), nearest(word, tags) or "use one of these words"
    if kind == "union_tag_not_found":
        return "no `kind:`", "the key 'kind' is needed here", "add `kind:`, such as `kind: genset`"
    if kind == "string_pattern_mismatch" and context.get("pattern") == NAME:
        return (
            _shown(value),
            "a name of small letters, digits and single hyphens, such as oil-filter",
            "rename it; the name is used to refer to it and as a file name",
        )
    if kind in ("dict_type", "model_type", "model_attributes_type"):
        return (
            _shown(value),
            "a group of keys",
            "write `key: value` lines indented under it",
        )
    if kind == "list_type":
        return _shown(value), "a list", _as_list(value)
    if kind == "string_type":
        return _shown(value), "a text", "write the text on the same line"
    if kind in ("string_too_short", "string_too_long"):
        return _shown(value), "a text that is neither empty nor very long", "shorten or fill it"
    return _shown(value), detail["msg"], "correct the value"


def _as_list(value: Any) -> str:
    """How to write as a list what was written as words."""
    if not isinstance(value, str) or not value.strip() or set("[]{}\n") & set(value):
        return "write one `- ` item a line under it"
    return f"write [{', '.join(word.strip() for word in value.split(',') if word.strip())}]"


def _shown(value: Any) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return "a group of keys"
    if isinstance(value, list):
        return "a list"
    text = str(value).strip() or "nothing"
    return text if len(text) <= 80 else text[:77] + "..."


def _model_at(annotation: Any, loc: tuple[str | int, ...]) -> type[BaseModel] | None:
    """The model whose keys are asked for at ``loc`` under ``annotation``."""
    origin = get_origin(annotation)
    if origin is Annotated:
        return _model_at(get_args(annotation)[0], loc)
    if origin in (typing.Union, types.UnionType):
        options = [arg for arg in get_args(annotation) if arg is not type(None)]
        tagged = [arg for arg in options if loc and loc[0] in _tags(arg)]
        if tagged:
            return _model_at(tagged[0], loc[1:])
        return _model_at(options[0], loc)
    if origin is dict:
        return _model_at(get_args(annotation)[1], loc[1:])
    if origin is list:
        return _model_at(get_args(annotation)[0], loc[1:])
    if isinstance(annotation, type) and issubclass(annotation, RootModel):
        return _model_at(annotation.model_fields["root"].annotation, loc)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        if not loc:
            return annotation
        field = annotation.model_fields.get(str(loc[0]))
        return _model_at(field.annotation, loc[1:]) if field else None
    return None


def _tags(model: Any) -> tuple[str, ...]:
    field = getattr(model, "model_fields", {}).get("kind")
    return get_args(field.annotation) if field and get_origin(field.annotation) is Literal else ()
