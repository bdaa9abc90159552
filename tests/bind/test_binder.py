"""Measures the finished PDF of a small binder."""

from __future__ import annotations

import io
from datetime import date
from pathlib import Path

import pytest
from pypdf import PdfReader

from steadbook.bind.binder import Binder, Tab, bind
from steadbook.errors import BindError

DAY = date(2026, 5, 12)


def bound(*tabs: Tab, **changes: object) -> Binder:
    settings: dict[str, object] = {
        "title": "Larch Hollow",
        "subtitle": "Systems manual",
        "paper": "letter",
        "as_of": DAY,
        "roots": [],
    }
    return bind(tabs, **(settings | changes))  # type: ignore[arg-type]


def plain(key: str, title: str, rows: int = 5, extra: str = "") -> Tab:
    table = "".join(f"<tr><td>Task {n}</td><td>{50 * n} h</td></tr>" for n in range(rows))
    return Tab(
        key,
        title,
        f'<h1 id="{key}">{title}</h1><table><thead><tr><th>Task</th><th>Every</th></tr></thead>'
        f'<tbody>{table}</tbody></table><h2 id="{key}-last">Last of {title}</h2><p>End.</p>{extra}',
    )


def test_every_page_is_a_labelled_sheet():
    binder = bound(plain("power", "Power", 90), plain("fuel", "Fuel"))
    reader = PdfReader(io.BytesIO(binder.pdf))
    assert reader.page_labels == [sheet.label for sheet in binder.sheets]
    assert "Power 3" in reader.page_labels


def test_same_input_gives_the_same_bytes():
    tabs = plain("power", "Power", 90), plain("fuel", "Fuel")
    assert bound(*tabs).pdf == bound(*tabs).pdf


def test_no_tabs_are_refused():
    with pytest.raises(BindError, match="no tabs"):
        bound()


def test_a_link_to_nowhere_is_refused():
    with pytest.raises(BindError, match=r"tab 'Power': a link leads to 'nowhere'"):
        bound(plain("power", "Power", extra='<a href="#nowhere">x</a>'))


def test_the_manifest_is_read_back_as_written(tmp_path: Path):
    manifest = bound(plain("power", "Power")).manifest
    manifest.write(tmp_path / "printed.yaml")
    assert type(manifest).read(tmp_path / "printed.yaml") == manifest
