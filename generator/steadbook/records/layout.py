"""Where new text goes in a YAML file, so that every other byte of it stays.

The parser's marks tell where things end. Text is only ever put in, at one place for each list;
nothing is written anew. More than one place may be offered, the likeliest first: where a text of
many lines ends the list, only reading the result tells which one is right.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, cast

import yaml

from steadbook.errors import RecordError
from steadbook.records.entry import Entry, block_lines, flow_text

try:
    from yaml import CSafeLoader as _Loader
except ImportError:  # a PyYAML built without libyaml
    from yaml import SafeLoader as _Loader  # type: ignore[assignment]

BYTE_ORDER_MARK = "\ufeff"
LONGEST_LINE = 150  # a longer entry gets a line a key


@dataclass(frozen=True)
class Insertion:
    """A text put in at a place, counted in characters from the beginning of the file."""

    at: int
    text: str

    def into(self, text: str) -> str:
        """The text with this one put in."""
        return text[: self.at] + self.text + text[self.at :]


@dataclass(slots=True)
class _Node:
    """A value of the file and where it stands, in characters.

    ``end`` lies after its last written character; ``last`` after that of the last thing inside
    (None where nothing is). ``is_text_block`` is true where it ends in a `|` or `>` text, whose
    end the parser sees only on a later line.
    """

    kind: str  # scalar, list or map
    is_flow: bool
    start: int
    column: int
    end: int = 0
    last: int | None = None
    is_text_block: bool = False
    items: list[_Node] = field(default_factory=list)
    keys: dict[str, _Node] = field(default_factory=dict)

    def take(self, child: _Node, key: str | None) -> None:
        """Take in what stands inside, in order."""
        if key is not None:
            self.keys[key] = child
        elif self.kind == "list":
            self.items.append(child)
        self.last, self.is_text_block = child.end, child.is_text_block


def appended(text: str, key: str, entries: Sequence[Entry]) -> Iterator[Insertion]:
    """The places for ``entries`` at the end of the list ``key``. Raises RecordError."""
    plain = _below_the_last_line(text, key, entries)
    if plain is not None:
        yield plain
    yield from _by_outline(text, key, entries)


def _below_the_last_line(text: str, key: str, entries: Sequence[Entry]) -> Insertion | None:
    """The likeliest place, found without the parser: in a list of entries in braces, a line each."""
    head = re.search(rf"^{key}:[ \t]*(#.*)?\r?$", text, re.MULTILINE)
    if head is None:
        return None
    after = re.compile(r"^[^\s#]", re.MULTILINE).search(text, head.end())
    at = after.start() if after else len(text)
    while at > head.end() + 1:
        begin = text.rfind("\n", head.end(), at - 1) + 1
        line = text[begin:at].strip()
        if line and not line.startswith("#"):
            break
        at = begin
    else:
        return None
    last = re.fullmatch(r"( *)- \{.*\}[ \t]*(#.*)?(\r?\n)", text[begin:at])
    if last is None:
        return None
    lines = _items(entries, len(last[1]), True)
    return Insertion(at, "".join(f"{one}{last[3]}" for one in lines))


def _by_outline(text: str, key: str, entries: Sequence[Entry]) -> list[Insertion]:
    file = _File(text)
    found = file.root.keys.get(key)
    if found is None:
        return file.with_new_list(key, entries)
    if found.kind == "list" and found.is_flow:
        return [file.inside(found, ", ".join(flow_text(one) for one in entries))]
    if found.kind == "list":
        in_braces = any(item.is_flow for item in found.items)
        return file.after(found, _items(entries, found.column, in_braces))
    if found.kind == "scalar" and found.start == found.end and not file.root.is_flow:
        return file.after(found, _items(entries, file.root.column + 2, True))
    raise RecordError(
        f"the list `{key}:`\n  found:   something else than a list\n"
        "  allowed: a list, an empty list `[]`, or nothing after the colon\n"
        f"  fix:     remove what stands after `{key}:`"
    )


def new_file(year: str, key: str, entries: Sequence[Entry]) -> str:
    """The text of a year's log that begins with these entries."""
    return "\n".join([f"# {year}", "", f"{key}:", *_items(entries, 2, True), ""])


def with_member(text: str, key: str, lines: Sequence[str]) -> list[Insertion]:
    """The places for a member of the map ``key``, given as lines, below its last one.

    A blank line stands before it. Raises RecordError.
    """
    file = _File(text)
    found = file.root.keys.get(key)
    if found is not None and found.kind == "map" and not found.is_flow:
        margin = " " * found.column
    elif found is not None and found.kind == "scalar" and found.start == found.end:
        margin = " " * (file.root.column + 2)
    else:
        raise RecordError(
            f"the map `{key}:`\n  found:   {'nothing of that name' if found is None else 'braces or a value'}\n"
            f"  allowed: `{key}:` with its members on lines of their own\n"
            f"  fix:     write `{key}:` on a line, and its members indented below it"
        )
    return file.after(found, ["", *(f"{margin}{line}" for line in lines)])


def with_key(text: str, list_key: str, number: int, key: str, value: str) -> list[Insertion]:
    """The places for ``key: value`` in one entry of a list. Raises RecordError."""
    file = _File(text)
    entry = file.root.keys[list_key].items[number]
    if key in entry.keys:
        raise RecordError(
            f"`{key}:` in an entry of `{list_key}:`\n  found:   the key, with nothing after it\n"
            f"  allowed: an entry without the key\n  fix:     write {value} there by hand"
        )
    if entry.is_flow:
        return [file.inside(entry, f"{key}: {value}")]
    return file.after(entry, [" " * entry.column + f"{key}: {value}"])


def _items(entries: Sequence[Entry], column: int, in_braces: bool) -> list[str]:
    margin, lines = " " * column, []
    for entry in entries:
        one_line = f"{margin}- {flow_text(entry)}"
        if in_braces and len(one_line) <= LONGEST_LINE:
            lines.append(one_line)
        else:
            first, *rest = block_lines(entry)
            lines += [f"{margin}- {first}", *(f"{margin}  {line}" for line in rest)]
    return lines


class _File:
    """A YAML file's text, its outline, and how it breaks its lines."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.shift = int(text.startswith(BYTE_ORDER_MARK))
        self.root, self.stop = _outline(text[self.shift :])
        first = next((place for place, one in enumerate(text) if one in "\r\n"), len(text))
        self.newline = "\r\n" if text.startswith("\r\n", first) else text[first : first + 1] or "\n"

    def inside(self, node: _Node, words: str) -> Insertion:
        """Put in before the closing bracket."""
        if node.last is None:
            return Insertion(node.start + 1 + self.shift, words)
        return Insertion(node.last + self.shift, f", {words}")

    def after(self, node: _Node, lines: list[str]) -> list[Insertion]:
        """Put in as lines of their own below the last line of a node."""
        end = (node.end if node.last is None else node.last) + self.shift
        if not node.is_text_block:
            return [self._lines(self._next_line(end), lines)]
        before_blanks = len(self.text[:end].rstrip())
        return [self._lines(at, lines) for at in (self._next_line(before_blanks), end)]

    def with_new_list(self, key: str, entries: Sequence[Entry]) -> list[Insertion]:
        """Put in as the last key of the file."""
        if self.root.is_flow:
            listed = ", ".join(flow_text(one) for one in entries)
            return [self.inside(self.root, f"{key}: [{listed}]")]
        column = self.root.column
        lines = [" " * column + f"{key}:", *_items(entries, column + 2, True)]
        at = len(self.text) if self.stop is None else self.stop + self.shift
        return [self._lines(at, ["", *lines]), self._lines(at, lines)]

    def _lines(self, at: int, lines: list[str]) -> Insertion:
        begun = at > 0 and self.text[at - 1] not in "\r\n"
        words = self.newline.join(lines) + self.newline
        return Insertion(at, self.newline + words if begun else words)

    def _next_line(self, at: int) -> int:
        while at < len(self.text) and self.text[at] not in "\r\n":
            at += 1
        if self.text.startswith("\r\n", at):
            return at + 2
        return min(at + 1, len(self.text))


def _outline(text: str) -> tuple[_Node, int | None]:
    """The nodes of a file, and where a document end `...` is written, if it is."""
    loader = _Loader(text)
    open_nodes: list[tuple[_Node, str | None]] = []  # with the key that each stands under
    waiting: list[str | None] = []  # for each open map: the key that waits for its value
    root, stop = None, None
    try:
        while loader.check_event():
            event: Any = loader.get_event()
            if isinstance(event, yaml.DocumentEndEvent) and event.explicit:
                stop = cast(Any, event.start_mark).index
            elif isinstance(event, yaml.ScalarEvent):
                if open_nodes[-1][0].kind == "map" and waiting[-1] is None:
                    waiting[-1] = event.value
                    continue
                open_nodes[-1][0].take(_scalar(event), waiting[-1])
                waiting[-1] = None
            elif isinstance(event, yaml.CollectionStartEvent):
                open_nodes.append((_collection(event), waiting[-1] if waiting else None))
                waiting.append(None)
            elif isinstance(event, yaml.CollectionEndEvent):
                node, key = open_nodes.pop()
                waiting.pop()
                _close(node, event)
                if open_nodes:
                    open_nodes[-1][0].take(node, key)
                    waiting[-1] = None
                else:
                    root = node
    finally:
        loader.dispose()
    assert root is not None
    return root, stop


def _scalar(event: Any) -> _Node:
    start, end = event.start_mark, event.end_mark
    return _Node(
        "scalar",
        False,
        start.index,
        start.column,
        end.index,
        is_text_block=event.style in ("|", ">"),
    )


def _collection(event: Any) -> _Node:
    kind = "list" if isinstance(event, yaml.SequenceStartEvent) else "map"
    return _Node(kind, event.flow_style, event.start_mark.index, event.start_mark.column)


def _close(node: _Node, event: Any) -> None:
    if node.is_flow:
        node.end, node.is_text_block = event.end_mark.index, False
    else:
        node.end = node.last if node.last is not None else node.start
