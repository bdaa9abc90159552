"""A text read as a quantity of the expected kind, or refused with the way out."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from steadbook.errors import QuantityError
from steadbook.units.conversion import ABSOLUTE_ZERO, Quantity, convert
from steadbook.units.grammar import (
    BRACKET,
    LONGEST_TEXT,
    Unreadable,
    WrittenNumber,
    scan,
    tidied,
)
from steadbook.units.kinds import KINDS, Kind, unit_meant
from steadbook.units.spelling import bare, without_case

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
    tidy = tidied(text)
    if "±" in tidy or "+/-" in tidy:
        also = ", or its two ends, such as 15 to 22" if expected.ranges else ""
        raise refused(f"write the nominal value alone{also}")
    bracket = BRACKET.fullmatch(tidy)
    if bracket:
        return _agreed(parse(bracket[1], kind), parse(bracket[2], kind), text, refused)
    if kind == "money":
        tidy = re.sub("^([A-Z]{3}) ?([-0-9.].*)$", r"\2 \1", tidy)
    try:
        scanned = scan(tidy)
    except Unreadable as error:
        raise refused(_with_unit(str(error), tidy)) from None
    if scanned is None:
        hint = _hint(tidy) or f"write a number first, such as {expected.examples[0]}"
        raise refused(hint)
    low, high, words = scanned
    unit = unit_meant(words, kind) if expected.units else ("" if not words else None)
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
    key = bare(words).lower()
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
        if other.units and unit_meant(words, other.name):
            return f"{words} measures {other.noun}, not {expected.noun}; write one of {listed}"
    import difflib

    by_spelling = {
        without_case(key): unit for unit, keys in expected.spellings.items() for key in keys
    }
    near = difflib.get_close_matches(without_case(bare(words)), by_spelling, n=1, cutoff=0.6)
    if near:
        return f"the nearest known unit is {by_spelling[near[0]]}; write one of {listed}"
    return f"write one of the units {listed}"


def _limits(low: WrittenNumber, high: WrittenNumber | None, unit: str, kind: Kind) -> list[str]:
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
        slack = 2.0 if main.unit in ABSOLUTE_ZERO else 1e-9
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
