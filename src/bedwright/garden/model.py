"""The garden document: what the gardener states, typed. Nothing here is computed."""

from __future__ import annotations

import math
from functools import cache
from typing import Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, StrictBool, field_validator, model_validator

from bedwright.garden import fields as f
from bedwright.garden.fields import wrong
from bedwright.garden.model_climate import Climate, Watering
from bedwright.garden.model_compare import Comparison, GerminationTest
from bedwright.garden.model_heap import CompostReport, Heap
from bedwright.garden.model_rotation import BedProblem, OwnCrop, Pin, Rotation, Wish
from bedwright.garden.model_standing import Animals, Standing
from bedwright.garden.model_structure import Structure
from bedwright.garden.model_supply import Supply
from bedwright.garden.model_water import Gauge, Mulch, SoilMoisture, WaterZone
from bedwright.garden.model_weather import Weather
from bedwright.garden.model_work import ForkTest, LaborDone, LaborTime, Work
from bedwright.units import Quantity, UnitSystem

FORMAT = 2


@cache
def _time_zones() -> set[str]:
    from zoneinfo import available_timezones

    return available_timezones()


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


class Place(_Part):
    """Where the garden is, and in which units and money its owner thinks."""

    name: f.Words
    note: f.Words | None = None
    latitude: f.Latitude | None = None
    longitude: f.Longitude | None = None
    elevation: f.Elevation | None = None
    time_zone: f.Words | None = None
    units: UnitSystem = UnitSystem.US
    currency: Literal["USD", "EUR", "AUD", "GBP", "CAD", "NZD", "ZAR"] = "USD"

    @field_validator("time_zone")
    @classmethod
    def _known_zone(cls, value: str | None) -> str | None:
        if value is not None and value not in _time_zones():
            raise wrong(f"{value!r} is not a time zone", 'Such as "America/Los_Angeles".')
        return value


class Block(_Part):
    """A group of beds."""

    id: f.Identifier
    name: f.Words | None = None
    note: f.Words | None = None


class Bed(_Part):
    """One bed: its ground plan, its direction, and what fills it."""

    id: f.Identifier
    block: f.Identifier | None = None
    length: f.Length | None = None
    width: f.Length | None = None
    outline: list[tuple[f.Corner, f.Corner]] | None = None
    corner: tuple[f.Corner, f.Corner] | None = None
    long_axis: f.Direction | None = None
    kind: Literal["in-ground", "raised"] = "in-ground"
    fill_depth: f.Depth | None = None
    fill: Literal["soil", "compost mix"] = "soil"
    texture: f.Words | None = None
    bulk_density: f.Density | None = None
    slope: f.Slope | None = None
    water_zone: f.Identifier | None = None
    own_recipe: StrictBool = False
    parts: int = Field(default=1, ge=1, le=12)
    trellis: StrictBool = False
    mulch: Mulch | None = None
    note: f.Words | None = None

    @model_validator(mode="after")
    def _has_a_ground_plan(self) -> Self:
        if self.outline is None and (self.length is None or self.width is None):
            raise wrong("the bed has no size", "Give length and width, or an outline.")
        if self.outline is not None and (self.length is not None or self.width is not None):
            raise wrong("the bed has both an outline and a length or width", "Give one of them.")
        if self.outline is not None and (len(self.outline) < 3 or self.area_m2 <= 0):
            raise wrong("the outline encloses no area", "Give at least three corners in order.")
        if self.outline is not None and _crosses_itself(self.outline):
            raise wrong("the outline crosses itself", "Give the corners in order around the bed.")
        if self.corner is not None and self.outline is None and self.long_axis is None:
            raise wrong("the bed has a corner but no long_axis", 'Such as long_axis = "N-S".')
        if self.kind == "raised" and (self.fill_depth is None or self.fill_depth.si <= 0):
            raise wrong("a raised bed needs its fill_depth", 'Such as fill_depth = "11 in".')
        return self

    @property
    def area_m2(self) -> float:
        """The bed's area: length times width, or the area within the outline."""
        if self.length is not None and self.width is not None:
            return float(self.length.si * self.width.si)
        corners = [(x.si, y.si) for x, y in self.outline or []]
        pairs = zip(corners, corners[1:] + corners[:1], strict=True)
        return abs(math.fsum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2


def _crosses_itself(outline: list[tuple[Quantity, Quantity]]) -> bool:
    corners = [(x.si, y.si) for x, y in outline]
    sides = list(zip(corners, corners[1:] + corners[:1], strict=True))

    def turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    for first, (a, b) in enumerate(sides):
        for second, (c, d) in enumerate(sides[first + 2 :], first + 2):
            if first == 0 and second == len(sides) - 1:
                continue
            if turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0:
                return True
    return False


class Result(_Part):
    """One line of a laboratory's report, in the laboratory's words."""

    analyte: f.Words
    value: str | float | int
    unit: f.Words | None = None
    method: f.Words | None = None

    @field_validator("value", mode="before")
    @classmethod
    def _is_one_value(cls, value: Any) -> Any:
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise wrong(f"{value!r} is not a value", 'Such as value = "18 ppm".')
        if isinstance(value, float) and not math.isfinite(value):
            raise wrong(f"{value!r} is not a finite number")
        return value


class SoilReport(_Part):
    """A laboratory's report on one composite sample, and the beds it stands for."""

    id: f.Identifier
    beds: list[f.Identifier] = Field(min_length=1)
    sampled: f.Day
    depth: f.Depth
    lab: f.Words | None = None
    texture: f.Words | None = None
    bulk_density: f.Density | None = None
    file: f.Words | None = None
    results: list[Result] = []
    note: f.Words | None = None

    @model_validator(mode="after")
    def _has_results(self) -> Self:
        if not self.results and self.file is None:
            raise wrong("the report has no results", "Give results, or a file that holds them.")
        if self.depth.si <= 0:
            raise wrong("the sampling depth is not more than 0", 'Such as depth = "6 in".')
        return self


class WaterReport(_Part):
    """A laboratory's report on the irrigation water."""

    id: f.Identifier
    sampled: f.Day
    lab: f.Words | None = None
    water_zones: list[f.Identifier] | None = None
    season_depth: f.Depth | None = None
    results: list[Result] = Field(min_length=1)
    note: f.Words | None = None


class OwnMaterial(_Part):
    """A material of the gardener's own, or facts on a bag that outrank the tables."""

    material: f.Identifier
    name: f.Words | None = None
    like: f.Identifier | None = None
    analysis: dict[str, f.Share] = {}
    cup: f.CupWeight | None = None
    moisture: f.Share | None = None
    ec_1_5: f.Conductivity | None = None
    organic: Literal["allowed", "restricted", "prohibited"] | None = None
    note: f.Words | None = None


class Stock(_Part):
    """What is in the shed, or could be bought."""

    material: f.Identifier
    package: f.Package | None = None
    price: f.Money | None = None
    on_hand: f.OnHand | None = None
    counted: f.Day | None = None
    can_buy: StrictBool = True

    @model_validator(mode="after")
    def _price_has_a_package(self) -> Self:
        if self.price is not None and self.package is None:
            raise wrong("a price without a package", 'Add package, such as package = "50 lb".')
        return self


class Application(_Part):
    """Something spread on a bed."""

    material: f.Identifier
    amount: f.Amount
    on: f.Day


class Season(_Part):
    """One bed's past season: what grew and what was spread.

    ``failed`` is the day on which its crop was lost: from then on nothing is planned for it.
    """

    bed: f.Identifier
    part: int | None = Field(default=None, ge=1, le=12)
    year: int = Field(ge=1900, le=2200)
    crop: f.Identifier | None = None
    harvested: f.Yield | None = None
    failed: f.Day | None = None
    applied: list[Application] = []
    note: f.Words | None = None


class CompostWish(_Part):
    """A depth of compost that the gardener means to spread, or a range to choose it from."""

    material: f.Identifier
    depth: f.Depth | None = None
    least: f.Depth | None = None
    most: f.Depth | None = None

    @model_validator(mode="after")
    def _depth_or_range(self) -> Self:
        if self.depth is None and self.most is None:
            raise wrong(
                "compost has neither a depth nor the most that it may be",
                'Such as depth = "1 in", or least = "0 in" and most = "2 in".',
            )
        if self.depth is not None and (self.least is not None or self.most is not None):
            raise wrong(
                "compost has both a depth and a range", "Give depth alone, or least and most."
            )
        if self.least is not None and self.most is not None and self.least.si > self.most.si:
            raise wrong(
                f"the least compost, {self.least.text}, is more than the most, {self.most.text}",
                "Turn them round.",
            )
        return self

    @property
    def range_m(self) -> tuple[float, float]:
        """The least and the most depth [m]; the same where one depth is stated."""
        if self.depth is not None:
            return self.depth.si, self.depth.si
        assert self.most is not None
        return self.least.si if self.least is not None else 0.0, self.most.si


class DressingWish(_Part):
    """A rate of a material that the gardener means to spread, whatever the blend would take."""

    material: f.Identifier
    rate: f.MassPerArea


class Want(_Part):
    """A crop that is wanted, in these beds, with the yield hoped for."""

    crop: f.Identifier
    beds: list[f.Identifier] = Field(min_length=1)
    set_out: f.Day | None = None
    yield_goal: f.Yield | None = None
    compost: CompostWish | None = None
    dressing: DressingWish | None = None
    first_pick: f.Day | None = None
    days_to_first_pick: int | None = Field(default=None, ge=1, le=400)
    days_to_maturity: int | None = Field(default=None, ge=10, le=400)
    protection: f.Identifier | None = None
    turn: Literal["spring", "late summer"] | None = None
    pick_weeks: int | None = Field(default=None, ge=1, le=40)
    companion: f.Identifier | None = None
    mulch: Mulch | None = None
    note: f.Words | None = None

    @model_validator(mode="after")
    def _pick_after_setting_out(self) -> Self:
        if self.first_pick is not None and self.days_to_first_pick is not None:
            raise wrong("first_pick and days_to_first_pick are both stated", "Give one of them.")
        both = self.first_pick is not None and self.set_out is not None
        if both and self.first_pick <= self.set_out:  # type: ignore[operator]
            raise wrong(
                f"first_pick {self.first_pick} is not after set_out {self.set_out}",
                "Correct one of them.",
            )
        return self


class MixPart(_Part):
    """One bag of a mix, by the amount that goes in."""

    material: f.Identifier
    amount: f.Mass


class UsualMix(_Part):
    """A mix that the gardener throws together by habit, to be shown for what it is."""

    name: f.Words
    parts: list[MixPart] = Field(min_length=1)
    spread: f.MassPerArea | None = None
    note: f.Words | None = None


class Limits(_Part):
    """What the plan must keep to."""

    organic_only: StrictBool = False
    budget: f.Money | None = None
    avoid: list[f.Identifier] = []
    risk_accepted: f.YearsOfTen = 2
    most_materials: int = Field(default=5, ge=1, le=12)
    tolerance: f.Share = Quantity(0.1, "fraction", "10 %")
    yield_kept: f.Share = Quantity(0.9, "fraction", "90 %")

    @field_validator("tolerance")
    @classmethod
    def _some_tolerance(cls, value: Quantity) -> Quantity:
        if not 0 < value.si <= 0.5:
            raise wrong(f"a tolerance of {value.text!r}", "Give more than 0 and at most 50 %.")
        return value


class Garden(_Part):
    """The whole document."""

    format: Literal[2] = 2
    garden: Place
    block: list[Block] = []
    bed: list[Bed] = Field(min_length=1)
    soil_report: list[SoilReport] = []
    water_report: list[WaterReport] = []
    material: list[OwnMaterial] = []
    stock: list[Stock] = []
    supply: list[Supply] = []
    history: list[Season] = []
    want: list[Want] = []
    usual_mix: list[UsualMix] = []
    climate: Climate | None = None
    watering: Watering | None = None
    water_zone: list[WaterZone] = []
    gauge: list[Gauge] = []
    soil_moisture: list[SoilMoisture] = []
    weather: Weather | None = None
    heap: list[Heap] = []
    compost_report: list[CompostReport] = []
    crop: list[OwnCrop] = []
    wish: list[Wish] = []
    pin: list[Pin] = []
    bed_problem: list[BedProblem] = []
    structure: list[Structure] = []
    rotation: Rotation | None = None
    work: Work | None = None
    labor_time: list[LaborTime] = []
    labor_done: list[LaborDone] = []
    fork_test: list[ForkTest] = []
    standing: list[Standing] = []
    comparison: list[Comparison] = []
    germination_test: list[GerminationTest] = []
    animals: Animals = Animals()
    limits: Limits = Limits()
