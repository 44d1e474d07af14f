"""What the gardener states of the years ahead: wishes, pins, intervals, weights, own crops."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StrictBool,
    StringConstraints,
    WithJsonSchema,
    model_validator,
)

from bedwright.garden import fields as f
from bedwright.garden.fields import wrong
from bedwright.units import Quantity

Turn = Literal["spring", "late summer"]
Year = Annotated[int, Field(ge=1900, le=2200)]
# 30 full years is the longest that a soil-borne fungus is said to last: more is a typing error.
Interval = Annotated[int, Field(ge=0, le=30)]
Weight = Annotated[float, Field(ge=0, le=1000, allow_inf_nan=False)]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


def _read_unit_of_sale(value: Any) -> Any:
    """A mass such as "1 lb", or the word for a piece, such as "bunch"."""
    if isinstance(value, str) and value.strip()[:1].isdigit():
        return f.read_quantity(value, ("mass",))
    return value


UnitOfSale = Annotated[
    Quantity | Annotated[str, StringConstraints(pattern=r"^[a-z][a-z ]{0,30}$")],
    BeforeValidator(_read_unit_of_sale),
    WithJsonSchema({"type": "string", "examples": ["1 lb", "bunch", "head", "each"]}),
]


class OwnCrop(_Part):
    """A crop or cultivar of the gardener's own, or facts that outrank the tables' for a crop."""

    crop: f.Identifier
    like: f.Identifier | None = None
    name: f.Words | None = None
    days_to_maturity: int | None = Field(default=None, ge=10, le=400)
    spacing_in_row: f.Length | None = None
    spacing_between_rows: f.Length | None = None
    sowing_depth: f.Depth | None = None
    height: f.Length | None = None
    daily_light: float | None = Field(default=None, gt=0, le=70)
    trellis: Literal["none", "stake", "trellis"] | None = None
    bulbs_in: Literal["short", "intermediate", "long"] | None = None
    price: f.Money | None = None
    per: UnitOfSale | None = None
    note: f.Words | None = None

    @model_validator(mode="after")
    def _price_says_of_what(self) -> Self:
        if (self.price is None) != (self.per is None):
            raise wrong(
                "price and per belong together", 'Such as price = "3.50 USD" and per = "1 lb".'
            )
        return self


class Wish(_Part):
    """How much of a crop the gardener would like, wherever it may stand.

    One of ``beds``, ``area`` and ``a_week`` says how much: beds a year, area a year, or what the
    stall wants each week from ``from_day`` to ``to_day``.
    """

    crop: f.Identifier
    beds: float | None = Field(default=None, gt=0, le=1000, allow_inf_nan=False)
    area: f.Area | None = None
    a_week: f.Mass | None = None
    from_day: f.DayOfYear | None = None
    to_day: f.DayOfYear | None = None
    turn: Turn | None = None
    years: list[Year] | None = Field(default=None, min_length=1)
    must: StrictBool = False
    weight: Weight | None = None
    note: f.Words | None = None

    @model_validator(mode="after")
    def _says_how_much(self) -> Self:
        stated = [each for each in (self.beds, self.area, self.a_week) if each is not None]
        if len(stated) != 1:
            raise wrong(
                "a wish needs one of beds, area and a_week",
                'Such as beds = 3, area = "400 ft2" or a_week = "20 lb".',
            )
        if self.a_week is not None and (self.from_day is None or self.to_day is None):
            raise wrong(
                "a_week without from_day and to_day",
                'Such as from_day = "07-01" and to_day = "09-30".',
            )
        if self.a_week is None and (self.from_day is not None or self.to_day is not None):
            raise wrong("from_day and to_day belong to a_week", "Leave them out.")
        return self


class Pin(_Part):
    """A crop that the gardener has settled for a bed, or a bed kept free of any.

    ``year`` is that of the harvest, ``set_out`` the day on which it is planted.
    """

    bed: f.Identifier
    part: int | None = Field(default=None, ge=1, le=12)
    crop: f.Identifier | None = None
    year: Year
    turn: Turn | None = None
    set_out: f.Day | None = None
    note: f.Words | None = None

    @model_validator(mode="after")
    def _day_of_a_crop(self) -> Self:
        if self.set_out is None:
            return self
        if self.crop is None:
            raise wrong("set_out belongs to a crop", "Say which crop, or leave set_out out.")
        if not self.year - 1 <= self.set_out.year <= self.year:
            raise wrong(
                f"set_out {self.set_out} does not lead to a harvest of {self.year}",
                "year is that of the harvest: the year of set_out, or the one after it.",
            )
        return self


class BedProblem(_Part):
    """A soil-borne disease or pest that has been found in beds."""

    problem: f.Identifier
    beds: list[f.Identifier] = Field(min_length=1)
    found: Year
    note: f.Words | None = None


class Weights(_Part):
    """What counts how much where not all can be had; 0 leaves it out.

    ``wishes`` is for a bed's worth of a wish that is not met; the others for a planting that is
    well or badly placed.
    """

    wishes: Weight = 10.0
    feeders: Weight = 1.0
    roots: Weight = 0.0
    groups: Weight = 0.0
    income: Weight = 0.0
    near: Weight = 1.0
    rest: Weight = 0.5
    salt: Weight = 2.0
    unchanged: Weight = 3.0


class Rotation(_Part):
    """How the years ahead are to be planned."""

    first_year: Year | None = None
    years: int = Field(default=3, ge=1, le=8)
    years_away: Interval = 3
    away: dict[f.Words, Interval] = {}
    turnover_days: int = Field(default=7, ge=0, le=90)
    gap: f.Share = Quantity(0.01, "fraction", "1 %")
    most_seconds: int | None = Field(default=None, ge=1, le=3600)
    neighbors_apart: StrictBool = False
    weights: Weights = Weights()
    note: f.Words | None = None
