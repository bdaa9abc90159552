"""Two forecasts of one thing, measured and made up, put together by the weight of the evidence."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures._declare import require, units


@units(times_seen="", returns="")
def weight_of_log(times_seen: ArrayLike) -> Any:
    """How much of a forecast the measurement carries.

    The made-up part counts as one more time seen, so that a first year counts half and ten years
    ten elevenths.

    Parameters
    ----------
    times_seen : float or array
        How often it was measured, as how many Januaries; parts of one count; >= 0.

    Returns
    -------
    float or array
        0 (nothing measured) up to 1.

    Examples
    --------
    >>> float(weight_of_log(0.0)), float(weight_of_log(1.0)), float(weight_of_log(4.0))
    (0.0, 0.5, 0.8)

    Source: rule of succession with one pseudo-observation; the choice of one is this project's.
    """
    seen = np.asarray(times_seen, dtype=float)
    require(seen >= 0, "times seen", seen, "", "0 or more")
    return (seen / (seen + 1.0))[()]


@units(measured="", made_up="", times_seen="", returns="")
def blended(measured: ArrayLike, made_up: ArrayLike, times_seen: ArrayLike) -> Any:
    """The measured and the made-up forecast put together.

    Parameters
    ----------
    measured : float or array
        From the log.
    made_up : float or array
        From the simulation, in the same unit.
    times_seen : float or array
        How often it was measured; >= 0.

    Returns
    -------
    float or array
        Between the two.

    Examples
    --------
    >>> float(blended(80.0, 100.0, 3.0))
    85.0

    Source: weighted mean, weights of `weight_of_log`.
    """
    weight = weight_of_log(times_seen)
    return (weight * np.asarray(measured) + (1.0 - weight) * np.asarray(made_up))[()]
