"""What to order and by when, against a shelf walked through day by day."""

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.figures.stock import Need, Shortage, shortages

TODAY = date(2026, 12, 1)
MONTH = timedelta(days=30)


def in_days(count):
    return TODAY + timedelta(days=count)


def test_order_by_is_the_lead_time_before_the_need():
    need = Need(date(2027, 1, 20), 1)
    assert shortages([need], 0, [], MONTH, TODAY) == [
        Shortage(need, 1, date(2026, 12, 21), late=False)
    ]


def test_what_cannot_come_in_time_is_late():
    need = Need(in_days(29), 1)
    assert shortages([need], 0, [], MONTH, TODAY) == [Shortage(need, 1, in_days(-1), late=True)]
    just = Need(in_days(30), 1)
    assert shortages([just], 0, [], MONTH, TODAY)[0].late is False


def test_the_shelf_serves_the_first_needs():
    needs = [Need(in_days(50), 2), Need(in_days(10), 1), Need(in_days(90), 1)]
    found = shortages(needs, 2.5, [], MONTH, TODAY)
    assert [(one.need.day, one.missing) for one in found] == [
        (in_days(50), 0.5), (in_days(90), 1),
    ]  # fmt: skip


def test_an_order_under_way_counts_from_the_day_it_comes():
    needs = [Need(in_days(20), 1), Need(in_days(40), 1)]
    assert shortages(needs, 0, [Need(in_days(20), 2)], MONTH, TODAY) == []


def test_an_order_that_comes_after_the_need_is_not_ordered_again():
    needs = [Need(in_days(20), 1), Need(in_days(60), 2)]
    found = shortages(needs, 0, [Need(in_days(25), 2)], MONTH, TODAY)
    assert found == [
        Shortage(needs[0], 1, None, late=True, arrives=in_days(25)),
        Shortage(needs[1], 1, in_days(30), late=False),
    ]


def test_nothing_needed_nothing_missing():
    assert shortages([], 0, [], MONTH, TODAY) == []
    assert shortages([Need(TODAY, 0)], 0, [], MONTH, TODAY) == []
    assert shortages([Need(TODAY, 3)], 3, [], MONTH, TODAY) == []


def walked(needs, on_hand, incoming):
    """Day by day: what comes serves first those who wait, then the shelf. What never came."""
    shelf, waiting, lacking = on_hand, [], 0
    for day in range(401):
        shelf += sum(one.amount for one in incoming if one.day == in_days(day))
        while waiting and shelf > 0:
            given_out = min(shelf, waiting[0])
            shelf -= given_out
            waiting[0] -= given_out
            if waiting[0] == 0:
                waiting.pop(0)
        for need in (one for one in needs if one.day == in_days(day)):
            had = min(shelf, need.amount)
            shelf -= had
            if need.amount > had:
                waiting.append(need.amount - had)
                lacking += need.amount - had
    return lacking, sum(waiting)


# Halves, so that sums are exact.
amounts = st.integers(0, 12).map(lambda halves: halves / 2)
events = st.lists(st.builds(Need, st.integers(0, 400).map(in_days), amounts), max_size=6)


@given(events, amounts, events, st.integers(0, 100))
@settings(max_examples=60)
def test_all_that_is_missing_is_what_a_walk_day_by_day_finds(needs, on_hand, incoming, lead):
    found = shortages(needs, on_hand, incoming, timedelta(days=lead), TODAY)
    lacking, never_came = walked(needs, on_hand, incoming)
    assert sum(one.missing for one in found) == approx(lacking)
    assert sum(one.missing for one in found if one.order_by) == approx(never_came)
    for one in found:
        assert one.missing > 0
        if one.order_by is None:
            assert one.late and one.arrives > one.need.day
        else:
            assert one.order_by == one.need.day - timedelta(days=lead)
            assert one.late == (one.order_by < TODAY)
    assert [one.need.day for one in found] == sorted(one.need.day for one in found)


@given(events, amounts, events, amounts)
def test_more_on_the_shelf_never_lacks_more(needs, on_hand, incoming, more):
    def lacking(shelf):
        return sum(one.missing for one in shortages(needs, shelf, incoming, MONTH, TODAY))

    assert lacking(on_hand + more) <= lacking(on_hand)
