"""Light and panels: pvlib as an independent witness, edges, errors, properties."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from steadbook.errors import OutOfRange
from steadbook.figures import clearness, panels, sun, sun_clock

latitudes = st.floats(-66, 66)
days = st.integers(1, 365)


def test_declination_and_equation_of_time_agree_with_pvlib():
    from pvlib import solarposition

    day = np.arange(1, 366)
    spencer = np.degrees(solarposition.declination_spencer71(day))
    assert sun.declination(day, "spencer") == approx(spencer, abs=1e-6)
    cooper = np.degrees(solarposition.declination_cooper69(day))
    assert sun.declination(day) == approx(cooper, abs=1e-6)
    assert sun.equation_of_time(day) == approx(
        solarposition.equation_of_time_spencer71(day), abs=2e-3
    )


def test_angles_agree_with_pvlib():
    from pvlib import irradiance, solarposition

    angle = np.linspace(-170, 170, 69)
    dec = 12.0
    zenith = np.degrees(
        solarposition.solar_zenith_analytical(np.radians(50.0), np.radians(angle), np.radians(dec))
    )
    assert 90 - sun.elevation(50.0, dec, angle) == approx(zenith, abs=1e-6)
    azimuth = sun.sun_azimuth(50.0, dec, angle)
    facing = irradiance.aoi_projection(40.0, 150.0, zenith, azimuth)
    assert sun.incidence(50.0, dec, angle, 40.0, 150.0) == approx(facing, abs=1e-9)


def test_erbs_agrees_with_pvlib():
    from pvlib import irradiance

    k = np.linspace(0.01, 0.95, 40)
    zenith = 60.0
    above = irradiance.get_extra_radiation(100)
    found = irradiance.erbs(k * above * np.cos(np.radians(zenith)), zenith, 100)
    assert clearness.diffuse_share_of_hour(found["kt"]) == approx(
        found["dhi"] / (k * above * np.cos(np.radians(zenith))), abs=1e-9
    )


def test_clear_sky_agrees_with_pvlib():
    import pandas as pd
    from pvlib import clearsky

    zenith = np.linspace(0, 89, 60)
    expected = clearsky.haurwitz(pd.Series(zenith))["ghi"].to_numpy()
    assert clearness.clear_sky(zenith) == approx(expected, abs=1e-6)


def test_a_day_on_a_tilted_plane_agrees_with_pvlib():
    """The same hourly beam and diffuse given to pvlib's isotropic model, minute by minute."""
    from pvlib import irradiance

    latitude, day, tilt, azimuth = 50.0, 75, 50.0, 150.0
    beam, diffuse = panels.hourly_light(latitude, day, 0.55)
    ours = panels.on_the_plane(
        beam, diffuse, panels.beam_ratio(panels.Array(1, tilt, azimuth), latitude, day), tilt
    )
    angle = (np.arange(1440) + 0.5) / 4 - 180
    dec = sun.declination(day)
    zenith = 90 - sun.elevation(latitude, dec, angle)
    level = np.maximum(np.cos(np.radians(zenith)), 0)
    hourly = level.reshape(24, 60).mean(axis=1)
    # spread each hour's beam over its minutes as the sine of the sun's height
    beam_minutes = (
        np.repeat(np.divide(beam, hourly, out=np.zeros(24), where=hourly > 0), 60) * level
    )
    diffuse_minutes = np.repeat(diffuse, 60)
    normal = np.divide(beam_minutes, level, out=np.zeros(1440), where=level > 0)
    found = irradiance.get_total_irradiance(
        tilt, azimuth, zenith, sun.sun_azimuth(latitude, dec, angle),
        normal, beam_minutes + diffuse_minutes, diffuse_minutes, albedo=0.2, model="isotropic",
    )  # fmt: skip
    # five-minute steps of ours against one-minute steps of pvlib
    assert ours.sum() == approx(found["poa_global"].sum() / 60, rel=0.002)


@pytest.mark.parametrize("latitude", [35.0, 45.0, 55.0])
@pytest.mark.parametrize("day", sun.MEAN_DAYS)
def test_light_above_the_air_tilted_to_the_equator_is_kleins_ratio(latitude, day):
    """Klein's closed form for the daily beam ratio of an equator-facing plane (1977)."""
    tilt = 55.0
    dec = np.radians(sun.declination(day))
    sunset = np.radians(sun.sunset_angle(latitude, np.degrees(dec)))
    lean = np.radians(latitude - tilt)
    on_plane = min(sunset, np.arccos(np.clip(-np.tan(lean) * np.tan(dec), -1, 1)))
    phi = np.radians(latitude)
    above = np.cos(lean) * np.cos(dec) * np.sin(on_plane) + on_plane * np.sin(lean) * np.sin(dec)
    below = np.cos(phi) * np.cos(dec) * np.sin(sunset) + sunset * np.sin(phi) * np.sin(dec)
    hours = np.arange(24)
    light = sun.hourly_extraterrestrial(latitude, day, hours, hours + 1)
    ratio = panels.beam_ratio(panels.Array(1.0, tilt), latitude, day)
    assert (light * ratio).sum() / light.sum() == approx(above / below, rel=0.005)


@given(latitude=latitudes, day=days)
@settings(max_examples=60)
def test_the_hours_of_light_above_the_air_add_up_to_the_day(latitude, day):
    hours = np.arange(24)
    total = sun.hourly_extraterrestrial(latitude, day, hours, hours + 1).sum()
    assert total == approx(sun.daily_extraterrestrial(latitude, day), abs=1e-9)


@given(latitude=latitudes, day=days, share=st.floats(0, 0.8))
@settings(max_examples=60)
def test_the_hours_of_light_add_up_to_the_day(latitude, day, share):
    beam, diffuse = panels.hourly_light(latitude, day, share)
    total = share * sun.daily_extraterrestrial(latitude, day)
    assert beam.min() >= 0
    assert diffuse.min() >= 0
    assert (beam + diffuse).sum() == approx(total, abs=1e-9)


@pytest.mark.parametrize("latitude", [30.0, 45.0, 60.0])
def test_the_share_of_the_hours_is_nearly_a_whole_day(latitude):
    angle = (np.arange(24) - 11.5) * 15.0
    sunset = sun.sunset_angle(latitude, sun.declination(75))
    # Collares-Pereira & Rabl normalised theirs; sampled at mid-hours it is good to a percent
    assert clearness.global_share_of_hour(angle, sunset).sum() == approx(1.0, abs=0.02)
    assert clearness.diffuse_share_by_hour(angle, sunset).sum() == approx(1.0, abs=0.02)


@given(k=st.floats(0, 1), sunset=st.floats(20, 140))
@settings(max_examples=60)
def test_diffuse_shares_are_shares(k, sunset):
    for share in (
        clearness.diffuse_share_of_hour(k),
        clearness.diffuse_share_of_day(k, sunset),
        clearness.diffuse_share_of_month(k, sunset),
    ):
        assert 0.1 < share <= 1


def test_polar_night_and_day():
    assert sun.daylength(75.0, 355) == 0
    assert sun.daylength(75.0, 172) == 24
    assert sun.daily_extraterrestrial(75.0, 355) == 0
    assert panels.hourly_output([panels.Array(5.0, 60.0)], 75.0, 355, 0.5).sum() == 0
    with pytest.raises(OutOfRange, match=r"latitude is 75.0 deg; it must be where the sun rises"):
        from datetime import date

        sun_clock.sunrise_noon_sunset(date(2025, 12, 21), 75.0, 0.0)


TABLE = np.array([1.5, 2.5, 3.7, 4.8, 5.6, 6.1, 6.3, 5.5, 4.1, 2.6, 1.6, 1.2])


def test_two_arrays_add_up_and_each_keeps_its_aim():
    south, east = panels.Array(6.0, 55.0), panels.Array(3.0, 30.0, 90.0)
    both = panels.hourly_output([south, east], 45.0, 75, 0.55)
    apart = [panels.hourly_output([a], 45.0, 75, 0.55) for a in (south, east)]
    assert both == approx(apart[0] + apart[1])
    assert apart[1].argmax() < apart[0].argmax()


def test_a_hill_in_the_south_takes_the_winter_beam_alone():
    hills = ((90.0, 5.0), (150.0, 35.0), (210.0, 35.0), (270.0, 5.0))
    open_sky, valley = panels.Array(6.0, 55.0), panels.Array(6.0, 55.0, horizon=hills)
    for day, least, most in ((355, 0.1, 0.7), (172, 0.95, 1.0)):  # the sky still gives in winter
        free, behind = (
            panels.hourly_output([a], 45.0, day, 0.55).sum() for a in (open_sky, valley)
        )
        assert least * free < behind <= most * free


@given(share=st.floats(0.05, 0.7), more=st.floats(0, 0.1), tilt=st.floats(0, 90))
@settings(max_examples=50)
def test_a_clearer_day_never_gives_less(share, more, tilt):
    array = [panels.Array(6.0, tilt, 170.0)]
    less = panels.hourly_output(array, 48.0, 20, share, -5.0).sum()
    assert panels.hourly_output(array, 48.0, 20, share + more, -5.0).sum() >= less * (1 - 0.002)


def test_arrays_equal_scalars():
    shares = np.array([0.1, 0.4, 0.7])
    array = [panels.Array(6.0, 55.0)]
    each = [panels.hourly_output(array, 45.0, 20, k) for k in shares]
    assert np.array_equal(panels.hourly_output(array, 45.0, 20, shares), each)


def test_errors_name_the_quantity():
    with pytest.raises(OutOfRange, match=r"day of the year is 0.0"):
        sun.declination(0)
    with pytest.raises(OutOfRange, match=r"method is hand; it must be one of cooper, spencer, fao"):
        sun.declination(10, "hand")
    with pytest.raises(OutOfRange, match=r"latitude is 91"):
        sun.sunset_angle(91.0, 0.0)
    with pytest.raises(OutOfRange, match=r"clearness is 1.1"):
        clearness.diffuse_share_of_hour(1.1)
    with pytest.raises(OutOfRange, match=r"clearness of a month.*is the unit right"):
        clearness.monthly_clearness(3.6 * TABLE, 45.0)
    with pytest.raises(OutOfRange, match=r"months of light is 11; it must be 12"):
        clearness.monthly_clearness(TABLE[:11], 45.0)
    with pytest.raises(OutOfRange, match=r"irradiance is -1.0"):
        panels.direct_power(-1.0, 25.0, 9000.0)
