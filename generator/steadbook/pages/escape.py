"""Data on a page shows as the text it is, wherever it lands.

Markdown paragraph, table cell, HTML block and attribute all understand character references, so
every character that means something to one of them is written as one.
"""

from __future__ import annotations

import re
from typing import Any

from markupsafe import Markup

from steadbook.errors import PageError
from steadbook.units.showing import symbol

_SPECIAL: dict[int, str | None] = {
    ord(char): f"&#{ord(char)};" for char in "&<>\"'`*_[]{}|\\#!~^$+"
}
# control characters, and those that turn the direction of the text after them
_SPECIAL |= {
    code: None
    for code in (
        *range(0x20),
        *range(0x7F, 0xA0),
        *range(0x202A, 0x202F),
        *range(0x2066, 0x206A),
        0x200E,
        0x200F,
    )
}
_SPECIAL |= {ord("\n"): " ", ord("\r"): " ", ord("\t"): " "}


def as_text(value: Any) -> Markup:
    """``value`` as text for a page. What is Markup already stays as it is.

    >>> as_text("a|b <script>")
    Markup('a&#124;b &#60;script&#62;')
    """
    if isinstance(value, Markup):
        return value
    if value is None:
        return Markup("")
    if isinstance(value, (dict, list, tuple, set, frozenset)) or hasattr(value, "model_fields"):
        raise PageError("", 0, "a whole object where a single value is shown", "name its field")
    return Markup(str(value).translate(_SPECIAL))


_TYPED_UNIT = re.compile(r"(?<![\w*])(?:lbf\*ft|lbf\*in|N\*m|inH2O|deg[FC])(?![\w*])")


def pretty(value: Any) -> Markup:
    """The user's words, a unit in them written as every other value of the pages has it.

    >>> pretty("torque wrench to 50 lbf*ft")
    Markup('torque wrench to 50 lbf·ft')
    """
    if isinstance(value, str) and not isinstance(value, Markup):
        return as_text(_TYPED_UNIT.sub(lambda unit: symbol(unit[0]), value))
    return as_text(value)


def paragraphs(value: str) -> Markup:
    """A long text of the inventory: blank lines part paragraphs, the rest is text."""
    blocks = [block for block in value.split("\n\n") if block.strip()]
    return Markup("\n\n").join(as_text(block.strip()) for block in blocks)


def verbatim(value: str) -> Markup:
    """A text to copy, line by line as it is.

    Every character with a meaning is written as a reference, so that no rule of Markdown applies.

    >>> verbatim("2 x <b>\\n\\n`end`")
    Markup('<pre><code>2 x &#60;b&#62;&#10;&#10;&#96;end&#96;</code></pre>')
    """
    lines = Markup("&#10;").join(as_text(line) for line in value.split("\n"))
    return Markup("<pre><code>{}</code></pre>").format(lines)


def phone_link(number: str | None) -> Markup:
    """A phone number to tap."""
    if not number:
        return Markup("")
    digits = "".join(char for char in number if char.isdigit() or char == "+")
    return Markup('<a href="tel:{}">{}</a>').format(digits, as_text(number))
