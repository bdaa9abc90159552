"""What is accepted where each kind of quantity is expected."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Literal

from steadbook.units.spelling import bare, spellings_of, without_case

System = Literal["us", "metric"]

# Currencies with two decimals, by their code of ISO 4217.
CURRENCIES = ("USD", "CAD", "AUD", "NZD", "GBP", "EUR", "CHF", "NOK", "SEK", "DKK", "MXN", "PLN")


@dataclass(frozen=True)
class Kind:
    """What is accepted where one kind of quantity is expected.

    ``pairs`` lists the canonical units. ``lbf*ft > N*m`` is a US unit shown beside the metric
    one, ``N*m < lbf*ft`` the reverse, and a unit alone is the same in both systems.
    ``least`` is the smallest value allowed (by unit where it differs), ``above`` the one that
    must be exceeded.
    """

    name: str
    noun: str
    pairs: str
    examples: tuple[str, ...]
    least: float | Mapping[str, float] | None = None
    above: float | None = None
    most: float | None = None
    ranges: bool = False
    whole: bool = False

    @cached_property
    def units(self) -> tuple[str, ...]:
        """The canonical units; empty where the number stands alone."""
        return tuple(re.split(" [<>] ", pair)[0] for pair in self.pairs.split(", ") if pair)

    @cached_property
    def others(self) -> Mapping[str, tuple[System, str]]:
        """By unit: the system it belongs to and the unit of the other system beside it."""
        found: dict[str, tuple[System, str]] = {}
        for pair in self.pairs.split(", "):
            if " > " in pair:
                unit, other = pair.split(" > ")
                found[unit] = ("us", other)
            elif " < " in pair:
                unit, other = pair.split(" < ")
                found[unit] = ("metric", other)
        return found

    @cached_property
    def spellings(self) -> Mapping[str, tuple[str, ...]]:
        """By canonical unit: the spellings accepted, without spaces and joining marks."""
        return {unit: spellings_of(unit) for unit in self.units}

    @property
    def allowed(self) -> str:
        """The words for the ``allowed`` part of an error."""
        sample = " or ".join(self.examples)
        if not self.units:
            return f"{self.noun} as a plain number, such as {sample}"
        return f"{self.noun} with its unit, such as {sample}"


KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("torque", "a torque", "lbf*ft > N*m, lbf*in > N*m, N*m < lbf*ft, kgf*m < lbf*ft", ("26 lbf*ft", "35 N*m"), above=0, ranges=True),
        Kind("length", "a length", "in > mm, ft > m, mm < in, cm < in, m < ft", ("12 ft", "3.7 m"), least=0, ranges=True),
        Kind("gap", "a gap", "in > mm, thou > mm, mm < in", ("0.030 in", "0.76 mm"), least=0, ranges=True),
        Kind("distance", "a distance", "mi > km, ft > m, km < mi, m < ft", ("12 mi", "19 km"), least=0),
        Kind("elevation", "an elevation", "ft > m, m < ft", ("6200 ft", "1890 m")),
        Kind("area", "an area", "ft2 > m2, in2 > m2, m2 < ft2", ("320 ft2", "30 m2"), least=0),
        Kind("volume", "a volume", "gal > L, qt > L, pt > L, fl oz > mL, ft3 > m3, L < gal, mL < fl oz, m3 < ft3", ("500 gal", "1890 L"), least=0, ranges=True),
        Kind("displacement", "an engine's displacement", "in3 > L, cm3 < in3, L < in3", ("61 in3", "1.0 L"), above=0),
        Kind("wood", "a stacked volume of firewood", "cord > m3, ft3 > m3, m3 < cord", ("6 cord", "22 m3"), least=0),
        Kind("mass", "a mass", "lb > kg, oz > g, kg < lb, g < oz, t < lb", ("65 lb", "29.5 kg"), least=0, ranges=True),
        Kind("density", "a density", "lb/ft3 > kg/m3, kg/m3 < lb/ft3", ("53 lb/ft3", "850 kg/m3"), above=0),
        Kind("specific gravity", "a specific gravity", "", ("1.265",), above=0, most=3, ranges=True),
        Kind("hours", "running hours", "h, min", ("200 h",), least=0),
        Kind("duration", "a length of time", "h, min, s", ("45 min", "1.5 h"), least=0, ranges=True),
        Kind("pressure", "a pressure", "psi > kPa, inH2O > mbar, inHg > kPa, oz/in2 > mbar, kPa < psi, bar < psi, mbar < inH2O, Pa < inH2O, mmHg < inHg", ("11 inH2O", "27 mbar"), ranges=True),
        Kind("area load", "a load on an area", "lbf/ft2 > kPa, kPa < lbf/ft2", ("40 psf", "1.9 kPa"), least=0),
        Kind("temperature", "a temperature", "degF > degC, degC < degF", ("40 degF", "4 degC"), least={"degF": -459.67, "degC": -273.15}, ranges=True),
        Kind("temperature difference", "a difference of temperatures", "delta degF > delta degC, delta degC < delta degF", ("18 degF", "10 degC"), ranges=True),
        Kind("power", "a power", "W, kW, hp > kW, Btu/h > kW", ("7.5 kW", "10 hp"), least=0),
        Kind("heat rate", "a rate of heat", "Btu/h > kW, W < Btu/h, kW < Btu/h", ("24000 Btu/h", "7 kW"), least=0),
        Kind("energy", "an energy", "Wh, kWh, MJ < Btu, Btu > kWh, therm > kWh", ("10 kWh", "36 MJ"), least=0),
        Kind("energy per volume", "an energy per volume", "kWh/gal > kWh/L, Btu/gal > MJ/L, kWh/L < kWh/gal, MJ/L < Btu/gal", ("91500 Btu/gal", "25.5 MJ/L"), above=0),
        Kind("irradiation", "an irradiation", "kWh/m2", ("4.2 kWh/m2",), least=0),
        Kind("voltage", "a voltage", "V, mV", ("12.6 V",), ranges=True),
        Kind("current", "a current", "A, mA", ("30 A",), ranges=True),
        Kind("charge", "a battery capacity", "Ah, mAh", ("400 Ah",), least=0),
        Kind("resistance", "a resistance", "ohm, mohm, Mohm", ("0.8 ohm",), least=0, ranges=True),
        Kind("speed", "a speed of rotation", "rpm", ("3600 rpm",), least=0, ranges=True),
        Kind("percent", "a percentage", "%", ("60 %",), least=0, ranges=True),
        Kind("angle", "an angle", "deg", ("30 deg",), ranges=True),
        Kind("flow", "a flow", "gal/min > L/min, gal/h > L/h, cfm > m3/h, L/min < gal/min, L/h < gal/h, m3/h < cfm", ("5 gal/min", "19 L/min"), least=0, ranges=True),
        Kind("fuel rate", "a fuel rate", "gal/h > L/h, lb/h > kg/h, L/h < gal/h, kg/h < lb/h", ("0.8 gal/h", "3 L/h"), least=0, ranges=True),
        Kind("count", "a count", "", ("4",), least=0, whole=True),
        Kind("money", "an amount of money", ", ".join(CURRENCIES), ("45 USD", "45.50 USD"), least=0),
    )
}  # fmt: skip


@cache
def _by_key(kind: str) -> tuple[Mapping[str, str], Mapping[str, set[str]]]:
    """The units of a kind by exact spelling, and by spelling without regard to capitals."""
    exact: dict[str, str] = {}
    folded: dict[str, set[str]] = {}
    for unit, spellings in KINDS[kind].spellings.items():
        for key in spellings:
            exact.setdefault(key, unit)
            folded.setdefault(without_case(key), set()).add(unit)
    return exact, folded


def unit_meant(text: str, kind: str) -> str | None:
    """The canonical unit a text stands for where this kind is expected."""
    exact, folded = _by_key(kind)
    key = bare(text)
    if key in exact:
        return exact[key]
    candidates = folded.get(without_case(key), set())
    return next(iter(candidates)) if len(candidates) == 1 else None
