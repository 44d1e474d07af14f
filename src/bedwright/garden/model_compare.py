"""A comparison as the gardener states it: the question, ways, plots, what was measured."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema, model_validator

from bedwright.garden import fields as f
from bedwright.garden.fields import wrong
from bedwright.units import Quantity, UnitError, parse

# What a comparison may be measured in, beside things that are counted.
_KINDS = ("mass", "length", "volume", "fraction", "time")
_SUMMED = frozenset({"mass", "volume", "count"})


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


def _read_value(value: Any) -> Any:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise wrong(f"{value!r} is not a value", 'Such as value = "14.2 lb".')
    if not isinstance(value, str) and not abs(value) < 1e9:
        raise wrong(f"{value!r} is more than a garden can hold")
    return value


Value = Annotated[
    str | int | float,
    BeforeValidator(_read_value),
    WithJsonSchema({"type": ["string", "number"], "examples": ["14.2 lb", 23]}),
]


class ComparisonResult(_Part):
    """What one plot gave on a day: ``block`` counts from 1, ``way`` is one of the comparison's."""

    block: int = Field(ge=1, le=40)
    way: f.Identifier
    on: f.Day
    value: Value
    note: f.Words | None = None


class JournalSpan(_Part):
    """The days whose pickings in the journal are the results."""

    from_day: f.Day
    to_day: f.Day

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.to_day < self.from_day:
            raise wrong(
                f"to_day, {self.to_day}, lies before from_day, {self.from_day}", "Turn them round."
            )
        return self


class Comparison(_Part):
    """Two or more ways side by side.

    Each of ``blocks`` is one bed, cut into as many strips as there are ways, or as many beds as
    there are ways. The order within each block is drawn from ``seed``; ``laid`` states instead
    an order that was not drawn here. ``spread`` is what one plot is off from another of the same
    way, as a share of the mean, before anything is measured.
    """

    id: f.Identifier
    question: f.Words
    crop: f.Identifier
    ways: list[f.Identifier] = Field(min_length=2, max_length=8)
    blocks: list[list[f.Identifier]] = Field(min_length=1, max_length=40)
    seed: int | None = Field(default=None, ge=0, le=2**32 - 1)
    laid: list[list[f.Identifier]] | None = None
    measured: f.Words
    unit: f.Words
    together: Literal["sum", "mean"] | None = None
    spread: f.Share | None = None
    confidence: f.Share = Quantity(0.95, "fraction", "95 %")
    edge: f.Length | None = None
    journal: JournalSpan | None = None
    result: list[ComparisonResult] = []
    note: f.Words | None = None

    @model_validator(mode="after")
    def _holds_together(self) -> Self:
        folded = [way.casefold() for way in self.ways]
        if len(set(folded)) < len(folded):
            raise wrong("two of the ways have the same name", "Give each its own.")
        for at, block in enumerate(self.blocks, 1):
            if len(block) not in (1, len(self.ways)) or len(set(block)) < len(block):
                raise wrong(
                    f"block {at} is neither one bed nor a bed for each of the "
                    f"{len(self.ways)} ways",
                    'Such as blocks = [["1"], ["2", "3"]]: strips in bed 1, then two beds.',
                )
        if (self.seed is None) == (self.laid is None):
            raise wrong(
                "the order needs a seed, or laid where it was not drawn here",
                "Give one of them: such as seed = 7, any number, so that it can be drawn again.",
            )
        if self.laid is not None:
            self._is_laid(self.laid)
        if not 0.5 < self.confidence.si < 1:
            raise wrong(
                f"a confidence of {self.confidence.text!r}", "More than 50 % and less than 100 %."
            )
        if self.spread is not None and not 0 < self.spread.si <= 1:
            raise wrong(f"a spread of {self.spread.text!r}", "More than 0 and at most 100 %.")
        if self.journal is not None:
            self._is_of_the_journal()
        return self

    def _is_laid(self, laid: list[list[str]]) -> None:
        wanted = sorted(self.ways)
        if len(laid) != len(self.blocks) or any(sorted(each) != wanted for each in laid):
            raise wrong(
                "laid does not have every way once in each block",
                f"One list for each of the {len(self.blocks)} blocks, each with "
                f"{', '.join(self.ways)} in the order in which they lie.",
            )

    def _is_of_the_journal(self) -> None:
        if self.result:
            raise wrong("there are results, and journal too", "Give one of them.")
        if self.kind not in ("mass", "count"):
            raise wrong(
                f"the journal's pickings are not counted in {self.unit!r}",
                'Such as unit = "lb", or a word for what is counted.',
            )
        if any(len(block) == 1 for block in self.blocks):
            raise wrong(
                "the journal tells beds apart, not strips within one",
                "Write the strips' results as [[comparison.result]].",
            )

    @property
    def kind(self) -> str:
        """The kind of quantity that is measured; ``count`` for a unit that is a word."""
        for kind in _KINDS:
            try:
                parse(f"1 {self.unit}", kind)
            except UnitError:
                continue
            return kind
        return "count"

    @property
    def summed(self) -> bool:
        """Whether several values of a plot are parts of one sum; else their mean counts."""
        if self.together is not None:
            return self.together == "sum"
        return self.kind in _SUMMED

    def read(self, value: str | int | float) -> float:
        """A value in the comparison's unit. Raises UnitError for one that does not fit."""
        if self.kind == "count":
            if isinstance(value, str):
                raise UnitError(f"{value!r} is not a number of {self.unit}", ("12",))
            return float(value)
        if not isinstance(value, str):
            raise UnitError(f"{value} has no unit", (f"{value} {self.unit}",))
        return parse(value, self.kind).si / parse(f"1 {self.unit}", self.kind).si


class GerminationTest(_Part):
    """Seeds of a crop that were counted out, and how many of them came up."""

    crop: f.Identifier
    on: f.Day
    sown: int = Field(ge=1, le=100_000)
    came_up: int = Field(ge=0, le=100_000)
    note: f.Words | None = None

    @model_validator(mode="after")
    def _no_more_than_sown(self) -> Self:
        if self.came_up > self.sown:
            raise wrong(
                f"{self.came_up} came up of {self.sown} sown", "came_up is at most what was sown."
            )
        return self
