"""Where text goes in hand-written files: every layout keeps every other byte."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from steadbook.errors import RecordError
from steadbook.inventory.read import read_text
from steadbook.records.layout import (
    _below_the_last_line,
    _by_outline,
    appended,
    new_file,
    with_key,
)

ENTRY = {"date": "2026-11-20", "machine": "main-genset", "parts": {"oil": "4.2 qt"}}
WRITTEN = "{date: 2026-11-20, machine: main-genset, parts: {oil: 4.2 qt}}"


def _tree(text):
    tree, problems = read_text(text.removeprefix("\ufeff"), "file")
    assert not problems, text
    return tree


def _put_in(text, key="runs", entries=(ENTRY,)):
    """The text with the entries, by the first place that says what is wanted."""
    wanted = _tree(text)
    wanted[key] = [*(wanted.get(key) or []), *entries]
    for place in appended(text, key, entries):
        new = place.into(text)
        if read_text(new.removeprefix("\ufeff"), "file") == (wanted, []):
            return new
    raise AssertionError(text)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("runs:\n  - {a: b} # note\n# end\n\nx: []\n",
         f"runs:\n  - {{a: b}} # note\n  - {WRITTEN}\n# end\n\nx: []\n"),
        ("runs:\n- a: b\n\n\nx: []\n",
         "runs:\n- a: b\n- date: 2026-11-20\n  machine: main-genset\n  parts: {oil: 4.2 qt}\n\n\nx: []\n"),
        ("runs: [] # none\n", f"runs: [{WRITTEN}] # none\n"),
        ("runs: [{a: b},\n  {a: c}, # last\n]\n", f"runs: [{{a: b}},\n  {{a: c}}, {WRITTEN}, # last\n]\n"),
        ("runs: # none\n  # yet\nx: [a]\n", f"runs: # none\n  - {WRITTEN}\n  # yet\nx: [a]\n"),
        ("runs:", f"runs:\n  - {WRITTEN}\n"),
        ("x: [a]\n", f"x: [a]\n\nruns:\n  - {WRITTEN}\n"),
        ("x: [a]\n...\n", f"x: [a]\n\nruns:\n  - {WRITTEN}\n...\n"),
        ("{x: [a]}\n", f"{{x: [a], runs: [{WRITTEN}]}}\n"),
        ("{}\n", f"{{runs: [{WRITTEN}]}}\n"),
        ("\ufeffruns:\r\n  - {a: ö}\r\n# ende", f"\ufeffruns:\r\n  - {{a: ö}}\r\n  - {WRITTEN}\r\n# ende"),
        ("runs:\n  - {a: b}", f"runs:\n  - {{a: b}}\n  - {WRITTEN}\n"),
    ],
)  # fmt: skip
def test_the_entry_goes_where_a_person_would_put_it(before, after):
    assert _put_in(before) == after


def test_a_text_of_many_lines_keeps_its_blank_lines():
    kept = "runs:\n  - a: |+\n      hello\n\n\nx: []\n"
    assert _put_in(kept).startswith("runs:\n  - a: |+\n      hello\n\n\n  - date")
    folded = "runs:\n  - a: >-\n      hello\n      you\n\n\nx: []\n"
    assert _put_in(folded).startswith("runs:\n  - a: >-\n      hello\n      you\n  - date")


@pytest.mark.parametrize(("text", "is_found"), [
    ("runs:\n  - {a: b} # note\n  # end\n\nx: []\n", True),
    ("runs: # here\r\n  - {a: b}\r\n", True),
    ("runs:\n  - {a: b}", False),
    ("runs:\n  - a: b\n", False),
    ("runs: [{a: b}]\n", False),
    ("runs:\n\n# none\nx: []\n", False),
    ("x: []\n", False),
    ("runs:\n  - a: |\n      - {a: b}\n", True),  # and wrong: what it would say tells
], ids=repr)  # fmt: skip
def test_a_list_of_braces_needs_no_outline(text, is_found):
    place = _below_the_last_line(text, "runs", [ENTRY])
    assert (place is not None) == is_found
    new = _put_in(text)
    assert new == next(
        new for new in (one.into(text) for one in _by_outline(text, "runs", [ENTRY]))
        if _tree(new) == {**_tree(text), "runs": [*(_tree(text).get("runs") or []), ENTRY]}
    )  # fmt: skip


def test_a_long_entry_gets_a_line_a_key():
    new = _put_in(
        "runs:\n  - {a: b}\n", entries=[{"date": "2026-11-20", "notes": "word " * 40 + "end"}]
    )
    assert new.startswith("runs:\n  - {a: b}\n  - date: 2026-11-20\n    notes: word word")


def test_a_new_year_begins_with_its_entry():
    assert new_file("2027", "runs", [ENTRY]) == f"# 2027\n\nruns:\n  - {WRITTEN}\n"


def test_what_is_no_list_is_refused():
    for text in ("runs: ~\n", "runs: none\n", "runs: {a: b}\n"):
        with pytest.raises(
            RecordError, match=r"something else than a list(.|\n)*remove what stands"
        ):
            list(appended(text, "runs", [ENTRY]))


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("orders:\n  - {a: 1, parts: {b: 2,},} # x\n", "orders:\n  - {a: 1, parts: {b: 2,}, received: D,} # x\n"),
        ("orders:\n  - a: 1\n    parts:\n      b: 2 # x\n\n# c\n", "orders:\n  - a: 1\n    parts:\n      b: 2 # x\n    received: D\n\n# c\n"),
        ("orders:\r\n- a: 1\r\n- a: 2", "orders:\r\n- a: 1\r\n  received: D\r\n- a: 2"),
        ("orders: [{a: 1}, {a: 2}]", "orders: [{a: 1, received: D}, {a: 2}]"),
    ],
)  # fmt: skip
def test_a_key_goes_into_the_entry_it_belongs_to(before, after):
    assert with_key(before, "orders", 0, "received", "D")[0].into(before) == after


def test_a_key_that_is_there_already_is_left_to_the_person():
    with pytest.raises(RecordError, match=r"write D there by hand"):
        with_key("orders:\n  - {a: 1, received: }\n", "orders", 0, "received", "D")


# --- any layout ----------------------------------------------------------------------------

WORDS = st.sampled_from(["1432 h", "ö ß", '"1,432 h"', "'it''s'", "x"])
COMMENTS = st.sampled_from(["", " # note", "   # note: [x] {y}"])
GAPS = st.lists(st.sampled_from(["", "# comment", "   # indented", "  "]), max_size=3)


@st.composite
def _entry_lines(draw, margin):
    """One entry of a block list, in any of the ways people write it."""
    way = draw(st.sampled_from(["braces", "lines", "nested", "folded", "kept", "two-line braces"]))
    word, note = draw(WORDS), draw(COMMENTS)
    dash = margin + "-" + " " * draw(st.integers(1, 3))
    inner = " " * len(dash)
    return {
        "braces": [f"{dash}{{date: 2026-01-01, a: {word}}}{note}"],
        "lines": [f"{dash}date: 2026-01-01{note}", f"{inner}a: {word}{note}"],
        "nested": [
            f"{dash}date: 2026-01-01",
            f"{inner}parts:{note}",
            f"{inner}   oil: {word}{note}",
        ],
        "folded": [f"{dash}text: >-", f"{inner}  hello", "", f"{inner}  you # no comment"],
        "kept": [f"{dash}text: |+", f"{inner}  hello", "", ""],
        "two-line braces": [f"{dash}{{date: 2026-01-01,{note}", f"{inner}  a: {word}}}{note}"],
    }[way]


@st.composite
def _lists(draw, key, margin):
    way = draw(st.sampled_from(["block", "block", "block", "flush", "empty", "flow", "nothing"]))
    note = draw(COMMENTS)
    if way == "empty":
        return [f"{margin}{key}: []{note}"]
    if way == "nothing":
        return [f"{margin}{key}:{note}"]
    if way == "flow":
        comma = draw(st.sampled_from(["", ","]))
        return [
            f"{margin}{key}: [{{a: b}},{note}",
            f"{margin}  {{a: {draw(WORDS)}}}{comma}{note}",
            f"{margin} ]",
        ]
    inner = margin + ("" if way == "flush" else " " * draw(st.integers(1, 4)))
    lines = [f"{margin}{key}:{note}"]
    for _ in range(draw(st.integers(1, 3))):
        lines += [*draw(_entry_lines(inner)), *draw(GAPS)]
    return lines


@st.composite
def files(draw):
    """A log file in some layout, with or without the list `runs`."""
    margin = draw(st.sampled_from(["", "", " "]))
    lines = draw(GAPS)
    keys = draw(st.permutations(["readings", "runs", "events"]))
    for key in keys[: draw(st.integers(1, 3))]:
        lines += draw(_lists(key, margin)) + draw(GAPS)
    lines += draw(st.sampled_from([[], [], ["..."]]))
    newline = draw(st.sampled_from(["\n", "\r\n"]))
    text = newline.join(lines) + draw(st.sampled_from([newline, ""]))
    return draw(st.sampled_from(["", "\ufeff"])) + text


@given(files(), st.integers(1, 3))
def test_in_any_layout_only_the_new_lines_are_new(text, count):
    """The file says what it said and the entries; what was there stays, before and after."""
    tree = _tree(text)
    wanted = {**tree, "runs": [*(tree.get("runs") or []), *[ENTRY] * count]}
    places = list(appended(text, "runs", [ENTRY] * count))
    news = [place.into(text) for place in places]
    right = [new for new in news if _same(new, wanted)]
    assert right, text
    new = right[0]
    at = places[news.index(new)].at
    assert new.startswith(text[:at])
    assert new.endswith(text[at:])
    if "\r\n" in text:
        assert "\n" not in new.replace("\r\n", "")
    outlined = [place.into(text) for place in _by_outline(text, "runs", [ENTRY] * count)]
    assert new == next(one for one in outlined if _same(one, wanted))


def _same(text, wanted):
    tree, problems = read_text(text.removeprefix("\ufeff"), "file")
    return not problems and _trimmed(tree) == _trimmed(wanted)


def _trimmed(value):
    """A text at the very end of a file without a last line break gains one."""
    if isinstance(value, dict):
        return {key: _trimmed(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_trimmed(one) for one in value]
    return value.rstrip("\n") if isinstance(value, str) else value
