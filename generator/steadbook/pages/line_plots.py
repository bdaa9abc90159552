"""Curves over dates, temperatures or sizes, with a range, marks and closed spans. Grey and shapes."""

from __future__ import annotations

from datetime import date
from typing import Any

import matplotlib
from matplotlib import dates as plot_dates

from steadbook.pages.plots import GREY, INK, PALE, STYLE, _canvas, _svg, date_axis

FAINT = "#ececec"  # no transparency: the engine of the binder turns all under it into a bitmap
DASHES = ("-", "--", "-.", ":")
MARKERS = ("o", "s", "^", "D", "v", "x")


def curves(data: dict[str, Any], alt: str) -> str:
    """Curves of ``data["curves"]`` over ``data["x"]`` (ISO dates, numbers or names)."""
    with matplotlib.rc_context(STYLE):
        figure, axes = _canvas(data.get("height", 2.9))
        across, names = _across(data["x"])
        for span in data.get("closed", ()):
            first, last = (plot_dates.date2num(date.fromisoformat(one)) for one in span["days"])
            axes.axvspan(first, last, color=FAINT, linewidth=0, label=span["label"])
        if "range" in data:
            low, high = data["range"]
            axes.fill_between(across, low, high, color=PALE, linewidth=0, label="likely range")
            axes.plot(across, low, color=GREY, linewidth=0.6)
            axes.plot(across, high, color=GREY, linewidth=0.6)
        for place, curve in enumerate(data["curves"]):
            axes.plot(
                across, curve["y"], color=INK, linestyle=DASHES[place % len(DASHES)],
                marker=MARKERS[place % len(MARKERS)] if curve.get("marked") else None,
                markersize=4, markerfacecolor="white", linewidth=1.2, label=curve["label"],
            )  # fmt: skip
        for mark in data.get("marks", ()):
            axes.axhline(mark["y"], color=GREY, linewidth=1, linestyle=(0, (6, 3)))
            axes.text(
                0.995, mark["y"], mark["label"], transform=axes.get_yaxis_transform(),
                ha="right", va="bottom", fontsize=8, color=INK,
            )  # fmt: skip
        if isinstance(data["x"][0], str) and not names:
            date_axis(axes, across[-1] - across[0], step=data.get("months", 1))
            axes.set_xlim(across[0], max(across[-1], across[0] + 1))
        if names:
            axes.set_xticks(across, names)
        axes.set_xlabel(data.get("x_label", ""))
        axes.set_ylabel(data["y_label"])
        axes.set_ylim(bottom=0, top=data.get("top"))
        axes.grid(color=PALE, linewidth=0.6)
        axes.set_axisbelow(True)
        axes.legend(frameon=False, fontsize=8, ncols=data.get("columns", 3), loc="lower left", bbox_to_anchor=(0, 1.0))  # fmt: skip
        return _svg(figure, alt)


def _across(x: list[Any]) -> tuple[list[float], list[str] | None]:
    """Places of the values along the axis, and their names where they are neither day nor number."""
    if not isinstance(x[0], str):
        return [float(one) for one in x], None
    try:
        return [plot_dates.date2num(date.fromisoformat(one)) for one in x], None
    except ValueError:
        return [float(place) for place in range(len(x))], list(x)
