"""The drawn map of shut-offs: outlines, numbered marks by shape, north and a scale. No colour."""

from __future__ import annotations

from typing import Any

import matplotlib
from matplotlib.patches import Rectangle

from steadbook.pages.plots import GREY, INK, STYLE, WIDTH, _canvas, _svg

SHAPES = {
    "propane": ("^", "propane"),
    "gasoline": ("v", "gasoline"),
    "diesel": ("v", "diesel"),
    "genset": ("s", "genset"),
    "mains power": ("D", "mains power"),
    "battery power": ("p", "battery power"),
    "solar power": ("h", "solar power"),
    "water": ("o", "water"),
}
TALLEST = 3.6  # inches


def site_map(data: dict[str, Any], alt: str) -> str:
    """The place from above, in feet or metres."""
    scale = data["per_metre"]
    boxes = [{key: value * scale if key != "name" else value for key, value in one.items()}
             for one in data["buildings"]]  # fmt: skip
    marks = [{**one, "x": one["x"] * scale, "y": one["y"] * scale} for one in data["marks"]]
    xs = [one["x"] for one in marks] + [x for b in boxes for x in (b["x"], b["x"] + b["width"])]
    ys = [one["y"] for one in marks] + [y for b in boxes for y in (b["y"], b["y"] + b["depth"])]
    margin = 0.06 * max(max(xs) - min(xs), max(ys) - min(ys), 1.0)
    west, east = min(xs) - margin, max(xs) + margin
    south, north = min(ys) - margin, max(ys) + margin
    with matplotlib.rc_context(STYLE):
        figure, axes = _canvas(min(TALLEST, WIDTH * (north - south) / (east - west) + 0.5))
        axes.axis("off")
        axes.set_xlim(west, east)
        axes.set_ylim(south, north)
        axes.set_aspect("equal")
        for box in boxes:
            _building(axes, box)
        _marks(axes, marks)
        _north_and_scale(axes, west, east, south, north, data["unit"])
        return _svg(figure, alt)


def _building(axes: Any, box: dict[str, Any]) -> None:
    axes.add_patch(
        Rectangle(
            (box["x"], box["y"]),
            box["width"],
            box["depth"],
            facecolor="#f2f2f2",
            edgecolor=GREY,
            linewidth=1.1,
        )
    )
    axes.annotate(
        box["name"], (box["x"] + box["width"] / 2, box["y"] + box["depth"]), xytext=(0, 6),
        textcoords="offset points", ha="center", va="bottom", fontsize=8, color=INK,
    )  # fmt: skip


def _marks(axes: Any, marks: list[dict[str, Any]]) -> None:
    told: set[str] = set()
    for mark in marks:
        shape, label = SHAPES[mark["what"]]
        axes.plot(
            mark["x"], mark["y"], linestyle="none", marker=shape, markersize=13, color=INK,
            markerfacecolor="white", markeredgewidth=1.3,
            label=None if label in told else label,
        )  # fmt: skip
        axes.annotate(
            str(mark["number"]), (mark["x"], mark["y"]), ha="center", va="center_baseline",
            fontsize=7.5, fontweight="bold", color=INK,
        )  # fmt: skip
        told.add(label)
    axes.legend(
        loc="upper center", bbox_to_anchor=(0.5, -0.01), ncols=4, frameon=False, fontsize=8,
        markerscale=0.6, handletextpad=0.2,
    )  # fmt: skip


def _north_and_scale(
    axes: Any, west: float, east: float, south: float, north: float, unit: str
) -> None:
    axes.annotate(
        "N", xy=(0.03, 0.99), xytext=(0.03, 0.87), xycoords="axes fraction", ha="center",
        fontsize=9, fontweight="bold", arrowprops={"arrowstyle": "-|>", "color": INK},
    )  # fmt: skip
    bar = next(size for size in (200, 100, 50, 20, 10, 5, 2, 1) if size <= (east - west) / 3)
    y = south + 0.02 * (north - south)
    axes.plot([east - bar, east], [y, y], color=INK, linewidth=2.2, solid_capstyle="butt")
    axes.annotate(
        f"{bar} {unit}", (east - bar / 2, y), xytext=(0, 3), textcoords="offset points",
        ha="center", fontsize=8,
    )  # fmt: skip
