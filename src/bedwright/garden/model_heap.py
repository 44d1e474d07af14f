"""The compost heap in the garden document: what there is, what was read, what a lab found."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema, model_validator

from bedwright.garden import fields as f
from bedwright.garden.fields import wrong
from bedwright.units import Quantity


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


def _read_temperature(value: Any) -> Quantity:
    quantity = f.read_quantity(value, ("temperature",))
    if not 250 <= quantity.si <= 400:
        raise wrong(
            f"{quantity.text!r} is not the temperature of a heap", 'Such as "140 F" or "60 C".'
        )
    return quantity


def _read_conductivity(value: Any) -> Quantity:
    quantity = f.read_quantity(value, ("conductivity",))
    if not 0 <= quantity.si <= 10:
        raise wrong(f"{quantity.text!r} is not the conductivity of a compost", 'Such as "7 dS/m".')
    return quantity


Temperature = Annotated[
    Quantity,
    BeforeValidator(_read_temperature),
    WithJsonSchema({"type": "string", "examples": ["140 F", "60 C"]}),
]
Conductivity = Annotated[
    Quantity,
    BeforeValidator(_read_conductivity),
    WithJsonSchema({"type": "string", "examples": ["7 dS/m"]}),
]


class Feedstock(_Part):
    """Something that may go on the heap, with what is known of it beyond the tables."""

    feedstock: f.Identifier
    on_hand: f.Mass
    moisture: f.Share | None = None
    nitrogen: f.Share | None = None
    carbon: f.Share | None = None
    origin: Literal["own", "known", "unknown"] = "unknown"
    note: f.Words | None = None


class HeapReading(_Part):
    """One reading of a heap's temperature."""

    on: f.Day
    temperature: Temperature


class CompostReport(_Part):
    """A laboratory's report on a compost; contents are of the dry matter.

    ``respiration`` is mg of carbon, as carbon dioxide, for each g of organic matter a day.
    """

    id: f.Identifier
    material: f.Identifier | None = None
    sampled: f.Day | None = None
    ec: Conductivity | None = None
    sodium: f.Share | None = None
    chloride: f.Share | None = None
    boron: f.Share | None = None
    boron_hot_water: f.Share | None = None
    ph: float | None = Field(default=None, ge=3, le=11)
    c_to_n: float | None = Field(default=None, gt=0, le=1000)
    ammonium_n: f.Share | None = None
    nitrate_n: f.Share | None = None
    germination: f.Share | None = None
    respiration: float | None = Field(default=None, ge=0, le=1000)
    note: f.Words | None = None


class Heap(_Part):
    """A compost heap: what it is or will be made of, and how hot it was."""

    id: f.Identifier
    system: Literal["in-vessel", "static aerated", "windrow", "passive"] = "windrow"
    built: f.Day | None = None
    feedstocks: list[Feedstock] = []
    wanted: f.Mass | None = None
    readings: list[HeapReading] = []
    turned: list[f.Day] = []
    note: f.Words | None = None

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        names = [each.feedstock.casefold() for each in self.feedstocks]
        twice = {name for name in names if names.count(name) > 1}
        if twice:
            raise wrong(
                f"the feedstock {sorted(twice)[0]!r} stands twice", "Add the amounts up in one."
            )
        days = (*self.turned, *(each.on for each in self.readings))
        early = [day for day in days if self.built is not None and day < self.built]
        if early:
            raise wrong(
                f"{min(early)} lies before the heap was built, on {self.built}",
                "Correct the reading, the turning or built.",
            )
        return self
