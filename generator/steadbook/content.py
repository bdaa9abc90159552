"""Where pages lie: the home's own content/ before the one that comes with Steadbook."""

from __future__ import annotations

from importlib import resources
from pathlib import Path


def shipped_content() -> Path:
    """The content/ that comes with Steadbook: in the wheel, or at the top of a clone."""
    package = Path(str(resources.files("steadbook")))
    inside = package / "content"
    return inside if inside.is_dir() else package.parent.parent / "content"


def content_folders(home: Path | None) -> list[Path]:
    """Where pages are looked for: the home's own first."""
    shipped = shipped_content()
    own = home / "content" if home else None
    if own and own.is_dir() and own.resolve() != shipped.resolve():
        return [own, shipped]
    return [shipped]


def procedure_names(folders: list[Path]) -> frozenset[str]:
    """The names that a task's `procedure:` may have."""
    return frozenset(
        path.stem for folder in folders for path in (folder / "procedures").glob("*.md")
    )
