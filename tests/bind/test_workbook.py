"""The tables as a workbook: the same as the CSV, texts that stay texts, the same bytes."""

import csv
import io
import zipfile
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest

from steadbook.bind import workbook as workbooks
from steadbook.bind.tables import tables, tables_as_workbook
from steadbook.bind.workbook import workbook
from steadbook.cli import main
from steadbook.inventory import read_inventory
from steadbook.workings import work_out

ROOT = Path(__file__).parents[2]
AS_OF = date(2026, 11, 25)


@pytest.fixture(scope="module")
def workings():
    from steadbook.content import content_folders, procedure_names

    return work_out(
        read_inventory(
            ROOT / "site_data", as_of=AS_OF, procedures=procedure_names(content_folders(ROOT))
        ),
        AS_OF,
    )


def sheet_of(data, name):
    rows = openpyxl.load_workbook(io.BytesIO(data))[name].iter_rows(values_only=True)
    heading, *body = rows
    return list(heading), body


def test_it_holds_the_tables(workings):
    data = tables_as_workbook(workings)
    for name, text in tables(workings).items():
        heading, *body = csv.reader(io.StringIO(text, newline=""))
        got_heading, got = sheet_of(data, name.removesuffix(".csv"))
        assert got_heading == heading
        assert len(got) == len(body)
        for theirs, mine in zip(body, got, strict=True):
            for written, value in zip(theirs, mine, strict=True):
                if isinstance(value, datetime):
                    assert written == value.date().isoformat()
                elif isinstance(value, (int, float)):
                    assert float(written) == pytest.approx(value, rel=1e-9)
                else:
                    assert written.removeprefix("'") == (value or "").removeprefix("'")


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "=cmd|'/C calc'!A0", "#REF!"])
def test_a_text_is_never_a_formula(text):
    data = workbook({"a": (["b"], [{"b": text}])}, AS_OF)
    cell = openpyxl.load_workbook(io.BytesIO(data))["a"]["A2"]
    assert (cell.value, cell.data_type) == (text, "s")


def test_days_and_numbers_are_what_they_are():
    data = workbook({"a": (["day", "n"], [{"day": date(2026, 1, 2), "n": -5.25}, {"n": 0}])}, AS_OF)
    assert sheet_of(data, "a")[1] == [(datetime(2026, 1, 2), -5.25), (None, 0)]


def test_the_same_tables_give_the_same_bytes(monkeypatch):
    import time

    rows = {"a": (["b"], [{"b": "x"}])}
    first = workbook(rows, AS_OF)
    later = time.time() + 100_000
    monkeypatch.setattr(time, "time", lambda: later)
    monkeypatch.setattr(time, "localtime", lambda *_: time.gmtime(later))
    assert workbook(rows, AS_OF) == first
    with zipfile.ZipFile(io.BytesIO(first)) as archive:
        assert archive.testzip() is None
        core = archive.read("docProps/core.xml").decode()
    assert core.count("2026-11-25T00:00:00Z") == 2


def test_without_the_library_nothing_is_made(tmp_path, monkeypatch, capsys):
    from steadbook.starting import start_home

    start_home(tmp_path / "new")
    monkeypatch.setattr(workbooks, "find_spec", lambda name: None)
    call = ["build", "--home", str(tmp_path / "new"), "--xlsx", "--as-of", "2026-11-25"]
    assert main([*call, "--no-site", "--no-binder"]) == 2
    assert 'pip install "steadbook[xlsx]"' in capsys.readouterr().err
    assert not (tmp_path / "new" / "build" / "tables").exists()


def test_as_typed(tmp_path, capsys):
    from steadbook.starting import start_home

    start_home(tmp_path / "new")
    call = [
        "build",
        "--home",
        str(tmp_path / "new"),
        "--as-of",
        "2026-11-25",
        "--no-site",
        "--no-binder",
    ]
    assert main([*call, "--xlsx"]) == 0
    path = tmp_path / "new" / "build" / "tables" / "tables.xlsx"
    assert openpyxl.load_workbook(path).sheetnames == ["schedule", "parts", "log", "fuel"]
    assert main(call) == 0
    assert not path.exists()
    assert main(["build", "--homes", str(tmp_path), "--xlsx"]) == 2
