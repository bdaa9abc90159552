"""A short talk at the terminal: only what is needed, with what is known already as the default."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date

from steadbook.errors import QuantityError, RecordError
from steadbook.inventory.explain import nearest
from steadbook.inventory.fields import read_date
from steadbook.inventory.models import Tank
from steadbook.records.batch import entry_problems
from steadbook.records.entry import Value
from steadbook.records.kinds import Blank, Kind, read_blank
from steadbook.records.recording import Record
from steadbook.workings import Workings, words

Ask = Callable[[str], str]
Say = Callable[[str], None]
NOTHING = "-"  # an answer: leave it out, whatever the default


def fill(
    kind: Kind, given: Mapping[str, Value], workings: Workings, ask: Ask, say: Say
) -> dict[str, Value]:
    """Ask for the blanks that are not given yet, each until its answer can be read."""
    filled = dict(given)
    say(
        f"{kind.what[0].upper()}{kind.what[1:]}. Enter takes what is in [brackets], {NOTHING} leaves it out."
    )
    for blank in sorted(kind.blanks, key=lambda one: one.key != "date" or kind.word == "event"):
        if blank.key in filled or not blank.is_asked or not _applies(blank, filled, workings):
            continue
        talk = _Talk(kind, blank, filled, workings)
        if talk.known:
            say(talk.known)
        answer = _answer(talk, ask, say)
        if answer:
            filled[blank.key] = answer
    return filled


def _answer(talk: _Talk, ask: Ask, say: Say) -> Value | None:
    hint = f" [{talk.default}]" if talk.default else "" if talk.blank.is_needed else " [-]"
    while True:
        text = ask(f"{talk.blank.asks}{hint}: ").strip() or talk.default
        if text == NOTHING or not text:
            if not talk.blank.is_needed:
                return None
            say("  This one is needed.")
            continue
        try:
            return talk.read(text)
        except (RecordError, QuantityError) as error:
            say("  " + _plain(error))


def _plain(error: RecordError | QuantityError) -> str:
    if isinstance(error, QuantityError):
        return f"{error.allowed}: {error.fix}"
    return str(error)


def _applies(blank: Blank, filled: Mapping[str, Value], workings: Workings) -> bool:
    machine = workings.homestead.machines.get(str(filled.get("machine")))
    if blank.key == "hours":
        return machine is not None and machine.meter is not None
    return True


class _Talk:
    """One blank in its context: the default, the names it may be, what is known about it."""

    def __init__(
        self, kind: Kind, blank: Blank, filled: Mapping[str, Value], workings: Workings
    ) -> None:
        self.kind, self.blank, self.filled, self.workings = kind, blank, filled, workings
        self.home = workings.homestead
        self.machine = self.home.machines.get(str(filled.get("machine")))
        self.names = self._names()
        self.default = self._default()
        self.known = self._known()

    def _names(self) -> list[str]:
        home = self.home
        if self.blank.key == "machine":
            return list(home.machines)
        if self.blank.key == "tank":
            return [key for key, one in home.machines.items() if isinstance(one, Tank)]
        if self.blank.key == "supplier":
            if self.kind.word == "received":
                return [one.supplier for one in home.log.orders if one.received is None]
            return list(home.suppliers)
        if self.blank.key == "part" or self.blank.shape == "amounts":
            return list(home.parts)
        if self.blank.key == "tasks" and self.machine:
            return list(self.machine.tasks)
        if self.blank.key == "spec" and self.machine:
            return list(self.machine.specs)
        return []

    def _default(self) -> str:
        home, key = self.home, self.blank.key
        if key == "date":
            return self.workings.as_of.isoformat()
        if key == "by":
            return next((one.by for one in reversed(home.log.services) if one.by), "")
        if key == "tasks" and self.machine:
            due = [one.name for one in self.workings.pressing() if one.machine is self.machine]
            return ", ".join(due)
        if key == "parts" and self.kind.word == "service":
            return _amounts(self._task_parts())
        if key == "parts":
            coming = [one for order in self.workings.orders.coming for one in order.lines]
            mine = [one for one in coming if one.part.supplier == self.filled.get("supplier")]
            return _amounts((one.line.name, one.line.amount(one.size)) for one in mine)
        if key == "supplier" and len(set(self.names)) == 1:
            return self.names[0]
        if key == "supplier" and self.kind.word == "fuel":
            tank = self.filled.get("tank")
            came = [one.supplier for one in home.log.deliveries if one.tank == tank]
            return (came[-1] if came else None) or ""
        return ""

    def _task_parts(self) -> Iterable[tuple[str, str]]:
        tasks = self.filled.get("tasks", [])
        assert self.machine is not None
        for name in tasks:
            if name in self.machine.tasks:
                for part, amount in self.machine.tasks[name].parts.items():
                    yield part, amount.text

    def _known(self) -> str:
        key = self.blank.key
        if key == "hours" and self.machine:
            running = self.workings.running.get(self.machine.id)
            if running and running.last:
                return _tidy(
                    f"  Last reading {running.last.shown:,g} h on {words.day(running.last.day)}."
                )
        if key in ("level", "before", "amount"):
            for one in self.workings.reserves:
                if one.tank.id == self.filled.get("tank") and one.level is not None:
                    return _tidy(f"  Last gauge {one.level:g} % on {words.day(one.read_on)}.")
            line = self.workings.shelf.get(str(self.filled.get("part")))
            if line:
                return _tidy(f"  Reckoned on the shelf: {line.amount(line.on_hand)}.")
        if key in ("tasks", "spec", "supplier", "tank") and self.names:
            return "  " + ", ".join(dict.fromkeys(self.names))
        return ""

    def read(self, text: str) -> Value:
        """The answer as the log holds it. Raises RecordError, QuantityError."""
        value = read_blank(self.blank, text)
        if self.blank.key == "date":
            _past(read_date(text), self.workings.as_of)
        elif isinstance(value, list):
            return [self._name(one) for one in value]
        elif isinstance(value, dict) and self.blank.shape == "amounts":
            value = {self._name(name): amount for name, amount in value.items()}
        elif isinstance(value, str) and self.names:
            value = self._name(value)
        filled = {"date": self.workings.as_of.isoformat(), **self.filled, self.blank.key: value}
        key = "private" if self.blank.shape == "price" else self.blank.key
        for problem in entry_problems(Record(self.kind, filled, ("", 0))):
            if problem.key.split(".")[0].split("[")[0] == key:
                raise QuantityError(problem.found, problem.allowed, problem.fix)
        return value

    def _title(self, name: str) -> str:
        """What a machine, part or supplier is called, in small letters."""
        home = self.home
        one = home.machines.get(name) or home.parts.get(name) or home.suppliers.get(name)
        return one.name.lower() if one else ""

    def _name(self, word: str) -> str:
        """The name that a person means: the name itself, or a part of just one."""
        if word in self.names or not self.names:
            return word
        if self.blank.key == "spec":  # a new name is good
            return word
        names = list(dict.fromkeys(self.names))
        fitting = [name for name in names if word.lower() in (name.lower(), self._title(name))]
        fitting = fitting or [name for name in names if word.lower() in name.lower()]
        if len(fitting) == 1:
            return fitting[0]
        near = nearest(word, self.names)
        raise RecordError(", ".join(fitting or self.names[:40]) if fitting or not near else near)


def _past(day: date, as_of: date) -> None:
    if day > as_of:
        raise QuantityError(
            str(day), f"a day up to {as_of}", "the log holds only what has happened"
        )


def _amounts(pairs: Iterable[tuple[str, str]]) -> str:
    """`oil-filter=1, engine-oil=3.2 qt`; a part of several tasks is named once."""
    return ", ".join(f"{name}={_tidy(amount)}" for name, amount in dict(pairs).items())


def _tidy(text: str) -> str:
    return text.replace(words.NBSP, " ")
