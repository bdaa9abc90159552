"""Alarms and extinguishers whose life ran out stand wherever one looks for what is past due."""

from datetime import date

import pytest

from steadbook.bind.calendar import calendar_file
from steadbook.cli import main
from steadbook.making import made_manual
from steadbook.terminal import due_table
from steadbook.units import NO_BREAK
from steadbook.workings import work_out

AS_OF = date(2026, 3, 1)
SAFETY = """\
title: Safety
equipment:
  smoke:
    kind: alarms
    name: Smoke alarms
    plate:
      senses: smoke
      units:
        hall: {place: Hall, made: 2022-02-01}
        loft: {place: Loft, made: 2016-02-01}
  co:
    kind: alarms
    name: CO alarms
    plate:
      senses: carbon monoxide
      life: 7 years
      units: {utility: {place: Utility room, made: 2017-05-01}}
"""
WITH_TASK = """\
    tasks: {replace: {title: Replace the alarms, every: 7 years, counts_from: manufacture}}
"""


@pytest.fixture
def place(home):
    """A home with a smoke alarm that ran out a month ago and a CO alarm that did so long since."""

    def build(safety=SAFETY):
        files = ("power.yaml", "fuel.yaml", "log/2025.yaml", "log/2026.yaml")
        return home({"safety.yaml": safety, **dict.fromkeys(files)})

    return build


def test_what_ran_out_is_past_due(place):
    # made 1 May 2017 + 7 years by its label; made 1 Feb 2016 + 10 years (NFPA 72 29.10)
    found = work_out(place().read(), AS_OF)
    assert [(one.status, one.unit.title, one.day) for one in found.expiring] == [
        ("past due", "Replace: CO alarm, Utility room", date(2024, 5, 1)),
        ("past due", "Replace: smoke alarm, Loft", date(2026, 2, 1)),
        ("in hand", "Replace: smoke alarm, Hall", date(2032, 2, 1)),
    ]
    states = [found.status(one) for one in found.tasks]
    assert found.counts()["past due"] == states.count("past due") + 2


@pytest.mark.parametrize(
    ("day", "status"),
    [
        (date(2026, 1, 25), "due now"), (date(2026, 2, 1), "due now"),
        (date(2026, 2, 2), "past due"), (date(2025, 12, 10), "coming up"),
    ],
)  # fmt: skip
def test_its_status_follows_the_day(place, day, status):
    found = work_out(place().read(), day)
    assert next(one for one in found.expiring if one.key == "smoke.loft-replace").status == status


def test_a_task_that_falls_due_on_that_day_stands_for_it(place):
    found = work_out(place(SAFETY + WITH_TASK).read(), AS_OF)
    assert "co.utility-replace" not in {one.key for one in found.expiring}
    assert "co.utility-replace" in {one.key for one in found.units}


def test_the_terminal_lists_them_and_fails_for_scripts(place, monkeypatch):
    monkeypatch.setenv("COLUMNS", "160")
    made = place()
    table = due_table(work_out(made.read(), AS_OF))
    line = next(one for one in table.splitlines() if "CO alarm, Utility room" in one)
    assert line.startswith("past due") and "1 May 2024" in line and "22 months ago" in line
    assert "Hall" not in table
    assert "Hall" in due_table(work_out(made.read(), AS_OF), everything=True)
    call = ["due", "--home", str(made.folder), "--fail-if-past-due", "--as-of"]
    assert main([*call, "2026-01-02"]) == 1
    made.change("safety.yaml", "made: 2017-05-01", "made: 2025-05-01")
    assert main([*call, "2026-01-02"]) == 0


def test_the_calendar_has_them_under_a_name_that_stays(place):
    made = place()

    def events(day):
        read = calendar_file(work_out(made.read(), day)).decode().replace("\r\n ", "")
        parts = [one for one in read.split("BEGIN:VEVENT") if "UID:unit." in one]
        return {one.split("UID:")[1].split("@")[0]: one for one in parts}

    early, late = events(date(2025, 12, 10)), events(AS_OF)
    assert early.keys() == late.keys() == {"unit.co.utility-replace", "unit.smoke.loft-replace"}
    assert "DTSTART;VALUE=DATE:20260201" in early["unit.smoke.loft-replace"]
    assert "DTSTART;VALUE=DATE:20260301" in late["unit.smoke.loft-replace"]  # at once, then


def test_every_page_names_them(place):
    made = place()
    pages = {
        one.path: one.markdown.replace(NO_BREAK, " ")
        for one in made_manual(made.folder, as_of=AS_OF).manual.pages
    }
    first = pages["index.md"].split("## Reserves")[0]
    assert "Replace: CO alarm, Utility room" in first and "Replace: smoke alarm, Loft" in first
    ending = pages["index.md"].split("## Running out")[1].split("## Next visit")[0]
    assert "CO alarm: to be replaced" in ending
    assert "Replace: CO alarm, Utility room" in pages["schedule.md"]
    march = next(one for one in pages["year.md"].splitlines() if one.startswith("| **Mar 2026"))
    assert "now: CO alarms" in march and "now: Smoke alarms" in march
    units = pages["machines/safety/smoke.md"].split("## Units and their dates")[1]
    assert "| Hall | 1 Feb 2022 |" in units and "| Loft | 1 Feb 2016 |" in units


def test_the_sitter_is_told(place):
    made = place()
    pages = made_manual(made.folder, as_of=AS_OF, edition="sitter").manual.pages
    first = next(one.markdown for one in pages if one.path.endswith("index.md"))
    told = [one for one in first.replace(NO_BREAK, " ").splitlines() if "Do not rely" in one]
    assert len(told) == 2
    assert "CO alarm, to be replaced by 1 May 2024" in told[0] and "Utility room" in told[0]
