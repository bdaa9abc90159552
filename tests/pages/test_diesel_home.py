"""A home whose genset burns diesel and is cooled by air, and that has no gas, reads of no other."""

import re
import shutil
from datetime import date
from pathlib import Path

import pytest

from steadbook.making import made_manual

ROOT = Path(__file__).parents[2]
STARTER = ROOT / "generator" / "steadbook" / "starter" / "site_data"
AS_OF = date(2026, 11, 25)
GAS_PAGES = {"gas-leak", "out-of-gas", "propane-delivery", "tank-low-in-cold"}
OF_SPARK = re.compile(
    r"spark plug|plugs out|carburett?or|choke|flooded|propane|gas leak|a coil", re.I
)


def diesel(folder: Path, contents: str = "diesel") -> Path:
    """The starter home with another fuel, its genset cooled by air."""
    shutil.copytree(STARTER, folder / "site_data")
    for name in ("power.yaml", "fuel.yaml", "suppliers.yaml"):
        path = folder / "site_data" / name
        text = path.read_text("utf-8").replace("fuel: propane", "cooling: air, fuel: diesel")
        text = text.replace("contents: propane", f"contents: {contents}")
        if contents == "diesel":
            text = text.replace("Propane tank", "Diesel tank").replace(", fuel gas", "")
            text = text.replace("sells: propane", "sells: diesel")
            text = text.replace("    hazards: [fuel gas]\n", "")
        else:
            text = re.sub(r"    feeds: .*\n", "", text)
        path.write_text(text, "utf-8")
    return folder


def made(folder: Path, edition: str = "owner") -> dict[str, str]:
    manual = made_manual(folder, as_of=AS_OF, edition=edition).manual
    return {page.path: page.markdown for page in manual.pages}


@pytest.fixture(scope="module")
def pages(tmp_path_factory) -> dict[str, str]:
    return made(diesel(tmp_path_factory.mktemp("diesel")))


@pytest.fixture(scope="module")
def spark(tmp_path_factory) -> dict[str, str]:
    folder = tmp_path_factory.mktemp("spark")
    shutil.copytree(STARTER, folder / "site_data")
    return made(folder)


def test_pages_of_gas_and_of_sparks_are_left_out(pages, spark):
    names = {f"procedures/{one}.md" for one in (*GAS_PAGES, "spark-plugs")}
    names |= {"faults/low-gas-pressure.md", "faults/genset-hunts.md"}
    assert names <= set(spark)
    assert not names & set(pages)


@pytest.mark.parametrize(
    "what", ["cranks-but-will-not-start", "starts-and-stops", "hunts", "low-output"]
)
def test_a_diesel_has_its_own_faults(pages, spark, what):
    own = pages[f"faults/diesel-{what}.md"]
    assert not OF_SPARK.search(own)
    assert f"faults/diesel-{what}.md" not in spark
    for word in ("coolant at the mark", "coolant cold", "radiator", "water pump"):
        assert word not in own
    assert "Never loosen an injector pipe" in own


def test_what_stops_a_diesel_in_the_cold_is_asked(pages):
    told = pages["faults/diesel-cranks-but-will-not-start.md"]
    for word in ("cloud point", "water", "glow plug", "bubbles", "stop solenoid", "air filter"):
        assert word in told, word


def test_a_diesel_is_not_called_locked_for_its_compression(pages, spark):
    told, other = (one["faults/genset-will-not-crank.md"] for one in (pages, spark))
    assert "if only to and fro" in told and "fuel shut, stop lever at STOP" in told
    assert "plugs out" in other and "plugs out" not in told


def test_the_fuel_of_a_diesel_is_shut_before_its_crank_is_turned(pages, spark):
    for name in ("valve-lash", "genset-storage"):
        told = pages[f"procedures/{name}.md"]
        assert not OF_SPARK.search(told), name
        assert -1 < told.find("stop lever") < told.lower().find("turn the crank"), name
        assert "spark plug" in spark[f"procedures/{name}.md"]
    assert "the engine cannot fire" not in pages["procedures/valve-lash.md"]
    assert "thumb" not in pages["procedures/valve-lash.md"]


def test_no_word_of_gas_on_any_sheet_of_the_sitter(tmp_path):
    found = made(diesel(tmp_path), "sitter")
    for path, text in found.items():
        assert not re.search(r"smell of gas|no gas\b|gas tank|gas supplier|propane", text, re.I), (
            path
        )


def test_a_diesel_home_with_propane_in_a_tank_keeps_the_pages_of_gas(tmp_path):
    found = made(diesel(tmp_path, "propane"))
    assert {f"procedures/{one}.md" for one in GAS_PAGES} <= set(found)
    assert "procedures/spark-plugs.md" not in found
    assert "faults/diesel-hunts.md" in found


def test_the_smell_of_diesel_keeps_nobody_from_starting(pages, spark):
    """A shed of a diesel always smells of it; fuel on the floor is another matter."""
    start = "procedures/start-stop-by-hand.md"
    assert "Sniff near the floor" in spark[start]
    assert "Sniff" not in pages[start] and "you smell fuel" not in pages[start]
    assert "If fuel stands or drips there" in pages[start]


def test_the_fuels_of_the_home_lead_the_table_of_heats(pages):
    table = pages["fuel/stored-fuels.md"].split("## Heat of fuels")[1]
    rows = [line for line in table.split("\n") if line.startswith("| ")]
    assert rows[1].startswith("| Diesel |") and any(row.startswith("| Propane |") for row in rows)
