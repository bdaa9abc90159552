"""What power, parts and replacements cost, from private prices alone."""

from datetime import date

import pytest

from steadbook.workings import work_out

DAY = date(2026, 3, 1)
GENSET = "    plate: {power: 8 kW}\n"
PLATE = (
    "    typical_load: 5 kW\n"
    "    plate: {power: 8 kW, fuel: propane, fuel_at_half_load: 0.88 gal/h, "
    "fuel_at_full_load: 1.36 gal/h, life: 5000 h}\n"
)
DELIVERY = (
    "deliveries:\n  - {date: 2026-01-10, tank: tank, amount: 100 gal, private: {price: 250 USD}}\n"
)
FILTER = "  oil-filter: {name: Oil filter, supplier: parts-shop, on_hand: 1, counted: 2026-01-01}"
OIL = "  engine-oil: {name: Engine oil, supplier: parts-shop, on_hand: 5 qt, counted: 2026-01-01}"


def priced(home):
    made = home().change("power.yaml", GENSET, PLATE)
    made.change("log/2026.yaml", "services:", DELIVERY + "services:")
    made.change("parts.yaml", FILTER, FILTER[:-1] + ", private: {price: 12 USD}}")
    made.change("parts.yaml", OIL, OIL[:-1] + ", pack: 5 qt, private: {price: 30 USD}}")
    return made


def cost(made, **options):
    return work_out(made.read(**options), DAY).cost


def test_a_kilowatt_hour_is_fuel_parts_and_wear(home):
    """1 gal/h at 5 kW (0.40 + 0.12 x 5), 2.50 USD a gallon, 4,200 USD / 5,000 h / 5 kW."""
    (one,) = cost(priced(home)).gensets
    assert one.rate / 3.785411784 == pytest.approx(1.0)
    assert one.energy.fuel == pytest.approx(2.50 / 5)
    assert one.energy.wear == pytest.approx(4200 / 5000 / 5)
    assert one.energy.total == pytest.approx(sum(one.energy))


def test_parts_are_priced_by_their_package(home):
    """12 USD of filter and 2.5 of 5 qt for 30 USD: 27 USD each time."""
    jobs = {job.state.name: job for job in cost(priced(home)).jobs}
    assert jobs["annual-service"].each == pytest.approx(27)  # it includes the oil change
    assert jobs["annual-service"].year == pytest.approx(27)


def test_what_has_no_price_is_not_called_free(home):
    """Fuel is priced, parts are not, and the genset has no life on its plate."""
    made = home().change("power.yaml", GENSET, PLATE.replace(", life: 5000 h", ""))
    made.change("log/2026.yaml", "services:", DELIVERY + "services:")
    found = work_out(made.read(), DAY)
    (one,) = found.cost.gensets
    assert (one.parts_priced, one.wear_priced, one.is_whole) == (False, False, False)
    working = " ".join(found.figures["genset.kwh-cost"].working)
    assert "Parts: no price is entered" in working
    assert "Wear: price or life" in working
    (one,) = cost(priced(home)).gensets
    assert (one.parts_priced, one.wear_priced, one.is_whole) == (True, True, True)


def test_a_task_inside_a_larger_one_counts_only_by_itself(home):
    found = work_out(priced(home).read(), DAY)
    hours = found.running["genset"].rate.year
    jobs = {job.state.name: job.times for job in found.cost.jobs}
    assert jobs["annual-service"] == pytest.approx(1)
    by_hours = hours / 200
    assert jobs.get("oil-change", 0) == pytest.approx(max(by_hours - 1, 0))
    assert sum(jobs.values()) == pytest.approx(max(by_hours, 1))


def test_what_saves_hours_is_held_against_them(home):
    made = priced(home)
    made.change(
        "power.yaml", "    private: {serial",
        "    alternatives:\n      sun: {name: More sun, saves: 100 h, life: 20 years, "
        "private: {price: 3000 USD}}\n    private: {serial",
    )  # fmt: skip
    (one,) = cost(made).gensets
    (sun,) = one.choices
    assert sun.energy == pytest.approx(500)
    assert sun.saving == pytest.approx(500 * one.energy.total)
    assert sun.payback == pytest.approx(3000 / sun.saving)
    assert sun.per_kilowatt_hour == pytest.approx(3000 / 20 / 500)
    assert sun.verdict == ("pays for itself" if sun.payback <= 20 else "does not pay for itself")


def test_the_fund_meets_each_bill_in_time(home):
    made = priced(home).change("power.yaml", "    installed: 2024-01-01\n", "    installed: 2024-01-01\n    lasts: 5 years\n")  # fmt: skip
    found = cost(made)
    (one,) = found.replacements
    assert one.day == date(2029, 1, 1)
    # due at the turn of 2028 to 2029: in the third year of 2026 to 2035, and again in the eighth
    assert sum(found.due) == pytest.approx(2 * 4200)
    assert found.payment == pytest.approx(max(sum(found.due[: n + 1]) / (n + 1) for n in range(10)))


def test_a_replacement_price_goes_before_what_was_paid(home):
    made = priced(home).change("power.yaml", "price: 4200 USD", "price: 4200 USD, replacement: 9000 USD")  # fmt: skip
    assert cost(made).gensets[0].energy.wear == pytest.approx(9000 / 5000 / 5)


def test_no_price_no_figure(home):
    made = home().change("power.yaml", GENSET, PLATE)
    assert cost(made).gensets == ()
    assert cost(made).jobs == ()


@pytest.mark.parametrize("edition", ["sitter", "technician"])
def test_other_editions_hear_nothing_of_money(home, edition):
    found = work_out(priced(home).read(edition=edition), DAY)
    assert not found.cost
    assert "genset.kwh-cost" not in found.figures
    assert not any("USD" in figure.value for figure in found.figures.values())


def test_prices_of_another_currency_are_not_mixed_in(home):
    made = priced(home).change("parts.yaml", "{price: 12 USD}", "{price: 12 CAD}")
    found = cost(made)
    assert found.currency == "USD"
    assert "Oil filter" in found.unpriced
