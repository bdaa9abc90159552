"""Safety dates and amounts against the published rules."""

from datetime import date

import pytest
from pytest import approx

from steadbook.figures import safety

GAL = 3.785412


class TestExtinguisher:
    SOURCE = "NFPA 10: look monthly (7.2), service yearly (7.3), table 8.3.1; seen in reprints"

    def test_dry_chemical_made_may_2020(self):
        dates = safety.extinguisher_dates(date(2020, 5, 1), "dry chemical")
        assert dates.look == date(2020, 6, 1), self.SOURCE
        assert dates.service == date(2021, 5, 1), self.SOURCE
        assert dates.internal == date(2026, 5, 1), "NFPA 10 (1998) 4-4.3: 6 years"
        assert dates.hydrostatic == date(2032, 5, 1), self.SOURCE
        assert dates.discard is None

    @pytest.mark.parametrize(
        ("kind", "years"),
        [("dry chemical", 12), ("carbon dioxide", 5), ("water", 5), ("wet chemical", 5)],
    )
    def test_hydrostatic_years(self, kind, years):
        dates = safety.extinguisher_dates(date(2021, 3, 15), kind)
        assert dates.hydrostatic == date(2021 + years, 3, 15), self.SOURCE

    def test_non_rechargeable(self):
        source = "NFPA 10: out of service 12 years from manufacture"
        dates = safety.extinguisher_dates(date(2014, 7, 1), "non-rechargeable")
        assert dates.discard == date(2026, 7, 1), source
        assert dates.hydrostatic is None


class TestReplacement:
    def test_smoke_alarm_counts_from_manufacture(self):
        source = "NFPA 72 (2007) 29.10: made March 2018, fitted 2020, replaced by March 2028"
        assert safety.smoke_alarm_replacement(date(2018, 3, 1)) == date(2028, 3, 1), source

    def test_carbon_monoxide_alarm_range(self):
        source = "UL 2034 alarms: 5 to 10 years by the date on the unit"
        made = date(2019, 11, 1)
        assert safety.carbon_monoxide_alarm_replacement(made) == date(2024, 11, 1), source
        assert safety.carbon_monoxide_alarm_replacement(made, 10) == date(2029, 11, 1), source

    def test_regulator(self):
        source = "LP-gas trade press, Dec 2006: 15 years, makers later 20 to 25"
        assert safety.regulator_replacement(date(2010, 4, 1)) == date(2025, 4, 1), source
        assert safety.regulator_replacement(date(2010, 4, 1), 25) == date(2035, 4, 1), source

    def test_chimney(self):
        source = "NFPA 211 14.2.1: yearly"
        assert safety.chimney_inspection(date(2025, 10, 3)) == date(2026, 10, 3), source

    def test_stored_water(self):
        source = "FEMA, Red Cross: change each 6 months"
        assert safety.stored_water_change(date(2026, 4, 10)) == date(2026, 10, 10), source


class TestCylinder:
    SOURCE = "49 CFR 180.209 table 1, (e), (g); rule effective 30 Nov 2020 in trade notices"

    def test_made_june_2015(self):
        made = date(2015, 6, 1)
        assert safety.cylinder_requalification(made) == date(2027, 6, 1), self.SOURCE
        visual = safety.cylinder_requalification(made, date(2027, 6, 1), "external visual")
        assert visual == date(2032, 6, 1), self.SOURCE

    @pytest.mark.parametrize(
        ("method", "years"),
        [("external visual", 5), ("proof pressure", 10), ("volumetric expansion", 12)],
    )
    def test_years_by_method(self, method, years):
        due = safety.cylinder_requalification(date(2010, 1, 1), date(2022, 1, 1), method)
        assert due == date(2022 + years, 1, 1), self.SOURCE


class TestWater:
    CDC = "CDC, Make Water Safe after a natural disaster"

    @pytest.mark.parametrize(
        ("strength", "cloudy", "drops"),
        [(5.25, False, 8), (6.0, False, 8), (8.25, False, 6), (6.0, True, 16), (8.25, True, 12)],
    )
    def test_drops_in_a_gallon(self, strength, cloudy, drops):
        assert safety.bleach_drops(GAL, strength, cloudy) == drops, self.CDC

    def test_quart(self):
        source = "US EPA table by a county: 1 quart 2 drops, cloudy 4"
        assert safety.bleach_drops(GAL / 4, 6.0) == 2, source
        assert safety.bleach_drops(GAL / 4, 6.0, True) == 4, source

    def test_five_gallons(self):
        source = "same table: 5 gallons half a teaspoon (2.5 mL; CDC: 8 drops are about 0.5 mL)"
        assert safety.bleach_drops(5 * GAL, 6.0) * 0.5 / 8 == approx(2.5), source

    def test_four_people_two_weeks(self):
        source = "FEMA, Red Cross, CDC: 1 US gal a person a day"
        assert safety.stored_water(4, 14) / GAL == approx(56), source

    @pytest.mark.parametrize(("feet", "minutes"), [(0, 1), (4999, 1), (5001, 3), (9000, 3)])
    def test_boil(self, feet, minutes):
        source = "US EPA, Emergency Disinfection of Drinking Water: 1 min, above 5000 ft 3 min"
        assert safety.boiling_time(feet * 0.3048) == minutes, source
