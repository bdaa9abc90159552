"""Keeps together what is read as one: a number and its unit, a day and its month, a range.

The spaces and dashes inside them are made such that no line ends there.
"""

from __future__ import annotations

import re

from lxml.html import HtmlElement

NO_BREAK = "\N{NO-BREAK SPACE}"
JOINED = "\N{WORD JOINER}"

_NUMBER = r"(?<![\w.,])[−-]?\d[\d,.]*(?:[–-]\d[\d,.]*)?"
_TIME = "years?|months?|weeks?|days?|hours?|minutes?"
_MONTH = (
    "January|February|March|April|May|June|July|August|September|October|November|December"
    "|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
)
_SYMBOL = (
    r"h|min|s|V|A|W|kW|Wh|kWh|Ah|mA|hp|Hz|rpm|psi|kPa|mbar|bar|Pa|inHg|inH2O|inWC|ppm|dB"
    r"|gal|qt|fl oz|oz|lb|lbs|ft|in|mi|cords?|L|mL|kg|g|mm|cm|m|km|m3|m2|[°][FC]|deg[FC]|%"
    r"|lbf[·*]ft|lbf[·*]in|N[·*]m|L/h|gal/h|Btu/h|Btu|MJ|USD|EUR|NOK|CAD|GBP"
)
_ONE = re.compile(rf"({_NUMBER}) (?=(?:{_TIME}|{_MONTH}|{_SYMBOL})(?![\w/·*]))")
_HOURS = re.compile(rf"(?<=\d{NO_BREAK}h) (?=\d+{NO_BREAK}min)")
_RANGE = re.compile(r"(?<=\d)–(?=\d)")
_UNTOUCHED = ("svg", "style", "pre", "code", "script")


def keep_together(body: HtmlElement) -> None:
    """Let no line end inside a number with its unit, a day with its month, a range of numbers."""
    for element in body.iter():
        if element.text and element.tag not in _UNTOUCHED:
            element.text = kept_together(element.text)
        if element.tail:
            element.tail = kept_together(element.tail)


def kept_together(text: str) -> str:
    r"""The text with no line's end inside what is read as one.

    >>> kept_together("every 6 months, 1 May to 15 October")
    'every 6\xa0months, 1\xa0May to 15\xa0October'
    """
    text = _HOURS.sub(NO_BREAK, _ONE.sub(rf"\1{NO_BREAK}", text))
    return _RANGE.sub(f"{JOINED}–{JOINED}", text)


def let_go(text: str) -> str:
    """The text with its spaces as they were: for a place too narrow to keep anything together."""
    return text.replace(NO_BREAK, " ").replace(JOINED, "")
