"""The reprint set: only what changed, and the right words on the slip."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date

import pytest
from pypdf import PdfReader

from steadbook.bind.binder import Binder, Manifest, Tab, bind
from steadbook.bind.reprint import Reprint, Swap, reprint
from steadbook.bind.sheets import Sheet

FIRST, SECOND, THIRD = date(2026, 5, 12), date(2026, 6, 1), date(2026, 7, 4)


def tab(key: str, sheets: int, *, changed: tuple[int, ...] = ()) -> Tab:
    """A tab of so many sheets, those named in `changed` with another text."""
    parts = [
        f'<section style="break-before:page"><h1 id="{key}-{n}">Part {n}</h1>'
        f"<p>{'New' if n in changed else 'Old'} text.</p></section>"
        for n in range(1, sheets + 1)
    ]
    return Tab(key, key.title(), "".join(parts))


def bound(
    *tabs: Tab, previous: Manifest | None = None, as_of: date = FIRST, **more: bool
) -> Binder:
    return bind(
        tabs,
        title="Larch Hollow",
        subtitle="Systems manual",
        paper="letter",
        as_of=as_of,
        roots=[],
        previous=previous,
        **more,  # type: ignore[arg-type]
    )


def after(old: Binder, *tabs: Tab, as_of: date = SECOND, **more: bool) -> tuple[Binder, Reprint]:
    new = bound(*tabs, previous=old.manifest, as_of=as_of, **more)
    return new, reprint(new, old.manifest)


def labels(sheets: list, tab: str = "") -> list[str]:
    return [sheet.label for sheet in sheets if not tab or sheet.tab == tab]


def pages(made: Reprint) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(made.pdf)).pages]


def test_nothing_changed_nothing_to_print():
    old = bound(tab("power", 6))
    _, made = after(old, tab("power", 6))
    assert (made.pdf, made.swaps, made.pull, made.insert, made.discard) == (b"", [], [], [], [])


def test_the_other_side_of_the_leaf_comes_along():
    old = bound(tab("power", 10), tab("fuel", 6))
    _, made = after(old, tab("power", 10, changed=(3,)), tab("fuel", 6))
    assert labels(made.insert, "power") == ["Power 3", "Power 4"]
    assert labels(made.pull, "power") == ["Power 3", "Power 4"]
    assert labels(made.insert, "fuel") == []
    assert made.discard == []
    assert (
        "Remove Power 3–4 (12 May 2026); insert Power 3 (1 Jun 2026) and Power 4 (12 May 2026)"
        in made.steps
    )


def test_printed_on_one_side_the_changed_sheet_comes_alone():
    old = bound(tab("power", 10), duplex=False)
    _, made = after(old, tab("power", 10, changed=(3,)), duplex=False)
    assert labels(made.insert, "power") == ["Power 3"]
    assert "Remove Power 3 (12 May 2026); insert Power 3 (1 Jun 2026)" in made.steps


def test_the_list_of_effective_sheets_and_the_record_are_reprinted_too():
    old = bound(tab("power", 10))
    new, made = after(old, tab("power", 10, changed=(3,)))
    front = "\n".join(text for text in pages(made) if "Front" in text)
    assert "List of effective sheets" in front
    assert "Record of revisions" in front
    [sheet] = [s for s in new.sheets if s.label == "Power 3"]
    assert sheet.fingerprint in front


def test_the_pdf_holds_the_slip_and_then_the_sheets_in_whole_leaves():
    old = bound(tab("power", 10), tab("fuel", 6))
    _, made = after(old, tab("power", 10, changed=(3, 8)), tab("fuel", 6, changed=(1,)))
    reader = PdfReader(io.BytesIO(made.pdf))
    slip = [label for label in reader.page_labels if label.startswith("Slip")]
    assert len(slip) % 2 == 0
    assert reader.page_labels == slip + labels(made.insert)
    assert labels(made.insert, "power") == ["Power 3", "Power 4", "Power 7", "Power 8"]
    for label, text in zip(reader.page_labels[len(slip) :], pages(made)[len(slip) :], strict=True):
        assert label in text
    assert "Power 3–4 (12 May 2026)" in pages(made)[0].replace("\n", " ")
    assert "Sign line 1 of the record" in pages(made)[0]


def test_a_reprinted_sheet_is_the_binders_own_and_bound_on_the_same_edge():
    old = bound(tab("power", 10))
    new, made = after(old, tab("power", 10, changed=(4,)))
    whole, part = (PdfReader(io.BytesIO(pdf)) for pdf in (new.pdf, made.pdf))
    for label in ("Power 3", "Power 4"):
        there = whole.pages[whole.page_labels.index(label)]
        here = part.pages[part.page_labels.index(label)]
        assert here.mediabox == there.mediabox
        assert here.get_contents().get_data() == there.get_contents().get_data()
        assert "/Annots" not in here


# Six of ten sheets changed is 60 %, which is not more than 60 %; seven are.
@pytest.mark.parametrize(("count", "is_whole"), [(6, False), (7, True)])
def test_past_sixty_percent_the_whole_tab_is_reissued(count: int, is_whole: bool):
    old = bound(tab("power", 10))
    new, made = after(old, tab("power", 10, changed=tuple(range(1, count + 1))))
    assert ("Power" in made.reissued) == is_whole
    assert len(labels(made.insert, "power")) == (10 if is_whole else 6)
    issued = new.manifest.tab("power")
    assert issued is not None
    assert issued.issued == (SECOND if is_whole else FIRST)
    step = "Remove all of Power: Power 1–10; insert all of Power: Power 1–10"
    assert (step in made.steps) == is_whole


def test_changes_since_the_last_whole_issue_add_up():
    first = bound(tab("power", 10))
    second, made = after(first, tab("power", 10, changed=(1, 2, 3, 4)))
    assert "Power" not in made.reissued
    third, made = after(second, tab("power", 10, changed=(1, 2, 3, 4, 5, 6, 7)), as_of=THIRD)
    assert "Power" in made.reissued
    dates = [s.revised for s in third.sheets if s.tab == "power"]
    # A whole issue does not make unchanged sheets look new.
    assert dates == [SECOND] * 4 + [THIRD] * 3 + [FIRST] * 3
    _, made = after(
        third, tab("power", 10, changed=(1, 2, 3, 4, 5, 6, 7, 8)), as_of=date(2026, 8, 1)
    )
    assert "Power" not in made.reissued


def test_sheets_that_fall_away_are_discarded():
    old = bound(tab("power", 10), tab("fuel", 4))
    _, made = after(old, tab("power", 8), tab("fuel", 4))
    assert labels(made.discard) == ["Power 9", "Power 10"]
    assert "Remove Power 9–10 (12 May 2026)" in made.steps


def test_sheets_that_are_added_are_only_inserted():
    old = bound(tab("power", 10))
    _, made = after(old, tab("power", 12))
    assert labels(made.pull, "power") == []
    assert labels(made.insert, "power") == ["Power 11", "Power 12"]
    assert "Insert Power 11–12 (1 Jun 2026)" in made.steps


def test_a_tab_comes_and_a_tab_goes():
    old = bound(tab("power", 4), tab("water", 4))
    new, made = after(old, tab("power", 4), tab("heat", 4))
    assert labels(made.discard) == [f"Water {n}" for n in (1, 2, 3, 4)]
    assert "Remove all of Water: Water 1–4" in made.steps
    assert "Insert all of Heat: Heat 1–4" in made.steps
    assert new.manifest.revisions[-1].sheets[-1] == "Water removed"


def test_after_the_set_is_put_in_nothing_is_left_to_do():
    old = bound(tab("power", 10))
    new, _ = after(old, tab("power", 10, changed=(3,)))
    _, made = after(new, tab("power", 10, changed=(3,)), as_of=THIRD)
    assert made.swaps == []


def test_on_other_paper_every_tab_comes_whole():
    old = bound(tab("power", 4))
    other = replace(old.manifest, paper="a4")
    made = reprint(bound(tab("power", 4), previous=other), other)
    assert made.reissued == ["Front", "Power"]


def test_the_set_has_the_same_bytes_each_time():
    old = bound(tab("power", 10))
    sets = {after(old, tab("power", 10, changed=(3,)))[1].pdf for _ in range(2)}
    assert len(sets) == 1


def test_a_sheet_printed_twice_on_one_day_is_told_by_its_letters():
    day = date(2026, 11, 25)
    old, new = (
        Sheet("front", 5, "Front 5", day, letters) for letters in ("bcdf-ghjk", "kjhg-fdcb")
    )
    assert str(Swap((old,), (new,))) == "Remove Front 5 bcdf-ghjk; insert Front 5 kjhg-fdcb"
