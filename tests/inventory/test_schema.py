"""The JSON Schema for editors: whole, valid, and of one mind with the models."""

import json

import jsonschema
import pytest
import yaml
from tests.conftest import HOME

from steadbook.inventory.models import FILES
from steadbook.inventory.schema import KINDS_OF_FILE, schema_text

FILE_OF = {
    "homestead": "homestead.yaml", "suppliers": "suppliers.yaml", "parts": "parts.yaml",
    "system": "power.yaml", "log": "log/2026.yaml",
}  # fmt: skip


class AsWritten(yaml.SafeLoader):
    """What an editor sees, but for dates, which it keeps as text."""


AsWritten.yaml_implicit_resolvers = {
    first: [one for one in resolvers if one[0] != "tag:yaml.org,2002:timestamp"]
    for first, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def validator(name):
    schema = json.loads(schema_text(name))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def test_every_kind_of_file_has_one():
    assert set(FILE_OF) == set(FILES) <= set(KINDS_OF_FILE)


@pytest.mark.parametrize("name", FILES)
def test_it_is_a_valid_schema_and_takes_a_good_file(name):
    found = list(validator(name).iter_errors(yaml.load(HOME[FILE_OF[name]], AsWritten)))
    assert not found, [(error.json_path, error.message) for error in found]


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("system", "power: 8 kW", "powr: 8 kW"),
        ("system", "26 lbf*ft", "26"),
        ("system", "kind: genset", "kind: gensett"),
        ("system", "  genset:", "  Gen_Set:"),
        ("system", "    name: Genset\n", ""),
        ("homestead", "latitude: 45.0", "latitude: 95"),
        ("homestead", "elevation: 3000 ft", "elevation: 3000"),
        ("log", "date: 2026-01-01", "date: 1/1/2026"),
        ("suppliers", "    lead_time: 2 weeks\n", ""),
    ],
)
def test_an_editor_marks_what_reading_would_refuse(name, old, new):
    text = HOME[FILE_OF[name]]
    assert old in text
    assert list(validator(name).iter_errors(yaml.load(text.replace(old, new), AsWritten)))


@pytest.mark.parametrize("name", KINDS_OF_FILE)
def test_the_text_is_the_same_each_time_and_says_what_it_is_for(name):
    assert schema_text(name) == schema_text(name)
    schema = json.loads(schema_text(name))
    assert schema["title"] == KINDS_OF_FILE[name]
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema_text(name).endswith("}\n")
