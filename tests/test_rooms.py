"""The house itself: imports go one way, starting is light, figures say their units and sources."""

import ast
import importlib
import inspect
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from packaging.version import Version

import steadbook
from steadbook import errors

ROOT = Path(steadbook.__file__).parent
REPOSITORY = Path(__file__).parents[1]

# --- imports go one way -------------------------------------------------------------------

BEFORE_PAGES = {"errors", "units", "inventory", "figures", "workings"}
MAY_IMPORT = {
    "figures": {"errors", "units", "figures"},
    "inventory": {"errors", "units", "inventory"},
    "workings": BEFORE_PAGES,
    "pages": BEFORE_PAGES | {"content", "pages"},
    "records": {
        "errors",
        "units",
        "inventory",
        "figures",
        "workings",
        "content",
        "making",
        "records",
    },
}
NEVER = {"bind": {"cli", "records"}}


def rooms_imported(path):
    """(line, room) of every import of another room, also of those inside functions."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: imports are absolute"
            if node.module == "steadbook":
                names = [f"steadbook.{alias.name}" for alias in node.names]
            else:
                names = [node.module or ""]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        for name in names:
            if name.startswith("steadbook."):
                yield node.lineno, name.split(".")[1]


def files_of(room):
    found = sorted((ROOT / room).rglob("*.py"))
    assert found
    return found


@pytest.mark.parametrize("room", MAY_IMPORT)
def test_a_room_imports_only_what_lies_before_it(room):
    strays = [
        f"{path.relative_to(ROOT)}:{line} imports {other}"
        for path in files_of(room)
        for line, other in rooms_imported(path)
        if other not in MAY_IMPORT[room]
    ]
    assert not strays


@pytest.mark.parametrize("room", NEVER)
def test_binding_knows_neither_the_commands_nor_the_records(room):
    strays = [
        f"{path.relative_to(ROOT)}:{line} imports {other}"
        for path in files_of(room)
        for line, other in rooms_imported(path)
        if other in NEVER[room]
    ]
    assert not strays


def test_errors_and_units_know_nothing_of_the_house():
    for name in ("errors.py", "units.py"):
        path = ROOT / name if (ROOT / name).exists() else ROOT / name.removesuffix(".py")
        for one in [path] if path.is_file() else sorted(path.rglob("*.py")):
            assert {room for _, room in rooms_imported(one)} <= {"errors", "units"}, one


@pytest.mark.parametrize("room", ["figures", "inventory", "workings", "pages"])
def test_the_clock_comes_in_from_outside(room):
    strays = [
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path in files_of(room)
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Attribute)
        and node.attr in ("today", "now", "utcnow")
        and ast.unparse(node.value).split(".")[-1] in ("date", "datetime", "time")
    ]
    assert not strays


# --- starting is light --------------------------------------------------------------------

HEAVY = (
    "pandas",
    "matplotlib",
    "pint",
    "scipy",
    "pvlib",
    "fluids",
    "mkdocs",
    "plutoprint",
    "jinja2",
)


def loaded_after(code):
    told = f"{code}\nimport sys\nprint(*sorted(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", told], capture_output=True, text=True, check=True, timeout=60
    )
    return set(done.stdout.split())


def test_the_package_alone_loads_almost_nothing():
    found = loaded_after("import steadbook")
    assert not found & {*HEAVY, "numpy", "pydantic", "yaml"}


def test_reading_and_working_out_load_no_heavy_library():
    found = loaded_after(
        "import steadbook\nsteadbook.read_inventory, steadbook.work_out, steadbook.Workings"
    )
    assert "steadbook.workings" in found
    assert not found & set(HEAVY)


# --- the public names ---------------------------------------------------------------------


def test_the_public_names_are_sorted_and_there():
    assert steadbook.__all__ == sorted(steadbook.__all__)
    for name in steadbook.__all__:
        assert getattr(steadbook, name) is not None
    assert dir(steadbook) == steadbook.__all__


def test_every_error_is_public():
    raised = [
        name
        for name, one in vars(errors).items()
        if inspect.isclass(one) and issubclass(one, errors.SteadbookError)
    ]
    assert set(raised) <= set(steadbook.__all__)
    drawn = re.findall(r"(?:├── |└── |^ *)([A-Z]\w+)", errors.__doc__, re.MULTILINE)
    assert set(raised) <= set(drawn), "the tree in the docstring of errors.py"


def test_the_version_is_the_packages():
    project = tomllib.loads((REPOSITORY / "pyproject.toml").read_text("utf-8"))
    oldest = project["tool"]["hatch"]["version"]["fallback-version"]
    assert Version(steadbook.__version__) >= Version(oldest)


def test_another_name_is_an_error():
    with pytest.raises(AttributeError, match="module 'steadbook' has no attribute 'nothing'"):
        _ = steadbook.nothing


# --- figures say their units and sources --------------------------------------------------

MODULES = sorted(
    path.stem for path in (ROOT / "figures").glob("*.py") if not path.stem.startswith("_")
)


def public_functions(module):
    found = importlib.import_module(f"steadbook.figures.{module}")
    return [
        (name, one)
        for name, one in vars(found).items()
        if inspect.isfunction(one) and not name.startswith("_") and one.__module__ == found.__name__
    ]


FUNCTIONS = [
    pytest.param(function, id=f"{module}.{name}")
    for module in MODULES
    for name, function in public_functions(module)
]


def sections(doc):
    """The docstring's numpy sections by title."""
    parts = re.split(r"^(\w[\w ]*)\n-{3,}$", inspect.cleandoc(doc), flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def bracketed(section):
    """By name, the unit in the last brackets of each entry of a section; None where there is none."""
    found = {}
    for head, body in re.findall(r"^(\S[^\n]*)\n((?:[ ]{4}[^\n]*\n?|\n)*)", section, re.MULTILINE):
        units = re.findall(r"\[([^\[\]]*)\]", body)
        for name in head.split(" : ")[0].split(", "):
            found[name.strip(" *`")] = units[-1] if units else None
    return found


@pytest.mark.parametrize("function", FUNCTIONS)
def test_a_figure_names_its_source(function):
    assert re.search(r"^\s*Source: \S", function.__doc__ or "", re.MULTILINE)


@pytest.mark.parametrize(
    "function", [one for one in FUNCTIONS if hasattr(one.values[0], "__units__")]
)
def test_docstring_and_declared_units_agree(function):
    declared = dict(function.__units__)
    returns = declared.pop("returns")
    assert set(declared) <= set(inspect.signature(function).parameters)
    told = sections(function.__doc__)
    parameters = bracketed(told.get("Parameters", ""))
    for name, unit in declared.items():
        assert name in parameters, f"{name} is declared but not described"
        assert (parameters[name] or "") == unit, name
    brackets = {name: unit for name, unit in parameters.items() if unit and name not in declared}
    assert not brackets, "described with a unit but not declared"
    if returns:
        assert f"[{returns}]" in told.get("Returns", function.__doc__), "Returns"


# --- words --------------------------------------------------------------------------------

# The folder, the words of a random source, the hints to other tools.
ALLOWED = re.compile(
    r"generator/|\"generator\"|'generator'|random\.Generator|Generator\b|config\.extra|extra\.generator"
)
TEXTS = (".py", ".md", ".yaml", ".yml", ".jinja", ".html", ".css", ".toml")


def test_the_engine_driven_machine_is_a_genset():
    word = re.compile(r"\bgenerators?\b", re.IGNORECASE)
    strays = []
    for folder in ("generator", "content", "site_data", "tests"):
        for path in sorted((REPOSITORY / folder).rglob("*")):
            if path.suffix not in TEXTS or path == Path(__file__):
                continue
            for number, line in enumerate(path.read_text("utf-8").splitlines(), 1):
                if word.search(ALLOWED.sub("", line)):
                    strays.append(f"{path.relative_to(REPOSITORY)}:{number}: {line.strip()[:80]}")
    assert not strays
