"""The small grammar of what people write: a number or a range, then the text of a unit."""

from __future__ import annotations

import math
import re
from decimal import Decimal
from typing import NamedTuple

from steadbook.units.spelling import MINUS

LONGEST_TEXT = 100
LARGEST, SMALLEST = 1e12, 1e-9  # beyond these a text is a slip of the pen

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
_SPACED = r"[1-9][0-9]{0,2}(?: [0-9]{3})+(?:\.[0-9]+)?(?![0-9.,/])"  # 14 000, as ISO 80000-1 groups
_NUMBER = rf"[-+]?(?:{_FRACTION}|{_SPACED}|[0-9.,]*[0-9][.,]?(?:[eE][-+]?[0-9]+)?)"
_DASH = r"(?:-|–|—|\.\.\.|…|to\b)"
# A dash has a space on both sides or on none: "-10 -5" is two numbers, not -10 to 5.
_SCAN = re.compile(rf"({_NUMBER})(?:(?: {_DASH} |{_DASH})({_NUMBER}))? ?(.*)")
BRACKET = re.compile(r"(.*\S) ?\(([-+.0-9].*)\)")
_GROUPED = re.compile(r"[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?")
_DECIMAL = re.compile(r"([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?")


class WrittenNumber(NamedTuple):
    """A number as written: value, how it is shown again, significant digits, decimals."""

    value: float
    shown: str
    digits: int
    decimals: int


class Unreadable(Exception):
    """Carries the fix for a text that the grammar refuses."""


def tidied(text: str) -> str:
    """With plain spaces, quotes and fractions, and one kind of minus."""
    tidy = " ".join(text.translate(_TIDY).split())
    return re.sub(r"^[–+-] ?(?=[0-9.])", lambda m: "" if m[0][0] == "+" else "-", tidy)


def _number(token: str) -> WrittenNumber:
    sign, body = (MINUS, token[1:]) if token[0] == "-" else ("", token.lstrip("+"))
    if "/" in body:
        *wholes, top, bottom = (int(part) for part in re.findall("[0-9]+", body))
        whole = sum(wholes)
        if bottom == 0 or (whole and top >= bottom):
            raise Unreadable("write a proper fraction, such as 1 1/2")
        value = whole + top / bottom
        shown = f"{whole} {top}/{bottom}" if whole else f"{top}/{bottom}"
        return WrittenNumber(-value if sign else value, sign + shown, 3, 0)
    if "," in body and not _GROUPED.fullmatch(body):
        if re.fullmatch("[0-9]+,[0-9]+", body):
            raise Unreadable(f"write {token.replace(',', '.')}")
        raise Unreadable("use commas only between groups of three digits, such as 1,200")
    body = body.replace(",", "").replace(" ", "")
    if not _DECIMAL.fullmatch(body):
        raise Unreadable("write one number, with one decimal point at most")
    value = float(body)
    if not math.isfinite(value) or value > LARGEST:
        raise Unreadable("check the number: it is too large for anything on a homestead")
    mantissa = re.split("[eE]", body)[0]
    if (value == 0.0 and mantissa.strip("0.")) or 0 < value < SMALLEST:
        raise Unreadable("check the number: it is too small for anything on a homestead")
    digits = len(mantissa.replace(".", "").lstrip("0")) or 1
    decimals = len(mantissa.partition(".")[2])
    shown = f"{Decimal(body.rstrip('.')):,f}"
    return WrittenNumber(-value if sign else value, sign + shown, digits, decimals)


def scan(tidy: str) -> tuple[WrittenNumber, WrittenNumber | None, str] | None:
    """The number, the upper end of a range, and the text of the unit; None without a number."""
    found = _SCAN.fullmatch(tidy)
    if found is None:
        return None
    low, high, unit = found.groups()
    return _number(low), None if high is None else _number(high), unit
