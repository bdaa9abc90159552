"""Quantities as people write them: read with their unit, converted, shown in both systems.

Every text passes a small grammar: a number, then a unit from the list of the *expected* kind.
``oz`` is a volume where a volume is expected and a mass where a mass is; ``26 ft-lb`` is a
torque. Only the numbers of known units reach pint, and pint is loaded at the first conversion.
Gallons, quarts, pints and fluid ounces are the US ones. Calendar intervals are calendar
arithmetic and have no conversion to hours.

>>> parse("26 ft-lb", "torque")
Quantity(magnitude=26.0, unit='lbf*ft', kind='torque', text='26 ft-lb', high=None)
>>> show(parse("26 ft-lb", "torque"), "us").replace(NO_BREAK, " ")
'26 lbf·ft (35 N·m)'
"""

from __future__ import annotations

import calendar
import difflib
import itertools
import math
import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal
from functools import cache, cached_property, lru_cache
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from steadbook.errors import OutOfRange, QuantityError

if TYPE_CHECKING:
    import pint

System = Literal["us", "metric"]

NO_BREAK = "\N{NO-BREAK SPACE}"
MINUS = "\N{MINUS SIGN}"
LONGEST_TEXT = 100
LARGEST, SMALLEST = 1e12, 1e-9  # beyond these a text is a slip of the pen

# ------------------------------------------------------------------------------------ data

# The words people use for one factor of a unit, the symbol first.
_WORDS = {
    words.split()[0]: tuple(words.split())
    for words in """\
lbf lb lbs pound pounds poundforce poundsforce
kgf kg kilogramforce
N newton newtons
ft foot feet '
in inch inches " ''
mm millimeter millimeters millimetre millimetres
cm centimeter centimeters centimetre centimetres
m meter meters metre metres
km kilometer kilometers kilometre kilometres
mi mile miles
thou mil mils thousandth thousandths
gal gals gallon gallons USgal USgallon USgallons galUS gallonsUS
qt qts quart quarts
pt pts pint pints
L l liter liters litre litres ltr
mL ml cc milliliter milliliters millilitre millilitres
lb lbs pound pounds
oz ozs ounce ounces
kg kgs kilogram kilograms kilo kilos
g gram grams
t tonne tonnes
h hr hrs hour hours
min mins minute minutes
s sec secs second seconds
psi lbf/in2 lb/in2 psig
W watt watts
kW kilowatt kilowatts
hp horsepower bhp
Btu BTU Btus BTUs
Wh watthour watthours whr
kWh kilowatthour kilowatthours kwhr
MJ megajoule megajoules
therm therms
V volt volts Vdc Vac
mV millivolt millivolts
A amp amps ampere amperes
mA milliamp milliamps milliampere milliamperes
Ah amphour amphours amperehour amperehours amphr
mAh milliamphour milliamphours
ohm ohms Ω
mohm mohms mΩ milliohm milliohms
Mohm Mohms MΩ megohm megohms
% percent pct
ft2 sqft squarefoot squarefeet
in2 sqin squareinch squareinches
m2 sqm squaremeter squaremeters squaremetre squaremetres
ft3 cuft cubicfoot cubicfeet
m3 cum cubicmeter cubicmeters cubicmetre cubicmetres
deg ° degree degrees
cord cords
""".splitlines()
}

# Canonical unit: what it is for pint, then spellings that are no product of the words above.
_UNITS: dict[str, tuple[str, str]] = {
    "lbf*ft": ("force_pound * foot", ""),
    "lbf*in": ("force_pound * inch", ""),
    "N*m": ("newton * meter", ""),
    "kgf*m": ("force_kilogram * meter", ""),
    "ft": ("foot", ""),
    "in": ("inch", ""),
    "mm": ("millimeter", "MM"),
    "cm": ("centimeter", ""),
    "m": ("meter", ""),
    "km": ("kilometer", ""),
    "mi": ("mile", ""),
    "thou": ("thou", ""),
    "gal": ("gallon", ""),
    "qt": ("quart", ""),
    "pt": ("pint", ""),
    "fl oz": ("fluid_ounce", "oz ounce ounces fluidounce fluidounces flozs"),
    "L": ("liter", ""),
    "mL": ("milliliter", ""),
    "ft3": ("foot**3", ""),
    "m3": ("meter**3", ""),
    "cord": ("128 * foot**3", ""),
    "lb": ("pound", ""),
    "oz": ("ounce", ""),
    "kg": ("kilogram", ""),
    "g": ("gram", ""),
    "t": ("metric_ton", ""),
    "h": ("hour", ""),
    "min": ("minute", "MIN"),
    "s": ("second", ""),
    "psi": ("psi", ""),
    "kPa": ("kilopascal", "kilopascal kilopascals"),
    "bar": ("bar", "bars"),
    "mbar": ("millibar", "millibar millibars hPa"),
    "Pa": ("pascal", "pascal pascals"),
    "inH2O": (
        "inch * 1000 * kilogram / meter**3 * standard_gravity",  # conventional water
        'inWC inWG inwater inofwater inchesofwater inchesH2O inchWC inchesWC "WC "H2O iwc',
    ),
    "inHg": ("inch_Hg", "inofmercury inchesofmercury inchesHg"),
    "mmHg": ("mmHg", ""),
    "oz/in2": ("force_ounce / inch**2", "osi"),
    "degF": ("delta_degF", "F °F degreeF degreesF degreesfahrenheit fahrenheit"),
    "degC": ("delta_degC", "C °C degreeC degreesC degreescelsius celsius"),
    "delta degF": ("delta_degF", "degF F °F degreesF fahrenheit Δ°F"),
    "delta degC": ("delta_degC", "degC C °C degreesC celsius K kelvin Δ°C"),
    "W": ("watt", ""),
    "kW": ("kilowatt", ""),
    "hp": ("horsepower", ""),
    "Btu/h": ("international_british_thermal_unit / hour", "BTUH BTU/hr btuh"),
    "Wh": ("watt * hour", ""),
    "kWh": ("kilowatt * hour", ""),
    "MJ": ("megajoule", ""),
    "Btu": ("international_british_thermal_unit", ""),
    "therm": ("100000 * international_british_thermal_unit", ""),
    "V": ("volt", ""),
    "mV": ("millivolt", ""),
    "A": ("ampere", ""),
    "mA": ("milliampere", ""),
    "Ah": ("ampere * hour", ""),
    "mAh": ("milliampere * hour", ""),
    "ohm": ("ohm", ""),
    "mohm": ("milliohm", ""),
    "Mohm": ("megaohm", ""),
    "rpm": ("revolutions_per_minute", "1/min /min min-1 r/min rev/min revs/min"),
    "%": ("percent", ""),
    "ft2": ("foot**2", ""),
    "m2": ("meter**2", ""),
    "in2": ("inch**2", ""),
    "deg": ("degree", ""),
    "gal/min": ("gallon / minute", "gpm"),
    "gal/h": ("gallon / hour", "gph"),
    "L/min": ("liter / minute", "lpm"),
    "L/h": ("liter / hour", "lph"),
    "m3/h": ("meter**3 / hour", ""),
    "cfm": ("foot**3 / minute", "ft3/min cuft/min cubicfeet/minute"),
    "lb/h": ("pound / hour", ""),
    "kg/h": ("kilogram / hour", ""),
    "kWh/gal": ("kilowatt * hour / gallon", ""),
    "kWh/L": ("kilowatt * hour / liter", ""),
    "Btu/gal": ("international_british_thermal_unit / gallon", ""),
    "MJ/L": ("megajoule / liter", ""),
    "kWh/m2": ("kilowatt * hour / meter**2", ""),
    "lb/ft3": ("pound / foot**3", ""),
    "kg/m3": ("kilogram / meter**3", ""),
}

# Currencies with two decimals, by their code of ISO 4217.
_CURRENCIES = ("USD", "CAD", "AUD", "NZD", "GBP", "EUR", "CHF", "NOK", "SEK", "DKK", "MXN", "PLN")


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
        return {unit: _spellings(unit) for unit in self.units}

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
        Kind("wood", "a stacked volume of firewood", "cord > m3, ft3 > m3, m3 < cord", ("6 cord", "22 m3"), least=0),
        Kind("mass", "a mass", "lb > kg, oz > g, kg < lb, g < oz, t < lb", ("65 lb", "29.5 kg"), least=0, ranges=True),
        Kind("density", "a density", "lb/ft3 > kg/m3, kg/m3 < lb/ft3", ("53 lb/ft3", "850 kg/m3"), above=0),
        Kind("specific gravity", "a specific gravity", "", ("1.265",), above=0, most=3, ranges=True),
        Kind("hours", "running hours", "h, min", ("200 h",), least=0),
        Kind("duration", "a length of time", "h, min, s", ("45 min", "1.5 h"), least=0, ranges=True),
        Kind("pressure", "a pressure", "psi > kPa, inH2O > mbar, inHg > kPa, oz/in2 > mbar, kPa < psi, bar < psi, mbar < inH2O, Pa < inH2O, mmHg < inHg", ("11 inH2O", "27 mbar"), ranges=True),
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
        Kind("money", "an amount of money", ", ".join(_CURRENCIES), ("45 USD", "45.50 USD"), least=0),
    )
}  # fmt: skip

_HINTS = (
    (r"imp", "Steadbook reads US gallons only; convert first (1 imperial gallon is 1.201 gal)"),
    (r"^(mo|mos|months?|y|yrs?|years?|wks?|weeks?|d|days?)$", "months, weeks and days are "
     "calendar time and have no fixed hours; write them only where a calendar interval is asked"),
    (r"^(short|long)?tons?$", "a ton is short, long or metric: write lb, or t for tonnes"),
    (r"^(face|rick|pick)", "write full cords of 128 ft3, such as 0.33 cord"),
    (r"^psia$", "write the gauge pressure, in psi"),
    (r"^[$€£]", "write the currency by its code, such as 45 USD"),
    (r"^[-–+'\"]*[0-9.,]", "write one number and one unit"),
)  # fmt: skip

# ------------------------------------------------------------------------------- quantities


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit; ``high`` is the upper end where a range was written."""

    magnitude: float
    unit: str
    kind: str
    text: str = field(compare=False, default="")
    high: float | None = None

    def to(self, unit: str) -> float:
        """The magnitude (of a range: its lower end) in another unit of the same dimension."""
        return float(convert(self.magnitude, self.unit, unit))

    def __str__(self) -> str:
        number = _plain(self.magnitude)
        if self.high is not None:
            number += f" to {_plain(self.high)}"
        return f"{number} {self.unit}".rstrip()


def _plain(magnitude: float) -> str:
    return repr(float(magnitude)).removesuffix(".0")


# ------------------------------------------------------------------------------- conversion


@cache
def _registry() -> pint.UnitRegistry[Any]:
    import pint

    return pint.UnitRegistry(non_int_type=Decimal)


@cache
def _factor(from_unit: str, to_unit: str) -> float | None:
    """What to multiply by; None where the units do not measure the same thing."""
    if from_unit not in _UNITS or to_unit not in _UNITS:
        return None
    if (from_unit in _ZERO) != (to_unit in _ZERO):
        return None  # a temperature is not a difference of temperatures
    parse_unit = _registry().parse_expression
    ratio = parse_unit(_UNITS[from_unit][0]) / parse_unit(_UNITS[to_unit][0])
    return float(ratio.to_base_units().magnitude) if ratio.dimensionless else None


# Where the scale of a temperature has its absolute zero.
_ZERO = {"degF": -459.67, "degC": -273.15}


def convert(value: Any, from_unit: str, to_unit: str) -> Any:
    """The value in another unit; a number or an array in, the same out.

    >>> convert(212.0, "degF", "degC")
    100.0
    """
    if from_unit == to_unit:
        return value
    factor = _factor(from_unit, to_unit)
    if factor is None:
        raise QuantityError(
            f"{from_unit or 'a plain number'} to be turned into {to_unit or 'a plain number'}",
            "two units of the same kind",
            "name the units as they are listed for one kind",
        )
    if (from_unit, to_unit) == ("degF", "degC"):
        return (value - 32.0) / 1.8
    if (from_unit, to_unit) == ("degC", "degF"):
        return value * 1.8 + 32.0
    return value * factor


# ---------------------------------------------------------------------- the words for units


def _spellings(unit: str) -> tuple[str, ...]:
    """Every spelling of a canonical unit, the canonical one first."""
    parts = re.split(r"([*/])", unit)
    orders = [parts, parts[::-1]] if "*" in parts else [parts]
    found = [unit]
    for order in orders:
        choices = [("",) if part == "*" else _WORDS.get(part, (part,)) for part in order]
        found += ["".join(words) for words in itertools.product(*choices)]
    if unit in _UNITS:
        found += _UNITS[unit][1].split()
    return tuple(dict.fromkeys(_key(spelling) for spelling in found))


_JOINTS = re.compile(r"[\s·⋅∙•*^._()]|[-‐‑](?![0-9])")


def _key(unit: str) -> str:
    """A unit without spaces and joining marks: ``ft·lb``, ``ft-lb`` and ``ft lb`` are one."""
    unit = unicodedata.normalize("NFKC", unit.replace("º", "°")).replace(MINUS, "-")
    unit = re.sub(r"\bper\b", "/", unit)
    return _JOINTS.sub("", unit)


@cache
def _by_key(kind: str) -> tuple[Mapping[str, str], Mapping[str, set[str]]]:
    """The units of a kind by exact spelling, and by spelling without regard to capitals."""
    exact: dict[str, str] = {}
    folded: dict[str, set[str]] = {}
    for unit, spellings in KINDS[kind].spellings.items():
        for key in spellings:
            exact.setdefault(key, unit)
            folded.setdefault(_fold(key), set()).add(unit)
    return exact, folded


def _fold(key: str) -> str:
    """In lower case, but for the first letter of a short ``mV`` or ``MJ``: milli is not mega."""
    first = key.split("/")[0]
    if first[:1] in ("m", "M") and len(first) < 5:
        return key[0] + key[1:].lower()
    return key.lower()


def _unit(text: str, kind: str) -> str | None:
    """The canonical unit a text stands for where this kind is expected."""
    exact, folded = _by_key(kind)
    key = _key(text)
    if key in exact:
        return exact[key]
    candidates = folded.get(_fold(key), set())
    return next(iter(candidates)) if len(candidates) == 1 else None


# ------------------------------------------------------------------------------ the grammar

_TIDY = str.maketrans(
    {
        **dict.fromkeys("\u00a0\u2007\u2009\u202f", " "),
        **dict.fromkeys("″“”", '"'),
        **dict.fromkeys("′‘’", "'"),
        MINUS: "-",
        "⁄": "/",
        **{
            mark: f" {top}/{bottom}"
            for mark, top, bottom in (
                *(("½", 1, 2), ("⅓", 1, 3), ("⅔", 2, 3), ("¼", 1, 4), ("¾", 3, 4)),
                *(("⅛", 1, 8), ("⅜", 3, 8), ("⅝", 5, 8), ("⅞", 7, 8)),
            )
        },
    }
)
_FRACTION = r"(?:[0-9]+[ -])?[0-9]+/[0-9]+(?![0-9.,/])"
_NUMBER = rf"[-+]?(?:{_FRACTION}|[0-9.,]*[0-9][.,]?(?:[eE][-+]?[0-9]+)?)"
_DASH = r"(?:-|–|—|\.\.\.|…|to\b)"
# A dash has a space on both sides or on none: "-10 -5" is two numbers, not -10 to 5.
_SCAN = re.compile(rf"({_NUMBER})(?:(?: {_DASH} |{_DASH})({_NUMBER}))? ?(.*)")
_BRACKET = re.compile(r"(.*\S) ?\(([-+.0-9].*)\)")
_GROUPED = re.compile(r"[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?")
_DECIMAL = re.compile(r"([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?")


class _Number(NamedTuple):
    """A number as written: value, how it is shown again, significant digits, decimals."""

    value: float
    shown: str
    digits: int
    decimals: int


class _Unreadable(Exception):
    """Carries the fix for a text that the grammar refuses."""


def _tidy(text: str) -> str:
    tidy = " ".join(text.translate(_TIDY).split())
    return re.sub(r"^[–+-] ?(?=[0-9.])", lambda m: "" if m[0][0] == "+" else "-", tidy)


def _number(token: str) -> _Number:
    sign, body = (MINUS, token[1:]) if token[0] == "-" else ("", token.lstrip("+"))
    if "/" in body:
        *wholes, top, bottom = (int(part) for part in re.findall("[0-9]+", body))
        whole = sum(wholes)
        if bottom == 0 or (whole and top >= bottom):
            raise _Unreadable("write a proper fraction, such as 1 1/2")
        value = whole + top / bottom
        shown = f"{whole} {top}/{bottom}" if whole else f"{top}/{bottom}"
        return _Number(-value if sign else value, sign + shown, 3, 0)
    if "," in body and not _GROUPED.fullmatch(body):
        if re.fullmatch("[0-9]+,[0-9]+", body):
            raise _Unreadable(f"write {token.replace(',', '.')}")
        raise _Unreadable("use commas only between groups of three digits, such as 1,200")
    body = body.replace(",", "")
    if not _DECIMAL.fullmatch(body):
        raise _Unreadable("write one number, with one decimal point at most")
    value = float(body)
    if not math.isfinite(value) or value > LARGEST:
        raise _Unreadable("check the number: it is too large for anything on a homestead")
    mantissa = re.split("[eE]", body)[0]
    if (value == 0.0 and mantissa.strip("0.")) or 0 < value < SMALLEST:
        raise _Unreadable("check the number: it is too small for anything on a homestead")
    digits = len(mantissa.replace(".", "").lstrip("0")) or 1
    decimals = len(mantissa.partition(".")[2])
    shown = f"{Decimal(body.rstrip('.')):,f}"
    return _Number(-value if sign else value, sign + shown, digits, decimals)


def _scan(tidy: str) -> tuple[_Number, _Number | None, str] | None:
    """The number, the upper end of a range, and the text of the unit; None without a number."""
    found = _SCAN.fullmatch(tidy)
    if found is None:
        return None
    low, high, unit = found.groups()
    return _number(low), None if high is None else _number(high), unit


# ---------------------------------------------------------------------------------- parsing


def parse(text: str, kind: str) -> Quantity:
    """Read a quantity of the expected kind.

    Parameters
    ----------
    text : str
        As the person wrote it, such as ``1 1/2 in``, ``1,200 gal`` or ``15-22 ft-lb``.
    kind : str
        A key of `KINDS`.

    Raises
    ------
    QuantityError
        The text is not a number with a unit of this kind; the error says how to put it right.

    Examples
    --------
    >>> parse('5/16"', "length").to("mm")
    7.9375
    """
    return _parse(str(text), kind)


@lru_cache(maxsize=8192)
def _parse(text: str, kind: str) -> Quantity:
    expected = KINDS[kind]

    def refused(fix: str) -> QuantityError:
        found = text if len(text) <= LONGEST_TEXT else text[:40] + "…"
        return QuantityError(found.strip() or "nothing", expected.allowed, fix)

    if len(text) > LONGEST_TEXT:
        raise refused(f"write the quantity alone, in at most {LONGEST_TEXT} characters")
    tidy = _tidy(text)
    if "±" in tidy or "+/-" in tidy:
        also = ", or its two ends, such as 15 to 22" if expected.ranges else ""
        raise refused(f"write the nominal value alone{also}")
    bracket = _BRACKET.fullmatch(tidy)
    if bracket:
        return _agreed(parse(bracket[1], kind), parse(bracket[2], kind), text, refused)
    if kind == "money":
        tidy = re.sub("^([A-Z]{3}) ?([-0-9.].*)$", r"\2 \1", tidy)
    try:
        scanned = _scan(tidy)
    except _Unreadable as error:
        raise refused(_with_unit(str(error), tidy)) from None
    if scanned is None:
        hint = _hint(tidy) or f"write a number first, such as {expected.examples[0]}"
        raise refused(hint)
    low, high, words = scanned
    unit = _unit(words, kind) if expected.units else ("" if not words else None)
    if unit is None:
        raise refused(_unit_fix(words, expected))
    for fix in _limits(low, high, unit, expected):
        raise refused(fix)
    return Quantity(low.value, unit, kind, text, None if high is None else high.value)


def _with_unit(fix: str, tidy: str) -> str:
    """The fix ``write 3.5`` completed with the unit of the text."""
    unit = re.sub(r"^[-+0-9.,/eE ]+", "", tidy)
    return f"{fix} {unit}".rstrip() if re.fullmatch(r"write [-+0-9.]+", fix) else fix


def _hint(words: str) -> str | None:
    key = _key(words).lower()
    return next((fix for pattern, fix in _HINTS if re.search(pattern, key)), None)


def _unit_fix(words: str, expected: Kind) -> str:
    """What to do about a unit that is missing, of another kind, or unknown."""
    if not expected.units:
        return f"write the number alone, such as {expected.examples[0]}"
    if not words:
        return "write the unit after the number; the maker's manual gives it"
    hint = _hint(words)
    if hint:
        return hint
    listed = ", ".join(expected.units[:8])
    for other in KINDS.values():
        if other.units and _unit(words, other.name):
            return f"{words} measures {other.noun}, not {expected.noun}; write one of {listed}"
    by_spelling = {_fold(key): unit for unit, keys in expected.spellings.items() for key in keys}
    near = difflib.get_close_matches(_fold(_key(words)), by_spelling, n=1, cutoff=0.6)
    if near:
        return f"the nearest known unit is {by_spelling[near[0]]}; write one of {listed}"
    return f"write one of the units {listed}"


def _limits(low: _Number, high: _Number | None, unit: str, kind: Kind) -> list[str]:
    """What is wrong with the values, each as a fix."""
    fixes = []
    least = kind.least.get(unit) if isinstance(kind.least, Mapping) else kind.least
    top = low if high is None else high
    if high is not None and not kind.ranges:
        fixes.append(f"write one value, not a range: {kind.noun} is needed to reckon with")
    elif high is not None and high.value <= low.value:
        fixes.append("write the lower end of the range first")
    if kind.above is not None and low.value <= kind.above:
        fixes.append(f"write a value above {kind.above:g}")
    if least is not None and low.value < least:
        fixes.append(f"write a value of {least:g} {unit}".rstrip() + " or more")
    if kind.most is not None and top.value > kind.most:
        fixes.append(f"write a value of {kind.most:g} or less")
    if kind.whole and low.value != int(low.value):
        fixes.append("write a whole number")
    if kind.name == "money" and low.decimals > 2:
        fixes.append("write two decimals at most")
    return fixes


def _agreed(main: Quantity, other: Quantity, text: str, refused: Any) -> Quantity:
    """The quantity before a bracket, once the one inside is seen to say the same."""
    pairs = [(main.magnitude, other.magnitude), (main.high, other.high)]
    for written, bracketed in pairs:
        same = written is not None and bracketed is not None
        if not same and (written, bracketed) != (None, None):
            raise refused("write a range both before and inside the brackets, or in neither")
        if written is None or bracketed is None:
            continue
        turned = convert(bracketed, other.unit, main.unit)
        slack = 2.0 if main.unit in _ZERO else 1e-9
        if not math.isclose(written, turned, rel_tol=0.06, abs_tol=slack):
            turn = f"{bracketed:g} {other.unit} is {turned:.3g} {main.unit}"
            raise refused(f"the two values disagree ({turn}); write one of them")
    return Quantity(main.magnitude, main.unit, main.kind, text, main.high)


def parse_any(text: str, kinds: Sequence[str]) -> Quantity:
    """Read a quantity of the first of several kinds whose units fit.

    A text that means different things in two of the kinds, as ``5 oz`` does for a volume and a
    mass, is refused.
    """
    read: list[Quantity] = []
    errors: list[QuantityError] = []
    for kind in kinds:
        try:
            read.append(parse(text, kind))
        except QuantityError as error:
            errors.append(error)
    for quantity in read[1:]:
        if quantity.unit != read[0].unit:
            nouns = f"{KINDS[read[0].kind].noun} or {KINDS[quantity.kind].noun}"
            raise QuantityError(
                text,
                " or ".join(KINDS[kind].allowed for kind in kinds),
                f"this may be {nouns}; write a unit that only one of them has",
            )
    if read:
        return read[0]
    fixes = {error.fix for error in errors}
    fix = fixes.pop() if len(fixes) == 1 else "write a number and a unit of one of these kinds"
    raise QuantityError(errors[0].found, " or ".join(error.allowed for error in errors), fix)


# ---------------------------------------------------------------------------------- showing

_SYMBOLS = (
    (r"^delta ", ""),
    (r"\*", "·"),
    (r"\bdeg(?=[FC]\b)", "°"),
    (r"^deg$", "°"),
    (r"H2O", "H₂O"),
    (r"(?<=m|t|n)2$", "²"),
    (r"(?<=m|t)3(?=$|/)", "³"),
    (r"\bmohm\b", "mΩ"),
    (r"\bMohm\b", "MΩ"),
    (r"\bohm\b", "Ω"),
)


@cache
def symbol(unit: str) -> str:
    """The unit as it is printed.

    >>> symbol("lbf*ft"), symbol("degF"), symbol("kg/m3")
    ('lbf·ft', '°F', 'kg/m³')
    """
    for pattern, printed in _SYMBOLS:
        unit = re.sub(pattern, printed, unit)
    return unit


def _joined(number: str, unit: str) -> str:
    if unit == "deg":
        return number + "°"
    return number + (NO_BREAK + symbol(unit) if unit else "")


def _decimals(value: float, decimals: int) -> str:
    """The value with this many decimals (tens and hundreds where negative), grouped."""
    exact = Decimal(f"{value:.12g}")
    rounded = exact.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
    sign = MINUS if rounded < 0 else ""
    return sign + f"{abs(rounded):,.{max(decimals, 0)}f}"


def _significant(value: float, digits: int) -> str:
    """The value with this many significant digits, grouped."""
    if value == 0:
        return "0"
    digits = max(digits, 1)
    exact = Decimal(f"{value:.12g}")
    decimals = digits - 1 - exact.adjusted()
    rounded = exact.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
    return _decimals(float(rounded), digits - 1 - rounded.adjusted())


def _converted(value: float, written: _Number, unit: str, digits: int | None) -> str:
    """A converted value, no finer than its source: 26 lbf*ft is 35 N*m, not 35.25."""
    if unit in _ZERO:
        return _decimals(value, written.decimals if digits is None else max(digits - 2, 0))
    if digits is not None:
        return _significant(value, digits)
    count = max(written.digits, 2)
    text = _significant(value, count)
    moved = abs(_value_of(text) - value)
    if count <= written.digits and moved > 0.01 * abs(value):
        return _significant(value, count + 1)
    return text


def _value_of(shown: str) -> float:
    return float(shown.replace(",", "").replace(MINUS, "-"))


def _written(quantity: Quantity) -> tuple[_Number, _Number | None]:
    """The numbers as the person wrote them; made from the magnitude where there is no text."""
    tidy = _tidy(quantity.text)
    bracket = _BRACKET.fullmatch(tidy)
    tidy = re.sub("^[A-Z]{3} ?", "", bracket[1] if bracket else tidy)
    try:
        scanned = _scan(tidy)
    except _Unreadable:
        scanned = None
    if scanned:
        low, high, _ = scanned
        if (low.value, high and high.value) == (quantity.magnitude, quantity.high):
            return low, high
    return _made(quantity.magnitude), None if quantity.high is None else _made(quantity.high)


def _made(magnitude: float) -> _Number:
    exact = Decimal(f"{magnitude:.6g}")
    shown = f"{abs(exact):,f}"
    digits = len(shown.replace(",", "").replace(".", "").lstrip("0")) or 1
    decimals = len(shown.partition(".")[2])
    return _Number(magnitude, (MINUS if exact < 0 else "") + shown, min(digits, 4), decimals)


def _span(low: str, high: str | None) -> str:
    if high is None:
        return low
    return f"{low} to {high}" if MINUS in low + high or "/" in low + high else f"{low}–{high}"


def show(
    quantity: Quantity, prefer: System, *, both: bool = True, digits: int | None = None
) -> str:
    """The quantity in the preferred system, the other one in brackets behind it.

    Its own unit keeps the digits as written; the other is rounded to about as many.

    >>> show(parse("0.030 in", "gap"), "metric").replace(NO_BREAK, " ")
    '0.76 mm (0.030 in)'
    """
    low, high = _written(quantity)
    unit = quantity.unit
    ends = [low] if high is None else [low, high]
    if quantity.kind == "money":
        own = _joined(_decimals(quantity.magnitude, 2), unit)
    else:
        texts = [e.shown if digits is None else _converted(e.value, e, unit, digits) for e in ends]
        own = _joined(_span(texts[0], texts[1] if high else None), unit)
    if unit not in KINDS[quantity.kind].others:
        return own
    system, other_unit = KINDS[quantity.kind].others[unit]
    turned = [(convert(e.value, unit, other_unit), e) for e in ends]
    texts = [_converted(value, e, other_unit, digits) for value, e in turned]
    if high:  # both ends alike: 20.3–29.8, not 20.3–30
        decimals = max(len(text.partition(".")[2]) for text in texts)
        if decimals:
            texts = [_decimals(value, decimals) for value, _ in turned]
    other = _joined(_span(texts[0], texts[1] if high else None), other_unit)
    return _ordered(own, other, system == prefer, both)


def _ordered(own: str, other: str, own_first: bool, both: bool) -> str:
    first, second = (own, other) if own_first else (other, own)
    return f"{first} ({second})" if both else first


def show_value(
    magnitude: float,
    unit: str,
    prefer: System,
    *,
    digits: int | None = 3,
    both: bool = True,
    kind: str | None = None,
) -> str:
    """A computed value, rounded to significant digits, in the preferred system first.

    ``kind`` matters where a unit has a different partner in two kinds, as kW in heat and power;
    without it the first kind that lists the unit is meant. ``digits=None`` keeps up to twelve.

    >>> show_value(1892.7, "L", "us").replace(NO_BREAK, " ")
    '500 gal (1,890 L)'
    """
    if not math.isfinite(magnitude):
        raise OutOfRange("a value to be shown", magnitude, unit, "a finite number")
    homes = [KINDS[kind]] if kind else [k for k in KINDS.values() if unit in k.units]
    if unit and not any(unit in home.units for home in homes):
        raise QuantityError(unit, "a unit of some kind", "name the unit as KINDS lists it")
    own = _joined(_computed(magnitude, unit, digits), unit)
    if not unit or unit not in homes[0].others:
        return own
    system, other_unit = homes[0].others[unit]
    turned = convert(magnitude, unit, other_unit)
    other = _joined(_computed(turned, other_unit, digits), other_unit)
    return _ordered(own, other, system == prefer, both)


def _computed(value: float, unit: str, digits: int | None) -> str:
    if unit in _CURRENCIES:
        return _decimals(value, 2)
    whole = abs(value - round(value)) < 1e-9 * max(1.0, abs(value))
    if digits is None:
        exact = Decimal(f"{value:.12g}")
        return _decimals(value, 0 if whole else max(-int(exact.as_tuple().exponent), 0))
    if unit in _ZERO:
        return _decimals(value, 0 if whole else max(digits - 2, 0))
    if whole and abs(value) < 10**digits:
        return _decimals(value, 0)
    return _significant(value, digits)


# -------------------------------------------------------------------- calendar and intervals

_CALENDAR_ALLOWED = "calendar time in whole days, weeks, months or years, such as 24 months"
_PERIODS = {
    "days": (0, 1, "d day days"),
    "weeks": (0, 7, "w wk wks week weeks"),
    "months": (1, 0, "mo mos month months"),
    "years": (12, 0, "y yr yrs year years"),
}
_PERIOD_OF = {word: name for name, (_, _, words) in _PERIODS.items() for word in words.split()}
_LONGEST_MONTHS, _LONGEST_DAYS = 1200, 36525  # a hundred years


@dataclass(frozen=True, slots=True)
class CalendarInterval:
    """Whole months and days of the calendar; a year is 12 months, a week 7 days."""

    days: int = 0
    months: int = 0
    text: str = field(compare=False, default="")

    def __str__(self) -> str:
        parts = [(self.months, "month"), (self.days, "day")]
        words = [f"{n} {word}{'' if n == 1 else 's'}" for n, word in parts if n]
        return " ".join(words) or "0 days"


def parse_calendar(text: str) -> CalendarInterval:
    """Read an interval of the calendar.

    >>> parse_calendar("1 year 6 months").months
    18
    """
    text = str(text)

    def refused(fix: str) -> QuantityError:
        return QuantityError(text[:LONGEST_TEXT].strip() or "nothing", _CALENDAR_ALLOWED, fix)

    tidy = re.sub(r",? and |, ?", " ", _tidy(text[: LONGEST_TEXT + 1]).lower())
    terms = re.findall(r"([0-9]+) ?([a-z]+)\.? ?", tidy)
    if re.search(r"[0-9][.,/][0-9]", _tidy(text)):
        raise refused("write whole numbers: 18 months, not 1.5 years")
    if re.fullmatch("[0-9]+", tidy):
        raise refused("write days, weeks, months or years after the number")
    if len(text) > LONGEST_TEXT or not re.fullmatch(r"(?:[0-9]+ ?[a-z]+\.? ?)+", tidy):
        raise refused("write a whole number and a unit, such as 24 months")
    days = months = 0
    seen = set()
    for number, word in terms:
        name = _PERIOD_OF.get(word)
        if name is None:
            near = difflib.get_close_matches(word, _PERIOD_OF, n=1)
            known = _PERIOD_OF[near[0]] if near else "days, weeks, months or years"
            raise refused(f"write {known}")
        if name in seen:
            raise refused(f"write {name} once")
        seen.add(name)
        months += int(number) * _PERIODS[name][0]
        days += int(number) * _PERIODS[name][1]
    if months + days == 0 or months > _LONGEST_MONTHS or days > _LONGEST_DAYS:
        raise refused("write between 1 day and 100 years")
    return CalendarInterval(days, months, text)


def add_interval(start: date, interval: CalendarInterval) -> date:
    """The date an interval later: months first, kept inside the month reached, then days.

    >>> add_interval(date(2027, 1, 31), CalendarInterval(months=1))
    datetime.date(2027, 2, 28)
    """
    count = start.year * 12 + start.month - 1 + interval.months
    year, month = count // 12, count % 12 + 1
    try:
        day = min(start.day, calendar.monthrange(year, month)[1])
        reached = start.replace(year=year, month=month, day=day)
        return reached + timedelta(days=interval.days)
    except (ValueError, OverflowError):
        raise OutOfRange("the year of a date", year, "", "between 1 and 9999") from None


@dataclass(frozen=True, slots=True)
class Interval:
    """When something falls due: running hours, calendar time, or whichever comes first."""

    hours: Quantity | None
    calendar: CalendarInterval | None
    text: str = field(compare=False, default="")

    def __str__(self) -> str:
        return " or ".join(str(part) for part in (self.hours, self.calendar) if part is not None)


def parse_interval(text: str) -> Interval:
    """Read a service interval.

    >>> str(parse_interval("200 h or 24 months, whichever first"))
    '200 h or 24 months'
    """
    text = str(text)
    allowed = "running hours, calendar time or both, such as 200 h or 24 months"

    def refused(fix: str) -> QuantityError:
        return QuantityError(text[:LONGEST_TEXT].strip() or "nothing", allowed, fix)

    if len(text) > LONGEST_TEXT:
        raise refused(f"write the interval alone, in at most {LONGEST_TEXT} characters")
    first = r",? \(?whichever (?:comes |is |occurs )?(?:first|earlier|sooner)\)?\.?$"
    hours: Quantity | None = None
    period: CalendarInterval | None = None
    if re.search(r"whichever.*(last|late)", text, re.IGNORECASE):
        raise refused("leave out the rule: the one that comes first counts")
    for part in re.split(r",? or ", re.sub(first, "", _tidy(text), flags=re.IGNORECASE)):
        words = re.findall("[a-z]+", part.lower())
        if any(word in _PERIOD_OF for word in words):
            if any(_unit(word, "hours") for word in words):
                raise refused("write or between hours and calendar time: 200 h or 24 months")
            if period:
                raise refused("write calendar time once")
            try:
                period = parse_calendar(part)
            except QuantityError as error:
                raise refused(error.fix) from None
            continue
        if hours:
            raise refused("write running hours once")
        try:
            hours = parse(part, "hours")
        except QuantityError as error:
            fix = "write h for running hours, or months" if part[-1:].isdigit() else error.fix
            raise refused(fix) from None
        if hours.magnitude <= 0:
            raise refused("write more than 0 hours")
    return Interval(hours, period, text)


# ----------------------------------------------------------------------------------- schema


def schema(kind: str) -> dict[str, Any]:
    """A JSON Schema fragment for one kind, so that an editor can help; looser than `parse`."""
    expected = KINDS[kind]
    start = r"^\s*[-+\u2212\u2013]?\s*[0-9.½⅓⅔¼¾⅛⅜⅝⅞]"
    description = f"{expected.allowed[0].upper()}{expected.allowed[1:]}."
    if expected.units:
        description += f" Units: {', '.join(expected.units)}."
    fragment: dict[str, Any] = {
        "type": "string",
        "pattern": start + r".*[A-Za-z%°º℃℉\u2126Ω'\"′″”’].*$",
        "description": description,
        "examples": list(expected.examples),
    }
    if kind == "money":
        fragment["pattern"] = r"^\s*([A-Z]{3}\s*[0-9.].*|[0-9.].*[A-Z]{3})\s*$"
    elif not expected.units:
        fragment["type"] = ["integer" if expected.whole else "number", "string"]
        fragment["pattern"] = start + r"[^A-Za-z]*$"
    return fragment
