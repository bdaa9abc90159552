"""Many homes in one go: one that fails stops no other, and what has not changed is left alone."""

from datetime import date
from pathlib import Path

import pytest

from steadbook.bind import many
from steadbook.bind.many import Built, Order, build_homes, build_one, homes_in, inputs_hash, summary
from steadbook.cli import main
from steadbook.errors import BindError
from steadbook.starting import start_home

DAY = date(2026, 11, 25)
QUICK = Order(DAY, with_site=False, with_binder=False)  # calendar and tables alone


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Five small homes, the third of them with an error."""
    homes = tmp_path_factory.mktemp("homes")
    for name in "abcde":
        start_home(homes / name)
    place = homes / "c" / "site_data" / "homestead.yaml"
    place.write_text(place.read_text().replace("latitude:", "latitud:"))
    (homes / "notes.txt").write_text("not a home")
    return homes


def test_one_home_that_fails_stops_no_other(folder, capfd):
    status = main(
        ["build", "--homes", str(folder), "--no-site", "--no-binder", "--as-of", DAY.isoformat()]
    )
    words = capfd.readouterr().out
    assert status == 2
    assert [(folder / name / "build/calendar.ics").exists() for name in "abcde"] == [
        *(True, True, False, True, True)
    ]
    assert "site_data/homestead.yaml:" in words
    assert "did you mean 'latitude'?" in words
    assert "Traceback" not in words
    table = words.split("\n\n")[-2].splitlines()
    assert [line.split()[:2] for line in table] == [
        *(["built", "a"], ["built", "b"], ["failed", "c"], ["built", "d"], ["built", "e"])
    ]
    assert words.splitlines()[-1].startswith("4 built, 0 unchanged, 1 failed in ")


def test_a_home_is_built_again_only_when_something_of_it_has_changed(tmp_path):
    home = tmp_path / "place"
    start_home(home)
    log = home / "site_data/log/2024.yaml"
    done = build_one(home, QUICK)
    assert done.outcome == "built", done.words
    made = (home / "build/calendar.ics").stat().st_mtime_ns
    assert build_one(home, QUICK).outcome == "unchanged"
    assert (home / "build/calendar.ics").stat().st_mtime_ns == made
    before = log.read_text()
    log.write_text(before + "wrong: yes\n")
    failed = build_one(home, QUICK)
    assert failed.outcome == "failed" and "the unknown key 'wrong'" in failed.words[0]
    log.write_text(before)
    assert build_one(home, QUICK).outcome == "unchanged"  # the last good results are there
    (home / "build/calendar.ics").unlink()
    done = build_one(home, QUICK)
    assert done.outcome == "built", done.words


def test_every_input_counts(tmp_path):
    home = tmp_path / "place"
    start_home(home)
    seen = {inputs_hash(home, QUICK)}
    changes = (
        lambda: (home / "mkdocs.yml").write_text("site_name: x\n"),
        lambda: (home / "content").mkdir(),
        lambda: (home / "content/own.md").write_text("---\ntitle: Own\ntab: Own\n---\n"),
        lambda: (home / "content/own.md").rename(home / "content/other.md"),
        lambda: (home / "printed.yaml").write_text("title: x\n"),
        lambda: (home / "site_data/power.yaml").unlink(),
    )
    for number, change in enumerate(changes):
        change()
        seen.add(inputs_hash(home, QUICK))
        assert len(seen) == number + 2 - (number > 0)  # an empty folder is no input
    seen.add(inputs_hash(home, Order(date(2026, 11, 26), with_site=False, with_binder=False)))
    seen.add(inputs_hash(home, Order(DAY)))
    assert len(seen) == len(changes) + 2


def test_a_fault_of_our_own_is_told_and_stops_nobody(tmp_path, monkeypatch):
    start_home(tmp_path / "place")
    monkeypatch.setattr(many, "inputs_hash", lambda home, order: {}[home])
    built = build_one(tmp_path / "place", QUICK)
    assert built.outcome == "failed"
    assert built.words[0].startswith("KeyError: ")
    assert "test_many.py:" in built.words[0] and "Traceback" not in built.words[0]


def test_homes_that_were_under_way_when_a_process_died_are_built_alone(monkeypatch):
    homes = [Path(name) for name in ("a", "deadly", "c")]
    asked = []

    def pool(some, order, workers):
        asked.append([one.name for one in some])
        for one in some:
            if one.name == "deadly":
                yield None
                return
            yield Built(one, "built")

    monkeypatch.setattr(many, "_in_pool", pool)
    done = list(build_homes(homes, QUICK, workers=2))
    assert asked == [["a", "deadly", "c"], ["deadly"], ["c"]]
    assert [(one.home.name, one.outcome) for one in done] == [
        *(("a", "built"), ("deadly", "failed"), ("c", "built"))
    ]
    assert done[1].words == ("its process died; is there memory enough?",)


def test_a_folder_without_homes_is_refused(tmp_path):
    with pytest.raises(BindError, match="no folder with a site_data in it"):
        homes_in(tmp_path)
    with pytest.raises(BindError, match="No such file"):
        homes_in(tmp_path / "nowhere")


def test_the_summary_counts_and_tells_the_speed():
    done = [Built(Path("b"), "built", 6.0, 10), Built(Path("a"), "failed"), Built(Path("c"), "built", 6.0)]  # fmt: skip
    assert summary(done, 6.5, 2).splitlines() == [
        "failed     a",
        "built      b  (10 sheets, 6.0 s)",
        "built      c  (0 sheets, 6.0 s)",
        "",
        "2 built, 0 unchanged, 1 failed in 6.5 s, 2 at a time; 10.0 homes a minute a process",
    ]
