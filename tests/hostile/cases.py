"""Bad inventories, made of the demo by rule: each case changes one file in one way."""

import hashlib
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "site_data"
OLD_LOGS = ("2023.yaml", "2024.yaml")  # left out for speed; the others do without
AS_OF = ("--as-of", "2026-11-25")


@dataclass(frozen=True)
class Case:
    """One bad inventory: the file that is changed, its new bytes (None: removed), and the line that
    a problem must name (None: any line of that file; 0: the file as a whole)."""

    name: str
    file: str
    content: bytes | None
    line: int | None = None
    says: str = ""


def tree_hash(folder: Path) -> dict[str, str]:
    """The hash of every file below a folder, by its path; what is kept to save time aside."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and ".kept" not in path.relative_to(folder).parts
    }


BLOCK = re.compile(
    r"(?P<file>\S.*?\.yaml)(?::(?P<line>\d+))?(?:: (?P<key>.+?))?(?P<warning>  \(warning\))?\n"
    r"  found:   (?P<found>\S.*)\n"
    r"  allowed: (?P<allowed>\S.*)\n"
    r"  fix:     (?P<fix>\S.*)"
)


def told_problems(words: str) -> list[dict[str, str]]:
    """The problems of a message, each with all its parts; fails if anything else is in it."""
    *blocks, count = words.strip().split("\n\n")
    found = [BLOCK.fullmatch(block) for block in blocks]
    assert all(found), next(b for b, m in zip(blocks, found, strict=True) if not m)
    assert re.fullmatch(r"1 problem found|\d+ problems found", count)
    assert int(count.split()[0]) == len(found)
    return [one.groupdict() for one in found]


# --- by rule ----------------------------------------------------------------------------------

QUANTITY = re.compile(
    r"\b(torque|gap|lash|minutes|lead_time|level|elevation|capacity|displacement|life"
    r"|coldest|hottest|length|width|depth|height|fuel_at_half_load|temperature)"
    r": (?P<number>\d[\d.,]*) (?P<unit>[A-Za-z][A-Za-z0-9*/%]*)(?=\s*[,}#\n]|$)"
)
DAY = re.compile(r"\b(date|installed|counted|made|received|promised): (?P<day>\d{4}-\d\d-\d\d)")
LOGGED = re.compile(r"^ +(- \{?)?(date|counted|received): (?P<day>\d{4}-\d\d-\d\d)")
KEY = re.compile(
    r"^(?! *(price|account|code|serial|visible)) *(?:- \{?)?(?P<key>name|title|every|date"
    r"|machine|supplier|on_hand|plate|specs|equipment|lead_time|tasks|units|latitude|people"
    r"|readings|services|levels|hazards|meter|installed):(?= )"
)
NEEDED = re.compile(
    r"^ +(?P<key>title|every|kind|name|supplier|on_hand|lead_time|role): (?![>|])\S.*$"
)
PLAIN = re.compile(r"\b(?P<key>title|name|every|kind|installed|made|supplier): (?P<value>[^\s,{}\[\]>|\"#][^,{}\[\]\"#]*?)(?= *(?:[,}#]|$))")  # fmt: skip
NEEDED_WORD = re.compile(r"^ +(?P<key>title|every|kind|role): (?P<value>[^\s>|].*)$")
NAMED = re.compile(
    r"\b(machine|tank|supplier|part|procedure): (?P<name>[a-z][a-z0-9-]+)(?= *(?:[,}#]|$))"
)
TASKS = re.compile(r"\btasks: \[(?P<name>[a-z0-9-]+)")

WRONG_UNIT = {"torque": "h", "minutes": "psi", "lead_time": "lbf*ft", "level": "ft"}


@dataclass(frozen=True)
class Rule:
    """A way to spoil a line: where it applies, and what becomes of the part that it names.

    ``same_line`` is false where the problem is told at another line than the one changed.
    """

    name: str
    where: re.Pattern[str]
    part: str
    spoil: Callable[[re.Match[str]], str]
    most: int
    same_line: bool = True
    says: str = ""
    files: str = ""  # those whose path matches


def _unit_of_another_kind(found: re.Match[str]) -> str:
    return WRONG_UNIT.get(found[1], "rpm")


RULES = (
    Rule("no-unit", QUANTITY, "unit", lambda m: "", 18),
    Rule("unit-of-another-kind", QUANTITY, "unit", _unit_of_another_kind, 18),
    Rule("unknown-unit", QUANTITY, "unit", lambda m: m["unit"] + "zz", 10),
    Rule("two-points", QUANTITY, "number", lambda m: m["number"] + ".5.5", 10),
    Rule("a-word-for-a-number", QUANTITY, "number", lambda m: "some", 10),
    Rule("no-such-day", DAY, "day", lambda m: m["day"][:5] + "02-30", 14, says="does not exist"),
    Rule("no-such-month", DAY, "day", lambda m: m["day"][:5] + "13-01", 8),
    Rule("day-the-other-way-round", DAY, "day", lambda m: "03/01/2025", 10),
    Rule("a-word-for-a-day", DAY, "day", lambda m: "yesterday", 6),
    Rule(
        "in-the-future",
        LOGGED,
        "day",
        lambda m: "2031-01-01",
        12,
        says="in the future",
        files="log/|parts",
    ),
    Rule("misspelt-key", KEY, "key", lambda m: m["key"][:-1] + "qx", 24),
    Rule("missing-key", NEEDED, "", lambda m: "", 24, same_line=False),
    Rule("list-for-a-word", PLAIN, "value", lambda m: f"[{m['value']}]", 14),
    Rule("group-for-a-word", PLAIN, "value", lambda m: f"{{a: {m['value']}}}", 14),
    Rule("nothing-for-a-word", NEEDED_WORD, "value", lambda m: "", 14),
    Rule("very-long", PLAIN, "value", lambda m: "x" * 5000, 8),
    Rule("no-such-name", NAMED, "name", lambda m: m["name"] + "-x", 24, says="does not exist"),
    Rule("no-such-task", TASKS, "name", lambda m: m["name"] + "-x", 8, says="does not exist"),
    Rule("name-in-capitals", NAMED, "name", lambda m: m["name"].upper(), 6),
    Rule("open-quote", PLAIN, "value", lambda m: '"' + m["value"], 6, same_line=False),
    Rule("open-bracket", PLAIN, "value", lambda m: "[" + m["value"], 6, same_line=False),
    Rule("colon-in-text", PLAIN, "value", lambda m: "a: b: c", 6, same_line=False),
    Rule("alias", PLAIN, "value", lambda m: "*all", 4, says="alias"),
    Rule("tag", PLAIN, "value", lambda m: "!!python/name:os.system x", 4, says="tag"),
    Rule("merge-key", KEY, "key", lambda m: "<<", 4),
)


def cases_by_rule(folder: Path) -> Iterator[Case]:
    """Spoil the inventory in ``folder`` by every rule, at places spread evenly over all files."""
    files = {
        path.relative_to(folder).as_posix(): path.read_text("utf-8").split("\n")
        for path in sorted(folder.rglob("*.yaml"))
        if path.name not in OLD_LOGS
    }
    for rule in RULES:
        places = [
            (file, number, found)
            for file, lines in files.items()
            for number, line in enumerate(lines)
            if re.search(rule.files, file)
            and (found := rule.where.search(line))
            and "private" not in line
        ]
        step = max(1, len(places) // rule.most)
        for file, number, found in places[::step][: rule.most]:
            lines = list(files[file])
            start, end = found.span(rule.part) if rule.part else found.span()
            lines[number] = lines[number][:start] + rule.spoil(found) + lines[number][end:]
            yield Case(
                f"{rule.name}-{file}-{number + 1}",
                file,
                "\n".join(lines).encode(),
                number + 1 if rule.same_line else None,
                rule.says,
            )


# --- by hand ----------------------------------------------------------------------------------


def cases_by_hand(folder: Path) -> Iterator[Case]:
    """Files cut short, swapped, doubled, in other encodings, and slips that people make."""
    yield from _cut_short(folder)
    yield from _swapped(folder)
    for name, file, content, line in (*_whole_files(folder), *_slips(folder)):
        yield Case(name, file, content, line)


def _cut_short(folder: Path) -> Iterator[Case]:
    """Cut in the middle of an entry in braces, as a copy that stopped leaves a file."""
    for path in sorted(folder.rglob("*.yaml")):
        if path.name in OLD_LOGS:
            continue
        raw = path.read_bytes()
        opened = [m.end() for m in re.finditer(rb"^[^#\n\"]*: \{[a-z]", raw, re.MULTILINE)]
        for place in opened[:: max(1, len(opened) // 3)][:3]:
            name = path.relative_to(folder).as_posix()
            yield Case(f"cut-short-{name}-{place}", name, raw[:place])


def _swapped(folder: Path) -> Iterator[Case]:
    """Each file with the content of the next."""
    names = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*.yaml"))
    kinds = [n for n in names if n in ("homestead.yaml", "parts.yaml", "suppliers.yaml", "power.yaml", "log/2026.yaml", "climate.yaml", "what-if.yaml")]  # fmt: skip
    for one in kinds:
        for other in kinds:
            if one != other:
                yield Case(f"{other}-in-{one}", one, (folder / other).read_bytes())


def _whole_files(folder: Path) -> Iterator[tuple[str, str, bytes | None, int | None]]:
    power = (folder / "power.yaml").read_bytes()
    log = (folder / "log/2026.yaml").read_bytes()
    lines = power.count(b"\n")
    yield "no-homestead", "homestead.yaml", None, 0
    yield "no-fuel-system", "fuel.yaml", None, 0
    yield "no-parts", "parts.yaml", None, 0
    yield "empty", "power.yaml", b"", 1
    yield "only-comments", "power.yaml", b"# nothing yet\n\n", 1
    yield "a-list", "power.yaml", b"- a\n- b\n", 1
    yield "a-word", "power.yaml", b"power\n", 1
    yield "utf-16", "power.yaml", power.decode().encode("utf-16"), 1
    yield "latin-1", "power.yaml", power + "# gr\xf6\xdfe".encode("latin-1"), lines + 1
    yield "a-picture", "power.yaml", b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 9, 1
    yield "nul", "power.yaml", power + b"x: a\0b\n", lines + 1
    yield "control-character", "power.yaml", power + b"x: a\x1bb\n", lines + 1
    yield "twice-over", "power.yaml", power + power, None
    yield "tabs", "power.yaml", power.replace(b"  main-genset:", b"\tmain-genset:"), None
    yield "two-documents", "power.yaml", power + b"---\ntitle: x\n", lines + 1
    yield "an-end-mark-and-more", "log/2026.yaml", log + b"...\nmore: x\n", None
    yield "html", "power.yaml", b"<html><body>Not found</body></html>\n", 1
    yield "json-cut", "power.yaml", b'{"title": "Power", "equipment": {', None
    yield "key-without-end", "power.yaml", b"x" * 70_000 + b": 1\n", None
    yield "deep-brackets", "power.yaml", b"a: " + b"[" * 10_000 + b"]" * 10_000, 1
    yield "deep-braces", "power.yaml", b"a: " + b"{a: " * 10_000 + b"}" * 10_000, 1
    deep = "\n".join(f"{' ' * n}a:" for n in range(2_000)).encode()
    yield "deep-blocks", "power.yaml", deep, None
    yield "bomb", "power.yaml", _bomb(), 2
    yield "anchor-on-itself", "power.yaml", b"a: &a [*a]\n", 1
    yield "object", "power.yaml", b"a: !!python/object/apply:os.system [ls]\n", 1
    yield "lone-surrogate", "power.yaml", b'title: "\\ud800"\n', None
    yield "not-utf8", "power.yaml", b"title: \xed\xa0\x80\n", 1


def _bomb() -> bytes:
    rows = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    rows += [f"{new}: &{new} [{', '.join([f'*{old}'] * 9)}]" for old, new in zip("abcdefghi", "bcdefghij", strict=True)]  # fmt: skip
    return "\n".join(rows).encode()


def _slips(folder: Path) -> Iterator[tuple[str, str, bytes, int | None]]:
    def added(file: str, *rows: str) -> tuple[bytes, int]:
        raw = (folder / file).read_bytes().rstrip(b"\n") + b"\n"
        return raw + "\n".join(rows).encode() + b"\n", raw.count(b"\n") + 1

    def changed(file: str, old: str, new: str) -> tuple[bytes, int]:
        text = (folder / file).read_text("utf-8")
        place = text.index(old)
        return (
            (text[:place] + new + text[place + len(old) :]).encode(),
            text[:place].count("\n") + 1,
        )

    for name, file, rows in (
        ("an-unknown-key", "power.yaml", ["machines: {}"]),
        ("a-key-twice", "suppliers.yaml", ["suppliers: {}"]),
        ("an-unknown-list", "log/2026.yaml", ["servics: []"]),
        ("a-key-of-dots", "homestead.yaml", ["'..': x"]),
        ("an-empty-key", "homestead.yaml", ["'': x"]),
        ("a-long-key", "homestead.yaml", [f"{'k' * 900}: x"]),
        ("a-key-of-markup", "homestead.yaml", ["'<script>alert(1)</script>': x"]),
        ("a-key-that-clears-the-screen", "homestead.yaml", ['"\\e[2J\\e[H": x']),
        ("a-text-that-clears-the-screen", "homestead.yaml", ['grab_list: ["\\e[2J"]']),
        ("a-text-with-nul", "homestead.yaml", ['grab_list: ["a\\0b"]']),
        ("a-key-over-two-lines", "homestead.yaml", ['"one\\ntwo": x']),
    ):
        yield name, file, *added(file, *rows)
    for name, file, old, new in (
        ("latitude-beyond-the-pole", "homestead.yaml", "latitude: 48.78", "latitude: 98.78"),
        ("latitude-in-words", "homestead.yaml", "latitude: 48.78", "latitude: 48° 47' N"),
        ("latitude-not-a-number", "homestead.yaml", "latitude: 48.78", "latitude: .nan"),
        ("latitude-without-end", "homestead.yaml", "latitude: 48.78", "latitude: .inf"),
        ("longitude-too-large", "homestead.yaml", "longitude: -115.62", "longitude: 1e400"),
        ("other-paper", "homestead.yaml", "paper: letter", "paper: foolscap"),
        ("other-units", "homestead.yaml", "units: us", "units: imperial"),
        ("nobody-to-call", "homestead.yaml", "call_first: [walt", "call_first: [wallt"),
        ("whole-number-in-words", "homestead.yaml", "visit_days: 21", "visit_days: three weeks"),
        ("a-kind-that-is-none", "power.yaml", "kind: genset", "kind: dynamo"),
        ("a-torque-without-unit", "power.yaml", "torque: 26 lbf*ft", "torque: 26"),
        ("ft-lb-in-one-word", "power.yaml", "torque: 26 lbf*ft", "torque: 26ftlbs!"),
        ("a-range-the-wrong-way", "power.yaml", "pressure: 35-50 psi", "pressure: 50-35 psi"),
        ("a-number-too-large", "power.yaml", "torque: 26 lbf*ft", "torque: 1e99 lbf*ft"),
        ("a-number-of-900-digits", "power.yaml", "torque: 26 lbf*ft", f"torque: {'9' * 900} lbf*ft"),
        ("decimal-comma", "power.yaml", "torque: 26 lbf*ft", 'torque: "26,5 lbf*ft"'),
        ("division-by-nothing", "power.yaml", "torque: 26 lbf*ft", "torque: 1/0 lbf*ft"),
        ("below-absolute-zero", "homestead.yaml", "coldest: -20 degF", "coldest: -600 degF"),
        ("a-spec-that-is-none", "power.yaml", "specs: [engine oil]", "specs: [motor oil]"),
        ("an-hour-interval-backwards", "power.yaml", "every: 14 days", "every: days 14"),
        ("a-machine-name-with-a-slash", "power.yaml", "  main-genset:", "  ../main-genset:"),
        ("a-machine-called-private", "power.yaml", "  main-genset:", "  private:"),
        ("a-meter-that-runs-back", "log/2026.yaml", "tractor, hours: 91 h", "tractor, hours: 9 h"),
        ("more-than-full", "log/2026.yaml", "level: ", "level: 900 %, x: "),
        ("an-entry-that-is-a-word", "log/2026.yaml", "  - {date: 2026-01-01", "  - nothing\n  - {date: 2026-01-01"),
    ):  # fmt: skip
        yield name, file, *changed(file, old, new)
    broken, _ = changed("log/2026.yaml", "readings:\n  - {date", "readings:\n    {date")
    yield "entries-as-keys", "log/2026.yaml", broken, None
