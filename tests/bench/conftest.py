"""Ratios are measured only when asked for: other work on the machine would make them lie.

``python -m pytest tests/bench -n 0 -s`` measures and prints them.
"""

from pathlib import Path

import pytest

HERE = Path(__file__).parent


def pytest_collection_modifyitems(config, items):
    if any("bench" in argument for argument in config.args):
        return
    skip = pytest.mark.skip(reason="ratios: run python -m pytest tests/bench -n 0 -s")
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(skip)
