"""Steadbook: the systems manual of an off-grid homestead.

The names below are the public ones; each is loaded when it is first asked for.

>>> from datetime import date
>>> from pathlib import Path
>>> from steadbook import read_inventory, work_out
>>> homestead = read_inventory(Path("site_data"))  # doctest: +SKIP
>>> work_out(homestead, date(2026, 3, 1)).pressing()  # doctest: +SKIP
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from steadbook.errors import (
        BindError,
        InventoryErrors,
        OutOfRange,
        PageError,
        Problem,
        QuantityError,
        RecordError,
        SteadbookError,
    )
    from steadbook.inventory import Homestead, read_inventory
    from steadbook.workings import Workings, work_out

    __version__: str

__all__ = [
    "BindError",
    "Homestead",
    "InventoryErrors",
    "OutOfRange",
    "PageError",
    "Problem",
    "QuantityError",
    "RecordError",
    "SteadbookError",
    "Workings",
    "__version__",
    "read_inventory",
    "work_out",
]

_ROOMS = {
    "Homestead": "steadbook.inventory",
    "read_inventory": "steadbook.inventory",
    "Workings": "steadbook.workings",
    "work_out": "steadbook.workings",
}


def __getattr__(name: str) -> Any:
    if name == "__version__":
        from importlib import metadata  # costs more than all the rest

        return metadata.version("steadbook")
    if name not in __all__:
        raise AttributeError(f"module 'steadbook' has no attribute {name!r}")
    return getattr(import_module(_ROOMS.get(name, "steadbook.errors")), name)


def __dir__() -> list[str]:
    return __all__
