"""Hundreds of bad inventories: each is told in full, none is built, none costs the last results."""

import pytest
from tests.hostile.cases import AS_OF, DEMO, cases_by_hand, cases_by_rule, told_problems, tree_hash

from steadbook.cli import main

CASES = [*cases_by_rule(DEMO), *cases_by_hand(DEMO)]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_bad_inventory_is_told_and_not_built(case, demo_home, capsys):
    path = demo_home / "site_data" / case.file
    good = path.read_bytes()
    before = tree_hash(demo_home / "build")
    assert case.content != good
    try:
        if case.content is None:
            path.unlink()
        else:
            path.write_bytes(case.content)
        status = main(["build", "--home", str(demo_home), *AS_OF])
    finally:
        path.write_bytes(good)
    said = capsys.readouterr()
    assert status == 2
    problems = [one for one in told_problems(said.err) if not one["warning"]]
    assert case.says in said.err
    assert said.err.isprintable() or all(c.isprintable() or c == "\n" for c in said.err)
    assert tree_hash(demo_home / "build") == before
    if case.line != 0:
        assert all(int(one["line"]) >= 1 for one in problems)
        here = [one for one in problems if one["file"] == f"site_data/{case.file}"]
        if case.line is not None:
            here = [one for one in here if int(one["line"]) == case.line]
        assert here, said.err
        assert all(int(one["line"]) <= len(case.content.splitlines()) + 1 for one in here)


def test_there_are_hundreds_of_different_ones():
    assert len(CASES) >= 300
    assert len({(case.file, case.content) for case in CASES}) >= 300
    assert len({case.file for case in CASES}) >= 12
