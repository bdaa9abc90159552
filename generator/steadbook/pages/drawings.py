"""Charts of the manual as SVG: legible in grey, the same bytes for the same numbers.

A chart is drawn only when its numbers have changed, or what draws it: the drawing is kept under a
name that holds a hash of both, so that an unchanged manual needs no matplotlib.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib
import json
import warnings
from collections.abc import Callable
from functools import cache
from importlib import resources
from importlib.metadata import version
from pathlib import Path
from typing import Any

from steadbook.inventory.kept import write_whole
from steadbook.pages import charts, fuel_charts, power_charts, trend_charts
from steadbook.pages.site_map import site_map
from steadbook.workings import Workings

Data = dict[str, Any]
PLOTTERS = ("plots", "line_plots", "trend_plots", "site_map_plots", "fault_plots")
"""The modules that draw; a change in one of them draws every chart anew."""


class Drawer:
    """Draws the charts that pages ask for, keeping them from one build to the next."""

    def __init__(self, workings: Workings, kept: Path | None) -> None:
        self.workings = workings
        self.kept = kept
        self.drawn: dict[str, str] = {}
        self._used: set[Path] = set()

    def draw(self, name: str, subject: str) -> tuple[str | None, str, str]:
        """(path of the SVG or None, text for who cannot see it, caption)."""
        data, alt, caption = CHARTS[name][0](self.workings, subject)
        if not data:
            return None, alt, caption
        return self.kept_as(name, subject, CHARTS[name][1], data, alt), alt, caption

    def kept_as(self, name: str, subject: str, plotter: str, data: Data, alt: str) -> str:
        """The path of a drawing of ``data`` by ``plotter`` (module.function), made where needed."""
        path = f"drawings/{name}{'-' + subject if subject else ''}.svg"
        if path not in self.drawn:
            self.drawn[path] = self._svg(name, plotter, data, alt)
        return path

    def _svg(self, name: str, plotter: str, data: Data, alt: str) -> str:
        key = hashlib.sha256(
            json.dumps([_look(), name, data, alt], sort_keys=True).encode()
        ).hexdigest()
        file = self.kept / f"{name}-{key[:20]}.svg" if self.kept else None
        if file is not None:
            self._used.add(file)
            with contextlib.suppress(OSError):
                return file.read_text("utf-8")
        module, _, plot = plotter.rpartition(".")
        plots = importlib.import_module(f"steadbook.pages.{module or 'plots'}")
        with warnings.catch_warnings():  # a character that the font lacks is drawn as a box
            warnings.filterwarnings("ignore", "Glyph .* missing from font")
            svg = getattr(plots, plot)(data, alt)
        assert isinstance(svg, str)
        if file is not None:
            with contextlib.suppress(OSError):  # keeping it only saves time
                write_whole(file, svg.encode())
        return svg

    def sweep(self) -> None:
        """Clear out the drawings that were kept and are shown no more."""
        if self.kept is not None and self._used:
            with contextlib.suppress(OSError):
                for file in set(self.kept.iterdir()) - self._used:
                    file.unlink()


@cache
def _look() -> str:
    """A hash of what draws: the plotting modules and the version of matplotlib."""
    look = hashlib.sha256(version("matplotlib").encode())
    for name in PLOTTERS:
        look.update(resources.files(__package__).joinpath(f"{name}.py").read_bytes())
    return look.hexdigest()


CHARTS: dict[str, tuple[Callable[[Workings, str], tuple[Data, str, str]], str]] = {
    "schedule": (charts.schedule, "timeline"),
    "hours": (charts.hours, "months_by_year"),
    "tank-level": (fuel_charts.tank_level, "line_plots.curves"),
    "gas-supply": (fuel_charts.gas_supply, "line_plots.curves"),
    "exhaust": (fuel_charts.exhaust, "line_plots.curves"),
    "load": (fuel_charts.load, "line_plots.curves"),
    "shut-offs": (site_map, "site_map_plots.site_map"),
    "energy": (power_charts.energy, "line_plots.curves"),
    "winter-hours": (power_charts.winter_hours, "line_plots.curves"),
    "charging": (power_charts.charging, "line_plots.curves"),
    "trend": (trend_charts.values, "trend_plots.values_and_line"),
}
