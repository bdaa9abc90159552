"""What only the owner may see never reaches another edition."""

import pickle
from datetime import date

import pytest

from steadbook.inventory.read import Map, line_of, read_text
from steadbook.inventory.redact import EDITIONS, grant_problems, handed_out, redact

SECRETS = ["AC-7788", "trade price", "SN-0001", "4200", "1234#", "owes us", "back door"]


@pytest.fixture
def full(home):
    made = home()
    made.change("homestead.yaml", "phone: 555-0100}", 'phone: 555-0100, private: {code: "1234#"}}')
    made.change(
        "log/2026.yaml", "hours: 100 h}", "hours: 100 h, private: {notes: he owes us a day}}"
    )
    made.change("parts.yaml", "on_hand: 1,", "on_hand: 1, private: {kept: behind the back door},")
    return made


def told(inventory):
    """All that a page could reach, as one text."""
    return repr(inventory) + repr(pickle.dumps((inventory.machines, inventory.log)))


def test_the_owner_sees_it(full):
    everything = told(full.read())
    for secret in SECRETS:
        assert secret in everything


@pytest.mark.parametrize("edition", ["sitter", "technician"])
def test_another_edition_never_receives_it(full, edition):
    everything = told(full.read(edition=edition))
    for secret in SECRETS:
        assert secret not in everything
    assert "555-0100" in everything


@pytest.mark.parametrize("edition", EDITIONS)
def test_lines_stay_where_they_were(full, edition):
    inventory = full.read(edition=edition)
    line = full.line("power.yaml", "drain plug: {")
    where = inventory.files.where(inventory.machines["genset"], "specs", "drain plug")
    assert where == f"site_data/power.yaml:{line}"


def test_errors_in_a_private_part_are_the_owners(full):
    full.change("power.yaml", "price: 4200 USD", "price: 4200 dollars")
    assert full.problem().key == "equipment.genset.private.price"
    full.read(edition="sitter")


def test_the_tree_itself_is_left_as_it_was():
    tree, _ = read_text("a: 1\nprivate: {b: 2}\nc:\n  - {private: 3, d: 4}\n", "a.yaml")
    lean = redact(tree, "sitter")
    assert tree["private"] == {"b": "2"}
    assert lean == {"a": "1", "c": [{"d": "4"}]}
    assert isinstance(lean, Map) and line_of(lean, ("c", 0, "d")) == 4
    assert redact(tree, "owner") is tree


GRANT = "visible: {code: {to: sitter, first_day: 2026-12-01, last_day: 2026-12-14}}"


def with_grant(home, grant=GRANT):
    made = home()
    made.write(
        "homestead.yaml",
        (made.site_data / "homestead.yaml").read_text()
        + f'private:\n  code: "4471#"\n  notes: under the stone\n  {grant}\n',
    )
    return made


@pytest.mark.parametrize(
    ("day", "edition", "is_shown"),
    [
        ("2026-11-30", "sitter", False),
        ("2026-12-01", "sitter", True),
        ("2026-12-07", "sitter", True),
        ("2026-12-14", "sitter", True),
        ("2026-12-15", "sitter", False),
        ("2027-12-07", "sitter", False),
        ("2026-12-07", "technician", False),
    ],
)
def test_a_code_handed_out_is_seen_by_its_reader_on_its_days_alone(home, day, edition, is_shown):
    inventory = with_grant(home).read(edition=edition, as_of=date.fromisoformat(day))
    assert ("4471#" in told(inventory)) == is_shown
    assert "under the stone" not in told(inventory)
    assert (inventory.place.private is not None) == is_shown


def test_without_a_day_nothing_is_handed_out(home):
    assert "4471#" not in told(with_grant(home).read(edition="sitter", as_of=None))


@pytest.mark.parametrize(
    "grant",
    [
        "visible: {code: {to: sitter, first_day: 2026-12-1, last_day: 2026-12-14}}",
        "visible: {code: {to: sitter, first_day: 2026-12-01}}",
        "visible: {code: {to: sitters, first_day: 2026-12-01, last_day: 2026-12-14}}",
        "visible: {code: sitter}",
        "visible: code",
        "visible: {private: {to: sitter, first_day: 2026-12-01, last_day: 2026-12-14}}",
    ],
)
def test_a_slip_in_the_grant_hides(home, grant):
    tree, _ = read_text(f'private:\n  code: "4471#"\n  {grant}\n', "a.yaml")
    assert redact(tree, "sitter", date(2026, 12, 7)) == {}


def test_a_price_is_never_handed_out(home):
    text = "a:\n  private:\n    price: 5 USD\n    visible: {price: {to: technician, first_day: 2026-01-01, last_day: 2026-12-31}}\n"
    tree, _ = read_text(text, "a.yaml")
    assert redact(tree, "technician", date(2026, 6, 1)) == {"a": {}}
    (problem,) = grant_problems("a.yaml", tree)
    assert (problem.line, problem.key) == (4, "a.private.visible.price")
    assert problem.found == "'price', which no other edition may show"


def test_a_grant_names_what_stands_beside_it(home):
    problem = with_grant(home, GRANT.replace("{code:", "{codes:")).problem()
    assert problem.found == "'codes', which this private part does not hold"
    assert problem.fix == "did you mean 'code'?"
    assert problem.key == "private.visible.codes"


def test_a_grant_that_ends_before_it_begins(home):
    problem = with_grant(home, GRANT.replace("12-14", "11-14")).problem()
    assert problem.found == "a last day 2026-11-14, before the first day 2026-12-01"


def test_what_was_handed_out_can_be_listed(home):
    inventory = with_grant(home).read(edition="sitter", as_of=date(2026, 12, 7))
    tree = inventory.files.trees["site_data/homestead.yaml"]
    assert list(handed_out(tree)) == [((), "code", "4471#", "2026-12-14")]
