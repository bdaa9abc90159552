"""A kept year is the year as reading it afresh gives it, whatever happened to any file since."""

import os
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from steadbook.errors import InventoryErrors
from steadbook.inventory import kept, load
from steadbook.inventory.year import LISTS

OLD, NEW = "log/2025.yaml", "log/2026.yaml"
OLD_YEAR = """\
readings:
  - {date: 2025-01-01, machine: genset, hours: 50 h}
  - date: 2025-02-01
    machine: genset
    hours: 60.0 h
    notes: cold
services:
  - {date: 2025-02-01, machine: genset, tasks: [oil-change], parts: {oil-filter: 1, engine-oil: 2.5 qt}}
  - {date: 2025-03-01, machine: genset, tasks: [annual-service], by: Ann, hours: "65 h"}
runs:
levels: []
deliveries:
  - date: 2025-03-01
    tank: tank
    amount: 120 gal
    after: 80 %
    private:
      price: 310.50 USD
      code: 4471
      ticket: T 7
      visible: {code: {to: sitter, first_day: 2026-01-01, last_day: 2026-12-31}}
orders:
  - {date: 2025-01-01, supplier: parts-shop, parts: {oil-filter: 2}, received: 2025-01-09}
counts:
  - {date: 2025-01-20, part: engine-oil, amount: 5 qt}
measurements:
  - {date: 2025-01-20, machine: genset, spec: oil pressure, value: 41 psi}
events:
  - {date: 2025-01-21, text: "A storm: the line is down"}
"""


@pytest.fixture(autouse=True)
def every_year_is_worth_keeping(monkeypatch):
    monkeypatch.setattr(kept, "WORTH_KEEPING", 0)


@pytest.fixture
def two_years(home, tmp_path):
    made = home({OLD: OLD_YEAR})
    return made, tmp_path / "kept"


def told(home, **options):
    """All that reading a home gives: its entries as they show themselves and where they stand."""
    try:
        homestead = home.read(**options)
    except InventoryErrors as errors:
        return [str(problem) for problem in errors.problems]
    log = homestead.log
    entries = [(key, one) for key in LISTS for one in getattr(log, key)]
    return (
        [(key, repr(one), sorted(one.model_fields_set)) for key, one in entries],
        [
            homestead.files.where(one, key)
            for _, one in entries
            for key in sorted(one.model_fields_set)
        ],
        [(name, tree, tree.lines) for name, tree in homestead.files.trees.items()],
        homestead.warnings,
    )


def files_read(monkeypatch):
    """The names of the files whose text is read from now on."""
    names = []
    true = load.read_text
    monkeypatch.setattr(
        load, "read_text", lambda text, name: names.append(name) or true(text, name)
    )
    return names


def test_the_second_time_no_year_is_read(two_years, monkeypatch):
    home, folder = two_years
    first = home.read(kept=folder)
    names = files_read(monkeypatch)
    second = home.read(kept=folder)
    assert not [name for name in names if "log" in name]
    assert first.log == second.log
    assert second.log.deliveries[0].private.price.text == "310.50 USD"
    assert second.files.where(second.log.readings[1], "notes") == f"site_data/{OLD}:6"
    assert [name for name in names if "log" in name] == [f"site_data/{OLD}"]  # for its line alone


def test_what_is_kept_tells_the_same(two_years):
    home, folder = two_years
    fresh = told(home)
    assert told(home, kept=folder) == fresh
    assert told(home, kept=folder) == fresh


EDITS = {
    "an entry of an old year": (OLD, "hours: 60.0 h", "hours: 61.0 h"),
    "only how a quantity is written": (OLD, "hours: 60.0 h", "hours: 60.00 h"),
    "a unit": (OLD, "hours: 60.0 h", "hours: 3600 min"),
    "a unit that does not fit": (OLD, "amount: 120 gal", "amount: 120 lb"),
    "a meter that runs back": (OLD, "hours: 60.0 h", "hours: 40 h"),
    "a year after that runs back": (NEW, "hours: 100 h", "hours: 55 h"),
    "a key that is none": (OLD, "notes: cold", "note: cold"),
    "no YAML": (OLD, "levels: []", "levels: ["),
    "the order of the lines": (OLD, "runs:\nlevels: []", "levels: []\nruns:"),
    "a comment, which moves all lines": (OLD, "readings:", "# old\nreadings:"),
    "a machine's name": ("power.yaml", "  genset:", "  main-genset:"),
    "a task's name": ("power.yaml", "annual-service", "yearly-service"),
    "a part's name": ("parts.yaml", "oil-filter: {", "filter: {"),
    "how a part is counted": ("parts.yaml", "on_hand: 5 qt", "on_hand: 5"),
    "the meter": ("power.yaml", "    meter: {installed_at: 0 h}\n", "    # none\n"),
    "a supplier's name": ("suppliers.yaml", "  parts-shop:", "  the-shop:"),
}


@pytest.mark.parametrize("file, old, new", EDITS.values(), ids=EDITS)
def test_an_edit_is_seen_though_the_file_keeps_its_time(two_years, file, old, new):
    home, folder = two_years
    before = told(home, kept=folder)
    path = home.site_data / file
    times = path.stat().st_atime_ns, path.stat().st_mtime_ns
    home.change(file, old, new)
    os.utime(path, ns=times)
    after = told(home, kept=folder)
    assert after == told(home)
    assert after != before
    home.change(file, new, old)
    assert told(home, kept=folder) == before


def test_a_file_that_is_gone_or_renamed(two_years):
    home, folder = two_years
    told(home, kept=folder)
    (home.site_data / OLD).rename(home.site_data / "log" / "first.yaml")
    moved = told(home, kept=folder)
    assert moved == told(home)
    assert "site_data/log/first.yaml:2" in moved[1]
    (home.site_data / "log" / "first.yaml").unlink()
    assert told(home, kept=folder) == told(home)


def test_a_day_that_lies_in_the_future_of_an_earlier_day(two_years):
    home, folder = two_years
    told(home, kept=folder)
    day = date(2025, 2, 15)
    assert "which is in the future" in told(home, kept=folder, as_of=day)[0]
    assert told(home, kept=folder, as_of=day) == told(home, as_of=day)


@pytest.mark.parametrize("spoil", [
    lambda data: b"",
    lambda data: data[: len(data) // 2],
    lambda data: data[:-1],
    lambda data: data.replace(b"genset", b"tenset"),
    lambda data: b"{}",
    lambda data: b"[" * 100_000,
    lambda data: data.partition(b"\n")[2],
], ids=["empty", "half", "short", "changed", "other", "nested", "headless"])  # fmt: skip
def test_what_is_spoilt_is_read_again(two_years, spoil):
    home, folder = two_years
    fresh = told(home, kept=folder)
    for path in folder.iterdir():
        path.write_bytes(spoil(path.read_bytes()))
    assert told(home, kept=folder) == fresh
    assert told(home, kept=folder) == fresh


def test_sound_but_of_another_form(two_years):
    home, folder = two_years
    fresh = told(home, kept=folder)
    for body in (
        b"null",
        b"[]",
        b'{"values":[],"lists":{"levels":[{"keys":[],"places":[3],"columns":[]}]}}',
    ):
        for path in folder.iterdir():
            path.write_bytes(kept.hashlib.sha256(body).hexdigest().encode() + b"\n" + body)
        assert told(home, kept=folder) == fresh


def test_what_another_version_kept_is_not_found(two_years, monkeypatch):
    home, folder = two_years
    told(home, kept=folder)
    monkeypatch.setattr(kept, "_reader", lambda: b"another version")
    names = files_read(monkeypatch)
    home.read(kept=folder)
    assert f"site_data/{OLD}" in names


def test_every_file_of_the_reading_code_counts():
    inventory = os.path.dirname(kept.__file__)
    read = {path.name for path in kept.sources()}
    assert {name for name in os.listdir(inventory) if name.endswith(".py")} <= read
    assert {"reading.py", "grammar.py", "conversion.py", "errors.py"} <= read


def test_other_editions_never_meet_what_is_kept(two_years, monkeypatch):
    home, folder = two_years
    home.read(kept=folder)
    names = files_read(monkeypatch)
    sitter = home.read(kept=folder, edition="sitter")
    assert sitter.log.deliveries[0].private.price is None
    assert f"site_data/{OLD}" in names


def test_nothing_is_kept_of_a_year_with_errors(two_years):
    home, folder = two_years
    home.change(OLD, "hours: 60.0 h", "hours: 60.0")
    assert told(home, kept=folder) == told(home)
    assert [path.name.split(".")[0] for path in folder.iterdir()] == ["2026"]


def test_a_short_year_is_not_kept(two_years, monkeypatch):
    home, folder = two_years
    monkeypatch.setattr(kept, "WORTH_KEEPING", 20_000)
    home.read(kept=folder)
    assert not folder.exists()


def test_only_the_last_two_states_of_a_year_are_kept(two_years):
    home, folder = two_years
    for hours in range(61, 66):
        home.read(kept=folder)
        home.write(OLD, OLD_YEAR.replace("60.0 h", f"{hours} h"))
    home.read(kept=folder)
    assert len(list(folder.glob("2025.*"))) == 2
    assert len(list(folder.glob("2026.*"))) == 1


def test_where_nothing_can_be_kept_all_is_read(two_years):
    home, folder = two_years
    folder.write_text("a file where the folder would be")
    assert told(home, kept=folder) == told(home)


# --- any year -------------------------------------------------------------------------------

DAYS = st.dates(date(2025, 3, 2), date(2025, 12, 31)).map(str)
CHARACTERS = st.characters(codec="utf-8", exclude_categories=["C"])
TEXTS = st.text(CHARACTERS, max_size=12).map(
    lambda text: '"x' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
)
LEVELS = st.sampled_from(["60 %", "60.0 %", "7 %"])
AMOUNTS = st.sampled_from(["2.5 qt", "1 L", "2 1/2 qt"])


def entries(needed, others):
    """Entries of one list as flow maps, with all needed keys and any of the others."""
    one = st.fixed_dictionaries({"date": DAYS, **needed}, optional={"notes": TEXTS, **others}).map(
        lambda keys: "{" + ", ".join(f"{key}: {value}" for key, value in keys.items()) + "}"
    )
    return st.lists(one, max_size=5)


PRIVATE = st.tuples(TEXTS, st.sampled_from(["3 USD", "3.00 USD"])).map(
    lambda pair: f"{{notes: {pair[0]}, price: {pair[1]}, other: {pair[0]}}}"
)
YEARS = st.fixed_dictionaries({}, optional={
    "services": entries(
        {"machine": st.just("genset"), "tasks": st.just("[oil-change]")},
        {"parts": AMOUNTS.map(lambda one: f"{{engine-oil: {one}}}"), "by": TEXTS, "private": PRIVATE},
    ),
    "levels": entries({"tank": st.just("tank"), "level": LEVELS}, {
        "temperature": st.sampled_from(["40 degF", "5 degC"])
    }),
    "deliveries": entries({"tank": st.just("tank"), "amount": st.just("100 gal")}, {
        "before": LEVELS, "after": LEVELS, "private": PRIVATE,
    }),
    "measurements": entries(
        {"machine": st.just("genset"), "spec": TEXTS, "value": TEXTS}, {"at": TEXTS}
    ),
    "events": entries({"text": TEXTS}, {"machine": st.just("genset")}),
})  # fmt: skip


def is_kept(made, folder):
    return kept.KeptYears(folder).find("2025", (made.site_data / OLD).read_text()) is not None


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(YEARS, YEARS)
def test_any_year_and_any_other_year_after_it(home, tmp_path, one, other):
    made = home()
    folder = tmp_path / "kept"
    for year in (one, other):
        made.write(OLD, "".join(
            f"{key}:\n" + "".join(f"  - {entry}\n" for entry in listed)
            for key, listed in year.items()
        ) or "# nothing\nevents:\n")  # fmt: skip
        fresh = told(made)
        assert told(made, kept=folder) == fresh
        assert is_kept(made, folder)
        assert told(made, kept=folder) == fresh
