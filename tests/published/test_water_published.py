"""Pressure tank against published values."""

import numpy as np
import pytest
from pytest import approx

from steadbook.figures import atmosphere, water

PSI, GAL, FOOT = 6.894757, 3.785412, 0.3048


class TestDrawdown:
    PELIKAN = "B. Pelikan, The Driller, Feb 2006, examples 1 and 2"

    def test_example_at_sea_level(self):
        litres = water.drawdown(85 * GAL, 28 * PSI, 30 * PSI, 50 * PSI)
        assert litres / GAL == approx(25.1, abs=0.05), self.PELIKAN
        assert litres / (85 * GAL) == approx(0.295, abs=0.0005), self.PELIKAN

    def test_air_pressure_at_lake_tahoe_is_the_printed_one(self):
        # example 2 puts 6000 ft at 11.8 psi; then 39.8 / 41.8 - 39.8 / 61.8 of 85 gal, by hand
        litres = water.drawdown(85 * GAL, 28 * PSI, 30 * PSI, 50 * PSI, 6000 * FOOT)
        assert litres / GAL == approx(26.2, abs=0.05), self.PELIKAN
        assert atmosphere.pressure(6000 * FOOT) / PSI == approx(11.8, abs=0.05), self.PELIKAN

    SWITCHES = ((20, 40), (30, 50), (40, 60), (50, 70))
    # the formula of the article, worked by hand for 18, 28, 38 and 48 psi precharge with 14.7 psi air
    CELLS = (
        (0.3446, 6.89, 15.16, 29.29),
        (0.2953, 5.91, 12.99, 25.10),
        (0.2579, 5.16, 11.35, 21.93),
        (0.2288, 4.58, 10.07, 19.45),
    )

    @pytest.mark.parametrize(("switch", "cells"), tuple(zip(SWITCHES, CELLS, strict=True)))
    def test_table_by_hand(self, switch, cells):
        cut_in, cut_out = (PSI * side for side in switch)
        volumes = np.array([1.0, 20.0, 44.0, 85.0])
        given = water.drawdown(volumes, water.precharge(cut_in), cut_in, cut_out)
        # air is 14.696 psi here and 14.7 in the table: the last printed digit may move by one
        assert given == approx(np.array(cells), abs=0.011), "Boyle's law, Pelikan's form"

    def test_thirty_fifty_ratio(self):
        source = "National Driller: about 0.3 of the tank for 30/50 at 28 psi"
        given = water.drawdown(1.0, 28 * PSI, 30 * PSI, 50 * PSI)
        assert given == approx(0.3, abs=0.05), source

    def test_precharge_is_two_psi_under_cut_in(self):
        source = "Water Systems Council, pressure tanks, Jan 2007"
        assert water.precharge(40 * PSI) / PSI == approx(38, abs=0.001), source
