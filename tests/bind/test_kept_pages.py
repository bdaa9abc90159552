"""Pages kept from one build of the site to the next: never stale, never a warning lost."""

import shutil
from datetime import date

import pytest
from mkdocs.structure.pages import Page

from steadbook.bind.results import make_site
from steadbook.errors import BindError
from steadbook.making import made_manual
from steadbook.starting import start_home

DAY = date(2026, 3, 1)


@pytest.fixture(scope="module")
def made_once(tmp_path_factory):
    """A new home with two pages of its own, its site made once."""
    folder = tmp_path_factory.mktemp("made") / "place"
    start_home(folder, DAY)
    own = folder / "content"
    own.mkdir()
    (own / "one.md").write_text("---\ntitle: One\ntab: Help\n---\n[two](two.md#here)\n")
    (own / "two.md").write_text("---\ntitle: Two\ntab: Help\n---\n## Here\n")
    return folder, _site(folder, "first", strict=True)


@pytest.fixture
def first(made_once):
    """The files of the first site."""
    return made_once[1]


@pytest.fixture
def home(made_once, tmp_path):
    """The home as the first site left it."""
    return shutil.copytree(made_once[0], tmp_path / "place")


@pytest.fixture
def converted(monkeypatch):
    """The paths of the pages that MkDocs converts."""
    paths = []
    plain = Page.render

    def render(page, config, files):
        paths.append(page.file.src_uri)
        plain(page, config, files)

    monkeypatch.setattr(Page, "render", render)
    return paths


def _site(home, name, strict=False):
    made = made_manual(home, as_of=DAY)
    make_site(home, made, home / name, edition="owner", as_of=DAY, strict=strict)
    return {
        one.relative_to(home / name): one.read_bytes()
        for one in (home / name).rglob("*")
        if one.is_file()
    }


def _kept(home):
    return home / "build" / ".kept" / "site-owner"


def test_a_second_site_converts_nothing_and_has_the_same_bytes(home, first, converted):
    assert _site(home, "two") == first
    assert converted == []


def test_only_the_pages_that_changed_are_converted_again(home, first, converted):
    power = home / "site_data" / "power.yaml"
    power.write_text(power.read_text().replace("name: Main genset", "name: Barn genset"))
    second = _site(home, "two")
    named = [path for path, page in second.items() if b"Barn genset" in page]
    assert named and 0 < len(converted) < sum(path.suffix == ".html" for path in second)
    shutil.rmtree(_kept(home))
    assert _site(home, "three") == second


def test_a_page_less_leaves_no_link_to_it_unsaid(home, converted):
    (home / "content" / "two.md").unlink()
    for name in ("two", "three"):  # the second time from what is kept
        with pytest.raises(BindError, match=r"two\.md"):
            _site(home, name, strict=True)


def test_an_anchor_that_went_is_told_though_the_page_with_the_link_is_kept(home, converted):
    two = home / "content" / "two.md"
    two.write_text(two.read_text().replace("## Here", "## There"))
    with pytest.raises(BindError, match="#here"):
        _site(home, "two", strict=True)
    assert "two.md" in converted and "one.md" not in converted


def test_what_is_spoilt_is_converted_again(home, first, converted):
    for number, file in enumerate(_kept(home).iterdir()):
        content = file.read_bytes()
        file.write_bytes((b"", b"[1]", content[:-5], content[:9])[number % 4])
    assert _site(home, "two") == first
    assert len(converted) > 20


def test_pages_that_went_are_not_kept(home):
    count = len(list(_kept(home).iterdir()))
    (home / "content" / "one.md").unlink()
    _site(home, "two")
    assert len(list(_kept(home).iterdir())) == count - 1


def test_foreign_extensions_keep_nothing(home, converted):
    """They may read files of their own: nobody knows when their pages are stale."""
    settings = home / "mkdocs.yml"
    settings.write_text(settings.read_text() + "\nmarkdown_extensions:\n  - footnotes\n")
    shutil.rmtree(_kept(home))
    _site(home, "two")
    assert len(converted) > 20 and not _kept(home).exists()


def test_a_folder_that_cannot_be_written_costs_nothing_but_time(home, first, converted):
    shutil.rmtree(home / "build" / ".kept")
    (home / "build" / ".kept").write_text("in the way")
    assert _site(home, "two") == first
