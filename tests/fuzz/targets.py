"""What may be fed with anything: each takes a text and must end well or with an error of ours."""

import tempfile
from datetime import date
from functools import cache
from pathlib import Path

from steadbook import units
from steadbook.errors import InventoryErrors, PageError, QuantityError, RecordError
from steadbook.inventory import read_inventory
from steadbook.inventory.fields import Season, read_date
from steadbook.inventory.read import Map, Seq, as_read, line_of, read_text
from steadbook.pages.environment import environment, render
from steadbook.records.batch import read_rows

DAY = date(2026, 11, 25)
HOME = {
    "homestead.yaml": "name: A place\nwhere: Here\nlatitude: 45\nlongitude: -110\nelevation: 900 m\n",
    "suppliers.yaml": "suppliers:\n  shop: {name: The shop, lead_time: 2 weeks}\n",
    "parts.yaml": "parts:\n  oil: {name: Oil, supplier: shop, on_hand: 5 qt, counted: 2026-01-01}\n",
    "power.yaml": (
        "title: Power\nequipment:\n  genset:\n    kind: genset\n    name: Genset\n"
        "    meter: {installed_at: 0 h}\n    specs:\n      drain plug: {torque: 26 lbf*ft}\n"
        "    tasks:\n      oil: {title: Oil, every: 200 h or 24 months, parts: {oil: 2 qt}}\n"
    ),
    "log/2026.yaml": "readings:\n  - {date: 2026-01-01, machine: genset, hours: 9 h}\n",
}


def loader(text: str) -> None:
    """The reader: its problems have a line of the text, its tree knows the line of every key."""
    tree, problems = read_text(text, "site_data/power.yaml")
    last = len(text.splitlines()) + 1
    assert isinstance(tree, Map)
    assert all(0 <= problem.line <= last for problem in problems), problems
    assert all("\n" not in str(one).split("\n  found:")[0] for one in problems)
    _check_lines(tree, last)


def _check_lines(tree: object, last: int) -> None:
    if isinstance(tree, Map):
        assert tree.keys() == tree.lines.keys()
        for key, value in tree.items():
            assert 1 <= line_of(tree, (key,)) <= last
            _check_lines(value, last)
    elif isinstance(tree, Seq):
        assert len(tree) == len(tree.lines)
        for value in tree:
            _check_lines(value, last)


@cache
def _home() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="fuzz-")) / "site_data"
    for name, text in HOME.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return folder


@cache
def _files():
    return read_inventory(_home(), as_of=DAY).files


def inventory(text: str) -> None:
    """A whole inventory with one file, named in the first line, that holds the rest of the text."""
    name, _, text = text.partition("\n")
    path = _home() / (name if name in HOME else "power.yaml")
    try:
        read_inventory(
            _home(),
            as_of=DAY,
            changed={path: as_read(text, path.relative_to(_home().parent).as_posix())},
            known=_files(),
        )
    except InventoryErrors as errors:
        for one in errors.problems:
            assert one.found and one.allowed and one.fix, one
            assert len(str(one).splitlines()) == 4, str(one)


def quantities(text: str) -> None:
    """Every kind of quantity: what is read can be shown, and what was shown reads as the same."""
    for kind in units.KINDS:
        try:
            found = units.parse(text, kind)
        except QuantityError as error:
            assert str(error)
            continue
        for system in ("us", "metric"):
            assert units.show(found, system)
        assert units.parse(found.text, kind) == found
    for read in (units.parse_interval, units.parse_calendar, read_date, Season.read):
        try:
            read(text)
        except QuantityError as error:
            assert str(error)


def csv_rows(text: str) -> None:
    """A sheet to record from."""
    path = _home().parent / "rows.csv"
    path.write_bytes(text.encode("utf-8", "surrogateescape"))
    try:
        _, problems = read_rows(path)
    except RecordError as error:
        assert str(error)
        return
    except InventoryErrors as errors:
        problems = errors.problems
    for one in problems:
        assert one.found and one.allowed and one.fix, one
        assert len(str(one).splitlines()) == 4, str(one)


def template(text: str) -> None:
    """A page of the home's own. Products and powers are left out: their size is the owner's affair."""
    if "*" in text or "~" in text or "%" in text.replace("{%", "").replace("%}", ""):
        return
    folder = _home().parent / "content"
    folder.mkdir(exist_ok=True)
    (folder / "own.md").write_text(f"---\ntitle: x\n---\n{text}", "utf-8", errors="replace")
    try:
        made = environment([folder], None)
        render(made, "own.md", {"machine": {"name": "a|b"}, "numbers": [1, 2.5], "day": DAY})
    except PageError as error:
        assert error.file == "content/own.md" and error.found, error


TARGETS = {
    "loader": loader,
    "inventory": inventory,
    "quantities": quantities,
    "csv": csv_rows,
    "template": template,
}
