"""A figure that reaches a page: its value, how it was worked out, and from what."""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True)
class Input:
    """Something a figure was made from. ``where`` is file and line in the inventory, or ""."""

    name: str
    value: str
    where: str = ""


@dataclass(frozen=True)
class Figure:
    """A value with its working.

    ``key`` is unique in a manual (`main-genset.oil-change.due`, and `parts/oil.order-by` of a part,
    which may be called like a machine); ``value`` is what pages show;
    ``working`` is the calculation in steps, numbers in; ``source`` names the rule behind it.
    """

    key: str
    title: str
    value: str
    working: tuple[str, ...]
    inputs: tuple[Input, ...] = ()
    source: str = "definition"
    caution: str = ""

    @property
    def anchor(self) -> str:
        """The id of the figure's entry in the Workings; no name holds two hyphens in a row."""
        return "w-" + re.sub("[./]", "--", self.key).replace(" ", "-")
