"""What may be fed with anything, fed with a little of it; by_hand.py feeds more."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.fuzz.targets import TARGETS

SEEDS = Path(__file__).parent / "seeds"
FEW = settings(
    max_examples=40, deadline=None, derandomize=True, database=None,
    suppress_health_check=[HealthCheck.too_slow],
)  # fmt: skip

YAML_WORDS = (
    *("name", "kind", "genset", "title", "every", "200 h", "26 lbf*ft", "2026-01-01", "readings"),
    *("machine", "hours", "parts", "~", "null", "yes", "1:30", "012", "\N{FIRE}", "\u202e", "x" * 99),
    *("{", "}", "[", "]", ": ", "- ", "\n", "\n  ", "\n    ", "'", '"', "#", "&a ", "*a", "!t ", "|", ">-"),
)  # fmt: skip
UNIT_WORDS = (
    *(
        "1",
        "26",
        "1/2",
        "3,5",
        "1,200",
        ".5",
        "1e3",
        "-",
        "−",
        "–",
        " to ",
        " ",
        "(",
        ")",
        "±",
        "½",
    ),
    *(
        "h",
        "months",
        "lbf*ft",
        "ft·lb",
        "N·m",
        "°F",
        "degC",
        '"',
        "in",
        "gal",
        "or",
        "of",
        "%",
        "٣",
    ),
    *("October", "15", "2026-02-29", "x", "\N{FIRE}", "\u200b"),
)
CSV_WORDS = (
    *("kind", "date", "machine", "hours", "reading", "2026-01-01", "genset", "120 h", "notes"),
    *(",", '"', "\n", "\r\n", "=1+1", "\t", ";", " ", "", "\N{FIRE}", "\0", "x" * 300),
)
PAGE_WORDS = (
    *("{{ ", " }}", "{% if ", "{% for n in ", " %}", "{% endif %}", "{% endfor %}", "{# ", " #}", "numbers"),
    *("machine", ".name", "|join", "|map(", "'name'", ")", "range(", "99", "1", ", ", "text", "\n", "{% include "),
    *("'own.md'", "{% macro m() %}", "{% endmacro %}", "m()", "{% set x = ", "x", ".__class__", "day", "-"),
)  # fmt: skip


def texts(words):
    """Texts made of words of the trade, and texts of anything."""
    made = st.lists(st.sampled_from(words), max_size=30).map("".join)
    return st.one_of(made, st.text(max_size=80))


@FEW
@given(texts(YAML_WORDS))
def test_the_reader(text):
    TARGETS["loader"](text)


@FEW
@given(st.sampled_from(["power.yaml", "parts.yaml", "log/2026.yaml"]), texts(YAML_WORDS))
def test_a_whole_inventory(name, text):
    TARGETS["inventory"](f"{name}\n{text}")


@FEW
@given(texts(UNIT_WORDS))
def test_quantities(text):
    TARGETS["quantities"](text)


@FEW
@given(texts(CSV_WORDS))
def test_a_sheet_to_record_from(text):
    TARGETS["csv"](text)


@FEW
@given(texts(PAGE_WORDS))
def test_a_page(text):
    TARGETS["template"](text)


@pytest.mark.parametrize(
    ("target", "text"),
    [
        ("csv", "kind,date,notes\nevent,2026-01-01," + "x" * 200_000),
        ("csv", "x" * 200_000),
        ("template", "{% if day %}{#}{% endt }}}"),
        ("template", f"{{% include '{'x' * 5000}' %}}"),
        ("template", "{% include 'own.md' %}"),
        ("template", "{% extends 'own.md' %}"),
        ("template", "{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}"),
        ("template", "{{ " + "(" * 3000 + "1" + ")" * 3000 + " }}"),
    ],
    ids=lambda text: text[:30],
)
def test_what_has_crashed_before(target, text):
    TARGETS[target](text)


@pytest.mark.parametrize("path", sorted(SEEDS.rglob("*.*")), ids=lambda p: str(p)[-20:])
def test_the_seeds(path):
    TARGETS[path.parent.name](path.read_text("utf-8", "surrogateescape"))
