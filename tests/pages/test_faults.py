"""Fault finding: no answer ends in the air, and slips are told with file and line."""

from __future__ import annotations

import re
import shutil
from datetime import date
from pathlib import Path

import pytest

from steadbook.content import content_folders, procedure_names
from steadbook.errors import InventoryErrors
from steadbook.making import made_manual
from steadbook.pages.cautions import read_cautions
from steadbook.pages.fault_paths import path_data
from steadbook.pages.faults import VALUE, Fault, check_faults, chosen_faults, read_faults

ROOT = Path(__file__).parents[2]
AS_OF = date(2026, 11, 25)
GOOD = """\
no-spark:
  title: No spark
  about: genset
  cautions: [automatic start]
  steps:
    first:
      check: Is the plug dry ({spark plug.gap})?
      yes: {go: second}
      no: {do: Dry it., go: second}
    second:
      check: Is there a spark?
      yes: {do: Start it., see: start-stop-by-hand}
      no: {stop: Leave it., call: mechanic}
"""
SYMPTOMS = {
    "genset-will-not-crank", "genset-cranks-but-will-not-start", "genset-starts-and-stops",
    "genset-no-output", "genset-hunts", "genset-low-output", "bank-will-not-charge",
    "inverter-alarm", "no-water", "no-heat", "low-gas-pressure",
}  # fmt: skip
FOR_SITTERS = {"inverter-alarm", "no-water", "no-heat"}  # nothing to open, lift off or measure


def shipped() -> dict[str, Fault]:
    return {
        key: fault for key, (_, fault) in chosen_faults(read_faults([ROOT / "content"])).items()
    }


@pytest.fixture(scope="module")
def made_once(tmp_path_factory, demo_copy):
    """The demo, with what a first build keeps for the next."""
    return demo_copy(tmp_path_factory.mktemp("demo"))


@pytest.fixture
def home(made_once, tmp_path):
    """A copy of the demo with a content/ of its own."""
    shutil.copytree(made_once, tmp_path / "home")
    (tmp_path / "home" / "content").mkdir()
    return tmp_path / "home"


def problems(folder: Path, text: str) -> list:
    (folder / "faults.yaml").write_text(text)
    try:
        files = read_faults([folder])
    except InventoryErrors as errors:
        return errors.problems
    return check_faults(
        files,
        procedures=procedure_names(content_folders(None)),
        cautions=read_cautions(ROOT / "content" / "cautions.yaml"),
        people=["nora"],
    )


def test_every_symptom_is_there_and_sound():
    assert set(shipped()) >= SYMPTOMS
    assert not check_faults(
        read_faults([ROOT / "content"]),
        procedures=procedure_names(content_folders(None)),
        cautions=read_cautions(ROOT / "content" / "cautions.yaml"),
        people=[],
    )
    assert {key for key, fault in shipped().items() if "sitter" in fault.editions} == FOR_SITTERS


@pytest.mark.parametrize("key", sorted(SYMPTOMS))
def test_every_way_through_ends_in_an_action_a_call_or_a_stop(key):
    """Walked from the first question by every mix of answers, not by the code under test."""
    fault = shipped()[key]
    first = next(iter(fault.steps))
    waiting, walks = [(first, (first,))], 0
    while waiting:
        name, walked = waiting.pop()
        for answer in (fault.steps[name].yes, fault.steps[name].no):
            if answer.go:
                assert answer.go not in walked, f"{key}: {walked} comes back to {answer.go}"
                waiting.append((answer.go, (*walked, answer.go)))
            else:
                assert answer.do or answer.see or answer.call or answer.stop, (key, walked)
                walks += 1
    assert walks > len(fault.steps) / 2


def test_shipped_values_have_words_where_a_home_lacks_them():
    texts = re.findall(r"\{[^{}]*\.[a-z_]+[^{}]*\}", "\n".join(
        path.read_text() for path in (ROOT / "content").glob("faults*.yaml")
    ))  # fmt: skip
    assert len(texts) > 20
    assert all((found := VALUE.fullmatch(text)) and found[2] for text in texts), texts


def test_a_good_one_has_no_problem(tmp_path):
    assert not problems(tmp_path, GOOD)


@pytest.mark.parametrize(
    ("old", "new", "line", "key", "found", "fix"),
    [
        ("yes: {go: second}", "yes: {go: secnd}", 8, "no-spark.steps.first.yes.go",
         "the step 'secnd', which does not exist", "did you mean 'second'?"),
        ("yes: {go: second}", "yes: {go: first}", 8, "no-spark.steps.first.yes.go",
         "the circle first -> first", "end one of these answers"),
        ("yes: {do: Start it., see: start-stop-by-hand}", "yes: {go: first}", 12,
         "no-spark.steps.second.yes.go", "the circle", "end one of these answers"),
        ("no: {stop: Leave it., call: mechanic}", "no: {}", 13, "no-spark.steps.second.no",
         "a dead end", "write what to do"),
        ("      no: {stop: Leave it., call: mechanic}\n", "", 10, "no-spark.steps.second.no",
         "nothing", "add `no:`"),
        ("see: start-stop-by-hand", "see: start-by-hand", 12, "no-spark.steps.second.yes.see",
         "the procedure 'start-by-hand', which does not exist", "did you mean 'start-stop-by-hand'?"),
        ("call: mechanic", "call: norah", 13, "no-spark.steps.second.no.call",
         "the person or trade 'norah', which does not exist", "did you mean 'nora'?"),
        ("[automatic start]", "[auto start]", 4, "no-spark.cautions[1]",
         "the caution 'auto start', which does not exist", "did you mean 'automatic start'?"),
        ("stop: Leave it., call: mechanic", "stop: Leave it., go: first", 13,
         "no-spark.steps.second.no.go", "a way on after a stop", "remove one of the two"),
        ("yes: {go: second}", "yes: {goo: second}", 8, "no-spark.steps.first.yes.goo",
         "the unknown key 'goo'", "did you mean 'go'?"),
    ],
)  # fmt: skip
def test_a_slip_is_told_with_file_line_and_fix(tmp_path, old, new, line, key, found, fix):
    assert GOOD.count(old) == 1
    told = problems(tmp_path, GOOD.replace(old, new))
    match = [one for one in told if one.key == key and one.found.startswith(found)]
    assert match, [str(one) for one in told]
    assert (match[0].file, match[0].line) == ("content/faults.yaml", line)
    assert match[0].allowed and fix in match[0].fix


def test_a_step_that_no_answer_leads_to(tmp_path):
    alone = GOOD.replace("yes: {go: second}", "yes: {do: Rest.}").replace(", go: second", "")
    (problem,) = problems(tmp_path, alone)
    assert problem.found == "a step that no answer leads to"
    assert (problem.line, problem.key) == (10, "no-spark.steps.second")


def test_a_home_adds_a_fault_with_its_own_values(home):
    (home / "content" / "faults.yaml").write_text(GOOD)
    manual = made_manual(home, as_of=AS_OF).manual
    pages = {page.path: page.markdown for page in manual.pages}
    page = pages["faults/no-spark.md"]
    assert "Main genset: 0.025" in page and "Spare genset: 0.030" in page
    assert "Call Dell Ferris" in page and 'href="tel:5550126"' in page
    assert "**STOP.** Leave it." in page and "faults/genset-hunts.md" in pages
    assert "drawings/fault-no-spark.svg" in manual.drawings


def test_a_home_replaces_a_shipped_fault(home):
    (home / "content" / "faults.yaml").write_text(GOOD.replace("no-spark:", "genset-hunts:"))
    pages = {page.path: page for page in made_manual(home, as_of=AS_OF).manual.pages}
    assert pages["faults/genset-hunts.md"].title == "No spark"


def test_a_value_that_no_machine_has_is_told(home):
    (home / "content" / "faults.yaml").write_text(GOOD.replace("spark plug.gap", "spark plug.gapp"))
    with pytest.raises(InventoryErrors, match="which no genset of this home has") as caught:
        made_manual(home, as_of=AS_OF)
    (problem,) = caught.value.problems
    assert (problem.file, problem.line) == ("content/faults.yaml", 7)
    assert problem.fix == "did you mean 'spark plug.gap'?"


def test_pages_of_the_demo_take_values_and_people_from_its_inventory(home):
    manual = made_manual(home, as_of=AS_OF).manual
    pages = {page.path: page.markdown for page in manual.pages}
    crank = pages["faults/genset-will-not-crank.md"]
    assert "12.6&nbsp;V" in crank or "12.6\u00a0V" in crank
    assert "Dell Ferris" in crank and "by the maker's manual" not in crank
    gas = pages["faults/low-gas-pressure.md"]
    assert "Brindle Fork Propane" in gas
    assert "13.2" in gas  # the lock-up pressure of two regulators, the same


def test_the_drawing_holds_the_words_of_the_table(home):
    manual = made_manual(home, as_of=AS_OF).manual
    assert all(f"drawings/fault-{key}.svg" in manual.drawings for key in SYMPTOMS)


def test_a_drawing_is_made_of_all_rows_and_answers():
    from steadbook.pages.fault_paths import FaultPath, Outcome, Row

    path = FaultPath(
        "x", "X", "genset", (), (),
        (Row(1, "A?", Outcome(go=2), Outcome(do="B.", go=2)),
         Row(2, "C?", Outcome(call="D", phone="5"), Outcome(stop="E."))),
    )  # fmt: skip
    data, alt, _ = path_data(path, {})
    assert [row["number"] for row in data["rows"]] == [1, 2]
    boxes = [answer for row in data["rows"] for answer in row["answers"]]
    assert [box["kind"] for box in boxes] == ["go", "do", "call", "stop"]
    assert boxes[1]["lines"] == ["B.", "Not cured: go to 2."]
    assert boxes[2]["lines"] == ["Call D 5."]
    assert "2 checks" in alt


def test_no_shipped_check_asks_whether_something_is_not_so():
    """A yes to `is it something else than ...?` is read as its opposite."""
    for text in (path.read_text() for path in sorted((ROOT / "content").glob("faults*.yaml"))):
        assert not re.search(r"check:.*\b(?:else than|other than)\b", text)


def test_where_a_step_asks_for_one_lash_it_gives_both():
    for path in sorted((ROOT / "content").glob("faults*.yaml")):
        for line in path.read_text().splitlines():
            assert ("{exhaust valve.lash" in line) == ("{intake valve.lash" in line), line
