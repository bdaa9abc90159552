"""A real browser for the site: playwright with the Chromium of the system, no download of its own.

Where one of them is missing the tests are skipped, and the end of the run says how many and why.
STEADBOOK_BROWSER=required makes that a failure; CHROMIUM names another browser than the usual ones.
"""

from __future__ import annotations

import importlib.util
import os
import shutil
from datetime import date
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)
HERE = Path(__file__).parent


def browser_path() -> str | None:
    """The browser to drive."""
    named = os.environ.get("CHROMIUM")
    return named or shutil.which("chromium") or shutil.which("chromium-browser")


def missing() -> str:
    """Why the browser cannot be driven, or nothing."""
    for module in ("playwright", "axe_playwright_python"):
        if importlib.util.find_spec(module) is None:
            return f"{module} is not installed (pip install '.[browser]')"
    found = browser_path()
    if found is None or not Path(found).exists():
        return "no Chromium (apt-get install chromium, or CHROMIUM=/path/to/it)"
    return ""


WHY = missing()
REQUIRED = os.environ.get("STEADBOOK_BROWSER") == "required"


def pytest_collection_modifyitems(items):
    mine = [item for item in items if HERE in Path(item.path).parents]
    if WHY and mine and REQUIRED:
        raise pytest.UsageError(f"tests/browser cannot run: {WHY}")
    for item in mine if WHY else ():
        item.add_marker(pytest.mark.skip(reason=WHY))


def pytest_terminal_summary(terminalreporter):
    skipped = [one for one in terminalreporter.stats.get("skipped", []) if "browser" in one.nodeid]
    if skipped:
        terminalreporter.write_line(f"{len(skipped)} tests in a real browser skipped: {WHY}")


@pytest.fixture(scope="session")
def sites(tmp_path_factory):
    """The sites of owner and sitter, the sitter's as unpacked from the file that is sent."""
    import zipfile

    from steadbook.bind.results import build

    home = tmp_path_factory.mktemp("browser") / "home"
    shutil.copytree(ROOT / "site_data", home / "site_data")
    shutil.copy(ROOT / "mkdocs.yml", home)
    for edition in ("owner", "sitter"):
        build(home, as_of=DAY, edition=edition, with_binder=False)
    unpacked = tmp_path_factory.mktemp("usb stick")
    with zipfile.ZipFile(home / "build/sitter/site.zip") as archive:
        archive.extractall(unpacked)
    return {"owner": home / "build/site", "sitter": unpacked / "hollow-larch-dairy-sitter"}


@pytest.fixture(scope="session")
def chromium():
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=browser_path(), args=["--no-sandbox", "--disable-gpu"]
        )
        yield browser
        browser.close()


@pytest.fixture
def opened(chromium):
    """``opened(path, ...)``: a page in a fresh profile, as a phone, tablet or desk, light or dark.

    Whatever a page asks for outside its own folder is noted, and fails the test at its end.
    """
    contexts, outside = [], []

    def open_page(path, *, width=1280, height=900, scheme="light"):
        context = chromium.new_context(
            viewport={"width": width, "height": height}, color_scheme=scheme
        )
        contexts.append(context)
        page = context.new_page()
        page.on(
            "request",
            lambda one: (
                outside.append(one.url)
                if not one.url.startswith(("file:", "data:", "blob:"))
                else None
            ),
        )
        page.goto(Path(path).as_uri())
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert outside == []
