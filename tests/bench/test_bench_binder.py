"""How fast binders are bound. Ratios within one run; no wall-clock limits."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from steadbook.bind.binder import Binder, Tab, bind
from steadbook.bind.dress import document
from steadbook.bind.flow import prepare
from steadbook.bind.paper import Format, paper_named
from steadbook.bind.press import Press
from steadbook.bind.resources import FONTS
from steadbook.bind.tabs import binder_tabs
from steadbook.cli import main
from steadbook.making import made_manual

ROOT, DAY = Path(__file__).parents[2], date(2026, 11, 25)
WORDS = "Check the level on flat ground with the genset stopped for ten minutes, wipe the stick. "


def manual_tab(number: int, count: int) -> Tab:
    """A tab of about six sheets: steps, cautions, tables, a link to another tab."""
    key, other = f"tab{number}", f"tab{(number + 3) % count}"
    parts = [f'<h1 id="{key}">Tab {number}</h1><p>{WORDS * 2}</p>']
    for job in range(3):
        steps = "".join(f"<li>Step {n}. {WORDS}</li>" for n in range(7))
        rows = "".join(
            f"<tr><td>Bolt {n}</td><td>{20 + n} lbf·ft</td><td>{WORDS[:60]}</td></tr>"
            for n in range(16)
        )
        parts.append(
            f'<h2 id="{key}-{job}">Job {job}</h2><p>{WORDS} See <a href="#{other}-{job}">this</a>.'
            f'</p><div class="signal warning"><p>{WORDS}</p></div><ol>{steps}</ol><h3>Specs</h3>'
            f"<table><thead><tr><th>Part</th><th>Torque</th><th>Working</th></tr></thead>{rows}"
            "</table>"
        )
    return Tab(key, f"Tab {number}", "".join(parts))


def manual(count: int) -> list[Tab]:
    return [manual_tab(number, count) for number in range(count)]


def bound(tabs: list[Tab], **more: object) -> Binder:
    return bind(
        tabs,
        title="Larch Hollow",
        subtitle="Systems manual",
        paper="letter",
        as_of=date(2026, 5, 12),
        roots=[],
        **more,  # type: ignore[arg-type]
    )


WEASYPRINT = """
import json, sys, time
from weasyprint import HTML
pages = json.load(sys.stdin)
start = time.perf_counter()
sheets = 0
for page in pages:
    made = HTML(string=page).render()
    made.write_pdf()
    sheets += len(made.pages)
print(json.dumps([sheets, time.perf_counter() - start]))
"""


@pytest.fixture(scope="module")
def eighty() -> tuple[list[Tab], list[str], float]:
    """Tabs, their documents, and the seconds that another engine sets their eighty sheets in."""
    tabs = manual(16)
    form = Format(paper_named("letter"), landscape=False, duplex=True)
    flows = prepare(tabs)
    labels = {name: f"{flow.tab.title} 1" for flow in flows for name in flow.targets}
    pages = [document(flow.filled(labels), form) for flow in flows]
    elsewhere = [page.replace('url("fonts/', f'url("{FONTS.as_uri()}/') for page in pages]
    run = subprocess.run(
        [sys.executable, "-c", WEASYPRINT],
        input=json.dumps(elsewhere),
        capture_output=True,
        text=True,
        check=True,
    )
    sheets, theirs = json.loads(run.stdout.splitlines()[-1])
    assert sheets >= 80
    return tabs, pages, theirs


def test_setting_eighty_sheets_takes_a_tenth_of_another_engine(eighty, benchmark, ratios):
    _, pages, theirs = eighty
    press = Press([])
    benchmark.pedantic(lambda: [press.print("a tab", page) for page in pages], rounds=3)
    ratios.add("80 sheets set", benchmark.stats.stats.min, "weasyprint", theirs, bound=0.1)


def test_the_whole_binding_of_eighty_sheets(eighty, benchmark, ratios):
    """Cross references, fingerprints, checks, merging and all."""
    tabs, _, theirs = eighty
    what = "80 sheets bound: set, numbered, checked, linked"
    benchmark.pedantic(lambda: bound(tabs), rounds=2)
    ratios.add(what, benchmark.stats.stats.min, "weasyprint (setting alone)", theirs)
    ratios.memory(what, lambda: bound(tabs))


def test_time_grows_with_the_number_of_sheets(ratios):
    tabs = [manual(count) for count in (1, 10, 100)]
    sheets = [len(bound(some).sheets) for some in tabs]
    assert sheets[-1] >= 400
    growth = ratios.growth(
        "80 sheets bound: set, numbered, checked, linked",
        [lambda some=some: bound(some) for some in tabs],
        rounds=1,
    )
    assert growth[2] / growth[1] < 1.6 * sheets[2] / sheets[1]


def test_after_one_change_binding_is_five_times_faster(tmp_path, ratios):
    tabs = manual(80)
    first = bound(tabs, cache_dir=tmp_path)
    numbers = iter((5, 40, 70))

    def bound_again():
        changed, number = list(tabs), next(numbers)
        changed[number] = replace(tabs[number], html=tabs[number].html + "<p>One line more.</p>")
        return bound(changed, cache_dir=tmp_path, previous=first.manifest)

    ratios.by_turns(
        f"{len(first.sheets)} sheets after a change in one tab",
        bound_again,
        "all sheets bound",
        lambda: bound(tabs),
        bound=1 / 5,
    )


def test_the_demo_after_one_log_entry_is_bound_five_times_faster(tmp_path, ratios):
    home, kept = tmp_path / "home", tmp_path / "kept"
    shutil.copytree(ROOT / "site_data", home / "site_data")
    before = binder_tabs(made_manual(home, as_of=DAY).manual)
    entries = iter(("Ran in the storm", "Ran again", "Ran in the thaw"))
    first = bound(before, cache_dir=kept)
    states = []
    for text in entries:
        command = ["record", "event", "--machine", "main-genset", "--text", text, "--yes"]
        assert main([*command, "--home", str(home), "--as-of", str(DAY)]) == 0
        states.append(binder_tabs(made_manual(home, as_of=DAY).manual))
    left = iter(states)
    ratios.by_turns(
        f"the demo's {len(first.sheets)} sheets after one log entry",
        lambda: bound(next(left), cache_dir=kept, previous=first.manifest),
        "all sheets bound",
        lambda: bound(before),
        bound=1 / 5,
    )
