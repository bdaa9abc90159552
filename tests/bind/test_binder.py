"""The finished binder, measured: what is on its sheets, where, and what it refuses.

Where a length is asserted it comes from the standard or practice named beside it; the sheets
are read by pdfplumber and pypdf, which have no part in making them.
"""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from itertools import pairwise
from pathlib import Path

import pdfplumber
import pytest
from pypdf import PdfReader
from tests.bind.conftest import Host

from steadbook.bind import flow
from steadbook.bind.binder import Binder, Tab, bind
from steadbook.bind.by_plutoprint import PlutoprintSetting
from steadbook.bind.sheets import Manifest
from steadbook.errors import BindError

DAY, LATER = date(2026, 5, 12), date(2026, 6, 1)
MM = 72 / 25.4
WORDS = "Check the level on flat ground with the genset stopped for ten minutes. "


def bound(*tabs: Tab, **changes: object) -> Binder:
    settings: dict[str, object] = {
        "title": "Larch Hollow",
        "subtitle": "Systems manual",
        "paper": "letter",
        "as_of": DAY,
        "roots": [],
    }
    return bind(tabs, **(settings | changes))  # type: ignore[arg-type]


def table(rows: int, mark: str = "Task") -> str:
    cells = "".join(f"<tr><td>{mark} {n}</td><td>{50 * n} h</td></tr>" for n in range(rows))
    return (
        "<table><thead><tr><th>Headtask</th><th>Every</th></tr></thead>"
        f"<tbody>{cells}</tbody></table>"
    )


def plain(key: str, title: str, rows: int = 5, extra: str = "", *, landscape: bool = False) -> Tab:
    html = (
        f'<h1 id="{key}">{title}</h1>{table(rows)}'
        f'<h2 id="{key}-last">Last of {title}</h2><p>End of {title}.</p>{extra}'
    )
    return Tab(key, title, html, landscape)


def busy(key: str, title: str, *, landscape: bool = False) -> Tab:
    """A tab with one of everything a manual prints."""
    steps = "".join(f'<li><span class="tick"></span>Step {n}. {WORDS * 2}</li>' for n in range(30))
    boxes = "".join(
        f'<div class="signal {kind}"><p>Hazard of kind {kind}. {WORDS}</p></div>'
        for kind in ("danger", "warning", "caution", "notice")
    )
    wide = (
        "<tr>"
        + "".join(f"<td>PART-{n}-ABCDEFGHIJKLMNOPQRSTUVWXYZ</td>" for n in range(8))
        + "</tr>"
    )
    chart = (
        '<figure><svg viewBox="0 0 2000 300" width="2000" height="300">'
        '<rect x="0" y="0" width="2000" height="300" fill="none" stroke="black"/></svg></figure>'
    )
    html = (
        f'<h1 id="{key}">{title}</h1><p>{WORDS}</p>{boxes}<h2 id="{key}-steps">Steps</h2>'
        f"<ol>{steps}</ol><h3>Parts</h3><table>{wide * 3}</table>{chart}"
        f"<p>{'Nobreakplace' * 40}</p><pre>{'x = 1; ' * 60}</pre>{table(60)}"
    )
    return Tab(key, title, html, landscape)


def reader_of(binder: Binder) -> PdfReader:
    return PdfReader(io.BytesIO(binder.pdf))


def texts(binder: Binder, tab: str) -> list[str]:
    pages = reader_of(binder).pages
    return [pages[n].extract_text() for n, sheet in enumerate(binder.sheets) if sheet.tab == tab]


def pages_of(binder: Binder) -> Iterator[pdfplumber.page.Page]:
    with pdfplumber.open(io.BytesIO(binder.pdf)) as pdf:
        yield from pdf.pages


# ---- Sheets and their numbers


def test_every_page_is_a_labelled_sheet():
    binder = bound(plain("power", "Power", 90), plain("fuel", "Fuel"))
    assert reader_of(binder).page_labels == [sheet.label for sheet in binder.sheets]
    assert [s.label for s in binder.sheets if s.tab == "power"] == [
        f"Power {n}" for n in (1, 2, 3, 4)
    ]


def test_each_sheet_bears_its_label_date_and_fingerprint():
    binder = bound(plain("power", "Power", 90))
    for page, sheet in zip(reader_of(binder).pages, binder.sheets, strict=True):
        text = page.extract_text()
        assert sheet.label in text
        assert "Revised 12 May 2026" in text
        assert sheet.fingerprint in text


def test_labels_stand_at_the_outer_edge_of_the_leaf():
    binder = bound(plain("power", "Power", 90))
    for page, sheet in zip(pages_of(binder), binder.sheets, strict=True):
        [*_, number] = [w for w in page.extract_words() if w["text"] == str(sheet.number)]
        is_left = number["x1"] < page.bbox[0] + page.width / 2
        assert is_left == (sheet.number % 2 == 0)


def listed(binder: Binder) -> dict[str, str]:
    """What the list of effective sheets, as printed, says of each sheet: its day, and letters."""
    front = "\n".join(texts(binder, "front"))
    lines = front[front.index("List of effective sheets") : front.index("Record of revisions")]
    found: dict[str, str] = {}
    title = ""
    for line in lines.splitlines():
        row = re.match(r"(.*?) ?(\d+ [A-Z][a-z]{2} \d{4}) (.+)", line)
        if row is None:
            continue
        title = row[1] or title
        for first, last, letters in re.findall(r"(\d+)(?:–(\d+))?(?: \((\S+)\))?", row[3]):
            for number in range(int(first), int(last or first) + 1):
                found[f"{title} {number}"] = f"{row[2]} {letters}".strip()
    return found


def test_the_front_lists_every_sheet_with_its_day():
    binder = bound(plain("power", "Power", 90), plain("fuel", "Fuel"))
    front = "\n".join(texts(binder, "front"))
    assert "Contents" in front and "Original issue" in front
    assert listed(binder) == {
        sheet.label: "12 May 2026" for sheet in binder.sheets if sheet.tab != "front"
    }
    assert re.search("Power 12 May 2026 1–4$", front, re.MULTILINE)  # a line a tab, not a sheet


def test_the_front_names_the_letters_of_sheets_changed_since_their_tab_was_issued():
    before = bound(plain("power", "Power", 90), plain("fuel", "Fuel"))
    power = plain("power", "Power", 90)
    power = replace(power, html=power.html.replace("3000 h", "3001 h"))
    after = bound(power, plain("fuel", "Fuel"), previous=before.manifest, as_of=LATER)
    assert listed(after) == {
        sheet.label: "12 May 2026" if sheet.revised == DAY else f"1 Jun 2026 {sheet.fingerprint}"
        for sheet in after.sheets
        if sheet.tab != "front"
    }
    assert [s.label for s in after.sheets if s.revised == LATER and s.tab != "front"] == ["Power 2"]


def test_contents_gives_the_sheet_a_heading_stands_on():
    binder = bound(plain("power", "Power", 90))
    [sheet] = [n for n, text in enumerate(texts(binder, "power"), 1) if "Last of Power" in text]
    [line] = re.findall(r"Last of Power[ .]*(Power \d+)", "\n".join(texts(binder, "front")))
    assert line == f"Power {sheet}"
    assert sheet > 1


def test_a_tab_that_grows_renumbers_no_other():
    before = bound(plain("power", "Power", 5), plain("fuel", "Fuel", 90))
    after = bound(plain("power", "Power", 200), plain("fuel", "Fuel", 90), previous=before.manifest)
    fuel = [[s for s in b.sheets if s.tab == "fuel"] for b in (before, after)]
    assert fuel[0] == fuel[1]


@pytest.mark.parametrize("rows", [5, 90, 140])
def test_printed_on_both_sides_each_tab_fills_whole_leaves(rows: int):
    binder = bound(plain("power", "Power", rows), plain("fuel", "Fuel"))
    for key in ("front", "power", "fuel"):
        assert len(texts(binder, key)) % 2 == 0


def test_printed_on_one_side_no_side_for_notes_is_added():
    binder = bound(plain("power", "Power"), duplex=False)
    assert len(texts(binder, "power")) == 1


def test_no_sheet_is_empty():
    binder = bound(busy("power", "Power"), plain("fuel", "Fuel"))
    for page in pages_of(binder):
        body = page.crop((page.bbox[0], 22 * MM, page.bbox[2], page.height - 20 * MM))
        assert body.chars or len(body.lines) + len(body.rects) > 5


# ---- Margins and holes


@pytest.mark.parametrize(("paper", "wide", "high"), [("letter", 215.9, 279.4), ("a4", 210, 297)])
def test_nothing_touches_the_holes_or_runs_off_the_sheet(paper: str, wide: float, high: float):
    # ISO 838: centres 12 +-1 mm from the edge, holes 6 +-0.5 mm wide: to 16.25 mm at most; US
    # punches make holes up to 8 mm wide. Practice for the binding margin is 20 to 25 mm.
    tabs = busy("power", "Power"), busy("calendar", "Calendar", landscape=True)
    binder = bound(*tabs, paper=paper)
    for page, sheet in zip(pages_of(binder), binder.sheets, strict=True):
        left, _, right, _ = page.bbox
        if sheet.tab == "calendar":
            assert (page.width, page.height) == pytest.approx((high * MM, wide * MM), abs=0.6)
            bound_edges = {"top": 24, "bottom": 24, "left": 6, "right": 6}
        else:
            assert (page.width, page.height) == pytest.approx((wide * MM, high * MM), abs=0.6)
            back = sheet.number % 2 == 0
            bound_edges = {
                "top": 6,
                "bottom": 6,
                "left": 6 if back else 24,
                "right": 24 if back else 6,
            }
        things = page.chars + page.rects + page.lines + page.curves
        assert things
        assert min(t["x0"] for t in things) - left >= bound_edges["left"] * MM
        assert right - max(t["x1"] for t in things) >= bound_edges["right"] * MM
        assert min(t["top"] for t in things) >= bound_edges["top"] * MM
        assert page.height - max(t["bottom"] for t in things) >= bound_edges["bottom"] * MM


def test_body_text_is_ten_points_or_more_and_never_all_small():
    binder = bound(busy("power", "Power"))
    for page in pages_of(binder):
        body = page.crop((page.bbox[0], 22 * MM, page.bbox[2], page.height - 20 * MM))
        assert all(char["size"] >= 9.99 for char in body.chars)


def test_lines_are_set_with_room_between_them():
    binder = bound(Tab("power", "Power", f"<p>{WORDS * 30}</p>"))
    page = list(pages_of(binder))[[s.label for s in binder.sheets].index("Power 1")]
    lines = sorted({round(c["top"], 1) for c in page.chars if c["size"] == pytest.approx(10)})
    steps = [b - a for a, b in pairwise(lines)]
    assert min(steps) == pytest.approx(13, abs=0.3)  # 10 pt by 1.3


# ---- What stays together


TAILS = {
    "paragraph": "<p>Firstpiece of text that runs on over a line or two so that it looks real.</p>",
    "table": table(40, "Firstpiece"),
    "tall rows": "<table>" + f"<tr><td>Firstpiece {WORDS * 4}</td><td>x</td></tr>" * 9 + "</table>",
    "steps": "<ol>" + f"<li>Firstpiece {WORDS}</li>" * 40 + "</ol>",
    "long step": "<ol>" + f"<li>Firstpiece {WORDS * 12}</li>" * 6 + "</ol>",
    "deeper heading": "<h3>Deeper</h3><p>Firstpiece</p>",
    "caution": f'<div class="signal danger"><p>Firstpiece {WORDS * 3}</p></div>',
    "picture": '<figure><svg width="300" height="260" viewBox="0 0 3 2"><rect width="3" '
    'height="2"/></svg><figcaption>Firstpiece</figcaption></figure>',
    "wrapped": f"<div><p>Firstpiece {WORDS}</p>{table(30)}</div>",
}


@pytest.mark.parametrize("tail", TAILS)
def test_a_heading_is_never_last_on_a_sheet(tail: str):
    # 28 headings, each after a push of another height, so that some fall at every place.
    blocks = "".join(
        f'<div style="break-before:page;height:{150 + 3 * n}mm"></div>'
        f"<h2>Thisheading {n}</h2>{TAILS[tail]}"
        for n in range(28)
    )
    binder = bound(Tab("power", "Power", blocks))
    at_risk = 0
    for text in texts(binder, "power"):
        _, found, after = text.rpartition("Thisheading")
        if found:
            assert "Firstpiece" in after
            at_risk += 1
    assert at_risk == 28


def test_a_table_with_one_wide_column_starts_where_there_is_room_for_it():
    # a column of 58 % takes the text of each row in three lines; in eight equal ones it took twenty
    widths = "".join(f'<col style="width:{share}%">' for share in (58, 6, 6, 6, 6, 6, 6, 6))
    ticks = '<td><span class="tick"></span></td>' * 7
    rows = f"<tr><td>{WORDS * 2}</td>{ticks}</tr>" * 4
    filling = f"<p>{WORDS}</p>" * 18  # half of the sheet
    tab = Tab("power", "Power", f"{filling}<h2>Round</h2><table>{widths}{rows}</table>")
    first = texts(bound(tab), "power")[0]
    assert "Round" in first and first.count("flat ground") > 18


@pytest.mark.parametrize("filling", range(22, 34))
def test_a_lead_in_stands_on_the_sheet_of_its_table(filling: int):
    html = f"{'<p>Filling.</p>' * filling}<h2>Specs</h2><p>The manual overrides it.</p>{table(30)}"
    binder = bound(Tab("power", "Power", html), with_front=False)
    for text in texts(binder, "power"):
        assert ("overrides" in text) == ("Task 0" in text)


def test_a_step_is_never_split():
    steps = "".join(f"<li>Startof{n}x {WORDS * (1 + n % 5)} endof{n}x</li>" for n in range(60))
    for text in texts(bound(Tab("power", "Power", f"<ol>{steps}</ol>")), "power"):
        assert re.findall(r"Startof(\d+)x", text) == re.findall(r"endof(\d+)x", text)


def test_a_table_repeats_its_head_on_every_sheet():
    binder = bound(Tab("power", "Power", table(200)))
    with_rows = [text for text in texts(binder, "power") if "Task" in text]
    assert len(with_rows) >= 4
    assert all("Headtask" in text for text in with_rows)


def test_a_table_that_ends_with_its_sheet_leaves_no_empty_sheet_behind():
    # Heights in steps of 0.07 mm: a shared cell line sticks out by 0.09 mm.
    blocks = "".join(
        f'<section style="break-before:page"><p style="height:{163 + n * 0.07:.2f}mm;margin:0">Top'
        f"</p>{table(10)}</section>"
        for n in range(120)
    )
    pages = texts(bound(Tab("power", "Power", blocks)), "power")
    assert all(re.search(r"Top|Task|Notes", text) for text in pages)
    assert sum("Task 9" in text and "Top" not in text for text in pages) > 0


def test_only_words_too_long_for_their_place_are_broken():
    part = "BH-1240-QWERTYUIOPASDFGHJKL"
    words = "<p>Run the house on <em>the dead inverter</em> (Procedures 17) and then some.</p>"
    narrow = f"<table><tr><td>{part}</td>{'<td>x</td>' * 7}</tr></table>"
    blocks = "".join(f'<div style="width:{mm}mm">{words}</div>' for mm in range(44, 90, 2))
    [text, _] = texts(bound(Tab("power", "Power", narrow + blocks)), "power")
    lines = {word for line in text.split("\n") for word in line.split()}
    assert part not in lines
    assert part in text.replace("\n", "")
    assert {"Run", "house", "inverter", "(Procedures", "17)", "some."} <= lines
    assert not {"inver", "ter", "(Proc", "(Pro", "edures"} & lines


def test_a_word_wider_than_reckoned_still_gets_in():
    # The widest signs of the face: reckoned as 12 mm, in truth 33 mm, in a column of 17 mm.
    narrow = f"<table><tr>{'<td>x</td>' * 9}<td>‱‱‱‱‱</td></tr></table><p>{WORDS}</p>"
    binder = bound(Tab("power", "Power", narrow))
    page = list(pages_of(binder))[[s.label for s in binder.sheets].index("Power 1")]
    assert {round(c["size"], 1) for c in page.chars} == {9.0, 10.0}


# ---- Signal words


def test_each_step_of_a_procedure_has_a_box_to_tick_and_no_other_list():
    steps = "<ol><li>Stop it.</li><li><p>Lock it.</p><p>Expect: no sound.</p></li></ol>"

    def ticked(html: str) -> list[str]:
        """The first words of lines that have a small square before them."""
        with pdfplumber.open(io.BytesIO(bound(Tab("power", "Power", html)).pdf)) as pdf:
            page = next(p for p in pdf.pages if "Lock it" in (p.extract_text() or ""))
            squares = [one for one in [*page.rects, *page.curves] if 6 < one["height"] < 10]
            return [
                word["text"]
                for word in page.extract_words()
                if word["text"] in ("Stop", "Lock", "Expect:")
                and any(
                    abs(one["top"] + one["bottom"] - word["top"] - word["bottom"]) < 6
                    and 0 < word["x0"] - one["x1"] < 10
                    for one in squares
                )
            ]

    assert ticked(f'<h1>A</h1><div class="procedure">{steps}</div>') == ["Stop", "Lock"]
    assert ticked(f"<h1>A</h1>{steps}") == []


def test_signal_boxes_have_their_word_and_all_but_notice_the_alert():
    for kind in ("danger", "warning", "caution", "notice"):
        binder = bound(Tab("power", "Power", f'<div class="signal {kind}"><p>Hot oil.</p></div>'))
        page = list(pages_of(binder))[[s.label for s in binder.sheets].index("Power 1")]
        assert f"{kind.upper()}\nHot oil." in page.extract_text()
        # The triangle is a filled or stroked path that is no rectangle.
        assert bool(page.curves) == (kind != "notice")


@pytest.mark.parametrize(
    "box",
    [
        '<div class="signal warning">Hot oil.</div>',
        '<div class="signal warning"><p class="signal-word">WARNING</p><p>Hot oil.</p></div>',
        '<div class="signal warning"><p><strong>Warning:</strong></p><p>Hot oil.</p></div>',
        '<aside class="warning signal"><strong>WARNING</strong><p>Hot oil.</p></aside>',
    ],
)
def test_a_signal_word_is_printed_once_however_it_is_written(box: str):
    [text, _] = texts(bound(Tab("power", "Power", box)), "power")
    assert text.upper().count("WARNING") == 1
    assert "Hot oil." in text


# ---- Links, outline, particulars


def linked() -> Binder:
    return bound(
        plain("power", "Power", 120, '<p>See <a href="#fuel-last">the last fuel task</a>.</p>'),
        plain("fuel", "Fuel", 90, '<p>See <a href="binder:power-last">power</a> too.</p>'),
    )


def test_a_link_prints_and_jumps_to_the_sheet_of_its_heading():
    binder = linked()
    reader = reader_of(binder)
    labels = [sheet.label for sheet in binder.sheets]
    [home] = [n for n, p in enumerate(reader.pages) if "the last fuel task" in p.extract_text()]
    [goal] = [
        n
        for n, p in enumerate(reader.pages)
        if "End of Fuel" in p.extract_text() and labels[n].startswith("Fuel")
    ]
    jumps = [a.get_object()["/Dest"] for a in reader.pages[home]["/Annots"]]
    assert [reader.get_page_number(jump[0].get_object()) for jump in jumps] == [goal]
    assert f"the last fuel task ({labels[goal]})" in reader.pages[home].extract_text().replace(
        "\xa0", " "
    )
    # The jump leads to the heading's own height, in points from the foot.
    page = list(pages_of(binder))[goal]
    [heading] = [w for w in page.extract_words() if w["text"] == "Last"]
    assert page.height - heading["top"] == pytest.approx(float(jumps[0][3]), abs=12)


def test_no_link_leads_out_of_the_binder():
    for page in reader_of(linked()).pages:
        for link in page.get("/Annots", []):
            assert "/Dest" in link.get_object()
            assert "/A" not in link.get_object()


def test_the_outline_follows_tabs_and_headings():
    reader = reader_of(linked())

    def titles(items: list, depth: int = 0) -> list[tuple[int, str]]:
        out: list[tuple[int, str]] = []
        for item in items:
            out += titles(item, depth + 1) if isinstance(item, list) else [(depth, item.title)]
        return out

    assert titles(reader.outline) == [
        (0, "Front"),
        (1, "How to keep this binder"),
        (1, "Contents"),
        (1, "List of effective sheets"),
        (1, "Record of revisions"),
        (0, "Power"),
        (1, "Last of Power"),
        (0, "Fuel"),
        (1, "Last of Fuel"),
    ]


def test_the_pdf_says_its_language_title_and_day():
    reader = reader_of(linked())
    assert reader.root_object["/Lang"] == "en"
    assert reader.metadata.title == "Larch Hollow"
    assert reader.metadata.creation_date.date() == DAY


@pytest.mark.parametrize(("duplex", "sides"), [(True, "/DuplexFlipLongEdge"), (False, "/Simplex")])
def test_the_print_window_begins_with_the_right_sides_and_size(duplex: bool, sides: str):
    wishes = reader_of(bound(plain("power", "Power"), duplex=duplex)).root_object
    preferences = wishes["/ViewerPreferences"].get_object()
    assert preferences["/Duplex"] == sides  # ISO 32000-1, table 150
    assert preferences["/PrintScaling"] == "/None"


def test_without_front_there_are_the_tabs_alone():
    binder = bound(plain("power", "Power"), with_front=False, duplex=False)
    assert [sheet.label for sheet in binder.sheets] == ["Power 1"]
    assert len(reader_of(binder).pages) == 1


# ---- Changes


def test_an_unchanged_binder_keeps_its_bytes_on_a_later_day():
    tabs = plain("power", "Power", 90), busy("fuel", "Fuel")
    first = bound(*tabs)
    again = bound(*tabs, previous=first.manifest, as_of=LATER)
    assert again.pdf == first.pdf
    assert again.manifest == first.manifest


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("Task 3<", "Task 3.<"),
        (">150 h", ">750 h"),
        ("Task 3<", "Task 3 → ☐<"),
        ("<td>Task 3<", '<td style="background:#eee">Task 3<'),
        ("<td>Task 3<", '<td style="color:#444">Task 3<'),
    ],
)
def test_a_small_change_dates_its_own_sheet_alone(old: str, new: str):
    tab = plain("power", "Power", 120)
    first = bound(tab)
    assert tab.html.count(old) == 1
    second = bound(
        replace(tab, html=tab.html.replace(old, new)), previous=first.manifest, as_of=LATER
    )
    dated = [s.label for s in second.sheets if s.revised == LATER]
    assert [label for label in dated if label.startswith("Power")] == ["Power 1"]
    front = "\n".join(texts(second, "front"))
    assert "1 Jun 2026" in front and "Original issue" in front
    assert second.manifest.revisions[-1].sheets == ("Power 1",)


def test_a_moved_heading_changes_the_sheets_that_refer_to_it():
    before = linked()
    power = plain("power", "Power", 160, '<p>See <a href="#fuel-last">the last fuel task</a>.</p>')
    fuel = plain("fuel", "Fuel", 90, '<p>See <a href="binder:power-last">power</a> too.</p>')
    after = bound(power, fuel, previous=before.manifest, as_of=LATER)
    changed = [s.label for s in after.sheets if s.revised == LATER and s.tab == "fuel"]
    assert changed == ["Fuel 3"]


def test_another_engine_makes_all_sheets_new_and_says_so():
    first = bound(plain("power", "Power"))
    other = replace(first.manifest, engine="another engine")
    second = bound(plain("power", "Power"), previous=other, as_of=LATER)
    assert {sheet.revised for sheet in second.sheets} == {LATER}
    assert any("another version of the engine" in warning for warning in second.warnings)


# ---- Same input, same bytes


SCRIPT = """
import sys
from datetime import date
from pathlib import Path
from steadbook.bind.binder import Tab, bind
rows = "".join(f"<tr><td>Task {n} → {n}</td></tr>" for n in range(99))
tabs = [Tab(k, k.title(), f'<h1 id="{k}">{k}</h1><p><a href="#{o}">see</a></p><table>{rows}</table>')
        for k, o in (("power", "fuel"), ("fuel", "power"))]
sys.stdout.buffer.write(bind(tabs, title="T", subtitle="S", paper="a4", as_of=date(2026, 5, 12),
                             roots=[Path(".")]).pdf)
"""


def test_the_bytes_are_the_same_in_any_process_and_folder(tmp_path: Path):
    outputs = set()
    for seed in ("1", "2"):
        folder = tmp_path / seed
        folder.mkdir()
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT],
            cwd=folder,
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        )
        assert run.stderr == b""
        outputs.add(run.stdout)
    [pdf] = outputs
    assert pdf.startswith(b"%PDF")
    assert str(tmp_path).encode() not in pdf


def test_a_binding_from_the_cache_has_the_same_bytes(tmp_path: Path):
    tabs = [busy("power", "Power"), plain("fuel", "Fuel", 90)]
    fresh = bound(*tabs)
    for _ in range(2):
        assert bound(*tabs, cache_dir=tmp_path).pdf == fresh.pdf
    tabs[1] = plain("fuel", "Fuel", 91)
    assert bound(*tabs, cache_dir=tmp_path).pdf == bound(*tabs).pdf


def test_after_one_change_only_its_tab_is_parsed_and_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    tabs = [plain("power", "Power"), plain("fuel", "Fuel", extra='<a href="#power">see</a>')]
    bound(*tabs, cache_dir=tmp_path)
    parsed: list[str] = []
    placed: list[str] = []
    parse, place = flow._parse, PlutoprintSetting.__init__

    def noted_parse(tab: Tab) -> object:
        parsed.append(tab.title)
        return parse(tab)

    def noted_setting(self: object, where: str, *more: object) -> None:
        placed.append(where)
        place(self, where, *more)  # type: ignore[arg-type]

    monkeypatch.setattr(flow, "_parse", noted_parse)
    monkeypatch.setattr(PlutoprintSetting, "__init__", noted_setting)
    bound(*tabs, cache_dir=tmp_path)
    assert (parsed, placed) == ([], [])
    tabs[0] = plain("power", "Power", extra="<p>One line more.</p>")
    changed = bound(*tabs, cache_dir=tmp_path)
    assert set(parsed) == set(placed) == {"Power"}
    assert changed.pdf == bound(*tabs).pdf


def test_a_spoiled_cache_is_set_aside(tmp_path: Path):
    fresh = bound(plain("power", "Power"), cache_dir=tmp_path)
    for entry in tmp_path.iterdir():
        entry.write_bytes(entry.read_bytes()[:-5])
    assert bound(plain("power", "Power"), cache_dir=tmp_path).pdf == fresh.pdf


def test_the_cache_sees_a_changed_picture(tmp_path: Path):
    picture = tmp_path / "chart.svg"
    shape = '<svg xmlns="http://www.w3.org/2000/svg" width="90" height="90"><rect width="{}" height="9"/></svg>'
    tab = Tab("power", "Power", '<p>See it.</p><img src="chart.svg" alt="">')
    pdfs = []
    for width in (20, 60):
        picture.write_text(shape.format(width))
        pdfs.append(bound(tab, roots=[tmp_path], cache_dir=tmp_path / "cache").pdf)
    assert pdfs[0] != pdfs[1]


def test_the_cache_keeps_only_what_the_last_binding_used(tmp_path: Path):
    bound(plain("power", "Power", 5), cache_dir=tmp_path)
    count = len(list(tmp_path.iterdir()))
    for rows in (6, 7, 8):
        bound(plain("power", "Power", rows), cache_dir=tmp_path)
    assert len(list(tmp_path.iterdir())) == count


# ---- What is refused


@pytest.mark.parametrize(
    ("html", "says"),
    [
        ('<a href="#nowhere">x</a>', r"tab 'Power': a link leads to 'nowhere'"),
        ('<a href="binder:nowhere">x</a>', r"tab 'Power': a link leads to 'nowhere'"),
        ('<a href="fuel.html#x">x</a>', r"tab 'Power': a link leads to 'fuel.html#x', a file"),
        ('<a href="file:///etc/hosts">x</a>', r"a link leads to 'file:///etc/hosts'"),
        ('<p id="a">x</p><p id="a">y</p>', r"the id 'a' is already used"),
        ('<img src="gone.svg">', r"tab 'Power': cannot find 'gone.svg'"),
        ('<img src="../../etc/hostname">', r"cannot find"),
        ('<img src="file:///etc/hostname">', r"cannot find"),
        ('<p style="background:url(gone.png)">x</p>', r"cannot find 'gone.png'"),
        ("<div>" * 600 + "x", r"nested more than 500 deep"),
        ("<div>" * 60000 + "x", r"nested more than 500 deep"),
        ("<style>@page{size:0 0}</style><p>x</p>", r"no sheets"),
        ('<p style="font-family:Nosuchface">Vanishing</p>', r"'Vanishing' is lost"),
        ('<p>Text</p><p style="display:none">Vanishing</p>', r"'Vanishing' is lost"),
        ('<div style="margin-left:-20mm">Cut off here</div>', r"'Cut' is lost"),
        ('<div style="width:400mm">Wide</div>', r"'Power': something in it is about 400 mm wide"),
        ('<p id="ghost" style="display:none"></p><a href="#ghost">x</a>', r"'ghost' is linked to"),
    ],
)
def test_a_bad_tab_is_refused_by_name(html: str, says: str):
    with pytest.raises(BindError, match=says):
        bound(Tab("power", "Power", html))


def test_no_tabs_unknown_paper_and_doubled_tabs_are_refused():
    with pytest.raises(BindError, match="no tabs"):
        bound()
    with pytest.raises(BindError, match=r"paper is 'legal'; the binder knows a4, letter"):
        bound(plain("power", "Power"), paper="legal")
    with pytest.raises(BindError, match="taken already"):
        bound(plain("power", "Power"), plain("power", "Fuel"))
    with pytest.raises(BindError, match="taken already"):
        bound(plain("front", "Front"))


def test_control_characters_are_left_out():
    [text, _] = texts(bound(Tab("power", "Po\x00wer", "<p>A\x00B\x0bC</p>")), "power")
    assert "ABC" in text


def test_nothing_is_fetched_from_a_network(host: Host):
    for html in host.tempting:
        with pytest.raises(BindError, match="cannot find"):
            bound(Tab("power", "Power", html + "<p>Text</p>"))
    bound(Tab("power", "Power", f'<p>Text</p><script src="{host.url}.js"></script>'))
    bound(Tab("power", "Power", f'<p>Text</p><iframe src="{host.url}.html"></iframe>'))
    assert host.hits == []


def test_pictures_come_from_the_folders_named(tmp_path: Path):
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "my chart.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="50" height="50"><circle r="20" cx="25" cy="25"/></svg>'
    )
    tab = Tab("power", "Power", '<p>Seen</p><img src="my chart.svg" alt="">')
    binder = bound(tab, roots=[tmp_path / "a", tmp_path / "b"])
    page = list(pages_of(binder))[[s.label for s in binder.sheets].index("Power 1")]
    assert page.curves
    (tmp_path / "c").mkdir()
    (tmp_path / "c" / "my chart.svg").symlink_to(tmp_path / "b" / "my chart.svg")
    with pytest.raises(BindError, match="cannot find"):
        bound(tab, roots=[tmp_path / "c"])


def test_titles_with_awkward_characters_print_as_they_are():
    title = 'Tom\'s "best" <b>\\ & </style> ]]>'
    binder = bound(replace(plain("power", "Power"), title='Fuel & "gas"'), title=title)
    page = reader_of(binder).pages[[s.number for s in binder.sheets if s.tab == "front"][-1]]
    assert title in page.extract_text()
    assert 'Fuel & "gas" 1' in page.extract_text()


# ---- The list of printed sheets


def test_the_manifest_is_read_back_as_written(tmp_path: Path):
    manifest = bound(plain("power", "Power", 90)).manifest
    manifest.write(tmp_path / "printed.yaml")
    assert Manifest.read(tmp_path / "printed.yaml") == manifest
    text = (tmp_path / "printed.yaml").read_text()
    sheet = manifest.sheets[-1]
    assert (
        f"{{label: {sheet.label}, revised: 2026-05-12, fingerprint: {sheet.fingerprint}}}" in text
    )


@pytest.mark.parametrize("text", ["", "tabs: [", "tabs: 3", "- x", "title: T\ntabs: [{key: a}]"])
def test_a_broken_manifest_is_refused_by_name(tmp_path: Path, text: str):
    path = tmp_path / "printed.yaml"
    path.write_text(text)
    with pytest.raises(BindError, match=r"printed\.yaml: is not a list of printed sheets"):
        Manifest.read(path)


def test_a_missing_manifest_is_refused_by_name(tmp_path: Path):
    with pytest.raises(BindError, match=r"printed\.yaml: cannot be read"):
        Manifest.read(tmp_path / "printed.yaml")
