"""The sitter's and the technician's manual: what they hold, and what they never do."""

from __future__ import annotations

import gzip
import re
import shutil
import zipfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import yaml
from pydantic import BaseModel
from pypdf import PdfReader
from pypdf.generic import StreamObject

from steadbook.bind.results import build
from steadbook.inventory import read_inventory
from steadbook.inventory.year import WrittenYear
from steadbook.making import made_manual
from steadbook.pages import Manual
from steadbook.starting import start_home

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)
MARK = "qzx7k"  # stands in no page, no style, no script


@pytest.fixture(scope="module")
def demo(tmp_path_factory, demo_copy):
    """The demo, with what a first build keeps for the next."""
    return demo_copy(tmp_path_factory.mktemp("demo"))


@pytest.fixture
def home(demo, tmp_path):
    return Path(shutil.copytree(demo, tmp_path / "home"))


def pages(home: Path, edition: Any, day: date = DAY, machine: str | None = None) -> dict[str, str]:
    manual: Manual = made_manual(home, as_of=day, edition=edition, machine=machine).manual
    return {page.path: page.markdown for page in manual.pages}


# --- nothing private leaves ------------------------------------------------------------------


def owned(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Where in a file each object is that may have a private part."""
    if isinstance(value, BaseModel):
        if "private" in type(value).model_fields:
            yield path
        for key in type(value).model_fields:
            if key != "private":
                yield from owned(getattr(value, key), (*path, key))
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from owned(inner, (*path, getattr(key, "text", key)))
    elif isinstance(value, (list, tuple)):
        for number, inner in enumerate(value):
            yield from owned(inner, (*path, number))


def secrets(number: int) -> dict[str, Any]:
    """A private part whose every text, and every free key, bears the mark."""
    return {
        "price": f"7395{number:05d} USD",
        "replacement": f"7396{number:05d} USD",
        "account": f"{MARK}a{number}",
        "code": f"{MARK}c{number}",
        "serial": f"{MARK}s{number}",
        "notes": f"{MARK}n{number}\n\nand {MARK}m{number}",
        f"{MARK}key{number}": f"{MARK}f{number}",
        "tag": f"{MARK}t{number}",
        "visible": {
            "code": {"to": "sitter", "first_day": "2026-11-01", "last_day": "2026-11-24"},
            "serial": {"to": "technician", "first_day": "2026-11-26", "last_day": "2026-12-24"},
        },
    }


@pytest.fixture(scope="module")
def full_of_secrets(demo, tmp_path_factory):
    """The demo with a private part in every object that can have one."""
    made = Path(shutil.copytree(demo, tmp_path_factory.mktemp("secrets") / "home"))
    inventory = read_inventory(made / "site_data", as_of=DAY)
    count = 0
    for name, read in inventory.files.made.items():
        path = made / name
        model = read.model if isinstance(read, WrittenYear) else read
        tree = yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader)
        for inside in owned(model):
            entry = tree
            for step in inside:
                entry = entry[step]
            entry["private"] = secrets(count)
            count += 1
        path.write_text(yaml.safe_dump(tree, sort_keys=False, allow_unicode=True), "utf-8")
    assert count > 700
    return made


def leaks(text: bytes | str) -> list[str]:
    """Marks and private prices in a text, also where blanks or commas part them."""
    if isinstance(text, bytes):
        text = text.replace(b"\0", b"").decode("latin-1")
    bare = re.sub(r"[\s,\u00a0\u00ad\u200b-]", "", text).lower()
    return re.findall(rf"{MARK}\w{{0,9}}|(?<!\d)739[56]\d{{5}}(?!\d)", bare)


def told(path: Path) -> Iterator[bytes | str]:
    """All that a file says: its name, its bytes, what is packed into it, the words of its sheets."""
    yield path.name
    data = path.read_bytes()
    yield data
    if path.suffix == ".gz":
        yield gzip.decompress(data)
    if path.suffix == ".zip":
        with zipfile.ZipFile(path) as archive:
            for name in archive.namelist():
                yield name
                yield archive.read(name)
    if path.suffix == ".pdf":
        reader = PdfReader(path)
        yield repr(reader.metadata) + repr(reader.outline)
        numbers = {number for table in reader.xref.values() for number in table}
        for number in numbers | set(reader.xref_objStm):
            found = reader.get_object(number)
            if isinstance(found, StreamObject):
                yield found.get_data()
        document = pypdfium2.PdfDocument(data)
        for sheet in document:
            yield sheet.get_textpage().get_text_bounded()


@pytest.mark.parametrize("edition", ["sitter", "technician"])
def test_no_byte_of_another_edition_holds_anything_private(full_of_secrets, edition):
    build(full_of_secrets, as_of=DAY, edition=edition)
    files = [p for p in (full_of_secrets / "build" / edition).rglob("*") if p.is_file()]
    kinds = {path.suffix for path in files}
    assert kinds >= {".html", ".json", ".js", ".css", ".svg", ".zip", ".pdf", ".yaml"}
    for path in files:
        for text in told(path):
            assert not leaks(text), f"{path}: {leaks(text)[:5]}"


def test_the_search_for_leaks_finds_what_the_owner_sees(full_of_secrets):
    owner = pages(full_of_secrets, "owner")
    assert any(leaks(text) for text in owner.values())
    assert leaks(b"x qzx7kc12.") == ["qzx7kc12"]
    assert leaks("paid 739,512,345 USD") and leaks("73 9512345")
    assert not leaks("17395123456") and not leaks("739512")


def test_a_code_is_shown_to_the_sitter_on_its_days_alone(home):
    for day, shown in ((30, False), (1, True), (14, True), (15, False)):
        when = date(2026, 11 if day == 30 else 12, day)
        first = pages(home, "sitter", when)["index.md"]
        assert ("4471 at the pipe gate" in first) == shown, when
        assert ("14\u00a0Dec\u00a02026" in first) == shown
    everywhere = "".join(pages(home, "technician", date(2026, 12, 7)).values())
    assert "4471" not in everywhere


# --- the sitter ------------------------------------------------------------------------------


def test_the_sitter_gets_what_a_sitter_needs(home):
    found = pages(home, "sitter")
    assert set(found) == {
        "index.md", "fire.md", "round.md", "map.md", "calls.md",
        "faults/inverter-alarm.md", "faults/no-heat.md", "faults/no-water.md",
        "procedures/clear-snow.md", "procedures/co-alarm.md", "procedures/first-ten-minutes.md",
        "procedures/gas-leak.md", "procedures/inverter-restart.md", "procedures/out-of-gas.md",
        "procedures/start-stop-by-hand.md", "procedures/wood-stove.md",
    }  # fmt: skip
    first = found["index.md"]
    for words in ("lights went out", "very cold", "alarm", "Smell of gas", "No water"):
        assert words in first
    assert first.startswith("# Start here\n\n**People first.**")


def test_every_page_of_the_sitter_hangs_on_the_first(home):
    found = pages(home, "sitter")
    first = set(re.findall(r"\]\(([\w/-]+\.md)", found["index.md"]))
    assert first == set(found) - {"index.md"} - {"procedures/inverter-restart.md"}
    assert "procedures/inverter-restart.md" in found["faults/inverter-alarm.md"]


def test_the_sitters_sheets_are_ten_leaves(home):
    results = build(home, as_of=DAY, edition="sitter", with_site=False)
    labels = re.findall(r"label: ([\w ]+?) \d+", (home / "build/sitter/sheets.yaml").read_text())
    assert sum(label != "Front" for label in labels) <= 20, results.sheets
    reader = PdfReader(home / "build/sitter/binder.pdf")
    starts = [page for page in reader.pages if "Start here" in page.extract_text()]
    assert any("Anything else" in page.extract_text() for page in starts)  # whole on one side


def test_what_is_normal_comes_from_the_inventory(home):
    page = pages(home, "sitter")["round.md"]
    rows = {row.split("**")[1]: row for row in page.splitlines() if row.startswith("| **")}
    # run rule of the demo: start below 60 %, quiet hours broken below 48 %, floor of the bank 30 %
    bank = rows["Battery bank at dawn"]
    assert "60 %" in bank and "48 %" in bank and "30 %" in bank
    assert "30 psi" in rows["Pressure tank, gauge"].replace("\u00a0", " ")
    assert "50 psi" in rows["Pressure tank, gauge"].replace("\u00a0", " ")
    tank = rows["North tank, gauge"]
    assert "40 % to 80 %" in tank and "below 20 %" in tank
    assert "35\u201350" in rows["Main genset"]
    assert "Spare genset" not in page


SMALL = {
    "water.yaml": "title: Water\nequipment:\n  well: {kind: well pump, name: Well pump}\n",
    "heat.yaml": "title: Heat\nequipment:\n  stove: {kind: stove, name: Wood stove}\n",
}


def test_the_sitter_calls_ten_points_before_the_floor(tmp_path):
    start_home(tmp_path / "place", DAY)
    power = tmp_path / "place/site_data/power.yaml"
    assert power.read_text().count("capacity: 400 Ah") == 1
    power.write_text(
        power.read_text().replace("capacity: 400 Ah", "capacity: 400 Ah, floor: 30.4 %")
    )
    page = pages(tmp_path / "place", "sitter")["round.md"].replace("\u00a0", " ")
    assert "it is below 40 %" in page  # 30.4 + 10, in whole percent


def test_a_small_home_s_round_has_bank_and_water_and_no_thermometer_it_lacks(tmp_path):
    start_home(tmp_path / "place", DAY)
    for name, text in SMALL.items():
        (tmp_path / "place/site_data" / name).write_text(text)
    page = pages(tmp_path / "place", "sitter")["round.md"].replace("\u00a0", " ")
    rows = {row.split("**")[1]: row for row in page.splitlines() if row.startswith("| **")}
    # the usual floor of a flooded bank is 30 %, where the house is dark: call ten points before
    assert "well above 40 %" in rows["Battery bank at dawn"]
    assert "it is below 40 %" in rows["Battery bank at dawn"]
    assert "a steady stream, clear" in rows["A tap, opened for a minute"]
    assert "roars or glows: everybody out" in rows["Wood stove"]
    assert "thermometer" not in page and "110" not in page


def test_a_thermometer_that_is_entered_is_read(home):
    page = pages(home, "sitter")["round.md"].replace("\u00a0", " ")
    row = next(row for row in page.splitlines() if "Wood stove, thermometer on the pipe" in row)
    assert "230\u2013460 °F (110\u2013238 °C), fire burning" in row  # 230 F is 110 C, 460 F 237.8 C


def test_how_to_start_stands_with_the_sitter_and_on_the_machine_s_page(home):
    sitter = pages(home, "sitter")["procedures/start-stop-by-hand.md"]
    assert "to RUN, wait for the green lamp" in sitter
    assert "Choke lever" not in sitter  # the spare is not for the sitter
    owner = pages(home, "owner")
    assert "2. Fuel valve under the tank down: open." in owner["machines/power/spare-genset.md"]
    card = owner["procedures/start-stop-by-hand-spare-genset.md"]
    assert "Choke right within a minute" in card
    assert "1. Look into the fuel tank" not in card  # nobody starts it twice
    assert "press START" not in sitter


def test_the_rested_voltage_beside_the_charge_is_the_published_one(home):
    """60 % of a flooded 48 V bank: 12.32 V a 12 V block, rested, so 49.3 V."""
    source = "table of rested voltage by charge, flooded, 12 V: 60 % = 12.32 V, common practice"
    page = pages(home, "sitter")["round.md"].replace("\u00a0", " ")
    volts = float(re.search(r"60 % \(about ([\d.]+) V at rest\)", page)[1])
    assert volts == pytest.approx(4 * 12.32, abs=0.15), source


def test_a_fall_of_the_gauge_by_hand(home):
    """The heaviest month of the fuel page's own levels with heavy use: "up to" rounds up."""
    workings = made_manual(home, as_of=DAY).workings
    stock = workings.fuel.of("north-tank")
    falls = []
    for before, after in zip(stock.months, stock.months[1:], strict=False):
        if after.low > 0:
            falls.append((before.low - after.low) * 7 / (after.day - before.day).days)
    page = pages(home, "sitter")["round.md"]
    told = int(re.search(r"falls by up to (\d+) % a week", page)[1])
    assert max(falls) <= told < max(falls) + 1


def test_the_map_and_its_table_agree(home):
    manual = made_manual(home, as_of=DAY, edition="sitter").manual
    svg = manual.drawings["drawings/shut-offs.svg"]
    page = next(page.markdown for page in manual.pages if page.path == "map.md")
    assert len(re.findall(r"^\| \*\*\d+\*\* \|", page, re.M)) == 9
    assert "Map of 9 shut-offs among 6 buildings" in svg
    assert "red button" in page and "hand wheel" in page.lower()


def test_a_home_without_a_map_lists_how_to_stop(home):
    for path in (home / "site_data").glob("*.yaml"):
        text = re.sub(r"\n    shut_off:.*", "", path.read_text())
        path.write_text(re.sub(r"\nmap:\n(  .*\n)+", "\n", text))
    page = pages(home, "sitter")["map.md"]
    assert "No shut-off is placed on the map yet." in page
    assert "Turn the key switch to OFF" in page


def test_one_shut_off_without_a_map_leaves_no_other_machine_out(home):
    """Each machine once: by its shut-off where it has one, else by how it is stopped."""
    for path in (home / "site_data").glob("*.yaml"):
        lines = path.read_text().splitlines(keepends=True)
        kept = [one for one in lines if "shut_off:" not in one or "hand wheel" in one.lower()]
        path.write_text(re.sub(r"\nmap:\n(  .*\n)+", "\n", "".join(kept)))
    page = pages(home, "sitter")["map.md"]
    assert "The place has no map yet" in page
    assert len(re.findall(r"^\| \*\*\d+\*\* \|", page, re.M)) >= 1
    assert page.count("Turn the key switch to OFF") == 1


def test_phone_numbers_can_be_tapped(home):
    assert pages(home, "sitter")["calls.md"].count('href="tel:') >= 7


# --- the technician --------------------------------------------------------------------------


def test_one_machine_alone(home):
    found = pages(home, "technician", machine="main-genset")
    machines = [path for path in found if path.startswith("machines/")]
    assert machines == ["machines/power/main-genset.md"]
    assert "procedures/valve-lash-main-genset.md" in found
    assert "procedures/starter-battery.md" in found  # its tasks name it
    assert not [path for path in found if "spare" in path]
    assert "procedures/gas-leak.md" in found and "procedures/co-alarm.md" in found
    assert "faults/genset-hunts.md" in found and "faults/no-water.md" not in found
    page = found["machines/power/main-genset.md"]
    for heading in ("Data plate", "Specifications", "Measured against its specs",
                    "Parts of this machine on the shelf", "History"):  # fmt: skip
        assert f"\n\n## {heading}\n\n" in page
    # log of the demo: 41 psi on 16 May 2026, spec 35 to 50 psi; 43 psi the year before
    row = next(
        row
        for row in page.splitlines()
        if row.startswith("| oil pressure warm") and "41 psi" in row
    )
    assert "| within |" in row and "41 psi" in row and "43 psi on" in row
    assert "BH-1240-F" in page  # the number of its oil filter


def test_prices_stay_out_of_the_technicians_manual(home):
    text = "".join(pages(home, "technician").values())
    assert "USD" not in text and "4,850" not in text


def test_one_machine_has_its_own_folder(home):
    results = build(home, as_of=DAY, edition="technician", machine="cistern", with_binder=False)
    assert results.site == home / "build" / "technician-cistern" / "site"
    with zipfile.ZipFile(home / "build/technician-cistern/site.zip") as archive:
        assert "hollow-larch-dairy-technician-cistern/index.html" in archive.namelist()


# --- the file to send ------------------------------------------------------------------------


def test_the_archive_has_the_same_bytes_for_the_same_home(home, tmp_path):
    other = Path(shutil.copytree(home, tmp_path / "elsewhere" / "home"))
    packed = []
    for place in (home, other):
        build(place, as_of=DAY, edition="sitter", with_binder=False)
        packed.append((place / "build/sitter/site.zip").read_bytes())
    assert packed[0] == packed[1]
    with zipfile.ZipFile(home / "build/sitter/site.zip") as archive:
        names = archive.namelist()
        assert archive.testzip() is None
    site = home / "build/sitter/site"
    inside = sorted(p.relative_to(site).as_posix() for p in site.rglob("*") if p.is_file())
    assert sorted(name.split("/", 1)[1] for name in names) == inside
    assert not [name for name in inside if "sitemap" in name]
