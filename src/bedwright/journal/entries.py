"""What a gardener writes down: done, picked, seen, measured, bought, used up. Only typed."""

from __future__ import annotations

from typing import Annotated, Literal, Self
from uuid import UUID

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, model_validator

from bedwright.garden import fields as f
from bedwright.garden.fields import wrong
from bedwright.garden.model import Result
from bedwright.garden.model_weather import Minimum

# An evening's notes are longer than a line of the document. 200 hours: twenty people, ten hours.
_Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=4000)]
_Hours = Annotated[float, Field(gt=0, le=200, allow_inf_nan=False)]
_Count = Annotated[int, Field(strict=True, ge=1, le=1_000_000)]
_Photograph = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
# The kinds of tasks that the season's work has.
Task = Literal[
    "clear", "fork_test", "loosen", "spread", "work_in", "rest", "drip", "trellis", "sow_trays",
    "tend", "harden", "set_out", "sow", "plant", "cover", "uncover", "shade", "mulch",
    "side_dress", "weed", "thin", "tie", "look", "check_drip", "pick", "wash", "pack", "sell",
]  # fmt: skip


class _Entry(BaseModel):
    """What every entry has: an id made where it was written, the day, perhaps a bed and a note."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)

    id: UUID
    on: f.Day
    bed: f.Identifier | None = None
    note: _Text | None = None
    photographs: list[_Photograph] = Field(default=[], max_length=12)


class Did(_Entry):
    """Work on a bed: spread, sowed, set out, worked; amounts as they were, not as planned.

    ``plan`` tells how it relates to the plan: done as planned, or something else in its place.
    ``task`` is the kind of a task of the season's work that was done, on a bed with its crop or
    on the whole garden.
    """

    kind: Literal["did"] = "did"
    what: Literal["spread", "sowed", "set out", "worked"]
    material: f.Identifier | None = None
    amount: f.Amount | None = None
    crop: f.Identifier | None = None
    count: _Count | None = None
    hours: _Hours | None = None
    plan: Literal["as planned", "instead"] | None = None
    task: Task | None = None

    @model_validator(mode="after")
    def _is_whole(self) -> Self:
        if self.what != "worked":
            _has_not(self, "task")
        if self.what == "spread":
            _needs(self, "bed", "material", "amount")
            _has_not(self, "crop", "count")
        elif self.what == "worked":
            if self.note is None and self.hours is None and self.task is None:
                raise wrong("the work has neither words nor hours", "Say what was done, or hours.")
            _has_not(self, "material", "amount", "count")
            if self.task is None:
                _has_not(self, "crop")
        else:
            _needs(self, "bed", "crop")
            _has_not(self, "material", "amount")
        return self


class Picked(_Entry):
    """A picking: a crop's mass, or a count of units (heads, bunches), and how good it was."""

    kind: Literal["picked"] = "picked"
    crop: f.Identifier
    mass: f.Mass | None = None
    count: _Count | None = None
    of: f.Identifier | None = None
    quality: Literal["good", "fair", "poor"] | None = None
    hours: _Hours | None = None

    @model_validator(mode="after")
    def _is_whole(self) -> Self:
        _needs(self, "bed")
        if self.mass is None and self.count is None:
            raise wrong("the picking has neither a weight nor a count", "Give one of them.")
        if self.of is not None and self.count is None:
            raise wrong("a unit without a count", "Say how many, or leave the unit out.")
        return self


class Saw(_Entry):
    """Something seen: a pest, a disease, the weather, a note, a photograph."""

    kind: Literal["saw"] = "saw"
    what: Literal["pest", "disease", "weather", "note", "photograph"]

    @model_validator(mode="after")
    def _is_whole(self) -> Self:
        if self.note is None and not self.photographs:
            raise wrong("nothing is said of what was seen", "Write a word, or add a photograph.")
        if self.what == "photograph" and not self.photographs:
            raise wrong("the photograph is missing", "Add one, or choose another word.")
        return self


class Measured(_Entry):
    """A soil test, the soil's moisture by feel, or a night's minimum of the own thermometer."""

    kind: Literal["measured"] = "measured"
    what: Literal["soil test", "moisture", "minimum"]
    depth: f.Depth | None = None
    lab: f.Words | None = None
    results: list[Result] = Field(default=[], max_length=60)
    moisture: Literal["dry", "slightly moist", "moist", "wet"] | None = None
    minimum: Minimum | None = None

    @model_validator(mode="after")
    def _is_whole(self) -> Self:
        if self.what == "soil test":
            _needs(self, "bed", "depth")
            _has_not(self, "moisture", "minimum")
            if not self.results:
                raise wrong("the soil test has no results", "Give one value at least.")
            if self.depth is not None and self.depth.si <= 0:
                raise wrong("the sampling depth is not more than 0", "Such as 6 in.")
        elif self.what == "moisture":
            _needs(self, "bed", "moisture")
            _has_not(self, "lab", "results", "minimum")
        else:
            _needs(self, "minimum")
            _has_not(self, "depth", "lab", "results", "moisture")
        return self


class Bought(_Entry):
    """A material bought, and what was paid for it altogether."""

    kind: Literal["bought"] = "bought"
    material: f.Identifier
    amount: f.Package
    price: f.Money | None = None


class UsedUp(_Entry):
    """A material of which nothing is left."""

    kind: Literal["used up"] = "used up"
    material: f.Identifier


Entry = Did | Picked | Saw | Measured | Bought | UsedUp
KINDS: dict[str, type[Did | Picked | Saw | Measured | Bought | UsedUp]] = {
    "did": Did, "picked": Picked, "saw": Saw, "measured": Measured, "bought": Bought,
    "used up": UsedUp,
}  # fmt: skip
_SAID = {
    "bed": "the bed", "material": "the material", "amount": "the amount", "crop": "the crop",
    "depth": "the depth of sampling", "moisture": "how moist the soil was",
    "minimum": "the night's minimum", "count": "a count", "lab": "a laboratory",
    "results": "results", "task": "a task",
}  # fmt: skip


def _needs(entry: _Entry, *names: str) -> None:
    for name in names:
        if getattr(entry, name) is None:
            raise wrong(f"{_SAID[name]} is missing")


def _has_not(entry: _Entry, *names: str) -> None:
    for name in names:
        if getattr(entry, name):
            raise wrong(f"{_SAID[name]} does not belong to this entry", "Leave it out.")
