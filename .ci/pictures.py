"""The pictures of README, made anew from the demo: python .ci/pictures.py

Needs Chromium (CHROMIUM names another browser), and steadbook with its extra `browser`.
Look at them before they are committed.
"""

import io
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import pypdfium2
from PIL import Image
from playwright.sync_api import sync_playwright

ROOT = Path(__file__).parents[1]
FOLDER = ROOT / ".ci" / "pictures"
DAY = "2026-11-25"
PAGES = {
    "site-today": "index.html",
    "site-working": "workings/workings-fuel.html#w-north-tank--mark-day",
}
SPREADS = {"sheets-reserve": "Fuel reserve", "sheets-procedure": "Valve lash: Main genset"}
SCREEN = (1280, 800)
SHEET_DOTS = 62  # an inch
MOST = 100_000  # bytes each


def photographed(site, page):
    """A page of the site as a browser shows it."""
    named = (
        os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")
    )
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=named, args=["--no-sandbox"])
        window = browser.new_page(viewport={"width": SCREEN[0], "height": SCREEN[1]})
        window.goto((site / "index.html").as_uri().removesuffix("index.html") + page)
        window.wait_for_load_state("networkidle")
        if "#" in page:
            window.locator("#" + page.split("#")[1]).evaluate("place => place.scrollIntoView()")
            window.wait_for_timeout(500)
        shot = window.screenshot()
        browser.close()
    return Image.open(io.BytesIO(shot)).convert("RGB")


def spread(binder, title):
    """Two facing pages of the binder: the first of a title and the next."""
    first = next(
        entry.get_dest().get_index() for entry in binder.get_toc() if entry.get_title() == title
    )
    faces = [binder[page].render(scale=SHEET_DOTS / 72).to_pil() for page in (first, first + 1)]
    edge = 3
    width, height = faces[0].size
    both = Image.new("RGB", (2 * width + 3 * edge, height + 2 * edge), (150, 150, 150))
    for side, face in enumerate(faces):
        both.paste(face, (edge + side * (width + edge), edge))
    return both


def keep(picture, name, colours):
    path = FOLDER / f"{name}.png"
    picture.quantize(colours, dither=Image.Dither.NONE).save(path, optimize=True)
    size = path.stat().st_size
    print(f"{path.relative_to(ROOT)}: {picture.width} x {picture.height}, {size:,} bytes")
    return size <= MOST


def main():
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as place:
        home = Path(place)
        shutil.copytree(ROOT / "site_data", home / "site_data")
        shutil.copy(ROOT / "mkdocs.yml", home)
        # a process of its own: making a binder leaves its fonts alone for what follows
        build = [sys.executable, "-m", "steadbook.cli", "build", "--home", str(home)]
        subprocess.run([*build, "--as-of", DAY], check=True, capture_output=True)
        small = [
            keep(photographed(home / "build" / "site", page), name, 32)
            for name, page in PAGES.items()
        ]
        with pypdfium2.PdfDocument(home / "build" / "binder.pdf") as binder:
            small += [keep(spread(binder, title), name, 16) for name, title in SPREADS.items()]
    return 0 if all(small) else "a picture is larger than it may be"


if __name__ == "__main__":
    sys.exit(main())
