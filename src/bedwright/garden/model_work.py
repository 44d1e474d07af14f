"""What the gardener states of the work: the hours there are, own times, what is done already."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import Annotated, Any, Literal, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    WithJsonSchema,
    model_validator,
)

from bedwright.garden import fields as f
from bedwright.garden.fields import wrong

# Twenty people for forty hours: more is a typing error.
Hours = Annotated[float, Field(ge=0, le=800, allow_inf_nan=False)]
# What a time may be told for, by the measure that the table of labor counts the task in.
MEASURES: Mapping[str, str] = MappingProxyType(
    {"m2": "area", "m": "length", "kg": "mass", "m3": "volume"}
)

_AMOUNTS = ("area", "length", "mass", "volume", "count")


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


def _read_edge(value: Any) -> Any:
    """A day of one year, or a day of every year such as "07-01" as month and day."""
    if isinstance(value, date | tuple):
        return value
    found = re.fullmatch(r"\s*(\d{4}-)?(\d{1,2})-(\d{1,2})\s*", str(value))
    if found:
        try:
            year = int(found[1][:-1]) if found[1] else 2001  # no leap year
            day = date(year, int(found[2]), int(found[3]))
            return day if found[1] else (day.month, day.day)
        except ValueError:
            pass
    raise wrong(f"{value!r} is not a day", 'Such as "07-01" for every year, or 2027-07-01.')


Edge = Annotated[
    date | tuple[int, int],
    BeforeValidator(_read_edge),
    WithJsonSchema({"type": "string", "examples": ["07-01", "2027-07-10"]}),
]


class OtherHours(_Part):
    """A time in which there are other hours than usual: of one year, or of every year."""

    first: Edge
    last: Edge
    hours_per_week: Hours

    @model_validator(mode="after")
    def _edges_agree(self) -> Self:
        if isinstance(self.first, date) != isinstance(self.last, date):
            raise wrong(
                "first is a day of one year and last one of every year, or the other way round",
                'Such as first = "07-01" and last = "07-31".',
            )
        if isinstance(self.first, date) and self.last < self.first:  # type: ignore[operator]
            raise wrong(f"last, {self.last}, lies before first, {self.first}", "Turn them round.")
        return self

    def holds_on(self, day: date) -> bool:
        """Whether a day lies in this time; one of every year may run over the new year."""
        if isinstance(self.first, date):
            return self.first <= day <= self.last  # type: ignore[operator]
        begin, end = self.first, self.last
        at = (day.month, day.day)
        if begin <= end:  # type: ignore[operator]
            return begin <= at <= end  # type: ignore[operator]
        return at >= begin or at <= end  # type: ignore[operator]


class Work(_Part):
    """The hours, hands and benches there are, and with what is worked.

    ``hours_per_week`` are of all people together.
    """

    hours_per_week: Hours | None = None
    other_hours: list[OtherHours] = []
    people: int = Field(default=1, ge=1, le=100)
    bench_trays: int | None = Field(default=None, ge=1, le=10_000)
    tray_cells: int | None = Field(default=None, ge=1, le=1000)
    tools: list[Literal["broadfork", "wheel hoe"]] = []
    market_hours: Hours | None = None
    note: f.Words | None = None

    @model_validator(mode="after")
    def _usual_hours_stand(self) -> Self:
        if self.other_hours and self.hours_per_week is None:
            raise wrong("there are other_hours but no usual ones", "Such as hours_per_week = 16.")
        return self


class LaborTime(_Part):
    """The gardener's own time for a task: it replaces the table's.

    Where ``timed`` says how often the clock was looked at, it is weighed beside the table's.
    """

    task: f.Identifier
    method: f.Identifier | None = None
    time: f.Minutes
    area: f.Area | None = None
    length: f.Length | None = None
    mass: f.Mass | None = None
    volume: f.Volume | None = None
    count: int | None = Field(default=None, ge=1, le=1_000_000)
    timed: int | None = Field(default=None, ge=1, le=1000)
    note: f.Words | None = None

    @model_validator(mode="after")
    def _one_measure(self) -> Self:
        given = [name for name in _AMOUNTS if getattr(self, name) is not None]
        if len(given) != 1 or self.amount <= 0:
            raise wrong(
                "a time needs one of area, length, mass, volume and count",
                'Such as time = "45 min" and area = "200 ft2".',
            )
        return self

    @property
    def measure(self) -> str:
        """Which of the measures is given."""
        return next(name for name in _AMOUNTS if getattr(self, name) is not None)

    @property
    def amount(self) -> float:
        """How much the time is for [m2, m, kg, m3 or a count]."""
        value = getattr(self, self.measure)
        return float(value if self.measure == "count" else value.si)


class LaborDone(_Part):
    """A task that is done: kept when the rest is planned anew."""

    task: f.Identifier
    bed: f.Identifier | None = None
    crop: f.Identifier | None = None
    on: f.Day
    note: f.Words | None = None


class ForkTest(_Part):
    """What a fork or spade found in a bed: whether it needs loosening."""

    bed: f.Identifier
    on: f.Day
    found: Literal["loose", "firm", "pan"]
    note: f.Words | None = None
