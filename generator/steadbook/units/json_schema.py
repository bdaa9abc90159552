"""A JSON Schema fragment for each kind, so that an editor can help."""

from __future__ import annotations

from typing import Any

from steadbook.units.kinds import KINDS


def schema(kind: str) -> dict[str, Any]:
    """A JSON Schema fragment for one kind, so that an editor can help; looser than `parse`."""
    expected = KINDS[kind]
    start = r"^\s*[-+\u2212\u2013]?\s*[0-9.½⅓⅔¼¾⅛⅜⅝⅞]"
    description = f"{expected.allowed[0].upper()}{expected.allowed[1:]}."
    if expected.units:
        description += f" Units: {', '.join(expected.units)}."
    fragment: dict[str, Any] = {
        "type": "string",
        "pattern": start + r".*[A-Za-z%°º℃℉\u2126Ω'\"′″”’].*$",
        "description": description,
        "examples": list(expected.examples),
    }
    if kind == "money":
        fragment["pattern"] = r"^\s*([A-Z]{3}\s*[0-9.].*|[0-9.].*[A-Z]{3})\s*$"
    elif not expected.units:
        fragment["type"] = ["integer" if expected.whole else "number", "string"]
        fragment["pattern"] = start + r"[^A-Za-z]*$"
    return fragment
