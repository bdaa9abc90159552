"""Reading YAML: lines kept, text kept as written, traps closed, bad files told in plain words."""

import itertools
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from steadbook.errors import Problem
from steadbook.inventory import read
from steadbook.inventory.read import Map, Seq, line_of, read_file, read_text


def only_problem(text):
    tree, found = read_text(text, "a.yaml")
    assert len(found) == 1, found
    return tree, found[0]


# --- what is kept -------------------------------------------------------------------------


@pytest.mark.parametrize(
    "word", ["on", "off", "yes", "no", "1:30", "012", "0x1F", "1.10", "1e3", "1_000", ".5", "+1",
             "2026-03-01", "true", "NaN", ".inf", "=", "<<x", "0o17"],
)  # fmt: skip
def test_a_word_keeps_its_meaning_as_text(word):
    tree, found = read_text(f"key: {word}\nother: [{word}]\n", "a.yaml")
    assert (tree, found) == ({"key": word, "other": [word]}, [])


@pytest.mark.parametrize("word", ["on", "no", "1:30", "012", "1.10", "2026-03-01", "null", "~"])
def test_a_key_keeps_its_meaning_as_text(word):
    tree, _ = read_text(f"{word}: a\n", "a.yaml")
    assert tree == {word: "a"}


@pytest.mark.parametrize("nothing", ["", "~", "null", "Null", "NULL"])
def test_nothing_is_none(nothing):
    assert read_text(f"key: {nothing}\n", "a.yaml")[0] == {"key": None}


def test_quoted_nothing_is_text():
    assert read_text("key: 'null'\nother: \"\"\n", "a.yaml")[0] == {"key": "null", "other": ""}


def test_lines_of_keys_and_items():
    tree, _ = read_text("a: 1\nb:\n  c: 2\n  d:\n    - x\n    - {e: 3,\n       f: 4}\n", "a.yaml")
    assert isinstance(tree, Map) and isinstance(tree["b"]["d"], Seq)
    paths = [("a",), ("b",), ("b", "c"), ("b", "d"), ("b", "d", 0), ("b", "d", 1),
             ("b", "d", 1, "e"), ("b", "d", 1, "f")]  # fmt: skip
    assert [line_of(tree, path) for path in paths] == [1, 2, 3, 4, 5, 6, 6, 7]


def test_line_of_what_is_missing_is_that_of_its_owner():
    tree, _ = read_text("a: 1\nb:\n  c: 2\n", "a.yaml")
    assert line_of(tree, ("b", "nothing")) == 2
    assert line_of(tree, ("nothing",)) == 1


def test_a_byte_order_mark_and_dos_line_ends_do_no_harm(tmp_path):
    path = tmp_path / "a.yaml"
    path.write_bytes(b"\xef\xbb\xbfname: caf\xc3\xa9\r\nb: 2\r\n")
    tree, found = read_file(path, "a.yaml")
    assert (tree, found, line_of(tree, ("b",))) == ({"name": "café", "b": "2"}, [], 2)


@given(st.dictionaries(st.text("abcdefgh", min_size=1), st.text("abc 1:#-é", max_size=12)))
def test_quoted_text_comes_back_letter_by_letter(entries):
    quoted = [f"{key}: '{value}'" for key, value in entries.items()]
    if quoted:
        assert read_text("\n".join(quoted), "a.yaml")[0] == entries


# --- what is refused ----------------------------------------------------------------------


def test_duplicate_key_with_its_whole_message():
    tree, problem = only_problem("equipment:\n  pump:\n    name: A\n    name: B\n")
    assert str(problem) == (
        "a.yaml:4: equipment.pump.name\n"
        "  found:   the key 'name' a second time (first on line 3)\n"
        "  allowed: each key once\n"
        "  fix:     rename or remove one of the two; the second would silently win"
    )
    assert tree["equipment"]["pump"] == {"name": "A"}


def test_duplicate_key_in_a_list_names_the_item():
    _, problem = only_problem("readings:\n  - {a: 1}\n  - {b: 1, b: 2}\n")
    assert (problem.line, problem.key) == (3, "readings[2].b")


def test_every_duplicate_key_is_told():
    _, found = read_text("a: 1\na: 2\nb: {c: 1, c: 2}\n", "a.yaml")
    assert [(one.line, one.key) for one in found] == [(2, "a"), (3, "b.c")]


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "---\n", "~"])
def test_empty_file(text):
    tree, problem = only_problem(text)
    assert not tree
    if text != "~" and text != "---\n":
        assert problem == Problem(
            "a.yaml", 1, "", "an empty file", "`key: value` entries",
            "fill the file, or delete it if it is not needed",
        )  # fmt: skip


@pytest.mark.parametrize("text", ["- a\n- b\n", "just words\n"])
def test_no_mapping_at_the_top(text):
    _, problem = only_problem(text)
    assert problem.found == "a list or a single text at the top of the file"
    assert problem.fix == "begin with a key, such as `equipment:`"


@pytest.mark.parametrize(
    ("text", "line"),
    [("a:\n\tb: 1\n", 2), ("a:\n  b: 1\n\tc: 2\n", 3), ("x: 1\na:\n  b:\n \t c: 1\n", 4)],
)
def test_tab_in_the_indentation(text, line):
    _, problem = only_problem(text)
    assert problem == Problem(
        "a.yaml", line, "", "a tab character in the indentation", "spaces only",
        "replace each tab by two spaces",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "line", "found", "fix"),
    [
        ("a: &x 1\nb: *x\n", 2, "the alias *x",
         "write the value out here; anchors and aliases are not used in an inventory"),
        ("a: &x {b: 1}\nc:\n  <<: *x\n", 3, "the alias *x",
         "write the value out here; anchors and aliases are not used in an inventory"),
        ("a: !!python/object/apply:os.system [echo]\n", 1,
         "the tag tag:yaml.org,2002:python/object/apply:os.system",
         "remove the tag; put quotation marks around text that begins with !"),
        ("a: 1\nb: !mine x\n", 2, "the tag !mine",
         "remove the tag; put quotation marks around text that begins with !"),
        ("a: 1\n---\nb: 2\n", 2, "a second document (`---`)",
         "remove the line `---` or move what follows to a file of its own"),
        ("? [a, b]\n: 1\n", 1, "a list or mapping used as a key",
         "write `key: value`; quote text that begins with [ or {"),
        ("a: 1\nb: 'open\nc: 2\n", 4, "`the end of the file`, which is not YAML",
         "close the quotation mark that is open"),
        ("a: gap: 0.76 mm\n", 1, "`a: gap: 0.76 mm`, which is not YAML",
         "put quotation marks around text that contains a colon followed by a space"),
        ("a: 1\nbroken\nc: 2\n", 3, "`c: 2`, which is not YAML",
         "write `key: value` with a colon and a space; check the line above as well"),
        ("é: 1\né: 2\nb: \x00\n", 3, "a control character",
         "delete the invisible character on this line"),
    ],
)  # fmt: skip
def test_what_yaml_would_do_behind_the_readers_back(text, line, found, fix):
    problems = read_text(text, "a.yaml")[1]
    assert (problems[-1].line, problems[-1].fix) == (line, fix)
    assert problems[-1].found.startswith(found)


def test_an_anchor_that_nothing_refers_to_does_no_harm():
    assert read_text("a: &x 1\n", "a.yaml") == ({"a": "1"}, [])


@pytest.mark.parametrize("text", ["[" * 10_000, "a: " + "{b: " * 10_000, "- " * 10_000])
def test_ten_thousand_levels_are_refused(text):
    _, problem = only_problem(text)
    assert problem.found == "nesting more than 40 levels deep"
    assert problem.fix == "check the indentation and the brackets above this line"


def test_forty_levels_are_read():
    tree, found = read_text("a: " + "[" * 39 + "]" * 39, "a.yaml")
    assert not found and isinstance(tree["a"], Seq)
    assert read_text("a: " + "[" * 40 + "]" * 40, "a.yaml")[1]


def test_a_bomb_of_aliases_is_refused_before_it_goes_off():
    lines = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    names = "abcdefghijklmnop"
    for before, name in itertools.pairwise(names):
        lines.append(f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]")
    clock = perf_counter()
    _, problem = only_problem("\n".join(lines))
    assert (problem.line, problem.found) == (2, "the alias *a")
    # expanded it would hold 9^16 items; a second is ages here and nothing there
    assert perf_counter() - clock < 1


# --- files --------------------------------------------------------------------------------


def test_not_utf_8_names_line_and_byte(tmp_path):
    path = tmp_path / "a.yaml"
    path.write_bytes("a: 1\nb: caf\u00e9\n".encode("latin-1"))
    assert read_file(path, "a.yaml")[1] == [
        Problem(
            "a.yaml",
            2,
            "",
            "the byte 0xe9, which is not UTF-8 text",
            "UTF-8 text",
            "save the file again with the encoding UTF-8 in your editor",
        )
    ]


def test_a_file_of_25_megabytes_is_not_read(tmp_path):
    path = tmp_path / "a.yaml"
    with path.open("wb") as file:
        file.truncate(25_000_000)
    assert read_file(path, "a.yaml")[1] == [
        Problem(
            "a.yaml",
            0,
            "",
            "a file of 25 MB",
            "at most 20 MB a file",
            "keep one log file a year; remove what is not inventory",
        )
    ]


def test_a_file_that_went_away(tmp_path):
    (problem,) = read_file(tmp_path / "a.yaml", "a.yaml")[1]
    assert problem.found == "the file cannot be read (No such file or directory)"
    assert problem.fix == "check that the file is still there and its permissions"


def test_a_file_that_goes_away_between_the_look_and_the_reading(tmp_path, monkeypatch):
    path = tmp_path / "a.yaml"
    path.write_text("a: 1\n")
    whole = type(path).read_bytes

    def late(self):
        self.unlink()
        return whole(self)

    monkeypatch.setattr(type(path), "read_bytes", late)
    (problem,) = read_file(path, "a.yaml")[1]
    assert problem.found == "the file cannot be read (No such file or directory)"


def test_a_folder_with_the_name_of_a_file(tmp_path):
    (tmp_path / "a.yaml").mkdir()
    (problem,) = read_file(tmp_path / "a.yaml", "a.yaml")[1]
    assert problem.found == "something that is not a file"


@given(st.one_of(st.text(), st.text("{}[]:,-&*!|>'\"%@`#? \n\tab1", max_size=60)))
def test_any_text_is_read_or_told(text):
    tree, found = read_text(text, "a.yaml")
    assert isinstance(tree, Map)
    assert tree or found or text.strip()
    for problem in found:
        assert problem.found and problem.allowed and problem.fix


def test_the_slow_reader_sees_the_same(monkeypatch):
    import yaml

    text = "a: {b: [1, on, ~]}\nc: |\n  long\n  text\n"
    quick = read_text(text, "a.yaml")
    monkeypatch.setattr(read, "_Loader", yaml.SafeLoader)
    assert read_text(text, "a.yaml") == quick


def test_what_was_wrong_before_the_reading_stopped_is_told_as_well():
    found = read_text("a: 1\na: 2\nb: *x\n", "a.yaml")[1]
    assert [one.line for one in found] == [2, 3]
