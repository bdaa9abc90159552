"""Entries as YAML text: what is written is what is read back."""

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from steadbook.inventory.read import CONTROL, read_text
from steadbook.records.entry import block_lines, flow_text, scalar

# every character that UTF-8 can hold
ANY = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
TEXTS = ANY.filter(lambda text: not CONTROL.search(text))  # a control character is refused
NAMES = st.from_regex(r"[a-z][a-z0-9_-]{0,8}", fullmatch=True)
ENTRIES = st.dictionaries(
    NAMES,
    TEXTS | st.lists(TEXTS, max_size=3) | st.dictionaries(NAMES, TEXTS, max_size=3),
    min_size=1,
    max_size=5,
)


def _read(text):
    tree, problems = read_text(text, "entry")
    assert not problems, text
    return tree


@given(ENTRIES)
def test_an_entry_in_braces_is_read_back(entry):
    text = "list:\n  - " + flow_text(entry) + "\n"
    assert _read(text) == {"list": [entry]}
    assert yaml.load(text, Loader=yaml.BaseLoader) == {"list": [entry]}


@given(ENTRIES)
def test_an_entry_in_lines_is_read_back(entry):
    first, *rest = block_lines(entry)
    text = "\n".join(["list:", f"  - {first}", *(f"    {line}" for line in rest), ""])
    assert _read(text) == {"list": [entry]}


@given(TEXTS)
def test_other_readers_see_a_text_too(text):
    """No word turns into yes, no or nothing where the file is read by another program."""
    value = yaml.safe_load(f"key: {scalar(text, inside_brackets=False)}")["key"]
    assert value is not None
    assert not isinstance(value, bool)


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("1432 h", "1432 h"),
        ("1,432 h", '"1,432 h"'),
        ("26 lbf*ft", "26 lbf*ft"),
        ("62 %", "62 %"),
        ("no", '"no"'),
        ("1:30", '"1:30"'),
        ("storm # big", '"storm # big"'),
        ("a: b", '"a: b"'),
        ("- a", '"- a"'),
        ("-5 degF", '"-5 degF"'),
        ("", '""'),
        ('3/4" bolt', '3/4" bolt'),
    ],
)
def test_quotes_only_where_they_are_needed(text, written):
    assert scalar(text, inside_brackets=True) == written
