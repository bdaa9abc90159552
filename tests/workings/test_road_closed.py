"""Parts that are needed while the road is closed are ordered so that they come before it."""

from datetime import date

import pytest

from steadbook.bind.calendar import entries
from steadbook.figures.schedule import Season
from steadbook.figures.stock import Need
from steadbook.making import made_manual
from steadbook.units import NO_BREAK
from steadbook.workings import work_out
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


ORDERED = """\
orders:
  - {{date: 2026-10-20, supplier: parts-shop, parts: {{oil-filter: 2}}, {days}}}
"""


def snowed_in(home, days):
    made = home()
    made.change("homestead.yaml", "elevation: 3000 ft\n", "elevation: 3000 ft\n" + ROAD)
    made.change("log/2026.yaml", "levels:\n", ORDERED.format(days=days) + "levels:\n")
    return made


def under_way(home, days, as_of, *changes):
    made = snowed_in(home, days)
    for change in changes:
        made.change(*change)
    return work_out(made.read(as_of=as_of), as_of)


@pytest.mark.parametrize(
    ("days", "as_of", "comes", "held_up"),
    [
        ("promised: 2026-11-19", date(2026, 11, 1), date(2026, 11, 19), None),
        ("promised: 2026-11-20", date(2026, 11, 1), date(2027, 4, 26), date(2026, 11, 20)),
        ("promised: 2027-04-25", date(2026, 11, 1), date(2027, 4, 26), date(2027, 4, 25)),
        ("promised: 2027-04-26", date(2026, 11, 1), date(2027, 4, 26), None),
        # late already, and the road closed meanwhile
        ("promised: 2026-11-10", date(2026, 12, 24), date(2027, 4, 26), date(2026, 12, 24)),
        ("back_order_until: 2027-01-15", date(2026, 11, 1), date(2027, 4, 26), date(2027, 1, 15)),
    ],
)
def test_an_order_promised_while_the_road_is_closed_comes_when_it_opens(
    home, days, as_of, comes, held_up
):
    workings = under_way(home, days, as_of)
    (found,) = workings.orders.under_way
    assert (found.expected, found.held_up) == (comes, held_up)
    ((order, day, amount),) = workings.shelf["oil-filter"].on_order
    assert (day, amount) == (comes, 2.0) and workings.orders.of(order) is found
    (event,) = [one for one in entries(workings) if one.uid.startswith("arrives.")]
    assert event.day == comes
    told = f"the road is closed on {held_up:%-d %b %Y}" if held_up else ""
    assert found.why.replace(NO_BREAK, " ") == told
    assert ("Not earlier: the road is closed" in event.text) is (held_up is not None)


def test_an_order_that_can_be_fetched_is_not_held_up(home):
    change = ("suppliers.yaml", "lead_time: 2 weeks", "lead_time: 2 weeks\n    needs_road: no")
    workings = under_way(home, "promised: 2027-01-10", date(2026, 11, 1), change)
    (found,) = workings.orders.under_way
    assert (found.expected, found.held_up, found.why) == (date(2027, 1, 10), None, "")


def test_the_pages_say_why_it_comes_later(home):
    place = snowed_in(home, "promised: 2027-01-10")
    place.change("power.yaml", "        procedure: genset-oil\n", "")
    made = made_manual(place.folder, as_of=date(2026, 11, 1))
    pages = {one.path: one.markdown.replace(NO_BREAK, " ") for one in made.manual.pages}
    told = "26 Apr 2027 (the road is closed on 10 Jan 2027)"
    assert told in pages["orders.md"] and f"2, expected {told}" in pages["shelf.md"]
