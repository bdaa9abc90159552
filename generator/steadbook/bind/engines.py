"""The engines that can set a binder: plutoprint, or weasyprint where it is asked for or alone there.

Both are cut off from network and system fonts, and give the same bytes for the same input.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from steadbook.bind import by_plutoprint, by_weasyprint
from steadbook.bind.resources import LocalFiles
from steadbook.bind.setting import Setting
from steadbook.errors import BindError

PLUTOPRINT, WEASYPRINT = "plutoprint", "weasyprint"
ENGINES = (PLUTOPRINT, WEASYPRINT)

FIXES = {
    PLUTOPRINT: "pip install plutoprint; or set it by weasyprint: pip install 'steadbook[weasyprint]'",
    WEASYPRINT: "pip install 'steadbook[weasyprint]'; it also needs Pango from the system "
    "(Debian, Ubuntu: apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0; "
    "macOS: brew install pango; Windows: pacman -S mingw-w64-x86_64-pango in MSYS2)",
}


@dataclass(frozen=True)
class Engine:
    """An engine at hand. ``version`` also names its fonts: fingerprints of two binders compare only
    within one. ``doubt`` says why it is not the one first meant."""

    name: str
    version: str
    setting: Callable[[str, str, LocalFiles], Setting]
    doubt: str = ""


@cache
def engine_named(name: str | None) -> Engine:
    """The engine of this name; for None plutoprint, or weasyprint where that cannot be loaded.

    Raises
    ------
    BindError
        It cannot be loaded; says how to install it.
    """
    if name is not None:
        return _loaded(name)
    try:
        return _loaded(PLUTOPRINT)
    except BindError as error:
        try:
            other = _loaded(WEASYPRINT)
        except BindError:
            raise error from None
        why = str(error.__cause__)
        return Engine(
            other.name,
            other.version,
            other.setting,
            f"plutoprint cannot be loaded ({why}): the binder is set by weasyprint, which takes "
            "many times as long and may break sheets elsewhere",
        )


def _loaded(name: str) -> Engine:
    try:
        if name == PLUTOPRINT:
            by_plutoprint.engine()
            return Engine(name, by_plutoprint.version(), by_plutoprint.PlutoprintSetting)
        by_weasyprint.engine()
        return Engine(name, by_weasyprint.version(), by_weasyprint.WeasyprintSetting)
    except (ImportError, OSError) as error:
        raise BindError(
            f"--engine {name}\n  found:   it cannot be loaded ({str(error).splitlines()[0]})\n"
            f"  allowed: an engine that is installed ({' or '.join(ENGINES)})\n"
            f"  fix:     {FIXES[name]}"
        ) from error
