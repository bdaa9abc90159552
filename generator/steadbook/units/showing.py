"""Quantities and computed values as they are printed, in both systems."""

from __future__ import annotations

import math
import re
from decimal import ROUND_HALF_UP, Decimal
from functools import cache

from steadbook.errors import OutOfRange, QuantityError
from steadbook.units.conversion import ABSOLUTE_ZERO, Quantity, convert
from steadbook.units.grammar import BRACKET, Unreadable, WrittenNumber, scan, tidied
from steadbook.units.kinds import CURRENCIES, KINDS, System
from steadbook.units.spelling import MINUS

NO_BREAK = "\N{NO-BREAK SPACE}"

_SYMBOLS = (
    (r"^delta ", ""),
    (r"\*", "·"),
    (r"\bdeg(?=[FC]\b)", "°"),
    (r"^deg$", "°"),
    (r"H2O", "H₂O"),
    (r"(?<=m|t|n)2$", "²"),
    (r"(?<=m|t|n)3(?=$|/)", "³"),
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


def _converted(value: float, written: WrittenNumber, unit: str, digits: int | None) -> str:
    """A converted value, no finer than its source: 26 lbf*ft is 35 N*m, not 35.25."""
    if unit in ABSOLUTE_ZERO:
        return _decimals(value, written.decimals if digits is None else max(digits - 2, 0))
    if digits is not None:
        return _significant(value, digits)
    count = max(written.digits, 2)
    text = _significant(value, count)
    moved = abs(_value_of(text) - value)
    if count <= written.digits and moved > 0.01 * abs(value):
        return _significant(value, count + 1)
    return text


def _as_marked(value: float, written: WrittenNumber, unit: str, kind: str) -> str:
    """A converted length as the tool for it is marked; nothing where that would be too coarse.

    A gap as a feeler blade: hundredths of a mm, thousandths of an inch, finer only where its source
    is. A fraction of an inch as a rule: tenths of a mm.
    """
    if kind == "gap":
        least, finer = (2, -1) if unit == "mm" else (3, 1)
        text = _decimals(value, max(least, written.decimals + finer))
    elif "/" in written.shown and unit == "mm":
        text = _decimals(value, 1)
    else:
        return ""
    return text if abs(_value_of(text) - value) <= 0.04 * abs(value) else ""


def _value_of(shown: str) -> float:
    return float(shown.replace(",", "").replace(MINUS, "-"))


def _written(quantity: Quantity) -> tuple[WrittenNumber, WrittenNumber | None]:
    """The numbers as the person wrote them; made from the magnitude where there is no text."""
    tidy = tidied(quantity.text)
    bracket = BRACKET.fullmatch(tidy)
    tidy = re.sub("^[A-Z]{3} ?", "", bracket[1] if bracket else tidy)
    try:
        scanned = scan(tidy)
    except Unreadable:
        scanned = None
    if scanned:
        low, high, _ = scanned
        if (low.value, high and high.value) == (quantity.magnitude, quantity.high):
            return low, high
    return _made(quantity.magnitude), None if quantity.high is None else _made(quantity.high)


def _made(magnitude: float) -> WrittenNumber:
    exact = Decimal(f"{magnitude:.6g}")
    shown = f"{abs(exact):,f}"
    digits = len(shown.replace(",", "").replace(".", "").lstrip("0")) or 1
    decimals = len(shown.partition(".")[2])
    return WrittenNumber(magnitude, (MINUS if exact < 0 else "") + shown, min(digits, 4), decimals)


def _span(low: str, high: str | None) -> str:
    if high is None:
        return low
    return f"{low} to {high}" if MINUS in low + high or "/" in low + high else f"{low}–{high}"


def show(
    quantity: Quantity, prefer: System, *, both: bool = True, digits: int | None = None
) -> str:
    """The quantity in the preferred system, the other one in brackets behind it.

    Its own unit keeps the digits as written; the other is rounded to about as many.

    >>> from steadbook.units import parse
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
    texts = [
        (_as_marked(value, e, other_unit, quantity.kind) if digits is None else "")
        or _converted(value, e, other_unit, digits)
        for value, e in turned
    ]
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
    if unit in CURRENCIES:
        return _decimals(value, 2)
    whole = abs(value - round(value)) < 1e-9 * max(1.0, abs(value))
    if digits is None:
        exact = Decimal(f"{value:.12g}")
        return _decimals(value, 0 if whole else max(-int(exact.as_tuple().exponent), 0))
    if unit in ABSOLUTE_ZERO:
        return _decimals(value, 0 if whole else max(digits - 2, 0))
    if whole and abs(value) < 10**digits:
        return _decimals(value, 0)
    return _significant(value, digits)
