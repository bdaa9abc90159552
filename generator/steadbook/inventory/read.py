"""YAML files -> plain values that remember their lines.

Every scalar stays the text that the person wrote (`on`, `1:30`, `012` and `1.10` keep their
meaning); only an empty value, `~` and `null` are "nothing". The file is read event by event, so
nesting, aliases and duplicate keys are seen before anything is built of them.
"""

from __future__ import annotations

import gc
import re
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

import yaml
from yaml.reader import Reader

from steadbook.errors import Problem

try:
    from yaml import CSafeLoader as _Loader
except ImportError:  # a PyYAML built without libyaml: slower, same events
    from yaml import SafeLoader as _Loader  # type: ignore[assignment]

LARGEST_FILE = 20_000_000
DEEPEST = 40
CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f]")  # all but tab and line end
NOTHING = {"", "~", "null", "Null", "NULL"}


class Map(dict[str, Any]):
    """A mapping that knows the line of each of its keys (``lines``) and its own (``line``)."""

    __slots__ = ("line", "lines")

    def __init__(self, line: int = 0) -> None:
        super().__init__()
        self.line = line
        self.lines: dict[str, int] = {}


class Seq(list[Any]):
    """A list that knows the line of each of its items."""

    __slots__ = ("line", "lines")

    def __init__(self, line: int = 0) -> None:
        super().__init__()
        self.line = line
        self.lines: list[int] = []


def line_of(tree: Any, path: tuple[str | int, ...]) -> int:
    """Line of the deepest part of ``path`` that ``tree`` has; steps it lacks are passed over."""
    line = getattr(tree, "line", 1)
    for step in path:
        if isinstance(tree, Map) and step in tree.lines:
            line, tree = tree.lines[str(step)], tree[str(step)]
        elif isinstance(tree, Seq) and isinstance(step, int) and step < len(tree.lines):
            line, tree = tree.lines[step], tree[step]
    return line


class AsRead(NamedTuple):
    """A text with what it holds and what is wrong with it."""

    text: str
    tree: Map
    problems: list[Problem]


def as_read(text: str, name: str) -> AsRead:
    """A text, read as `read_text` does."""
    return AsRead(text, *read_text(text, name))


class _Stop(Exception):
    def __init__(self, line: int, found: str, allowed: str, fix: str, key: str = "") -> None:
        self.problem = (line, key, found, allowed, fix)


def read_file(path: Path, name: str) -> tuple[Map, list[Problem]]:
    """The mapping in a YAML file, and what is wrong with it.

    ``name`` is how messages call the file. A file that cannot be used at all gives an empty
    mapping and one problem.
    """
    text, problems = file_text(path, name)
    return (Map(1), problems) if text is None else read_text(text, name)


def file_text(path: Path, name: str) -> tuple[str | None, list[Problem]]:
    """The text of a file; where it has none, the problem."""
    try:
        return _text(path), []
    except _Stop as stop:
        return None, [Problem(name, *stop.problem)]


def read_text(text: str, name: str) -> tuple[Map, list[Problem]]:
    """As `read_file`, of a text already in hand."""
    builder = _Builder(name)
    try:
        with no_garbage_collection():
            _feed(builder, text)
        return builder.result(), builder.problems
    except _Stop as stop:
        return Map(1), [*builder.problems, Problem(name, *stop.problem)]


def _text(path: Path) -> str:
    try:
        size = path.stat().st_size
        if not path.is_file():
            raise _Stop(
                0,
                "something that is not a file",
                "a file",
                "put the file itself here, or give the folder a name that does not end in .yaml",
            )
        if size > LARGEST_FILE:
            raise _Stop(
                0,
                f"a file of {size / 1e6:.0f} MB",
                f"at most {LARGEST_FILE / 1e6:.0f} MB a file",
                "keep one log file a year; remove what is not inventory",
            )
        raw = path.read_bytes()
    except OSError as error:
        raise _Stop(
            0,
            f"the file cannot be read ({error.strerror or error})",
            "a file that this user may read",
            "check that the file is still there and its permissions",
        ) from None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _Stop(
            raw[: error.start].count(b"\n") + 1,
            f"the byte 0x{raw[error.start]:02x}, which is not UTF-8 text",
            "UTF-8 text",
            "save the file again with the encoding UTF-8 in your editor",
        ) from None


@contextmanager
def no_garbage_collection() -> Iterator[None]:
    """Many small objects are made and all are kept: collecting would cost more than the reading."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _feed(builder: _Builder, text: str) -> None:
    loader = _Loader(text)
    try:
        while loader.check_event():
            builder.take(loader.get_event())
    except yaml.YAMLError as error:
        raise _syntax(error, text) from None
    finally:
        loader.dispose()


class _Builder:
    """Builds the tree from the parser's events."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.problems: list[Problem] = []
        self.root: Any = None
        self.open: list[Map | Seq] = []
        self.key: list[tuple[str, int] | None] = []  # for each open mapping: the key that waits
        self.documents = 0

    def take(self, event: Any) -> None:
        kind = type(event)
        if kind is yaml.ScalarEvent:
            self._scalar(event)
        elif kind in (yaml.MappingStartEvent, yaml.SequenceStartEvent):
            self._begin(event, Map if kind is yaml.MappingStartEvent else Seq)
        elif kind in (yaml.MappingEndEvent, yaml.SequenceEndEvent):
            self.open.pop()
            self.key.pop()
        elif kind is yaml.AliasEvent:
            raise _Stop(
                event.start_mark.line + 1,
                f"the alias *{event.anchor}",
                "plain values, written out",
                "write the value out here; anchors and aliases are not used in an inventory",
            )
        elif kind is yaml.DocumentStartEvent:
            self.documents += 1
            if self.documents > 1:
                raise _Stop(
                    event.start_mark.line + 1,
                    "a second document (`---`)",
                    "one document a file",
                    "remove the line `---` or move what follows to a file of its own",
                )

    def _waits_for_key(self) -> bool:
        return bool(self.open) and isinstance(self.open[-1], Map) and self.key[-1] is None

    def _scalar(self, event: Any) -> None:
        line = event.start_mark.line + 1
        if event.tag is not None and event.tag != "!":
            raise _tag(event.tag, line)
        if event.style == '"' and CONTROL.search(event.value):  # written as an escape
            raise _control_character(line, "delete what stands for it after a backslash")
        if self._waits_for_key():
            self.key[-1] = (event.value, line)
            return
        nothing = event.implicit[0] and event.value in NOTHING
        self._place(None if nothing else event.value, line)

    def _begin(self, event: Any, kind: type[Map] | type[Seq]) -> None:
        line = event.start_mark.line + 1
        if event.tag is not None:
            raise _tag(event.tag, line)
        if len(self.open) >= DEEPEST:
            raise _too_deep(line)
        if self._waits_for_key():
            raise _Stop(
                line,
                "a list or mapping used as a key",
                "a word as a key",
                "write `key: value`; quote text that begins with [ or {",
            )
        value = kind(line)
        self._place(value, line)
        self.open.append(value)
        self.key.append(None)

    def _place(self, value: Any, line: int) -> None:
        if not self.open:
            self.root = value
            return
        top = self.open[-1]
        if isinstance(top, Seq):
            top.append(value)
            top.lines.append(line)
            return
        waiting = self.key[-1]
        assert waiting is not None
        self.key[-1] = None
        key, line = waiting
        if key in top:
            self.problems.append(
                Problem(
                    self.name,
                    line,
                    self._path(key),
                    f"the key {key!r} a second time (first on line {top.lines[key]})",
                    "each key once",
                    "rename or remove one of the two; the second would silently win",
                )
            )
            return
        top[key] = value
        top.lines[key] = line

    def _path(self, key: str) -> str:
        """The path of keys to a key of the innermost mapping."""
        path = ""
        for outer, inner in pairwise(self.open):
            if isinstance(outer, Seq):
                path += f"[{len(outer)}]"
            else:  # the key placed last, unless a second one of its name holds the inner mapping
                last = next(reversed(outer), "")
                path += f".{last}" if outer.get(last) is inner else ""
        return f"{path}.{key}".lstrip(".")

    def result(self) -> Map:
        if self.root is None:
            raise _Stop(
                1,
                "an empty file",
                "`key: value` entries",
                "fill the file, or delete it if it is not needed",
            )
        if not isinstance(self.root, Map):
            raise _Stop(
                1,
                "a list or a single text at the top of the file",
                "`key: value` entries",
                "begin with a key, such as `equipment:`",
            )
        return self.root


def _too_deep(line: int) -> _Stop:
    return _Stop(
        line,
        f"nesting more than {DEEPEST} levels deep",
        f"at most {DEEPEST} levels",
        "check the indentation and the brackets above this line",
    )


def _control_character(line: int, fix: str) -> _Stop:
    return _Stop(line, "a control character", "printable text", fix)


def _tag(tag: str, line: int) -> _Stop:
    return _Stop(
        line,
        f"the tag {tag}",
        "plain values without tags",
        "remove the tag; put quotation marks around text that begins with !",
    )


def _syntax(error: yaml.YAMLError, text: str) -> _Stop:
    mark = getattr(error, "problem_mark", None)
    if mark is None:  # the reader met a character that YAML does not allow
        hidden = Reader.NON_PRINTABLE.search(text)
        line = text[: hidden.start() if hidden else 0].count("\n") + 1
        return _control_character(line, "delete the invisible character on this line")
    line = mark.line + 1
    lines = text.splitlines()
    words = lines[mark.line].strip() if mark.line < len(lines) else "the end of the file"
    problem = str(getattr(error, "problem", "") or "").lower()
    if "nesting depth" in problem:  # libyaml's own limit, met while it looks ahead
        return _too_deep(line)
    # libyaml may point at the line after the tab, so look at the two above as well
    for number in range(max(0, mark.line - 2), min(len(lines), mark.line + 1)):
        indent = lines[number][: len(lines[number]) - len(lines[number].lstrip())]
        if "\t" in indent:
            return _Stop(
                number + 1,
                "a tab character in the indentation",
                "spaces only",
                "replace each tab by two spaces",
            )
    fix = (
        "check this line and the one above: indentation, a missing colon, an open quote or bracket"
    )
    if "mapping values are not allowed" in problem:
        fix = "put quotation marks around text that contains a colon followed by a space"
    elif "could not find expected ':'" in problem or "simple key" in problem:
        fix = "write `key: value` with a colon and a space; check the line above as well"
    elif "unexpected end of stream" in problem or "quoted scalar" in problem:
        fix = "close the quotation mark that is open"
    return _Stop(line, f"`{words[:60]}`, which is not YAML ({problem})", "YAML", fix)
