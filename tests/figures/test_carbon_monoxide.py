"""Carbon monoxide: order of the tables, edges, errors."""

import numpy as np
import pytest
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import carbon_monoxide


def test_limits_rise_and_name_their_source():
    concentrations = [limit.concentration for limit in carbon_monoxide.LIMITS]
    assert concentrations == sorted(concentrations)
    assert all(limit.who for limit in carbon_monoxide.LIMITS)


def test_more_gas_means_a_sooner_alarm():
    delays = carbon_monoxide.alarm_delay(np.array([0.0, 69.9, 70.0, 149.9, 150.0, 400.0, 5000.0]))
    assert delays.tolist() == [np.inf, np.inf, 240, 240, 50, 15, 15]


def test_array_equals_scalar():
    parts = np.array([9.0, 35.0, 400.0])
    assert carbon_monoxide.mass_concentration(parts) == approx(
        [carbon_monoxide.mass_concentration(float(part)) for part in parts]
    )


@pytest.mark.parametrize(
    "figure", [carbon_monoxide.mass_concentration, carbon_monoxide.alarm_delay]
)
@pytest.mark.parametrize("parts", [-1.0, 1.1e6])
def test_what_cannot_be_is_refused_in_words(figure, parts):
    with pytest.raises(
        OutOfRange, match=r"carbon monoxide is .* ppm; it must be from 0 to 1,000,000"
    ):
        figure(parts)
