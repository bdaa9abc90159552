"""`steadbook add`: every kind reads back as an inventory, and no other byte of the file moves."""

from datetime import date

import pytest
import yaml

from steadbook.adding import (
    FROM_MANUFACTURE,
    KIND_OF,
    add_equipment,
    chosen_starter,
    entry_lines,
    listed,
    starters,
)
from steadbook.cli import main
from steadbook.errors import InventoryErrors, RecordError
from steadbook.inventory import read_inventory
from steadbook.records.journal import take_back
from steadbook.workings import work_out

DAY = date(2026, 11, 25)
PLACE = "name: Here\nwhere: There\nlatitude: 45\nlongitude: -110\nelevation: 900 m\n"
WATER = """\
# Our water.
title: Water   # all of it
equipment:

  # the old one
  spring:
    kind: tank
    name:   Spring box
    plate: {contents: water}   # about 200 gal
# end of the file
"""


@pytest.fixture
def home(tmp_path):
    data = tmp_path / "site_data"
    data.mkdir()
    (data / "homestead.yaml").write_text(PLACE)
    (data / "water.yaml").write_text(WATER)
    return tmp_path


def water(home):
    return home / "site_data" / "water.yaml"


@pytest.mark.parametrize("name", starters())
def test_every_kind_can_be_added(home, name):
    starter = starters()[name]
    added = add_equipment(home, name, starter.usual_file, DAY, name="new-one")
    inventory = read_inventory(home / "site_data", as_of=DAY)
    machine = inventory.machines["new-one"]
    assert machine.kind == KIND_OF.get(name, "other")
    assert machine.hazards == list(starter.hazards)
    for task_name, task in starter.tasks.items():
        mine = machine.tasks[task_name]
        assert (mine.title, mine.every.text) == (task["title"], task["every"])
        assert mine.source == task["source"]
        assert (mine.counts_from == "manufacture") == (task_name in FROM_MANUFACTURE)
    assert added.file == f"site_data/{starter.usual_file}"
    assert work_out(inventory, DAY).tasks


@pytest.mark.parametrize("name", starters())
def test_what_is_commented_reads_once_uncommented(home, name):
    lines = entry_lines(starters()[name], "new-one")
    opened = [
        line.replace("# ", "", 1) if line.lstrip().startswith("# ") else line for line in lines
    ]
    opened = [
        line.replace("#   ", "    ", 1) if line.startswith("  #   ") else line for line in opened
    ]
    (home / "site_data" / "other.yaml").write_text(
        "title: Other\nequipment:\n" + "".join(f"  {line}\n" for line in opened)
    )
    try:
        read_inventory(home / "site_data", as_of=DAY)
    except InventoryErrors as errors:  # an example cannot name another machine
        assert all("which does not exist" in one.found for one in errors.problems), errors


def test_every_other_byte_stays(home):
    before = water(home).read_bytes()
    added = add_equipment(home, "well pump", "water.yaml", DAY, name="well-pump")
    after = water(home).read_bytes()
    new = after.replace(b"# end of the file\n", b"")[len(before) - len(b"# end of the file\n") :]
    assert after.startswith(before[: before.index(b"# end")])
    assert after.endswith(b"# end of the file\n")
    assert new.decode() == "\n" + "".join(f"  {line}\n" for line in added.text.split("\n"))


@pytest.mark.parametrize(
    "text",
    [
        WATER.replace("\n", "\r\n"),
        "\ufeff" + WATER,
        WATER.rstrip("\n"),
        "title: Water\nequipment:\n",
        "title: Water\nequipment:\n    deep:\n        kind: other\n        name: Deep\n",
        "equipment:\n  a: {kind: other, name: A, notes: >-\n      text}\ntitle: Water\n".replace(
            "{kind: other, name: A, notes: >-\n      text}", "\n    kind: other\n    name: A"
        ),
        "title: Water\nequipment:\n  a:\n    kind: other\n    name: A\n    notes: |\n      long\n      text\n\n\nsummary: After it\n",
    ],
    ids=["crlf", "byte order mark", "no last line", "empty", "deep", "key after", "text block"],
)
def test_layouts(home, text):
    water(home).write_bytes(text.encode())
    add_equipment(home, "cistern", "water.yaml", DAY, name="cistern")
    after = water(home).read_bytes().decode()
    tree = yaml.safe_load(after.removeprefix("\ufeff"))
    old = yaml.safe_load(text.removeprefix("\ufeff"))
    added = tree["equipment"].pop("cistern")
    assert added["plate"] == {"contents": "water"}
    assert tree == {**old, "equipment": old.get("equipment") or {}}
    end = len(text)
    while not after.startswith(text[:end]):  # what stands before the new lines
        end -= 1
    assert after.endswith(text[end:])


def test_a_new_file_is_begun(home):
    add_equipment(home, "smoke alarms", "safety", DAY, installed=date(2025, 6, 1))
    inventory = read_inventory(home / "site_data", as_of=DAY)
    assert inventory.systems["safety"].title == "Safety"
    assert inventory.machines["smoke-alarm"].plate.senses == "smoke"
    assert inventory.machines["smoke-alarm"].installed == date(2025, 6, 1)


def test_undo_takes_it_back_to_the_byte(home):
    before = water(home).read_bytes()
    add_equipment(home, "uv lamp", "water.yaml", DAY)
    assert water(home).read_bytes() != before
    take_back(home)
    assert water(home).read_bytes() == before


@pytest.mark.parametrize(
    ("words", "file", "name", "found", "fix"),
    [
        ("wel pump", "water.yaml", None, "no kind of that name", "did you mean 'well-pump'?"),
        ("well pump", "parts.yaml", None, "'parts.yaml', which cannot hold equipment", "--to water.yaml"),
        ("well pump", "../water.yaml", None, "which cannot hold equipment", "--to water.yaml"),
        ("well pump", "water.yaml", "Well Pump", "'Well Pump'", "choose another name"),
        ("well pump", "water.yaml", "spring", "'spring' is in it already", "--id"),
    ],
)  # fmt: skip
def test_what_cannot_be_added_is_told_and_nothing_is_written(home, words, file, name, found, fix):
    before = sorted((path, path.read_bytes()) for path in (home / "site_data").iterdir())
    with pytest.raises(RecordError) as caught:
        add_equipment(home, words, file, DAY, name=name)
    assert found in str(caught.value) and fix in str(caught.value)
    assert before == sorted((path, path.read_bytes()) for path in (home / "site_data").iterdir())


def test_a_name_used_in_another_file_is_refused(home):
    with pytest.raises(InventoryErrors, match="a second machine named 'spring'"):
        add_equipment(home, "radio", "safety.yaml", DAY, name="spring")
    assert not (home / "site_data" / "safety.yaml").exists()


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("title: Water\nequipment: {}\n", "braces or a value"),
        ("title: Water\nequipment: [a]\n", "braces or a value"),
        ("title: Water\n  equipment\n   x: 1\n", "line"),
    ],
)
def test_a_file_with_no_place_for_it_stays(home, text, found):
    water(home).write_text(text)
    with pytest.raises((RecordError, InventoryErrors), match=found):
        add_equipment(home, "cistern", "water.yaml", DAY)
    assert water(home).read_text() == text


def test_a_kind_is_found_by_name_title_and_plural():
    for words in ("well-pump", "Well pump", "well pumps", "WELL PUMP"):
        assert chosen_starter(words).name == "well-pump"
    assert chosen_starter("Portable propane cylinder").name == "propane-cylinder"
    assert chosen_starter("septic").name == "septic-tank"


def test_the_list_has_every_kind():
    text = listed()
    assert all(f"  {name} " in text for name in starters())
    assert text.startswith("water\n")


def test_the_command(home, capsys):
    call = ["add", "wood stove", "--to", "heat.yaml", "--home", str(home), "--as-of", "2026-11-25"]
    assert main(call) == 0
    assert "Added to site_data/heat.yaml" in capsys.readouterr().out
    assert main(["add", "--list"]) == 0
    assert "wood-stove" in capsys.readouterr().out


def test_the_command_knows_the_usual_file(home, capsys):
    assert main(["add", "wood stove", "--home", str(home), "--as-of", "2026-11-25"]) == 0
    assert "Added to site_data/heat.yaml" in capsys.readouterr().out
    assert main(["add", "--home", str(home)]) == 2
    assert "fix:     steadbook add well-pump" in capsys.readouterr().err
