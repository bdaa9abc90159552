"""What keeps a sitter safe: shut-offs, fire, a smell of fuel, the owner's own way to stop."""

import re
from datetime import date

import pytest

from steadbook.bind.stationery import cards
from steadbook.making import made_manual
from steadbook.pages.cautions import fitting
from steadbook.pages.site_map import shut_offs
from steadbook.pages.specs import tells_minutes

AS_OF = date(2026, 11, 25)
START = "procedures/start-stop-by-hand.md"
POWER = """\
title: Power
equipment:
  genset:
    kind: genset
    name: Genset
    place: Shed
    plate: {{fuel: {fuel}, cooling: {cooling}}}
    hazards: [hot parts]
{more}
"""
WATER = """\
title: Water
equipment:
  pump:
    kind: well pump
    name: Well pump
    place: Pump house
    how_to_stop: Breaker P1 in the utility room down
    shut_off: {what: water, x: 3 m, y: 4 m, where: left of the door, how: Blue lever across}
  loop: {kind: other, name: Trough, how_to_stop: Pull its plug.}
  array:
    kind: array
    name: Array
    how_to_stop: Array breaker to OFF. The wires stay live.
    shut_off: {what: solar power, x: 5 m, y: 4 m, how: Array breaker to OFF}
"""
GAS = """\
title: Fuel
equipment:
  gas-tank: {kind: tank, name: Gas tank, place: Behind the shed, plate: {contents: propane}}
  water-tank: {kind: tank, name: Cistern, plate: {contents: water}, how_to_stop: Gate valve.}
  spare-tank: {kind: tank, name: Old tank, spare: yes, plate: {contents: propane}}
  range: {kind: load, name: Range, how_to_stop: Yellow valve., hazards: [fuel gas]}
  chair: {kind: other, name: Chair}
"""
FUEL = "title: Fuel\nequipment:\n  cans: {kind: tank, name: Cans, plate: {contents: gasoline}}\n"
SAFETY = """\
title: Safety
equipment:
  extinguishers:
    kind: extinguishers
    name: Extinguishers
    plate:
      units:
        kitchen: {place: Kitchen door, made: 2024-05-11}
        shed: {place: Shed door, made: 2024-05-11, agent: carbon dioxide}
        barn: {place: Barn, made: 2024-05-11, agent: water}
  old: {kind: extinguishers, name: The old one, place: Cellar stairs}
  smoke: {kind: alarms, name: Smoke alarms, plate: {senses: smoke, units: {hall: {place: Hall, made: 2024-03-01}}}}
  co: {kind: alarms, name: CO alarms, place: Bedroom, plate: {senses: carbon monoxide}}
"""


@pytest.fixture
def made(home):
    """A home by its genset's fuel and its further files, made for an edition."""

    def made(burns="diesel", more="", cooling="liquid", edition="sitter", **files):
        power = POWER.format(fuel=burns, more=more, cooling=cooling)
        texts = {f"{name}.yaml": text for name, text in files.items()}
        place = home({"power.yaml": power, **texts})
        for log in (place.site_data / "log").glob("*.yaml"):
            log.unlink()
        if "fuel" not in files:
            (place.site_data / "fuel.yaml").unlink()
        return made_manual(place.folder, as_of=AS_OF, edition=edition)

    return made


def page(manual, path):
    (text,) = [one.markdown for one in manual.manual.pages if one.path == path]
    return text


def row(text, name):
    (found,) = [
        line for line in text.splitlines() if line.startswith("|") and f"**{name}**" in line
    ]
    return found


# --- shut-offs -------------------------------------------------------------------------------


def test_a_shut_off_does_not_hide_how_the_machine_is_stopped(made):
    found = row(page(made(water=WATER), "map.md"), "Well pump")
    assert found.startswith("| **1** |") or found.startswith("| **2** |")
    assert "left of the door: Blue lever across. **To stop it:** Breaker P1" in found


def test_what_says_the_same_stands_once(made):
    found = row(page(made(water=WATER), "map.md"), "Array")
    assert found.count("breaker to OFF") == 1 and "stay live" in found


def test_the_laminated_card_has_both_too(made):
    lines = [line for card in cards(made(water=WATER)) if card.title.startswith("Shut off")
             for line in card.lines]  # fmt: skip
    (pump,) = [line for line in lines if line.startswith("Well pump")]
    assert pump == (
        "Well pump, left of the door: Blue lever across. "
        "To stop it: Breaker P1 in the utility room down."
    )
    assert any(line == "Trough: Pull its plug." for line in lines)


def test_each_machine_that_can_be_shut_off_is_listed_map_or_no_map(made):
    """Also what has no number: appliances of gas, a spare with words of its own."""
    more = "  spare: {kind: genset, name: Spare, spare: yes, how_to_stop: Key to 0.}"
    rows = shut_offs(made(more=more, water=WATER, fuel=GAS).workings.homestead)
    told = {one.machine.name: (one.group, one.number) for one in rows}
    assert told == {
        "Gas tank": ("Gas", None),
        "Range": ("Gas", None),
        "Genset": ("Genset and fuel", None),
        "Spare": ("Genset and fuel", None),
        "Array": ("Electricity", 1),
        "Well pump": ("Water", 2),
        "Cistern": ("Water", None),
        "Trough": ("The rest", None),
    }  # not the chair, nor the old tank, of which nothing is told


def test_where_a_page_sends_people_and_nothing_is_entered_it_says_so(made):
    manual = made(water=WATER, fuel=GAS)
    text = page(manual, "map.md")
    for name in ("Gas tank", "Genset"):
        assert "how is not entered, so have the owner show you" in row(text, name)
    lines = [line for card in cards(manual) for line in card.lines]
    assert not [line for line in lines if line.startswith(("Gas tank", "Genset"))]


def test_the_breaker_that_start_here_names_is_on_the_page_it_leads_to(made):
    manual = made(water=WATER)
    assert "then the pump's breaker. | [Shut-offs](map.md)" in page(manual, "index.md")
    assert "Breaker P1" in page(manual, "map.md")
    said = "No shut-off of the water is entered"
    assert said not in page(manual, "map.md") and said in page(made(), "map.md")


# --- a smell of fuel -------------------------------------------------------------------------


def smell(text):
    """Step A2."""
    return text[text.index("\n2. ") : text.index("\n3. ")]


def test_a_smell_of_gasoline_is_no_leak_of_gas(made):
    step = smell(page(made("gasoline", fuel=FUEL), START))
    for word in ("do not start it", "vapour", "no switch", "leave the door open", "fuel valve",
                 "leak is found", "Stay away", "fire service"):  # fmt: skip
        assert word in step, word
    assert "gas-leak.md" not in step and "rotten eggs" not in step


def test_beside_a_tank_of_gas_a_gasoline_genset_has_both_smells(made):
    step = smell(page(made("gasoline", fuel=GAS), START))
    assert "vapour" in step
    gas = step[step.index("rotten eggs") :]
    assert "gas-leak.md" in gas and "gas-leak.md" not in step[: step.index("rotten eggs")]


def test_a_propane_genset_leads_to_the_leak_of_gas_also_beside_gasoline(made):
    step = smell(page(made("propane", fuel=FUEL), START))
    assert "gas-leak.md" in step and "do not start it" in step and "vapour" not in step


def test_a_diesel_may_smell(made):
    step = smell(page(made("diesel", fuel=GAS), START))
    assert "If fuel stands or drips there" in step
    assert "smell" not in step and "gas-leak.md" not in step


# --- the owner's own steps -------------------------------------------------------------------


def stopping(text):
    return text[text.index("## D. Stop it") :]


def test_the_owners_minutes_of_cooling_stand_alone(made):
    more = "    how_to_stop: Breaker down, let it run 3 min, then key to 0."
    part = stopping(page(made(more=more), START))
    assert "2. Stop it as the owner says: Breaker down, let it run 3 min, then key to 0." in part
    assert "five minutes" not in part
    assert re.findall(r"^(\d)\. ", part, re.M) == ["1", "2", "3", "4"]


def test_without_the_owners_minutes_it_cools_before_it_is_stopped(made):
    part = stopping(page(made(more="    how_to_stop: Key to 0."), START))
    step = part[part.index("2. ") : part.index("\n3. ")]
    assert step.index("five minutes") < step.index("as the owner says: Key to 0.")
    assert "not in an emergency" in step


def test_the_owners_minutes_of_warming_stand_alone(made):
    for steps, told in (("Let it run 3 min", False), ("Turn the key", True)):
        part = page(made(more=f"    how_to_start: [{steps}]"), START)
        part = part[part.index("## B.") : part.index("## C.")]
        assert ("for five minutes" in part) == told
        assert ("warm up for five minutes" in part) == told


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("Breaker down, let it run 3 min, then key to 0.", True),
        ("Let it idle, then OFF", True),
        ("Five minutes without a load, then OFF", True),
        ("Engine switch to OFF. Let it cool before you cover it.", False),
        ("Minus cable off, wait 30 s", False),
        ("", False),
    ],
)
def test_whether_words_tell_minutes(words, told):
    assert tells_minutes(words) is told


# --- fire ------------------------------------------------------------------------------------


def test_the_page_of_fire_tells_what_hangs_where_and_for_what(made):
    """Water conducts and spreads burning fat; carbon dioxide does not cool embers: common practice,
    no source."""
    text = page(made(safety=SAFETY), "fire.md")
    use = {
        name: row(text, name).split(" | ") for name in ("Dry chemical", "Carbon dioxide", "Water")
    }
    assert use["Dry chemical"][1] == "Kitchen door" and use["Water"][1] == "Barn"
    assert "fuel" in use["Water"][3] and "under power" in use["Water"][3]
    assert (
        "under power" in use["Carbon dioxide"][2]
        and "leave a small room" in use["Carbon dioxide"][2]
    )
    assert "ood, cloth, paper" in use["Carbon dioxide"][3]
    assert "Cellar stairs" in row(text, "See its label")
    assert "- **Smoke alarms** (most sound three beeps, a pause, again): Hall" in text
    assert "- **CO alarms** (most sound four beeps, a pause, again): Bedroom" in text
    assert text.index("## A. Out, then call") < text.index("## C. The extinguishers")
    assert "Never fight** a battery bank, fuel in tank" in text  # no gas in this home


def test_start_here_leads_to_the_page_of_fire(made):
    manual = made(safety=SAFETY)
    (line,) = [one for one in page(manual, "index.md").splitlines() if "Smoke alarm or fire" in one]
    assert "[Fire](fire.md)" in line


def test_a_home_without_extinguishers_and_alarms_says_so(made):
    text = page(made(), "fire.md")
    assert "No extinguisher is entered" in text and "No smoke alarm is entered" in text
    assert "To use one" not in text


# --- cautions that fit -----------------------------------------------------------------------


def test_a_caution_names_what_the_home_has(made):
    for cooling, told in (("air", False), ("liquid", True)):
        text = page(made(cooling=cooling, edition="owner"), "machines/power/genset.md")
        assert ("coolant" in text) == told
        assert "stay hot long after a run" in text


def test_which_cautions_fit(made):
    def left(names, **home):
        machines = made(**home).workings.homestead.machines
        return fitting(names, machines["genset"], machines.values())

    names = ["fuel gas", "hot parts", "coolant", "battery"]
    assert left(names, cooling="air") == ["hot parts, air-cooled", "battery"]
    assert left(names, fuel=GAS) == names
    assert left(names, fuel=FUEL) == ["hot parts", "coolant", "battery"]


# --- what the round and what is normal say ---------------------------------------------------

OIL = """\
    installed: 2026-10-01
    meter: {installed_at: 0 h}
    tasks:
      oil: {title: Look at the oil, every: 8 h or 1 week}
      air: {title: Look at the filter, every: 10 h or 1 day}
      belt: {title: Look at the belt, every: 50 h or 1 month}
"""


def test_the_oil_by_hours_or_week_is_on_every_round(made):
    manual = made(more=OIL)
    assert "Look at the oil (Genset; every 8 h or 1 week)" in page(manual, "round.md")
    assert "Look at the filter (Genset; every 10 h or 1 day)" in page(manual, "round.md")
    daily = [line for card in cards(manual) if "round" in card.title for line in card.lines]
    assert daily == [
        "Genset: Look at the filter, every 10 h or 1 day",
        "Genset: Look at the oil, every 8 h or 1 week",
    ]
    owner = made(more=OIL, edition="owner")
    text = page(owner, "rounds.md")
    assert re.search(r"Look at the oil \(\[Genset\]\(\S+\); every 8 h or 1 week\)", text)
    planned = {state.name for visit in owner.workings.visits for state in visit.tasks}
    assert planned == {"belt"}


@pytest.mark.parametrize(("chemistry", "told"), [("LFP", False), ("flooded", True)])
def test_the_voltage_at_rest_is_left_out_for_lithium(made, chemistry, told):
    """It hardly moves between a tenth and nine tenths of the charge: common practice, no source."""
    more = f"""\
  bank:
    kind: battery bank
    name: Bank
    plate: {{chemistry: {chemistry}, voltage: 24 V, capacity: 400 Ah}}
"""
    line = row(page(made(more=more), "round.md"), "Bank at dawn")
    assert ("at rest" in line) == told
    assert "%" in line


ARRAY = "\n  array: {kind: array, name: Array}"


def test_the_inverter_takes_the_load_after_oil_and_breaker(made):
    part = page(made(more="    how_to_start: [Turn the key]"), START)
    part = part[part.index("## B.") : part.index("## C.")]
    order = (
        "oil light",
        "1. Turn the key",
        "warm up",
        "output breaker to ON",
        "inverter",
        "largest",
    )
    places = [part.index(words) for words in order]
    assert places == sorted(places)


def test_the_genset_stays_off_while_its_oil_is_read_and_its_exhaust_is_shovelled(made):
    place = made(more="    how_to_start: [Turn the key]" + ARRAY)
    assert "leave its switch at OFF, wait five minutes and pull the stick" in page(place, START)
    snow = page(place, "procedures/clear-snow.md")
    assert snow.index("It stays OFF until step 8") < snow.index("Shovel its air inlet and")
    assert snow.index("end of its exhaust free,") < snow.index("(AUTO)")
    assert "Start and stop by hand" not in snow


def test_a_sitter_reads_every_caution_of_a_page(made):
    place = made(more=ARRAY)
    assert "Snow and ice slide off roofs" in page(place, "procedures/clear-snow.md")
    assert "Belts, fans, chains" in page(place, START)
    assert "stay hot long after a run" in page(place, START)
