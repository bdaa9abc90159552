"""The commands: words, exit status, and never a traceback."""

import json
import re
import shutil
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

from steadbook.cli import main

ROOT = Path(__file__).parents[1]
AS_OF = ["--as-of", "2026-11-25"]


@pytest.fixture
def home(tmp_path, capsys):
    """A home as `steadbook new` makes it."""
    folder = tmp_path / "place"
    assert main(["new", str(folder), *AS_OF]) == 0
    capsys.readouterr()
    return folder


def test_help_is_understood_by_a_newcomer(capsys):
    with pytest.raises(SystemExit) as left:
        main(["--help"])
    assert left.value.code == 0
    words = capsys.readouterr().out
    for command in ("new", "check", "due", "build", "serve", "schema"):
        assert re.search(rf"^ +{command}\b", words, re.MULTILINE)


def test_a_new_home_checks_and_builds_at_once(home, capsys):
    assert main(["check", "--home", str(home), *AS_OF]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Good: 5 machines, 3 tasks, 2 parts, ")
    assert "to look at" not in said
    assert main(["build", "--home", str(home), *AS_OF]) == 0
    words = capsys.readouterr().out
    assert str(home / "build" / "site" / "index.html") in words
    assert re.search(r"Binder: +\S+binder\.pdf \(\d+ sheets\)", words)
    assert (
        "Tasks:   2 coming up (of 3 tasks and 4 dates of units)" in words
    )  # no scare for a newcomer
    assert re.search(r"Done in \d+\.\d s, worked out for 2026-11-25", words)


@pytest.mark.parametrize("day", ["2026-01-03", "2026-03-01", "2027-12-31", "2028-02-29"])
def test_a_new_home_is_dated_around_the_day_it_is_made(tmp_path, capsys, day):
    folder = tmp_path / "place"
    assert main(["new", str(folder), "--as-of", day]) == 0
    assert [one.stem for one in (folder / "site_data/log").iterdir()] == [day[:4]]
    assert main(["due", "--all", "--home", str(folder), "--as-of", day]) == 0
    said = capsys.readouterr().out
    assert "past due" not in said and "no record" not in said
    assert "oil" in said


def test_a_new_home_never_writes_over_another(home, capsys):
    before = sorted(home.rglob("*"))
    assert main(["new", str(home)]) == 2
    assert "a folder that is in use already" in capsys.readouterr().err
    assert sorted(home.rglob("*")) == before


def test_due_lists_the_pressing_first(capsys):
    assert main(["due", "--home", str(ROOT), *AS_OF]) == 0
    lines = capsys.readouterr().out.splitlines()
    while lines[-1].startswith("Fuel for "):  # below the count, which is of tasks
        lines.pop()
    assert lines[0].split() == ["STATUS", "MACHINE", "TASK", "DUE", "ORDER", "BY"]
    assert lines[1].startswith("past due")
    words = [line[:9].strip() for line in lines[1:] if line and not line[0].isdigit()]
    order = ["past due", "no record", "due now", "order now", "coming up"]
    assert [order.index(word) for word in words] == sorted(order.index(word) for word in words)
    told = re.findall(r"(\d+) ([a-z ]+?)(?:,| \()", lines[-1])
    assert {word: int(count) for count, word in told} == Counter(words)


def test_what_is_ticked_on_the_sheet_of_the_rounds_is_named_only_among_all(capsys):
    assert main(["due", "--home", str(ROOT), *AS_OF]) == 0
    assert "Before bed" not in capsys.readouterr().out
    assert main(["due", "--home", str(ROOT), *AS_OF, "--all"]) == 0
    ticked = [line for line in capsys.readouterr().out.splitlines() if "Before bed" in line]
    assert len(ticked) == 1 and ticked[0].startswith("on rounds") and "every 1 day" in ticked[0]


def test_a_second_look_at_what_is_due_loads_no_array_library():
    """Numpy and scipy take longer to load than all the rest of it."""
    look = (
        "import sys; from steadbook.cli import main; "
        f"assert main(['due', '--home', {str(ROOT)!r}, '--as-of', '2026-11-25']) == 0; "
        "print(*sorted({name.split('.')[0] for name in sys.modules}), file=sys.stderr)"
    )
    for _ in range(2):  # the first may have winters to make
        run = subprocess.run(
            [sys.executable, "-c", look], capture_output=True, text=True, check=True
        )
    loaded = set(run.stderr.split())
    assert "pydantic" in loaded
    assert not loaded & {"numpy", "scipy", "pandas", "matplotlib", "mkdocs", "jinja2"}


def test_due_fails_for_scripts_only_when_asked(home, capsys):
    late = ["--as-of", "2027-03-01"]
    assert main(["due", "--home", str(home), *late]) == 0
    assert main(["due", "--home", str(home), *late, "--fail-if-past-due"]) == 1
    assert main(["due", "--home", str(home), *AS_OF, "--fail-if-past-due"]) == 0
    log = home / "site_data/log/2026.yaml"
    text = log.read_text()
    log.write_text("\n".join(line for line in text.splitlines() if "exercise-run" not in line))
    late = ["--as-of", "2026-11-26"]  # never recorded, and its day is over
    assert main(["due", "--home", str(home), *late, "--fail-if-past-due"]) == 1


def test_errors_are_told_without_a_traceback(home, capsys):
    power = home / "site_data/power.yaml"
    power.write_text(
        power.read_text().replace("26 lbf*ft", "26").replace("gap: 0.030 in", "gap: 0.030 kg")
    )
    assert main(["build", "--home", str(home), *AS_OF]) == 2
    words = capsys.readouterr().err
    assert "Traceback" not in words
    assert "found:   26\n  allowed: a torque with its unit, such as 26 lbf*ft or 35 N*m" in words
    assert "site_data/power.yaml:21: equipment.main-genset.specs.drain plug.torque" in words
    assert "specs.spark plug.gap" in words
    assert "2 problems found" in words


def test_a_folder_that_is_no_home_is_told(tmp_path, capsys):
    assert main(["due", "--home", str(tmp_path)]) == 2
    assert "steadbook new DIR" in capsys.readouterr().err


def test_a_bad_date_is_a_wrong_call(capsys):
    with pytest.raises(SystemExit) as left:
        main(["due", "--as-of", "2026-02-30"])
    assert left.value.code == 2
    assert "that day does not exist" in capsys.readouterr().err


def test_schema_is_json_schema_of_each_file(tmp_path, capsys):
    assert main(["schema", "system"]) == 0
    schema = json.loads(capsys.readouterr().out)
    assert schema["properties"]["equipment"]
    assert "torque" in json.dumps(schema)
    assert main(["schema", "--out", str(tmp_path)]) == 0
    assert len(list(tmp_path.glob("*.schema.json"))) == 7


def test_the_readme_s_error_is_the_one_given(tmp_path, capsys):
    """What the README shows is what the program says."""
    shown = re.search(
        r"```\n(site_data/power\.yaml:9: .*?)```", (ROOT / "README.md").read_text(), re.S
    )
    (tmp_path / "site_data").mkdir()
    (tmp_path / "site_data/homestead.yaml").write_text(
        "name: A\nwhere: B\nlatitude: 45\nlongitude: -110\nelevation: 900 m\n"
    )
    example = re.search(r"```yaml\n(.*?)```", (ROOT / "README.md").read_text(), re.S).group(1)
    text = "title: Power\nequipment:\n" + "".join(f"  {line}\n" for line in example.splitlines())
    (tmp_path / "site_data/power.yaml").write_text(text.replace("26 lbf*ft", "26"))
    assert main(["check", "--home", str(tmp_path), *AS_OF]) == 2
    said = capsys.readouterr().err
    parts = [line.strip() for line in shown.group(1).splitlines()]
    assert parts[1:] == [line.strip() for line in said.splitlines()[1:4]]
    assert parts[0].split(": ", 1)[1] == said.splitlines()[0].split(": ", 1)[1]


def test_every_command_of_the_readme_exists():
    text = (ROOT / "README.md").read_text()
    for command in set(re.findall(r"steadbook (\w+)", text)):
        if command in ("turns", "is"):
            continue
        with pytest.raises(SystemExit) as left:
            main([command, "--help"])
        assert left.value.code == 0, command


def test_a_home_may_hold_spaces_and_accents(tmp_path, capsys):
    folder = tmp_path / "Ferme d'hiver à l'écart"
    shutil.copytree(ROOT / "generator/steadbook/starter", folder)
    assert main(["build", "--home", str(folder), *AS_OF]) == 0
