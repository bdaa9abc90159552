"""What `check` would doubt afterwards is told before the yes; nothing is refused for it."""

import pytest

from steadbook.cli import main
from steadbook.records.changes import what_changes

DAY = ["--as-of", "2026-11-25"]
FUEL = ["record", "fuel", "--tank", "propane-tank"]
SERVICE = ["record", "service", "--machine", "main-genset", "--tasks", "oil-change", "--hours", "690 h"]  # fmt: skip


@pytest.fixture
def told(home, capsys):
    """What `record` says of an entry, and what `check` says of it afterwards."""

    def run(*words):
        assert main([*words, *DAY, "--home", str(home), "--yes"]) == 0
        said = capsys.readouterr().out
        main(["check", *DAY, "--home", str(home)])
        return said.replace("\u00a0", " "), capsys.readouterr().out.replace("\u00a0", " ")

    return run


@pytest.mark.parametrize(
    ("words", "doubt"),
    [
        # 80 % less 75 % of 500 gal are 25 gal of room
        ([*FUEL, "--amount", "300 gal", "--before", "75 %", "--after", "80 %"], "300 gal into a tank"),
        ([*FUEL, "--amount", "20 gal", "--before", "75 %", "--after", "99 %"], "99 % in a tank of propane"),
        (["record", "level", "--tank", "propane-tank", "--level", "98 %"], "98 % in a tank of propane"),
        ([*SERVICE, "--parts", "engine-oil=40 qt"], "40 qt of engine-oil"),  # 3 qt by the task
        ([*SERVICE, "--parts", "engine-oil=8 qt"], "8 qt of engine-oil used since the count"),  # of 7
        ([*SERVICE, "--parts", "oil-filter=3"], "3 of oil-filter used since the count"),  # of 2
    ],
)  # fmt: skip
def test_what_check_would_doubt_is_told_and_written(told, log, words, doubt):
    before = log.read_text("utf-8")
    said, checked = told(*words)
    assert doubt in said
    assert doubt in checked
    assert said.index(doubt) < said.index("Written.")
    assert log.read_text("utf-8") != before


def test_a_doubt_that_was_there_before_is_not_told_again(told):
    words = [*FUEL, "--amount", "300 gal", "--before", "75 %", "--after", "80 %"]
    told(*words)
    said, checked = told("record", "event", "--text", "Mud")
    assert "300 gal into a tank" in checked
    assert "300 gal" not in said
    said, _ = told("record", "level", "--tank", "propane-tank", "--level", "79 %")
    assert "300 gal" not in said


def test_a_usual_entry_is_told_without_a_doubt(told):
    said, _ = told(*SERVICE, "--parts", "engine-oil=3 qt, oil-filter=1")
    assert "allowed:" not in said


def test_fuel_without_a_gauge_after_it_is_told_not_to_count(plan, as_of):
    made = plan("fuel", tank="propane-tank", amount="100 gal")
    assert what_changes(made.before, made.after, as_of) == [
        "No gauge after it, so 100 gal are not counted into Propane tank. "
        'Read it and add, such as: --after "80 %"'
    ]
    made = plan("fuel", tank="propane-tank", amount="100 gal", after="80 %")
    assert "not counted" not in "\n".join(what_changes(made.before, made.after, as_of))
