"""Charts of fuel and engine hold the numbers of the tables beside them, and draw the same bytes."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from steadbook.making import worked_out
from steadbook.pages.drawings import CHARTS, Drawer
from steadbook.pages.line_plots import curves
from steadbook.units import convert
from steadbook.workings.fuel_forecast import on_mark_day

ROOT = Path(__file__).parents[2]
SUBJECTS = {
    "tank-level": "north-tank",
    "gas-supply": "north-tank",
    "load": "main-genset",
    "exhaust": "main-genset",
}


@pytest.fixture(scope="module")
def workings():
    return worked_out(ROOT, as_of=date(2026, 11, 25))


@pytest.mark.parametrize("name", SUBJECTS)
def test_a_chart_has_words_for_who_cannot_see_it(workings, name):
    data, alt, caption = CHARTS[name][0](workings, SUBJECTS[name])
    assert data
    assert len(alt) > 60
    assert "table" in alt
    assert caption.endswith(".")


@pytest.mark.parametrize("name", SUBJECTS)
def test_a_drawing_is_grey_and_always_the_same(workings, name):
    data, alt, _ = CHARTS[name][0](workings, SUBJECTS[name])
    svg = curves(data, alt)
    assert svg == curves(data, alt)
    assert "<title>" in svg
    assert "opacity" not in svg  # the binder's engine turns what is under it into a bitmap


def test_the_level_falls_from_the_gauge_through_the_mark(workings):
    data, _, _ = CHARTS["tank-level"][0](workings, "north-tank")
    stock = workings.fuel.of("north-tank")
    expected = data["curves"][0]["y"]
    assert expected[0] == pytest.approx(66)
    below = next(day for day, level in zip(data["x"], expected, strict=True) if level <= 20)
    assert abs((date.fromisoformat(below) - stock.mark_days[0]).days) <= 7  # a point a week
    low, high = data["range"]
    assert all(a <= b <= c for a, b, c in zip(low, expected, high, strict=True))


def test_a_mark_that_is_not_reached_is_told_so(workings):
    stock = workings.fuel.of("north-tank")
    fuel = replace(workings.fuel, stocks=(replace(stock, mark_days=(None, None, None)),))
    changed = replace(workings)
    changed.__dict__["fuel"] = fuel
    _, alt, caption = CHARTS["tank-level"][0](changed, "north-tank")
    assert "reserve mark 20 % reached not within two years" in alt.replace("\u00a0", " ")
    assert "not known" not in alt + caption
    assert on_mark_day(None) in caption


def test_the_gas_of_the_chart_is_the_handbooks(workings):
    """41 in x 192 in x 60 at 20 %, 0 F: 472,320 Btu/h; 124,443 asked for at 1.36 gal/h."""
    data, _, _ = CHARTS["gas-supply"][0](workings, "north-tank")
    twenty = next(one["y"] for one in data["curves"] if one["label"] == "20 % full")
    assert twenty[data["x"].index(0)] == pytest.approx(472.3)
    assert data["marks"][0]["y"] == pytest.approx(1.36 * 91.502, abs=0.1)


def test_the_load_line_runs_through_the_plate(workings):
    data, _, _ = CHARTS["load"][0](workings, "main-genset")
    rates = dict(zip(data["x"], data["curves"][0]["y"], strict=True))
    assert (rates[4], rates[8]) == pytest.approx((0.88, 1.36))


def test_the_pipe_of_the_chart_is_that_of_the_table(workings):
    data, _, _ = CHARTS["exhaust"][0](workings, "main-genset")
    (found,) = workings.engine.exhausts
    there = next(place for place, name in enumerate(data["x"]) if "as it is" in name)
    assert data["curves"][1]["y"][there] == pytest.approx(
        convert(found.there.sooty, "kPa", "inH2O"), abs=0.01
    )


@pytest.mark.parametrize("name", SUBJECTS)
def test_nothing_known_is_said_in_words(workings, name):
    subject = "cistern" if SUBJECTS[name].endswith("tank") else "milk-chiller"
    path, _, caption = Drawer(workings, None).draw(name, subject)
    assert path is None
    assert caption.endswith(".")
