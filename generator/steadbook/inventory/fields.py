"""Field types of the inventory: what a person writes -> a typed value, or an error in plain words."""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING, Annotated, Any, Literal, get_args

from pydantic import BaseModel, ConfigDict, PlainValidator, StringConstraints, WithJsonSchema

from steadbook import units
from steadbook.errors import QuantityError

ISO_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
OTHER_DATE = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})", re.ASCII)
PART_OF_DATE = re.compile(r"((?:19|20)\d{2})(?:-(0[1-9]|1[0-2]))?", re.ASCII)
Month = Literal[
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
]  # fmt: skip
MONTHS: list[str] = list(get_args(Month))


def read_date(value: Any) -> date:
    """A date as ISO 8601 writes it. Raises QuantityError."""
    if isinstance(value, date):
        return value
    if isinstance(value, str) and ISO_DATE.fullmatch(value.strip()):
        try:
            return date.fromisoformat(value.strip())
        except ValueError:
            raise QuantityError(
                value, "a date of the calendar", "that day does not exist; check day and month"
            ) from None
    raise QuantityError(
        _shown(value),
        "a date such as 2026-03-01",
        _as_iso(str(value)) or "write year-month-day with two digits each",
    )


def _as_iso(text: str) -> str:
    """`15.11.2026` -> `write 2026-11-15`; nothing where day and month could be either.

    Of a year or a month alone the first day is told: what counts from it comes early, not late.
    """
    part = PART_OF_DATE.fullmatch(text.strip())
    if part:
        month = part[2] or "01"
        known = "month" if part[2] else "year"
        return f"write {part[1]}-{month}-01 where only the {known} is known, and say so in `notes:`"
    found = OTHER_DATE.fullmatch(text.strip())
    if found is None:
        return ""
    first, mark, second, year = int(found[1]), found[2], int(found[3]), int(found[4])
    if mark == "." or first > 12 or first == second:
        day, month = first, second
    elif second > 12:
        day, month = second, first
    else:
        return ""
    try:
        return f"write {date(year, month, day).isoformat()}"
    except ValueError:
        return ""


def read_month_day(value: Any) -> tuple[int, int]:
    """`15 October` -> (10, 15). Raises QuantityError."""
    words = str(value).strip().split()
    if len(words) == 2 and words[0].isdigit():
        for number, month in enumerate(MONTHS, start=1):
            if len(words[1]) >= 3 and month.lower().startswith(words[1].lower()):
                day = int(words[0])
                if (
                    1
                    <= day
                    <= (29, 31, 30)[0 if number == 2 else 2 if number in (4, 6, 9, 11) else 1]
                ):
                    return number, day
    raise QuantityError(
        _shown(value),
        "a day of the year such as 15 October",
        "write the day, then the month's name",
    )


def _shown(value: Any) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return "a group of keys"
    if isinstance(value, list):
        return "a list"
    return str(value).strip()[:80] or "nothing"


class Season(BaseModel):
    """The part of the year in which a job is done: `1 May to 15 October`."""

    model_config = ConfigDict(frozen=True)

    first: tuple[int, int]
    last: tuple[int, int]
    text: str

    @classmethod
    def read(cls, value: Any) -> Season:
        """Read `1 May to 15 October`. Raises QuantityError."""
        if isinstance(value, Season):
            return value
        parts = re.split(r"\s+to\s+", str(value).strip())
        if len(parts) != 2:
            raise QuantityError(
                _shown(value),
                "a season such as 1 May to 15 October",
                "write its first day, `to`, and its last day",
            )
        return cls(first=read_month_day(parts[0]), last=read_month_day(parts[1]), text=str(value))


def _text_reader(read: Any) -> Any:
    def validate(value: Any) -> Any:
        if value is None or isinstance(value, dict | list):
            return read("" if value is None else _shown(value))
        return read(value)

    return validate


def quantity(kind: str) -> Any:
    """The field type of a quantity of one kind, such as ``torque``."""

    def read(value: Any) -> Any:
        if isinstance(value, units.Quantity):
            return value
        return units.parse(value, kind)

    return Annotated[
        units.Quantity, PlainValidator(_text_reader(read)), WithJsonSchema(units.schema(kind))
    ]


def _field(result: Any, read: Any, schema: dict[str, Any]) -> Any:
    return Annotated[result, PlainValidator(_text_reader(read)), WithJsonSchema(schema)]


def _calendar(value: Any) -> Any:
    return value if isinstance(value, units.CalendarInterval) else units.parse_calendar(value)


def _interval(value: Any) -> Any:
    return value if isinstance(value, units.Interval) else units.parse_interval(value)


def _amount(value: Any) -> Any:
    """`2` or `3.2 qt`: how many, or how much, of a part."""
    if isinstance(value, units.Quantity):
        return value
    text = str(value).strip()
    if re.fullmatch(r"\d+", text):
        return units.parse(text, "count")
    amount = units.parse_any(text, ["volume", "mass", "length"])
    if amount.high is not None:
        raise QuantityError(text, "one amount, such as 2 or 3.2 qt", "write the larger of the two")
    return amount


def _level(value: Any) -> Any:
    """What a gauge shows: `60 %`."""
    if isinstance(value, units.Quantity):
        return value
    level = units.parse(value, "percent")
    if level.magnitude > 100 or level.high is not None:
        raise QuantityError(
            _shown(value), "a level from 0 to 100 %, such as 60 %", "write what the gauge shows"
        )
    return level


FILLING_DENSITY = 0.42
"""Mass of propane in a full cylinder over that of the water it holds, for a specific gravity of
0.504 to 0.510. Source: Washington Administrative Code 296-307, Table U-4, up to 1,200 gal."""


def _tank_size(value: Any) -> Any:
    """`500 gal`, or the full charge of a propane cylinder: `45 kg` is one of 107 L."""
    if isinstance(value, units.Quantity):
        return value
    try:
        return units.parse(value, "volume")
    except QuantityError as error:
        try:
            charge = units.parse(value, "mass")
        except QuantityError:
            raise error from None
        if charge.high is not None:
            raise error from None
    litres = round(charge.to("kg") / FILLING_DENSITY, 1 if charge.to("kg") < 4 else 0)
    return units.Quantity(float(litres), "L", "volume", charge.text)


def is_charge(size: units.Quantity) -> bool:
    """Whether a tank's size was told by the weight of its full charge."""
    try:
        units.parse(size.text, "volume")
    except QuantityError:
        return bool(size.text)
    return False


def _yes_no(value: Any) -> bool:
    if isinstance(value, bool):
        return value
    word = str(value).strip().lower()
    if word in ("yes", "true", "on"):
        return True
    if word in ("no", "false", "off"):
        return False
    raise QuantityError(_shown(value), "yes or no", "write yes or no")


def _whole(value: Any) -> int:
    if isinstance(value, int):
        return value
    if re.fullmatch(r"\d{1,6}", str(value).strip()):
        return int(value)
    raise QuantityError(_shown(value), "a whole number such as 4", "write digits only")


def _number(value: Any) -> float:
    if isinstance(value, float):
        return value
    text = str(value).strip().replace("\u2212", "-")
    if re.fullmatch(r"-?\d{1,9}(\.\d{1,9})?", text):
        return float(text)
    raise QuantityError(_shown(value), "a number such as 44.21", "write digits and a point")


def _degrees(most: int, toward: str) -> Any:
    def read(value: Any) -> float:
        degrees = _number(value)
        if abs(degrees) > most:
            raise QuantityError(
                _shown(value), f"degrees {toward}, from -{most} to {most}", "correct the number"
            )
        return degrees

    return read


if TYPE_CHECKING:  # for the type checker they are what they hold
    Date = date
    Amount = units.Quantity
    TankSize = units.Quantity
    YesNo = bool
    Whole = int
    Latitude = float
    Longitude = float
    Calendar = units.CalendarInterval
    Interval = units.Interval
    SeasonOfYear = Season
    Angle = units.Quantity
    Area = units.Quantity
    Charge = units.Quantity
    Current = units.Quantity
    Displacement = units.Quantity
    Duration = units.Quantity
    FuelRate = units.Quantity
    Gap = units.Quantity
    HeatRate = units.Quantity
    Elevation = units.Quantity
    Hours = units.Quantity
    Length = units.Quantity
    Money = units.Quantity
    Percent = units.Quantity
    Power = units.Quantity
    Pressure = units.Quantity
    SpecificGravity = units.Quantity
    Speed = units.Quantity
    Temperature = units.Quantity
    Torque = units.Quantity
    Voltage = units.Quantity
    Volume = units.Quantity
else:
    Date = _field(
        date,
        read_date,
        {
            "type": "string",
            "description": "A date: year-month-day.",
            "pattern": r"^\d{4}-\d{2}-\d{2}$",
            "examples": ["2026-03-01"],
        },
    )
    Amount = _field(
        units.Quantity,
        _amount,
        {
            "type": ["string", "integer"],
            "description": "How many, or how much with its unit.",
            "examples": ["2", "3.2 qt"],
        },
    )
    TankSize = _field(
        units.Quantity,
        _tank_size,
        {**units.schema("volume"), "examples": ["500 gal", "1200 L", "45 kg"]},
    )
    YesNo = _field(bool, _yes_no, {"description": "Yes or no.", "enum": ["yes", "no", True, False]})
    Whole = _field(
        int, _whole, {"type": ["integer", "string"], "description": "A whole number.", "minimum": 0}
    )
    Latitude = _field(
        float,
        _degrees(90, "north"),
        {
            "type": ["number", "string"],
            "description": "Degrees, -90 to 90.",
            "minimum": -90,
            "maximum": 90,
            "examples": [44.21],
        },
    )
    Longitude = _field(
        float,
        _degrees(180, "east"),
        {
            "type": ["number", "string"],
            "description": "Degrees, -180 to 180.",
            "minimum": -180,
            "maximum": 180,
            "examples": [-110.52],
        },
    )
    Calendar = _field(
        units.CalendarInterval,
        _calendar,
        {"type": "string", "description": "Calendar time.", "examples": ["24 months", "10 days"]},
    )
    Interval = _field(
        units.Interval,
        _interval,
        {
            "type": "string",
            "description": "An interval.",
            "examples": ["200 h or 24 months", "12 months", "25 h"],
        },
    )
    SeasonOfYear = _field(
        Season,
        Season.read,
        {
            "type": "string",
            "description": "A season: first day to last day.",
            "examples": ["1 May to 15 October"],
        },
    )
    Angle = quantity("angle")
    Area = quantity("area")
    Charge = quantity("charge")
    Current = quantity("current")
    Displacement = quantity("displacement")
    Duration = quantity("duration")
    FuelRate = quantity("fuel rate")
    Gap = quantity("gap")
    HeatRate = quantity("heat rate")
    Elevation = quantity("elevation")
    Hours = quantity("hours")
    Length = quantity("length")
    Money = quantity("money")
    Percent = _field(units.Quantity, _level, units.schema("percent"))
    Power = quantity("power")
    Pressure = quantity("pressure")
    SpecificGravity = quantity("specific gravity")
    Speed = quantity("speed")
    Temperature = quantity("temperature")
    Torque = quantity("torque")
    Voltage = quantity("voltage")
    Volume = quantity("volume")

Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=4000)]
Line = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=300)]
NAME = r"^[a-z0-9]+(-[a-z0-9]+)*$"
Name = Annotated[str, StringConstraints(pattern=NAME, max_length=60)]
