"""Which box stands where batteries are worked on: acid, lithium or both, by their chemistry."""

import re
from datetime import date

import pytest

from steadbook.making import made_manual

AS_OF = date(2026, 11, 25)
ACID, SHORT, COLD = "hold acid", "A lithium battery can give", "charged below freezing is damaged"
POWER = """\
title: Power
equipment:
  genset: {{kind: genset, name: Genset, hazards: [battery]}}
  loader: {{kind: small engine, name: Loader, hazards: [battery]}}
  spare-battery: {{kind: other, name: The spare, hazards: [battery]}}
  inverter: {{kind: inverter, name: Inverter, hazards: [battery]}}
  controller: {{kind: other, name: Controller, hazards: [battery]}}
{banks}"""
BANK = """\
  {name}:
    kind: battery bank
    name: Bank {name}
    hazards: [battery, lifting]
    plate: {{voltage: 24 V, capacity: 400 Ah{chemistry}}}
    tasks:
      dust: {{title: Wipe it, every: 1 month}}
"""


@pytest.fixture
def pages(home):
    """The pages of a home with banks of these chemistries."""

    def made(*chemistries, edition="owner"):
        banks = [
            BANK.format(
                name=f"bank-{(word or 'none').lower()}",
                chemistry=f", chemistry: {word}" * bool(word),
            )
            for word in chemistries
        ]
        place = home({"power.yaml": POWER.format(banks="".join(banks))})
        for log in (place.site_data / "log").glob("*.yaml"):
            log.unlink()
        manual = made_manual(place.folder, as_of=AS_OF, edition=edition).manual
        return {page.path: page.markdown for page in manual.pages}

    return made


def boxes(text):
    return tuple(words in text for words in (ACID, SHORT, COLD))


BANK_PAGES = ("machines/power/inverter", "machines/power/controller", "procedures/inverter-restart",
              "procedures/black-start")  # fmt: skip
STARTERS = ("machines/power/genset", "machines/power/loader", "machines/power/spare-battery")


@pytest.mark.parametrize(
    ("chemistries", "told"),
    [
        (["LFP"], (False, True, True)),
        (["flooded"], (True, False, False)),
        ([""], (True, False, False)),
        (["LFP", "gel"], (True, True, True)),
    ],
)
def test_work_on_the_banks_has_the_boxes_of_their_chemistries(pages, chemistries, told):
    found = pages(*chemistries)
    for path in BANK_PAGES:
        (text,) = [text for key, text in found.items() if key.startswith(path)]
        assert boxes(text) == told, path
        assert ("rotten eggs" in text) == (told[0] and "restart" in path), path
    for path in STARTERS:
        assert boxes(found[f"{path}.md"]) == (True, False, False), path


def test_each_bank_has_the_box_of_its_own(pages):
    found = pages("LFP", "flooded")
    assert boxes(found["machines/power/bank-lfp.md"]) == (False, True, True)
    assert boxes(found["machines/power/bank-flooded.md"]) == (True, False, False)
    assert boxes(found["procedures/cold-lithium.md"]) == (False, True, True)


def test_ice_and_acid_are_not_told_of_where_there_is_none(pages):
    text = pages("LFP")["procedures/black-start.md"]
    assert not re.search("lead-acid|frozen|flooded", text)
    assert "**If below freezing:** do not charge." in text


def test_the_sitter_of_a_lithium_bank_smells_no_rotten_eggs(pages):
    (text,) = [t for p, t in pages("LFP", edition="sitter").items() if "inverter-restart" in p]
    assert "a lithium battery is failing" in text
    assert "rotten eggs" not in text
    assert re.search(r"(?m)^2\. Write down", text)


def test_no_table_of_care_without_a_row(pages):
    text = pages("LFP")["power/battery-care.md"]
    assert "Care that is due" not in text
    assert boxes(text) == (False, True, True)
