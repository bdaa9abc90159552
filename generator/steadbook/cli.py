"""The command line: arguments in, words and exit status out.

Exit status: 0 good; 1 something is past due (`due --fail-if-past-due`); 2 the inventory or the
call is wrong. Each command imports its work when it is called.
"""

from __future__ import annotations

import argparse
import functools
import sys
import time
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from steadbook.errors import QuantityError, SteadbookError

if TYPE_CHECKING:
    from steadbook.inventory.redact import Edition

GOOD, PAST_DUE, WRONG = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit status."""
    chosen = _parser().parse_args(arguments)
    try:
        status: int = chosen.run(chosen)
        return status
    except SteadbookError as error:
        print(error, file=sys.stderr)
        return WRONG
    except BrokenPipeError:
        return GOOD
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return WRONG


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="steadbook",
        description="Turns the YAML inventory of an off-grid homestead into its systems manual: "
        "an offline site and a printable binder, with every service date worked out.",
        epilog="Begin with `steadbook new DIR`; it makes a small home that builds at once.",
    )
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)

    home = argparse.ArgumentParser(add_help=False)
    home.add_argument(
        "--home",
        type=Path,
        default=Path(),
        metavar="DIR",
        help="the folder with site_data and mkdocs.yml (default: this folder)",
    )
    day = argparse.ArgumentParser(add_help=False)
    day.add_argument(
        "--as-of",
        type=_date,
        default=None,
        metavar="DATE",
        help="the day to work out everything for, such as 2026-11-25 (default: today)",
    )

    engine = argparse.ArgumentParser(add_help=False)
    engine.add_argument(
        "--engine",
        choices=["plutoprint", "weasyprint"],
        help="what sets the printed sheets: plutoprint, or weasyprint (slow, with tags for screen "
        "readers; needs the extra weasyprint). Default: plutoprint, or weasyprint where that "
        "cannot be loaded",
    )

    new = commands.add_parser(
        "new", parents=[day], help="start a home: a small commented inventory"
    )
    new.add_argument("folder", type=Path, metavar="DIR", help="a folder that does not exist yet")
    new.set_defaults(run=_new)

    check = commands.add_parser(
        "check", parents=[home, day], help="check the inventory and the pages, make nothing"
    )
    check.set_defaults(run=_check)

    due = commands.add_parser("due", parents=[home, day], help="list what is due, on the terminal")
    due.add_argument("--all", action="store_true", help="also what is in hand")
    due.add_argument(
        "--fail-if-past-due",
        action="store_true",
        help="exit with status 1 if a task or the life of a unit is past due, or a task was never "
        "recorded and its day is over",
    )
    due.set_defaults(run=_due)

    build = commands.add_parser(
        "build",
        parents=[home, day, engine],
        help="make the site and the binder in the home's build folder",
    )
    build.add_argument(
        "--edition",
        choices=["owner", "sitter", "technician"],
        default="owner",
        help="for whom: the owner (everything), a house-sitter, a technician",
    )
    build.add_argument(
        "--machine",
        metavar="NAME",
        help="with --edition technician: one machine alone, such as main-genset",
    )
    build.add_argument("--all", action="store_true", help="make every edition")
    build.add_argument("--no-binder", action="store_true", help="the site alone")
    build.add_argument("--no-site", action="store_true", help="the binder alone")
    build.add_argument(
        "--xlsx",
        action="store_true",
        help="the owner's tables as a workbook too (needs the extra xlsx)",
    )
    build.add_argument("--strict", action="store_true", help="take a warning as an error")
    build.add_argument(
        "--homes",
        type=Path,
        metavar="DIR",
        help="build every home in this folder, several at a time; those that have not changed "
        "since are left as they are",
    )
    build.add_argument(
        "--jobs",
        type=int,
        metavar="N",
        help="with --homes: how many at a time (default: all cores)",
    )
    build.set_defaults(run=_build)

    serve = commands.add_parser(
        "serve", parents=[home, day], help="show the site on this computer, remade at every change"
    )
    serve.add_argument("--port", type=int, default=8000)
    serve.set_defaults(run=_serve)

    record = commands.add_parser(
        "record",
        parents=[home, day],
        help="add to the log: a service, a reading, fuel, an order, a count",
        description="Shows what would be written and what it changes, then asks. Without flags "
        "it asks for what is needed.",
    )
    _record_flags(record)
    record.set_defaults(run=_record)

    add = commands.add_parser(
        "add",
        parents=[home, day],
        help="add a machine with the tasks to start from to a system file",
        description="Writes a commented entry with its tasks, their sources and its hazards into "
        "a file of site_data; every other byte of the file stays. `steadbook undo` takes it back.",
    )
    add.add_argument("what", nargs="?", help="what it is, such as 'well pump'; --list shows all")
    add.add_argument("--list", action="store_true", help="list what can be added")
    add.add_argument(
        "--to",
        metavar="FILE",
        help="the system file, such as water.yaml (default: where such machines usually stand)",
    )
    add.add_argument("--id", metavar="NAME", help="its name for log and links, such as well-pump")
    add.add_argument("--name", metavar="WORDS", help="what you call it, such as 'Barn well pump'")
    add.add_argument(
        "--installed", type=_date, metavar="DATE", help="the day it came into service here"
    )
    add.set_defaults(run=_add)

    undo = commands.add_parser("undo", parents=[home], help="take back what was recorded last")
    undo.add_argument("--yes", action="store_true", help="do not ask")
    undo.set_defaults(run=_undo)

    printed = commands.add_parser(
        "printed", parents=[home], help="say that the binder as built was printed and filed"
    )
    printed.set_defaults(run=_printed)

    reprint = commands.add_parser(
        "reprint", parents=[home, day, engine], help="print only the sheets that changed since then"
    )
    reprint.set_defaults(run=_reprint)

    forms = commands.add_parser(
        "forms",
        parents=[home, day, engine],
        help="print blank forms, cards to laminate, tab dividers and a spine label",
    )
    forms.set_defaults(run=_forms)

    schema = commands.add_parser(
        "schema", help="the JSON Schema of the inventory files, for editors that complete and check"
    )
    schema.add_argument(
        "file",
        nargs="?",
        choices=["homestead", "suppliers", "parts", "climate", "what-if", "system", "log"],
        help="which file (default: list them)",
    )
    schema.add_argument("--out", type=Path, metavar="DIR", help="write all of them to a folder")
    schema.set_defaults(run=_schema)
    return parser


def _record_flags(record: argparse.ArgumentParser) -> None:
    """One option for each blank that any kind of record has."""
    from steadbook.records.kinds import KINDS

    kinds = "; ".join(f"{kind.word}: {kind.what}" for kind in KINDS.values())
    record.add_argument("kind", nargs="?", choices=list(KINDS), metavar="KIND", help=kinds)
    record.add_argument(
        "--from", type=Path, dest="from_file", metavar="FILE.csv",
        help="many at once: a CSV file whose first line names columns (kind, date, machine, ...)",
    )  # fmt: skip
    record.add_argument(
        "--columns", type=Path, metavar="MAP.yaml",
        help="with --from: what the columns of a file made by something else are to us",
    )  # fmt: skip
    record.add_argument(
        "--commit", action="store_true", help="commit it to git as well (on a terminal it asks)"
    )
    record.add_argument("--dry-run", action="store_true", help="show it, write nothing")
    record.add_argument("--yes", action="store_true", help="write it without asking")
    record.add_argument("--again", action="store_true", help="also what is in the log already")
    blanks = {one.key: one for kind in reversed(KINDS.values()) for one in kind.blanks}
    for key, blank in blanks.items():
        users = ", ".join(kind.word for kind in KINDS.values() if kind.blank(key))
        words = f"{blank.asks} ({users})".replace("%", "%%")
        record.add_argument(blank.flag, dest=f"blank_{key}", metavar="TEXT", help=words)


def _date(text: str) -> date:
    from steadbook.inventory.fields import read_date

    try:
        return read_date(text)
    except QuantityError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def _today(chosen: argparse.Namespace) -> date:
    """The one place where the clock comes in."""
    as_of: date | None = chosen.as_of
    return as_of or date.today()


def _new(chosen: argparse.Namespace) -> int:
    from steadbook.starting import start_home

    start_home(chosen.folder, _today(chosen))
    print(f"A home was started in {chosen.folder}. Next:")
    print(f"  steadbook build --home {chosen.folder}")
    print(f"then edit the files in {chosen.folder / 'site_data'} and build again.")
    return GOOD


def _check(chosen: argparse.Namespace) -> int:
    from steadbook.making import made_manual
    from steadbook.workings.words import count

    made = made_manual(chosen.home, as_of=_today(chosen))
    for warning in made.doubts:
        print(warning, end="\n\n")
    inventory = made.workings.homestead
    print(
        f"Good: {count(len(inventory.machines), 'machine')}, "
        f"{count(len(made.workings.tasks), 'task')}, "
        f"{count(len(inventory.parts), 'part')}, {count(len(made.manual.pages), 'page')}"
        + (f"; {len(made.doubts)} to look at" if made.doubts else "")
    )
    return GOOD


def _due(chosen: argparse.Namespace) -> int:
    from steadbook.making import worked_out
    from steadbook.terminal import due_table

    workings = worked_out(chosen.home, as_of=_today(chosen))
    print(due_table(workings, everything=chosen.all))
    late = any(
        state.due.day
        and state.due.day < workings.as_of
        and workings.status(state) in ("past due", "no record")
        for state in workings.pressing()
    ) or any(one.status == "past due" for one in workings.expiring)
    return PAST_DUE if chosen.fail_if_past_due and late else GOOD


def _build(chosen: argparse.Namespace) -> int:
    from steadbook.bind.results import build
    from steadbook.errors import BindError
    from steadbook.inventory.redact import EDITIONS
    from steadbook.terminal import counted

    began = time.perf_counter()
    if chosen.machine and (chosen.all or chosen.edition != "technician"):
        raise BindError(
            "--machine\n  found:   another edition than the technician's\n"
            "  allowed: one machine of the technician's edition\n"
            f"  fix:     steadbook build --edition technician --machine {chosen.machine}"
        )
    editions = EDITIONS if chosen.all else (chosen.edition,)
    if chosen.homes is not None and chosen.xlsx:
        raise BindError(
            "--xlsx\n  found:   --homes beside it\n  allowed: one home\n"
            "  fix:     build that home with --home"
        )
    if chosen.homes is not None:
        return _build_homes(chosen, editions)
    for edition in editions:
        if len(editions) > 1:
            print(f"Edition: {edition}", flush=True)
        results = build(
            chosen.home,
            as_of=_today(chosen),
            edition=edition,
            machine=chosen.machine,
            say=lambda text: print(text, flush=True),
            with_site=not chosen.no_site,
            with_binder=not chosen.no_binder,
            with_workbook=chosen.xlsx,
            strict=chosen.strict,
            engine=chosen.engine,
        )
        for warning in (*results.made.doubts, *results.warnings):
            print(f"\n{warning}", file=sys.stderr)
        if chosen.strict and results.warnings:
            return WRONG
        print()
        if results.site:
            print(f"Site:    {results.site / 'index.html'}")
            print(f"To send: {results.site.with_name('site.zip')}")
        if results.binder:
            print(f"Binder:  {results.binder} ({results.sheets} sheets)")
    print(f"Tasks:   {counted(results.made.workings)}")
    print(f"Done in {time.perf_counter() - began:.1f} s, worked out for {_today(chosen)}")
    return GOOD


def _build_homes(chosen: argparse.Namespace, editions: tuple[Edition, ...]) -> int:
    from steadbook.bind.many import Order, run

    order = Order(
        _today(chosen), editions, not chosen.no_site, not chosen.no_binder, chosen.strict,
        chosen.engine,
    )  # fmt: skip
    say = functools.partial(print, flush=True)
    return GOOD if run(chosen.homes, order, workers=chosen.jobs, say=say) else WRONG


def _serve(chosen: argparse.Namespace) -> int:
    from steadbook.bind.serving import serve

    serve(chosen.home, as_of=chosen.as_of, port=chosen.port)
    return GOOD


def _record(chosen: argparse.Namespace) -> int:
    from steadbook.records.command import record

    record(chosen, _today(chosen))
    return GOOD


def _add(chosen: argparse.Namespace) -> int:
    from steadbook.adding import add_equipment, listed

    if chosen.list:
        print(listed())
        return GOOD
    if chosen.what is None:
        raise SteadbookError(
            "steadbook add\n  found:   no kind of machine\n"
            "  allowed: what it is, and with --to the system file that it goes into\n"
            "  fix:     steadbook add well-pump (steadbook add --list shows all kinds)"
        )
    added = add_equipment(
        chosen.home, chosen.what, chosen.to, _today(chosen),
        name=chosen.id, title=chosen.name, installed=chosen.installed,
    )  # fmt: skip
    print(f"Added to {added.file}:\n")
    print(added.text)
    print(
        f"\nFill in what is commented, compare every interval with the maker's manual, then:\n"
        f"  steadbook check --home {chosen.home}\n"
        "`steadbook undo` takes it back."
    )
    return GOOD


def _undo(chosen: argparse.Namespace) -> int:
    from steadbook.records.command import undo

    undo(chosen.home, yes=chosen.yes)
    return GOOD


def _printed(chosen: argparse.Namespace) -> int:
    from steadbook.bind.results import keep_as_printed

    print(f"Noted in {keep_as_printed(chosen.home)}: the binder as built is the one on the shelf.")
    return GOOD


def _reprint(chosen: argparse.Namespace) -> int:
    from steadbook.bind.results import make_reprint

    path, found = make_reprint(chosen.home, as_of=_today(chosen), engine=chosen.engine)
    if not found.steps:
        print("No sheet has changed since the binder was printed.")
        return GOOD
    for step in found.steps:
        print(step)
    print(f"\nPrint {path}, swap the sheets, then run `steadbook printed`.")
    return GOOD


def _forms(chosen: argparse.Namespace) -> int:
    from steadbook.bind.results import make_forms

    path, sheets = make_forms(chosen.home, as_of=_today(chosen), engine=chosen.engine)
    print(f"{path} ({sheets} sheets, to print on one side)")
    return GOOD


def _schema(chosen: argparse.Namespace) -> int:
    from steadbook.inventory.schema import KINDS_OF_FILE, schema_text

    if chosen.out:
        chosen.out.mkdir(parents=True, exist_ok=True)
        for name in KINDS_OF_FILE:
            path = chosen.out / f"{name}.schema.json"
            path.write_text(schema_text(name), "utf-8")
            print(path)
    elif chosen.file:
        print(schema_text(chosen.file), end="")
    else:
        for name, what in KINDS_OF_FILE.items():
            print(f"{name:<10} {what}")
    return GOOD


if __name__ == "__main__":
    sys.exit(main())
