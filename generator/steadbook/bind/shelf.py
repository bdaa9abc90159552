"""A shelf for what was made before, each thing under the hash of what it was made from."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from steadbook.bind.resources import LocalFiles, faces_hash
from steadbook.inventory.kept import write_whole


class Shelf:
    """Results kept in a folder, or nowhere where there is none: then nothing is ever found.

    One folder serves one purpose: `sweep` clears out what was not used since the shelf was made.
    """

    def __init__(self, folder: Path | None, files: LocalFiles | None = None) -> None:
        self.folder, self.files = folder, files or LocalFiles([])
        self._used: set[str] = set()
        if folder is not None:
            folder.mkdir(parents=True, exist_ok=True)

    @staticmethod
    def key(step: str, *made_from: Any) -> str:
        """The name that a result of this step is kept under."""
        text = json.dumps([own_code(), *made_from], sort_keys=True)
        return f"{step}-{hashlib.sha256(text.encode()).hexdigest()}"

    @property
    def labels(self) -> dict[str, str]:
        """The sheets that cross references led to in the last binding: a good first guess."""
        kept = self.get("labels")
        return {} if kept is None else json.loads(kept)

    @labels.setter
    def labels(self, labels: Mapping[str, str]) -> None:
        self.put("labels", json.dumps(labels).encode(), ())

    def get(self, key: str) -> bytes | None:
        if self.folder is None:
            return None
        self._used.add(key)
        try:
            head, _, content = (self.folder / key).read_bytes().partition(b"\n")
            entry = json.loads(head)
            if entry["hash"] != hashlib.sha256(content).hexdigest():
                return None
            fresh = all(self.files.state(url) == was for url, was in entry["resources"].items())
            return content if fresh else None
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            return None

    def put(self, key: str, content: bytes, resources: Sequence[str] = ()) -> None:
        if self.folder is None:
            return
        entry = {
            "hash": hashlib.sha256(content).hexdigest(),
            "resources": {url: self.files.state(url) for url in sorted(set(resources))},
        }
        write_whole(self.folder / key, json.dumps(entry).encode() + b"\n" + content)

    def sweep(self) -> None:
        if self.folder is None:
            return
        for entry in self.folder.iterdir():
            if entry.name not in self._used and entry.is_file():
                entry.unlink(missing_ok=True)


@cache
def own_code() -> str:
    """A hash of this room's own code and fonts: another version makes everything anew."""
    found = hashlib.sha256(faces_hash().encode())
    for path in sorted(Path(__file__).parent.glob("*.py")):
        found.update(path.read_bytes())
    return found.hexdigest()
