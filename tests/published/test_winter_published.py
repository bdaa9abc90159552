"""Facts of the trade, reproduced from bank, charger, panels and the stepped winter together.

Common practice, no source: an 11 kW genset feeding about 60 A raises its bank about 10 % an hour,
50 % to full in about five hours; a 9 kW array peaking at 70 to 90 A fills it in about three hours of
full sun. The sayings do not tell DC from AC; here the amps are those into the bank.
"""

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from steadbook.figures import panels, winter

BANK = winter.plant_of(48.0, 600.0, "lfp", 60.0, 11.0, idle_fuel=1.1, fuel_per_energy=0.28)


def test_11_kw_at_60_a_takes_the_bank_from_half_to_full_in_five_hours():
    house, dark = np.full(24, 1.0), np.zeros((24, 1))
    ledger = winter.Ledger(24, 1)
    rule = winter.RunRule(0.5, 0.985)
    winter.season(BANK, rule, house, dark, [1], start_charge=0.4999, ledger=ledger)
    running = ledger.rows["running"][:, 0] > 0
    charge = ledger.rows["stored"][:, 0] / BANK.capacity
    assert charge[0] - 0.4999 == approx(0.10, abs=0.01)
    assert running[:5].all()
    assert not running[6:12].any()  # five hours, or six with the hour that stops it
    assert charge[:6].max() > 0.96
    # a flooded bank of the same size goes as far as its taper lets it, and takes the longer
    flooded = winter.plant_of(48.0, 600.0, "flooded", 60.0, 11.0, 1.1, 0.28)
    result = winter.season(flooded, rule, house, dark, [1], start_charge=0.4999)
    assert result.genset_hours.sum() >= 7  # of one day


@pytest.mark.parametrize("amps", [70, 80, 90])
def test_a_9_kw_array_fills_the_bank_in_about_three_hours_of_full_sun(amps):
    """Full sun: as long as the array stands at its controller's limit. 55 to 65 % to full."""
    limit = amps * 0.054
    array = panels.Array(9.0, tilt=60.0, most_power=limit)
    sun = panels.hourly_output([array], 45.0, 75, 0.70, 0.0)  # a clear day in March
    assert sun.max() == approx(limit)
    full_hours = np.flatnonzero(sun > 0.999 * limit)
    start = {70: 0.62, 80: 0.57, 90: 0.52}[amps]
    ledger = winter.Ledger(24, 1)
    only = np.zeros(24)
    only[full_hours[:3]] = sun[full_hours[:3]]  # three hours of it and no more
    winter.season(
        replace(BANK, floor=0.0), winter.RunRule(0.0, 0.9), np.zeros(24), only[:, np.newaxis],
        [3], start_charge=start, ledger=ledger,
    )  # fmt: skip
    assert ledger.rows["stored"][-1, 0] / BANK.capacity == approx(0.97, abs=0.04)
