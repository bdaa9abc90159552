"""Files swapped in whole: killed at any moment, the old file or the new one is there, never half."""

from __future__ import annotations

import os
import stat
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from steadbook.errors import RecordError

OWN_FOLDER = ".steadbook"
WAIT = 10.0  # s for another one to finish


@dataclass(frozen=True)
class FileChange:
    """A file before and after; None where there is no file."""

    path: Path
    before: bytes | None
    after: bytes | None

    def back(self) -> FileChange:
        """The change that undoes this one."""
        return FileChange(self.path, self.after, self.before)


@contextmanager
def locked(home: Path, wait: float = WAIT) -> Iterator[None]:
    """One at a time: others wait. The lock ends with the process, however that ends."""
    folder = home / OWN_FOLDER
    try:
        folder.mkdir(exist_ok=True)
        handle = os.open(folder / "lock", os.O_RDWR | os.O_CREAT, 0o666)
    except OSError as error:
        raise _not_written(folder, error) from None
    try:
        deadline = time.monotonic() + wait
        while not _taken(handle):
            if time.monotonic() > deadline:
                raise RecordError(
                    f"{folder / 'lock'}\n  found:   somebody else is recording in this home\n"
                    "  allowed: one at a time\n  fix:     wait until it is done, then try again"
                )
            time.sleep(0.02)
        yield
    finally:
        os.close(handle)


def _taken(handle: int) -> bool:
    try:
        if os.name == "nt":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def contents(path: Path) -> bytes | None:
    """What is in a file now; None where there is none. Raises RecordError."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as error:
        raise _not_written(path, error) from None


def save(changes: Sequence[FileChange]) -> None:
    """Make all changes or none. Raises RecordError; then every file is as it was.

    To be called within `locked`. A file that is no longer as it was read is never written over.
    """
    for change in changes:
        if contents(change.path) != change.before:
            raise RecordError(
                f"{change.path}\n  found:   the file was changed meanwhile, perhaps in an editor\n"
                "  allowed: the file as it was read\n  fix:     save it there, then record again"
            )
    done: list[FileChange] = []
    try:
        for change in changes:
            _swap(change)
            done.append(change)
    except OSError as error:
        failed = changes[len(done)]
        for earlier in reversed(done):
            try:
                _swap(earlier.back())
            except OSError:
                raise RecordError(
                    f"{failed.path}\n  found:   {error.strerror or error}\n"
                    f"  allowed: all files written, or none; {earlier.path} is written already\n"
                    "  fix:     free some room, then `steadbook undo`"
                ) from None
        raise _not_written(failed.path, error) from None


def _swap(change: FileChange) -> None:
    target = change.path.resolve()  # a link stays a link
    if change.after is None:
        target.unlink()
    else:
        target.parent.mkdir(exist_ok=True)
        new = target.with_name(f".{target.name}.new")
        try:
            _write(new, change.after, _mode(target))
            os.replace(new, target)
        except BaseException:
            with suppress(OSError):
                new.unlink()
            raise
    _settle(target.parent)


def _write(path: Path, data: bytes, mode: int | None) -> None:
    with open(path, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    if mode is not None:
        os.chmod(path, mode)


def _mode(path: Path) -> int | None:
    try:
        return stat.S_IMODE(path.stat().st_mode)
    except FileNotFoundError:
        return None


def _settle(folder: Path) -> None:
    """Have the folder's entry on the disk as well, where the system can do that."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _not_written(path: Path, error: OSError) -> RecordError:
    return RecordError(
        f"{path}\n  found:   {error.strerror or error}\n"
        "  allowed: room on the disk and permission to write\n"
        "  fix:     free some room or change the permissions; nothing was changed"
    )
