"""What casts shade on the beds: buildings, fences, hedges, trees, shade cloth."""

from __future__ import annotations

from datetime import date
from typing import Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from bedwright.garden import fields as f
from bedwright.garden.fields import wrong
from bedwright.units import Quantity

_LINES = frozenset({"fence", "hedge"})
_CLOSED = Quantity(0.0, "fraction", "0 %")


def stands_on(day: date, from_day: tuple[int, int] | None, to_day: tuple[int, int] | None) -> bool:
    """Whether a thing is there on a day: (month, day) from and to, all year where not stated."""
    if from_day is None or to_day is None:
        return True
    at = (day.month, day.day)
    # from after to: over the turn of the year
    return from_day <= at <= to_day if from_day <= to_day else not to_day < at < from_day


class Structure(BaseModel):
    """Something that stands or hangs in the garden and takes light.

    A ``line`` of points for a fence or hedge, an ``outline`` for a building, a tree's crown or a
    cloth, each point east and north of the point that all beds share. ``base`` is the height of
    its underside, ``openness`` the share of light that passes, ``from_day`` and ``to_day`` the
    part of the year in which it is there: cloth that hangs, leaves on a tree.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)

    id: f.Identifier
    kind: Literal["building", "fence", "hedge", "tree", "shade cloth"]
    line: list[tuple[f.Corner, f.Corner]] | None = Field(default=None, min_length=2)
    outline: list[tuple[f.Corner, f.Corner]] | None = Field(default=None, min_length=3)
    height: f.Length
    base: f.Depth = Quantity(0.0, "depth", "0 ft")
    openness: f.Share = _CLOSED
    from_day: f.DayOfYear | None = None
    to_day: f.DayOfYear | None = None
    note: f.Words | None = None

    @model_validator(mode="after")
    def _has_its_shape(self) -> Self:
        wanted, other = ("line", "outline") if self.kind in _LINES else ("outline", "line")
        if getattr(self, wanted) is None or getattr(self, other) is not None:
            raise wrong(
                f"a {self.kind} is drawn by its {wanted}",
                f'Such as {wanted} = [["0 ft", "60 ft"], ["40 ft", "60 ft"]'
                + (', ["40 ft", "70 ft"]].' if wanted == "outline" else "]."),
            )
        if not self.base.si < self.height.si:
            raise wrong(
                f"its base, {self.base.text}, is not below its height, {self.height.text}",
                "height is how high its top is above the ground.",
            )
        if not 0 <= self.openness.si < 1:
            raise wrong(
                f"an openness of {self.openness.text!r}", "Give 0 % or more, and less than 100 %."
            )
        if (self.from_day is None) != (self.to_day is None):
            raise wrong("from_day and to_day belong together", "Give both, or neither.")
        return self
