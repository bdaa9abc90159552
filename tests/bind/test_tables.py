"""The CSV tables: read back by pandas and by csv, with units in the headings and no formulas."""

import csv
import io
import subprocess
import sys
from datetime import date
from pathlib import Path

import pandas
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.bind.calendar import entries
from steadbook.bind.tables import _csv, _safe, tables
from steadbook.inventory import read_inventory
from steadbook.inventory.year import LISTS
from steadbook.workings import work_out
from steadbook.workings.words import NBSP

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def workings(tmp_path_factory):
    """The demo, worked out."""
    kept = tmp_path_factory.mktemp("winters")
    return work_out(read_inventory(ROOT / "site_data", as_of=DAY), DAY, kept=kept)


@pytest.fixture(scope="module")
def made(workings):
    """The demo's tables."""
    return tables(workings)


def _frame(text, *days):
    return pandas.read_csv(io.StringIO(text), parse_dates=list(days), date_format="%Y-%m-%d")


def test_every_task_is_in_the_schedule(made, workings):
    frame = _frame(made["schedule.csv"], "due", "last done", "order by")
    assert len(frame) == len(workings.tasks) + len(workings.expiring)  # units, after the tasks
    assert list(frame["task"])[-1] == workings.expiring[-1].unit.title
    state = workings.by_urgency()[0]
    row = frame.iloc[0]
    assert (row["machine"], row["task"]) == (state.machine.name, state.task.title)
    assert row["due"].date() == state.due.day
    assert row["status"] == workings.status(state)
    with_hours = frame[frame["due at [h]"].notna()]
    assert len(with_hours) == sum(one.due.at_hours is not None for one in workings.tasks)


def test_parts_say_how_much_and_in_what(made, workings):
    frame = _frame(made["parts.csv"], "order by", "counted").set_index("part")
    assert set(frame.index) == set(workings.homestead.parts)
    for name, line in workings.shelf.items():
        assert frame.loc[name, "on the shelf"] == approx(line.on_hand)
        assert frame.loc[name, "unit"] == (line.part.on_hand.unit or "pieces")


def test_what_to_buy_is_the_same_in_the_table_on_the_pages_and_in_the_calendar(made, workings):
    """Missing and whole packages: the amounts of the page of orders, of Today and the shelf."""
    frame = _frame(made["parts.csv"], "order by").set_index("part")
    in_packs = 0
    for order in workings.orders.coming:
        for one in order.lines:
            row = frame.loc[one.line.name]
            packs, pack = int(row["packs to buy"]), float(row["in a pack"])
            assert (
                f"{row['missing up to the next order']:g}"
                == one.line.amount(one.amount).split(NBSP)[0]
            )
            assert row["order by"].date() == one.order_by
            assert packs * pack >= row["missing up to the next order"] > (packs - 1) * pack
            size = f"{packs} package{'s' if packs > 1 else ''} of {pack:g}"
            told = size if one.part.pack else f"{packs * pack:g}"
            assert one.quantity.replace(NBSP, " ").startswith(told)
            in_packs += one.part.pack is not None
            events = [e for e in entries(workings) if e.uid == f"order.{one.line.name}.1"]
            assert [e.day for e in events] == [max(one.order_by, DAY)]
            assert events[0].summary.endswith(f": {one.part.name}, {one.quantity}")
    assert in_packs > 1
    nothing = frame[frame["order by"].isna()]
    assert len(nothing) and (nothing[["missing up to the next order", "packs to buy"]] == 0).all(
        axis=None
    )


def test_what_is_ticked_on_the_rounds_has_no_day_in_the_schedule(made, workings):
    frame = _frame(made["schedule.csv"], "due")
    ticked = frame[frame["status"] == "on rounds"]
    assert len(ticked) == sum(one.is_ticked for one in workings.tasks) > 0
    assert ticked["due"].isna().all()


def test_the_log_holds_every_entry_with_its_line(made, workings):
    frame = _frame(made["log.csv"], "date")
    log = workings.homestead.log
    assert len(frame) == sum(len(getattr(log, key)) for key in LISTS)
    assert frame["date"].is_monotonic_increasing
    assert frame["where"].str.fullmatch(r"site_data/log/\d{4}\.yaml:\d+").all()
    last = log.readings[-1]
    row = frame[(frame["kind"] == "readings") & (frame["machine"] == last.machine)].iloc[-1]
    assert row["meter [h]"] == approx(last.hours.to("h"))


def test_fuel_adds_up(made, workings):
    frame = _frame(made["fuel.csv"], "date")
    came = sum(one.amount.to("gal") for one in workings.homestead.log.deliveries)
    assert frame["amount [gal]"].sum() == approx(came, rel=1e-9)


def test_lines_end_as_rfc_4180_wants_them(made):
    for text in made.values():
        rows = list(csv.reader(io.StringIO(text, newline="")))
        assert text.count("\r\n") >= len(rows)
        assert {len(row) for row in rows} == {len(rows[0])}
        assert "\n" not in text.replace("\r\n", "")


def test_the_same_input_gives_the_same_text(made, workings):
    assert tables(workings) == made


def test_no_cell_begins_a_formula(made):
    for name, text in made.items():
        for row in csv.reader(io.StringIO(text, newline="")):
            for cell in row:
                assert not cell.startswith(("=", "+", "-", "@", "\t", "\r")), (name, cell)


@given(st.text(max_size=20))
def test_a_text_stays_a_text(text):
    """Whatever a person wrote: one cell, the same words, at most an apostrophe before it."""
    written = _csv([{"a": text, "b": 1.5}], None)
    rows = list(csv.reader(io.StringIO(written, newline="")))
    assert rows[0] == ["a", "b"]
    cell = rows[1][0]
    assert cell.removeprefix("'") == text.removeprefix("'") or cell == text
    assert not cell.startswith(("=", "+", "-", "@", "\t", "\r"))


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"])
def test_a_formula_is_led_by_an_apostrophe(text):
    assert _safe(text) == "'" + text


def test_a_number_below_zero_stays_a_number():
    assert _csv([{"a": -5.25}], None) == "a\r\n-5.25\r\n"


def test_metric_homes_read_litres(workings):
    from dataclasses import replace

    place = workings.homestead.place.model_copy(update={"units": "metric"})
    homestead = replace(workings.homestead, place=place)
    text = tables(replace(workings, homestead=homestead))["fuel.csv"]
    frame = _frame(text)
    came = sum(one.amount.to("L") for one in homestead.log.deliveries)
    assert frame["amount [L]"].sum() == approx(came, rel=1e-9)


def test_importing_it_loads_no_pandas():
    words = "import sys, steadbook.bind.tables; print('pandas' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", words], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
