"""Fuel of a home: contents at 60 F, the day the mark is reached, the day to order, shut in."""

from dataclasses import replace
from datetime import date
from html import unescape
from pathlib import Path

import pytest

from steadbook.figures.fuel import heating_value
from steadbook.inventory.models import Heating
from steadbook.making import made_manual, worked_out
from steadbook.units import convert
from steadbook.workings import work_out
from steadbook.workings.fuel_users import heating_daily, tank_of, typical_rate
from steadbook.workings.fuels import fuel_state

ROOT = Path(__file__).parents[2]
DAY = date(2026, 3, 1)
FUEL = """\
title: Fuel
equipment:
  tank:
    kind: tank
    name: Propane tank
    feeds: [heater]
    supplier: parts-shop
    plate: {contents: propane, capacity: 500 gal, reserve: 20 %, order_at: 40 %}
"""
HEATER = """\
title: Heat
equipment:
  heater:
    kind: load
    name: Heater
    plate: {input: 22000 Btu/h}
    use:
      - {hours: 10 h, duty: 30 %}
"""
# By hand: 22,000 Btu/h x 3 h / 91,502 Btu/gal = 0.7213 gal a day. 60 % to 20 % of 500 gal is
# 200 gal: 277.3 days from 1 February, so that the 278th day, 5 November, ends below the mark.


def stock(home, *, road="", heat=HEATER, fuel=FUEL, **files):
    made = home({"fuel.yaml": fuel, "heat.yaml": heat, **files})
    if road:
        made.change("homestead.yaml", "call_first:", f"{road}\ncall_first:")
    (found,) = fuel_state(made.read(), {}, DAY).stocks
    return found


def gallons(litres):
    return convert(litres, "L", "gal")


def test_contents_are_the_gauge_times_the_capacity(home):
    found = stock(home)
    assert gallons(found.contents) == pytest.approx(300)
    assert gallons(found.usable) == pytest.approx(200)
    assert gallons(found.delivery) == pytest.approx(100)  # to 80 %
    assert found.heat / 1055.05585262 == pytest.approx(300 * 91_502 / 1e6, rel=1e-6)  # million Btu


def test_cold_liquid_is_more_at_60_degrees(home):
    log = "levels:\n  - {date: 2026-02-01, tank: tank, level: 60 %, temperature: 20 degF}\n"
    found = stock(home, **{"log/2026.yaml": log})
    # CoolProp 8.0.0, saturated pure propane: 1.0607 gal at 60 F for one at 20 F
    assert gallons(found.contents) == pytest.approx(300 * 1.0607, rel=2e-4)
    assert found.percent(found.contents) == pytest.approx(60)


def test_the_mark_is_reached_when_the_usable_fuel_is_burnt(home):
    found = stock(home)
    assert found.mark_days == (date(2026, 11, 5), date(2026, 9, 20), date(2026, 12, 30))
    # 100 gal to the order mark of 40 %: 138.6 days
    assert found.order_mark_days[0] == date(2026, 6, 19)


def test_manifolded_cylinders_count_together(home):
    found = stock(home, fuel=FUEL.replace("capacity: 500 gal", "capacity: 250 gal, count: 2"))
    assert gallons(found.contents) == pytest.approx(300)


def test_order_day_is_the_lead_time_before_the_mark_with_heavy_use(home):
    order = stock(home).order
    assert (order.order_by, order.arrives_by) == (date(2026, 9, 6), date(2026, 9, 20))


def test_a_closed_road_moves_the_truck_before_it(home):
    road = "road_closed: {season: 1 September to 30 September, reason: mud}"
    order = stock(home, road=road).order
    assert (order.order_by, order.arrives_by) == (date(2026, 8, 17), date(2026, 8, 31))


def test_shut_in_tells_what_is_left_when_the_road_opens(home):
    road = "road_closed: {season: 1 December to 20 April, reason: snow}"
    found = stock(home, road=road)
    shut = found.shut_in
    # 79 days from 1 February to 21 April: 57.0 gal; 20 % more with heavy use
    assert (shut.until, shut.verdict) == (date(2026, 4, 21), "yes")
    assert found.percent(shut.expected) == pytest.approx((300 - 79 * 0.72129) / 5, abs=0.01)
    assert found.percent(shut.low) == pytest.approx((300 - 79 * 0.72129 * 1.2) / 5, abs=0.01)
    assert found.last_order is None  # the road was closed on the day of the reading


@pytest.mark.parametrize(
    ("level", "verdict"), [("40 %", "yes"), ("32 %", "with usual use"), ("31 %", "no")]
)
def test_the_verdict_turns_where_the_mark_is_passed(home, level, verdict):
    # 11.40 % of the tank is used by then, 13.67 % with heavy use; the mark is 20 %
    road = "road_closed: {season: 1 December to 20 April, reason: snow}"
    log = f"levels:\n  - {{date: 2026-02-01, tank: tank, level: {level}}}\n"
    assert stock(home, road=road, **{"log/2026.yaml": log}).shut_in.verdict == verdict


def test_seasons_of_use_count_only_on_their_days(home):
    heat = HEATER.replace("duty: 30 %}", "duty: 30 %, season: 1 November to 31 March}")
    (row,) = stock(home, heat=heat).by_user
    assert [round(gallons(one), 3) for one in row.by_month] == [
        0.721, 0.721, 0.721, 0, 0, 0, 0, 0, 0, 0, 0.721, 0.721,
    ]  # fmt: skip


def test_without_users_the_forecast_stays_silent(home):
    found = stock(home, fuel=FUEL.replace("    feeds: [heater]\n", ""))
    assert found.levels is None
    assert found.order is None


def test_use_not_known_names_the_missing_keys(home):
    fed = FUEL.replace("feeds: [heater]", "feeds: [genset]")
    found = stock(home, fuel=fed, heat=None)
    assert found.missing[0] == ("enter fuel and fuel_at_half_load and fuel_at_full_load on Genset")
    assert stock(home).missing == ()
    silent = stock(home, heat=HEATER.split("    use:")[0])
    assert silent.missing == ("enter use on Heater",)
    assert (
        "feeds on Propane tank"
        in stock(home, fuel=fed.replace("    feeds: [genset]\n", "")).missing[0]
    )


def test_the_page_of_the_reserve_tells_what_to_enter(home):
    fed = FUEL.replace("feeds: [heater]", "feeds: [genset]")
    made = home({"fuel.yaml": fed}).change("power.yaml", "        procedure: genset-oil\n", "")
    made.change("power.yaml", "plate: {power: 8 kW}", "plate: {power: 8 kW, fuel: propane}")
    pages = {page.path: page.markdown for page in made_manual(made.folder, as_of=DAY).manual.pages}
    told = "use not known: enter fuel_at_half_load and fuel_at_full_load on Genset"
    for name in ("index.md", "fuel/reserve.md"):
        assert told in unescape(pages[name]).replace("\\", ""), name


def test_without_a_reading_nothing_is_told(home):
    found = stock(home, **{"log/2026.yaml": "levels: []\n"})
    assert not found.is_full_known


def test_a_genset_takes_its_load_line_times_its_hours(home):
    plate = (
        "    typical_load: 4.7 kW\n    plate: {power: 8 kW, fuel: propane, "
        "fuel_at_half_load: 0.88 gal/h, fuel_at_full_load: 1.36 gal/h}\n"
    )
    made = home().change("power.yaml", "    plate: {power: 8 kW}\n", plate)
    homestead = made.read()
    genset = homestead.machines["genset"]
    # 0.40 gal/h without load and 0.12 gal for a kWh
    assert gallons(typical_rate(genset)) == pytest.approx(0.40 + 0.12 * 4.7)
    assert tank_of(homestead, genset).id == "tank"  # the only tank of its fuel
    state = work_out(homestead, DAY).fuel.of("tank")
    hours = work_out(homestead, DAY).running["genset"].forecast
    used = state.contents - state.levels.on(date(2026, 6, 1))[0]
    expected = (hours.hours_on(date(2026, 6, 1)) - hours.hours_on(date(2026, 2, 1))) * 0.964
    assert gallons(used) == pytest.approx(expected)


def test_a_spare_genset_is_not_counted_on(home):
    plate = (
        "    spare: yes\n    plate: {power: 8 kW, fuel: propane, "
        "fuel_at_half_load: 0.88 gal/h, fuel_at_full_load: 1.36 gal/h}\n"
    )
    made = home().change("power.yaml", "    plate: {power: 8 kW}\n", plate)
    found = work_out(made.read(), DAY).fuel.of("tank")
    assert found.levels is None
    # usable 200 gal at full load: 147 h
    assert found.loads[-1].hours == pytest.approx(200 / 1.36)


def test_the_forecast_of_a_tank_does_not_move_because_a_day_passed():
    first, second = (
        worked_out(ROOT, as_of=date(2026, 11, day)).fuel.of("north-tank") for day in (25, 29)
    )
    assert replace(first, users=(), tank=None, by_user=(), loads=(), levels=None, reading=None,
                   supplier=None) == replace(
        second, users=(), tank=None, by_user=(), loads=(), levels=None, reading=None, supplier=None
    )  # fmt: skip


def test_the_demo_reckons_what_its_gauge_fell():
    """The invented log was made from hours and days by other numbers than these."""
    state = worked_out(ROOT, as_of=date(2026, 11, 25)).fuel
    for name in ("north-tank", "cabin-tank"):
        check = state.of(name).gauge_check
        assert check.reckoned == pytest.approx(check.fell, rel=0.1)


def test_every_level_stays_between_heavy_and_light_use():
    found = worked_out(ROOT, as_of=date(2026, 11, 25)).fuel.of("north-tank")
    for row in found.months:
        assert 0 <= row.low <= row.expected <= row.high <= 80


def test_a_road_closed_all_year_lets_no_truck_come(home):
    road = "road_closed: {season: 1 January to 31 December, reason: no road}"
    found = stock(home, road=road)
    assert found.closure is None
    assert found.order is not None


def test_a_tank_of_no_size_is_as_good_as_unread(home):
    found = stock(home, fuel=FUEL.replace("500 gal", "0 gal"))
    assert not found.is_full_known


def test_a_heater_follows_the_weather():
    """By hand: 24 h x loss / (65 F - coldest) x degree days / efficiency / 91,502 Btu/gal."""
    homestead = worked_out(ROOT, as_of=date(2026, 11, 25)).homestead
    heating = Heating.model_validate({"loss": "17000 Btu/h", "efficiency": "80 %", "share": "50 %"})
    january = convert(homestead.climate.months["January"].air.to("degC"), "degC", "degF")
    daily = heating_daily(homestead, heating, heating_value("propane"), [date(2027, 1, 15)])
    by_hand = 24 * 17_000 / (65 + 20) * (65 - january) / 0.80 / 91_502 * 0.5
    assert gallons(daily[0]) == pytest.approx(by_hand, rel=1e-6)


DIESEL = FUEL.replace("contents: propane", "contents: diesel")
LATE_CLOSURE = "road_closed: {season: 10 March to 20 April, reason: mud}"


def test_diesel_is_filled_to_the_top_and_propane_to_80_percent(home):
    """The rule of 80 % is for liquefied gas, which swells (NFPA 58)."""
    log = "levels:\n  - {date: 2026-02-01, tank: tank, level: 91 %}\n"
    found = stock(home, road=LATE_CLOSURE, fuel=DIESEL, **{"log/2026.yaml": log})
    assert gallons(found.delivery) == pytest.approx(45)
    assert found.shut_in_full and found.percent(found.shut_in_full.start) == pytest.approx(100)
    gas = stock(home, road=LATE_CLOSURE)
    assert gas.shut_in_full and gas.percent(gas.shut_in_full.start) == pytest.approx(80)


def test_filling_never_leaves_less_than_there_was(home):
    """A gauge at 91 %: 0.1443 % of the tank is used on each of the 36 days to the last truck."""
    log = "levels:\n  - {date: 2026-02-01, tank: tank, level: 91 %}\n"
    found = stock(home, road=LATE_CLOSURE, **{"log/2026.yaml": log})
    assert found.shut_in_full and found.shut_in
    assert found.percent(found.shut_in_full.start) == pytest.approx(91 - 36 * 0.14426, abs=0.01)
    assert found.shut_in_full.expected >= found.shut_in.expected - 1e-6
    assert gallons(found.delivery) == 0


def test_a_truck_whose_day_is_past_is_not_offered(home):
    road = LATE_CLOSURE.replace("10 March", "28 February")
    assert stock(home, road=road).shut_in_full is None  # last truck 27 February, now 1 March
    late = stock(home, road=LATE_CLOSURE)
    assert late.shut_in_full and late.last_order is None  # order by 23 February
    early = stock(home, road=LATE_CLOSURE.replace("10 March", "20 March"))
    assert early.last_order and early.last_order.order_by == date(2026, 3, 5)
