"""JSON Schema of the inventory files, made from the models, for editors."""

from __future__ import annotations

import json
from typing import Any

from steadbook.inventory.climate import Climate, WhatIf
from steadbook.inventory.models import FILES as FIRST_FILES

FILES = {**FIRST_FILES, "climate": Climate, "what-if": WhatIf}

KINDS_OF_FILE = {
    "homestead": "site_data/homestead.yaml: the place, its people, how the manual is printed",
    "suppliers": "site_data/suppliers.yaml: who sells parts and fuel",
    "parts": "site_data/parts.yaml: what is kept on the shelf",
    "climate": "site_data/climate.yaml: weather by month, the load, when the genset runs",
    "what-if": "site_data/what-if.yaml: changes to compare with today",
    "system": "any other file in site_data, such as power.yaml: machines and their tasks",
    "log": "site_data/log/YYYY.yaml: readings, services, deliveries, orders",
}


def schema_text(name: str) -> str:
    """The schema of one kind of file, as JSON text."""
    schema = FILES[name].model_json_schema()
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = KINDS_OF_FILE[name]
    _close(schema)
    return json.dumps(schema, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def _close(schema: Any) -> None:
    """Groups whose keys follow a pattern take no other key."""
    if isinstance(schema, dict) and "patternProperties" in schema:
        schema["additionalProperties"] = False
    for inner in schema.values() if isinstance(schema, dict) else schema:
        if isinstance(inner, dict | list):
            _close(inner)
