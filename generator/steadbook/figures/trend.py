"""Where a measured value is heading: its line through the years and the day it meets a limit.

Two lines: `least_squares` for clean values, `median_slope` where one bad reading must not turn it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from steadbook.figures._choice import choice
from steadbook.figures._declare import require, units

FEWEST_VALUES = 3


@dataclass(frozen=True)
class Trend:
    """A straight line. ``slope`` in value a unit of time; errors are standard ones of the line.

    ``scatter`` is the standard deviation of the values about the line, ``count`` how many there
    are, ``centre`` and ``width`` the mean of the times and the root of their summed squares
    about it.
    """

    slope: float
    intercept: float
    slope_error: float
    intercept_error: float
    scatter: float
    count: int
    centre: float
    width: float

    def at(self, time: ArrayLike) -> NDArray[np.float64]:
        """The line's value at a time."""
        return np.asarray(self.intercept + self.slope * np.asarray(time, dtype=float))

    def error_at(self, time: ArrayLike) -> NDArray[np.float64]:
        """Standard error of the next value there: scatter, and the doubt of the line itself."""
        away = (np.asarray(time, dtype=float) - self.centre) / self.width
        return np.asarray(self.scatter * np.sqrt(1 + 1 / self.count + away**2))


def _values(times: ArrayLike, values: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    x, y = np.asarray(times, dtype=float), np.asarray(values, dtype=float)
    require(
        x.shape == y.shape and x.ndim == 1, "shape of the values", str(y.shape), "", str(x.shape)
    )
    require(x.size >= FEWEST_VALUES, "count of values", x.size, "", f"{FEWEST_VALUES} or more")
    require(np.isfinite(x) & np.isfinite(y), "value", y, "", "a finite number")
    require(float(np.ptp(x)) > 0, "span of the times", float(np.ptp(x)), "", "more than 0")
    return x, y


def _line(x: NDArray[np.float64], y: NDArray[np.float64], slope: float, intercept: float) -> Trend:
    centre = float(x.mean())
    width = float(np.sqrt(((x - centre) ** 2).sum()))
    rest = y - intercept - slope * x
    scatter = float(np.sqrt((rest**2).sum() / (x.size - 2)))
    return Trend(
        slope=slope,
        intercept=intercept,
        slope_error=scatter / width,
        intercept_error=scatter * float(np.sqrt(1 / x.size + (centre / width) ** 2)),
        scatter=scatter,
        count=x.size,
        centre=centre,
        width=width,
    )


@units(times="", values="", returns="")
def least_squares(times: ArrayLike, values: ArrayLike) -> Trend:
    """The line with the least sum of squared distances.

    Parameters
    ----------
    times : array, shape (n,)
        When each was measured, such as days or running hours; not all the same; n >= 3.
    values : array, shape (n,)
        What was measured.

    Returns
    -------
    Trend
        In the units of the values and of the times.

    Raises
    ------
    OutOfRange
        Fewer than three values, all at one time, or a value that is no number.

    Examples
    --------
    >>> line = least_squares([0, 1, 2, 3], [1.0, 3.0, 5.0, 7.0])
    >>> line.slope, line.intercept
    (2.0, 1.0)

    Source: definition; errors as certified in NIST StRD, Norris.
    """
    x, y = _values(times, values)
    away = x - x.mean()
    slope = float((away * (y - y.mean())).sum() / (away**2).sum())
    return _line(x, y, slope, float(y.mean() - slope * x.mean()))


@units(times="", values="", returns="")
def median_slope(times: ArrayLike, values: ArrayLike) -> Trend:
    """The line whose slope is the middle one of all pairs: up to 29 percent may be bad readings.

    Parameters
    ----------
    times : array, shape (n,)
        When each was measured; not all the same; n >= 3.
    values : array, shape (n,)
        What was measured.

    Returns
    -------
    Trend
        In the units of the values and of the times. The errors are those of the scatter about
        the line, in which a bad reading still counts.

    Raises
    ------
    OutOfRange
        Fewer than three values, all at one time, or a value that is no number.

    Examples
    --------
    >>> line = median_slope([0, 1, 2, 3, 4], [1.0, 3.0, 5.0, 70.0, 9.0])
    >>> line.slope, line.intercept
    (2.0, 1.0)

    Source: H. Theil (1950); P. K. Sen (1968); intercept: median of what is left.
    """
    x, y = _values(times, values)
    first, second = np.triu_indices(x.size, k=1)
    apart = x[second] != x[first]
    rises = (y[second] - y[first])[apart] / (x[second] - x[first])[apart]
    slope = float(np.median(rises))
    return _line(x, y, slope, float(np.median(y - slope * x)))


@dataclass(frozen=True)
class Crossing:
    """When a line meets a limit, and between when (8 times in 10); None: not within the horizon."""

    time: float | None
    earliest: float | None
    latest: float | None


STEPS = 2000


SIDES = {"highest": 1.0, "lowest": -1.0}


@units(line="", limit="", after="", horizon="", side="", returns="")
def crossing(
    line: Trend, limit: float, after: float, horizon: float, side: str = "highest"
) -> Crossing:
    """When a value on its way passes its highest or lowest limit.

    Parameters
    ----------
    line : Trend
        From `least_squares` or `median_slope`.
    limit : float
        In the unit of the values.
    after : float
        The time asked from, such as the last reading.
    horizon : float
        How long after it to look; > 0.
    side : str
        Which limit it is: `highest` or `lowest`.

    Returns
    -------
    Crossing
        ``time`` is `after` itself where the line is past the limit already. The range is that of
        the next single value, with Student's t; its ends come apart with the distance.

    Raises
    ------
    OutOfRange
        A horizon of zero or less, another side.

    Examples
    --------
    Worn by 0.01 mm in 100 h, 0.05 mm allowed:

    >>> worn = least_squares([0, 100, 200], [0.0, 0.01, 0.02])
    >>> crossing(worn, 0.05, after=200, horizon=2000).time
    500.0

    Source: definition; the range of a new value: Draper and Smith, Applied Regression Analysis,
    section 1.4; from memory, check.
    """
    from scipy.special import stdtrit  # type: ignore[import-untyped,unused-ignore]

    require(horizon > 0, "horizon", horizon, "", "more than 0")
    up = choice(SIDES, side, "side")
    times = after + horizon * np.linspace(0.0, 1.0, STEPS + 1)
    past = up * (line.at(times) - limit)
    doubt = float(stdtrit(line.count - 2, 0.9)) * line.error_at(times)
    exact, early, late = (_first(times, past + part * doubt) for part in (0.0, 1.0, -1.0))
    return Crossing(exact, early, late)


def _first(times: NDArray[np.float64], over: NDArray[np.float64]) -> float | None:
    """The first time at which ``over`` is 0 or more, by straight line between the steps."""
    tiny = 1e-12 * max(1.0, float(np.abs(over).max()))
    reached = np.flatnonzero(over >= -tiny)
    if reached.size == 0:
        return None
    place = int(reached[0])
    if place == 0:
        return float(times[0])
    low, high = over[place - 1], over[place]
    share = 1.0 if high == low else float(-low / (high - low))
    return float(times[place - 1] + share * (times[place] - times[place - 1]))
