"""What only the owner may see never reaches another edition."""

import pickle

import pytest

from steadbook.inventory.read import Map, line_of, read_text
from steadbook.inventory.redact import EDITIONS, redact

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
