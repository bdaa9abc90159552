"""A home with results, whose inventory the tests spoil."""

import gc
import shutil

import pytest
from tests.hostile.cases import DEMO, OLD_LOGS, ROOT


@pytest.fixture(scope="session")
def demo_home(tmp_path_factory):
    """The demo's inventory with the results of an earlier build; tests put back what they change."""
    home = tmp_path_factory.mktemp("hostile")
    shutil.copytree(DEMO, home / "site_data", ignore=shutil.ignore_patterns(*OLD_LOGS))
    shutil.copy(ROOT / "mkdocs.yml", home)
    for name in ("site/index.html", "binder.pdf", "calendar.ics", "tables/log.csv", "sheets.yaml"):
        path = home / "build" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(f"the last good {name}".encode())
    gc.collect()
    gc.freeze()  # hundreds of readings follow: collecting what is there already takes half the time
    yield home
    gc.unfreeze()
