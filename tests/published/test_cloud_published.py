"""Made-up days against the published distribution of daily clearness."""

import numpy as np
import pytest
from pytest import approx

from steadbook.figures import cloud

DB = "Duffie & Beckman, section 2.9, after Bendt and others 1981, Hollands & Huget 1983"
MEANS = np.array([0.3, 0.4, 0.5, 0.6, 0.7])


@pytest.mark.parametrize("mean", MEANS)
def test_steepness_is_the_published_fit(mean):
    source = "Herzog 1985 in Duffie & Beckman, eq. 2.9.6 (fit, seen in program texts)"
    top = 0.6313 + 0.267 * mean - 11.9 * (mean - 0.75) ** 8
    reach = (top - 0.05) / (top - mean)
    fit = -1.498 + (1.184 * reach - 27.182 * np.exp(-1.5 * reach)) / (top - 0.05)
    # the fit is one to a root we solve: printed to four digits, good to a few tenths
    assert cloud.steepness(mean) == approx(fit, abs=0.35), source


@pytest.mark.parametrize("mean", [0.15, 0.3, 0.5, 0.7])
def test_days_below_a_clearness_follow_the_published_curve(mean):
    rank = np.linspace(0.02, 0.98, 25)
    k = cloud.clearness_of_rank(rank, mean)
    lean = cloud.steepness(mean)
    top = cloud.clearest_day(mean)
    curve = (np.exp(lean * 0.05) - np.exp(lean * k)) / (np.exp(lean * 0.05) - np.exp(lean * top))
    assert curve == approx(rank, abs=1e-9), DB
    assert np.all(np.diff(k) > 0)


@pytest.mark.parametrize("mean", [0.12, 0.3, 0.41, 0.5, 0.7])
def test_the_distribution_has_the_months_mean(mean):
    """Independent way: scipy integrates the clearness over all ranks."""
    from scipy.integrate import quad

    found, _ = quad(lambda rank: float(cloud.clearness_of_rank(rank, mean)), 0, 1, epsabs=1e-9)
    assert found == approx(mean, abs=1e-6)


def test_many_winters_have_the_tables_means_and_the_chains_memory():
    source = "Graham, Hollands & Huget 1988: first-order chain, 0.29 (from memory, check)"
    monthly = np.linspace(0.30, 0.63, 12)
    months = np.repeat([11, 12, 1], [30, 31, 31])
    made = cloud.daily_clearness(monthly, months, 4000, seed=11)
    for number in (11, 12, 1):
        days = made[months == number]
        # standard error of a mean of 4,000 winters' months: 0.2 / sqrt(4000 x 30 / 1.8) = 0.0008
        assert days.mean() == approx(monthly[number - 1], abs=0.003)
        assert days.min() >= 0.05
        assert days.max() <= cloud.clearest_day(monthly[number - 1])
    inside = made[months == 12]
    memory = np.corrcoef(inside[:-1].ravel(), inside[1:].ravel())[0, 1]
    assert memory == approx(0.29, abs=0.03), source
    further = np.corrcoef(inside[:-2].ravel(), inside[2:].ravel())[0, 1]
    assert further == approx(0.29**2, abs=0.03), source


def test_the_polar_night_is_dark():
    monthly = np.full(12, 0.5)
    monthly[11] = 0.0
    made = cloud.daily_clearness(monthly, [11, 12, 12, 1], 5, seed=2)
    assert made[1:3].max() == 0
    assert made[0].min() > 0


@pytest.mark.parametrize("mean", [0.3, 0.5, 0.65])
@pytest.mark.parametrize("share", [0.05, 0.1, 0.25, 0.5, 0.9])
def test_a_share_of_days_stays_below_its_rank(mean, share):
    """The chain's numbers keep a spread of one, so no rank is dealt too often."""
    days = cloud.daily_clearness(np.full(12, mean), [1] * 40, 3000, seed=5)
    below = (days < cloud.clearness_of_rank(share, mean)).mean()
    # 120,000 days, each worth about 0.55 of a free one: error 0.5 / sqrt(66,000) = 0.002
    assert below == approx(share, abs=0.006)
