"""Parts that are needed while the road is closed are ordered so that they come before it."""

from datetime import date

import pytest

from steadbook.figures.schedule import Season
from steadbook.figures.stock import Need
from steadbook.units import NO_BREAK
from steadbook.workings.shelf import order_figures, shelf

AS_OF = date(2026, 3, 1)
ROAD = "road_closed: {season: 20 November to 25 April, reason: snow}\n"
NEED = date(2027, 3, 13)
SNOW = Season((11, 20), (4, 25))


def line_of(home, need, *changes):
    made = home()
    made.change("homestead.yaml", "elevation: 3000 ft\n", "elevation: 3000 ft\n" + ROAD)
    for change in changes:
        made.change(*change)
    inventory = made.read()
    name = next(iter(inventory.parts))
    line = shelf(inventory, {name: [Need(need, 1000.0)]}, AS_OF)[name]
    words = order_figures(inventory, [line], AS_OF)[0].working
    return line, " ".join(words).replace(NO_BREAK, " ")


def test_it_must_be_here_before_the_road_closes(home):
    line, words = line_of(home, NEED)
    assert line.order_by == date(2026, 11, 19) - line.lead.days
    assert "it must be here by 19 Nov 2026" in words and "snow" in words


def test_with_the_road_open_the_day_of_the_work_counts(home):
    line, words = line_of(home, date(2027, 5, 13))
    assert line.order_by == date(2027, 5, 13) - line.lead.days
    assert "road" not in words


def test_a_supplier_without_need_of_the_road_is_not_held_up(home):
    made = home().read()
    supplier = next(iter(made.parts.values())).supplier
    lead = f"    lead_time: {made.suppliers[supplier].lead_time.text}"
    line, words = line_of(
        home, NEED, ("suppliers.yaml", lead.strip(), lead.strip() + "\n    needs_road: no")
    )
    assert line.order_by == NEED - line.lead.days and "road" not in words


def test_what_is_ordered_now_comes_when_the_road_opens(home):
    line, _ = line_of(home, NEED)
    late = date(2026, 12, 1)
    assert line.comes(late) == date(2027, 4, 26)
    early = date(2026, 6, 1)
    assert line.comes(early) == early + line.lead.days


@pytest.mark.parametrize(
    ("day", "before", "after"),
    [
        (date(2026, 11, 19), date(2026, 11, 19), date(2026, 11, 19)),
        (date(2026, 11, 20), date(2026, 11, 19), date(2027, 4, 26)),
        (date(2027, 1, 1), date(2026, 11, 19), date(2027, 4, 26)),
        (date(2027, 4, 25), date(2026, 11, 19), date(2027, 4, 26)),
        (date(2027, 4, 26), date(2027, 4, 26), date(2027, 4, 26)),
    ],
)
def test_days_around_a_season(day, before, after):
    assert (SNOW.last_day_out(day), SNOW.next_day_out(day)) == (before, after)


def test_a_season_of_the_whole_year_has_no_day_out():
    always = Season((1, 1), (12, 31))
    assert always.last_day_out(AS_OF) == always.next_day_out(AS_OF) == AS_OF
