"""Quantities as people write them: read with their unit, converted, shown in both systems.

Every text passes a small grammar: a number, then a unit from the list of the *expected* kind.
``oz`` is a volume where a volume is expected and a mass where a mass is; ``26 ft-lb`` is a
torque. The factors are made from pint and held against it; pint itself never sees the words.
Gallons, quarts, pints and fluid ounces are the US ones. Calendar intervals are calendar
arithmetic and have no conversion to hours.

>>> parse("26 ft-lb", "torque")
Quantity(magnitude=26.0, unit='lbf*ft', kind='torque', text='26 ft-lb', high=None)
>>> show(parse("26 ft-lb", "torque"), "us").replace(NO_BREAK, " ")
'26 lbf·ft (35 N·m)'
"""

from steadbook.units.conversion import Quantity, convert
from steadbook.units.grammar import LARGEST, LONGEST_TEXT, SMALLEST
from steadbook.units.intervals import (
    CalendarInterval,
    Interval,
    add_interval,
    parse_calendar,
    parse_interval,
)
from steadbook.units.json_schema import schema
from steadbook.units.kinds import KINDS, Kind, System
from steadbook.units.reading import parse, parse_any
from steadbook.units.showing import NO_BREAK, show, show_value, symbol
from steadbook.units.spelling import MINUS

__all__ = [
    "KINDS",
    "LARGEST",
    "LONGEST_TEXT",
    "MINUS",
    "NO_BREAK",
    "SMALLEST",
    "CalendarInterval",
    "Interval",
    "Kind",
    "Quantity",
    "System",
    "add_interval",
    "convert",
    "parse",
    "parse_any",
    "parse_calendar",
    "parse_interval",
    "schema",
    "show",
    "show_value",
    "symbol",
]
