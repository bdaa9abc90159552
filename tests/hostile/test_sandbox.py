"""A page of the home's own cannot read files, write them, or reach what Python is made of.

Endless loops and huge texts are the owner's own affair: the page is his, and he can stop the build.
"""

import pickle
import resource
from datetime import date

import pytest

from steadbook.content import content_folders
from steadbook.errors import PageError
from steadbook.making import worked_out
from steadbook.pages.environment import environment, render
from steadbook.pages.front_matter import read_content
from steadbook.pages.vocabulary import Vocabulary
from steadbook.starting import start_home

SECRET = "s3cret-of-another-file"
PICKLED = repr(pickle.dumps(date(2000, 1, 1), 0).decode("latin-1"))

ESCAPES = [
    # up to the root of all classes, and down to something that runs programs
    "{{ ''.__class__.__mro__[1].__subclasses__() }}",
    "{{ ().__class__.__base__.__subclasses__() }}",
    "{{ [].__class__ }}",
    "{{ machine.__class__.__init__.__globals__ }}",
    "{{ fig.__self__ }}",
    "{{ fig.__func__.__globals__['Path']('SECRET').read_text() }}",
    "{{ fig.__globals__ }}",
    "{{ show.__code__.co_consts }}",
    "{{ lipsum.__globals__['os'].popen('id').read() }}",
    "{{ cycler.__init__.__globals__.os.popen('id').read() }}",
    "{{ joiner.__init__.__globals__ }}",
    "{{ namespace.__init__.__globals__ }}",
    "{{ self.__init__.__globals__ }}",
    "{{ self._TemplateReference__context }}",
    "{{ self._TemplateReference__context.environment.loader.folders }}",
    "{{ loop.__class__ }}",
    "{% for one in [1] %}{{ loop._iterator.gi_frame }}{{ loop.__class__.__mro__ }}{% endfor %}",
    "{% macro m() %}{% endmacro %}{{ m._func.__globals__ }}",
    "{% macro m() %}{{ caller.__globals__ }}{% endmacro %}{% call m() %}{% endcall %}",
    # by the filters that take names
    "{{ ''|attr('__class__') }}",
    "{{ machine|attr('__dict__') }}",
    "{{ ['']|map(attribute='__class__')|list }}",
    "{{ [machine]|map(attribute='__class__.__mro__')|list }}",
    "{% for a, b in ['']|groupby('__class__') %}{{ a.__mro__ }}{% endfor %}",
    "{{ ['']|map('attr', '__class__')|list }}",
    "{{ ['']|selectattr('__class__')|map('attr', '__class__')|list }}",
    "{{ ''['__class__'] }}",
    "{{ machine['__class__'] }}",
    "{{ ''|attr('__cla' ~ 'ss__') }}",
    "{{ ''['\\x5f\\x5fclass\\x5f\\x5f'] }}",
    # by formatting
    "{{ '{0.__class__}'.format(machine) }}",
    "{{ '{0.__class__.__init__.__globals__}'.format(fig) }}",
    "{{ '{a.__class__}'.format_map({'a': 1}) }}",
    "{{ '{0[__class__]}'.format(machine) }}",
    # other files
    "{% include '/etc/passwd' %}",
    "{% include '../secret.txt' %}",
    "{% include '../../secret.txt' %}",
    "{% include 'a/../../secret.txt' %}",
    "{% include ['../secret.txt', '/etc/passwd'] %}",
    "{% import '../secret.txt' as s %}{{ s }}",
    "{% from '../secret.txt' import x %}{{ x }}",
    "{% extends '../secret.txt' %}",
    "{% include 'link.md' %}",
    "{% include 'folder-link/secret.txt' %}",
    "{% include '..\\\\secret.txt' %}",
    "{% include 'site_data/homestead.yaml' %}",
    # by what the values themselves can do
    "{{ w.kept.read_text() }}",
    "{{ w.kept.parent.parent.joinpath('secret.txt').read_text() }}",
    "{{ (w.kept / '../../secret.txt').read_text() }}",
    "{{ w.kept.parent.parent.joinpath('made.txt').write_text('x') }}",
    "{{ w.kept.parent.iterdir() | list }}",
    "{{ procedure.path.read_text() }}",
    "{{ procedure.path.unlink() }}",
    "{{ procedure.path.open() }}",
    "{{ machine.parse_file('SECRET') }}",
    f"{{{{ machine.parse_raw({PICKLED}, proto='pickle', allow_pickle=True) }}}}",
    "{{ machine.model_construct() }}",
    "{{ machine.model_copy(update={'name': 'other'}) }}",
    "{{ machine.dict() }}",
    "{{ w.homestead.machines.clear() }}",
    "{{ w.homestead.machines.update({'x': 1}) }}",
    "{{ w.figures.pop('x') }}",
    "{{ table.tofile('made.txt') }}",
    "{{ table.dump('made.txt') }}",
    # what would fill the memory at a stroke
    "{{ range(10**9) }}",
    "{{ range(100001) | list }}",
]


@pytest.fixture(scope="module")
def own_page(tmp_path_factory):
    """A home beside a file that its pages must not show; renders the text of a page."""
    import numpy as np

    home = tmp_path_factory.mktemp("trust") / "place"
    start_home(home)
    (home / "secret.txt").write_text(SECRET)
    (home.parent / "secret.txt").write_text(SECRET)
    content = home / "content"
    (content / "procedures").mkdir(parents=True)
    (content / "link.md").symlink_to(home / "secret.txt")
    (content / "folder-link").symlink_to(home)
    (content / "procedures/own.md").write_text("---\ntitle: Own\ntab: Own\n---\n")
    workings = worked_out(home, as_of=date(2026, 11, 25))
    words = Vocabulary(workings, {"own.md": "Own"}, {}, None)
    words.turn_to("own.md")
    context = words.names() | {
        "machine": workings.homestead.machines["main-genset"],
        "procedure": read_content(content / "procedures/own.md", "procedures/own.md"),
        "table": np.arange(3.0),
    }

    def shown(text: str) -> str:
        text = text.replace("SECRET", str(home / "secret.txt"))
        (content / "own.md").write_text(f"---\ntitle: Own\ntab: Own\n---\n{text}\n")
        return render(environment(content_folders(home), None), "own.md", context)

    shown.home = home
    return shown


def test_an_honest_page_is_shown(own_page):
    text = "{{ machine.name.upper() }} {{ w.as_of.year }} {{ range(3) | list | length }}"
    assert own_page(text).strip() == "MAIN GENSET 2026 3"
    assert "lbf" in own_page("{{ show(machine.specs['drain plug'].torque) }}")
    assert own_page(
        "{% macro m(x) %}{{ x }}{% endmacro %}"
        "{% for a in [1, 2] %}{{ m(loop.cycle('p', 'q')) }}{% endfor %}"
    ).strip() == "pq"  # fmt: skip


@pytest.mark.parametrize("text", ESCAPES)
def test_no_page_gets_out(text, own_page):
    before = {path: path.stat().st_mtime_ns for path in own_page.home.rglob("*.*")}
    with pytest.raises(PageError) as caught:
        own_page(text)
    assert SECRET not in str(caught.value)
    assert caught.value.file.startswith("content/")
    after = {path: path.stat().st_mtime_ns for path in own_page.home.rglob("*.*")}
    own = own_page.home / "content/own.md"
    assert after | {own: 0} == before | {own: 0}


def test_there_are_enough_of_them():
    assert len(set(ESCAPES)) >= 60


def test_a_refused_range_takes_no_memory(own_page):
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with pytest.raises(PageError, match="Range too big"):
        own_page("{{ range(10**9) | list }}")
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 20_000  # kB
