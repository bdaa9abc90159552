"""The site against plain MkDocs: `steadbook build --no-binder` may take at most 1.5 times as long as
`mkdocs build` of the same finished Markdown. Whole processes, the best of several, in one run."""

import os
import shutil
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import yaml

from steadbook.making import made_manual

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)
ROUNDS = 4


def best(command: list[str], folder: Path) -> float:
    """Seconds of the quickest of several runs."""
    quiet = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    times = []
    for _ in range(ROUNDS):
        began = time.perf_counter()
        subprocess.run(command, cwd=folder, env=quiet, check=True, capture_output=True)
        times.append(time.perf_counter() - began)
    return min(times)


def test_site_against_plain_mkdocs(tmp_path, capsys):
    home = tmp_path / "home"
    home.mkdir()
    shutil.copytree(ROOT / "site_data", home / "site_data")
    shutil.copy(ROOT / "mkdocs.yml", home)
    plain = tmp_path / "plain"
    manual = made_manual(home, as_of=DAY).manual
    for page in manual.pages:
        path = plain / "docs" / page.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(page.markdown, "utf-8")
    for name, svg in manual.drawings.items():
        path = plain / "docs" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(svg, "utf-8")
    (plain / "mkdocs.yml").write_text(
        yaml.safe_dump(
            {
                "site_name": "Plain",
                "theme": {"name": "material", "font": False},
                "use_directory_urls": False,
                "plugins": ["search", "offline"],
                "markdown_extensions": ["tables", "attr_list", "md_in_html", "def_list", "toc"],
                "extra": {"polyfills": ["iframe-worker"], "generator": False},
            }
        )
    )
    bin_folder = Path(sys.executable).parent
    floor = best([str(bin_folder / "mkdocs"), "build", "-q"], plain)
    ours = best(
        [str(bin_folder / "steadbook"), "build", "--no-binder", "--as-of", DAY.isoformat()], home
    )
    ratio = ours / floor
    with capsys.disabled():
        print(
            f"\nsite of {len(manual.pages)} pages: {ratio:.2f} times plain mkdocs ({floor:.2f} s)"
        )
    assert ratio < 1.5
