"""What the gardener states of the weather: a station's file, or monthly statistics."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated, Any, Literal, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StrictInt,
    WithJsonSchema,
    field_validator,
    model_validator,
)

from bedwright.garden import fields as f
from bedwright.garden.fields import read_quantity, wrong
from bedwright.garden.model_climate import Year, of_twelve
from bedwright.units import Quantity

_MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_MOST_SPREAD_K = 25.0  # no month's days spread more: judgement
_MOST_RAIN_M = 3.0  # no month's mean is more: judgement
_MOST_RADIATION = 45.0  # MJ/m2 a day: more than reaches the top of the air anywhere
_COLDEST_K, _HOTTEST_K = 193.15, 323.15  # -80 and 50 C: no night's minimum lies outside
_RADIATION_UNITS = {"MJ/m2": 1.0, "kWh/m2": 3.6, "W/m2": 0.0864}  # MJ/m2 in a day


def _spread(value: Any) -> Quantity:
    quantity = read_quantity(value, ("temperature_difference",))
    if not 0 < quantity.si <= _MOST_SPREAD_K:
        raise wrong(
            f"{quantity.text!r} is not the spread of a month's days",
            "It must be more than 0 and at most 45 F (25 C).",
        )
    return quantity


def _rain(value: Any) -> Quantity:
    quantity = read_quantity(value, ("depth",))
    if not 0 <= quantity.si <= _MOST_RAIN_M:
        raise wrong(f"{quantity.text!r} is not the rain of a month", "At most 118 in (3 m).")
    return quantity


def _minimum(value: Any) -> Quantity:
    quantity = read_quantity(value, ("temperature",))
    if not _COLDEST_K <= quantity.si <= _HOTTEST_K:
        raise wrong(
            f"{quantity.text!r} is not a night's minimum",
            "It must lie from -112 F to 122 F (-80 C to 50 C).",
        )
    return quantity


def _radiation(value: Any) -> float:
    """Radiation of a mean day [MJ/m2]."""
    units = "|".join(re.escape(each) for each in _RADIATION_UNITS)
    found = re.fullmatch(rf"\s*(\d+(?:\.\d+)?)\s*({units})\s*", str(value))
    if not isinstance(value, str) or found is None:
        raise wrong(
            f"{value!r} is not the sun of a day", f"Units that fit: {', '.join(_RADIATION_UNITS)}."
        )
    amount = float(found[1]) * _RADIATION_UNITS[found[2]]
    if amount > _MOST_RADIATION:
        raise wrong(f"{value!r} is more than reaches the ground", "At most 45 MJ/m2 a day.")
    return amount


def _quantity(reader: Callable[[Any], Any], example: str, words: str) -> Any:
    schema = {"type": "string", "description": words, "examples": [example]}
    return BeforeValidator(reader), WithJsonSchema(schema)


_Spread = Annotated[Quantity, *_quantity(_spread, "8 F", "a temperature difference")]
_Rain = Annotated[Quantity, *_quantity(_rain, "26 mm", "a depth with its unit")]
_Radiation = Annotated[float, *_quantity(_radiation, "18.5 MJ/m2", "the sun of a mean day")]
Minimum = Annotated[Quantity, *_quantity(_minimum, "31 F", "a temperature with its unit")]
_OfTwelve = of_twelve("figure")
_Spreads = Annotated[list[_Spread], *_OfTwelve]
_Rains = Annotated[list[_Rain], *_OfTwelve]
_Radiations = Annotated[list[_Radiation], *_OfTwelve]
_Days = Annotated[list[Annotated[float, Field(ge=0, le=31)]], *_OfTwelve]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


class Reading(_Part):
    """A night's minimum of the gardener's own thermometer, by the day on which it was read."""

    on: f.Day
    minimum: Minimum


class Monthly(_Part):
    """Monthly statistics, January to December, of which invented years of days are made.

    ``t_max`` and ``t_min`` are means of the days' extremes, ``_sd`` how much days differ from
    them, ``rain`` the month's, ``wet_days`` how many days bring it, ``radiation`` of a mean day.
    """

    t_max: Year
    t_min: Year
    t_max_sd: _Spreads | None = None
    t_min_sd: _Spreads | None = None
    rain: _Rains | None = None
    wet_days: _Days | None = None
    radiation: _Radiations | None = None
    years: StrictInt = Field(default=60, ge=10, le=200)
    seed: StrictInt = Field(default=1, ge=0, le=1_000_000)

    @field_validator("wet_days", mode="after")
    @classmethod
    def _days_of_the_month(cls, value: list[float] | None) -> list[float] | None:
        for month, (days, most) in enumerate(zip(value or [], _MONTH_DAYS, strict=False), 1):
            if days > most:
                raise wrong(f"month {month} has {days:g} wet days", f"It has {most} days in all.")
        return value

    @model_validator(mode="after")
    def _months_agree(self) -> Self:
        for month, (high, low) in enumerate(zip(self.t_max, self.t_min, strict=True), 1):
            if low.si > high.si:
                raise wrong(
                    f"t_min of month {month}, {low.text}, is above its t_max, {high.text}",
                    "Turn them round.",
                )
        if (self.rain is None) != (self.wet_days is None):
            raise wrong(
                "rain and wet_days go together, and one of them is missing", "Give both, or none."
            )
        for month, (rain, days) in enumerate(
            zip(self.rain or [], self.wet_days or [], strict=False), 1
        ):
            if (rain.si > 0) != (days > 0):
                raise wrong(
                    f"month {month} has rain without wet days, or wet days without rain",
                    "Give 0 for both, or for none.",
                )
        return self


class Weather(_Part):
    """The days behind every date: a station's file beside the document, or monthly statistics.

    ``units`` are those of a file that doesn't say; ``reading`` are nights of the gardener's own
    thermometer, by which the station's nights are brought to the garden.
    """

    file: f.Words | None = None
    units: Literal["tenths", "metric", "standard"] | None = None
    reading: list[Reading] = []
    monthly: Monthly | None = None
    note: f.Words | None = None

    @model_validator(mode="after")
    def _file_or_months(self) -> Self:
        if (self.file is None) == (self.monthly is None):
            both = self.file is not None
            raise wrong(
                "weather has both a file and monthly statistics"
                if both
                else "weather has neither a file nor monthly statistics",
                "Give file, or [weather.monthly].",
            )
        if self.file is None and (self.units is not None or self.reading):
            what = "units" if self.units is not None else "reading"
            raise wrong(
                f"{what} belongs to a station's file, and there is none",
                "Leave it out, or give file.",
            )
        seen = set()
        for each in self.reading:
            if each.on in seen:
                raise wrong(f"there are two readings of {each.on}", "Keep one.")
            seen.add(each.on)
        return self
