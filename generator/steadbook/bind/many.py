"""Many homes at once: each is built in a process of a pool, and none stops the others.

A home whose inputs are the same as at its last good build is left as it is, so a run that was
stopped goes on where it was.
"""

from __future__ import annotations

import hashlib
import multiprocessing
import os
import time
import traceback
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Literal

from steadbook.content import shipped_content
from steadbook.errors import BindError, SteadbookError
from steadbook.inventory.redact import Edition
from steadbook.workings.words import count

INPUTS = ("site_data", "content", "mkdocs.yml")
MARK = ".inputs"

Outcome = Literal["built", "unchanged", "failed"]


@dataclass(frozen=True)
class Order:
    """What is to be made of every home."""

    as_of: date
    editions: tuple[Edition, ...] = ("owner",)
    with_site: bool = True
    with_binder: bool = True
    strict: bool = False
    engine: str | None = None


@dataclass(frozen=True)
class Built:
    """What became of one home. ``words`` are its errors, or the warnings of a good build."""

    home: Path
    outcome: Outcome
    seconds: float = 0.0
    sheets: int = 0
    words: tuple[str, ...] = ()

    def __str__(self) -> str:
        """The line of the summary.

        >>> str(Built(Path("homes/lark"), "built", 4.25, 96, ("a", "b")))
        'built      lark  (96 sheets, 4.2 s, 2 warnings)'
        >>> str(Built(Path("homes/lark"), "built", 4.25, 1, ("a",)))
        'built      lark  (1 sheet, 4.2 s, 1 warning)'
        """
        head = f"{self.outcome:<10} {self.home.name}"
        if self.outcome != "built":
            return head
        told = f", {count(len(self.words), 'warning')}" if self.words else ""
        return f"{head}  ({count(self.sheets, 'sheet')}, {self.seconds:.1f} s{told})"


def homes_in(folder: Path) -> list[Path]:
    """The homes in a folder, by name. Raises BindError where there are none."""
    try:
        found = sorted(one for one in folder.iterdir() if (one / "site_data").is_dir())
    except OSError as error:
        found, words = [], error.strerror or str(error)
    else:
        words = "no folder with a site_data in it"
    if not found:
        raise BindError(
            f"{folder}\n  found:   {words}\n  allowed: a folder that holds homes, each in its own\n"
            "  fix:     make one: steadbook new DIR; for a single home use --home"
        )
    return found


def build_homes(
    homes: Sequence[Path], order: Order, *, workers: int | None = None
) -> Iterator[Built]:
    """Build homes side by side; gives what became of each as it is done.

    A process that dies takes the pool with it: then the homes that were under way are built again,
    each in a pool of its own, and the one at fault is told of.
    """
    workers = max(1, min(workers or os.cpu_count() or 1, len(homes)))
    left = dict.fromkeys(homes)
    for one in _in_pool(homes, order, workers):
        if one is not None:
            del left[one.home]
            yield one
    for home in left:
        [one] = _in_pool([home], order, 1)
        yield one or Built(home, "failed", words=("its process died; is there memory enough?",))


def _in_pool(homes: Sequence[Path], order: Order, workers: int) -> Iterator[Built | None]:
    """What became of each home, as it is done; None if the pool broke before all were."""
    spawn = multiprocessing.get_context("spawn")
    pool = ProcessPoolExecutor(max_workers=workers, mp_context=spawn)
    try:
        waiting = {pool.submit(build_one, one, order) for one in homes}
        for done in as_completed(waiting):
            yield done.result()
    except BrokenProcessPool:
        yield None
    finally:
        pool.shutdown(cancel_futures=True)


def build_one(home: Path, order: Order) -> Built:
    """Build a home unless its inputs are unchanged; whatever goes wrong is in the result."""
    began = time.perf_counter()
    try:
        return _built(home, order, began)
    except SteadbookError as error:
        words = str(error)
    except Exception as error:  # one home's trouble is never another's
        last = traceback.extract_tb(error.__traceback__)[-1]
        words = (
            f"{type(error).__name__}: {error} ({Path(last.filename).name}:{last.lineno}); "
            "this is a fault of Steadbook's own, please report it"
        )
    return Built(home, "failed", time.perf_counter() - began, words=(words,))


def _built(home: Path, order: Order, began: float) -> Built:
    from steadbook.bind.results import build, folder_of

    mark = home / "build" / MARK
    inputs = inputs_hash(home, order)
    wanted = [
        folder_of(home, edition) / name
        for edition in order.editions
        for name, is_made in (
            ("site", order.with_site),
            ("binder.pdf", order.with_binder),
            ("calendar.ics", edition == "owner"),
        )
        if is_made
    ]
    if _kept(mark) == _marked(inputs, wanted):
        return Built(home, "unchanged")
    sheets = 0
    told: list[str] = []
    for edition in order.editions:
        results = build(
            home,
            as_of=order.as_of,
            edition=edition,
            with_site=order.with_site,
            with_binder=order.with_binder,
            strict=order.strict,
            engine=order.engine,
        )
        sheets += results.sheets
        told += [*map(str, results.made.doubts), *results.warnings]
        if order.strict and results.warnings:
            raise BindError("\n\n".join(results.warnings))
    mark.write_text(_marked(inputs, wanted), "utf-8")
    return Built(home, "built", time.perf_counter() - began, sheets, tuple(dict.fromkeys(told)))


def _marked(inputs: str, results: Sequence[Path]) -> str:
    """What is kept of a build: its inputs, and the very results they gave."""
    stamps = [str(path.stat().st_mtime_ns) if path.exists() else "none" for path in results]
    return " ".join([inputs, *stamps])


def _kept(mark: Path) -> str:
    try:
        return mark.read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return ""


def inputs_hash(home: Path, order: Order) -> str:
    """A hash of all that a home's results are made from: its files, the order, Steadbook itself."""
    found = hashlib.sha256(f"{order}\n{_own_hash()}\n".encode())
    printed = sorted(home.glob("printed*.yaml"))
    for top in (*(home / name for name in INPUTS), *printed):
        _take_in(found, home, top)
    return found.hexdigest()


@cache
def _own_hash() -> str:
    """A hash of Steadbook's own files and of the pages that come with it."""
    found = hashlib.sha256()
    package = Path(__file__).resolve().parent.parent
    for top in (package, shipped_content()):
        _take_in(found, top.parent, top)
    return found.hexdigest()


def _take_in(found: hashlib._Hash, base: Path, top: Path) -> None:
    for path in sorted([top, *top.rglob("*")] if top.is_dir() else [top]):
        if path.is_file() and "__pycache__" not in path.parts:
            content = path.read_bytes()
            found.update(f"{path.relative_to(base).as_posix()}\0{len(content)}\0".encode())
            found.update(content)


def summary(done: Sequence[Built], seconds: float, workers: int) -> str:
    """All homes by name, then how many of each, and how fast it went."""
    counts = {
        word: sum(one.outcome == word for one in done) for word in ("built", "unchanged", "failed")
    }
    lines = [str(one) for one in sorted(done, key=lambda one: one.home)]
    told = ", ".join(f"{n} {word}" for word, n in counts.items())
    work = sum(one.seconds for one in done if one.outcome == "built")
    speed = f"; {60 * counts['built'] / work:.1f} homes a minute a process" if work else ""
    return "\n".join([*lines, "", f"{told} in {seconds:.1f} s, {workers} at a time{speed}"])


def run(folder: Path, order: Order, *, workers: int | None, say: Callable[[str], None]) -> bool:
    """Build all homes of a folder, and say what became of each; whether all are good."""
    began = time.perf_counter()
    homes = homes_in(folder)
    at_once = max(1, min(workers or os.cpu_count() or 1, len(homes)))
    done = []
    for one in build_homes(homes, order, workers=at_once):
        done.append(one)
        say(f"[{len(done)} of {len(homes)}] {one}")
        if one.outcome == "failed":
            say("\n".join(f"  {line}" for words in one.words for line in words.splitlines()))
    say(f"\n{summary(done, time.perf_counter() - began, at_once)}")
    return not any(one.outcome == "failed" for one in done)
