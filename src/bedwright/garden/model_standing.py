"""What stands in the beds now, as the gardener states it, and the animals that are kept."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from bedwright.garden import fields as f
from bedwright.garden.fields import wrong

_WIDEST_STEM_M = 0.1397  # 5.5 in: the end of the table of root balls
_Interval = Annotated[int | None, Field(ge=0, le=730)]  # days, as a spray's label gives them


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


class Standing(_Part):
    """A crop that stands in a bed, or in one part of it, until it is cleared.

    ``pick_per_week`` is what the whole planting gives now. The two label intervals are those of
    the last spray: days to wait before anything is fed to stock, and before anything is picked.
    ``stem`` is the width of a plant's stem, for its root ball.
    """

    bed: f.Identifier
    part: int | None = Field(default=None, ge=1, le=12)
    crop: f.Identifier
    since: f.Day | None = None
    health: Literal["healthy", "diseased"] = "healthy"
    pick_per_week: f.Mass | None = None
    sprayed: f.Day | None = None
    label_grazing_days: _Interval = None
    label_harvest_days: _Interval = None
    stem: f.Length | None = None
    note: f.Words | None = None

    @model_validator(mode="after")
    def _intervals_run_from_a_day(self) -> Self:
        for name in ("label_grazing_days", "label_harvest_days"):
            if getattr(self, name) is not None and self.sprayed is None:
                raise wrong(f"{name} without the day of the spray", "Add sprayed = 2026-10-01.")
        if self.stem is not None and self.stem.si >= _WIDEST_STEM_M:
            raise wrong(f"a stem of {self.stem.text!r} is a tree's", "Up to 5 in, or leave it out.")
        return self


class Animals(_Part):
    """The kinds of animals that could be fed from the garden."""

    kinds: list[Literal["ducks", "chickens", "rabbits", "goats"]] = []

    @model_validator(mode="after")
    def _each_once(self) -> Self:
        twice = [each for each in self.kinds if self.kinds.count(each) > 1]
        if twice:
            raise wrong(f"{twice[0]!r} stands twice", "Name each kind once.")
        return self
