"""Drawing with matplotlib: numbers in, SVG text out. Black, grey and shapes; colour says nothing."""

from __future__ import annotations

import io
import re
from datetime import date
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

import matplotlib
from matplotlib import dates as plot_dates
from matplotlib import font_manager
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure

WIDTH = 7.0  # inches: the width of the printed column
INK, GREY, PALE = "#111111", "#666666", "#cccccc"
MOST_MARKS, MOST_GIVEN = 8, 24  # marks of a date axis: chosen, or at a step that was asked for
STYLE = {
    "svg.hashsalt": "steadbook",
    "svg.fonttype": "path",
    "text.parse_math": False,  # a dollar sign in a name is a dollar sign
    "font.family": "DejaVu Sans",
    "font.size": 9,
    "axes.edgecolor": GREY,
    "axes.linewidth": 0.8,
}

FONTS = ("DejaVuSans-Bold.ttf", "DejaVuSans.ttf")


def _own_fonts_first() -> None:
    """Whatever fonts the system has, matplotlib's own are drawn: the same bytes on every machine."""
    fonts = font_manager.fontManager
    for name in FONTS:
        fonts.addfont(Path(matplotlib.get_data_path(), "fonts", "ttf", name))
        fonts.ttflist.insert(0, fonts.ttflist.pop())


_own_fonts_first()


def _canvas(height: float) -> tuple[Figure, Any]:
    figure = Figure(figsize=(WIDTH, height))
    FigureCanvasSVG(figure)
    axes = figure.add_subplot()
    axes.spines[["top", "right"]].set_visible(False)
    return figure, axes


def _svg(figure: Figure, alt: str) -> str:
    out = io.StringIO()
    figure.savefig(
        out,
        format="svg",
        metadata={"Date": None, "Creator": None},
        bbox_inches="tight",
        pad_inches=0.05,
    )
    text = out.getvalue()
    text = text[text.index("<svg") :]
    words = f"<title>{escape(alt)}</title>"
    return re.sub(r"(<svg\b[^>]*)>", lambda m: m.group(1) + ' role="img">' + words, text, count=1)


def date_axis(axes: Any, days: float, step: int | None = None) -> None:
    """A mark every ``step`` months while they are few, else each month or year: eight at most."""
    months = days / 30.44
    if step is None or months / step > MOST_GIVEN:
        step = next((one for one in (1, 2, 3, 6) if months / one <= MOST_MARKS), None)
    if step is not None:
        axes.xaxis.set_major_locator(plot_dates.MonthLocator(bymonth=range(1, 13, step)))
        axes.xaxis.set_major_formatter(plot_dates.DateFormatter("%b\n%Y"))
    else:
        years = max(1, round(months / 12 / MOST_MARKS))
        axes.xaxis.set_major_locator(plot_dates.YearLocator(years))
        axes.xaxis.set_major_formatter(plot_dates.DateFormatter("%Y"))


def timeline(data: dict[str, Any], alt: str) -> str:
    """Due days with their ranges, one row a task."""
    rows = data["rows"]
    start, end = (plot_dates.date2num(date.fromisoformat(data[key])) for key in ("from", "until"))
    with matplotlib.rc_context(STYLE):
        figure, axes = _canvas(0.9 + 0.24 * len(rows))
        for place, row in enumerate(rows):
            early, day, late = (
                max(start, plot_dates.date2num(date.fromisoformat(row[key])))
                for key in ("early", "day", "late")
            )
            mark = "D" if row["pressing"] else "o"
            axes.plot([early, late], [place, place], color=GREY, linewidth=3, solid_capstyle="butt")
            axes.plot(
                [day], [place], marker="<" if row["day"] < data["from"] else mark, markersize=6,
                color=INK, markerfacecolor=INK if row["pressing"] else "white",
            )  # fmt: skip
        axes.set_yticks(range(len(rows)), [row["label"] for row in rows])
        axes.set_ylim(len(rows) - 0.4, -0.6)
        axes.set_xlim(start - 10, end + 14)
        date_axis(axes, end - start, step=1 if end - start < 360 else 3)
        axes.set_xlabel("day on which it falls due; each mark is the first of a month")
        axes.grid(axis="x", which="major", color=PALE, linewidth=0.6)
        axes.tick_params(axis="y", length=0)
        return _svg(figure, alt)


def months_by_year(data: dict[str, Any], alt: str) -> str:
    """Twelve months across: a mark a year, a bar for the forecast."""
    marks = "o", "s", "^", "D"
    with matplotlib.rc_context(STYLE):
        figure, axes = _canvas(2.6)
        months = range(12)
        axes.bar(
            months, data["forecast"], width=0.62, color=PALE, edgecolor=GREY, linewidth=0.6,
            label="forecast",
        )  # fmt: skip
        for mark, (year, values) in zip(marks, data["years"].items(), strict=False):
            known = [(month, value) for month, value in enumerate(values) if value is not None]
            axes.plot(
                [month for month, _ in known], [value for _, value in known], linestyle="none",
                marker=mark, markersize=5, color=INK, markerfacecolor="white", label=year,
            )  # fmt: skip
        axes.set_xticks(
            list(months),
            ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"],
        )
        axes.set_ylabel("hours in the month")
        axes.set_ylim(bottom=0)
        axes.grid(axis="y", color=PALE, linewidth=0.6)
        axes.set_axisbelow(True)
        axes.legend(frameon=False, ncols=5, fontsize=8, loc="lower left", bbox_to_anchor=(0, 1.0))
        return _svg(figure, alt)
