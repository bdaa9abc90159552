"""Date axes of charts: a few marks over any span, no warning, and new drawings after a change."""

import matplotlib
import pytest
from matplotlib.figure import Figure

from steadbook.pages import drawings, line_plots, plots, trend_plots

SPANS = [
    ("2026-01-01", "2026-01-01"),
    ("2026-01-01", "2026-01-03"),
    ("2026-01-01", "2026-12-31"),
    ("2020-02-29", "2026-11-25"),
    ("1926-01-01", "2126-01-01"),  # a date mistyped by a century
]


@pytest.mark.parametrize(("first", "last"), SPANS)
def test_every_chart_over_days_is_drawn_without_a_warning(first, last, caplog):
    ends = [first, last]
    trend_plots.values_and_line(
        {
            "days": ends, "values": [1.0, 2.0], "line_days": ends, "line": [1.0, 2.0],
            "low": [0.9, 1.9], "high": [1.1, 2.1], "limits": [], "y_label": "V",
        },
        "alt",
    )  # fmt: skip
    curve = {"y": [1.0, 2.0], "label": "level"}
    line_plots.curves({"x": ends, "curves": [curve], "y_label": "%"}, "alt")
    row = {"early": first, "day": first, "late": last, "pressing": False, "label": "oil"}
    plots.timeline({"rows": [row], "from": first, "until": last}, "alt")
    assert caplog.records == []  # matplotlib logs too many ticks


def test_no_bar_hides_the_names_of_the_years(monkeypatch):
    drawn = []
    monkeypatch.setattr(plots, "_svg", lambda figure, alt: drawn.append(figure) or "")
    years = {str(year): [90.0] * 12 for year in range(2023, 2027)}
    plots.months_by_year({"forecast": [90.0] * 12, "years": years}, "alt")
    [axes] = drawn[0].axes
    drawn[0].draw_without_rendering()
    assert axes.get_legend().get_window_extent().y0 >= axes.get_window_extent().y1


@pytest.mark.parametrize("days", [0, 20, 200, 365, 3650, 80_000])
@pytest.mark.parametrize("step", [None, 1, 3])
def test_a_date_axis_has_few_marks(days, step):
    with matplotlib.rc_context(plots.STYLE):
        axes = Figure().add_subplot()
        axes.set_xlim(20_000, 20_000 + max(days, 1))
        plots.date_axis(axes, days, step)
        assert len(axes.get_xticks()) <= plots.MOST_GIVEN + 2


def test_a_kept_drawing_is_made_again_when_the_plotting_changes(monkeypatch, tmp_path):
    drawer = drawings.Drawer(None, tmp_path)
    data = {"x": [1.0, 2.0], "curves": [{"y": [1.0, 2.0], "label": "a"}], "y_label": "V"}
    first = drawer._svg("load", "line_plots.curves", data, "alt")
    (kept,) = tmp_path.iterdir()
    kept.write_text("kept")
    assert drawer._svg("load", "line_plots.curves", data, "alt") == "kept"
    monkeypatch.setattr(drawings, "_look", lambda: "another look")
    assert drawer._svg("load", "line_plots.curves", data, "alt") == first


def test_every_plotter_belongs_to_the_look():
    used = {plotter.rpartition(".")[0] or "plots" for _, plotter in drawings.CHARTS.values()}
    assert used | {"plots", "fault_plots"} == set(drawings.PLOTTERS)


def test_what_is_shown_no_more_is_kept_no_more(tmp_path):
    first = drawings.Drawer(None, tmp_path)
    data = {"x": [1.0, 2.0], "curves": [{"y": [1.0, 2.0], "label": "a"}], "y_label": "V"}
    drawn = [first._svg("load", "line_plots.curves", data, alt) for alt in ("one", "two")]
    assert len(set(drawn)) == len(list(tmp_path.iterdir())) == 2
    second = drawings.Drawer(None, tmp_path)
    assert second._svg("load", "line_plots.curves", data, "one") == drawn[0]
    second.sweep()
    (kept,) = tmp_path.iterdir()
    assert kept.read_text("utf-8") == drawn[0]
