"""The calendar file: read by another program, kept to the standard line by line, always the same."""

from datetime import date, timedelta
from pathlib import Path

import pytest
import vobject
from dateutil.rrule import rrulestr

from steadbook.bind.calendar import Entry, _rule, calendar_file, entries
from steadbook.figures.schedule import Season
from steadbook.inventory import read_inventory
from steadbook.units import CalendarInterval
from steadbook.workings import work_out

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """Where the made-up winters are kept."""
    return tmp_path_factory.mktemp("winters")


@pytest.fixture(scope="module")
def workings(kept):
    """The demo, worked out."""
    return work_out(read_inventory(ROOT / "site_data", as_of=DAY), DAY, kept=kept)


@pytest.fixture(scope="module")
def data(workings):
    """The demo's calendar."""
    return calendar_file(workings)


@pytest.fixture(scope="module")
def events(data):
    """As another program reads them."""
    return vobject.readOne(data.decode()).vevent_list


def test_lines_are_as_rfc_5545_wants_them(data):
    """Section 3.1: lines end in CR LF and hold at most 75 octets; no control character in them."""
    assert data.endswith(b"\r\n")
    lines = data.split(b"\r\n")
    assert not [line for line in lines if b"\n" in line or b"\r" in line]
    assert max(len(line) for line in lines) <= 75
    for line in lines:
        line.decode()  # folding does not cut a character in two
    begins = [line for line in lines if line.startswith((b"BEGIN:", b"END:"))]
    assert begins[0] == b"BEGIN:VCALENDAR" and begins[-1] == b"END:VCALENDAR"
    assert lines.count(b"BEGIN:VEVENT") == lines.count(b"END:VEVENT") > 100


def test_each_event_has_what_it_must_have(events, workings):
    """Section 3.6.1: UID and DTSTAMP; the end after the begin; an alarm has action and trigger."""
    uids = [event.uid.value for event in events]
    assert len(uids) == len(set(uids))
    for event in events:
        assert event.dtstamp.value.isoformat() == "2026-11-25T00:00:00+00:00"
        assert type(event.dtstart.value) is date
        assert event.dtend.value - event.dtstart.value == timedelta(days=1)
        assert DAY <= event.dtstart.value <= workings.until
        assert event.summary.value
        for alarm in event.contents.get("valarm", []):
            assert alarm.action.value == "DISPLAY" and alarm.description.value
            assert isinstance(alarm.trigger.value, timedelta)


def test_what_the_plan_holds_the_calendar_holds(events, workings):
    days = {(event.summary.value, event.dtstart.value) for event in events}
    for visit in workings.visits:
        for state in visit.tasks:
            assert (f"{state.machine.name}: {state.task.title}", visit.day) in days
    orders = [event for event in events if event.summary.value.startswith("Order by today")]
    short = [one for line in workings.shelf.values() for one in workings.order_lines(line)]
    fuel = [one.order.order_by for one in workings.fuel.stocks if one.order]
    assert len(orders) == len(short) + len(fuel) and short and fuel
    assert sorted(event.dtstart.value for event in orders) == sorted(
        max(day, DAY) for day in (*(one.order_by for one in short), *fuel)
    )
    coming = {
        (order.supplier, order.date)
        for line in workings.shelf.values()
        for order, *_ in line.on_order
    }
    assert sum("Expected from" in event.summary.value for event in events) == len(coming) > 0


def test_seasonal_work_names_its_season(events):
    seasonal = [event for event in events if event.categories.value == ["Seasonal"]]
    assert seasonal
    assert all("Season: " in event.description.value for event in seasonal)


def test_the_same_input_gives_the_same_bytes(data, workings):
    assert calendar_file(workings) == data


def test_an_event_keeps_its_name_while_its_day_moves(workings, kept):
    """A day later nothing was done: each task's next event has the UID that it had."""
    later = DAY + timedelta(days=1)
    moved = work_out(read_inventory(ROOT / "site_data", as_of=later), later, kept=kept)
    before = {one.uid for one in entries(workings) if one.category in ("Service", "Seasonal")}
    after = {one.uid for one in entries(moved) if one.category in ("Service", "Seasonal")}
    assert len(before & after) / len(before | after) > 0.95
    first = {uid for uid in before if uid.endswith(".1")}
    assert first and first <= after


def _days(day, interval, season=None, until=date(2028, 11, 25)):
    parts = dict(_rule(day, interval, season, until))
    text = ";".join(
        f"{key.upper()}={','.join(map(str, one)) if isinstance(one, list) else one}"
        for key, one in parts.items()
        if key != "until"
    )
    from datetime import datetime, time

    begin, end = datetime.combine(day, time()), datetime.combine(until, time())
    return [one.date() for one in rrulestr(text, dtstart=begin).between(begin, end, inc=True)]


def test_a_monthly_round_passes_over_no_month():
    """As dateutil counts the rule: from the 31st on there is one day in each month."""
    days = _days(date(2026, 12, 31), CalendarInterval(months=1), until=date(2027, 12, 31))
    assert [one.month for one in days] == [12, *range(1, 13)]
    assert days[2] == date(2027, 2, 28)


def test_a_round_keeps_to_its_season():
    days = _days(date(2026, 12, 15), CalendarInterval(months=1), Season((11, 1), (4, 30)))
    assert {one.month for one in days} == {11, 12, 1, 2, 3, 4}
    assert len(days) == 12
    assert len(_days(date(2026, 12, 1), CalendarInterval(days=14), until=date(2026, 12, 31))) == 3


def test_every_repeating_event_is_a_rule_another_program_understands(events):
    rounds = [event for event in events if "rrule" in event.contents]
    assert rounds
    for event in rounds:
        days = [day for day, _ in zip(event.rruleset, range(400), strict=False)]
        assert days[0].date() == event.dtstart.value
        assert len(days) >= 4


def test_words_with_commas_breaks_and_other_letters_survive(workings, monkeypatch):
    text = 'Größe; 3/4", C:\\shed\nsecond, line ' + "ü" * 90
    entry = Entry("x.1", DAY, "a, b; c", text, "Service")
    monkeypatch.setattr("steadbook.bind.calendar.entries", lambda _: [entry])
    data = calendar_file(workings)
    assert max(len(line) for line in data.split(b"\r\n")) <= 75
    (event,) = vobject.readOne(data.decode()).vevent_list
    assert event.summary.value == "a, b; c"
    assert event.description.value == text


def test_an_order_tells_the_lead_time_that_its_day_was_found_with(workings):
    """The words of the orders page: what was promised, or what nine in ten of the past took."""
    checked = set()
    for name, line in workings.shelf.items():
        for one in (one for one in entries(workings) if one.uid.startswith(f"order.{name}.")):
            assert f"lead time {line.lead.words()}." in one.text
            checked.add(line.lead.words())
    assert any("9 in 10" in words for words in checked), checked
