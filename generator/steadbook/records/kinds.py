"""The kinds of record and their blanks: one table for flags, dialogue and CSV columns.

Imports nothing heavy, so that the command line can list the flags at once.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from steadbook.errors import QuantityError
from steadbook.records.entry import Value

Shape = Literal["text", "list", "amounts", "price"]


@dataclass(frozen=True)
class Blank:
    """One thing to fill in. ``asks`` is the question; ``is_asked`` puts it in the dialogue."""

    key: str
    asks: str
    shape: Shape = "text"
    is_needed: bool = False
    is_asked: bool = False

    @property
    def flag(self) -> str:
        """The option of the command line: `--old-meter`."""
        return "--" + self.key.replace("_", "-")


@dataclass(frozen=True)
class Kind:
    """A kind of record: its word on the command line, its list in the log, its blanks."""

    word: str
    log_key: str
    what: str
    blanks: tuple[Blank, ...]

    def blank(self, key: str) -> Blank | None:
        """The blank of a key."""
        return next((one for one in self.blanks if one.key == key), None)


DATE = Blank("date", "Date", is_asked=True)
NOTES = Blank("notes", "Notes")


def _needed(key: str, asks: str, shape: Shape = "text") -> Blank:
    return Blank(key, asks, shape, is_needed=True, is_asked=True)


MACHINE, TANK = _needed("machine", "Machine"), _needed("tank", "Tank")
SUPPLIER = _needed("supplier", "Supplier")

KINDS = {
    kind.word: kind
    for kind in (
        Kind("service", "services", "work done on a machine", (
            MACHINE,
            _needed("tasks", "Tasks done, such as oil-change", "list"),
            Blank("hours", "Hour meter, such as 1,432 h", is_asked=True),
            Blank("parts", 'Parts used, such as "oil-filter=1, engine-oil=3.2 qt"', "amounts",
                  is_asked=True),
            Blank("by", "Done by", is_asked=True),
            Blank("notes", "Notes", is_asked=True),
            DATE,
        )),
        Kind("reading", "readings", "an hour meter read", (
            MACHINE,
            _needed("hours", "Hour meter, such as 1,432 h"),
            Blank("old_meter", "Last reading of the meter that this one replaced"),
            NOTES,
            DATE,
        )),
        Kind("run", "runs", "a run of a machine", (
            MACHINE,
            _needed("duration", "How long it ran, such as 2.5 h"),
            Blank("load", "Load, such as 4 kW", is_asked=True),
            NOTES,
            DATE,
        )),
        Kind("fuel", "deliveries", "fuel delivered into a tank", (
            TANK,
            _needed("amount", "How much came, such as 320 gal or 1200 L"),
            Blank("before", "Gauge before, such as 30 %", is_asked=True),
            Blank("after", "Gauge after, such as 80 %", is_asked=True),
            Blank("supplier", "Supplier", is_asked=True),
            Blank("price", "Price paid, such as 750.00 USD (kept private)", "price", is_asked=True),
            NOTES,
            DATE,
        )),
        Kind("level", "levels", "a tank gauge read", (
            TANK,
            _needed("level", "Gauge, such as 62 %; also 120 gal, 450 L, or the propane's weight without the cylinder"),
            Blank("temperature", "Temperature of the liquid, such as 20 degF or -7 degC"),
            NOTES,
            DATE,
        )),
        Kind("order", "orders", "parts ordered", (
            SUPPLIER,
            _needed("parts", 'Parts ordered, such as "oil-filter=2"', "amounts"),
            Blank("promised", "Promised for the day", is_asked=True),
            Blank("back_order_until", "Supplier is out until the day"),
            NOTES,
            DATE,
        )),
        Kind("received", "orders", "an order that came", (
            SUPPLIER, Blank("ordered", "Day of the order, where several are open"), DATE,
        )),
        Kind("count", "counts", "a stock-take of a part", (
            _needed("part", "Part"),
            _needed("amount", "How much is on the shelf, such as 2 or 3.2 qt"),
            NOTES,
            DATE,
        )),
        Kind("measure", "measurements", "a value measured", (
            MACHINE, _needed("spec", "What was measured"), _needed("value", "Value with its unit"),
            Blank("at", "Where, such as cell A7 or cylinder 3"),
            NOTES, DATE,
        )),
        Kind("event", "events", "anything else worth keeping", (
            _needed("text", "What happened"),
            Blank("machine", "Machine", is_asked=True),
            NOTES,
            DATE,
        )),
    )
}  # fmt: skip


def read_blank(blank: Blank, text: str) -> Value:
    """What a person wrote in a blank, as the log holds it. Raises QuantityError.

    >>> read_blank(Blank("parts", "", "amounts"), "oil-filter=1, engine-oil=3.2 qt")
    {'oil-filter': '1', 'engine-oil': '3.2 qt'}
    """
    text = text.strip()
    if blank.shape == "list":
        return [word for word in re.split(r"[,;\s]+", text) if word]
    if blank.shape == "price":
        return {"price": text}
    if blank.shape == "text":
        return text
    amounts: dict[str, str] = {}
    for part in re.split(r"[,;]\s*(?=[^,;=]*=)", text):
        name, equals, amount = (word.strip() for word in part.partition("="))
        if not equals or not name or not amount or name in amounts:
            raise QuantityError(
                part.strip() or "nothing",
                "each part once, with its amount",
                'write name=amount, such as "oil-filter=1, engine-oil=3.2 qt"',
            )
        amounts[name] = amount
    return amounts


def entry_of(kind: Kind, filled: Mapping[str, Value]) -> dict[str, Value]:
    """The entry of the log, its keys in the order in which the log has them: date first."""
    entry: dict[str, Value] = {"date": filled["date"]}
    for blank in kind.blanks:
        value = filled.get(blank.key)
        if value and blank.key != "date":
            entry["private" if blank.shape == "price" else blank.key] = value
    return entry
