"""What MkDocs says of its own accord while it works."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager


class _Listener(logging.Handler):
    def __init__(self, level: int) -> None:
        super().__init__(level)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(record.getMessage())


@contextmanager
def heard(level: int = logging.WARNING) -> Iterator[list[str]]:
    """The messages of MkDocs from ``level`` up, as they come."""
    listener, log = _Listener(level), logging.getLogger("mkdocs")
    log.addHandler(listener)
    try:
        yield listener.messages
    finally:
        log.removeHandler(listener)
