"""The talk at the terminal: short, with what is known as the default, and patient."""

import pytest

from steadbook.records.dialogue import fill
from steadbook.records.kinds import KINDS
from steadbook.records.recording import read_home
from steadbook.workings import work_out


@pytest.fixture
def talk(home, as_of):
    """Fills in a kind of record from a list of answers; returns it with what was said."""
    workings = work_out(read_home(home, as_of), as_of)

    def make(word, answers, **given):
        waiting, said = list(answers), []

        def ask(question):
            said.append(question)
            return waiting.pop(0)

        filled = fill(KINDS[word], given, workings, ask, said.append)
        assert not waiting, waiting
        return filled, "\n".join(said)

    return make


def test_a_service_takes_few_words(talk):
    filled, said = talk("service", ["", "gen", "oil", "1,000 h", "", "", ""])
    assert filled == {
        "date": "2026-11-25", "machine": "main-genset", "tasks": ["oil-change"],
        "hours": "1,000 h", "parts": {"engine-oil": "3 qt", "oil-filter": "1"}, "by": "Ann",
    }  # fmt: skip
    assert "Last reading 669 h on 1 Nov 2026." in said
    assert "oil-change, valve-lash" in said
    assert "[engine-oil=3 qt, oil-filter=1]" in said


def test_what_is_given_is_not_asked(talk):
    filled, said = talk("level", ["60 %"], tank="propane-tank", date="2026-11-24")
    assert filled == {"tank": "propane-tank", "date": "2026-11-24", "level": "60 %"}
    assert "Last gauge 62 % on 1 Nov 2026." in said


def test_a_machine_without_a_meter_is_not_asked_for_hours(talk):
    _, said = talk("service", ["", "x"], machine="propane-tank", tasks=["look"], parts={}, by="Ann")
    assert "Hour meter" not in said


def test_an_answer_that_cannot_be_read_is_asked_again(talk):
    filled, said = talk(
        "reading", ["yesterday", "2026-12-01", "2026-11-24", "boat", "gen", "", "700", "700 h"]
    )
    assert filled == {"date": "2026-11-24", "machine": "main-genset", "hours": "700 h"}
    assert "write year-month-day" in said
    assert "a day up to 2026-11-25" in said
    assert "main-genset, propane-tank" in said  # what there is, since nothing is near `boat`
    assert "This one is needed." in said
    assert "running hours with its unit" in said


def test_a_dash_leaves_it_out(talk):
    filled, _ = talk("service", ["", "gen", "oil", "-", "-", "-", "-"])
    assert set(filled) == {"date", "machine", "tasks"}


def test_orders_begin_with_what_is_short(talk):
    filled, said = talk("order", ["", "shop", "", ""])
    assert "Parts ordered" in said
    assert set(filled["parts"]) <= {"engine-oil", "oil-filter"}
    filled, _ = talk("received", ["", "gas"])
    assert filled == {"date": "2026-11-25", "supplier": "gas"}


def test_a_name_may_be_a_part_of_just_one(talk):
    _, said = talk("count", ["", "i", "filter", "2"])
    assert "engine-oil, oil-filter" in said


def test_a_title_is_as_good_as_a_name(talk):
    filled, _ = talk("reading", ["2026-11-24", "Main genset", "700 h"])
    assert filled["machine"] == "main-genset"
