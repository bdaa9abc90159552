"""An entry of the log as YAML text, in braces on one line or a key a line."""

from __future__ import annotations

import re
from collections.abc import Mapping

Value = str | list[str] | dict[str, str]
Entry = Mapping[str, Value]

# Plain in any YAML: begins with a letter or digit and holds nothing that could mean something.
PLAIN = re.compile(r"[A-Za-z0-9][\w .,;!%/°()*'\"+=&-]*", re.ASCII)
TAKEN_FOR_ANOTHER = re.compile(r"(?i)y|n|yes|no|on|off|true|false|null")
ESCAPED = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def flow_text(entry: Entry) -> str:
    """`{date: 2026-11-20, machine: main-genset, hours: "1,432 h"}`."""
    return _braces({key: _flow_value(value) for key, value in entry.items()})


def block_lines(entry: Entry) -> list[str]:
    """A line a key; lists and amounts stay on one line."""
    return [
        f"{key}: {scalar(value, inside_brackets=False) if isinstance(value, str) else _flow_value(value)}"
        for key, value in entry.items()
    ]


def _flow_value(value: Value) -> str:
    if isinstance(value, str):
        return scalar(value, inside_brackets=True)
    if isinstance(value, list):
        return "[" + ", ".join(scalar(one, inside_brackets=True) for one in value) + "]"
    return _braces({key: scalar(one, inside_brackets=True) for key, one in value.items()})


def _braces(values: Mapping[str, str]) -> str:
    return "{" + ", ".join(f"{key}: {value}" for key, value in values.items()) + "}"


def scalar(text: str, *, inside_brackets: bool) -> str:
    """A text as YAML reads it back unchanged: plain where that is safe, else in double quotes.

    >>> scalar("3,412 h", inside_brackets=False), scalar("3,412 h", inside_brackets=True)
    ('3,412 h', '"3,412 h"')
    """
    plain = (
        PLAIN.fullmatch(text)
        and not text.endswith(" ")
        and not (inside_brackets and "," in text)
        and not TAKEN_FOR_ANOTHER.fullmatch(text)
    )
    return text if plain else '"' + "".join(_escaped(letter) for letter in text) + '"'


def _escaped(letter: str) -> str:
    if letter in ESCAPED:
        return ESCAPED[letter]
    if letter.isprintable() and letter not in "\N{ZERO WIDTH NO-BREAK SPACE}":
        return letter
    code = ord(letter)
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"
