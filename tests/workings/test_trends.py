"""Measured values through the years: their line, the limit of the spec, the day they meet."""

from datetime import date

import pytest
from tests.conftest import AS_OF

from steadbook.workings import work_out
from steadbook.workings.trends import trends
from steadbook.workings.words import NBSP

RISING = ["10.0 A", "10.5 A", "11.0 A", "11.5 A"]
YEARS = [date(2022, 1, 1), date(2023, 1, 1), date(2024, 1, 1), date(2025, 1, 1)]


def measured(home, values, spec="{current: 8-13 A}", at=None, log=""):
    made = home()
    if spec:
        made.change("power.yaml", "    specs:\n", f"    specs:\n      draw: {spec}\n")
    lines = "".join(
        f"  - {{date: {day}, machine: genset, spec: draw, value: {value}"
        + (f", at: {at[place]}" if at else "")
        + "}\n"
        for place, (day, value) in enumerate(zip(YEARS * 2, values, strict=False))
    )
    made.change("log/2026.yaml", "levels:\n", f"measurements:\n{lines}{log}levels:\n")
    return made


def only(made):
    (found,) = trends(made.read())
    return found


def test_a_rise_meets_the_highest_by_hand(home):
    """0.5 A a year, 1.5 A short of 13 A on 1 January 2025: three years later."""
    found = only(measured(home, RISING))
    assert found.line.slope == pytest.approx(0.5, rel=2e-3)  # years of 365 and 366 days
    assert found.limit == 13.0
    assert abs((found.day(found.crossing.time) - date(2028, 1, 1)).days) <= 5
    assert found.forecast.startswith(("1" + NBSP + "Jan", "31" + NBSP + "Dec", "2" + NBSP + "Jan"))


def test_a_fall_meets_the_lowest(home):
    found = only(measured(home, RISING[::-1]))
    assert found.limit == 8.0
    assert abs((found.day(found.crossing.time) - date(2029, 1, 1)).days) <= 5


def test_three_values_say_nothing(home):
    assert trends(measured(home, RISING[:3]).read()) == ()
    assert trends(measured(home, ["10 A", "soon", "11 A", "11.5 A"]).read()) == ()


def test_values_that_scatter_hold_steady(home):
    found = only(measured(home, ["10.0 A", "10.6 A", "9.9 A", "10.3 A"]))
    assert (found.outlook, found.limit, found.forecast) == ("holds steady", None, "")


@pytest.mark.parametrize(
    ("spec", "limit"),
    [
        ("{current: 13 A}", None), ("{current: 13 A, limit: highest}", 13.0),
        ("{current: 13 A, limit: lowest}", None), ("{value: little}", None), ("", None),
    ],
)  # fmt: skip
def test_a_single_value_is_a_limit_only_where_the_spec_says_so(home, spec, limit):
    assert only(measured(home, RISING, spec)).limit == limit


def test_what_is_past_its_limit_says_so(home):
    assert only(measured(home, RISING, "{current: 8-11 A}")).forecast == "past it by now"


def test_a_limit_beyond_ten_years_is_no_forecast(home):
    found = only(measured(home, RISING, "{current: 8-30 A}"))
    assert (found.forecast, found.outlook) == ("", "not before 2035")


def test_other_units_and_places(home):
    """Values in two units are one series; two places are two."""
    found = only(measured(home, ["10.0 A", "10500 mA", "11.0 A", "11.5 A"]))
    assert found.values == pytest.approx((10.0, 10.5, 11.0, 11.5))
    two = measured(home, RISING + RISING, at=["a1"] * 4 + ["a2"] * 4)
    assert [one.title for one in trends(two.read())] == ["draw, a1", "draw, a2"]


def test_the_working_leads_back_to_the_log(home):
    made = measured(home, RISING)
    figure = work_out(made.read(), AS_OF).figures["genset.trend-draw"]
    words = " ".join(figure.working).replace(NBSP, " ")
    assert "1.50 A / 0.500 A a year = 3.0 years" in words
    where = {one.name: one.where for one in figure.inputs}
    assert where["last value"] == f"site_data/log/2026.yaml:{made.line('log/2026.yaml', '11.5 A')}"
    assert where["limit"] == f"site_data/power.yaml:{made.line('power.yaml', 'draw:')}"


def test_the_chart_holds_the_numbers_of_the_table(home):
    from steadbook.pages.trend_charts import values
    from steadbook.pages.trend_plots import values_and_line

    workings = work_out(measured(home, RISING).read(), AS_OF)
    data, alt, caption = values(workings, "genset.trend-draw")
    assert data["values"] == [10.0, 10.5, 11.0, 11.5]
    assert [one["y"] for one in data["limits"]] == [8.0, 13.0]
    assert data["line"][0] == pytest.approx(10.0, abs=0.01)
    assert "4 values" in alt and "rises" in alt
    assert "8 of 10" in caption
    svg = values_and_line(data, alt)
    assert svg.count("<svg") == 1
    assert svg == values_and_line(data, alt)


@pytest.mark.parametrize(
    ("limit", "value", "verdict"),
    [
        ("highest", "9 A", "within"), ("highest", "11 A", "above by 10.0 %"),
        ("lowest", "11 A", "within"), ("lowest", "9 A", "below by 10.0 %"),
    ],
)  # fmt: skip
def test_a_limit_is_kept_or_not(home, limit, value, verdict):
    from steadbook.workings.measured import measured as rows_of

    homestead = measured(home, [value], f"{{current: 10 A, limit: {limit}}}").read()
    (row,) = rows_of(homestead, homestead.machines["genset"])
    assert row.verdict == verdict
