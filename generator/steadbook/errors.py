"""Every error Steadbook raises on purpose.

::

    SteadbookError
    ├── InventoryErrors     all problems of all files of site_data, together
    ├── QuantityError       a text that is not a number with a fitting unit   (also ValueError)
    ├── OutOfRange          a figure was asked outside its limits             (also ValueError)
    ├── PageError           a page of content/ cannot be composed: file, line, what to do
    ├── BindError           a site or binder cannot be made
    └── RecordError         an entry cannot be added to the log

Errors carry their parts as fields; the text is made in ``__str__``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass


class SteadbookError(Exception):
    """The root: catch this one to catch them all."""


# They move the cursor, clear the screen or turn the text: a message shows them as escapes.
_UNSEEN = re.compile("[\x00-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069]")


def visible(text: str) -> str:
    """``text`` on one line, with the characters written out that a terminal would obey.

    >>> visible("a\\x1b[2Jb")
    'a\\\\x1b[2Jb'
    """
    return _UNSEEN.sub(lambda found: ascii(found[0])[1:-1], text)


@dataclass(frozen=True, order=True, slots=True)
class Problem:
    """One thing that is wrong (or doubtful) at one place of the user's files.

    ``key`` is the path of keys to the entry, such as ``genset.drain plug.torque``.
    ``warning`` is true where the manual can still be made.
    """

    file: str
    line: int
    key: str
    found: str
    allowed: str
    fix: str
    warning: bool = False

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}" if self.line else self.file
        head = visible(f"{where}: {self.key}" if self.key else where)
        if self.warning:
            head += "  (warning)"
        found, allowed, fix = map(visible, (self.found, self.allowed, self.fix))
        return f"{head}\n  found:   {found}\n  allowed: {allowed}\n  fix:     {fix}"


class InventoryErrors(SteadbookError):
    """All problems of an inventory, sorted by file and line."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = sorted(problems)
        super().__init__(self.problems)

    def __str__(self) -> str:
        count = len(self.problems)
        tail = "1 problem found" if count == 1 else f"{count} problems found"
        return "\n\n".join([*(str(problem) for problem in self.problems), tail])


class QuantityError(SteadbookError, ValueError):
    """A text that cannot be read as the quantity expected."""

    def __init__(self, found: str, allowed: str, fix: str) -> None:
        self.found, self.allowed, self.fix = found, allowed, fix
        super().__init__(found, allowed, fix)

    def __str__(self) -> str:
        return f"found {self.found}; allowed is {self.allowed}; {self.fix}"


class OutOfRange(SteadbookError, ValueError):
    """A figure was asked for a value outside the limits in which it holds.

    >>> str(OutOfRange("burn rate", -1.0, "L/h", "more than 0"))
    'burn rate is -1.0 L/h; it must be more than 0'
    """

    def __init__(self, quantity: str, value: object, unit: str, limits: str) -> None:
        self.quantity, self.value, self.unit, self.limits = quantity, value, unit, limits
        super().__init__(quantity, value, unit, limits)

    def __str__(self) -> str:
        unit = f" {self.unit}" if self.unit else ""
        return f"{self.quantity} is {self.value}{unit}; it must be {self.limits}"


class PageError(SteadbookError):
    """A page of content/ cannot be composed."""

    def __init__(self, file: str, line: int, found: str, fix: str) -> None:
        self.file, self.line, self.found, self.fix = file, line, found, fix
        super().__init__(file, line, found, fix)

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}" if self.line else self.file
        return f"{where}\n  found:   {self.found}\n  fix:     {self.fix}"


class BindError(SteadbookError):
    """A site or a binder cannot be made."""


class RecordError(SteadbookError):
    """An entry cannot be added to the log."""
