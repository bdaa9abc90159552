"""The chart of due days: every task on it has a mark, what is long past due an arrow at the edge."""

import re
from datetime import date
from pathlib import Path

import pytest

from steadbook.making import worked_out
from steadbook.pages import charts
from steadbook.pages.plots import timeline

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def chart():
    return charts.schedule(worked_out(ROOT, as_of=date(2026, 11, 25)), "")


def test_the_chart_begins_no_more_than_four_months_before(chart):
    data, _, caption = chart
    assert data["from"] == "2026-07-04"  # 120 days before 1 November
    old = [row["label"] for row in data["rows"] if row["day"] < data["from"]]
    assert len(old) == 2
    assert "arrow at the left edge" in caption


def test_every_task_has_a_mark_inside_the_frame(chart):
    """Ticks stand on the left edge and on the bottom; all else that is set by x and y is a mark."""
    data, alt, _ = chart
    places = [
        (float(x), float(y))
        for x, y in re.findall(
            r'<use xlink:href="#m\w+" x="([\d.]+)" y="([\d.]+)"', timeline(data, alt)
        )
    ]
    left, bottom = min(x for x, _ in places), max(y for _, y in places)
    marks = [(x, y) for x, y in places if x > left and y < bottom]
    assert len({y for _, y in marks}) == len(marks) == len(data["rows"])


def test_the_axis_says_what_it_counts(chart):
    """Words stand in the drawing as text, so that they are found, read aloud and printed."""
    drawn = timeline(chart[0], "alt")
    assert "day on which it falls due; each mark is the first of a month" in drawn
