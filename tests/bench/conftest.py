"""Ratios are measured only when asked for: other work on the machine would make them lie.

``python -m pytest tests/bench -n 0`` measures and prints them as one table at the end;
``--ratios FILE`` writes it as Markdown too. It needs the extra `bench`. No second is asserted: each
bound holds one way of work against another, or much against little, timed in turns in one run.
"""

import itertools
import multiprocessing
import sys
import tracemalloc
import warnings
from dataclasses import dataclass, field
from pathlib import Path
from time import perf_counter

import pytest

HERE = Path(__file__).parent
HEADS = ("What", "Beside", "Times as long", "At most", "1, 10, 100 times as much", "Memory")


@dataclass
class Row:
    """What is told of one kind of work."""

    what: str
    beside: str = ""
    ratio: float | None = None
    bound: float | None = None
    growth: list[float] = field(default_factory=list)
    memory: float | None = None  # MB

    def cells(self):
        return (
            self.what,
            self.beside,
            f"{self.ratio:.2g}" if self.ratio is not None else "",
            f"{self.bound:.2g}" if self.bound is not None else "",
            ", ".join(f"{times:.0f}" if times >= 10 else f"{times:.2g}" for times in self.growth),
            f"{self.memory:,.0f} MB" if self.memory is not None else "",
        )


class Ratios:
    """Measures, and keeps a row for each kind of work."""

    def __init__(self, rows, request):
        self.rows, self.request = rows, request

    def row(self, what):
        return self.rows.setdefault(what, Row(what))

    def add(self, what, ours, beside, floor, bound=None):
        """Keep the seconds of our way and of the floor; fails when the bound is missed."""
        row = self.row(what)
        row.ratio, row.beside, row.bound = ours / floor, beside, bound
        if bound is not None:
            assert row.ratio <= bound, f"{what}: {row.ratio:.2f} times {beside}, at most {bound:g}"
        return row.ratio

    def by_turns(self, what, ours, beside, floor, *, bound=None, rounds=3, floor_share=1.0):
        """Time both, the floor before each round of ours, and keep the ratio of the least times.

        ``floor_share``: how much of our work the floor does, where all of it would take too long.
        """
        benchmark = self.request.getfixturevalue("benchmark")
        least = []

        def turn():
            clock = perf_counter()
            floor()
            least.append(perf_counter() - clock)

        result = benchmark.pedantic(ours, setup=turn, rounds=rounds)
        whole = min(least) / floor_share
        ratio = benchmark.stats.stats.min / whole
        benchmark.extra_info |= {"beside": beside, "floor": whole, "ratio": ratio, "bound": bound}
        self.add(what, benchmark.stats.stats.min, beside, whole, bound)
        return result

    def growth(self, what, works, *, bound=None, rounds=2):
        """Time works of growing size by turns; each may take ``bound`` times the one before."""
        times = [[] for _ in works]
        for _ in range(rounds):
            for work, taken in zip(works, times, strict=True):
                clock = perf_counter()
                work()
                taken.append(perf_counter() - clock)
        least = [min(taken) for taken in times]
        row = self.row(what)
        row.growth = [time / least[0] for time in least]
        if bound is not None:
            steps = [after / before for before, after in itertools.pairwise(least)]
            assert max(steps) <= bound, f"{what} grows by {steps}, at most {bound:g} a step"
        return row.growth

    def memory(self, what, work):
        """Keep the most memory (MB) that the work asks for, or that a process it starts holds."""
        context = multiprocessing.get_context("fork")
        ours, theirs = context.Pipe(duplex=False)
        child = context.Process(target=_peak, args=(work, theirs))
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", DeprecationWarning)  # forking beside numpy's threads
            child.start()
        child.join()
        assert child.exitcode == 0, f"{what}: stopped with {child.exitcode}"
        self.row(what).memory = ours.recv()
        return self.row(what).memory


def _peak(work, pipe):
    import resource

    tracemalloc.start()
    work()
    asked = tracemalloc.get_traced_memory()[1]
    unit = 1 if sys.platform == "darwin" else 1024
    pipe.send(max(asked, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * unit) / 1e6)


ROWS = pytest.StashKey[dict[str, Row]]()


@pytest.fixture
def ratios(request):
    """Measures work and adds to the table that is printed at the end."""
    return Ratios(request.config.stash.setdefault(ROWS, {}), request)


def pytest_addoption(parser):
    parser.addoption("--ratios", metavar="FILE", help="write the table of ratios as Markdown")


def pytest_configure(config):
    config.option.benchmark_quiet = True  # one table is enough


def pytest_terminal_summary(terminalreporter, config):
    rows = [HEADS, *(row.cells() for row in config.stash.get(ROWS, {}).values())]
    if len(rows) == 1:
        return
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEADS))]
    terminalreporter.section("ratios")
    for row in rows:
        line = "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        terminalreporter.write_line(line.rstrip())
    if config.getoption("--ratios", None):
        lines = ["| " + " | ".join(row) + " |" for row in rows]
        lines.insert(1, "|---|---" + "|--:" * (len(HEADS) - 2) + "|")
        Path(config.getoption("--ratios")).write_text("\n".join(lines) + "\n", "utf-8")


def pytest_collection_modifyitems(config, items):
    asked = any("bench" in argument for argument in config.args)
    if asked and not config.pluginmanager.hasplugin("benchmark"):
        raise pytest.UsageError("benches need more libraries: pip install '.[test,bench]'")
    skip = pytest.mark.skip(reason="ratios: run python -m pytest tests/bench -n 0")
    for item in items:
        if not asked and HERE in item.path.parents:
            item.add_marker(skip)


@pytest.fixture(autouse=True, scope="session")
def compiled_modules(tmp_path_factory):
    """Processes started by a measurement find all modules compiled, as an installed package is."""
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)
        patch.setenv("PYTHONPYCACHEPREFIX", str(tmp_path_factory.mktemp("compiled")))
        yield
