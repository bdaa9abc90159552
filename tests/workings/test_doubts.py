"""A slip of the pen in a torque or a count is doubted, with its line; what can be is not."""

from datetime import date
from pathlib import Path

import pytest

from steadbook.inventory import read_inventory
from steadbook.workings.doubts import doubts

ROOT = Path(__file__).parents[2]
BOLT = "      drain plug: {torque: 26 lbf*ft}"
SAFETY = """\
title: Safety
equipment:
  co: {kind: alarms, name: CO alarms, plate: {senses: carbon monoxide}}
  bottles: {kind: extinguishers, name: Extinguishers}
"""


@pytest.fixture
def home(home):
    """The small home with its alarms and extinguishers."""
    return lambda files=None: home({"safety.yaml": SAFETY} | (files or {}))


def warnings(home, spec):
    made = home().change("power.yaml", BOLT, f"      drain plug: {spec}")
    return tuple(doubts(made.read()))


@pytest.mark.parametrize(
    "spec",
    [
        "{torque: 260 lbf*ft, thread: M14x1.5}",  # decimal slip up
        "{torque: 2.6 lbf*ft, thread: M14x1.5}",  # and down
        "{torque: 2.5 N*m, thread: M8, grade: '8.8'}",
        "{torque: 25 lbf*ft, thread: M8, grade: '8.8'}",  # 25 N*m typed as lbf*ft
        "{torque: 50 lbf*ft, thread: M10, grade: '8.8'}",  # 50 N*m typed as lbf*ft
        "{torque: 84 lbf*ft, thread: M6}",  # lbf*in typed as lbf*ft
        "{torque: 18 lbf*in, thread: 14 mm gasket}",  # lbf*ft typed as lbf*in
        "{torque: 20 to 30 lbf*ft, thread: M8, grade: '8.8'}",  # upper end of a range
    ],
)
def test_a_slip_of_the_pen_is_doubted(home, spec):
    (found,) = warnings(home, spec)
    assert found.warning
    assert found.key.endswith("genset.specs.drain plug.torque")


@pytest.mark.parametrize(
    "spec",
    [
        "{torque: 26 lbf*ft}",  # no thread: nothing to hold it against
        "{torque: 260 lbf*ft, thread: 1/2 NPT}",  # a pipe thread is in no table
        # ISO 898-1 M8 8.8: 21,200 N proof load, 75 % of it at K 0.20 is 25.4 N*m
        "{torque: 25 N*m, thread: M8, grade: '8.8'}",
        "{torque: 7 lbf*ft, thread: M8, grade: '8.8'}",  # gasketed cover
        # LSU AgCenter: 14 mm gasket plug 15 to 22 lbf*ft in aluminium
        "{torque: 15-22 lbf*ft, thread: 14 mm gasket}",
        "{torque: 25 N*m, thread: M8, grade: stainless}",  # grade in no table: any grade allowed
    ],
)
def test_a_torque_of_the_trade_is_not(home, spec):
    assert warnings(home, spec) == ()


def test_the_warning_says_where_what_and_how_to_put_it_right(home):
    made = home().change(
        "power.yaml", BOLT, "      drain plug: {torque: 250 N*m, thread: M8, grade: '8.8'}"
    )
    (found,) = doubts(made.read())
    assert (found.file, found.line) == (
        "site_data/power.yaml",
        made.line("power.yaml", "drain plug: {torque"),
    )
    assert found.found == "250 N*m, which is much for M8 8.8"
    # 17.8 N*m / 3 and 33.1 N*m: K 0.20, 75 % of 580 MPa x 36.6 mm2, 30 % either way
    assert found.allowed.replace("\N{NO-BREAK SPACE}", " ") == (
        "from 4.4 lbf·ft (5.9 N·m) to 24 lbf·ft (33 N·m) on such a thread"
    )
    assert "decimal point and the unit" in found.fix


USED = "  - {{date: {day}, machine: genset, tasks: [oil-change], parts: {{oil-filter: {count}}}}}\n"


def shelf_doubts(home, services, orders=""):
    """Of the filters 1 was counted on 1 January, and 1 used on 1 February."""
    made = home()
    made.change("log/2026.yaml", "levels:\n", services + orders + "levels:\n")
    return made, tuple(doubts(made.read()))


def test_more_used_than_the_shelf_held_asks_for_a_count(home):
    made, (found,) = shelf_doubts(home, USED.format(day="2026-02-10", count=2))
    assert found.warning
    assert (found.file, found.line) == (
        "site_data/log/2026.yaml",
        made.line("log/2026.yaml", "2026-02-10"),
    )
    assert found.found == "3 of oil-filter used since the count of 2026-01-01"
    assert found.allowed == "1 counted and 0 received by then: the shelf cannot give more"
    assert "count it again" in found.fix


@pytest.mark.parametrize(("received", "doubted"), [("2026-02-10", 0), ("2026-02-11", 1)])
def test_what_came_by_that_day_is_there(home, received, doubted):
    order = f"orders:\n  - {{date: 2026-01-20, supplier: parts-shop, parts: {{oil-filter: 1}}, received: {received}}}\n"
    _, found = shelf_doubts(home, USED.format(day="2026-02-10", count=1), order)
    assert len(found) == doubted


def test_a_new_count_puts_the_shelf_right(home):
    count = "counts:\n  - {date: 2026-02-05, part: oil-filter, amount: 2}\n"
    _, found = shelf_doubts(home, USED.format(day="2026-02-10", count=2), count)
    assert found == ()


def test_the_demo_has_none():
    assert list(doubts(read_inventory(ROOT / "site_data", as_of=date(2026, 11, 25)))) == []


# --- gaps and fluids ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("spec", "word"),
    [
        ("spark plug: {gap: 7.6 mm}", "wide"),
        ("spark plug: {gap: 0.76 in}", "wide"),  # 0.76 mm with the wrong unit
        ("spark plug: {gap: 0.076 mm}", "narrow"),
        ("spark plug: {gap: 0.030 mm}", "narrow"),  # 0.030 in with the wrong unit
        ("plug: {gap: 0.7-8.0 mm, thread: 14 mm gasket}", "wide"),
        ("intake valve: {lash: 0.08 in, engine: cold}", "wide"),
        ("intake valve: {lash: 0.008 mm, engine: cold}", "narrow"),
    ],
)
def test_a_gap_no_engine_has_is_doubted(home, spec, word):
    made = home().change("power.yaml", BOLT, f"{BOLT}\n      {spec}")
    (found,) = doubts(made.read())
    assert f"which is {word} for a " in found.found
    assert found.line == made.line("power.yaml", spec)
    assert "decimal point and the unit" in found.fix


@pytest.mark.parametrize(
    "spec",
    [
        "spark plug: {gap: 0.016 in}",  # magnetos of aircraft
        "spark plug: {gap: 0.76 mm}",
        "spark plug: {gap: 0.080 in}",  # the widest of coil ignitions
        "intake valve: {lash: 0.002-0.004 in}",
        "ignition coil: {gap: 0.010 in}",  # no plug
    ],
)
def test_a_gap_of_the_trade_is_not(home, spec):
    assert list(doubts(home().change("power.yaml", BOLT, f"{BOLT}\n      {spec}").read())) == []


def filled(home, capacity, amount, task="        specs: [drain plug, engine oil]\n"):
    made = home().change("power.yaml", BOLT, f"{BOLT}\n      engine oil: {{capacity: {capacity}}}")
    made.change("power.yaml", "        specs: [drain plug]\n", task)
    return made.change("power.yaml", "engine-oil: 2.5 qt}", f"engine-oil: {amount}}}")


@pytest.mark.parametrize(
    ("capacity", "amount", "key", "said"),
    [
        ("19 L", "1.9 L", "specs.engine oil.capacity", "19 L for engine oil, and 1.9 L of"),
        ("2.5 qt", "25 qt", "tasks.oil-change.parts.engine-oil", "2.5 qt for engine oil, and 25"),
        ("2.5 gal", "2.5 fl oz", "specs.engine oil.capacity", "2.5 gal"),
    ],
)
def test_what_a_task_fills_is_near_what_goes_in(home, capacity, amount, key, said):
    (found,) = doubts(filled(home, capacity, amount).read())
    assert found.key == f"equipment.genset.{key}"
    assert found.found.startswith(said)
    assert found.allowed == "two amounts that are near each other"


@pytest.mark.parametrize(
    ("capacity", "amount"),
    [("2.5 qt", "2.5 qt"), ("2.4 L", "2.5 qt"), ("6.8 qt", "3.4 qt")],  # the last: concentrate
)
def test_amounts_near_each_other_are_not_doubted(home, capacity, amount):
    assert list(doubts(filled(home, capacity, amount).read())) == []


def test_a_task_that_tops_up_beside_one_that_fills_is_not_doubted(home):
    made = filled(home, "2.5 qt", "2.5 qt")
    task = (
        "      top-up: {title: Top up, every: 1 month, parts: {engine-oil: 0.1 qt}, "
        "specs: [engine oil]}\n"
    )
    made.change("power.yaml", "      annual-service:\n", task + "      annual-service:\n")
    assert list(doubts(made.read())) == []


def test_a_service_uses_what_its_tasks_take(home):
    used = "parts: {oil-filter: 1}"
    made = home().change("log/2026.yaml", used, "parts: {engine-oil: 25 qt}")
    made.change("parts.yaml", "on_hand: 5 qt", "on_hand: 50 qt")
    (found,) = doubts(made.read())
    assert (found.found, found.allowed) == (
        "25 qt of engine-oil",
        "about 2.5\N{NO-BREAK SPACE}qt, as the tasks done take",
    )
    assert found.line == made.line("log/2026.yaml", "25 qt")


# --- tanks -------------------------------------------------------------------------------------

GAUGE = "tank: tank, level: 60 %}"


@pytest.mark.parametrize(
    ("level", "is_doubted"),
    [
        ("level: 95 %", True),
        (
            "level: 86 %, temperature: 40 degF",
            True,
        ),  # cold liquid: the 80 % of the rule and the gauge
        ("level: 84 %, temperature: 40 degF", False),
        ("level: 80 %", False),
        # CoolProp, saturated propane: 0.5225 kg/L at 40 degF, 0.4713 at 100 degF, so 80 % -> 88.7 %
        ("level: 91 %, temperature: 100 degF", False),
        ("level: 95 %, temperature: 100 degF", True),
    ],
)
def test_a_propane_gauge_above_its_filling_limit_is_doubted(home, level, is_doubted):
    made = home().change("log/2026.yaml", GAUGE, f"tank: tank, {level}}}")
    found = list(doubts(made.read()))
    assert len(found) == is_doubted
    if found:
        assert found[0].key == "levels[1].level"
        assert "filling limit of propane after NFPA 58" in found[0].allowed
        assert "overfilled" in found[0].fix


def test_another_fuel_may_fill_its_tank(home):
    made = home().change("fuel.yaml", "contents: propane", "contents: diesel")
    made.change("log/2026.yaml", GAUGE, "tank: tank, level: 98 %}")
    assert list(doubts(made.read())) == []


def delivered(home, entry, plate="capacity: 500 gal"):
    line = f"deliveries:\n  - {{date: 2026-02-01, tank: tank, {entry}}}\n"
    made = home().change("log/2026.yaml", "levels:\n", line + "levels:\n")
    return made.change("fuel.yaml", "capacity: 500 gal", plate)


@pytest.mark.parametrize(
    ("entry", "room"),
    [
        ("amount: 2000 gal", "400"),  # 80 % of 500 gal
        ("amount: 450 gal", "400"),
        ("amount: 300 gal, before: 60 %", "100"),  # (80 - 60) % of 500 gal
        ("amount: 200 L, before: 79 %", "5"),  # 1 % of 500 gal
    ],
)
def test_no_tank_takes_more_than_it_has_room_for(home, entry, room):
    (found,) = doubts(delivered(home, entry).read())
    assert found.key == "deliveries[1].amount"
    assert found.allowed.startswith(f"about {room}\N{NO-BREAK SPACE}")
    assert "capacity" in found.fix


@pytest.mark.parametrize(
    ("entry", "plate"),
    [
        ("amount: 400 gal", "capacity: 500 gal"),
        ("amount: 260 gal, before: 30 %, after: 82 %", "capacity: 500 gal"),
        ("amount: 1100 gal", "capacity: 500 gal, count: 3"),
    ],
)
def test_a_delivery_that_fits_is_not_doubted(home, entry, plate):
    assert list(doubts(delivered(home, entry, plate).read())) == []


def test_a_tank_filled_beyond_the_limit_is_doubted(home):
    (found,) = doubts(delivered(home, "amount: 100 gal, after: 92 %").read())
    assert (found.key, found.found) == ("deliveries[1].after", "92 % in a tank of propane")
    assert "tell the supplier at once" in found.fix


# --- meters ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("expected", "second", "is_doubted"),
    [
        ("100 h", "320 h", True),  # 220 h in January: 2,500 h a year, and a year's hours at once
        ("400 h", "320 h", False),  # not yet a year's hours
        ("100 h", "190 h", False),
        (None, "700 h", False),  # nothing to hold it against
    ],
)
def test_many_times_the_expected_hours_are_doubted(home, expected, second, is_doubted):
    meter = "{installed_at: 0 h}"
    made = home()
    if expected:
        made.change("power.yaml", meter, f"{{installed_at: 0 h, expected: {expected}}}")
    made.change(
        "log/2026.yaml", "machine: genset, hours: 120 h}\n", f"machine: genset, hours: {second}}}\n"
    )
    made.change("log/2026.yaml", "tasks: [oil-change], hours: 120 h,", "tasks: [oil-change],")
    found = list(doubts(made.read()))
    assert len(found) == is_doubted
    if found:
        assert (found[0].key, found[0].found) == (
            "readings[2].hours",
            "320 h on 2026-02-01, 220 h more than on 2026-01-01",
        )
        assert "the 100 h a year that are expected" in found[0].allowed


# --- place and safety --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("longitude", "emergency", "is_doubted"),
    [
        ("110.0", '"911"', True),
        ("-110.0", '"911"', False),
        ("110.0", '"112"', False),  # somewhere in Asia
        ("7.5", '"911"', False),  # not sure: left alone
    ],
)
def test_an_american_place_in_asia_is_doubted(home, longitude, emergency, is_doubted):
    made = home().change("homestead.yaml", "longitude: -110.0", f"longitude: {longitude}")
    made.change("homestead.yaml", "people:", f"emergency: {emergency}\npeople:")
    found = list(doubts(made.read()))
    assert len(found) == is_doubted
    if found:
        assert (found[0].key, found[0].found) == (
            "longitude",
            "110, east of Greenwich, and the emergency number 911",
        )
        assert found[0].fix.startswith("write -110;")


def test_the_philippines_dial_911_in_the_east(home):
    made = home().change("homestead.yaml", "longitude: -110.0", "longitude: 121.0")
    made.change("homestead.yaml", "latitude: 45.0", "latitude: 15.0")
    made.change("homestead.yaml", "people:", "emergency: 911\npeople:")
    assert list(doubts(made.read())) == []


@pytest.mark.parametrize(
    ("kept", "missing"),
    [
        ("  co: {kind: alarms, name: CO, plate: {senses: carbon monoxide}}\n", ["NFPA 10"]),
        ("  bottles: {kind: extinguishers, name: Extinguishers}\n", ["IRC R315"]),
        (
            "  smoke: {kind: alarms, name: Smoke alarms, plate: {senses: smoke}}\n",
            ["IRC R315", "NFPA 10"],
        ),
    ],
)
def test_who_burns_fuel_has_an_alarm_and_an_extinguisher(home, kept, missing):
    made = home({"safety.yaml": f"title: Safety\nequipment:\n{kept}"})
    found = list(doubts(made.read()))
    assert [one.key for one in found] == ["equipment.genset"] * len(missing)
    for one, source in zip(found, missing, strict=True):
        assert "Genset, which burns fuel, and no " in one.found
        assert source in one.allowed
        assert one.fix.count("safety.yaml") == 1


def test_who_burns_nothing_needs_neither(home):
    power = "title: Power\nequipment:\n  roof: {kind: array, name: Roof}\n"
    made = home({"power.yaml": power, "safety.yaml": None, "log/2026.yaml": None})
    assert list(doubts(made.read())) == []


def test_the_starter_has_none():
    home = ROOT / "generator/steadbook/starter/site_data"
    assert list(doubts(read_inventory(home, as_of=date(2024, 9, 15)))) == []


@pytest.mark.parametrize("latitude", [52, 38, 24, -24, -44, -55])
@pytest.mark.parametrize("azimuth", [0, 45, 80, 120, 172, 180, 204, 315, 352])
def test_an_array_that_faces_the_pole_is_doubted(home, latitude, azimuth):
    """Against pvlib: at noon of the shortest day its sun stands behind an upright array, or not."""
    import pandas
    from pvlib import irradiance, solarposition

    array = (
        "title: Power\nequipment:\n  roof: {kind: array, name: Roof, "
        f"plate: {{tilt: 90 deg, azimuth: {azimuth} deg}}}}\n"
    )
    made = home({"power.yaml": array, "log/2026.yaml": None})
    line = next(
        line for line in (made.site_data / "homestead.yaml").read_text().splitlines()
        if line.startswith("latitude:")
    )  # fmt: skip
    made.change("homestead.yaml", line, f"latitude: {latitude}")
    found = [one for one in doubts(made.read()) if one.key.endswith("azimuth")]
    day = "2026-12-21" if latitude > 0 else "2026-06-21"
    sun = solarposition.get_solarposition(
        pandas.DatetimeIndex([f"{day} 12:00"], tz="UTC"), latitude, 0
    )
    angle = irradiance.aoi(90, azimuth, sun["zenith"], sun["azimuth"]).iloc[0]
    assert bool(found) == (angle > 90)
    assert all(one.warning and one.line for one in found)


def test_a_flat_array_or_one_between_the_tropics_may_face_anywhere(home):
    for latitude, tilt in ((-44, 10), (-44, 14.5), (23, 60), (-23, 60)):
        toward = 180 if latitude < 0 else 0
        array = (
            "title: Power\nequipment:\n  roof: {kind: array, name: Roof, "
            f"plate: {{tilt: {tilt} deg, azimuth: {toward} deg}}}}\n"
        )
        made = home({"power.yaml": array, "log/2026.yaml": None})
        text = (made.site_data / "homestead.yaml").read_text()
        line = next(one for one in text.splitlines() if one.startswith("latitude:"))
        made.change("homestead.yaml", line, f"latitude: {latitude}")
        assert not [one for one in doubts(made.read()) if one.key.endswith("azimuth")]
