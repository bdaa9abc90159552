"""The tables as one workbook of office programs (ECMA-376), with openpyxl where it is installed."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from datetime import date
from importlib.util import find_spec
from typing import Any

from steadbook.errors import BindError

EARLIEST = (1980, 1, 1, 0, 0, 0)  # of a zip file
WIDEST = 48  # characters
CORE = "docProps/core.xml"
Table = tuple[Sequence[str], Sequence[Mapping[str, Any]]]


def require_openpyxl() -> None:
    """Raises BindError where the library that writes workbooks is not installed."""
    if find_spec("openpyxl") is None:
        raise BindError(
            "--xlsx\n  found:   no openpyxl\n  allowed: an installation with the extra xlsx\n"
            '  fix:     pip install "steadbook[xlsx]", or use the CSV tables'
        )


def workbook(tables: Mapping[str, Table], day: date) -> bytes:
    """A workbook with one sheet for each table: its columns and rows.

    Dates and numbers stay what they are, and a text is a text whatever it begins with. The same
    tables give the same bytes; ``day`` stands as the day it was made.
    """
    from openpyxl import Workbook

    book = Workbook()
    if book.active is not None:
        book.remove(book.active)
    for name, (columns, rows) in tables.items():
        _fill(book.create_sheet(name), columns, rows)
    out = io.BytesIO()
    book.save(out)
    return _settled(out.getvalue(), day)


def _fill(sheet: Any, columns: Sequence[str], rows: Sequence[Mapping[str, Any]]) -> None:
    from openpyxl.styles import Font
    from openpyxl.utils import get_column_letter

    for place, name in enumerate(columns, start=1):
        cells = [name, *(row.get(name) for row in rows)]
        for line, value in enumerate(cells, start=1):
            _put(sheet.cell(line, place), value)
        sheet.cell(1, place).font = Font(bold=True)
        longest = max(len(str(one)) for one in cells if one is not None)
        sheet.column_dimensions[get_column_letter(place)].width = min(longest, WIDEST) + 2
    sheet.freeze_panes = "A2"
    if rows:
        sheet.auto_filter.ref = sheet.dimensions


def _put(cell: Any, value: Any) -> None:
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    if value is None:
        return
    if isinstance(value, date):
        cell.value, cell.number_format = value, "yyyy-mm-dd"
    elif isinstance(value, (int, float)):
        cell.value = value
    else:
        cell.value = ILLEGAL_CHARACTERS_RE.sub("", str(value))
        cell.data_type = "s"  # no text is a formula


def _settled(data: bytes, day: date) -> bytes:
    """The same workbook without the hour of its making."""
    moment = f"{day.isoformat()}T00:00:00Z"
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        for name in sorted(old.namelist(), key=lambda one: (one != "[Content_Types].xml", one)):
            body = old.read(name)
            if name == CORE:
                body = re.sub(rb"\d{4}-\d\d-\d\dT[\d:]+Z", moment.encode(), body)
            entry = zipfile.ZipInfo(name, EARLIEST)
            entry.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(entry, body)
    return out.getvalue()
