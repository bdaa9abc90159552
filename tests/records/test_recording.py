"""Records of every kind: what is written, what is refused, what it changes."""

import re

import pytest

from steadbook.errors import InventoryErrors, RecordError
from steadbook.inventory import kept, models, read_inventory
from steadbook.records import journal
from steadbook.records.changes import what_changes
from steadbook.records.kinds import KINDS
from steadbook.records.recording import record_of, write
from steadbook.workings import words, work_out

SERVICE = {
    "machine": "main-genset", "tasks": ["oil-change"], "hours": "700 h",
    "parts": {"oil-filter": "1", "engine-oil": "3 qt"}, "by": "Ann",
}  # fmt: skip


@pytest.fixture(autouse=True, params=[kept.WORTH_KEEPING, 0], ids=["read", "kept"])
def worth_keeping(request, monkeypatch):
    """Whether a year is read each time or kept from the time before: nothing else may differ."""
    monkeypatch.setattr(kept, "WORTH_KEEPING", request.param)


def _new_lines(plan):
    (one,) = plan.additions
    (put_in,) = one.insertions
    return put_in.text


def test_the_blanks_are_the_keys_of_the_log():
    """Each key of the models has its blank and the other way about."""
    for kind in KINDS.values():
        model = models.LogYear.model_fields[kind.log_key].annotation.__args__[0]
        keys = {"private" if one.shape == "price" else one.key for one in kind.blanks}
        if kind.word == "received":
            assert keys == {"supplier", "ordered", "date"}
            continue
        assert keys | {"private", "received"} == set(model.model_fields) | {"private", "received"}
        needed = {one.key for one in kind.blanks if one.is_needed} | {"date"}
        assert needed == {key for key, one in model.model_fields.items() if one.is_required()}
    assert {kind.log_key for kind in KINDS.values()} == set(models.LogYear.model_fields)


@pytest.mark.parametrize(
    ("kind", "filled", "text"),
    [
        ("service", SERVICE,
         "  - date: 2026-11-25\n    machine: main-genset\n    tasks: [oil-change]\n"
         "    hours: 700 h\n    parts: {oil-filter: 1, engine-oil: 3 qt}\n    by: Ann\n"),
        ("reading", {"machine": "main-genset", "hours": "1,100 h"},
         '  - {date: 2026-11-25, machine: main-genset, hours: "1,100 h"}\n'),
        ("run", {"machine": "main-genset", "duration": "2.5 h", "load": "4 kW"},
         "\nruns:\n  - {date: 2026-11-25, machine: main-genset, duration: 2.5 h, load: 4 kW}\n"),
        ("fuel", {"tank": "propane-tank", "amount": "90 gal", "before": "60 %", "after": "78 %",
                  "supplier": "gas", "price": {"price": "210.00 USD"}},
         "\ndeliveries:\n  - {date: 2026-11-25, tank: propane-tank, amount: 90 gal, before: 60 %, "
         "after: 78 %, supplier: gas, private: {price: 210.00 USD}}\n"),
        ("level", {"tank": "propane-tank", "level": "60 %"},
         "  - {date: 2026-11-25, tank: propane-tank, level: 60 %}\n"),
        ("order", {"supplier": "shop", "parts": {"oil-filter": "2"}, "promised": "2026-12-09"},
         "  - {date: 2026-11-25, supplier: shop, parts: {oil-filter: 2}, promised: 2026-12-09}\n"),
        ("received", {"supplier": "gas"}, "    received: 2026-11-25\n"),
        ("received", {"supplier": "shop", "ordered": "2026-10-01"}, ", received: 2026-11-25"),
        ("count", {"part": "oil-filter", "amount": "4"},
         "\ncounts:\n  - {date: 2026-11-25, part: oil-filter, amount: 4}\n"),
        ("measure", {"machine": "main-genset", "spec": "oil pressure", "value": "41 psi"},
         "\nmeasurements:\n  - {date: 2026-11-25, machine: main-genset, spec: oil pressure, value: 41 psi}\n"),
        ("event", {"text": "Storm: tree down, road closed"},
         '\nevents:\n  - {date: 2026-11-25, text: "Storm: tree down, road closed"}\n'),
    ],
)  # fmt: skip
def test_each_kind_writes_its_lines_and_nothing_else(home, log, plan, as_of, kind, filled, text):
    before = log.read_bytes()
    made = plan(kind, **filled)
    assert _new_lines(made) == text
    write(home, made, as_of)
    after = log.read_bytes()
    assert len(after) == len(before) + len(text.encode())
    assert after.replace(text.encode(), b"", 1) == before
    read_inventory(home / "site_data", as_of=as_of)


def test_another_year_begins_a_file(home, plan, as_of):
    write(home, plan("event", date="2025-03-01", text="Mud"), as_of)
    new = home / "site_data" / "log" / "2025.yaml"
    assert new.read_text("utf-8") == "# 2025\n\nevents:\n  - {date: 2025-03-01, text: Mud}\n"


def test_a_log_named_otherwise_goes_on_there(home, log, plan):
    other = log.with_name("whole-log.yaml")
    log.rename(other)
    assert plan("event", text="Mud").additions[0].change.path == other


def test_a_file_with_byte_order_mark_and_windows_lines(home, log, plan, as_of):
    log.write_bytes(b"\xef\xbb\xbf" + log.read_bytes().replace(b"\n", b"\r\n").rstrip())
    before = log.read_bytes()
    write(home, plan("level", tank="propane-tank", level="60 %"), as_of)
    line = b"  - {date: 2026-11-25, tank: propane-tank, level: 60 %}\r\n"
    assert log.read_bytes().replace(line, b"", 1) == before


def _refused(plan, kind, match, **filled):
    with pytest.raises(InventoryErrors, match=match):
        plan(kind, **filled)


def test_what_does_not_agree_with_the_inventory_is_refused(home, log, plan):
    before = log.read_bytes()
    _refused(plan, "reading",
             r"^the new entry: hours\n  found:   600 h, after 669 h on 2026-11-01\n(.|\n)*1 problem",
             machine="main-genset", hours="600 h")  # fmt: skip
    _refused(plan, "reading", r"found:   669 h, after 900 h on 2026-10-01 \(at site_data/log/2026\.yaml:4\)",
             machine="main-genset", hours="900 h", date="2026-10-01")  # fmt: skip
    _refused(plan, "reading", r"the new entry: hours\n  found:   700\n  allowed: running hours with its unit",
             machine="main-genset", hours="700")  # fmt: skip
    _refused(plan, "service", r"the new entry: tasks\[1\]\n(.|\n)*did you mean 'oil-change'",
             machine="main-genset", tasks=["oil-chang"])  # fmt: skip
    _refused(plan, "count", r"found:   an amount by volume\n  allowed: an amount by count",
             part="oil-filter", amount="2 qt")  # fmt: skip
    _refused(
        plan,
        "count",
        r"the new entry: part\n  found:   the part 'filter'",
        part="filter",
        amount="2",
    )
    _refused(plan, "run", r"the new entry: machine\n(.|\n)*'genset', which does not exist",
             machine="genset", duration="2 h")  # fmt: skip
    _refused(plan, "event", r"2026-12-01, which is in the future", text="x", date="2026-12-01")
    _refused(plan, "received", r"no open orders from garage\n  allowed: .*shop of 2026-10-01, gas of",
             supplier="garage")  # fmt: skip
    _refused(plan, "received", r"received on 2026-10-10, before the order of 2026-10-20",
             supplier="gas", date="2026-10-10")  # fmt: skip
    assert log.read_bytes() == before
    assert not list(home.glob(".steadbook/*.yaml"))


def test_what_is_missing_is_named_with_its_flag():
    with pytest.raises(InventoryErrors) as caught:
        record_of(KINDS["fuel"], {"date": "tomorrow"}, ("the new entry", 0))
    words = str(caught.value)
    assert "add --tank" in words
    assert "add --amount" in words
    assert "write year-month-day with two digits each" in words
    assert "3 problems found" in words


def test_an_entry_is_refused_a_second_time_unless_told(home, plan, as_of):
    write(home, plan("service", **SERVICE), as_of)
    changed = {**SERVICE, "hours": "700.0 h", "by": "Ben", "notes": "again"}
    _refused(plan, "service", r"in the log already, site_data/log/2026\.yaml:13\n", **changed)
    write(home, plan("service", again=True, **changed), as_of)
    plan("service", **{**SERVICE, "tasks": ["valve-lash"]})  # other work on the same day is good


def test_an_inventory_with_errors_takes_nothing(home, plan):
    (home / "site_data" / "parts.yaml").write_text("parts: {}\n")
    _refused(plan, "event", r"site_data/log/2026\.yaml:18: orders\[1\]\.parts", text="x")


def test_what_changes_is_told_before_it_is_written(plan, as_of):
    """By hand: 365 h a year is 1 h a day; 7 qt and 2 filters were counted, one visit planned."""
    made = plan("service", **SERVICE)
    lines = what_changes(made.before, made.after, as_of)
    assert lines[0].startswith("Oil change (Main genset): next due moves from ")
    assert "Engine oil: 7 qt -> 4 qt on the shelf" in "\n".join(lines)
    assert any(one.startswith("Oil filter: 2 -> 1 on the shelf") for one in lines)


def test_below_what_the_next_visit_takes(plan, as_of):
    made = plan("count", part="engine-oil", amount="2 qt")
    (line,) = what_changes(made.before, made.after, as_of)
    assert line.startswith(
        "Engine oil: 7 qt -> 2 qt on the shelf, below what the next visit takes (3 qt on "
    )
    made = plan("count", part="engine-oil", amount="70 qt")
    (line,) = what_changes(made.before, made.after, as_of)
    assert "below" not in line


def test_what_is_late_to_order_is_told(home, log, plan, as_of):
    """The oil change is due since 645 h; oil is two weeks away and none is on order."""
    log.write_text(log.read_text("utf-8").split("orders:")[0], "utf-8")
    made = plan("count", part="engine-oil", amount="2 qt", date="2026-11-24")
    (line,) = what_changes(made.before, made.after, as_of)
    assert re.search(r"; order [\d.]+ qt from The shop now \(it was to be by 1\d Nov 2026\)", line)


def test_a_stock_take_sets_the_shelf(home, plan, as_of):
    """Counted 4 on 1 November; one used on the day itself is in the count, one later is not."""
    write(home, plan("count", part="oil-filter", amount="4", date="2026-11-01"), as_of)
    for day, hours in (("2026-11-01", "670 h"), ("2026-11-10", "680 h")):
        made = plan("service", **{**SERVICE, "date": day, "hours": hours})
        lines = what_changes(made.before, made.after, as_of)
        assert ("Oil filter: 4 -> 3 on the shelf" in "\n".join(lines)) == (day == "2026-11-10")
        write(home, made, as_of)


def test_a_gauge_is_told_with_what_is_usable(plan, as_of):
    made = plan("level", tank="propane-tank", level="70 %")
    (line,) = what_changes(made.before, made.after, as_of)
    # 500 gal, 70 % less the reserve mark of 20 %
    assert line == (
        "Propane tank: 62 % on 1 Nov 2026 -> 70 % on 25 Nov 2026, 250 gal (946 L) usable"
    )


def test_cylinders_are_told_together_and_by_their_warmth(home, plan, as_of):
    fuel = home / "site_data" / "power.yaml"
    text = fuel.read_text()
    assert text.count("capacity: 500 gal") == 1
    fuel.write_text(text.replace("capacity: 500 gal", "count: 2, capacity: 45 kg"))
    made = plan("level", tank="propane-tank", level="70 %")
    (line,) = what_changes(made.before, made.after, as_of)
    # 45 kg / 0.42 = 107 L each; 2 x 107 L x (70 - 20) / 100
    assert line.endswith("-> 70 % on 25 Nov 2026, 28.3 gal (107 L) usable")
    made = plan("level", tank="propane-tank", level="70 %", temperature="0 degF")
    (line,) = what_changes(made.before, made.after, as_of)
    usable = work_out(made.after, as_of).figures["propane-tank.usable"].value
    assert line.endswith(f", {usable.replace(words.NBSP, ' ')} usable")
    # CoolProp: saturated liquid propane is 1.089 times as dense at 0 F as at 60 F
    assert float(usable.split()[0]) == pytest.approx(28.3 * 1.09, rel=0.01)


def test_of_a_day_the_gauge_after_the_delivery_counts_everywhere(plan, as_of, home):
    """500 gal: 30 %, then 60 %, then 225 gal to 80 %: (80 - 20) / 100 x 500 = 300 gal usable."""
    for level in ("30 %", "60 %"):
        write(home, plan("level", tank="propane-tank", level=level), as_of)
    made = plan("fuel", tank="propane-tank", amount="225 gal", before="35 %", after="80 %")
    line = next(one for one in what_changes(made.before, made.after, as_of) if "usable" in one)
    assert line.endswith("60 % on 25 Nov 2026 -> 80 % on 25 Nov 2026, 300 gal (1,140 L) usable")
    now = work_out(made.after, as_of)
    (reserve,), stock = now.reserves, now.fuel.of("propane-tank")
    assert reserve.level == stock.reading.level == 80
    assert now.figures["propane-tank.usable"].value.startswith("300")
    assert work_out(made.before, as_of).fuel.of("propane-tank").reading.level == 60


def test_nothing_changed_is_said(plan, as_of):
    made = plan("event", text="Mud")
    assert what_changes(made.before, made.after, as_of) == [
        "No service day, shelf or tank changes by it."
    ]


# --- taking back ---------------------------------------------------------------------------


@pytest.mark.parametrize("windows", [False, True])
def test_the_last_record_is_taken_back_to_the_byte(home, log, plan, as_of, windows):
    if windows:
        log.write_bytes(b"\xef\xbb\xbf" + log.read_bytes().replace(b"\n", b"\r\n").rstrip())
    before = log.read_bytes()
    write(home, plan("event", text="Größe ☃"), as_of)
    middle = log.read_bytes()
    write(home, plan("received", supplier="gas"), as_of)
    assert journal.take_back(home) == ["received: {date: 2026-11-25, supplier: gas}"]
    assert log.read_bytes() == middle
    with pytest.raises(RecordError, match="nothing to take back"):
        journal.take_back(home)
    assert middle != before


def test_a_new_file_is_taken_away_again(home, plan, as_of):
    write(home, plan("event", date="2025-03-01", text="Mud"), as_of)
    journal.take_back(home)
    assert not (home / "site_data" / "log" / "2025.yaml").exists()


def test_a_file_changed_since_is_left_alone(home, log, plan, as_of):
    write(home, plan("event", text="Mud"), as_of)
    log.write_bytes(log.read_bytes() + b"# mine\n")
    edited = log.read_bytes()
    with pytest.raises(RecordError, match=r"changed since the last record(.|\n)*by hand"):
        journal.take_back(home)
    assert log.read_bytes() == edited
    assert journal.journal_file(home).exists()


@pytest.mark.parametrize("words", ["what: [", "- a\n", "what: []\n", "files: 3\nwhat: []\n"])
def test_notes_that_somebody_spoiled_are_told(home, log, plan, as_of, words):
    write(home, plan("event", text="Mud"), as_of)
    after = log.read_bytes()
    journal.journal_file(home).write_text(words)
    with pytest.raises(RecordError, match="notes that cannot be read"):
        journal.take_back(home)
    assert log.read_bytes() == after


def test_the_journal_is_for_people(home, plan, as_of):
    write(home, plan("level", tank="propane-tank", level="60 %"), as_of)
    words = journal.journal_file(home).read_text("utf-8")
    assert "steadbook undo" in words
    assert "level: {date: 2026-11-25, tank: propane-tank, level: 60 %}" in words
    assert "site_data/log/2026.yaml" in words


def test_a_log_changed_between_plan_and_writing_is_planned_anew(home, log, plan, as_of):
    made = plan("event", text="Mud")
    log.write_bytes(log.read_bytes() + b"# mine\n")
    write(home, made, as_of)
    words = log.read_text("utf-8")
    assert words.endswith("# mine\n\nevents:\n  - {date: 2026-11-25, text: Mud}\n")


@pytest.mark.parametrize("text", ["a\x1fb", "a\x00", "\x85"])
def test_what_cannot_be_seen_is_refused_at_its_key(plan, text):
    with pytest.raises(InventoryErrors, match=r"text\n  found:   a control character"):
        plan("event", text=text)
    plan("event", text="a\ttab, two\nlines")
