"""However the entries are spread over files, and whether a year is read or kept: the log is one."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from steadbook.inventory.kept import KeptYear, _packed
from steadbook.inventory.meters import marks
from steadbook.inventory.models import LogYear
from steadbook.inventory.year import LISTS, Log, WrittenYear, carried

BEGIN = date(2025, 1, 1)
DAYS = st.integers(0, 9).map(lambda number: str(BEGIN + timedelta(days=number)))
MACHINES = st.sampled_from(["genset", "pump"])
TANKS = st.sampled_from(["tank", "cistern"])
HOURS = st.integers(0, 9).map(lambda number: f"{number} h")


def entries(keys, optional=None):
    return st.lists(st.fixed_dictionaries({"date": DAYS, **keys}, optional=optional or {}))


LOGS = st.fixed_dictionaries({}, optional={
    "readings": entries({"machine": MACHINES, "hours": HOURS}, {"old_meter": HOURS}),
    "services": entries(
        {
            "machine": MACHINES,
            "tasks": st.lists(st.sampled_from(["look", "oil", "lash"]), min_size=1, unique=True),
        },
        {"hours": HOURS, "parts": st.just({"oil": "2 qt"}), "by": st.sampled_from(["Ann", "Ben"])},
    ),
    "levels": entries({"tank": TANKS, "level": st.sampled_from(["40 %", "50 %"])}, {
        "temperature": st.just("40 degF")
    }),
    "events": entries({"text": st.just("wind")}, {"machine": MACHINES}),
})  # fmt: skip


def written(tree):
    return WrittenYear(LogYear.model_validate(tree))


def kept(tree):
    return KeptYear(_packed(written(tree), tree))


@st.composite
def spread(draw):
    """A log as one file, and the same entries dealt out to three files, in the same order."""
    tree = draw(LOGS)
    in_order = {key: sorted(listed, key=lambda one: one["date"]) for key, listed in tree.items()}
    if draw(st.booleans()):  # files of some days, none running into the next
        ends = [BEGIN + timedelta(days=number) for number in (4, 7, 99)]
        files = [
            {
                key: [one for one in listed if str(first) <= one["date"] < str(end)]
                for key, listed in in_order.items()
            }
            for first, end in zip([BEGIN, *ends], ends, strict=False)
        ]
    else:
        files = [{key: [] for key in tree} for _ in range(3)]
        for key, listed in in_order.items():
            cuts = sorted(draw(st.lists(st.integers(0, len(listed)), min_size=2, max_size=2)))
            for file, first, end in zip(files, [0, *cuts], [*cuts, len(listed)], strict=True):
                file[key] = listed[first:end]
    return in_order, files


def whole(tree):
    return Log((written(tree),))


@pytest.fixture(params=["2024-01-01", "2025-01-06"], ids=["before all", "among them"])
def homestead(home, request):
    """The test home with a genset that came before the log or while it was written."""
    came = home().change("power.yaml", "installed: 2024-01-01", f"installed: {request.param}")
    return came.read()


@settings(deadline=None, max_examples=80)
@given(spread())
@pytest.mark.parametrize("made", [written, kept])
def test_lists_are_one(made, pair):
    tree, files = pair
    one, many = whole(tree), Log(tuple(made(file) for file in files))
    assert one == many
    for key in LISTS:
        entries = getattr(one, key)
        assert getattr(many, key) == entries
        days = [entry.date for entry in entries]
        assert many.last_day(key) == max(days, default=None)
        for day in (BEGIN, BEGIN + timedelta(days=5), BEGIN + timedelta(days=9)):
            assert list(many.after(key, day)) == [entry for entry in entries if entry.date > day]
            of_the_day = [entry for entry in many.around(key, day) if entry.date == day]
            assert of_the_day == [entry for entry in entries if entry.date == day]
        for word in ("hours", "parts", "temperature", "old_meter", "date"):
            having = [entry for entry in entries if word in entry.model_fields_set]
            assert list(many.having(key, word)) == having


def day_and_hours(service):
    return service.date, service.hours.to("h") if service.hours else 0.0


@settings(deadline=None, max_examples=80)
@given(spread())
@pytest.mark.parametrize("made", [written, kept])
def test_the_last_of_a_list_and_of_a_task(made, pair):
    tree, files = pair
    one, many = whole(tree), Log(tuple(made(file) for file in files))
    for tank in ("tank", "cistern", "barrel"):
        mine = [level for level in one.levels if level.tank == tank]
        assert many.last("levels", tank) == (mine[-1] if mine else None)
    for machine in ("genset", "pump", "saw"):
        for tasks in (["look"], ["oil", "lash"], []):
            done = [
                service
                for task in tasks
                for service in one.services
                if service.machine == machine and task in service.tasks
            ]
            last = many.last_done(machine, tasks)
            assert last == max(done, key=day_and_hours, default=None)  # of like ones the first
            assert last is None or any(last is service for service in many.services)


@settings(
    deadline=None, max_examples=80, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(spread())
@pytest.mark.parametrize("made", [written, kept])
def test_marks_are_one(homestead, made, pair):
    tree, files = pair
    told = []
    for log in (whole(tree), Log(tuple(made(file) for file in files))):
        lines, wrong = marks(replace(homestead, log=log))
        told.append((
            [(mark.day, mark.hours, mark.shown, mark.entry) for mark in lines["genset"]],
            [(back.entry, back.shown, back.before.shown) for back in wrong],
        ))  # fmt: skip
    assert told[0] == told[1]


def test_of_marks_alike_readings_come_first_then_the_order_of_the_files(homestead):
    """As in one file: though the second file begins before the first, and its service is read first."""

    def same(key, day="2025-01-08"):
        more = {"tasks": ["look"]} if key == "services" else {}
        return {"date": day, "machine": "genset", "hours": "5 h", **more}

    first = {"services": [same("services")]}
    second = {"readings": [same("readings", "2025-01-07"), same("readings")]}
    third = {"services": [same("services", "2025-01-06"), same("services")]}
    log = Log(tuple(written(file) for file in (first, second, third)))
    lines, _ = marks(replace(homestead, log=log))
    alike = [mark.entry for mark in lines["genset"] if mark.day == date(2025, 1, 8)]
    assert [type(one).__name__ for one in alike] == ["Reading", "Service", "Service"]
    assert alike[1] is log.years[0].of("services")[0]


def test_of_entries_nobody_asks_for_none_is_made():
    tree = {
        "services": [
            {"date": "2025-01-02", "machine": "genset", "tasks": ["look"], "hours": "12 h"},
            {"date": "2025-01-03", "machine": "genset", "tasks": ["oil"], "parts": {"oil": "2 qt"}},
        ],
        "levels": [{"date": "2025-01-03", "tank": "tank", "level": "40 %"}],
    }
    year = kept(tree)
    log = Log((year,))
    assert log.last_day("services") == date(2025, 1, 3)
    assert log.last_done("pump", ["look"]) is None
    assert log.last("levels", "cistern") is None
    assert list(log.after("levels", date(2025, 1, 3))) == []
    assert list(year.made()) == []
    assert [one.date.day for one in log.having("services", "parts")] == [3]
    assert [(key, place) for key, place, _ in year.made()] == [("services", 1)]
    assert year.tree() == tree
    assert year.carried == carried(LogYear.model_validate(tree))


@pytest.mark.parametrize("made", [written, kept])
def test_of_services_alike_the_first_counts(made):
    def service(by, task):
        return {"date": "2025-01-02", "machine": "genset", "tasks": [task], "by": by}

    first = made({"services": [service("Ann", "look"), service("Ben", "look")]})
    second = made({"services": [service("Cid", "look"), service("Dan", "oil")]})
    assert Log((first, second)).last_done("genset", ["look"]).by == "Ann"
    assert Log((second, first)).last_done("genset", ["look"]).by == "Cid"
    assert Log((first, second)).last_done("genset", ["oil", "look"]).by == "Dan"


@pytest.mark.parametrize("made", [written, kept])
def test_a_fingerprint_tells_any_change_of_its_list_and_no_other(made):
    def year(level="40 %", text="wind", notes=None):
        entry = {"date": "2025-01-03", "tank": "tank", "level": level}
        return made({
            "levels": [entry | ({"notes": notes} if notes else {})],
            "events": [{"date": "2025-01-04", "text": text}],
        })  # fmt: skip

    levels = year().fingerprint("levels")
    assert levels == year(text="calm").fingerprint("levels")
    others = [year(level="41 %"), year(level="40.0 %"), year(notes="cold"), made({})]
    assert len({levels, *(one.fingerprint("levels") for one in others)}) == 5


def test_a_fingerprint_makes_no_entry():
    year = kept({"levels": [{"date": "2025-01-03", "tank": "tank", "level": "40 %"}]})
    year.fingerprint("levels")
    assert not list(year.made())


@pytest.mark.parametrize("made", [written, kept])
def test_the_last_up_to_a_day(made):
    def level(day, percent):
        return {"date": f"2025-01-{day:02}", "tank": "tank", "level": f"{percent} %"}

    log = Log((
        made({"levels": [level(2, 10), level(5, 20)]}), made({"levels": [level(4, 30), level(9, 40)]})
    ))  # fmt: skip
    last = [log.last("levels", "tank", date(2025, 1, day)) for day in (1, 3, 4, 8, 9, 30)]
    assert [one and one.level.magnitude for one in last] == [None, 10, 30, 20, 40, 40]
