"""Mutation tests of the figures: does a test fail when a figure is changed?

``.ci/mutation`` sets up and calls this. cosmic-ray makes the mutants, one module at a time, and each
meets only that module's own tests: `tests/figures/test_MODULE.py` and `tests/published/`, without
doctests. A module without tests of its name meets those that import it. To load the libraries anew
for every mutant would take most of the time, so a server loads them once and forks.
"""

import json
import os
import re
import signal
import socket
import sqlite3
import subprocess
import sys
from contextlib import closing, suppress
from pathlib import Path
from time import perf_counter

LEFT_OUT = "left out of the sample"
FIGURES = Path("generator/steadbook/figures")
TESTS = [Path("tests/published"), Path("tests/figures")]
OPTIONS = [
    "-qx", "-o", "addopts=", "--import-mode=importlib", "-W", "ignore::pytest.PytestAssertRewriteWarning",
    "-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:benchmark",
]  # fmt: skip
# one change of a kind in each place: a number one up or down, the opposite operation, a limit moved
# or turned round, a condition turned round, a loop not run
KINDS = [
    "NumberReplacer", "AddNot", "ReplaceAndWithOr", "ReplaceOrWithAnd", "ReplaceTrueWithFalse",
    "ReplaceFalseWithTrue", "ReplaceContinueWithBreak", "ZeroIterationForLoop",
    "ReplaceUnaryOperator_Delete_(USub|Not|Invert)",
    "ReplaceBinaryOperator_(Add_Sub|Sub_Add|Mul_Div|Div_Mul|Pow_Mul|Mod_Mul|FloorDiv_Mul|BitAnd_BitOr)",
    "ReplaceComparisonOperator_(Gt_GtE|Gt_LtE|GtE_Gt|GtE_Lt|Lt_LtE|Lt_GtE|LtE_Lt|LtE_Gt)",
    "ReplaceComparisonOperator_(Eq_NotEq|NotEq_Eq|Is_IsNot|IsNot_Is)",
]  # fmt: skip


def modules():
    """Figures with arithmetic in them: tables of words and declarations have none."""
    left_out = {"__init__", "_choice", "_declare", "nomenclature"}
    return sorted(path.stem for path in FIGURES.glob("*.py") if path.stem not in left_out)


def tests_of(module):
    named = [path for folder in TESTS for path in sorted(folder.glob(f"test_{module}*.py"))]
    if (TESTS[1] / f"test_{module}.py") in named:
        return named
    uses = re.compile(
        rf"steadbook\.figures\.{module} import|steadbook\.figures import .*\b{module}\b"
    )
    every = [path for folder in TESTS for path in sorted(folder.glob("test_*.py"))]
    return [path for path in every if uses.search(path.read_text("utf-8"))]


# -- running tests quickly -----------------------------------------------------------------------


def serve(address):
    """Run the tests of each caller in a fork of this process, libraries already loaded."""
    import hypothesis.extra.numpy
    import numpy  # noqa: F401
    import pandas  # noqa: F401
    import pytest

    phases = (hypothesis.Phase.explicit, hypothesis.Phase.generate)  # no time spent on shrinking
    hypothesis.settings.register_profile("mutants", phases=phases, derandomize=True, database=None)
    hypothesis.settings.load_profile("mutants")
    sys.dont_write_bytecode = True
    sys.path.insert(0, os.getcwd())
    silence = os.open(os.devnull, os.O_WRONLY)
    with socket.socket(socket.AF_UNIX) as door:
        door.bind(address)
        door.listen()
        while True:
            caller, _ = door.accept()
            with caller:
                limit, *tests = json.loads(caller.recv(65536))
                child = os.fork()
                if child == 0:
                    signal.setitimer(signal.ITIMER_PROF, limit)  # of its own work, not of waiting
                    os.dup2(silence, 1)
                    os.dup2(silence, 2)
                    found = pytest.main([*OPTIONS, *tests])
                    os._exit(int(found))
                _, status = os.waitpid(child, 0)
                with suppress(OSError):  # the caller may be gone
                    caller.sendall(b"%d" % (status != 0))


def ask(address, limit, tests):
    """Exit status of the tests, run by the server."""
    with socket.socket(socket.AF_UNIX) as door:
        door.connect(address)
        door.sendall(json.dumps([limit, *tests]).encode())
        return int(door.recv(16) or b"1")


# -- mutants -------------------------------------------------------------------------------------


def mutate(address, folder, module, every):
    """The mutants of a module, or every so many of them; True when its tests pass without any."""
    tests = [str(path) for path in tests_of(module)]
    ask(address, 600, tests)  # the first run compiles
    clock = perf_counter()
    if not tests or ask(address, 600, tests):
        return False
    limit = int(10 + 5 * (perf_counter() - clock))
    command = [sys.executable, "-I", "-S", __file__, "ask", address, str(limit), *tests]
    config, session = folder / f"{module}.toml", folder / f"{module}.sqlite"
    settings = {
        "module-path": str(FIGURES / f"{module}.py"),
        "timeout": 3600.0,
        "excluded-modules": [],
        "test-command": " ".join(command),
    }
    others = rf"core/(?!({'|'.join(KINDS)})$)"
    config.write_text(
        "[cosmic-ray]\n"
        + "".join(f"{key} = {json.dumps(value)}\n" for key, value in settings.items())
        + '[cosmic-ray.distributor]\nname = "local"\n'
        + f"[cosmic-ray.filters.operators-filter]\nexclude-operators = [{json.dumps(others)}]\n"
    )
    session.unlink(missing_ok=True)
    tools = Path(sys.executable).parent
    subprocess.run([tools / "cosmic-ray", "init", config, session], check=True)
    subprocess.run([tools / "cr-filter-operators", session, config], check=True)
    leave_out(session, every)
    subprocess.run([tools / "cosmic-ray", "exec", config, session], check=True)
    return True


def leave_out(session, every):
    """Mark all but every so many of the mutants as not to be run."""
    with closing(sqlite3.connect(session)) as database, database:
        pending = database.execute(
            "select job_id from mutation_specs where job_id not in (select job_id from work_results)"
            " order by start_pos_row, start_pos_col, operator_name, occurrence"
        ).fetchall()
        database.executemany(
            "insert into work_results (job_id, worker_outcome, output) values (?, 'SKIPPED', ?)",
            [(job, LEFT_OUT) for place, (job,) in enumerate(pending) if place % every],
        )


def counts(session):
    """Killed, survived, not run."""
    with closing(sqlite3.connect(session)) as database:
        rows = database.execute(
            "select test_outcome, worker_outcome, output"
            " from work_items left join work_results using (job_id)"
        ).fetchall()
    made = [outcome for outcome, worker, why in rows if worker != "SKIPPED" or why == LEFT_OUT]
    killed, survived = made.count("KILLED"), made.count("SURVIVED")
    return killed, survived, len(made) - killed - survived


def score(folder):
    """The table of all modules mutated so far."""
    rows: list[tuple] = [(path.stem, *counts(path)) for path in sorted(folder.glob("*.sqlite"))]
    rows.append(("all", *(sum(column) for column in list(zip(*rows, strict=True))[1:])))
    print("| Module | Mutants | Killed | Survived | Not run | Score |\n|---|--:|--:|--:|--:|--:|")
    for name, killed, survived, rest in rows:
        share = f"{killed / (killed + survived):.1%}" if killed + survived else "-"
        print(f"| {name} | {killed + survived + rest} | {killed} | {survived} | {rest} | {share} |")


def survivors(folder, names):
    """What was changed without a test that noticed."""
    for name in names:
        with closing(sqlite3.connect(folder / f"{name}.sqlite")) as database:
            for (diff,) in database.execute(
                "select diff from work_results join mutation_specs using (job_id)"
                " where test_outcome = 'SURVIVED' order by start_pos_row, start_pos_col"
            ):
                where = re.search(r"^@@ -(\d+)", diff, re.MULTILINE)
                lines = diff.split("\n@@", 1)[1].split("\n")[1:]
                first = next(n for n, line in enumerate(lines) if line[:1] in "-+" and line)
                changed = [line for line in lines if line[:1] in ("-", "+")]
                print(f"{name}.py:{int(where[1]) + first}", *changed, sep="\n")


def main(command, *words):
    if command == "serve":
        serve(*words)
    elif command == "ask":
        return ask(words[0], int(words[1]), words[2:])
    elif command == "mutate":
        address, folder, every, *names = words
        for name in names or modules():
            if not mutate(address, Path(folder), name, int(every)):
                print(f"{name}: its tests do not pass, or it has none", file=sys.stderr)
            else:
                print(
                    f"{name}: killed, survived, not run", *counts(Path(folder) / f"{name}.sqlite")
                )
    elif command == "score":
        score(Path(words[0]))
    elif command == "survivors":
        survivors(Path(words[0]), words[1:])
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
