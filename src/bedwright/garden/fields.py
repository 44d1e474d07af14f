"""The types of the garden document's fields: quantities with units, compass words, ids."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from datetime import date
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, StringConstraints, WithJsonSchema
from pydantic_core import PydanticCustomError

from bedwright.units import Quantity, UnitError, kind, parse

_EXAMPLES = {
    "length": ["50 ft", "15 m"],
    "area": ["400 ft2", "40 m2"],
    "depth": ["6 in", "15 cm"],
    "mass": ["50 lb", "2 lb 4 oz", "25 kg"],
    "mass_per_area": ["2 lb/100 ft2", "1.5 t/ha"],
    "density": ["1.3 kg/l", "0.3 lb/cup"],
    "money": ["32.50 USD"],
    "fraction": ["12 %"],
    "ratio": ["2 %"],
    "volume": ["5 gal"],
    "angle": ["20 deg"],
    "conductivity": ["4 dS/m"],
    "flow": ["6 gal/min", "0.5 gal/h", "2 l/h"],
    "pressure": ["10 psi", "70 kPa"],
    "time": ["2 min"],
    "money_per_volume": ["4 USD/1000 gal", "2.50 EUR/m3"],
}


_MOST = {  # SI; no garden needs more: judgement
    "length": 1e4,
    "area": 1e7,
    "depth": 10.0,
    "mass": 1e6,
    "mass_per_area": 1e3,
    "density": 1e4,
    "money": 1e9,
    "fraction": 2.0,
    "ratio": 10.0,
    "volume": 1e4,
    "angle": 7.0,
    "conductivity": 20.0,
    "flow": 1.0,
    "pressure": 2e6,
    "time": 86400.0,
    "money_per_volume": 1e4,
}


def wrong(problem: str, remedy: str = "") -> PydanticCustomError:
    """A fault raised while a field is read."""
    return PydanticCustomError("wrong", "{problem}", {"problem": problem, "remedy": remedy})


def read_quantity(value: Any, kinds: tuple[str, ...]) -> Quantity:
    """Read text as a quantity of one of the kinds. Raises a fault that names units that fit."""
    fits = tuple(unit for each in kinds for unit in kind(each).fits)
    hint = f"Units that fit: {', '.join(fits)}."
    if isinstance(value, Quantity):
        return value
    if isinstance(value, bool) or not isinstance(value, str):
        if isinstance(value, int | float) and not isinstance(value, bool):
            raise wrong(
                f"{value} has no unit, and {kind(kinds[0]).words} needs one",
                f'Write it as text with its unit, such as "{value} {fits[0]}". {hint}',
            )
        raise wrong(f"{value!r} is not {kind(kinds[0]).words}", hint)
    problems = []
    for each in kinds:
        try:
            return parse(value, each)
        except UnitError as error:
            problems.append(error.problem)
    raise wrong(problems[0], hint)


def _reader(*kinds: str, above: float | None, at_least: float | None) -> Callable[[Any], Quantity]:
    def read(value: Any) -> Quantity:
        quantity = read_quantity(value, kinds)
        if above is not None and quantity.si <= above:
            raise wrong(f"{quantity.text!r} must be more than {above:g}")
        if at_least is not None and quantity.si < at_least:
            raise wrong(f"{quantity.text!r} must not be less than {at_least:g}")
        if abs(quantity.si) > _MOST[quantity.kind]:
            raise wrong(f"{quantity.text!r} is more than a garden can hold")
        return quantity

    return read


def _field(
    *kinds: str,
    above: float | None = None,
    at_least: float | None = None,
    also: Callable[[Quantity], Quantity] = lambda quantity: quantity,
) -> Any:
    schema = {
        "type": "string",
        "description": f"{kind(kinds[0]).words} with its unit",
        "examples": [example for each in kinds for example in _EXAMPLES.get(each, [])],
    }
    reader = _reader(*kinds, above=above, at_least=at_least)
    return Annotated[
        Quantity, BeforeValidator(reader), AfterValidator(also), WithJsonSchema(schema)
    ]


_EIGHT = {"N": 0, "NE": 45, "E": 90, "SE": 135, "S": 180, "SW": 225, "W": 270, "NW": 315}


def _read_axis(value: Any) -> Quantity:
    """The direction of a bed's long axis, clockwise from north, 0 to below 180 degrees."""
    if isinstance(value, str):
        ends = [end.strip().upper() for end in value.split("-")]
        if len(ends) == 2 and all(end in _EIGHT for end in ends):
            first, second = (_EIGHT[end] for end in ends)
            if (first - second) % 180 == 0 and first != second:
                return Quantity(math.radians(first % 180), "angle", value)
            raise wrong(f"{value!r} does not name two opposite directions", 'Such as "N-S".')
        if value.lstrip().startswith("-") or re.match(r"\s*[\d.]", value):
            quantity = read_quantity(value, ("angle",))
            return Quantity(quantity.si % math.pi, "angle", value)
    raise wrong(f"{value!r} is not a direction", 'Write "N-S", "NE-SW", "E-W" or "20 deg".')


def _coordinate(ends: str, most: float) -> Callable[[Any], Quantity]:
    def read(value: Any) -> Quantity:
        remedy = f'Write it like "34.5 {ends[0]}" or "-34.5 deg".'
        if not isinstance(value, str):
            raise wrong(f"{value!r} is not text with a direction", remedy)
        found = re.fullmatch(rf"\s*(\d+(?:\.\d+)?)\s*°?\s*([{ends}])\s*", value)
        if found:
            degrees = float(found[1]) * (-1 if found[2] == ends[1] else 1)
        elif re.fullmatch(r"\s*[+-]?\d+(\.\d+)?\s*(deg|°|degrees?)\s*", value):
            degrees = math.degrees(parse(value, "angle").si)
        else:
            raise wrong(f"{value!r} is not a position", remedy)
        if abs(degrees) > most:
            raise wrong(f"{value!r} lies beyond {most:g} degrees", remedy)
        return Quantity(math.radians(degrees), "angle", value)

    return read


def _coordinate_field(ends: str, most: float) -> Any:
    schema = {"type": "string", "examples": [f"34.5 {ends[0]}", f"34.5 {ends[1]}"]}
    return Annotated[Quantity, BeforeValidator(_coordinate(ends, most)), WithJsonSchema(schema)]


def _read_years_of_ten(value: Any) -> int:
    found = re.fullmatch(r"\s*(\d+)\s+years?\s+(?:of|in)\s+(?:10|ten)\s*", str(value))
    if not found or not 0 <= int(found[1]) <= 10:
        raise wrong(f"{value!r} is not a risk", 'Write it like "2 years of 10".')
    return int(found[1])


def _read_date(value: Any) -> date:
    if isinstance(value, date) and type(value) is date:
        return value
    if isinstance(value, str):
        try:
            return date.fromisoformat(value)
        except ValueError:
            pass
    raise wrong(f"{value!r} is not a date", "Write it as 2026-04-30, without quotes.")


def _read_day_of_year(value: Any) -> tuple[int, int]:
    """A day of every year, as month and day."""
    found = re.fullmatch(r"\s*(\d{1,2})-(\d{1,2})\s*", value) if isinstance(value, str) else None
    if found:
        try:
            day = date(2001, int(found[1]), int(found[2]))  # no leap year: 29 February is no day
            return day.month, day.day
        except ValueError:
            pass
    raise wrong(f"{value!r} is not a day of the year", 'Month and day, such as "07-01".')


def _of_a_garden(elevation: Quantity) -> Quantity:
    if not -500 <= elevation.si <= 5500:  # m: where the formulas for the air's pressure hold
        raise wrong(
            f"no garden lies at {elevation.text}",
            "It must lie from -1640 ft to 18000 ft (-500 m to 5500 m).",
        )
    return elevation


Length = _field("length", above=0)
Area = _field("area", above=0)
Depth = _field("depth", at_least=0)
Corner = _field("length")
Elevation = _field("length", also=_of_a_garden)
Slope = _field("ratio", at_least=0)
Density = _field("density", above=0)
Mass = _field("mass", above=0)
Package = _field("mass", "volume", above=0)
OnHand = _field("mass", "volume", at_least=0)
Conductivity = _field("conductivity", at_least=0)
Amount = _field("mass", "volume", "mass_per_area", "depth", above=0)
Yield = _field("mass_per_area", "mass", above=0)
MassPerArea = _field("mass_per_area", above=0)
Money = _field("money", at_least=0)
Share = _field("fraction", at_least=0)
CupWeight = _field("mass", above=0)
Flow = _field("flow", above=0)
Pressure = _field("pressure", above=0)
Tension = _field("pressure", at_least=0)
Minutes = _field("time", above=0)
Volume = _field("volume", at_least=0)
WaterPrice = _field("money_per_volume", at_least=0)
Direction = Annotated[
    Quantity,
    BeforeValidator(_read_axis),
    WithJsonSchema({"type": "string", "examples": ["N-S", "NE-SW", "20 deg"]}),
]
Latitude = _coordinate_field("NS", 90)
Longitude = _coordinate_field("EW", 180)
YearsOfTen = Annotated[
    int,
    BeforeValidator(_read_years_of_ten),
    WithJsonSchema({"type": "string", "examples": ["2 years of 10"]}),
]
DayOfYear = Annotated[
    tuple[int, int],
    BeforeValidator(_read_day_of_year),
    WithJsonSchema({"type": "string", "examples": ["07-01"]}),
]
Day = Annotated[
    date, BeforeValidator(_read_date), WithJsonSchema({"type": "string", "format": "date"})
]
Identifier = Annotated[
    str,
    StringConstraints(
        strip_whitespace=True, min_length=1, max_length=40, pattern=r"^[^\n\r\t/\\]+$"
    ),
]
Words = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=500)]
