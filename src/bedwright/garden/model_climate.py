"""What the gardener states of soil warmth and of watering, until records take their place."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    WithJsonSchema,
    field_validator,
    model_validator,
)

from bedwright.garden import fields as f
from bedwright.garden.fields import read_quantity, wrong
from bedwright.garden.model_water import Mulch, Spell
from bedwright.units import Quantity

_COLDEST_K, _HOTTEST_K = 233.15, 333.15  # -40 and 60 C: no month's mean lies outside
_MONTHS = 12


def _read_temperature(value: Any) -> Quantity:
    quantity = read_quantity(value, ("temperature",))
    if not _COLDEST_K <= quantity.si <= _HOTTEST_K:
        raise wrong(
            f"{quantity.text!r} is not the mean of a month",
            "It must lie from -40 F to 140 F (-40 C to 60 C).",
        )
    return quantity


def of_twelve(what: str) -> tuple[Any, BeforeValidator]:
    """What a list of a year's months must be; ``what`` each month gives."""

    def read(value: Any) -> Any:
        if isinstance(value, list) and len(value) != _MONTHS:
            raise wrong(
                f"a year has {_MONTHS} months, and there are {len(value)} here",
                f"Give each month's {what}, January to December.",
            )
        return value

    return Field(min_length=_MONTHS, max_length=_MONTHS), BeforeValidator(read)


Temperature = Annotated[
    Quantity,
    BeforeValidator(_read_temperature),
    WithJsonSchema({"type": "string", "description": "a temperature with its unit",
                    "examples": ["52 F", "11 C"]}),
]  # fmt: skip
Year = Annotated[list[Temperature], *of_twelve("mean")]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


class Climate(_Part):
    """Monthly means, January to December, whatever the hemisphere.

    Soil temperature is that of the worked layer, about 4 in deep. Air temperature is used, with
    a stated assumption, where the soil's is not known.
    """

    soil_temperature: Year | None = None
    air_temperature: Year | None = None
    note: f.Words | None = None

    @model_validator(mode="after")
    def _has_one(self) -> Self:
        if self.soil_temperature is None and self.air_temperature is None:
            raise wrong(
                "no temperature is given",
                "Give soil_temperature or air_temperature, twelve monthly means.",
            )
        return self


class Watering(_Part):
    """How the beds are watered: by drip, which leaves part of a bed dry, or all over.

    ``wetted_share`` is the share of a bed that drip keeps moist; ``weekly_drainage`` the depth
    of water that leaves the roots downward in a week of watering; ``flow`` what the tap or the
    well gives; ``hours`` when lines may run; ``price`` of the water; ``mulch`` on all beds that
    state no other.
    """

    method: Literal["drip", "overhead"]
    wetted_share: f.Share | None = None
    weekly_drainage: f.Depth | None = None
    flow: f.Flow | None = None
    hours: list[Spell] | None = Field(default=None, min_length=1, max_length=4)
    price: f.WaterPrice | None = None
    mulch: Mulch | None = None
    note: f.Words | None = None

    @field_validator("wetted_share")
    @classmethod
    def _share_of_a_bed(cls, value: Quantity | None) -> Quantity | None:
        if value is not None and not 0 < value.si <= 1:
            raise wrong(f"a wetted share of {value.text!r}", "Give more than 0, at most 100 %.")
        return value

    @field_validator("hours")
    @classmethod
    def _in_order_and_apart(
        cls, value: list[tuple[float, float]] | None
    ) -> list[tuple[float, float]] | None:
        ends = [end for spell in value or [] for end in spell]
        if ends != sorted(ends):
            raise wrong("the hours overlap or are out of order", "Give them from morning on.")
        return value

    @model_validator(mode="after")
    def _share_goes_with_drip(self) -> Self:
        if self.wetted_share is not None and self.method == "overhead":
            raise wrong(
                "a wetted_share where watering is overhead, which wets all of a bed",
                'Leave it out, or write method = "drip".',
            )
        return self
