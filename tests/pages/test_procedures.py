"""The procedures of content/: complete, in order, guarded, and with no number of their own."""

from __future__ import annotations

import re
import shutil
from datetime import date
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest
import yaml

from steadbook.bind.markdown import to_html
from steadbook.content import content_folders, procedure_names
from steadbook.errors import PageError
from steadbook.figures.battery import gravity_at_reference
from steadbook.inventory import read_inventory
from steadbook.inventory.redact import Edition
from steadbook.making import made_manual
from steadbook.pages import Page
from steadbook.units import parse, show

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "content" / "procedures"
FILES = sorted(FOLDER.glob("*.md"))
STEMS = procedure_names(content_folders(None))
AS_OF = date(2026, 11, 25)
EDITIONS: tuple[Edition, ...] = ("owner", "sitter", "technician")

# what a sitter must or may do; all else stays with the owner
FOR_SITTERS = {
    "clear-snow",
    "co-alarm",
    "first-ten-minutes",
    "gas-leak",
    "inverter-restart",
    "out-of-gas",
    "start-stop-by-hand",
    "wood-stove",
}

# a torque, or a gap or lash, typed into the page instead of taken from the inventory
TYPED = re.compile(
    r"\d\s*(?:lbf|ft[-·* ]?lb|in[-·* ]?lb|lb[-·* ]?(?:ft|in)\b|N\s?[·*]?\s?m\b)"
    r"|(?<!\d)0?[.,]\d+\s*(?:in\b|inch|mm\b|\")",
    re.IGNORECASE,
)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory, demo_copy) -> Path:
    """The demo homestead, in a folder of its own."""
    return demo_copy(tmp_path_factory.mktemp("home"))


@pytest.fixture(scope="module")
def pages(home: Path) -> dict[Edition, dict[str, Page]]:
    return {edition: procedures(home, edition) for edition in EDITIONS}


def procedures(home: Path, edition: Edition = "owner") -> dict[str, Page]:
    manual = made_manual(home, as_of=AS_OF, edition=edition).manual
    return {
        page.path.removeprefix("procedures/").removesuffix(".md"): page
        for page in manual.pages
        if page.path.startswith("procedures/")
    }


def changed(home: Path, to: Path, file: str, old: str, new: str) -> Path:
    """A copy of a home with one text of its inventory changed."""
    shutil.copytree(home, to, dirs_exist_ok=True)  # with the drawings kept from before
    path = to / "site_data" / file
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {file}"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return to


class Outline(HTMLParser):
    """Numbers of the steps under each heading, and tags left open."""

    def __init__(self) -> None:
        super().__init__()
        self.numbers: list[tuple[str, list[int]]] = []
        self.open: list[str] = []
        self.crossed: list[str] = []
        self.lists: list[tuple[str, int]] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("br", "hr", "img"):
            return
        self.open.append(tag)
        if tag == "h2":
            self.numbers.append(("", []))
        if tag in ("ol", "ul"):
            self.lists.append((tag, int(dict(attrs).get("start") or 1)))
        if tag == "li" and self.lists and self.lists[-1][0] == "ol":
            kind, number = self.lists[-1]
            self.lists[-1] = (kind, number + 1)
            if not self.numbers:
                self.numbers.append(("", []))
            self.numbers[-1][1].append(number)

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.crossed.append(tag)
        if tag in ("ol", "ul"):
            self.lists.pop()

    def handle_data(self, data: str) -> None:
        self.text += data
        if self.open and self.open[-1] == "h2":
            heading, numbers = self.numbers[-1]
            self.numbers[-1] = (heading + data, numbers)


def outline(page: Page) -> Outline:
    found = Outline()
    found.feed(to_html(page.markdown))
    found.close()
    return found


# --- the source of each procedure -----------------------------------------------------------


def test_at_least_the_promised_procedures_are_there():
    assert len(FILES) >= 23
    assert {"genset-annual-service", *FOR_SITTERS} <= STEMS


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_procedure_says_what_it_is_for_and_when(path):
    head = path.read_text(encoding="utf-8").split("---")[1]
    for key in ("title:", "tab: Procedures", "editions:", "purpose:", "when:", "tools:"):
        assert f"\n{key}" in head, key
    assert re.search(r"\ncautions: \[[a-z]", head), "every procedure here has a hazard"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_torque_gap_or_lash_is_typed_into_a_procedure(path):
    for number, line in enumerate(path.read_text(encoding="utf-8").split("\n"), start=1):
        assert not TYPED.search(line), f"{path.name}:{number}: {line}"


@pytest.mark.parametrize(
    "text", ["26 lbf·ft", "35 N·m", "35 Nm", "18 ft-lb", "80 in-lb", "0.030 in", ".76 mm", "0,7mm"]
)
def test_a_typed_torque_or_gap_is_found(text):
    assert TYPED.search(text)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_procedure_points_only_at_procedures_that_exist(path):
    text = path.read_text(encoding="utf-8")
    named = re.findall(r"turn_to\(\"([a-z-]+)\"", text)
    named += re.findall(r"link\(\"procedures/([a-z-]+)\.md\"", text)
    assert set(named) <= STEMS
    assert path.stem not in named, "a page that points at itself"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_engine_driven_machine_is_a_genset(path):
    assert not re.search(r"generator", path.read_text(encoding="utf-8"), re.IGNORECASE)


# --- each procedure as the demo homestead shows it ------------------------------------------


@pytest.mark.parametrize("edition", EDITIONS)
def test_steps_are_numbered_without_a_gap_under_each_heading(pages, edition):
    for name, page in pages[edition].items():
        found = outline(page)
        assert sum(len(numbers) for _, numbers in found.numbers) >= 8, name
        for heading, numbers in found.numbers:
            if "do not equalise" not in page.markdown.lower():
                assert numbers, f"{name}: no step under {heading!r}"
            assert numbers == list(range(1, len(numbers) + 1)), f"{name}: {heading!r} {numbers}"


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_numbers_typed_are_the_numbers_shown(pages, edition):
    """A step that is named by its number is the step that the reader finds."""
    for name, page in pages[edition].items():
        for section in re.split(r"^## ", page.markdown, flags=re.MULTILINE):
            typed = [int(n) for n in re.findall(r"^(\d+)\. ", section, re.MULTILINE)]
            assert typed == list(range(1, len(typed) + 1)), f"{name}: {section[:40]!r} {typed}"


@pytest.mark.parametrize("edition", EDITIONS)
def test_headings_are_lettered_in_order(pages, edition):
    for name, page in pages[edition].items():
        letters = re.findall(r"^## ([A-Z])\. ", page.markdown, re.MULTILINE)
        assert letters == [chr(ord("A") + n) for n in range(len(letters))], name


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_page_is_whole_html_without_stray_marks(pages, edition):
    for name, page in pages[edition].items():
        found = outline(page)
        assert not found.crossed, name
        assert not found.open, name
        for mark in ("**", "{{", "{%", "](", "not known", "None"):
            assert mark not in found.text, f"{name}: {mark}"


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_caution_stands_before_the_first_step(pages, edition):
    for name, page in pages[edition].items():
        assert 0 < page.markdown.find('class="signal ') < page.markdown.find("\n1. "), name


@pytest.mark.parametrize("edition", ["owner", "technician"])
def test_a_procedure_defers_to_maker_and_code(pages, edition):
    for name, page in pages[edition].items():
        assert "maker's own manual and the local code come before this page" in page.markdown, name


def test_the_sitters_first_page_defers_for_all_of_them(home):
    manual = made_manual(home, as_of=AS_OF, edition="sitter").manual
    first = next(page.markdown for page in manual.pages if page.path == "index.md")
    assert "maker's own manual and the local code come before these pages" in first


def test_every_procedure_is_on_a_page_for_the_owner(pages):
    for stem in STEMS - {"cold-lithium"}:  # the demo has no lithium bank
        assert any(name == stem or name.startswith(f"{stem}-") for name in pages["owner"]), stem


def test_the_owner_finds_every_procedure_that_a_page_names(pages):
    for name, page in pages["owner"].items():
        assert "in the owner&#39;s manual" not in page.markdown, name


def test_a_sitter_gets_what_a_sitter_may_do_and_no_more(pages):
    # a machine's id may follow the name of the procedure
    found = {
        next(stem for stem in STEMS if name == stem or name.startswith(f"{stem}-"))
        for name in pages["sitter"]
    }
    assert found == FOR_SITTERS


def test_a_sitter_is_sent_to_no_page_that_a_sitter_lacks(pages):
    for name, page in pages["sitter"].items():
        assert "in the owner&#39;s manual" not in page.markdown, name


def test_a_sitter_needs_no_tool_that_opens_things(pages):
    for stem in FOR_SITTERS:
        tools = re.search(r"^tools: (.*)$", (FOLDER / f"{stem}.md").read_text(), re.MULTILINE)
        assert tools, stem
        assert not re.search(r"wrench|driver|meter|pliers|socket", tools.group(1)), stem
        assert not [name for name, page in pages["sitter"].items() if "| Tools |" in page.markdown]


def test_a_sitter_out_of_gas_shuts_off_and_calls_and_lights_nothing(pages):
    sitter, owner = (pages[edition]["out-of-gas"].markdown for edition in ("sitter", "owner"))
    assert "## C. Fill, test, light" in owner
    assert "## C." not in sitter
    assert "Open nothing and light nothing." in sitter


# --- the numbers come from the inventory ----------------------------------------------------


def test_the_annual_service_follows_the_drain_plug_of_the_inventory(home, pages, tmp_path):
    before = pages["owner"]["genset-annual-service"].markdown
    other = changed(
        home,
        tmp_path,
        "power.yaml",
        "drain plug: {torque: 26 lbf*ft, thread: M14x1.5",
        "drain plug: {torque: 31 lbf*ft, thread: M16x1.5",
    )
    after = procedures(other)["genset-annual-service"].markdown.replace("\N{NO-BREAK SPACE}", " ")
    # 26 lbf·ft = 35.25 N·m and 31 lbf·ft = 42.03 N·m: 1.3558179 N·m to the lbf·ft, NIST SP 811
    assert "26 lbf·ft (35 N·m)" in before.replace("\N{NO-BREAK SPACE}", " ")
    assert "31 lbf·ft (42 N·m)" in after
    assert "26 lbf·ft" not in after
    assert "thread M16x1.5" in after


WITHOUT = {
    "spark plug": "\n +gap: 0\\.025 in",
    "intake valve": r"lash: 0\.008 in, (?=engine: cold\}\n +exhaust valve: \{lash: 0\.010)",
    "drain plug": r"torque: 26 lbf\*ft, ",
    "low oil pressure": r"pressure: 10 psi, ",
}


def without(home: Path, to: Path, name: str, unnamed: tuple[str, ...] = ()) -> Path:
    """A home whose main genset lacks a field of a spec, and whose tasks name some pages less."""
    shutil.copytree(home, to, dirs_exist_ok=True)  # with the drawings kept from before
    path = to / "site_data" / "power.yaml"
    text, times = re.subn(WITHOUT[name], "", path.read_text(encoding="utf-8"), count=1)
    assert times == 1
    for stem in unnamed:
        text, times = re.subn(rf"\n +procedure: {stem}(?=\n)", "", text)
        assert times
    path.write_text(text, encoding="utf-8")
    return to


@pytest.mark.parametrize(
    ("name", "part"),
    [
        ("spark plug", "gap"),
        ("intake valve", "lash"),
        ("drain plug", "torque"),
        ("low oil pressure", "pressure"),
    ],
)
def test_a_spec_that_the_named_service_needs_is_asked_for(home, tmp_path, name, part):
    with pytest.raises(
        PageError, match=f"the {part} of the spec '{name}' of main-genset"
    ) as caught:
        procedures(without(home, tmp_path, name))
    assert caught.value.file == "content/procedures/genset-annual-service.md"
    line = (
        FOLDER.joinpath("genset-annual-service.md")
        .read_text("utf-8")
        .split("\n")[caught.value.line - 1]
    )
    assert re.search(rf'"{name}"\)?, "{part}"', line)


@pytest.mark.parametrize(
    ("stem", "name"), [("spark-plugs", "spark plug"), ("valve-lash", "intake valve")]
)
def test_a_page_that_no_task_names_sends_to_the_maker_instead(home, tmp_path, stem, name):
    unnamed = ("genset-annual-service", "spark-plugs", "valve-lash")
    found = procedures(without(home, tmp_path, name, unnamed))
    assert "see the maker&#39;s manual" in found[f"{stem}-main-genset"].markdown
    assert "see the maker&#39;s manual" not in found[f"{stem}-spare-genset"].markdown


def test_one_lash_under_any_name_serves_both_valves(home, tmp_path):
    """As the data sheet of an engine with one lash for all valves gives it."""
    shutil.copytree(home, tmp_path, dirs_exist_ok=True)
    path = tmp_path / "site_data" / "power.yaml"
    text, times = re.subn(
        r"( +)intake valve: \{lash: 0\.008 in, .*\n +exhaust valve: .*\n",
        r"\1valve clearance: {lash: 0.007 in}\n",
        path.read_text("utf-8"),
    )
    assert times == 1
    main, spare = text.split("spare-genset:", 1)
    main = main.replace("intake valve, exhaust valve", "valve clearance")
    path.write_text(f"{main}spare-genset:{spare}", "utf-8")
    found = procedures(tmp_path)
    lash, service = found["valve-lash-main-genset"], found["genset-annual-service"]
    # 0.007 in = 0.1778 mm, by definition of the inch
    shown = r"0\.007\sin \(0\.18\smm\)"
    assert re.search(rf"\| Intake valve \| {shown}", lash.markdown)
    assert re.search(rf"Do the same with \*\*{shown}\*\* at the \*\*exhaust", lash.markdown)
    assert re.search(rf"Intake: \*\*{shown}\*\*\. Exhaust: \*\*{shown}\*\*", service.markdown)
    assert "see the maker&#39;s manual" not in lash.markdown


def test_without_any_lash_the_sentences_are_whole(home, tmp_path):
    unnamed = ("genset-annual-service", "spark-plugs", "valve-lash")
    text = procedures(without(home, tmp_path, "intake valve", unnamed))
    lash = text["valve-lash-main-genset"].markdown
    assert "intake lash: **as in the maker&#39;s manual**" in lash
    assert "with **see" not in lash


def test_a_lithium_bank_has_its_own_page_and_none_of_the_flooded_ones(home, tmp_path):
    other = changed(home, tmp_path, "power.yaml", "chemistry: flooded", "chemistry: LFP")
    found = procedures(other)
    assert not {"equalise", "water-and-gravity"} & set(found)
    assert "Battery bank" in found["cold-lithium"].markdown
    assert "Equalise" not in found["black-start"].markdown


def test_a_sealed_bank_whose_task_names_it_is_told_not_to_equalise(home, tmp_path):
    other = changed(home, tmp_path, "power.yaml", "chemistry: flooded", "chemistry: AGM")
    path = other / "site_data" / "power.yaml"
    before, bank = path.read_text("utf-8").split("kind: battery bank", 1)
    bank = re.sub(r"\n( +)(title: .*)", r"\n\1\2\n\1procedure: equalise", bank, count=1)
    path.write_text(f"{before}kind: battery bank{bank}", "utf-8")
    found = procedures(other)
    assert not {"cold-lithium", "water-and-gravity"} & set(found)
    assert "**Do not equalise this bank.** It is AGM" in found["equalise"].markdown
    assert "## B. Equalise" not in found["equalise"].markdown


def test_a_task_and_its_procedure_take_about_the_same_time(pages):
    """Within three times; the page of a machine's own task shows that task's time."""
    homestead = read_inventory(ROOT / "site_data", as_of=AS_OF)
    fronts = {
        path.stem: yaml.safe_load(path.read_text("utf-8").split("---")[1])
        for path in (ROOT / "content" / "procedures").glob("*.md")
    }
    named = [(m, task) for m, _, task in homestead.tasks() if task.procedure]
    assert {"chimney-sweep", "valve-lash", "spark-plugs"} <= {task.procedure for _, task in named}
    for machine, task in named:
        usual = parse(fronts[task.procedure]["minutes"], "duration").to("min")
        assert usual / 3 <= task.minutes.to("min") <= usual * 3, (machine.id, task.title)
        own = pages["owner"].get(f"{task.procedure}-{machine.id}")
        if own is not None:
            assert f"| Time | {show(task.minutes, 'us')}" in own.markdown, (machine.id, task.title)


STARTER = ROOT / "generator" / "steadbook" / "starter" / "site_data"


@pytest.fixture(scope="module")
def bare(tmp_path_factory) -> Path:
    """The starter home, whose genset is started by hand: few machines, so few pages."""
    place = tmp_path_factory.mktemp("bare")
    shutil.copytree(STARTER, place / "site_data", ignore=shutil.ignore_patterns("safety.yaml"))
    path = place / "site_data" / "power.yaml"
    text = path.read_text("utf-8")
    assert text.count(", automatic start") == 1
    path.write_text(text.replace(", automatic start", ""), "utf-8")
    return place


def test_a_small_home_gets_no_page_on_what_it_has_not(bare):
    found = set(procedures(bare))
    assert {"equalise", "water-and-gravity", "black-start", "start-stop-by-hand"} <= found
    assert not found & {
        "cold-lithium",
        "starter-battery",
        "spare-genset-to-work",
        "run-on-genset-bypass",
        "inverter-restart",
        "water-lines-close",
        "water-lines-open",
    }


def test_a_page_says_what_to_do_where_the_page_it_names_is_not_made(bare):
    found = procedures(bare)
    for name, page in found.items():
        assert "in the owner" not in page.markdown, name
    first = found["first-ten-minutes"].markdown
    assert "If the genset cannot be started: call now." in first
    assert "will not come back: leave it off and call." in first
    assert "let the far taps trickle" in found["out-of-gas"].markdown


def test_a_genset_that_cannot_start_by_itself_is_not_said_to(bare):
    found = procedures(bare)
    for name in ("start-stop-by-hand", "spark-plugs", "valve-lash"):
        text = found[name].markdown
        for words in ("AUTO", "start by itself. ", "can start by itself", "can call for it"):
            assert words not in text.split("## A.", 1)[1], name
        assert "| automatic start" not in text, name


def test_a_genset_that_can_start_by_itself_is_said_to(pages):
    text = pages["owner"]["start-stop-by-hand-main-genset"].markdown
    assert "From now on it can start by itself" in text


def test_the_sitters_first_page_names_a_person_where_no_page_is_made(bare, home):
    def first(place: Path) -> str:
        manual = made_manual(place, as_of=AS_OF, edition="sitter").manual
        return next(page.markdown for page in manual.pages if page.path == "index.md")

    row = next(line for line in first(bare).split("\n") if "inverter shows an alarm" in line)
    assert "call **A neighbour**" in row
    assert "No carbon monoxide alarm is entered: ask the owner where it hangs." in first(bare)
    row = next(line for line in first(home).split("\n") if "inverter shows an alarm" in line)
    assert "[Inverter alarm](faults/inverter-alarm.md)" in row
    assert "No carbon monoxide alarm is entered" not in first(home)


SOURCE = "battery maker's table, 0.004 to 10 degF from 80 degF, seen in reprints"
PUBLISHED = {40: -0.016, 60: -0.008, 80: 0.0, 100: 0.008}


def test_the_gravity_table_is_the_published_one(pages):
    text = pages["owner"]["water-and-gravity"].markdown
    rows = re.findall(r"\| (\d+)\s°F \([^)]*\) \| ([−+]?)(\d\.\d{3}) \|", text)
    table = {int(f): float(add) * (-1 if sign == "−" else 1) for f, sign, add in rows}
    assert len(table) == 9
    for fahrenheit, add in PUBLISHED.items():
        assert table[fahrenheit] == pytest.approx(add, abs=1e-9), SOURCE
    for fahrenheit, add in table.items():
        corrected = gravity_at_reference(1.250, (fahrenheit - 32) / 1.8)
        assert corrected - 1.250 == pytest.approx(add, abs=5e-4)


def test_propane_boils_where_a_reference_library_says(pages):
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    kelvin = coolprop.PropsSI("T", "P", 101_325, "Q", 0, "Propane")
    text = pages["owner"]["tank-low-in-cold"].markdown
    shown = re.search(r"boils at about −(\d+)\s°F", text)
    assert shown
    assert -int(shown.group(1)) == pytest.approx(kelvin * 1.8 - 459.67, abs=0.5)


# --- what a service counts as done --------------------------------------------------------------


def box(title: str) -> re.Pattern[str]:
    """A line of a table that begins with an empty cell to tick."""
    return re.compile(rf"^\|  \| {re.escape(title)}(?: \(|\s*\|)", re.MULTILINE)


@pytest.mark.parametrize("edition", ["owner", "technician"])
def test_all_that_a_service_counts_as_done_has_a_box(home, pages, edition):
    checked = 0
    for machine in read_inventory(home / "site_data").machines.values():
        for task in machine.tasks.values():
            if not task.covers or not task.procedure:
                continue
            names = (task.procedure, f"{task.procedure}-{machine.id}")
            page = next(pages[edition][name] for name in names if name in pages[edition])
            for covered in task.covers:
                assert box(machine.tasks[covered].title).search(unescape(page.markdown)), covered
                checked += 1
    assert checked >= 10


def test_a_task_newly_covered_gets_its_box(home, tmp_path):
    other = changed(
        home, tmp_path, "power.yaml", "          - oil-level-check\n",
        "          - oil-level-check\n          - shutdown-test\n",
    )  # fmt: skip
    title = "Test the shutdowns for low oil pressure and high temperature"
    assert box(title).search(procedures(other)["genset-annual-service"].markdown)


def test_the_annual_service_has_a_step_for_what_it_counts_as_done(pages):
    text = pages["owner"]["genset-annual-service"].markdown.replace("\N{NO-BREAK SPACE}", " ")
    steps = [line for line in text.split("\n") if re.match(r"\d+\. ", line)]
    for wanted in (
        "connect the water manometer",
        "Read the gas pressure at rest",
        "Read the gas pressure at this load",
        "Fit the new filter",
        "Clip the load tester on the posts",
        "Turn a carbon monoxide meter on",
        "fit the new one: **Drain plug washer",
    ):
        assert [step for step in steps if wanted in step], wanted
    assert text.count("11 inH₂O (27.4 mbar)") == 2
    assert "(275 A) for 15 seconds" in text  # half of the plate's 550 A
    assert "flattened or scored" not in text
    for size in ("13 mm socket", "17 mm socket", "19 mm socket", "torque wrench to 50 lbf·ft"):
        assert size in text


def test_what_is_due_later_is_not_called_due(home, pages):
    text = pages["owner"]["genset-annual-service"].markdown
    due = re.search(r"^Due on this genset: (.*)$", text, re.MULTILINE)
    later = re.search(r"^Not due yet, only its parts .*: (.*)$", text, re.MULTILINE)
    assert due
    assert later
    states = {
        state.task.title: state.due.day
        for state in made_manual(home, as_of=AS_OF).workings.of_machine("main-genset")
    }
    week = date(2026, 12, 2)  # what falls due within a week is due now
    for title in due[1].strip(".").split("; "):
        assert states[title] <= week, title
    for title in later[1].strip(".").split("; "):
        assert states[title] > week, title


def test_the_load_test_stands_with_the_starter_battery(pages):
    text = pages["owner"]["starter-battery"].markdown.replace("\N{NO-BREAK SPACE}", " ")
    # 9.6 V at 70 degF and 8.5 V at 0 degF: truck maintenance column
    assert "stays above 9.6 V at 70 °F (21 °C), 8.5 V at 0 °F (−18 °C)" in text
    assert "(275 A)" in text


def test_a_technician_is_not_told_to_call_the_technician(pages):
    for name, page in pages["technician"].items():
        assert "all the technician" not in page.markdown, name
    assert "ask the maker" in pages["technician"]["genset-annual-service"].markdown
    assert "all the technician" in pages["owner"]["genset-annual-service"].markdown
