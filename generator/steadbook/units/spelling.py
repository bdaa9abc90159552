"""The words people use for units, and what is alike among spellings."""

from __future__ import annotations

import itertools
import re
import unicodedata

MINUS = "\N{MINUS SIGN}"

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
in3 cuin cid cubicinch cubicinches
cm3 cc ccm mL ml cubiccentimeter cubiccentimeters cubiccentimetre cubiccentimetres
m3 cum cubicmeter cubicmeters cubicmetre cubicmetres
deg ° degree degrees
cord cords
""".splitlines()
}

# Canonical unit: what it is for pint, then spellings that are no product of the words above.
UNITS: dict[str, tuple[str, str]] = {
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
    "in3": ("inch**3", ""),
    "cm3": ("centimeter**3", ""),
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
    "lbf/ft2": ("force_pound / foot**2", "psf"),
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


def spellings_of(unit: str) -> tuple[str, ...]:
    """Every spelling of a canonical unit, the canonical one first."""
    parts = re.split(r"([*/])", unit)
    orders = [parts, parts[::-1]] if "*" in parts else [parts]
    found = [unit]
    for order in orders:
        choices = [("",) if part == "*" else _WORDS.get(part, (part,)) for part in order]
        found += ["".join(words) for words in itertools.product(*choices)]
    if unit in UNITS:
        found += UNITS[unit][1].split()
    return tuple(dict.fromkeys(bare(spelling) for spelling in found))


_JOINTS = re.compile(r"[\s·⋅∙•*^._()]|[-‐‑](?![0-9])")


def bare(unit: str) -> str:
    """A unit without spaces and joining marks: ``ft·lb``, ``ft-lb`` and ``ft lb`` are one."""
    unit = unicodedata.normalize("NFKC", unit.replace("º", "°")).replace(MINUS, "-")
    unit = re.sub(r"\bper\b", "/", unit)
    return _JOINTS.sub("", unit)


def without_case(key: str) -> str:
    """In lower case, but for the first letter of a short ``mV`` or ``MJ``: milli is not mega."""
    first = key.split("/")[0]
    if first[:1] in ("m", "M") and len(first) < 5:
        return key[0] + key[1:].lower()
    return key.lower()
