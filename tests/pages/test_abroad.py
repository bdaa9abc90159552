"""A home outside the United States is told which standards are not its own country's."""

import re
import shutil
from datetime import date
from pathlib import Path

import pytest

from steadbook.making import made_manual
from steadbook.pages.abroad import MARK, NOTE, told_abroad

ROOT = Path(__file__).parents[2]
STARTER = ROOT / "generator" / "steadbook" / "starter" / "site_data"
OF_THE_US = re.compile(r"\b(NFPA|UL \d+|OSHA|NIOSH|ACGIH|CPSC|\d+ CFR)\b")


def starter_pages(folder: Path, units: str) -> dict[str, str]:
    shutil.copytree(STARTER, folder / "site_data")
    path = folder / "site_data" / "homestead.yaml"
    path.write_text(re.sub(r"units: \w+", f"units: {units}", path.read_text("utf-8")), "utf-8")
    manual = made_manual(folder, as_of=date(2026, 11, 25)).manual
    return {page.path: page.markdown for page in manual.pages}


@pytest.fixture(scope="module")
def metric(tmp_path_factory) -> dict[str, str]:
    return starter_pages(tmp_path_factory.mktemp("metric"), "metric")


def test_each_place_of_a_metric_home_says_whose_standard_it_is(metric):
    named = {path: text for path, text in metric.items() if OF_THE_US.search(text)}
    assert "power/carbon-monoxide.md" in named
    for path, text in named.items():
        in_code = False
        for line in text.split("\n"):
            in_code ^= line.lstrip().startswith("```")
            if OF_THE_US.search(line) and not in_code and not line.startswith("    "):
                assert MARK in line or re.search(r"\bUS\b", line), f"{path}: {line}"
        assert (NOTE in text) == (MARK in text.replace(NOTE, ""))


def test_the_alarm_of_another_country_is_not_passed_off_as_ones_own(metric):
    text = metric["power/carbon-monoxide.md"]
    assert "UL 2034 (US)" in text and text.endswith(NOTE + "\n")


def test_a_home_of_the_united_states_is_not_told(tmp_path):
    pages = starter_pages(tmp_path, "us")
    assert OF_THE_US.search(pages["power/carbon-monoxide.md"])
    assert not any(MARK in text for text in pages.values())


def test_no_page_takes_every_home_to_lie_in_a_county(metric):
    assert not [path for path, text in metric.items() if re.search(r"\bcounty\b", text)]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("Source: NFPA 72 29.10: 10 years.", "Source: NFPA 72 29.10 (US): 10 years."),
        ("29 CFR 1910.1000 and NFPA 10", "29 CFR 1910.1000 (US) and NFPA 10"),
        ("US CPSC and CDC", "US CPSC and CDC"),
        ("```\nNFPA 10\n```", "```\nNFPA 10\n```"),
        ("EPANET and UL", "EPANET and UL"),
    ],
)
def test_the_mark_stands_behind_the_first_of_a_line(line, told):
    assert told_abroad(line).removesuffix(f"\n\n{NOTE}\n") == told
