"""The reference of keys, units and words is whole: nothing of the models or figures is left out."""

import importlib
import pkgutil
import re
from collections import Counter, defaultdict
from pathlib import Path

import pytest
from pydantic import BaseModel

import steadbook.figures
from steadbook import units
from steadbook.figures import evidence, reorder, usage
from steadbook.figures.nomenclature import NOMENCLATURE
from steadbook.inventory.models import Genset, Machine, Owned
from steadbook.inventory.schema import FILES
from steadbook.pages import reference
from steadbook.workings import fuel_users, shelf, supply

HELP = Path(__file__).parents[2] / "content" / "help"
FILE_KINDS = [*FILES, "machine", "private"]


def every_section():
    for kind in FILE_KINDS:
        yield from reference.file_sections(kind)
    for kind in reference.machine_kinds():
        yield from kind.sections


def schema_keys():
    """Every (class, key) of the JSON Schemas, which pydantic makes without our help."""
    for model in FILES.values():
        schema = model.model_json_schema()
        for name, part in {**schema["$defs"], model.__name__: schema}.items():
            for key, what in part.get("properties", {}).items():
                yield name, key, what


def test_every_key_has_a_meaning():
    without = {
        (name, key)
        for name, key, what in schema_keys()
        if key != "kind" and "description" not in what
    }
    assert not without
    for section in every_section():
        for key in section.keys:
            assert key.meaning and key.form and key.needed, (section.title, key)


def test_every_key_of_the_schemas_is_in_the_reference():
    """As many keys as the schemas have, machines' common keys and notes told once."""
    told = Counter(key.name for section in every_section() for key in section.keys)
    everywhere = set(Owned.model_fields) | set(Machine.model_fields) | {"kind"}
    once = {(name, key) for name, key, _ in schema_keys()}
    wanted = Counter(key for _, key in once if key not in everywhere)
    missing = {key: n for key, n in wanted.items() if told[key] < n}
    assert not missing


def test_every_kind_of_machine_stands_on_a_page_once():
    pages = [path.read_text("utf-8") for path in HELP.glob("keys-*.md")]
    named = [
        word for text in pages for words in re.findall(r"keys\.kinds\(\[(.*?)\]\)", text)
        for word in re.findall(r'"(.*?)"', words)
    ]  # fmt: skip
    assert sorted(named) == sorted(kind.word for kind in reference.machine_kinds())


def test_every_file_of_the_inventory_stands_on_a_page_once():
    text = "".join(path.read_text("utf-8") for path in HELP.glob("keys-*.md"))
    assert sorted(re.findall(r'key_sections\("(.*?)"\)', text)) == sorted(FILE_KINDS)


def test_a_key_tells_how_it_is_written():
    (machine, *_, tasks) = (
        one
        for one in reference.file_sections("machine")
        if one.title in ("equipment: each", "tasks: each")
    )
    every = next(key for key in tasks.keys if key.name == "every")
    assert (every.form, every.examples[0], every.needed) == (
        "an interval",
        "200 h or 24 months",
        "yes",
    )
    meter = next(key for key in machine.keys if key.name == "meter")
    assert (meter.form, meter.group, meter.needed) == ("a group of keys", "meter", "no")
    plate = reference.machine_kinds()[0].sections[1]
    assert plate.title == "genset: plate"
    cooling = next(key for key in plate.keys if key.name == "cooling")
    assert cooling.form == "one of: air, liquid"


def test_links_inside_the_reference_lead_to_a_heading():
    for page in HELP.glob("keys-*.md"):
        text = page.read_text("utf-8")
        sections = [
            one
            for kind in re.findall(r'key_sections\("(.*?)"\)', text)
            for one in reference.file_sections(kind)
        ]
        words = " ".join(re.findall(r"keys\.kinds\(\[(.*?)\]\)", text))
        for kind in reference.machine_kinds():
            sections += kind.sections if f'"{kind.word}"' in words else ()
        anchors = Counter(section.anchor for section in sections)
        assert set(anchors.values()) == {1}, anchors.most_common(3)
        for section in sections:
            for key in section.keys:
                assert not key.group or key.group_anchor in anchors, (section.title, key.name)


def test_examples_of_quantities_are_read():
    """What the reference shows as an example is accepted where it is shown."""
    plate = Genset.model_fields["plate"].annotation
    for name, field in plate.model_fields.items():
        for example in reference._key(name, field, "").examples:
            assert getattr(plate.model_validate({name: example}), name) is not None


def test_every_unit_kind_has_a_row():
    rows = {row.kind: row for row in reference.unit_rows()}
    assert list(rows) == list(units.KINDS)
    for name, row in rows.items():
        for unit, others in row.spelled:
            for word in others:
                assert units.parse(f"2 {word}", name).unit == unit


def test_names_that_figures_share_are_in_the_table():
    """A name that four figures or more use with one unit is a word of the library."""
    used = defaultdict(set)
    for module in pkgutil.iter_modules(steadbook.figures.__path__):
        loaded = importlib.import_module(f"steadbook.figures.{module.name}")
        for name, figure in vars(loaded).items():
            if getattr(figure, "__module__", "") == loaded.__name__:
                for argument, unit in getattr(figure, "__units__", {}).items():
                    used[argument.replace("_", " "), unit].add((module.name, name))
    used = {pair: where for pair, where in used.items() if len(where) > 3 and pair[0] != "returns"}
    terms = {term.name.replace("-", " "): term for term in NOMENCLATURE}
    missing = {
        (name, unit) for name, unit in used
        if name not in terms or (unit and unit not in terms[name].units)
    }  # fmt: skip
    assert not missing


def test_no_word_is_told_twice():
    names = [term.name for term in NOMENCLATURE]
    assert len(set(names)) == len(names)
    assert all(term.meaning for term in NOMENCLATURE)


@pytest.mark.parametrize(
    ("page", "words"),
    [
        ("how-schedule", f"weighing {usage.YEAR_FADES_TO} of the one after"),
        ("how-schedule", f"last {usage.RECENT} days"),
        ("how-stock", f"After {reorder.FEWEST_ORDERS} orders"),
        ("how-stock", f"next {shelf.PLANNED.months} months"),
        ("how-stock", f"{supply.SERVICE_LEVEL * 100:g} of 100 lead times"),
        ("how-fuel", f"{fuel_users.APPLIANCE_DOUBT} times"),
        ("how-winter", "four years four fifths"),
    ],
)
def test_numbers_told_are_those_reckoned_with(page, words):
    assert words in " ".join((HELP / f"{page}.md").read_text("utf-8").split())
    assert evidence.weight_of_log(4.0) == pytest.approx(4 / 5)


def test_a_model_without_words_for_its_type_is_refused():
    class Strange(BaseModel):
        odd: complex = 1j

    with pytest.raises(TypeError, match="no words for"):
        reference._walk(Strange, "strange", set())


def test_what_a_page_asks_of_the_home_is_a_kind_of_machine():
    """A misspelt kind in `only_with` would leave the page out of every manual."""
    kinds = {kind.word for kind in reference.machine_kinds()}
    for page in HELP.parent.rglob("*.md"):
        for words in re.findall(r"^only_with: \[(.*)\]$", page.read_text("utf-8"), re.MULTILINE):
            for word in words.split(", "):
                kind = re.sub(r"^(spare|flooded|AGM|gel|LFP|spark|diesel|propane) ", "", word)
                assert kind in {*kinds, "starter battery", "fuel gas"}, page
