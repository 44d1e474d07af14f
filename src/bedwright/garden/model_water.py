"""What the gardener states of lines on the beds, and reads off gauge, thermometer and soil."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StrictBool,
    WithJsonSchema,
    field_validator,
    model_validator,
)

from bedwright.garden import fields as f
from bedwright.garden.fields import read_quantity, wrong
from bedwright.units import Quantity

_COLDEST_K, _HOTTEST_K = 223.15, 333.15  # -50 and 60 C: no day was colder or hotter
_MOST_RAIN_M = 1.0  # in a day: more than any gauge holds
_DAY_MINUTES = 24 * 60
_CUPS = 4  # of a quarter one cup must remain


def _read_spell(value: Any) -> tuple[float, float]:
    """A spell of the day, as minutes after midnight."""
    remedy = 'Such as ["05:00", "10:00"].'
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise wrong(f"{value!r} is not a spell of the day", remedy)
    start, end = (_minutes(each, remedy) for each in value)
    if end <= start:
        raise wrong(f"the hours from {value[0]} to {value[1]} end before they begin", remedy)
    return start, end


def _minutes(value: Any, remedy: str) -> float:
    found = re.fullmatch(r"\s*(\d{1,2}):(\d{2})\s*", value) if isinstance(value, str) else None
    if found is None or int(found[2]) >= 60 or int(found[1]) * 60 + int(found[2]) > _DAY_MINUTES:
        raise wrong(f"{value!r} is not an hour of the day", remedy)
    return float(int(found[1]) * 60 + int(found[2]))


def _read_temperature(value: Any) -> Quantity:
    quantity = read_quantity(value, ("temperature",))
    if not _COLDEST_K <= quantity.si <= _HOTTEST_K:
        raise wrong(
            f"{quantity.text!r} is not the air of a day",
            "It must lie from -58 F to 140 F (-50 C to 60 C).",
        )
    return quantity


def _read_rain(value: Any) -> Quantity:
    quantity = read_quantity(value, ("depth",))
    if not 0 <= quantity.si <= _MOST_RAIN_M:
        raise wrong(f"{quantity.text!r} is not the rain of a day", "It must lie from 0 to 40 in.")
    return quantity


Spell = Annotated[
    tuple[float, float],
    BeforeValidator(_read_spell),
    WithJsonSchema({"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2,
                    "examples": [["05:00", "10:00"]]}),
]  # fmt: skip
_Air = Annotated[
    Quantity,
    BeforeValidator(_read_temperature),
    WithJsonSchema({"type": "string", "description": "a temperature with its unit",
                    "examples": ["95 F", "35 C"]}),
]  # fmt: skip
_Rain = Annotated[
    Quantity,
    BeforeValidator(_read_rain),
    WithJsonSchema({"type": "string", "description": "a depth with its unit",
                    "examples": ["0.5 in", "12 mm"]}),
]  # fmt: skip


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


class CatchCups(_Part):
    """Cups set under single emitters for a while, and what each caught."""

    time: f.Minutes
    caught: list[f.Volume] = Field(min_length=_CUPS, max_length=1000)

    @field_validator("caught")
    @classmethod
    def _some_water(cls, value: list[Quantity]) -> list[Quantity]:
        if not any(each.si > 0 for each in value):
            raise wrong("all cups were empty", "Set them under emitters while the line runs.")
        return value


class Mulch(_Part):
    """What covers a bed: ``cover`` is the share of the bed under it.

    Without ``laid`` it lies from planting, without ``lifted`` to the last harvest.
    """

    of: Literal["straw", "hay", "leaves", "grass", "compost", "wood chips", "plastic"]
    cover: f.Share | None = None
    laid: f.Day | None = None
    lifted: f.Day | None = None
    note: f.Words | None = None

    @field_validator("cover")
    @classmethod
    def _share_of_the_bed(cls, value: Quantity | None) -> Quantity | None:
        if value is not None and not 0 < value.si <= 1:
            raise wrong(f"a mulch over {value.text!r} of a bed", "Give more than 0, at most 100 %.")
        return value

    @model_validator(mode="after")
    def _lifted_after_it_is_laid(self) -> Self:
        if self.laid is not None and self.lifted is not None and self.lifted <= self.laid:
            raise wrong(f"the mulch is lifted on {self.lifted}, not after it is laid",
                        "Correct one of the days.")  # fmt: skip
        return self


class WaterZone(_Part):
    """The lines on one valve; ``id`` is the ``water_zone`` of its beds.

    Without ``lines`` (on each bed) or ``line_spacing`` a line lies along every row. ``flow`` is
    that of the whole zone, by a meter or bucket: it outranks emitters.
    """

    id: f.Identifier
    lines: int | None = Field(default=None, ge=1, le=20)
    line_spacing: f.Length | None = None
    emitter_flow: f.Flow | None = None
    emitter_spacing: f.Length | None = None
    rated_pressure: f.Pressure | None = None
    pressure: f.Pressure | None = None
    uniformity: f.Share | None = None
    catch_cups: CatchCups | None = None
    flow: f.Flow | None = None
    drinking_supply: StrictBool | None = None
    note: f.Words | None = None

    @field_validator("uniformity")
    @classmethod
    def _share_of_the_mean(cls, value: Quantity | None) -> Quantity | None:
        if value is not None and not 0.2 <= value.si <= 1:
            raise wrong(f"a uniformity of {value.text!r}", "Give from 20 % to 100 %.")
        return value

    @model_validator(mode="after")
    def _lines_are_told_once(self) -> Self:
        if self.lines is not None and self.line_spacing is not None:
            raise wrong("the zone has both lines and a line_spacing", "Give one of them.")
        if self.pressure is not None and self.rated_pressure is None:
            raise wrong(
                "a pressure without the rated_pressure at which emitter_flow holds",
                'Such as rated_pressure = "10 psi".',
            )
        drips = self.emitter_flow is not None or self.catch_cups is not None
        if drips and self.emitter_spacing is None:
            raise wrong(
                "emitters without their emitter_spacing", 'Such as emitter_spacing = "12 in".'
            )
        return self


class Gauge(_Part):
    """What the rain gauge held and the thermometer read on a day."""

    on: f.Day
    rain: _Rain | None = None
    t_max: _Air | None = None
    t_min: _Air | None = None

    @model_validator(mode="after")
    def _reads_something(self) -> Self:
        if self.rain is None and self.t_max is None and self.t_min is None:
            raise wrong("nothing was read", "Give rain, t_max or t_min.")
        if self.t_max is not None and self.t_min is not None and self.t_min.si > self.t_max.si:
            raise wrong(
                f"t_min, {self.t_min.text}, is above t_max, {self.t_max.text}", "Turn them round."
            )
        return self


class SoilMoisture(_Part):
    """How moist a bed is at the roots: by feel, as a share of its available water, or tension."""

    bed: f.Identifier
    on: f.Day
    feel: Literal["dry", "slightly moist", "moist", "wet"] | None = None
    available: f.Share | None = None
    tension: f.Tension | None = None
    note: f.Words | None = None

    @field_validator("available")
    @classmethod
    def _share_of_the_water(cls, value: Quantity | None) -> Quantity | None:
        if value is not None and value.si > 1:
            raise wrong(f"available water of {value.text!r}", "Give from 0 to 100 %.")
        return value

    @model_validator(mode="after")
    def _one_reading(self) -> Self:
        given = [each for each in (self.feel, self.available, self.tension) if each is not None]
        if len(given) != 1:
            raise wrong(
                "a reading needs one of feel, available and tension",
                'Such as feel = "moist" or tension = "25 kPa".',
            )
        return self


class Readings(_Part):
    """A file of readings beside the document: the same tables as there."""

    gauge: list[Gauge] = []
    soil_moisture: list[SoilMoisture] = []
