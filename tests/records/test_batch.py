"""Many records from a CSV file: all or nothing, all problems at once with file and line."""

import pytest

from steadbook.errors import InventoryErrors, RecordError
from steadbook.records import journal
from steadbook.records.batch import planned_batch, read_rows
from steadbook.records.recording import write

GOOD = """\
kind,date,machine,hours,duration,tasks,parts,tank,level,supplier
reading,2026-11-20,main-genset,"1,000 h",,,,,,
run,2026-11-20,main-genset,,2.5 h,,,,,
,,,,,,,,,
service,2026-11-21,main-genset,1001 h,,"oil-change, valve-lash","oil-filter=1, engine-oil=3 qt",,,
level,2025-11-21,,,,,,propane-tank,40 %,
received,2026-11-22,,,,,,,,gas
"""
LINES = """\
  - {date: 2026-11-20, machine: main-genset, hours: "1,000 h"}
"""


@pytest.fixture
def sheet(tmp_path):
    """Writes a CSV file."""

    def make(text, encoding="utf-8"):
        path = tmp_path / "run-log.csv"
        path.write_bytes(text.encode(encoding))
        return path

    return make


def test_every_row_goes_to_its_year_and_list(home, log, sheet, as_of):
    before = log.read_bytes()
    made = planned_batch(home, sheet(GOOD), as_of)
    assert log.read_bytes() == before  # a plan writes nothing
    write(home, made, as_of)
    text = log.read_text("utf-8")
    assert LINES in text
    assert "\nruns:\n  - {date: 2026-11-20, machine: main-genset, duration: 2.5 h}\n" in text
    assert "    tasks: [oil-change, valve-lash]\n    hours: 1001 h\n" in text
    assert "    promised: 2026-11-30\n    received: 2026-11-22\n" in text
    other = log.with_name("2025.yaml").read_text("utf-8")
    assert other == "# 2025\n\nlevels:\n  - {date: 2025-11-21, tank: propane-tank, level: 40 %}\n"
    assert len(journal.take_back(home)) == 5
    assert log.read_bytes() == before
    assert not log.with_name("2025.yaml").exists()


def test_a_sheet_saved_by_an_office_program_is_read(home, sheet, as_of):
    path = sheet(GOOD.replace("\n", "\r\n").replace("kind,date", "Kind,Date"), "utf-8-sig")
    assert len(planned_batch(home, path, as_of).records) == 5


def test_all_problems_come_at_once_with_file_and_line(home, log, sheet, as_of):
    before = log.read_bytes()
    path = sheet(
        "kind,date,machine,hours,duration,tasks,parts,notes\n"
        "run,2026-11-02,main-gnset,,2.5 h,,,\n"
        "run,2026-13-02,main-genset,,2.5,,,\n"
        "reading,2026-11-24,main-genset,100 h,,,,\n"
        'service,2026-11-24,main-genset,,,oil-change,grease,"a\nb"\n'
        "serice,2026-11-24,,,,,,\n"
        "reading,2026-11-24,,,,,,\n"
        "reading,2026-11-24,main-genset,700 h,3 h,,,\n"
        "event,2026-11-24,,,,,,,,,\n"
    )
    with pytest.raises(InventoryErrors) as caught:
        planned_batch(home, path, as_of)
    told = [(one.line, one.key, one.fix) for one in caught.value.problems]
    assert [one[:2] for one in told] == [
        (2, "machine"), (3, "date"), (3, "duration"), (4, "hours"), (6, "parts"), (7, "kind"),
        (8, "hours"), (8, "machine"), (9, "duration"), (10, ""),
    ]  # fmt: skip
    assert all(one.file == "run-log.csv" for one in caught.value.problems)
    assert told[0][2] == "did you mean 'main-genset'?"
    assert told[5][2] == "did you mean 'service'?"
    assert "10 problems found" in str(caught.value)
    assert log.read_bytes() == before


def test_the_same_row_twice_is_told_once(home, sheet, as_of):
    row = "event,2026-11-24,Mud\n"
    with pytest.raises(
        InventoryErrors, match=r"run-log\.csv:3\n  found:   an entry that is in"
    ) as one:
        planned_batch(home, sheet("kind,date,text\n" + 2 * row), as_of)
    assert len(one.value.problems) == 1
    assert (
        len(planned_batch(home, sheet("kind,date,text\n" + 2 * row), as_of, again=True).records)
        == 2
    )


@pytest.mark.parametrize(
    ("text", "match"),
    [
        ("", "no column 'kind'"),
        ("kind,date\n", "no rows"),
        ("kind,date,machin\n", "unknown column 'machin'(.|\n)*did you mean 'machine'"),
        ("kind,date,date\n", "the column 'date' twice"),
        ("machine,hours\n", "no column 'date'(.|\n)*2 problems|no column 'kind'(.|\n)*2 problems"),
    ],
)
def test_a_sheet_that_is_none_is_told(home, sheet, as_of, text, match):
    with pytest.raises(InventoryErrors, match=match):
        planned_batch(home, sheet(text), as_of)


def test_a_file_that_cannot_be_read_is_told(sheet, tmp_path):
    with pytest.raises(RecordError, match="No such file"):
        read_rows(tmp_path / "none.csv")
    with pytest.raises(RecordError, match="not UTF-8"):
        read_rows(sheet("kind,date\nevent,Größe\n", "latin-1"))


def test_a_level_in_gallons_stands_in_a_row_too(home, as_of, tmp_path):
    rows = tmp_path / "levels.csv"
    rows.write_text("kind,date,tank,level\nlevel,2026-11-25,propane-tank,125 gal\n")
    made = planned_batch(home, rows, as_of)
    assert made.after.log.levels[-1].level.to("%") == 25  # of 500 gal
    assert made.after.log.levels[-1].notes == "read as 125 gal of 500 gal"
