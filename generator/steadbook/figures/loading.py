"""What a genset can carry: house and charger together, and the start of the hardest motor."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from steadbook.figures._declare import require, units
from steadbook.figures._factors import Number


@units(rating="kW", share="", house_load="kW", loading="", returns="kW")
def charging_power(
    rating: Number, share: Number, house_load: Number, loading: Number = 0.80
) -> Any:
    """Power left for the battery charger while the genset also carries the house.

    Parameters
    ----------
    rating : float or array
        Rated electrical power; > 0. [kW]
    share : float or array
        Share of it the height and temperature leave, above 0 and at most 1.
    house_load : float or array
        Load of the house meanwhile; >= 0. [kW]
    loading : float or array
        Share of what is left at which the set may run for hours, above 0 and at most 1.

    Returns
    -------
    float or array
        Power at the charger's input; 0 when the house takes it all. [kW]

    Raises
    ------
    OutOfRange
        A share outside 0 to 1, a negative load, or a load above what the set can give.

    Examples
    --------
    >>> round(float(charging_power(10.0, 0.78, 1.5)), 2)
    4.74

    Source: definition; loading of 80 % liquid cooled and 65 % small air cooled from Purdue
    University extension AE-111.
    """
    require(rating > 0, "genset rating", rating, "kW", "more than 0")
    for quantity, value in (("share of power left", share), ("continuous loading", loading)):
        require((value > 0) & (value <= 1), quantity, value, "", "above 0, at most 1")
    able = rating * share
    require(
        (house_load >= 0) & (house_load <= able),
        "house load",
        house_load,
        "kW",
        f"from 0 to {np.max(able):g}, what the genset can give here",
    )
    return np.maximum(able * loading - house_load, 0.0)


@units(running="kW", starting="kW", returns="kW")
def peak_load(running: ArrayLike, starting: ArrayLike) -> Any:
    """Highest load when all appliances run and the hardest to start comes last.

    Parameters
    ----------
    running : array, shape (appliances,)
        Load of each when running; >= 0. [kW]
    starting : array, shape (appliances,)
        Load of each while it starts; at least its running load. [kW]

    Returns
    -------
    float
        Sum of the running loads and the largest extra of one start; 0 for none. [kW]

    Raises
    ------
    OutOfRange
        A negative load, or a start below its running load.

    Examples
    --------
    >>> float(peak_load([1.0, 0.7, 0.2], [3.5, 2.1, 0.2]))
    4.4

    Source: common practice, no source: one motor starts at a time.
    """
    run, start = np.asarray(running, dtype=float), np.asarray(starting, dtype=float)
    require(run >= 0, "running load", run, "kW", "0 or more")
    require(start >= run, "starting load", start, "kW", "at least the running load")
    return run.sum() + np.max(start - run, initial=0.0)


@units(running="kW", starting="kW", rating="kW", surge_rating="kW", returns="")
def can_run_together(
    running: ArrayLike, starting: ArrayLike, rating: float, surge_rating: float | None = None
) -> bool:
    """Whether a genset carries these appliances, and the hardest of their starts.

    Parameters
    ----------
    running : array, shape (appliances,)
        Load of each when running; >= 0. [kW]
    starting : array, shape (appliances,)
        Load of each while it starts; at least its running load. [kW]
    rating : float
        Power the set can give for hours here; > 0. [kW]
    surge_rating : float, optional
        Power it can give for a few seconds; the rating unless said. [kW]

    Returns
    -------
    bool
        True when running loads fit the rating and the peak fits the surge rating.

    Raises
    ------
    OutOfRange
        A negative load, no rating, or a surge rating below the rating.

    Examples
    --------
    >>> can_run_together([1.0, 0.7, 0.2], [3.5, 2.1, 0.2], 4.0)
    False
    >>> can_run_together([1.0, 0.7, 0.2], [3.5, 2.1, 0.2], 4.0, 4.5)
    True

    Source: common practice, no source.
    """
    require(rating > 0, "genset rating", rating, "kW", "more than 0")
    surge = rating if surge_rating is None else surge_rating
    require(surge >= rating, "surge rating", surge, "kW", "at least the rating")
    peak = peak_load(running, starting)
    return bool(np.sum(running) <= rating * (1 + 1e-12) and peak <= surge * (1 + 1e-12))


@units(power="kW", voltage="V", limit="A", efficiency="", returns="A")
def charge_current(power: Number, voltage: Number, limit: Number, efficiency: Number = 0.90) -> Any:
    """Current into the battery from the power at hand and the charger's limit.

    Parameters
    ----------
    power : float or array
        Power for the charger's input; >= 0. [kW]
    voltage : float or array
        Battery voltage while charging; > 0. [V]
    limit : float or array
        Largest current the charger gives, or is set to; > 0. [A]
    efficiency : float or array
        Charger output over input, above 0 and at most 1; its sheet gives it.

    Returns
    -------
    float or array
        The smaller of the two. [A]

    Raises
    ------
    OutOfRange
        Negative power, no voltage or limit, an efficiency outside 0 to 1.

    Examples
    --------
    >>> float(charge_current(3.0, 54.0, 80.0))
    50.0

    Source: definition; efficiency of 0.90 is common practice, no source.
    """
    require(power >= 0, "charging power", power, "kW", "0 or more")
    require(voltage > 0, "battery voltage", voltage, "V", "more than 0")
    require(limit > 0, "charger limit", limit, "A", "more than 0")
    require(
        (efficiency > 0) & (efficiency <= 1),
        "charger efficiency",
        efficiency,
        "",
        "above 0, at most 1",
    )
    return np.minimum(power * 1000 * efficiency / voltage, limit)
