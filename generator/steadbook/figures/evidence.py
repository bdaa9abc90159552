"""Two forecasts of one thing, measured and made up, put together by the weight of the evidence.

Plain numbers, so that a quick look at what is due loads no array library.
"""

from __future__ import annotations

from steadbook.errors import OutOfRange


def weight_of_log(times_seen: float) -> float:
    """How much of a forecast the measurement carries.

    The made-up part counts as one more time seen, so that a first year counts half and ten years
    ten elevenths.

    Parameters
    ----------
    times_seen : float
        How often it was measured, as how many Januaries; parts of one count; >= 0.

    Returns
    -------
    float
        0 (nothing measured) up to 1.

    Examples
    --------
    >>> weight_of_log(0.0), weight_of_log(1.0), weight_of_log(4.0)
    (0.0, 0.5, 0.8)

    Source: rule of succession with one pseudo-observation; the choice of one is this project's.
    """
    if not times_seen >= 0:
        raise OutOfRange("times seen", times_seen, "", "0 or more")
    return times_seen / (times_seen + 1.0)


def blended(measured: float, made_up: float, times_seen: float) -> float:
    """The measured and the made-up forecast put together.

    Parameters
    ----------
    measured : float
        From the log.
    made_up : float
        From the simulation, in the same unit.
    times_seen : float
        How often it was measured; >= 0.

    Returns
    -------
    float
        Between the two.

    Examples
    --------
    >>> blended(80.0, 100.0, 3.0)
    85.0

    Source: weighted mean, weights of `weight_of_log`.
    """
    weight = weight_of_log(times_seen)
    return weight * measured + (1.0 - weight) * made_up
