"""The starter tasks read as an inventory would read them."""

from collections import Counter
from importlib import resources

import pytest
import yaml
from pydantic import TypeAdapter

from steadbook.inventory.fields import Name
from steadbook.inventory.models import Machine, Task
from steadbook.units import parse_interval

TEXT = resources.files("steadbook").joinpath("starter_tasks.yaml").read_text(encoding="utf-8")
KINDS = yaml.safe_load(TEXT)
TASKS = [
    pytest.param(kind, name, task, id=f"{kind}.{name}")
    for kind, entry in KINDS.items()
    for name, task in entry["tasks"].items()
]
BRANDLESS_SOURCES = (
    "common practice", "NFPA", "IEEE", "US EPA", "US CDC", "US CPSC", "49 CFR", "FEMA",
    "Water Systems Council", "TM ", "makers' figures",
)  # fmt: skip


def test_there_are_about_forty_kinds():
    assert len(KINDS) >= 35
    assert len(TASKS) >= 100


def test_no_key_is_written_twice():
    class Strict(yaml.SafeLoader):
        def construct_mapping(self, node, deep=False):
            keys = Counter(self.construct_object(key) for key, _ in node.value)
            assert not [key for key, count in keys.items() if count > 1]
            return super().construct_mapping(node, deep)

    yaml.load(TEXT, Loader=Strict)


@pytest.mark.parametrize("kind", KINDS)
def test_kind(kind):
    entry = KINDS[kind]
    assert set(entry) <= {"title", "place", "hazards", "tasks"}
    TypeAdapter(Name).validate_python(kind)
    Machine(name=entry["title"], place=entry["place"], hazards=entry.get("hazards", []))
    for name in entry["tasks"]:
        TypeAdapter(Name).validate_python(name)


@pytest.mark.parametrize(("kind", "name", "task"), TASKS)
def test_task(kind, name, task):
    own = {key: value for key, value in task.items() if key != "steps"}
    read = Task(**own)
    assert read.minutes is not None and read.source
    assert task.get("steps", False) is False
    assert read.source.startswith(BRANDLESS_SOURCES)
    if read.season:  # a season only bends an interval counted by the calendar
        assert read.every.calendar is not None


@pytest.mark.parametrize(
    ("kind", "name", "every", "source"),
    [
        ("fire-extinguisher", "look", "1 month", "NFPA 10 (2010) 7.2"),
        ("fire-extinguisher", "service", "12 months", "NFPA 10 (2010) 7.3"),
        ("fire-extinguisher", "internal", "6 years", "NFPA 10 (1998) 4-4.3"),
        ("fire-extinguisher", "hydrostatic", "12 years", "NFPA 10 table 8.3.1"),
        ("smoke-alarm", "test", "1 month", "NFPA 72"),
        ("smoke-alarm", "replace", "10 years", "NFPA 72 29.10"),
        ("chimney", "inspection", "1 year", "NFPA 211 14.2.1"),
        ("propane-cylinder", "requalify", "5 years", "49 CFR 180.209"),
        ("septic-tank", "look", "3 years", "US EPA SepticSmart"),
        ("septic-tank", "pump-out", "5 years", "US EPA SepticSmart"),
        ("stored-water", "change", "6 months", "FEMA"),
        ("uv-lamp", "lamp", "9000 h or 12 months", "common practice"),
    ],
)
def test_published_interval(kind, name, every, source):
    task = KINDS[kind]["tasks"][name]
    assert parse_interval(task["every"]) == parse_interval(every), source
    assert task["source"].startswith(source)
