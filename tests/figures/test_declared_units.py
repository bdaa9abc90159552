"""The units a figure declares are those in the brackets of its docstring."""

import importlib
import inspect
import pkgutil
import re

import pytest

from steadbook import figures

PARAMETER = re.compile(r"^(\w+) : .*\n((?: {4}.*\n?)+)", re.MULTILINE)
BRACKET = re.compile(r"\[([^\]]+)\]\s*$")


def _declared():
    for module in pkgutil.iter_modules(figures.__path__):
        if module.name.startswith("_"):
            continue
        loaded = importlib.import_module(f"{figures.__name__}.{module.name}")
        for name, figure in inspect.getmembers(loaded, inspect.isfunction):
            if figure.__module__ == loaded.__name__ and hasattr(figure, "__units__"):
                yield pytest.param(figure, id=f"{module.name}.{name}")


def _unit(text):
    found = BRACKET.search(text.strip())
    return found[1] if found else ""


@pytest.mark.parametrize("figure", list(_declared()))
def test_docstring_and_declaration_agree(figure):
    text = inspect.getdoc(figure)
    given, returned = text.split("Parameters\n----------\n")[1].split("\nReturns\n-------\n")
    described = {name: _unit(words) for name, words in PARAMETER.findall(given + "\n")}
    described["returns"] = _unit(returned.split("\n\n")[0])
    declared = dict.fromkeys([*inspect.signature(figure).parameters, "returns"], "")
    assert described == declared | figure.__units__
    assert "Source:" in text
