"""What no single entry can know: references, circles, the future; and the folder itself."""

import os
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.conftest import AS_OF, HOME

from steadbook.errors import InventoryErrors, Problem
from steadbook.inventory import read_inventory

DANGLING = [
    # file, old, new, words, key, found, allowed, fix
    ("power.yaml", "oil-filter: 1,", "oil-filtre: 1,", "parts: {",
     "equipment.genset.tasks.oil-change.parts.oil-filtre", "the part 'oil-filtre'",
     "engine-oil, oil-filter", "did you mean 'oil-filter'?"),
    ("power.yaml", "oil-filter: 1,", "belt: 1,", "parts: {",
     "equipment.genset.tasks.oil-change.parts.belt", "the part 'belt'",
     "engine-oil, oil-filter", "correct the name or add it to parts.yaml"),
    ("parts.yaml", "supplier: parts-shop, on_hand: 1,", "supplier: part-shop, on_hand: 1,",
     "part-shop,", "parts.oil-filter.supplier", "the supplier 'part-shop'", "parts-shop",
     "did you mean 'parts-shop'?"),
    ("power.yaml", "procedure: genset-oil", "procedure: genset-oyl", "procedure:",
     "equipment.genset.tasks.oil-change.procedure", "the procedure 'genset-oyl'",
     "genset-oil, genset-start", "did you mean 'genset-oil'?"),
    ("power.yaml", "specs: [drain plug]", "specs: [drain bung]", "specs: [",
     "equipment.genset.tasks.oil-change.specs[1]", "the spec 'drain bung'", "drain plug",
     "did you mean 'drain plug'?"),
    ("power.yaml", "covers: [oil-change]", "covers: [oil-chang]", "covers:",
     "equipment.genset.tasks.annual-service.covers[1]", "the task 'oil-chang'",
     "annual-service, oil-change", "did you mean 'oil-change'?"),
    ("log/2026.yaml", "tasks: [oil-change]", "tasks: [paint]", "tasks:",
     "services[1].tasks[1]", "the task 'paint'", "annual-service, oil-change",
     "correct the name or add it to the tasks of genset"),
    ("log/2026.yaml", "machine: genset, hours: 100 h", "machine: gensett, hours: 100 h",
     "gensett", "readings[1].machine", "the machine 'gensett'", "genset, tank",
     "did you mean 'genset'?"),
    ("log/2026.yaml", "tank: tank", "tank: genset", "tank: genset", "levels[1].tank",
     "the tank 'genset'", "tank", "correct the name or add it to fuel.yaml"),
    ("log/2026.yaml", "parts: {oil-filter: 1}", "parts: {filter: 1}", "parts:",
     "services[1].parts.filter", "the part 'filter'", "engine-oil, oil-filter",
     "did you mean 'oil-filter'?"),
    ("homestead.yaml", "call_first: [neighbour]", "call_first: [neighbor]", "call_first:",
     "call_first[1]", "the person 'neighbor'", "neighbour", "did you mean 'neighbour'?"),
    ("log/2026.yaml", "levels:",
     "deliveries:\n  - {date: 2026-02-01, tank: tank, amount: 100 gal, supplier: gas-co}\nlevels:",
     "gas-co", "deliveries[1].supplier", "the supplier 'gas-co'", "parts-shop",
     "correct the name or add it to suppliers.yaml"),
    ("log/2026.yaml", "levels:",
     "orders:\n  - {date: 2026-02-01, supplier: shop-parts, parts: {oil-filter: 1}}\nlevels:",
     "shop-parts", "orders[1].supplier", "the supplier 'shop-parts'", "parts-shop", ""),
    ("log/2026.yaml", "levels:",
     "orders:\n  - {date: 2026-02-01, supplier: parts-shop, parts: {belt: 1}}\nlevels:",
     "belt", "orders[1].parts.belt", "the part 'belt'", "engine-oil, oil-filter",
     "correct the name or add it to parts.yaml"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("file", "old", "new", "words", "key", "found", "allowed", "fix"),
    DANGLING,
    ids=[case[4] + "-" + case[5] for case in DANGLING],
)
def test_a_name_that_does_not_exist(home, file, old, new, words, key, found, allowed, fix):
    changed = home().change(file, old, new)
    problem = changed.problem()
    assert (problem.file, problem.line) == (f"site_data/{file}", changed.line(file, words))
    assert (problem.key, problem.found) == (key, f"{found}, which does not exist")
    assert problem.allowed == allowed
    assert fix in problem.fix


def test_a_dangling_part_with_its_whole_message(home):
    changed = home().change("power.yaml", "oil-filter: 1,", "oil-filtre: 1,")
    line = changed.line("power.yaml", "oil-filtre")
    assert str(changed.problem()) == (
        f"site_data/power.yaml:{line}: equipment.genset.tasks.oil-change.parts.oil-filtre\n"
        "  found:   the part 'oil-filtre', which does not exist\n"
        "  allowed: engine-oil, oil-filter\n"
        "  fix:     did you mean 'oil-filter'?"
    )


def test_procedures_are_left_alone_when_the_pages_are_not_known(home):
    home().change("power.yaml", "genset-oil", "anything").read(procedures=None)


OTHERS = [
    ("power.yaml", "every: 200 h or 24 months", "every: 20 h or 24 months", "first:",
     "equipment.genset.tasks.oil-change.first", "a first interval of 25 h",
     "a first interval no longer than the later ones (20 h or 24 months)",
     "a break-in interval is the shorter one; check which is which"),
    ("power.yaml", "first: 25 h", "first: 25 months", "first:",
     "equipment.genset.tasks.oil-change.first", "a first interval of 25 months",
     "a first interval no longer than the later ones (200 h or 24 months)",
     "a break-in interval is the shorter one; check which is which"),
    ("power.yaml", "engine-oil: 2.5 qt", "engine-oil: 2", "parts: {",
     "equipment.genset.tasks.oil-change.parts.engine-oil", "an amount by count",
     "an amount by volume, as this part is counted in parts.yaml (5 qt)",
     "use the same way of counting in both places"),
    ("log/2026.yaml", "parts: {oil-filter: 1}", "parts: {oil-filter: 1 lb}", "1 lb",
     "services[1].parts.oil-filter", "an amount by mass",
     "an amount by count, as this part is counted in parts.yaml (1)",
     "use the same way of counting in both places"),
    ("log/2026.yaml", "date: 2026-02-01, tank", "date: 2026-03-02, tank", "2026-03-02",
     "levels[1].date", "2026-03-02, which is in the future",
     "days up to 2026-03-01, the day the manual is made for",
     "correct the date; write only what has happened"),
    ("parts.yaml", "on_hand: 1, counted: 2026-01-01", "on_hand: 1, counted: 2027-01-01", "2027",
     "parts.oil-filter.counted", "2027-01-01, which is in the future",
     "days up to 2026-03-01, the day the manual is made for",
     "correct the date; write only what has happened"),
    ("log/2026.yaml", "levels:",
     "orders:\n  - {date: 2026-02-01, supplier: parts-shop, parts: {oil-filter: 1}, "
     "received: 2026-01-31}\nlevels:",
     "orders:", "orders[1].received", "received on 2026-01-31, before the order of 2026-02-01",
     "a day on or after the order", "correct one of the two dates"),
    ("log/2026.yaml", "machine: genset, hours: 100 h", "machine: tank, hours: 100 h",
     "hours: 100 h", "readings[1].machine", "a reading of 'tank', which has no hour meter",
     "machines with a `meter:`",
     "add `meter: {installed_at: 0 h}` to the machine, or correct the name"),
    ("log/2026.yaml", "levels:",
     "  - {date: 2026-02-01, machine: tank, tasks: [], hours: 5 h}\nlevels:",
     "hours: 5 h", "services[2].hours", "hours of 'tank', which has no hour meter",
     "machines with a `meter:`",
     "add `meter: {installed_at: 0 h}` to the machine, or correct the name"),
    ("suppliers.yaml", "suppliers:\n",
     "suppliers:\n  private: {name: A, lead_time: 1 week}\n", "  private: {name",
     "suppliers.private", "the name 'private'", "any other name",
     "rename it; `private:` marks what only the owner may see"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("file", "old", "new", "words", "key", "found", "allowed", "fix"),
    OTHERS,
    ids=[case[4] + "-" + case[5][:20] for case in OTHERS],
)
def test_entries_that_do_not_agree(home, file, old, new, words, key, found, allowed, fix):
    changed = home().change(file, old, new)
    line = changed.line(file, words) + (words == "orders:")
    assert changed.problem() == Problem(f"site_data/{file}", line, key, found, allowed, fix)


def test_an_interval_in_hours_needs_a_meter(home):
    changed = home({"log/2026.yaml": "events: []\n"})
    changed.change("power.yaml", "    meter: {installed_at: 0 h}\n", "")
    assert changed.problem() == Problem(
        "site_data/power.yaml", changed.line("power.yaml", "every: 200 h"),
        "equipment.genset.tasks.oil-change.every", "200 h or 24 months, in hours",
        "a calendar interval, since this machine has no hour meter",
        "add `meter: {installed_at: 0 h}` to the machine, or write the interval in months",
    )  # fmt: skip


@pytest.mark.parametrize("covered", ["annual-service", "oil-change"])
def test_covers_in_a_circle(home, covered):
    changed = home().change("power.yaml", "        first: 25 h\n", f"        covers: [{covered}]\n")
    problem = changed.problem()
    assert problem.found.startswith("the circle ")
    names = problem.found.removeprefix("the circle ").split(" -> ")
    assert names[0] == names[-1] and covered in names
    assert problem.allowed == "tasks that cover smaller ones, without a way back"
    assert problem.fix == "remove one of these `covers`"
    assert ".covers[1]" in problem.key


def test_the_day_itself_is_not_the_future(home):
    home().change("log/2026.yaml", "date: 2026-02-01, tank", "date: 2026-03-01, tank").read()


def test_two_machines_of_one_name_in_two_files(home):
    changed = home().change("fuel.yaml", "  tank:\n", "  genset:\n")
    changed.change("log/2026.yaml", "tank: tank", "tank: genset")
    problem = changed.problems()[-1]
    assert problem == Problem(
        "site_data/power.yaml", changed.line("power.yaml", "  genset:"), "equipment.genset",
        "a second machine named 'genset' (the first is in fuel.yaml)",
        "each name once in all files", "rename one of the two, also where the log refers to it",
    )  # fmt: skip


# --- the folder ---------------------------------------------------------------------------


def test_no_folder(tmp_path):
    with pytest.raises(InventoryErrors, match="no such folder"):
        read_inventory(tmp_path / "site_data")


def test_no_homestead_file(home):
    problem = home({"homestead.yaml": None}).problem()
    assert (problem.file, problem.line) == ("site_data/homestead.yaml", 0)
    assert problem.found == "no such file"
    assert "steadbook new DIR" in problem.fix


def test_a_homestead_file_in_the_log_is_not_the_homestead(home):
    made = home({"homestead.yaml": None, "log/homestead.yaml": "events: []\n"})
    assert made.problem().file == "site_data/homestead.yaml"


@pytest.mark.parametrize(
    ("name", "found", "fix"),
    [
        ("water.yml", "a file ending in .yml", "rename it"),
        ("water.YAML", "a file ending in .YAML", "rename it"),
        ("log/2025.yml", "a file ending in .yml", "rename it"),
        ("logs/2025.yaml", "a file in the folder 'logs', which is not read",
         "move the file there, or give it another ending than .yaml"),
        ("log/old/2025.yaml", "a file in the folder 'log/old', which is not read",
         "move the file there, or give it another ending than .yaml"),
        ("Hot water.yaml", "the file name 'Hot water'",
         "rename the file; its name is the name of the system"),
    ],
)  # fmt: skip
def test_a_file_that_would_be_passed_over_in_silence(home, name, found, fix):
    problem = home({name: "title: Water\nequipment: {}\n"}).problem()
    assert (problem.file, problem.line) == (f"site_data/{name}", 0)
    assert (problem.found, problem.fix) == (found, fix)


def test_an_editors_own_files_are_passed_over(home):
    made = home({".power.yaml.swp.yaml": "}{", ".vscode/settings.yaml": "}{"})
    os.symlink("someone@host.1234", made.site_data / ".#power.yaml")
    made.read()


def test_a_link_out_of_the_folder(home, tmp_path):
    made = home()
    (tmp_path / "outside.yaml").write_text("title: A\nequipment: {}\n")
    os.symlink(tmp_path / "outside.yaml", made.site_data / "water.yaml")
    assert made.problem() == Problem(
        "site_data/water.yaml", 0, "", "a link that leads out of the folder",
        "files inside site_data", "put the file itself here",
    )  # fmt: skip


def test_a_log_that_is_a_link_out_of_the_folder(home, tmp_path):
    made = home({"log/2026.yaml": None})
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "2026.yaml").write_text("events: []\n")
    os.symlink(tmp_path / "elsewhere", made.site_data / "log")
    assert made.problem().file == "site_data/log/2026.yaml"


def test_a_link_to_itself_and_one_to_nothing(home):
    made = home()
    os.symlink("water.yaml", made.site_data / "water.yaml")
    os.symlink("nothing.yaml", made.site_data / "heat.yaml")
    nothing, itself = made.problems()
    assert nothing.found == "the file cannot be read (No such file or directory)"
    assert itself.file == "site_data/water.yaml"


def test_a_link_inside_the_folder_is_read(home):
    made = home({"water.txt": "title: Water\nequipment: {}\n"})
    os.symlink("water.txt", made.site_data / "water.yaml")
    assert "water" in made.read().systems


# --- all at once --------------------------------------------------------------------------


def test_references_are_checked_also_while_another_file_has_errors(home):
    changed = home().change("power.yaml", "specs: [drain plug]", "specs: [drain bung]")
    changed.change("homestead.yaml", "latitude: 45.0", "latitude: north")
    found = changed.problems()
    assert [one.key for one in found] == [
        "latitude", "equipment.genset.tasks.oil-change.specs[1]",
    ]  # fmt: skip


@pytest.mark.parametrize("file", [name for name in HOME])
def test_a_broken_file_makes_no_false_alarm_elsewhere(home, file):
    found = home({file: "a: *b\n"}).problems()
    assert [one.file for one in found] == [f"site_data/{file}"]


# --- anything at all ----------------------------------------------------------------------

quick = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


@given(name=st.sampled_from([*HOME, "water.yaml"]), content=st.binary(max_size=200))
@quick
def test_arbitrary_bytes_never_raise_anything_else(home, name, content):
    read_or_told(home({name: content}))


SCRAPS = ["", " ", "\n", "  ", "\t", ":", "- ", "{", "}", "[", "]", "'", '"', "#", "&a ", "*a", "!b ",
          "~", "null", "on", "1:30", "-1 h", "1e400 h", "2026-13-01", "private", "genset", "\x00",
          "é", "0 h", "99999999999999999999", "kind: tank", "!!python/name:os.system "]  # fmt: skip


@given(
    name=st.sampled_from(list(HOME)),
    cuts=st.lists(
        st.tuples(st.floats(0, 1), st.integers(0, 12), st.sampled_from(SCRAPS)), min_size=1,
        max_size=4,
    ),
)  # fmt: skip
@settings(quick, max_examples=250)
def test_a_mutated_inventory_is_read_or_told(home, name, cuts):
    text = HOME[name]
    for place, length, scrap in cuts:
        at = int(place * len(text))
        text = text[:at] + scrap + text[at + length :]
    read_or_told(home({name: text}))


def read_or_told(made):
    try:
        read_inventory(made.site_data, as_of=AS_OF, procedures=frozenset({"genset-oil"}))
    except InventoryErrors as errors:
        assert errors.problems
        for problem in errors.problems:
            assert problem.file.startswith("site_data/")
            assert problem.found and problem.allowed and problem.fix
            assert "Traceback" not in str(problem) and "<class" not in str(problem)


def test_the_same_files_give_the_same_homestead(home):
    one, other = home().read(), home().read()
    assert one.machines == other.machines and one.log == other.log
    assert one.log.readings[0].date == date(2026, 1, 1)
