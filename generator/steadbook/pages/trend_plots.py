"""Measured values with their line, its range and the limits. Grey and shapes."""

from __future__ import annotations

from datetime import date
from typing import Any

import matplotlib
from matplotlib import dates as plot_dates

from steadbook.pages.plots import GREY, INK, PALE, STYLE, _canvas, _svg, date_axis


def values_and_line(data: dict[str, Any], alt: str) -> str:
    """Marks at ``data["days"]``, the line and range over ``data["line_days"]``, dashed limits."""
    with matplotlib.rc_context(STYLE):
        figure, axes = _canvas(2.3)
        across = _numbers(data["line_days"])
        axes.fill_between(
            across, data["low"], data["high"], color=PALE, linewidth=0, label="8 in 10 next values"
        )
        axes.plot(across, data["line"], color=INK, linewidth=1.2, label="line")
        axes.plot(
            _numbers(data["days"]), data["values"], linestyle="none", marker="o", markersize=4,
            color=INK, markerfacecolor="white", label="measured",
        )  # fmt: skip
        for limit in data["limits"]:
            axes.axhline(limit["y"], color=GREY, linewidth=1, linestyle=(0, (6, 3)))
            axes.text(
                0.995, limit["y"], limit["label"], transform=axes.get_yaxis_transform(),
                ha="right", va="bottom", fontsize=8, color=INK,
            )  # fmt: skip
        date_axis(axes, across[-1] - across[0])
        axes.set_xlim(across[0] - 20, across[-1])
        axes.set_ylabel(data["y_label"])
        axes.ticklabel_format(axis="y", useOffset=False)
        axes.grid(color=PALE, linewidth=0.6)
        axes.set_axisbelow(True)
        axes.legend(frameon=False, fontsize=8, ncols=3, loc="lower left", bbox_to_anchor=(0, 1.0))
        return _svg(figure, alt)


def _numbers(days: list[str]) -> list[float]:
    return [float(plot_dates.date2num(date.fromisoformat(one))) for one in days]
