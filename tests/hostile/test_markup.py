"""Markup in the inventory is text everywhere: site, search, binder, calendar, tables, file names."""

import csv
import io
import json
import re
from datetime import date

import pytest
from icalendar import Calendar
from lxml import html as lxml_html
from pypdf import PdfReader

from steadbook.bind.glyphs import BOX
from steadbook.bind.results import build, make_forms

DAY = date(2026, 11, 25)
WICKED = (
    "<script>alert(1)</script> a|b `c` {{ 7*7 }} {% raw %} ../../etc [l](javascript:alert(2)) "
    "<img src=x onerror=alert(3)> **d** &lt; \N{FIRE} \\u202eshut\\u202c \u6f22 http://x.example/"
)
PLAIN = (  # what a reader sees of it
    "<script>alert(1)</script> a|b `c` {{ 7*7 }} {% raw %} ../../etc [l](javascript:alert(2)) "
    "<img src=x onerror=alert(3)> **d** &lt; \N{FIRE} shut \u6f22 http://x.example/"
)
LONG = "Donaudampfschiff" * 12
INJECTED = "\\nEND:VEVENT\\nBEGIN:VEVENT\\nSUMMARY:injected\\n\\n# Heading\\n\\n<!-- x\\n\\n- item"


def wicked(word: str, before: str = "") -> str:
    """A YAML text that a marker leads, so that it can be found again."""
    return f'"{before}{word} {WICKED}"'


def files() -> dict[str, str]:
    """A home in which every text of a reader's is markup."""
    return {
        "homestead.yaml": f"""\
name: {wicked("Mplace")}
where: {wicked("Mwhere")}
directions: "Mdirections {WICKED}{INJECTED}"
latitude: 45
longitude: -110
elevation: 900 m
people:
  neighbour: {{name: {wicked("Mperson")}, role: {wicked("Mrole")}, phone: {wicked("555-0100")}, hours: {wicked("Mhours")}}}
call_first: [neighbour]
emergency: {wicked("Memergency")}
never_touch: [{wicked("Mnever")}, "{LONG}"]
grab_list: [{wicked("Mgrab")}]
walk: [{wicked("Mwalk")}]
notes: {wicked("Mnotes-of-place")}
private: {{code: {wicked("Mcode")}, notes: {wicked("Mprivate")}}}
""",
        "suppliers.yaml": f"""\
suppliers:
  shop:
    name: {wicked("Msupplier")}
    sells: {wicked("Msells")}
    phone: {wicked("555-0101")}
    address: {wicked("Maddress")}
    lead_time: 2 weeks
    notes: {wicked("Msupplier-notes")}
""",
        "parts.yaml": f"""\
parts:
  oil:
    name: {wicked("Mpart", "=1+1 ")}
    number: {wicked("Mnumber", "@")}
    supplier: shop
    on_hand: 1 qt
    counted: 2026-01-01
    kept: {wicked("Mkept", "-2 ")}
    notes: {wicked("Mpart-notes", "+3 ")}
""",
        "power.yaml": f"""\
title: {wicked("Msystem")}
summary: {wicked("Msummary")}
equipment:
  genset:
    kind: genset
    name: {wicked("Mmachine")}
    place: {wicked("Mspot")}
    make: {wicked("Mmake")}
    model: "{LONG}"
    installed: 2025-01-01
    how_to_stop: "Mstop {WICKED}{INJECTED}"
    notes: "Mmachine-notes {WICKED}{INJECTED}"
    meter: {{installed_at: 0 h}}
    plate: {{voltage: {wicked("Mvoltage")}, fuel: propane}}
    specs:
      {wicked("Mspec")}: {{value: {wicked("Mvalue")}, notes: {wicked("Mspec-notes")}}}
      drain plug: {{torque: 26 lbf*ft, thread: {wicked("Mthread")}}}
    tasks:
      change:
        title: {wicked("Mtask")}
        every: 6 months
        parts: {{oil: 2 qt}}
        tools: [{wicked("Mtool")}]
        specs: [drain plug]
        notes: "Mtask-notes {WICKED}{INJECTED}"
""",
        "log/2026.yaml": f"""\
services:
  - {{date: 2026-03-01, machine: genset, tasks: [change], hours: 9 h, by: {wicked("Mby")}, notes: "=Mservice-notes {WICKED}{INJECTED}"}}
events:
  - {{date: 2026-03-02, machine: genset, text: {wicked("Mevent", "=cmd()+")}}}
""",
    }


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """The results of the home of markup."""
    import shutil

    from tests.hostile.cases import ROOT

    home = tmp_path_factory.mktemp("markup")
    for name, text in files().items():
        path = home / "site_data" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    shutil.copy(ROOT / "mkdocs.yml", home)
    return home, build(home, as_of=DAY)


def squeezed(text: str) -> str:
    """Without spaces, as lines and cells break them anywhere."""
    return re.sub(r"\s+", "", text.replace("\N{NO-BREAK SPACE}", " "))


def markers() -> set[str]:
    return set(re.findall(r"\bM[a-z-]+", "".join(files().values())))


def test_the_site_shows_it_as_text(made):
    home, _ = made
    shown = set()
    for path in (home / "build/site").rglob("*.html"):
        page = lxml_html.fromstring(path.read_text("utf-8"))
        for element in page.iter("script", "a"):
            assert "alert(" not in (element.text or "") or element.tag == "a", path
            assert not (element.get("href") or "").lower().startswith("javascript:"), path
        assert not page.xpath("//@onerror"), path
        assert not page.xpath("//img[@src='x']"), path
        assert not [h for h in page.iter("h1", "h2") if h.text_content().strip() == "Heading"]
        text = squeezed(page.text_content())
        assert "\u202e" not in text
        for marker in markers():
            if f"{marker}<script>" in text:
                assert f"{marker}{squeezed(PLAIN)}" in text, (path, marker)
                shown.add(marker)
    assert len(shown) >= 25, sorted(markers() - shown)


def test_the_search_has_it_as_text(made):
    home, _ = made
    index = json.loads((home / "build/site/search/search_index.json").read_text("utf-8"))
    assert any("Mmachine" in one["title"] + one["text"] for one in index["docs"])
    for one in index["docs"]:
        assert not re.search(r"<(script|img|iframe)|javascript:[^a]", one["title"] + one["text"])


def test_the_binder_prints_it_as_text(made):
    home, results = made
    pdf = PdfReader(home / "build/binder.pdf")
    text = squeezed("".join(page.extract_text() for page in pdf.pages)).replace("-", "")
    for marker in (
        "Mmachine",
        "Mtask",
        "Mperson",
        "Msupplier",
        "Mpart",
        "Mvalue",
        "Mevent",
        "Mstop",
    ):
        assert f"{marker}<script>alert(1)</script>" in text, marker
    assert BOX in text and "\N{FIRE}" not in text
    assert "{{7*7}}" in text
    assert squeezed(LONG) in text
    told = "\n".join(results.warnings)
    assert "the character '\N{FIRE}' (FIRE, U+1F525)" in told
    assert re.search(
        r"^site_data/power\.yaml:\d+: equipment\.genset\.name  \(warning\)$", told, re.M
    )
    assert {"/URI", "/JavaScript", "/Launch"}.isdisjoint(_actions(pdf))


def _actions(pdf: PdfReader) -> set[str]:
    found = set()
    for page in pdf.pages:
        for note in page.get("/Annots") or ():
            action = note.get_object().get("/A")
            if action is not None:
                found.add(str(action.get_object().get("/S")))
    return found


def test_the_calendar_holds_it_in_its_own_place(made):
    home, _ = made
    calendar = Calendar.from_ical((home / "build/calendar.ics").read_bytes())
    summaries = [str(event["summary"]) for event in calendar.walk("VEVENT")]
    assert "injected" not in summaries
    [first, *_] = [one for one in summaries if "Mtask" in one]
    assert "Mmachine <script>alert(1)</script> a|b" in first
    assert not [
        line for line in (home / "build/calendar.ics").read_bytes().split(b"\r\n") if b"\n" in line
    ]


def test_the_tables_hold_no_formula(made):
    home, _ = made
    cells = 0
    for path in (home / "build/tables").glob("*.csv"):
        for row in csv.reader(io.StringIO(path.read_text("utf-8"), newline="")):
            for cell in row:
                cells += "Mpart" in cell or "Mevent" in cell
                if not re.fullmatch(r"-?[\d.]+", cell):
                    assert not cell.startswith(("=", "+", "-", "@", "\t", "\r")), cell
    assert cells >= 2


def test_file_names_are_plain(made):
    home, _ = made
    names = [path.relative_to(home).as_posix() for path in (home / "build").rglob("*")]
    strange = [name for name in names if not re.fullmatch(r"[A-Za-z0-9._/@-]+", name)]
    assert not strange


def test_forms_and_cards_print_too(made):
    home, _ = made
    path, sheets = make_forms(home, as_of=DAY)
    assert path.exists() and sheets > 4
