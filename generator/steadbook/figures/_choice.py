"""One of a closed list, or an error that names the list."""

from __future__ import annotations

from typing import Any

from steadbook.errors import OutOfRange


def choice(table: dict[Any, Any], key: Any, quantity: str) -> Any:
    """The entry of a closed table, or `OutOfRange` naming what there is."""
    if key not in table:
        raise OutOfRange(quantity, key, "", "one of " + ", ".join(str(name) for name in table))
    return table[key]
