"""What is made of a home: site, binder, calendar, tables; put in place of the old when whole."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from steadbook.bind.archive import archive_name, write_archive
from steadbook.bind.heard import heard
from steadbook.bind.workbook import require_openpyxl
from steadbook.errors import BindError
from steadbook.inventory.redact import Edition
from steadbook.making import Made, kept_folder, made_manual
from steadbook.workings.words import count

if TYPE_CHECKING:
    from steadbook.bind.binder import Binder
    from steadbook.bind.engines import Engine
    from steadbook.bind.reprint import Reprint
    from steadbook.bind.sheets import Manifest

Say = Callable[[str], None]


@dataclass(frozen=True)
class Results:
    """What a build left behind."""

    made: Made
    site: Path | None
    binder: Path | None
    sheets: int
    warnings: tuple[str, ...]


def folder_of(home: Path, edition: Edition, machine: str | None = None) -> Path:
    """Where an edition's results lie."""
    return home / "build" if edition == "owner" else home / "build" / _label(edition, machine)


def _label(edition: Edition, machine: str | None) -> str:
    return f"{edition}-{machine}" if machine else edition


def build(
    home: Path,
    *,
    as_of: date,
    edition: Edition = "owner",
    machine: str | None = None,
    say: Say = lambda text: None,
    with_site: bool = True,
    with_binder: bool = True,
    with_workbook: bool = False,
    strict: bool = False,
    engine: str | None = None,
) -> Results:
    """Make the results of one edition, or of one machine of the technician's.

    ``engine`` names what sets the binder. Raises SteadbookError; then the old results are
    untouched.
    """
    if with_workbook:
        require_openpyxl()
    if with_binder and engine:
        _engine(engine)
    say("Reading the inventory")
    made = made_manual(home, as_of=as_of, edition=edition, machine=machine)
    inventory = made.workings.homestead
    log = inventory.log
    entries = len(log.readings) + len(log.services) + len(log.levels) + len(log.deliveries)
    say(
        f"  {count(len(inventory.machines), 'machine')}, "
        f"{count(len(made.workings.tasks), 'task')}, {count(entries, 'log entry')}, "
        f"{count(len(made.manual.pages), 'page')}"
    )
    target = folder_of(home, edition, machine)
    warnings: list[str] = []
    sheets = 0
    with _workshop(target) as shop, ThreadPoolExecutor(1) as beside:
        archive: Future[None] | None = None
        if with_site:
            say("Making the site")
            make_site(home, made, shop / "site", edition=edition, as_of=as_of, strict=strict)
            name = archive_name(made.manual.title, _label(edition, machine))
            archive = beside.submit(write_archive, shop / "site", shop / "site.zip", name)
        if with_binder:
            say("Printing the binder")
            binder, told = _make_binder(home, made, shop, edition, as_of, machine, engine)
            warnings += told
            sheets = len(binder.sheets)
            say(f"  {sheets} sheets{_other_breaks(binder, target)}")
        if edition == "owner":
            say("Writing the calendar and the tables")
            _write_calendar_and_tables(made, shop, with_workbook)
        if archive is not None:
            archive.result()
        for made_thing in sorted(shop.iterdir()):
            _put_in_place(made_thing, target / made_thing.name)
    return Results(
        made,
        target / "site" if with_site else None,
        target / "binder.pdf" if with_binder else None,
        sheets,
        tuple(warnings),
    )


@contextmanager
def _workshop(target: Path) -> Iterator[Path]:
    """A new folder beside the results, gone again at the end."""
    try:
        target.mkdir(parents=True, exist_ok=True)
        shop = Path(tempfile.mkdtemp(prefix=".new-", dir=target))
    except OSError as error:
        raise BindError(
            f"{target}\n  found:   a folder that cannot be written ({error.strerror})\n"
            "  allowed: a folder in which this user may make files\n"
            "  fix:     change its permissions, or copy the home to a place you can write"
        ) from None
    try:
        yield shop
    except OSError as error:
        raise BindError(
            f"{target}\n  found:   {error.strerror or error} while writing the results\n"
            "  allowed: room on the disk and permission to write\n"
            "  fix:     free some room, then build again; the old results are untouched"
        ) from None
    finally:
        shutil.rmtree(shop, ignore_errors=True)


def _put_in_place(new: Path, old: Path) -> None:
    """Swap a finished file or folder in for the one before it."""
    if not old.is_dir():
        os.replace(new, old)
        return
    aside = new.with_name(f"{new.name}.old")
    os.rename(old, aside)
    try:
        os.rename(new, old)
    except OSError:
        os.rename(aside, old)
        raise


def make_site(
    home: Path, made: Made, target: Path, *, edition: Edition, as_of: date, strict: bool
) -> None:
    """Have MkDocs make the site of finished pages. Raises BindError."""
    from mkdocs.commands.build import build as mkdocs_build
    from mkdocs.config import load_config
    from mkdocs.exceptions import Abort, MkDocsException

    from steadbook.pages.escape import as_text

    settings = home / "mkdocs.yml"
    if not settings.exists():
        raise BindError(
            f"{settings}\n  found:   no such file\n  allowed: the settings of the site\n"
            "  fix:     copy mkdocs.yml from a home made with `steadbook new DIR`"
        )
    with heard() as messages:
        try:
            config = load_config(
                str(settings),
                site_dir=str(target.resolve()),
                site_name=f"{as_text(made.manual.title)}: systems manual",
                strict=strict,
            )
            plugin = config.plugins.get("steadbook")
            if plugin is None:
                raise BindError(
                    f"{settings}\n  found:   no plugin steadbook\n  allowed: plugins that hold steadbook\n"
                    "  fix:     add `- steadbook` as the first line under `plugins:`"
                )
            plugin.manual, plugin.config.edition = made.manual, edition
            config.plugins.on_startup(command="build", dirty=False)
            mkdocs_build(config)
            config.plugins.on_shutdown()
        except (MkDocsException, Abort) as error:
            words = "\n".join(messages) or str(error)
            raise BindError(f"{settings}: the site could not be made\n{words}") from None


def _write_calendar_and_tables(made: Made, shop: Path, with_workbook: bool) -> None:
    from steadbook.bind.calendar import calendar_file
    from steadbook.bind.tables import tables, tables_as_workbook

    (shop / "calendar.ics").write_bytes(calendar_file(made.workings))
    (shop / "tables").mkdir()
    for name, text in tables(made.workings).items():
        (shop / "tables" / name).write_text(text, "utf-8", newline="")
    if with_workbook:
        (shop / "tables" / "tables.xlsx").write_bytes(tables_as_workbook(made.workings))


def _make_binder(
    home: Path,
    made: Made,
    shop: Path,
    edition: Edition,
    as_of: date,
    machine: str | None,
    engine: str | None,
) -> tuple[Binder, list[str]]:
    """The binder, put into the shop, and what is to be told of it."""
    from steadbook.bind.glyphs import box_warnings

    binder, _ = _bound(home, made, edition, as_of, machine, engine)
    boxes = box_warnings(binder.unprintable, made.workings.homestead.files.trees)
    _keep(binder, shop)
    return binder, [*binder.warnings, *map(str, boxes)]


def _other_breaks(binder: Binder, target: Path) -> str:
    """What another engine than that of the last build did to the numbers of sheets; else nothing."""
    from steadbook.bind.sheets import Manifest

    built = target / "sheets.yaml"
    if not built.exists():
        return ""
    before = Manifest.read(built)
    names = [one.engine.split(" ")[0] for one in (binder.manifest, before)]
    if names[0] == names[1]:
        return ""
    head = f", set by {names[0]} where the last build was set by {names[1]}"
    unlike = binder.manifest.breaks_unlike(before)
    words = [f"\n  {title}: {now} sheets, {then} before" for title, now, then in unlike]
    return head + (":" + "".join(words) if words else "; each tab has as many sheets as then")


def _engine(name: str | None) -> Engine:
    from steadbook.bind.engines import engine_named

    return engine_named(name)


def _bound(
    home: Path,
    made: Made,
    edition: Edition,
    as_of: date,
    machine: str | None = None,
    engine: str | None = None,
) -> tuple[Binder, Manifest | None]:
    """The binder, and the sheets that were printed before."""
    from steadbook.bind.binder import bind
    from steadbook.bind.sheets import Manifest
    from steadbook.bind.tabs import binder_tabs

    place = made.workings.homestead.place
    label = _label(edition, machine)
    printed = _printed_file(home, label)
    previous = Manifest.read(printed) if printed.exists() else None
    kept = kept_folder(home)
    binder = bind(
        binder_tabs(made.manual, kept / f"tabs-{label}"),
        title=f"{place.name}: systems manual",
        subtitle=place.where,
        paper=place.paper,
        as_of=as_of,
        roots=[],
        previous=previous,
        edition=f"{edition}, {made.workings.homestead.machines[machine].name}"
        if machine
        else edition,
        cache_dir=kept / f"sheets-{label}",
        engine=_engine(engine),
    )
    return binder, previous


def _keep(binder: Binder, shop: Path) -> None:
    (shop / "binder.pdf").write_bytes(binder.pdf)
    binder.manifest.write(shop / "sheets.yaml")


def make_reprint(
    home: Path, *, as_of: date, edition: Edition = "owner", engine: str | None = None
) -> tuple[Path, Reprint]:
    """Print the sheets that changed since the binder was last printed. Raises SteadbookError."""
    from steadbook.bind.reprint import reprint

    if not _printed_file(home, edition).exists():
        raise BindError(
            f"{_printed_file(home, edition)}\n  found:   no note of a printed binder\n"
            "  allowed: a binder that was printed and filed\n"
            "  fix:     print build/binder.pdf, put it on the shelf, then run `steadbook printed`"
        )
    made = made_manual(home, as_of=as_of, edition=edition)
    target = folder_of(home, edition)
    with _workshop(target) as shop:
        binder, printed = _bound(home, made, edition, as_of, engine=engine)
        assert printed is not None
        found = reprint(binder, printed, _engine(engine))
        _keep(binder, shop)
        if found.pdf:
            (shop / "reprint.pdf").write_bytes(found.pdf)
        for made_thing in sorted(shop.iterdir()):
            _put_in_place(made_thing, target / made_thing.name)
    return target / "reprint.pdf", found


def make_forms(home: Path, *, as_of: date, engine: str | None = None) -> tuple[Path, int]:
    """Print what a shed needs besides the binder. Raises SteadbookError."""
    from steadbook.bind.stationery import stationery

    printed = stationery(made_manual(home, as_of=as_of), _engine(engine))
    target = folder_of(home, "owner")
    with _workshop(target) as shop:
        (shop / "forms.pdf").write_bytes(printed.pdf)
        _put_in_place(shop / "forms.pdf", target / "forms.pdf")
    return target / "forms.pdf", len(printed.sheets)


def keep_as_printed(home: Path, edition: Edition = "owner") -> Path:
    """Take the binder as built for the one on the shelf. Raises BindError."""
    built = folder_of(home, edition) / "sheets.yaml"
    if not built.exists():
        raise BindError(
            f"{built}\n  found:   no binder was built yet\n  allowed: a binder made by build\n"
            "  fix:     run `steadbook build`, print build/binder.pdf, then say so"
        )
    kept = _printed_file(home, edition)
    shutil.copyfile(built, kept.with_suffix(".new"))
    os.replace(kept.with_suffix(".new"), kept)
    return kept


def _printed_file(home: Path, label: str) -> Path:
    return home / ("printed.yaml" if label == "owner" else f"printed-{label}.yaml")
