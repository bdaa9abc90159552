"""Fire, gas and emergency water: dates from dates, amounts from people and days.

The date on the unit, the maker's manual and the local code come first; the years here are the
usual published ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import ceil

from steadbook.figures._declare import require, units
from steadbook.figures._factors import FOOT, GALLON, Number
from steadbook.units import CalendarInterval, add_interval

EXTINGUISHER_YEARS: dict[str, tuple[float | None, float | None]] = {
    "dry chemical": (6, 12),
    "carbon dioxide": (None, 5),
    "water": (None, 5),
    "wet chemical": (None, 5),
    "non-rechargeable": (None, None),
}
"""Years to the internal examination and to the hydrostatic test.

Source: NFPA 10 (2010) 7.3 and table 8.3.1, seen in reprints; water and wet chemical from memory,
check."""
EXTINGUISHER_LOOK_MONTHS, EXTINGUISHER_SERVICE_YEARS = 1, 1
NON_RECHARGEABLE_YEARS = 12

SMOKE_ALARM_YEARS = 10.0
CARBON_MONOXIDE_ALARM_YEARS = 5.0
GAS_DETECTOR_YEARS = 5.0
REGULATOR_YEARS = 15.0
CHIMNEY_YEARS = 1.0
STORED_WATER_MONTHS = 6

CYLINDER_FIRST_YEARS = 12.0
CYLINDER_YEARS = {"external visual": 5.0, "proof pressure": 10.0, "volumetric expansion": 12.0}
"""Years until the next requalification, by the method of the last.

Source: 49 CFR 180.209(e) and (g), seen in trade notices of the rule in force since 30 Nov 2020."""

WATER_EACH_DAY = GALLON
"""One US gallon a person, half to drink [L/d]. Source: FEMA, Red Cross, CDC, seen in reprints."""


def later(day: date, years: float = 0, months: int = 0) -> date:
    """The same day of a later month; the month's last day where that day does not exist.

    >>> later(date(2024, 2, 29), years=1)
    datetime.date(2025, 2, 28)
    >>> later(date(2026, 8, 31), months=6)
    datetime.date(2027, 2, 28)

    Source: definition.
    """
    return add_interval(day, CalendarInterval(months=round(years * 12) + months))


@dataclass(frozen=True)
class ExtinguisherDates:
    """When a portable extinguisher is next looked at, serviced, opened, tested, thrown away."""

    look: date
    service: date
    internal: date | None
    hydrostatic: date | None
    discard: date | None


def extinguisher_dates(
    made: date,
    kind: str = "dry chemical",
    *,
    looked_at: date | None = None,
    serviced: date | None = None,
    opened: date | None = None,
    tested: date | None = None,
) -> ExtinguisherDates:
    """Next dates of a portable fire extinguisher; what was never done counts from manufacture.

    Parameters
    ----------
    made : date
        Date of manufacture on the label.
    kind : str
        A key of `EXTINGUISHER_YEARS`.
    looked_at, serviced, opened, tested : date, optional
        Last monthly look, yearly maintenance, internal examination, hydrostatic test. A test
        includes an internal examination.

    Returns
    -------
    ExtinguisherDates
        None where a date does not apply to the kind.

    Raises
    ------
    OutOfRange
        A kind not in the table, or something done before the extinguisher was made.

    Examples
    --------
    >>> dates = extinguisher_dates(date(2020, 5, 1))
    >>> dates.service, dates.internal, dates.hydrostatic
    (datetime.date(2021, 5, 1), datetime.date(2026, 5, 1), datetime.date(2032, 5, 1))

    Source: NFPA 10 (2010) 7.2, 7.3, table 8.3.1; (1998) 4-4.3, seen in reprints.
    """
    require(kind in EXTINGUISHER_YEARS, "kind", kind, "", f"one of {', '.join(EXTINGUISHER_YEARS)}")
    for done in (looked_at, serviced, opened, tested):
        require(done is None or done >= made, "date done", done, "", f"not before {made}")
    internal_years, test_years = EXTINGUISHER_YEARS[kind]
    last_opened = max(opened or made, tested or made)
    return ExtinguisherDates(
        look=later(looked_at or made, months=EXTINGUISHER_LOOK_MONTHS),
        service=later(serviced or made, EXTINGUISHER_SERVICE_YEARS),
        internal=later(last_opened, internal_years) if internal_years else None,
        hydrostatic=later(tested or made, test_years) if test_years else None,
        discard=later(made, NON_RECHARGEABLE_YEARS) if kind == "non-rechargeable" else None,
    )


def _replacement(made: date, years: float) -> date:
    require(years > 0, "life", years, "years", "more than 0")
    return later(made, years)


def smoke_alarm_replacement(made: date, life: float = SMOKE_ALARM_YEARS) -> date:
    """Day by which a smoke alarm is replaced, counted from manufacture, not from fitting.

    ``made`` is the date on the back; ``life`` the maker's figure [years]; more than 0.

    >>> smoke_alarm_replacement(date(2018, 3, 1))
    datetime.date(2028, 3, 1)

    Source: NFPA 72 (2007 on) 29.10: 10 years, seen in a reprint.
    """
    return _replacement(made, life)


def carbon_monoxide_alarm_replacement(
    made: date, life: float = CARBON_MONOXIDE_ALARM_YEARS
) -> date:
    """Day by which a carbon monoxide alarm is replaced.

    Lives run from 5 to 10 years: give the figure printed on the unit [years]; without it the
    shortest is taken.

    >>> carbon_monoxide_alarm_replacement(date(2020, 9, 1), 7)
    datetime.date(2027, 9, 1)

    Source: UL 2034 end-of-life marking; the range of years is common practice, no source.
    """
    return _replacement(made, life)


def gas_detector_replacement(made: date, life: float = GAS_DETECTOR_YEARS) -> date:
    """Day by which a propane detector is replaced; give the figure on the unit [years].

    >>> gas_detector_replacement(date(2021, 1, 31))
    datetime.date(2026, 1, 31)

    Source: common practice, no source: 5 years without a figure on the unit.
    """
    return _replacement(made, life)


def regulator_replacement(made: date, life: float = REGULATOR_YEARS) -> date:
    """Day by which a propane regulator is replaced by a licensed gas fitter.

    ``life`` is the maker's [years]: 15 of old, 20 to 25 for newer ones; salt air, floods or a
    buried dome shorten it.

    >>> regulator_replacement(date(2012, 6, 1))
    datetime.date(2027, 6, 1)

    Source: makers' figures reported in the LP-gas trade press, Dec 2006.
    """
    return _replacement(made, life)


def chimney_inspection(inspected: date) -> date:
    """Day by which a chimney, flue or vent is inspected again; sooner if deposits show.

    >>> chimney_inspection(date(2025, 9, 14))
    datetime.date(2026, 9, 14)

    Source: NFPA 211 14.2.1: at least once a year, seen in a reprint.
    """
    return later(inspected, CHIMNEY_YEARS)


def stored_water_change(filled: date) -> date:
    """Day by which tap water in containers is changed.

    >>> stored_water_change(date(2026, 8, 31))
    datetime.date(2027, 2, 28)

    Source: FEMA, Red Cross: each 6 months, seen in reprints.
    """
    return later(filled, months=STORED_WATER_MONTHS)


def cylinder_requalification(
    made: date, requalified: date | None = None, method: str = "external visual"
) -> date:
    """Day by which a propane cylinder (DOT 4B, 4BA, 4BW, 4B240ET) is next requalified.

    After it the cylinder is not to be filled; what is in it may be used.

    Parameters
    ----------
    made : date
        Month and year stamped on the collar.
    requalified : date, optional
        Last requalification, stamped or labelled.
    method : str
        Of that one, a key of `CYLINDER_YEARS`: the mark E is external visual, S proof pressure,
        no letter volumetric expansion.

    Returns
    -------
    date
        12 years after manufacture, then by the method.

    Raises
    ------
    OutOfRange
        A method not in the table, or a requalification before manufacture.

    Examples
    --------
    >>> cylinder_requalification(date(2015, 6, 1))
    datetime.date(2027, 6, 1)
    >>> cylinder_requalification(date(2015, 6, 1), date(2027, 6, 1))
    datetime.date(2032, 6, 1)

    Source: 49 CFR 180.209 table 1, (e), (g), seen in trade notices.
    """
    require(method in CYLINDER_YEARS, "method", method, "", f"one of {', '.join(CYLINDER_YEARS)}")
    if requalified is None:
        return later(made, CYLINDER_FIRST_YEARS)
    require(requalified >= made, "requalification", requalified, "", f"not before {made}")
    return later(requalified, CYLINDER_YEARS[method])


@units(people="", days="d", daily="L/d", other="L/d", returns="L")
def stored_water(
    people: Number, days: Number, daily: Number = WATER_EACH_DAY, other: Number = 0.0
) -> Number:
    """Water to keep for an emergency; half is to drink, half to cook and wash.

    Parameters
    ----------
    people : float or array
        In the house; >= 0.
    days : float or array
        To last; >= 0: 3 at least, 14 better. [d]
    daily : float or array
        For one person; >= 0, more in heat, for children, nursing and sick people. [L/d]
    other : float or array
        For animals; >= 0. [L/d]

    Returns
    -------
    float or array
        Water to store. [L]

    Raises
    ------
    OutOfRange
        A negative number.

    Examples
    --------
    >>> round(stored_water(4, 14), 1)
    212.0

    Source: FEMA, Red Cross, CDC: 1 US gal a person a day, seen in reprints.
    """
    import numpy as np

    require(np.asarray(people) >= 0, "people", people, "", "0 or more")
    require(np.asarray(days) >= 0, "days", days, "d", "0 or more")
    require(np.asarray(daily) >= 0, "daily water", daily, "L/d", "0 or more")
    require(np.asarray(other) >= 0, "other water", other, "L/d", "0 or more")
    return (people * daily + other) * days


@units(volume="L", strength="", is_cloudy="", returns="")
def bleach_drops(volume: float, strength: float, is_cloudy: bool = False) -> int:
    """Drops of plain household bleach that make water drinkable; wait 30 minutes.

    WARNING: only unscented bleach without cleaners, bought within the year; it does nothing against
    fuel, salts or heavy metals. Boiling is surer. If the water then smells of no chlorine, dose
    once more and wait 15 minutes; if it still does not, throw it away.

    Parameters
    ----------
    volume : float
        Water to treat, let settle and strained; > 0. [L]
    strength : float
        Per cent of sodium hypochlorite on the label, 5 to 9.
    is_cloudy : bool
        Still cloudy after straining, coloured or very cold: twice the dose.

    Returns
    -------
    int
        Drops, rounded up.

    Raises
    ------
    OutOfRange
        No water, or a strength outside 5 to 9 per cent.

    Examples
    --------
    >>> bleach_drops(3.785, 6.0), bleach_drops(3.785, 8.25), bleach_drops(3.785, 6.0, True)
    (8, 6, 16)

    Source: CDC, Make Water Safe: 8 drops a US gallon of 5 to 6 %, 6 of 8.25 %, twice if cloudy.
    """
    require(volume > 0, "volume", volume, "L", "more than 0")
    require(5 <= strength <= 9, "strength", strength, "%", "5 to 9")
    drops_a_gallon = (6 if strength >= 8 else 8) * (2 if is_cloudy else 1)
    return ceil(round(volume / GALLON * drops_a_gallon, 2))


@units(altitude="m", returns="min")
def boiling_time(altitude: Number) -> Number:
    """Minutes of rolling boil that make water drinkable.

    Parameters
    ----------
    altitude : float or array
        Height above the sea. [m]

    Returns
    -------
    float or array
        1, or 3 above 5000 ft (1524 m), where water boils cooler. [min]

    Examples
    --------
    >>> float(boiling_time(300.0)), float(boiling_time(1800.0))
    (1.0, 3.0)

    Source: US EPA, Emergency Disinfection of Drinking Water (2017).
    """
    import numpy as np

    minutes: Number = np.where(np.asarray(altitude) > 5000 * FOOT, 3.0, 1.0)[()]
    return minutes
