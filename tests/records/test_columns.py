"""CSV files made by something else, read by a column map."""

import pytest

from steadbook.cli import main
from steadbook.errors import InventoryErrors, RecordError
from steadbook.records.batch import planned_batch
from steadbook.records.columns import read_columns

MAP = """\
# the controller's own log
columns:
  Datum: date
  Betriebsstunden: hours
  Art: kind
  Bemerkung: notes
fixed: {machine: main-genset}
kinds: {Ablesung: reading}
units: {hours: h}
date_format: D.M.YYYY
separator: ";"
decimal: ","
"""
SHEET = """\
Nr;Datum;Art;Betriebsstunden;Bemerkung
1;5.11.2026;Ablesung;690,5;"kalt; Schnee"

2;15.11.2026;Ablesung;702,5 h;
"""


@pytest.fixture
def files(tmp_path):
    """Writes a sheet and its map."""

    def make(sheet=SHEET, columns=MAP):
        paths = tmp_path / "log.csv", tmp_path / "map.yaml"
        for path, text in zip(paths, (sheet, columns), strict=True):
            path.write_text(text, "utf-8")
        return paths

    return make


def test_a_foreign_log_is_read(home, files, as_of):
    sheet, columns = files()
    plan = planned_batch(home, sheet, as_of, columns=read_columns(columns))
    assert plan.new_text(home).split("\n")[1:] == [
        "  - {date: 2026-11-05, machine: main-genset, hours: 690.5 h, notes: kalt; Schnee}",
        "  - {date: 2026-11-15, machine: main-genset, hours: 702.5 h}",
    ]


def test_problems_stand_at_the_line_of_the_sheet(home, files, as_of):
    sheet, columns = files(
        SHEET.replace("1;5.11.2026;Ab", "1;11/5/2026;Ab").replace("702,5 h", "1 h")
    )
    with pytest.raises(InventoryErrors) as caught:
        planned_batch(home, sheet, as_of, columns=read_columns(columns))
    told = {one.line: one for one in caught.value.problems}
    assert told[2].found == "11/5/2026"
    assert told[2].allowed == "a day written D.M.YYYY"
    assert told[4].found == "1 h, after 669 h on 2026-11-01"


def test_a_column_that_is_not_there_is_told(home, files, as_of):
    sheet, columns = files(SHEET.replace("Betriebsstunden", "Betriebstunden"))
    with pytest.raises(InventoryErrors, match=r"no column 'Betriebsstunden'(.|\n)*did you mean"):
        planned_batch(home, sheet, as_of, columns=read_columns(columns))


@pytest.mark.parametrize(
    ("old", "new", "match"),
    [
        ("date\n", "dat\n", "no key of ours(.|\n)*did you mean 'date'"),
        ("  Art: kind\n", "", "nothing that gives the kind"),
        ("notes", "hours", "'hours' twice"),
        ("D.M.YYYY", '"%d.%m.%y"', "a form such as MM/DD/YYYY"),
        ("columns:", "colums:", "did you mean 'columns'"),
        ('";"', '"|"', "separator"),
    ],
)
def test_a_map_that_is_wrong_is_told(files, old, new, match):
    _, columns = files(columns=MAP.replace(old, new))
    with pytest.raises(InventoryErrors, match=match):
        read_columns(columns)


def test_a_map_that_is_not_there(tmp_path):
    with pytest.raises(RecordError, match="No such file"):
        read_columns(tmp_path / "none.yaml")


@pytest.mark.parametrize(
    ("form", "text"),
    [("MM/DD/YYYY", "11/05/2026"), ("DD.MM.YY", "05.11.26"), ("M/D/YYYY", "11/5/2026"),
     ("YYYY-MM-DD", "2026-11-05"), ("YYYYMMDD", "20261105")],
)  # fmt: skip
def test_days_as_people_write_them(home, files, as_of, form, text):
    sheet, columns = files(
        SHEET.replace("1;5.11.2026;Ab", f"1;{text};Ab").split("\n\n")[0],
        MAP.replace("D.M.YYYY", f'"{form}"'),
    )
    plan = planned_batch(home, sheet, as_of, columns=read_columns(columns))
    assert plan.records[0].filled["date"] == "2026-11-05"


def test_as_typed_with_the_columns_left_out(home, files, capsys):
    sheet, columns = files()
    call = ["record", "--from", str(sheet), "--columns", str(columns), "--home", str(home)]
    assert main([*call, "--as-of", "2026-11-25", "--dry-run"]) == 0
    assert "Columns left out: Nr" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "hours"), [("690,5", "690.5 h"), ("1.432,5 h", "1432.5 h"), ("690", "690 h")]
)
def test_a_decimal_comma(files, text, hours):
    from steadbook.records.columns import turned

    _, columns = files()
    own = turned(read_columns(columns), ["Datum", "Art", "Betriebsstunden", "Bemerkung"], "log.csv")
    row = own.cells(["5.11.2026", "Ablesung", text, "1,5 m Schnee. Kalt"], "log.csv", 2)
    assert row == ["2026-11-05", hours, "reading", "1,5 m Schnee. Kalt", "main-genset"]
