"""From a home on disk to its finished pages: the one path that site, binder and commands share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from steadbook.content import content_folders, procedure_names
from steadbook.errors import BindError, Problem
from steadbook.inventory import Homestead, read_inventory
from steadbook.inventory.explain import listing, nearest
from steadbook.inventory.homestead import Files
from steadbook.inventory.kept import KeptYears
from steadbook.inventory.read import AsRead
from steadbook.inventory.redact import Edition
from steadbook.workings import Workings, work_out

if TYPE_CHECKING:
    from steadbook.pages import Manual


@dataclass(frozen=True)
class Made:
    """What was made of a home."""

    workings: Workings
    manual: Manual
    doubts: tuple[Problem, ...]  # what is perhaps wrong, though the manual could be made


def kept_folder(home: Path) -> Path:
    """Where a home keeps what need not be made again; it may be deleted at any time."""
    return home / "build" / ".kept"


def kept_years(home: Path) -> KeptYears:
    """Years of a home's log as they were read."""
    return KeptYears(kept_folder(home) / "log")


def kept_winters(home: Path) -> Path:
    """Where a home keeps its made-up winters."""
    return home / "build" / ".winter"


def inventory_of(
    home: Path,
    *,
    as_of: date,
    edition: Edition = "owner",
    changed: Mapping[Path, AsRead] | None = None,
    known: Files | None = None,
) -> Homestead:
    """A home's inventory, checked. ``changed`` and ``known`` as in `read_inventory`.

    Raises InventoryErrors.
    """
    return read_inventory(
        home / "site_data",
        edition=edition,
        as_of=as_of,
        procedures=procedure_names(content_folders(home)),
        changed=changed,
        known=known,
        kept=kept_years(home).folder,
    )


def worked_out(home: Path, *, as_of: date, edition: Edition = "owner") -> Workings:
    """A home's inventory, checked, with its figures. Raises InventoryErrors."""
    inventory = inventory_of(home, as_of=as_of, edition=edition)
    return work_out(inventory, as_of, kept=kept_winters(home))


def made_manual(
    home: Path, *, as_of: date, edition: Edition = "owner", machine: str | None = None
) -> Made:
    """All pages of a home's manual, or of one machine. Raises InventoryErrors, PageError."""
    from steadbook.pages import compose, content_files
    from steadbook.workings.doubts import doubts
    from steadbook.workings.fuel_drift import drift_doubts

    workings = worked_out(home, as_of=as_of, edition=edition)
    folders = content_folders(home)
    homestead = workings.homestead
    if machine is not None and machine not in homestead.machines:
        raise BindError(
            f"--machine {machine}\n  found:   no machine of that name\n"
            f"  allowed: {listing(sorted(homestead.machines))}\n"
            f"  fix:     {nearest(machine, homestead.machines) or 'use one of these names'}"
        )
    manual = compose(
        workings, content_files(folders), folders, kept=kept_folder(home), machine=machine
    )
    found = [*homestead.warnings, *doubts(homestead), *drift_doubts(workings)]
    return Made(workings, manual, tuple(sorted(found)))
