"""The drawn decision path: questions down the left, what to do on the right. Black and white."""

from __future__ import annotations

import textwrap
from typing import Any

import matplotlib
from matplotlib.patches import Circle, FancyBboxPatch

from steadbook.pages.plots import GREY, INK, STYLE, WIDTH, _canvas, _svg

LINE = 0.145  # inches a line of text
PAD = 0.09
GAP = 0.2
LEFT, LEFT_WIDTH, LEFT_LETTERS = 0.32, 2.75, 43
RIGHT, RIGHT_WIDTH, RIGHT_LETTERS = 3.75, 3.2, 51
SIZE = 7.6
Box = dict[str, Any]


def decision_path(data: dict[str, Any], alt: str) -> str:
    """One row a question; an answer goes down, to a box on the right, or to a numbered step."""
    rows = [_measured(row) for row in data["rows"]]
    height = sum(row["height"] for row in rows) + GAP * (len(rows) - 1)
    with matplotlib.rc_context(STYLE):
        figure, axes = _canvas(height)
        figure.subplots_adjust(0, 0, 1, 1)
        axes.set_xlim(0, WIDTH)
        axes.set_ylim(height + 0.02, -0.02)
        axes.axis("off")
        top = 0.0
        for place, row in enumerate(rows):
            _draw_row(axes, row, top, is_last=place == len(rows) - 1)
            top += row["height"] + GAP
        return _svg(figure, alt)


def _measured(row: Box) -> Box:
    lines = textwrap.wrap(row["check"], LEFT_LETTERS)
    following = row["number"] + 1
    down = next(
        (a["word"] for a in row["answers"] if a["kind"] == "go" and a["go"] == following), None
    )
    boxes = []
    for answer in row["answers"]:
        if answer["word"] == down:
            continue
        if answer["kind"] == "go":
            wrapped = [f"Go to {answer['go']}."]
        else:
            lead = "STOP. " if answer["kind"] == "stop" else ""
            wrapped = [
                part
                for number, line in enumerate(answer["lines"])
                for part in textwrap.wrap((lead if not number else "") + line, RIGHT_LETTERS)
            ]
        boxes.append({**answer, "wrapped": wrapped, "height": len(wrapped) * LINE + 2 * PAD})
    left = len(lines) * LINE + 2 * PAD
    right = sum(box["height"] for box in boxes) + 0.1 * max(0, len(boxes) - 1)
    return {**row, "lines": lines, "down": down, "boxes": boxes, "left": left,
            "height": max(left, right)}  # fmt: skip


def _draw_row(axes: Any, row: Box, top: float, *, is_last: bool) -> None:
    middle = top + row["left"] / 2
    _frame(axes, LEFT, top, LEFT_WIDTH, row["left"], "do")
    _words(axes, LEFT, top, row["lines"], INK)
    axes.add_patch(Circle((0.13, middle), 0.125, facecolor=INK, edgecolor=INK))
    axes.text(0.13, middle, str(row["number"]), color="white", fontsize=SIZE, fontweight="bold",
              ha="center", va="center_baseline")  # fmt: skip
    if row["down"] and not is_last:
        x = LEFT + 0.45
        _arrow(axes, (x, top + row["left"]), (x, top + row["height"] + GAP))
        axes.text(x + 0.06, top + row["left"] + 0.12, row["down"], fontsize=SIZE,
                  fontweight="bold", va="center_baseline", color=INK)  # fmt: skip
    y = top
    for box in row["boxes"]:
        _frame(axes, RIGHT, y, RIGHT_WIDTH, box["height"], box["kind"])
        _words(axes, RIGHT, y, box["wrapped"], "white" if box["kind"] == "stop" else INK)
        level = y + min(box["height"] / 2, 0.16)
        start = min(level, top + row["left"] - 0.05)
        corner = LEFT + LEFT_WIDTH + 0.2
        axes.plot([LEFT + LEFT_WIDTH, corner, corner], [start, start, level],
                  color=INK, linewidth=0.9, solid_joinstyle="miter")  # fmt: skip
        _arrow(axes, (corner, level), (RIGHT, level))
        axes.text(RIGHT - 0.13, level - 0.05, box["word"], fontsize=SIZE, fontweight="bold",
                  ha="right", va="bottom", color=INK)  # fmt: skip
        y += box["height"] + 0.1


def _frame(axes: Any, x: float, y: float, width: float, height: float, kind: str) -> None:
    style = "round,pad=0,rounding_size=0.06" if kind == "go" else "square,pad=0"
    face = INK if kind == "stop" else "white"
    axes.add_patch(FancyBboxPatch((x, y), width, height, boxstyle=style, facecolor=face,
                                  edgecolor=GREY if kind == "go" else INK, linewidth=0.9,
                                  linestyle="dashed" if kind == "go" else "solid"))  # fmt: skip
    if kind == "call":
        inset = 0.035
        axes.add_patch(FancyBboxPatch((x + inset, y + inset), width - 2 * inset,
                                      height - 2 * inset, boxstyle="square,pad=0",
                                      facecolor="none", edgecolor=INK, linewidth=0.6))  # fmt: skip


def _words(axes: Any, x: float, y: float, lines: list[str], colour: str) -> None:
    for number, line in enumerate(lines):
        axes.text(x + 0.09, y + PAD + (number + 0.75) * LINE, line, fontsize=SIZE, color=colour,
                  va="baseline")  # fmt: skip


def _arrow(axes: Any, start: tuple[float, float], end: tuple[float, float]) -> None:
    axes.annotate("", xy=end, xytext=start,
                  arrowprops={"arrowstyle": "-|>", "color": INK, "linewidth": 0.9,
                              "shrinkA": 0, "shrinkB": 0, "mutation_scale": 8})  # fmt: skip
