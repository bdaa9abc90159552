"""Pages from workings: complete, and exact about what is wrong with a template."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from steadbook.errors import InventoryErrors, PageError
from steadbook.making import made_manual
from steadbook.pages.escape import as_text

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)


@pytest.fixture
def place(tmp_path):
    """A small home with one genset and a content folder of its own."""
    data = tmp_path / "site_data"
    data.mkdir()
    (tmp_path / "content").mkdir()
    (data / "homestead.yaml").write_text(
        "name: Small place\nwhere: Here\nlatitude: 45\nlongitude: -110\nelevation: 900 m\n"
    )
    (data / "power.yaml").write_text(
        "title: Power\n"
        "equipment:\n"
        "  big:\n"
        "    kind: genset\n"
        "    name: Big | <b>genset</b>\n"
        "    installed: 2025-01-31\n"
        "    specs:\n"
        "      drain plug: {torque: 26 lbf*ft}\n"
        "    tasks:\n"
        "      look: {title: Look at it, every: 13 months}\n"
    )
    return tmp_path


def page_of(home: Path, text: str, name: str = "own.md") -> str:
    path = home / "content" / name
    path.parent.mkdir(exist_ok=True)
    path.write_text(text)
    manual = made_manual(home, as_of=DAY).manual
    return next(page.markdown for page in manual.pages if page.path == name)


HEAD = "---\ntitle: Own\ntab: Own\n---\n"


def test_a_page_of_the_home_is_added(place):
    text = page_of(place, HEAD + "Worked out for {{ day(as_of) }} at {{ home.name }}.\n")
    assert text == "# Own\n\nWorked out for 25\u00a0Nov\u00a02026 at Small place.\n"


def test_a_page_of_the_home_replaces_the_shipped_one(place):
    (place / "content" / "index.md").write_text(HEAD + "Mine alone.\n")
    manual = made_manual(place, as_of=DAY).manual
    assert [p.markdown for p in manual.pages if p.path == "index.md"] == ["# Own\n\nMine alone.\n"]


def test_a_number_comes_from_the_inventory_in_both_systems(place):
    text = page_of(place, HEAD + '{{ spec(machines.big, "drain plug", "torque") }}\n')
    assert "26\u00a0lbf·ft (35\u00a0N·m)" in text


def test_data_is_escaped_in_a_table(place):
    text = page_of(place, HEAD + "| A |\n|---|\n| {{ machines.big.name }} |\n")
    assert "| Big &#124; &#60;b&#62;genset&#60;/b&#62; |" in text


@pytest.mark.parametrize(
    ("template", "line", "found", "fix"),
    [
        ("Line one\n{{ no_such_name }}\n", 6, "'no_such_name' is undefined", "correct the name"),
        ("{{ home.nmae }}\n", 5, "has no attribute 'nmae'", "correct the name"),
        ("a\nb\n{% for %}\n", 7, "Expected", "correct the template"),
        (
            '{{ spec(machines.big, "oil plug") }}\n',
            5,
            "the spec 'oil plug', which big does not have (it has drain plug)",
            "add it under `specs:` of big in site_data/power.yaml",
        ),
        (
            '{{ spec(machines.big, "drain plug", "gap") }}\n',
            5,
            "the gap of the spec 'drain plug' of big, which is not given",
            "add `gap:` to 'drain plug' in site_data/power.yaml",
        ),
        (
            '{{ fig("big.look.deu") }}\n',
            5,
            "the figure 'big.look.deu'",
            "did you mean 'big.look.due'?",
        ),
        ('{{ caution("carbon") }}\n', 5, "the caution 'carbon'", "carbon monoxide"),
        ('{{ link("nowhere.md") }}\n', 5, "a link to nowhere.md", "correct the path"),
    ],
)
def test_a_page_that_is_wrong_tells_file_line_and_fix(place, template, line, found, fix):
    with pytest.raises(PageError) as caught:
        page_of(place, HEAD + template)
    assert caught.value.file == "content/own.md"
    assert caught.value.line == line
    assert found in caught.value.found
    assert fix in caught.value.fix


@pytest.mark.parametrize(
    "template",
    [
        "{{ ''.__class__.__mro__ }}",
        "{{ home.__init__.__globals__ }}",
        "{{ show.__func__.__globals__ }}",
        "{{ cycler.__init__.__globals__.os }}",
        "{{ self._TemplateReference__context }}",
        "{{ ''|attr('__class__') }}",
        "{{ lipsum.__globals__['os'].popen('id').read() }}",
        "{{ (1).__class__.__base__.__subclasses__() }}",
        "{% include '/etc/passwd' %}",
        "{% include '../site_data/homestead.yaml' %}",
        "{% import '../../pyproject.toml' as x %}",
    ],
)
def test_a_template_reaches_neither_python_nor_files(place, template):
    with pytest.raises(PageError):
        page_of(place, HEAD + template + "\n")


def test_front_matter_that_is_wrong_is_told(place):
    with pytest.raises(InventoryErrors) as caught:
        page_of(place, "---\ntitel: Own\ntab: Own\n---\nText\n")
    problem = next(p for p in caught.value.problems if "titel" in p.found)
    assert (problem.file, problem.line) == ("content/own.md", 2)
    assert problem.fix == "did you mean 'title'?"
    with pytest.raises(PageError, match="no front matter"):
        page_of(place, "Text\n")


def test_every_page_of_the_demo_is_made_for_every_edition(tmp_path, demo_copy):
    home = demo_copy(tmp_path)
    for edition in ("owner", "sitter", "technician"):
        manual = made_manual(home, as_of=DAY, edition=edition).manual
        assert len(manual.pages) > 5
        for page in manual.pages:
            assert page.markdown.startswith(f"# {as_text(page.title)}"), page.path
            if not page.path.startswith("help/"):  # help shows how templates are written
                assert "{{" not in page.markdown and "{%" not in page.markdown, page.path
            assert "None" not in page.markdown.split(), page.path


def test_a_home_with_next_to_nothing_makes_its_manual(tmp_path):
    data = tmp_path / "site_data"
    data.mkdir()
    (data / "homestead.yaml").write_text(
        "name: Bare\nwhere: Here\nlatitude: 45\nlongitude: -110\nelevation: 900 m\n"
    )
    manual = made_manual(tmp_path, as_of=DAY).manual
    assert any("Nothing is due now" in page.markdown for page in manual.pages)


def test_the_same_input_gives_the_same_pages_and_drawings(place):
    first = made_manual(place, as_of=DAY).manual
    (place / "build").rename(place / "build-old")
    second = made_manual(place, as_of=DAY).manual
    assert first == second


def test_only_the_page_of_today_changes_because_a_day_passed(tmp_path, demo_copy):
    """Else every sheet of the binder would be printed anew each day."""
    home = demo_copy(tmp_path)
    days = [made_manual(home, as_of=day).manual for day in (DAY, DAY + timedelta(days=1))]
    before, after = ({page.path: page.markdown for page in manual.pages} for manual in days)
    assert before.keys() == after.keys()
    assert [path for path in before if before[path] != after[path]] == ["index.md"]


def test_hours_today_are_told_as_the_meter_shows_them(place):
    """By hand: half an hour a day, so 4.5 h in the 9 days since."""
    power = place / "site_data" / "power.yaml"
    power.write_text(
        power.read_text()
        .replace("2025-01-31", "2026-10-17")
        .replace("    specs:", "    meter: {installed_at: 90 h}\n    specs:")
    )
    (place / "site_data" / "log").mkdir()
    year = place / "site_data" / "log" / "2026.yaml"
    year.write_text(
        "readings:\n"
        "  - {date: 2026-11-06, machine: big, hours: 100 h}\n"
        "  - {date: 2026-11-16, machine: big, hours: 105 h}\n"
    )
    row = "| {} on 16\u00a0Nov\u00a02026 | {} | "
    plain = row.format("105\u00a0h", "110\u00a0h")
    assert plain in today(place)
    year.write_text(
        "readings:\n"
        "  - {date: 2026-11-06, machine: big, hours: 0 h, old_meter: 100 h}\n"
        "  - {date: 2026-11-16, machine: big, hours: 5 h}\n"
    )
    both = "9.5\u00a0h; 110\u00a0h with its meters before"
    assert row.format("5.0\u00a0h", both) in today(place)


def today(home: Path) -> str:
    manual = made_manual(home, as_of=DAY).manual
    return next(page.markdown for page in manual.pages if page.path == "index.md")
