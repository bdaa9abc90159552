"""Limits and alarm points of carbon monoxide as their sources print them."""

import pytest
from pytest import approx

from steadbook.figures import carbon_monoxide

OSHA = "OSHA chemical sampling information: carbon monoxide, 1 ppm = 1.15 mg/m3 at 25 C"
COUNCIL = "National Research Council 1987, in NIOSH documentation of May 1994"
IMMEDIATE = "NIOSH, immediately dangerous to life or health, seen on a university's safety page"
AIR = "EPA outdoor air standard, seen second-hand"
HOME_ALARM = "UL 2034, several agreeing pages"


@pytest.mark.parametrize(
    ("parts", "minutes", "source"),
    [
        (25, 480, OSHA), (35, 480, OSHA), (50, 480, OSHA), (200, 0, OSHA),
        (400, 60, COUNCIL), (800, 30, COUNCIL), (1_500, 10, COUNCIL), (1_200, 0, IMMEDIATE),
        (9, 480, AIR), (35, 60, AIR),
    ],
)  # fmt: skip
def test_limits_printed(parts, minutes, source):
    limits = {(limit.concentration, limit.minutes) for limit in carbon_monoxide.LIMITS}
    assert len(limits) == 10 and (parts, minutes) in limits, source


def test_alarm_points_printed():
    assert carbon_monoxide.ALARM_POINTS == ((70, 60, 240), (150, 10, 50), (400, 4, 15)), HOME_ALARM


@pytest.mark.parametrize(("parts", "milligrams"), [(35, 40), (50, 55), (200, 229)])
def test_mass_printed(parts, milligrams):
    # the source rounds 57.3 for 50 ppm down to 55; the others to a whole milligram
    tolerance = 2.5 if parts == 50 else 0.5
    assert carbon_monoxide.mass_concentration(parts) == approx(milligrams, abs=tolerance), OSHA
