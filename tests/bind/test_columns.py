"""Columns of tables: nothing breaks that is read as one, lists of pairs are set side by side."""

import io
import re
from datetime import date

import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import html as lxml_html

from steadbook.bind.binder import bind
from steadbook.bind.columns import set_columns, shared, whole_percents
from steadbook.bind.letters import text_width
from steadbook.bind.sheets import Tab
from steadbook.bind.together import keep_together, kept_together

REMARK = "as found by the fitter, with the old one beside it and the cover left open " * 3


def table_of(*rows, head=None):
    def cells(row, tag):
        return "<tr>" + "".join(f"<{tag}>{cell}</{tag}>" for cell in row) + "</tr>"

    top = f"<thead>{cells(head, 'th')}</thead>" if head else ""
    return f"<table>{top}<tbody>{''.join(cells(row, 'td') for row in rows)}</tbody></table>"


def ready(table, **more):
    made = lxml_html.fragment_fromstring(f"<section>{table}</section>")
    keep_together(made)
    set_columns(made[0], **more)
    return made


def columns(table, **more):
    return [int(col.get("style")[6:-1]) for col in ready(table, **more).iter("col")]


def words_on_paper(section):
    """Words of the sheet as they stand on it: a word broken at the end of a line is two."""
    html = lxml_html.tostring(section, encoding="unicode")
    bound = bind(
        [Tab("power", "Power", "<h1>Power</h1>" + html)],
        title="Place",
        subtitle="",
        paper="a4",
        as_of=date(2026, 5, 12),
        roots=[],
        with_front=False,
    )
    with pdfplumber.open(io.BytesIO(bound.pdf)) as pdf:
        return [word for page in pdf.pages for word in page.extract_words()]


def test_a_long_remark_squeezes_no_other_column():
    head = ["Task", "Every", "Last done", "By", "Remark"]
    row = ["Clean the spark arrester", "6 months", "12 Jan 2027, 1,200 h", "Quartermaine", REMARK]
    words = words_on_paper(ready(table_of(row, row, head=head)))
    whole = " ".join([*head, *row]).split()
    assert {w["text"].strip(",") for w in words} >= {word.strip(",") for word in whole}
    number, unit = (next(w for w in words if w["text"] == text) for text in ("6", "months"))
    assert number["top"] == pytest.approx(unit["top"], abs=1)


def test_a_part_number_is_not_parted_at_its_hyphens():
    row = ["Valve cover gasket, main genset", "BH-1302-G", REMARK, REMARK, REMARK]
    words = {w["text"] for w in words_on_paper(ready(table_of(row, row)))}
    assert "BH-1302-G" in words


def test_words_too_many_for_their_size_are_set_smaller_before_any_breaks():
    row = [f"Quarterly{n}word" for n in "abcde"]
    section = ready(table_of(row, head=row))
    assert "tight" in section[0].get("class")
    words = {w["text"] for w in words_on_paper(section)}
    assert words >= set(row)
    sizes = {round(w["bottom"] - w["top"], 1) for w in words_on_paper(section)}
    assert min(sizes) >= 8


def test_what_no_setting_makes_room_for_still_gets_in():
    row = [f"{n}000 months" for n in range(1, 14)]
    words = {w["text"] for w in words_on_paper(ready(table_of(row)))}
    assert "months" in words or "mo" in words  # not lost: the binder reads its sheets again


def test_a_column_has_room_for_its_longest_word():
    short, long = columns(table_of(["x", "Unbreakableword"], head=["A", "B"]))
    assert long > 2 * short


def test_a_date_does_not_break():
    date_column, _ = columns(table_of(["14\u00a0Jan\u00a02027", "many words in here " * 8]))
    assert date_column / 100 * 170 >= text_width("14 Jan 2027")


def test_the_rest_of_the_width_goes_where_the_words_are():
    day, what, by = columns(
        table_of(["12 Jan 2027", REMARK, "Nora"], ["9 Feb 2027", "Clean it", "Ben"])
    )
    assert day < 20 and by < 12 and what > 68


def test_one_long_answer_among_short_ones_makes_no_tower():
    answers = [["1", "Is it on?", "Go to 2.", REMARK[:110]]] * 7
    long = ["8", "Is it dry?", "Write down day, hour and words of the alarm, and call.", "Stop."]
    _, _, yes, no = columns(table_of(*answers, long, head=["No.", "Check", "Yes", "No"]))
    lines = text_width(long[2]) / (yes / 100 * 170 - 4)
    assert lines <= 3.5 and no > 50


def test_width_follows_the_face_that_is_printed():
    # Advances of DejaVu Sans, 2048 units to the em: 1139 for 0, 1303 in bold ("Book" and "Bold")
    assert text_width("0") == pytest.approx(1303 / 2048 * 10 * 25.4 / 72, rel=1e-3)
    assert text_width("0", "bold") == pytest.approx(1425 / 2048 * 10 * 25.4 / 72, rel=1e-3)


def test_a_list_of_short_pairs_is_set_two_side_by_side_in_its_order():
    rows = [[f"name {n}", f"value {n}"] for n in range(7)]
    section = ready(table_of(*rows, head=["What", "Value"]))
    made = [[cell.text_content() for cell in row] for row in section.iter("tr")]
    assert made[0] == ["What", "Value"] * 2
    assert [row[:2] for row in made[1:]] + [row[2:] for row in made[1:4]] == rows
    assert made[4][2:] == ["", ""]
    assert sum(int(c.get("style")[6:-1]) for c in section.iter("col")) == 100


@pytest.mark.parametrize(
    "rows",
    [
        [["name", "value"]] * 5,
        [["name", REMARK]] * 8,
        [["a", "b", "c"]] * 8,
        [['<span class="tick"></span>', "do it"]] * 8,
    ],
)
def test_a_list_is_left_as_it_is_where_folding_does_not_pay(rows):
    section = ready(table_of(*rows, head=["What"] * len(rows[0])))
    assert len(list(section.iter("tr"))) == len(rows) + 1


def test_a_small_edit_moves_no_column():
    rows = [["12 Jan 2027", REMARK[: 40 + 7 * n], "Nora"] for n in range(20)]
    before = columns(table_of(*rows))
    assert columns(table_of(["3 Feb 2027", "Oil and filter changed", "Ben"], *rows)) == before


@pytest.mark.parametrize(
    "table", ["<table></table>", '<table><tr><td colspan="2">x</td></tr></table>']
)
def test_a_table_without_plain_columns_is_left_alone(table):
    assert columns(table) == []


@given(st.lists(st.floats(0.1, 50), min_size=1, max_size=9))
def test_percents_are_whole_and_add_up(weights):
    shares = [100 * weight / sum(weights) for weight in weights]
    whole = whole_percents(shares)
    assert sum(whole) == 100
    assert all(abs(a - b) <= 1 for a, b in zip(whole, shares, strict=True))


@given(st.lists(st.tuples(st.floats(5, 15), st.floats(1, 300)), min_size=1, max_size=8))
def test_every_column_gets_what_it_cannot_do_without(wishes):
    least = [need for need, _ in wishes]
    natural = [need + more for need, more in wishes]
    shares = shared(least, natural, natural, 170)
    assert sum(shares) == pytest.approx(100, abs=1e-3)
    needs = [100 * need / 170 for need in least]
    assert all(a >= b - 1e-3 for a, b in zip(shares, needs, strict=True))
    whole = whole_percents(shares, needs)
    assert sum(whole) == 100
    if sum(-(-need // 1) for need in needs) <= 100:
        assert all(a >= b - 1e-6 for a, b in zip(whole, needs, strict=True))


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("every 6 months or 200 h", "every 6_months or 200_h"),
        ("1 May to 15 October", "1_May to 15_October"),
        ("40 to 50 psi, 3,5 kg", "40 to 50_psi, 3,5_kg"),
        ("about 1 h 15 min", "about 1_h_15_min"),
        ("2 in a row", "2_in a row"),
        ("step 3 Checks", "step 3 Checks"),
        ("item 2 hours-run", "item 2_hours-run"),
        ("No. 4 minimum", "No. 4 minimum"),
    ],
)
def test_a_number_keeps_its_unit_and_a_day_its_month(text, kept):
    assert kept_together(text).replace("\u00a0", "_") == kept


def test_a_range_is_not_parted():
    assert not re.search(r"\d–\d", kept_together("11–17 V"))
