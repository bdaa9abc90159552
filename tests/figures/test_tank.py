"""Contents, reserve and delivery of a tank: hand cases, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import tank
from steadbook.figures._factors import GALLON, celsius
from steadbook.figures.propane import liquid_density

FILL = st.floats(0, 80)


def test_half_of_a_thousand_litres():
    assert tank.contents(1000.0, 50.0) == 500.0


def test_usable_is_nothing_at_and_below_the_mark():
    assert tank.usable_fuel(1000.0, 20.0) == 0.0
    assert tank.usable_fuel(1000.0, 5.0) == 0.0
    assert tank.usable_fuel(1000.0, 21.0) == approx(10.0)


def test_delivery_into_a_full_tank_is_nothing():
    assert tank.delivery(1000.0, 80.0) == 0.0
    assert tank.delivery(1000.0, 0.0) == approx(800.0)
    assert tank.delivery(1000.0, 60.0, fill_to=50.0) == 0.0


def test_a_summer_reading_is_believed_only_when_asked():
    with pytest.raises(OutOfRange, match=r"tank gauge is 86\.0 %; it must be from 0 to 80"):
        tank.contents(1000.0, 86.0)
    assert tank.contents(1000.0, 86.0, highest=95.0) == approx(860.0)


@pytest.mark.parametrize("figure", [tank.contents, tank.usable_fuel, tank.delivery])
@pytest.mark.parametrize("gauge", [-0.1, 80.1, float("nan")])
def test_a_reading_outside_the_gauge_is_refused(figure, gauge):
    with pytest.raises(OutOfRange, match=r"tank gauge is .* %; it must be from 0 to 80"):
        figure(1000.0, gauge)


def test_an_error_names_the_reading_that_fails():
    with pytest.raises(OutOfRange, match=r"tank gauge is 81\.0 %") as caught:
        tank.contents(np.array([1000.0, 500.0]), np.array([40.0, 81.0]))
    assert (caught.value.quantity, caught.value.value) == ("tank gauge", 81.0)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: tank.contents(0.0, 40.0), r"water capacity is 0\.0 L; it must be more than 0"),
        (lambda: tank.usable_fuel(1.0, 40.0, 81.0), r"reserve mark is 81\.0 %"),
        (
            lambda: tank.delivery(1.0, 40.0, 85.0),
            r"fill is 85\.0 %; it must be above 0, at most 80",
        ),
        (lambda: tank.warmed_fill(81.0, 0.0, 10.0), r"fill is 81\.0 %"),
        (lambda: tank.permitted_contents(1.0, 47.0), r"filling density is 47\.0 %"),
        (lambda: tank.permitted_contents(1.0, 42.0, 1.0), r"specific gravity of propane is 1\.0;"),
        (lambda: tank.shell_capacity(1000.0, 900.0), r"tank length is 900\.0 mm"),
        (lambda: tank.shell_capacity(0.0, 900.0), r"tank diameter is 0\.0 mm"),
        (lambda: tank.shell_capacity(1.0, 9.0, "flat"), r"heads is flat; it must be hemispherical"),
        (lambda: tank.filling_density(-1.0), r"water capacity is -1\.0 L"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


def test_array_equals_scalar():
    gauges = np.array([0.0, 12.5, 20.0, 80.0])
    for figure in (tank.contents, tank.usable_fuel, tank.delivery):
        assert figure(1000.0, gauges) == approx([figure(1000.0, float(g)) for g in gauges])


def test_a_sphere_is_two_heads_without_a_shell():
    assert tank.shell_capacity(1000.0, 1000.0) == approx(np.pi / 6 * 1000, rel=1e-12)


def test_nominal_capacity_agrees_with_the_shell():
    # The 80 to 160 mm of rounding in the table, and fittings, leave 5 %.
    for name in ("500 gal", "1000 gal"):
        nominal = tank.NOMINAL_TANKS[name]
        assert tank.shell_capacity(nominal.diameter, nominal.length) == approx(
            nominal.water_capacity, rel=0.05
        )
    small = tank.NOMINAL_TANKS["120 gal horizontal"]
    assert tank.shell_capacity(small.diameter, small.length, "ellipsoidal") == approx(
        small.water_capacity, rel=0.02
    )


def test_large_tanks_may_be_filled_denser():
    assert tank.filling_density(1200 * GALLON) == 42.0
    assert tank.filling_density(1201 * GALLON) == 45.0


@given(st.floats(1, 1e5), FILL)
def test_contents_and_delivery_make_a_full_tank(water_capacity, gauge):
    total = tank.contents(water_capacity, gauge) + tank.delivery(water_capacity, gauge)
    assert total == approx(0.8 * water_capacity)


@given(FILL, st.floats(-40, 50))
def test_a_statement_at_60_fahrenheit_keeps_the_mass(gauge, temperature):
    stated = tank.contents_at_reference(1000.0, gauge, temperature)
    mass_now = tank.contents(1000.0, gauge) * liquid_density(temperature)
    assert stated * liquid_density(celsius(60.0)) == approx(mass_now)


@given(st.floats(1, 80), st.floats(-40, 50), st.floats(0.1, 5))
def test_a_warming_tank_reads_more(fill, temperature, step):
    assert tank.warmed_fill(fill, temperature, temperature + step) > fill
