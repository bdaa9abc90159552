"""Site and binder of the demo: whole, self-contained, and never at the cost of the last good one."""

import re
import shutil
from datetime import date
from pathlib import Path

import pypdfium2
import pytest
from pypdf import PdfReader

from steadbook.bind.results import build
from steadbook.errors import BindError, InventoryErrors

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def demo(tmp_path_factory, demo_copy):
    """The demo's results, built once for this module."""
    home = demo_copy(tmp_path_factory.mktemp("demo"))
    return home, build(home, as_of=DAY, strict=True)


def test_site_and_binder_are_there(demo):
    home, results = demo
    assert (home / "build/site/index.html").exists()
    assert PdfReader(home / "build/binder.pdf").get_num_pages() == results.sheets > 50
    assert not list((home / "build").glob(".new-*"))


def test_no_page_loads_anything_from_another_host(demo):
    home, _ = demo
    loads = re.compile(r"""<(?:script|link|img|iframe|source)\b[^>]*?(?:src|href)=["']?(\w+:)?//""")
    for page in (home / "build/site").rglob("*.html"):
        assert not loads.search(page.read_text("utf-8")), page
    for sheet in (home / "build/site").rglob("*.css"):
        assert not re.search(
            r"""(?:url\(|@import\s*)["']?(?:https?:)?//""", sheet.read_text("utf-8")
        ), sheet


def test_the_inventory_itself_is_not_in_the_site(demo):
    home, _ = demo
    assert not [path for path in (home / "build/site").rglob("*.yaml")]


def test_every_link_of_the_site_leads_somewhere(demo):
    home, _ = demo
    site = home / "build/site"
    for page in site.rglob("*.html"):
        if page.name == "404.html":
            continue
        for target in re.findall(r'href="([^"#?:]+)(?:#[^"]*)?"', page.read_text("utf-8")):
            assert (page.parent / target).exists(), f"{page}: {target}"


def test_the_wall_sheet_is_one_sheet(demo):
    home, _ = demo
    sheets = (home / "build/sheets.yaml").read_text()
    labels = re.findall(r"label: (Wall sheet \d+)", sheets)
    with pypdfium2.PdfDocument(home / "build/binder.pdf") as binder:
        texts = [page.get_textpage().get_text_bounded().replace("\u00a0", " ") for page in binder]
    printed = [
        text for text in texts if "Tick the box and write the date" in text and "Nov 2026" in text
    ]
    assert len(printed) == 1
    assert "Oct 2027" in printed[0]
    assert labels in (["Wall sheet 1"], ["Wall sheet 1", "Wall sheet 2"])  # the second is the back


def test_a_bad_entry_never_costs_the_last_good_manual(tmp_path, demo_copy):
    home = demo_copy(tmp_path / "home")
    build(home, as_of=DAY, with_binder=False)
    before = (home / "build/site/index.html").read_bytes()
    power = home / "site_data/power.yaml"
    power.write_text(power.read_text().replace("kind: genset", "kind: gensat", 1))
    with pytest.raises(InventoryErrors) as caught:
        build(home, as_of=DAY, with_binder=False)
    fixes = [problem.fix for problem in caught.value.problems]
    assert any(fix.startswith("did you mean 'genset'?") for fix in fixes)
    assert (home / "build/site/index.html").read_bytes() == before


def test_an_output_folder_that_is_no_folder_is_told(tmp_path):
    home = tmp_path / "home"
    shutil.copytree(ROOT / "generator/steadbook/starter", home)
    (home / "build").write_text("in the way")
    with pytest.raises(BindError, match="a folder that cannot be written"):
        build(home, as_of=DAY, with_binder=False)
    assert (home / "build").read_text() == "in the way"


def test_a_home_without_settings_is_told_what_to_do(tmp_path, demo_copy):
    (demo_copy(tmp_path) / "mkdocs.yml").unlink()
    with pytest.raises(BindError, match=r"fix: +copy mkdocs\.yml"):
        build(tmp_path, as_of=DAY, with_binder=False)


def test_two_builds_give_the_same_bytes(tmp_path):
    results = []
    for name in ("one", "two"):
        home = tmp_path / name
        shutil.copytree(ROOT / "generator/steadbook/starter", home)
        build(home, as_of=DAY)
        files = sorted(
            p for p in (home / "build").rglob("*") if p.is_file() and ".kept" not in p.parts
        )
        results.append({p.relative_to(home).as_posix(): p.read_bytes() for p in files})
    assert results[0].keys() == results[1].keys()
    different = [name for name in results[0] if results[0][name] != results[1][name]]
    assert different == []
