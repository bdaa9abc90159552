"""The winters: kept, blended with the meter, and what a change of the plant does to them."""

import json

import pytest

from steadbook.figures import usage
from steadbook.workings import forecast, winter
from steadbook.workings.plant import plant_of

from .conftest import CLIMATE, LOG, POWER


def test_the_case_is_what_was_entered(worked):
    case = worked().power.plant.case
    assert case.sun[0] == 1.2
    assert case.arrays == ((4.0, 45.0, 180.0),)
    assert case.charger_current == 60.0
    # line through 3 L/h at 4 kW and 5 L/h at 8 kW, by hand
    assert (case.no_load_fuel, case.fuel_per_energy) == pytest.approx((1.0, 0.5))
    # 8 x 0.3 + 16 x 0.5 kWh and the washing
    assert case.daily_load() == pytest.approx([10.4 + 2.0] * 12)
    # in January the washing waits for the genset's usual hours, 16 to 20
    assert case.profile()[0][17] == pytest.approx(0.5 + 0.5)
    assert case.profile()[0][9] == pytest.approx(0.5)
    assert case.profile()[5][9] == pytest.approx(0.5 + 0.5)


def test_a_cold_bank_and_an_old_one_hold_less(worked):
    cold = CLIMATE.replace("bank: 25 degC", "bank: 0 degC")
    tests = (
        LOG + "measurements:\n  - {date: 2025-07-01, machine: bank, spec: capacity, value: 90 %}\n"
    )
    assert worked().power.plant.case.usable_capacity == pytest.approx(600 * 1.0, rel=0.02)
    # US Army TM 10-6140-200-14, para 1-9: 75 % left at 32 degF
    assert worked({"climate.yaml": cold}).power.plant.case.usable_capacity == pytest.approx(450)
    assert worked({"log/2026.yaml": tests}).power.plant.case.tested == pytest.approx(0.9)


def test_figures_are_the_same_kept_or_not(worked, tmp_path):
    fresh = worked(kept=None).power.ahead
    first = worked(kept=tmp_path / "kept").power.ahead
    again = worked(kept=tmp_path / "kept").power.ahead
    assert first == again == fresh


def test_what_is_kept_costs_no_second_time(worked, tmp_path, monkeypatch):
    kept = tmp_path / "kept"
    before = worked(kept=kept)
    monkeypatch.setattr(winter, "made_season", lambda *_: pytest.fail("made again"))
    after = worked(kept=kept)
    assert after.power.ahead == before.power.ahead
    assert after.running["genset"].rate == before.running["genset"].rate


def test_a_new_load_is_worked_out_anew(worked, tmp_path):
    kept = tmp_path / "kept"
    less = CLIMATE.replace("6-22: 500 W", "6-22: 300 W")
    hours = [
        worked(files, kept).power.ahead.whole["genset_hours"].mean
        for files in ({}, {"climate.yaml": less})
    ]
    assert hours[1] < 0.8 * hours[0]


@pytest.mark.parametrize("spoil", ["", "{", "[]", '{"months": []}'])
def test_a_spoilt_file_is_made_again(worked, tmp_path, spoil):
    kept = tmp_path / "kept"
    before = worked(kept=kept).power.ahead
    for file in kept.glob("*.json"):
        file.write_text(spoil)
    assert worked(kept=kept).power.ahead == before


def test_kept_winters_do_not_pile_up(worked, tmp_path, monkeypatch):
    monkeypatch.setattr(winter, "KEPT_AT_MOST", 3)
    kept = tmp_path / "kept"
    for watts in (200, 250, 300, 350):
        worked({"climate.yaml": CLIMATE.replace("22-6: 300 W", f"22-6: {watts} W")}, kept)
    assert len(list(kept.glob("*.json"))) <= 4  # three winters and the forecast


def test_the_meter_and_the_winters_are_weighed_by_month(worked):
    found = worked()
    made = found.power.ahead.hours_a_day(2.0)
    metered = found.metered["genset"].rate.by_month
    both = found.running["genset"].rate.by_month
    # January and February were seen once: half and half; the rest not at all
    assert both[0] == pytest.approx((metered[0] + made[0]) / 2)
    assert both[1] == pytest.approx(metered[1] * 28 / (28 + 28.25) + made[1] * 28.25 / (28 + 28.25))
    assert both[6] == pytest.approx(made[6])
    assert "made-up winters of this plant" in found.running["genset"].rate.evidence


def test_without_a_reading_the_winters_carry_the_forecast(worked):
    log = "readings:\n  - {date: 2026-03-01, machine: genset, hours: 1150 h}\n"
    power = POWER.replace("    installed: 2026-01-01\n    meter", "    meter")
    found = worked({"log/2026.yaml": log, "power.yaml": power})
    made = found.power.ahead.hours_a_day(2.0)
    assert found.running["genset"].rate.by_month == pytest.approx(made)
    assert found.running["genset"].rate.evidence == (
        "60 made-up winters of this plant, for want of meter readings"
    )


def test_the_due_day_says_what_carried_it(worked):
    figure = worked().figures["genset.oil-change.due"]
    assert any("made-up winters of this plant count the rest" in step for step in figure.working)


def test_a_heavier_load_brings_the_service_nearer(worked):
    heavy = CLIMATE.replace("6-22: 500 W", "6-22: 900 W")
    log = "services:\n  - {date: 2026-03-01, machine: genset, tasks: [oil-change], hours: 1150 h}\n"
    days = [
        next(state.due.day for state in worked(files).tasks)
        for files in ({"log/2026.yaml": log}, {"log/2026.yaml": log, "climate.yaml": heavy})
    ]
    assert days[1] < days[0]


def test_a_spare_genset_keeps_its_own_rate(worked):
    spare = POWER.replace("  bank:\n", "  spare:\n    kind: genset\n    name: Spare\n    spare: yes\n"
                          "    meter: {installed_at: 0 h, expected: 10 h}\n  bank:\n", 1)  # fmt: skip
    log = LOG + "  - {date: 2026-02-01, machine: spare, hours: 5 h}\n"
    rate = worked({"power.yaml": spare, "log/2026.yaml": log}).running["spare"].rate
    assert rate.evidence == "the hours expected in a year"


def test_without_a_climate_the_meter_alone_counts(worked):
    found = worked({"climate.yaml": None})
    assert found.running == found.metered
    assert found.power.ahead is None
    assert found.power.plant.missing == (
        "site_data/climate.yaml with the light by month, the load and the run rule",
    )


def test_a_bank_without_its_plate_is_named(worked):
    power = POWER.replace("chemistry: flooded, voltage: 48 V, ", "")
    assert worked({"power.yaml": power}).power.plant.missing == (
        "a battery bank with chemistry, voltage and capacity",
    )


def test_light_that_no_sky_gives_is_told_and_stops_nothing(worked):
    found = worked({"climate.yaml": CLIMATE.replace("sun: 0.9 ", "sun: 9 ")})
    assert found.power.ahead is None
    assert "clearness of a month is" in found.power.trouble
    assert found.running["genset"].rate == found.metered["genset"].rate


def test_southern_winters_are_made_around_july(worked, home):
    files = {
        "homestead.yaml": "name: A\nwhere: B\nlatitude: -45\nlongitude: 170\nelevation: 300 m\n"
    }
    files["climate.yaml"] = CLIMATE
    for north, south in zip(range(6), range(6, 12), strict=True):
        a, b = (f"  {_month(m)}: {{sun: {light} kWh" for m, light in ((north, _light(north)), (south, _light(south))))  # fmt: skip
        files["climate.yaml"] = (
            files["climate.yaml"]
            .replace(a, f"  {_month(north)}: {{sun: {_light(south)} kWh")
            .replace(b, f"  {_month(south)}: {{sun: {_light(north)} kWh")
        )
    files["power.yaml"] = POWER.replace("azimuth: 180 deg", "azimuth: 0 deg")
    power = worked(files).power
    assert power.plant.case.darkest == 6
    assert power.ahead.months[0] == 1
    north = worked().power.ahead
    assert power.ahead.of("genset_hours", 6).mean == pytest.approx(
        north.of("genset_hours", 12).mean, rel=0.15
    )


def _month(number):
    from .conftest import MONTHS

    return MONTHS[number]


def _light(number):
    from .conftest import LIGHT

    return LIGHT[number]


def test_the_fuel_is_the_line_of_the_plate(worked):
    ahead = worked().power.ahead
    whole = ahead.whole
    # 1 L in each hour and 0.5 L for each kWh
    reckoned = whole["genset_hours"].mean + 0.5 * whole["genset_energy"].mean
    assert whole["fuel"].mean == pytest.approx(reckoned)


def test_sums_of_the_winters_are_their_months(worked):
    ahead = worked().power.ahead
    for figure in ("genset_hours", "starts", "fuel", "unserved"):
        months = sum(one.mean for one in ahead.by_month[figure])
        assert ahead.whole[figure].mean == pytest.approx(months)
    assert json.dumps(ahead.hours)


def test_energy_of_a_december_day_adds_up(worked):
    """What comes in is what goes out: sun taken and genset against load and losses."""
    power = worked().power
    row = power.energy.of(12)
    out = power.ahead.discharged[power.ahead.months.index(12)]
    # every kWh out of the bank needs 1/0.8 in; the charger gives 0.85 of what it draws
    assert row.arrays - row.spilled + row.genset > row.load
    losses = out * (1 / 0.8 - 1) + row.genset * (1 - 0.85) + row.load * (1 / 0.9 - 1)
    assert row.arrays - row.spilled + row.genset == pytest.approx(row.load + losses, rel=0.1)


def test_times_seen_counts_parts_of_months(worked):
    seen = forecast.times_seen(worked().metered["genset"])
    assert seen[0] == pytest.approx(1.0)
    assert seen[1] == pytest.approx(28 / 28.25)
    assert seen[5] == 0


def test_readings_years_apart_tell_little_of_a_month(worked):
    power = POWER.replace("installed: 2026-01-01", "installed: 2020-01-01").replace("1000 h", "0 h")
    seen = forecast.times_seen(worked({"power.yaml": power}).metered["genset"])
    # 6 Junes in a stretch of 2192 days, of which 62 count: 6 x 62/2192
    assert seen[5] == pytest.approx(6 * 62 / 2192)


@pytest.mark.parametrize("month", range(1, 13))
def test_forecast_hours_of_a_month_are_those_of_the_rate(worked, month):
    found = worked()
    rate = found.running["genset"].rate.by_month[month - 1]
    days = usage.MONTH_LENGTHS[month - 1]
    assert found.power.month_hours(month) == pytest.approx(rate * days)


def test_the_plant_takes_the_machines_named(plant_home):
    power = POWER + (
        "  old:\n    kind: battery bank\n    name: Old bank\n"
        "    plate: {chemistry: AGM, voltage: 24 V, capacity: 200 Ah}\n"
    )
    climate = CLIMATE + "plant: {bank: old}\n"
    plant = plant_of(plant_home({"power.yaml": power, "climate.yaml": climate}).read())
    assert plant.bank.id == "old"
    assert plant.case.chemistry == "agm"
