"""How a figure declares its units and guards its limits."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from steadbook.errors import OutOfRange

F = TypeVar("F", bound=Callable[..., Any])


def units(*, returns: str, **arguments: str) -> Callable[[F], F]:
    """Declare the unit of each argument and of the result of a figure.

    The function is returned unchanged, with the declaration as ``__units__``; a test holds it
    against the bracketed units of the docstring. Use ``""`` for what has no unit.
    """

    def declare(function: F) -> F:
        function.__units__ = {**arguments, "returns": returns}  # type: ignore[attr-defined]
        return function

    return declare


def require(good: Any, quantity: str, value: Any, unit: str, limits: str) -> None:
    """Raise `OutOfRange` unless ``good`` holds everywhere; names the first value that fails."""
    if good is True:
        return
    import numpy as np  # plain numbers come this far only when they fail

    good = np.asarray(good)
    if not good.all():
        values = np.broadcast_to(np.asarray(value), good.shape)
        first = values[~good].flat[0]
        raise OutOfRange(quantity, first.item() if hasattr(first, "item") else first, unit, limits)
