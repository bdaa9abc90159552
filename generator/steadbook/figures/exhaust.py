"""Back pressure of a longer exhaust pipe on a genset.

For a first choice of pipe. The maker's limit at the engine's outlet, silencer included, decides.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from steadbook.errors import OutOfRange
from steadbook.figures._declare import require, units
from steadbook.figures._factors import FOOT, INCH, INCH_WATER, Number, fahrenheit
from steadbook.figures.atmosphere import SEA_LEVEL_PRESSURE, air_density
from steadbook.figures.exhaust_gas import viscosity
from steadbook.figures.pipe import SCHEDULE_40

STEEL_ROUGHNESS = 0.046  # mm, new commercial steel; a sooty pipe may have 0.15

FITTINGS = {
    "90 short": 33.0,
    "90 long": 20.0,
    "45": 15.0,
    "90 mitre": 66.0,
}
"""Straight pipe with the same loss, in bores: short radius R = D, long radius R > 1.5 D. Source:
silencer maker's back-pressure worksheet, 2.75, 1.67, 1.25 and 5.5 feet for each inch of bore."""


def _require_pipe(flow: Number, temperature: Number, diameter: Number, length: Number) -> None:
    require(flow > 0, "exhaust flow", flow, "m3/min", "more than 0")
    hot = (temperature >= 0) & (temperature <= 1000)
    require(hot, "exhaust temperature", temperature, "degC", "from 0 to 1000")
    require(diameter > 0, "pipe bore", diameter, "mm", "more than 0")
    require(length > 0, "pipe length", length, "m", "more than 0")


@units(length="m", diameter="mm", fittings="", flexible="m", returns="m")
def equivalent_length(
    length: Number,
    diameter: Number,
    fittings: Mapping[str, int] | None = None,
    flexible: Number = 0.0,
) -> Any:
    """Straight pipe with the loss of a whole run.

    Parameters
    ----------
    length : float or array
        Straight pipe; >= 0. [m]
    diameter : float or array
        Bore; > 0. [mm]
    fittings : mapping of str to int, optional
        How many of each name of `FITTINGS`.
    flexible : float or array
        Corrugated flexible section, which counts twice; >= 0. [m]

    Returns
    -------
    float or array
        Equivalent length. [m]

    Raises
    ------
    OutOfRange
        A negative length, a fitting not listed.

    Examples
    --------
    >>> round(equivalent_length(3.0, 38.1, {"90 short": 2}), 4)
    5.5146

    Source: silencer maker's back-pressure worksheet, see `FITTINGS`.
    """
    require(length >= 0, "straight pipe", length, "m", "0 or more")
    require(flexible >= 0, "flexible pipe", flexible, "m", "0 or more")
    require(diameter > 0, "pipe bore", diameter, "mm", "more than 0")
    bores = 0.0
    for name, count in (fittings or {}).items():
        if name not in FITTINGS:
            raise OutOfRange("fitting", repr(name), "", "one of " + ", ".join(FITTINGS))
        require(count >= 0, f"count of {name}", count, "", "0 or more")
        bores += FITTINGS[name] * count
    return length + 2 * flexible + bores * diameter / 1000


@units(
    flow="m3/min",
    temperature="degC",
    diameter="mm",
    length="m",
    roughness="mm",
    pressure="kPa",
    returns="kPa",
)
def back_pressure(
    flow: Number,
    temperature: Number,
    diameter: Number,
    length: Number,
    roughness: Number = STEEL_ROUGHNESS,
    pressure: Number = SEA_LEVEL_PRESSURE,
) -> Any:
    """Pressure lost in an exhaust pipe, by Darcy and Weisbach.

    Parameters
    ----------
    flow : float or array, shape (n,)
        Hot gas, from `exhaust_flow`; > 0. [m3/min]
    temperature : float or array, shape (n,)
        Temperature of the gas, 0 to 1,000. [degC]
    diameter : float or array, shape (n,)
        Bore; > 0. [mm]
    length : float or array, shape (n,)
        From `equivalent_length`; > 0. [m]
    roughness : float or array
        Height of the pipe's roughness, 0 to a twentieth of the bore. [mm]
    pressure : float or array
        Absolute air pressure at the site; > 0. [kPa]

    Returns
    -------
    float or array, shape (n,)
        Loss of a steady flow; a single cylinder's pulses add to it. The silencer is extra. [kPa]

    Raises
    ------
    OutOfRange
        No flow, bore, length or pressure; a temperature or roughness outside the limits.

    Examples
    --------
    >>> round(float(back_pressure(1.6581, 450.0, 38.1, 5.5146)), 2)
    0.64

    Source: Darcy-Weisbach; friction factor of the fluids library (Clamond 2009, for Colebrook).
    """
    from fluids.friction import friction_factor

    _require_pipe(flow, temperature, diameter, length)
    require(
        (roughness >= 0) & (roughness <= diameter / 20),
        "roughness",
        roughness,
        "mm",
        "from 0 to a twentieth of the bore",
    )
    bore = diameter / 1000
    velocity = flow / 60 / (np.pi / 4 * bore**2)  # m/s
    density = air_density(pressure, temperature)
    reynolds = density * velocity * bore / viscosity(temperature)
    factor = np.vectorize(friction_factor, otypes=[float])(reynolds, roughness / diameter)[()]
    return factor * length / bore * density * velocity**2 / 2 / 1000


HANDBOOK_FORMS = ("kPa form", "inch of water form", "pascal form")


@units(
    flow="m3/min",
    temperature="degC",
    diameter="mm",
    length="m",
    form="",
    returns="kPa",
)
def handbook_back_pressure(
    flow: Number, temperature: Number, diameter: Number, length: Number, form: str = "kPa form"
) -> Any:
    """Pressure lost in an exhaust pipe by a worksheet's rule, for comparison only.

    Each rule holds one friction factor (0.016, 0.0166, 0.022) for every pipe. That fits bores of
    200 mm and more; on a 38 mm pipe it reads about half of `back_pressure`.

    Parameters
    ----------
    flow : float or array
        Hot gas; > 0. [m3/min]
    temperature : float or array
        Temperature of the gas, 0 to 1,000. [degC]
    diameter : float or array
        Bore; > 0. [mm]
    length : float or array
        From `equivalent_length`; > 0. [m]
    form : str
        A name of `HANDBOOK_FORMS`.

    Returns
    -------
    float or array
        Loss by that rule. [kPa]

    Raises
    ------
    OutOfRange
        No flow, bore or length; a temperature outside the limits; a form not listed.

    Examples
    --------
    >>> round(handbook_back_pressure(1.6581, 450.0, 38.1, 5.5146), 2)
    0.33

    Source: exhaust back-pressure worksheets: P = 3.6e6 L S Q2 / D5 in kPa; 0.22 L Q2 /
    (D5 (460 + T)) in inches of water, feet, cfm, inches, F; 6.32 L Q2 / (D5 (T + 273)) in Pa.
    """
    _require_pipe(flow, temperature, diameter, length)
    if form == "kPa form":
        density = air_density(SEA_LEVEL_PRESSURE, temperature)
        return 3.6e6 * length * density * flow**2 / diameter**5
    if form == "inch of water form":
        feet, cubic_feet, inches = length / FOOT, flow / FOOT**3, diameter / INCH
        head = 0.22 * feet * cubic_feet**2 / (inches**5 * (460 + fahrenheit(temperature)))
        return head * INCH_WATER
    if form == "pascal form":
        return (
            6.32 * length * (flow / 60) ** 2 / ((diameter / 1000) ** 5 * (temperature + 273)) / 1e3
        )
    raise OutOfRange("form", repr(form), "", "one of " + ", ".join(HANDBOOK_FORMS))


@units(
    flow="m3/min",
    temperature="degC",
    length="m",
    allowed="kPa",
    fittings="",
    pressure="kPa",
    returns="",
)
def pipe_size(
    flow: float,
    temperature: float,
    length: float,
    allowed: float,
    fittings: Mapping[str, int] | None = None,
    pressure: float = SEA_LEVEL_PRESSURE,
) -> str:
    """Smallest schedule 40 pipe that keeps the back pressure within what is allowed.

    Parameters
    ----------
    flow : float
        Hot gas; > 0. [m3/min]
    temperature : float
        Temperature of the gas, 0 to 1,000. [degC]
    length : float
        Straight pipe; > 0. [m]
    allowed : float
        Loss the pipe may add; > 0. [kPa]
    fittings : mapping of str to int, optional
        How many of each name of `FITTINGS`.
    pressure : float
        Absolute air pressure at the site; > 0. [kPa]

    Returns
    -------
    str
        Nominal size in inches, a name of `pipe.SCHEDULE_40`. Take no smaller pipe than the
        genset's own outlet, whatever this says.

    Raises
    ------
    OutOfRange
        As `back_pressure`; or a loss that no listed pipe keeps.

    Examples
    --------
    >>> pipe_size(1.6581, 450.0, 3.0, 0.5, {"90 short": 2})
    '1-1/2'

    Source: `back_pressure`, tried from the smallest pipe up.
    """
    require(allowed > 0, "allowed back pressure", allowed, "kPa", "more than 0")
    loss = np.inf
    for name, bore in SCHEDULE_40.items():
        run = equivalent_length(length, bore, fittings)
        loss = back_pressure(flow, temperature, bore, run, pressure=pressure)
        if loss <= allowed:
            return name
    raise OutOfRange(
        "allowed back pressure",
        allowed,
        "kPa",
        f"at least {loss:.3g}, the loss of a {name} inch pipe",
    )
