"""Either engine sets the same binder: the same sheets, links and words, and nothing from outside."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from pypdf import PdfReader
from tests.bind.conftest import Host

from steadbook.bind import by_plutoprint, by_weasyprint
from steadbook.bind.binder import Binder, Tab, bind
from steadbook.bind.engines import PLUTOPRINT, WEASYPRINT, Engine, engine_named
from steadbook.bind.results import build
from steadbook.errors import BindError
from steadbook.starting import start_home

DAY = date(2024, 9, 15)
WORDS = "Check the level on flat ground with the genset stopped for ten minutes. "


@pytest.fixture(scope="module")
def weasyprint() -> Engine:
    try:
        by_weasyprint.engine()
    except ImportError:
        pytest.skip("weasyprint is not installed: pip install 'steadbook[weasyprint]'")
    except OSError as error:  # the package is there, the system's own libraries are not
        pytest.skip(f"weasyprint finds no Pango here: {error}")
    return engine_named(WEASYPRINT)


def tabs() -> list[Tab]:
    rows = "".join(f"<tr><td>Task {n}</td><td>{50 * n} h</td></tr>" for n in range(40))
    steps = "".join(f'<li><span class="tick"></span>Step {n}. {WORDS * 2}</li>' for n in range(30))
    power = (
        f'<h1 id="power">Power</h1><div class="signal danger"><p>{WORDS}</p></div>'
        f'<p>First <a href="#fuel">see the tank</a>.</p><ol>{steps}</ol>'
        f'<h2 id="power-list">List</h2><table><tr><th style="width:60%">Task</th><th '
        f'style="width:40%">Every</th></tr>{rows}</table>'
    )
    drawing = '<svg width="90" height="40"><rect width="80" height="30" stroke="black"/></svg>'
    fuel = f'<h1 id="fuel">Fuel</h1><figure>{drawing}</figure><p>Dip it. Größe, 5 Ω, ½ µm.</p>'
    return [Tab("power", "Power", power), Tab("fuel", "Fuel", fuel, landscape=True)]


def bound(engine: Engine, *some: Tab, **more: object) -> Binder:
    return bind(
        some or tabs(),
        title="Larch Hollow",
        subtitle="Systems manual",
        paper="a4",
        as_of=DAY,
        roots=[],
        engine=engine,
        **more,  # type: ignore[arg-type]
    )


@pytest.fixture(scope="module")
def both(weasyprint: Engine) -> Iterator[list[Binder]]:
    yield [bound(engine_named(PLUTOPRINT)), bound(weasyprint)]


def test_both_break_into_the_same_sheets(both: list[Binder]):
    first, second = both
    assert [s.label for s in first.sheets] == [s.label for s in second.sheets]
    assert second.manifest.breaks_unlike(first.manifest) == []
    assert second.manifest.engine.startswith("weasyprint ")
    for binder in both:
        reader = PdfReader(io.BytesIO(binder.pdf))
        assert reader.page_labels == [sheet.label for sheet in binder.sheets]
        for page, sheet in zip(reader.pages, binder.sheets, strict=True):
            text = page.extract_text()
            assert sheet.label in text and sheet.fingerprint in text


def test_both_print_the_same_words_and_lead_to_the_same_sheet(both: list[Binder]):
    words, leads = [], []
    for binder in both:
        reader = PdfReader(io.BytesIO(binder.pdf))
        text = " ".join(page.extract_text() for page in reader.pages)
        for sheet in binder.sheets:  # each engine has its own
            text = text.replace(sheet.fingerprint, " ")
        words.append(set(re.findall(r"\d+|[^\W\d]+", text)))
        place = [sheet.label for sheet in binder.sheets].index("Power 1")
        [link] = reader.pages[place]["/Annots"]
        leads.append(binder.sheets[reader.get_page_number(link.get_object()["/Dest"][0])].label)
    assert words[0] == words[1]
    assert leads == ["Fuel 1", "Fuel 1"]


@pytest.mark.parametrize("name", [PLUTOPRINT, WEASYPRINT])
def test_no_letters_of_heads_and_feet_are_joined(name: str, weasyprint: Engine):
    binder = bound(engine_named(name), Tab("stuff", "Stuff", "<h1>Stuff</h1>"))
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(binder.pdf)).pages)
    assert "Stuff 1" in text and "\N{LATIN SMALL LIGATURE FF}" not in text


def test_weasyprint_gives_the_same_bytes_again(both: list[Binder], weasyprint: Engine):
    assert bound(weasyprint).pdf == both[1].pdf


def test_weasyprint_leaves_tags_for_screen_readers(both: list[Binder]):
    root = PdfReader(io.BytesIO(both[1].pdf)).root_object
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    kinds: set[str] = set()
    pages: set[int] = set()

    def look(element: object) -> None:
        element = element.get_object() if hasattr(element, "get_object") else element
        if isinstance(element, list):
            for child in element:
                look(child)
        elif isinstance(element, dict):
            if "/S" in element:
                kinds.add(element["/S"])
            if "/Pg" in element:
                pages.add(element.raw_get("/Pg").idnum)
            if "/K" in element:
                look(element["/K"])

    look(root["/StructTreeRoot"])
    assert {"/H1", "/H2", "/Table", "/TR", "/TH", "/TD", "/L", "/LI", "/Link"} <= kinds
    reader = PdfReader(io.BytesIO(both[1].pdf))
    numbers = {page.indirect_reference.idnum for page in reader.pages if page.indirect_reference}
    assert pages <= numbers and len(pages) > len(numbers) / 2  # tags lead to sheets of the binder
    tree = root["/StructTreeRoot"]["/ParentTree"]["/Nums"]
    keys = [page["/StructParents"] for page in reader.pages]
    assert len(set(keys)) == len(keys) and set(keys) <= set(tree[::2])


@pytest.mark.parametrize(
    ("html", "says"),
    [
        ('<img src="gone.svg">', r"tab 'Power': cannot find 'gone.svg'"),
        ('<img src="file:///etc/hostname">', r"cannot find"),
        ('<p style="background:url(gone.png)">x</p>', r"cannot find 'gone.png'"),
        ("<style>@page{size:0 0}</style><p>x</p>", r"tab 'Power'"),
        ('<p>Text</p><p style="display:none">Vanishing</p>', r"'Vanishing' is lost"),
        ('<div style="width:400mm;border:1pt solid">Wide</div>', r"runs into its right edge"),
        ('<p id="ghost" style="display:none"></p><a href="#ghost">x</a>', r"'ghost' is linked to"),
    ],
)
def test_weasyprint_is_held_to_the_same_rules(weasyprint: Engine, html: str, says: str):
    with pytest.raises(BindError, match=says):
        bound(weasyprint, Tab("power", "Power", html), with_front=False)


def test_weasyprint_fetches_nothing_from_a_network(weasyprint: Engine, host: Host):
    for html in host.tempting:
        with pytest.raises(BindError, match="cannot find"):
            bound(weasyprint, Tab("power", "Power", html + "<p>Text</p>"), with_front=False)
    assert host.hits == []


def test_the_build_says_where_the_other_engine_breaks_elsewhere(weasyprint: Engine, tmp_path: Path):
    home = tmp_path / "home"
    start_home(home)
    said: list[str] = []
    settings = {"as_of": DAY, "edition": "sitter", "with_site": False, "say": said.append}
    first = build(home, **settings)  # type: ignore[arg-type]
    second = build(home, **settings, engine=WEASYPRINT)  # type: ignore[arg-type]
    assert second.warnings == ()
    [line] = [text for text in said if "set by" in text]
    head = f"  {second.sheets} sheets, set by weasyprint where the last build was set by plutoprint"
    if second.sheets == first.sheets:
        assert line == head + "; each tab has as many sheets as then"
    else:
        assert line.startswith(head + ":\n") and line.endswith("before")
    assert second.sheets == pytest.approx(first.sheets, abs=2)  # no tab is a leaf longer but one


# ---- Which engine it is


@pytest.fixture
def without(monkeypatch: pytest.MonkeyPatch):
    engine_named.cache_clear()

    def lose(room: object, error: Exception) -> None:
        def gone() -> None:
            raise error

        monkeypatch.setattr(room, "engine", gone)

    yield lose
    engine_named.cache_clear()


def test_it_is_plutoprint_unless_another_is_asked_for():
    assert engine_named(None).name == PLUTOPRINT and engine_named(None).doubt == ""


def test_without_plutoprint_it_is_weasyprint_and_that_is_told(weasyprint: Engine, without):
    without(by_plutoprint, ImportError("No module named 'plutoprint'"))
    engine = engine_named(None)
    assert engine.name == WEASYPRINT
    binder = bound(engine, Tab("fuel", "Fuel", "<h1>Fuel</h1><p>Dip it.</p>"), with_front=False)
    assert binder.warnings == [engine.doubt]
    assert "plutoprint cannot be loaded (No module named 'plutoprint')" in engine.doubt
    with pytest.raises(
        BindError, match=r"--engine plutoprint\n.*cannot be loaded.*\n.*\n.*pip ins"
    ):
        engine_named(PLUTOPRINT)


def test_without_any_the_error_says_what_to_install(without):
    without(by_plutoprint, ImportError("No module named 'plutoprint'"))
    without(by_weasyprint, OSError("cannot load library 'libpango-1.0-0'"))
    with pytest.raises(BindError, match=r"pip install plutoprint; or .*steadbook\[weasyprint\]"):
        engine_named(None)
    with pytest.raises(BindError, match=r"libpango-1\.0-0'\)\n.*\n.*fix: .*Debian.*apt install"):
        engine_named(WEASYPRINT)


def test_an_engine_that_cannot_be_loaded_stops_a_build_before_it_begins(without, tmp_path: Path):
    without(by_weasyprint, ImportError("No module named 'weasyprint'"))
    said: list[str] = []
    with pytest.raises(BindError, match=r"pip install 'steadbook\[weasyprint\]'"):
        build(tmp_path, as_of=DAY, engine=WEASYPRINT, say=said.append)
    assert said == []
