"""How fast binders are bound. Ratios within one run; no wall-clock limits.

Run alone for the figures: ``pytest -s tests/bench/test_bench_binder.py``.
"""

from __future__ import annotations

import importlib.util
import json
import subprocess
import sys
import time
from collections.abc import Callable
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


def seconds(work: Callable[[], object], times: int = 3) -> float:
    """The best of some runs: what the work takes when nothing else disturbs it."""
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


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


@pytest.mark.skipif(
    importlib.util.find_spec("weasyprint") is None,
    reason="the measure to compare with, weasyprint, is not installed (pip install weasyprint)",
)
def test_setting_eighty_sheets_takes_a_tenth_of_another_engine(capsys: pytest.CaptureFixture[str]):
    tabs = manual(16)
    form = Format(paper_named("letter"), landscape=False, duplex=True)
    flows = prepare(tabs)
    labels = {name: f"{flow.tab.title} 1" for flow in flows for name in flow.targets}
    pages = [document(flow.filled(labels), form) for flow in flows]
    press = Press([])
    ours = seconds(lambda: [press.print("a tab", page) for page in pages])
    elsewhere = [page.replace('url("fonts/', f'url("{FONTS.as_uri()}/') for page in pages]
    run = subprocess.run(
        [sys.executable, "-c", WEASYPRINT],
        input=json.dumps(elsewhere),
        capture_output=True,
        text=True,
        check=True,
    )
    sheets, theirs = json.loads(run.stdout.splitlines()[-1])
    whole = seconds(lambda: bound(tabs), times=2)
    with capsys.disabled():
        print(
            f"\n{sheets} sheets: setting takes {ours / theirs:.1%} of weasyprint's time; the whole "
            f"binding (cross references, fingerprints, checks, merging) {whole / theirs:.0%}"
        )
    assert sheets >= 80
    assert ours < 0.10 * theirs


def test_time_grows_with_the_number_of_sheets(capsys: pytest.CaptureFixture[str]):
    small, large = manual(13), manual(80)
    counts = [len(bound(tabs).sheets) for tabs in (small, large)]
    each = [
        seconds(lambda tabs=tabs: bound(tabs), times=1) / count
        for tabs, count in zip((small, large), counts, strict=True)
    ]
    with capsys.disabled():
        print(
            f"\n{counts[1]} sheets take {each[1] / each[0]:.2f} times as long a sheet as {counts[0]}"
        )
    assert counts[1] >= 480
    assert each[1] < 1.6 * each[0]


def test_after_one_change_binding_is_five_times_faster(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    tabs = manual(80)
    full = seconds(lambda: bound(tabs), times=1)
    first = bound(tabs, cache_dir=tmp_path)
    again = []
    for number in (5, 40, 70):
        changed = list(tabs)
        changed[number] = replace(tabs[number], html=tabs[number].html + "<p>One line more.</p>")
        again.append(
            seconds(
                lambda changed=changed: bound(changed, cache_dir=tmp_path, previous=first.manifest),
                times=1,
            )
        )
    with capsys.disabled():
        print(
            f"\n{len(first.sheets)} sheets, one tab changed: {full / min(again):.1f} times faster"
        )
    assert full > 5 * min(again)
