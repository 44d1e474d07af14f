"""A comparison as the gardener states it: the question, ways, plots, what was measured."""

from __future__ import annotations

from itertools import product
from typing import Annotated, Any, Literal, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    WithJsonSchema,
    model_validator,
)

from bedwright.garden import fields as f
from bedwright.garden.fields import wrong
from bedwright.units import Quantity, UnitError, parse

# What a comparison may be measured in, beside things that are counted.
_KINDS = ("mass", "length", "volume", "fraction", "time")
_SUMMED = frozenset({"mass", "volume", "count"})
_TOGETHER = " + "  # between the levels of a combination
_MOST_FACTORS, _MOST_BEDS = 3, 80
_MOST_WAYS, _MOST_BLOCKS = 8, 40


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


# A way by its name, or a combination of levels: up to three names.
WayOrCombination = Annotated[
    str,
    StringConstraints(
        strip_whitespace=True, min_length=1, max_length=126, pattern=r"^[^\n\r\t/\\]+$"
    ),
]


class ComparisonResult(_Part):
    """What one plot gave on a day.

    ``block`` counts from 1, and ``way`` is one of the comparison's; without blocks ``bed`` tells
    the plot.
    """

    block: int | None = Field(default=None, ge=1, le=_MOST_BLOCKS)
    way: WayOrCombination | None = None
    bed: f.Identifier | None = None
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

    The ways are ``ways``, or every combination of two or three ``factors`` of two levels each.

    Each of ``blocks`` is one bed, cut into as many strips as there are ways, or as many beds as
    there are ways; with ``halves`` half as many, two blocks holding all combinations of the
    factors. The order within each block is drawn from ``seed``; ``laid`` states instead an order
    that was not drawn here. Without blocks the ways are drawn over ``beds``, ``times`` being how
    many beds each has. ``spread`` is what one plot is off another of the same way, as a share of
    the mean, before anything is measured.
    """

    id: f.Identifier
    question: f.Words
    crop: f.Identifier
    ways: list[f.Identifier] = Field(default=[], max_length=_MOST_WAYS)
    factors: list[list[f.Identifier]] = Field(default=[], max_length=_MOST_FACTORS)
    blocks: list[list[f.Identifier]] = Field(default=[], max_length=_MOST_BLOCKS)
    halves: bool = False
    beds: list[f.Identifier] = Field(default=[], max_length=_MOST_BEDS)
    times: list[int] | None = None
    seed: int | None = Field(default=None, ge=0, le=2**32 - 1)
    laid: list[list[WayOrCombination]] | None = None
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
        self._has_ways()
        if (self.seed is None) == (self.laid is None):
            raise wrong(
                "the order needs a seed, or laid where it was not drawn here",
                "Give one of them: such as seed = 7, any number, so that it can be drawn again.",
            )
        if self.beds:
            self._is_without_blocks()
        else:
            self._is_in_blocks()
        if not 0.5 < self.confidence.si < 1:
            raise wrong(
                f"a confidence of {self.confidence.text!r}", "More than 50 % and less than 100 %."
            )
        if self.spread is not None and not 0 < self.spread.si <= 1:
            raise wrong(f"a spread of {self.spread.text!r}", "More than 0 and at most 100 %.")
        if self.journal is not None:
            self._is_of_the_journal()
        return self

    def _has_ways(self) -> None:
        if bool(self.ways) == bool(self.factors):
            raise wrong(
                "a comparison needs ways, or factors",
                'Give one of them: such as ways = ["compost", "none"].',
            )
        if self.factors and (len(self.factors) < 2 or any(len(one) != 2 for one in self.factors)):
            raise wrong(
                "factors are two or three, of two levels each",
                'Such as factors = [["compost", "no compost"], ["mulch", "bare"]]; one alone, or '
                "more levels, are stated as ways.",
            )
        if len(self.ways) == 1:
            raise wrong("one way alone is no comparison", "Give two ways or more.")
        named = [*self.ways, *(level for one in self.factors for level in one)]
        what = "levels" if self.factors else "ways"
        alike = len({each.casefold() for each in named}) < len(named)
        if alike or len(set(self.every_way)) < len(self.every_way):
            raise wrong(f"two of the {what} have the same name", "Give each its own.")
        if self.halves and not self.factors:
            raise wrong(
                "halves are of factors, and there are none",
                "Take halves out, or state factors instead of ways.",
            )

    def _is_in_blocks(self) -> None:
        if not self.blocks:
            raise wrong(
                "there are no blocks, and no beds",
                'Such as blocks = [["1"], ["2", "3"]]: strips in bed 1, then two beds; or, without '
                'blocks, beds = ["1", "2", "3", "4"].',
            )
        if self.times is not None:
            raise wrong(
                "times is of ways without blocks", "Take it out: a block holds every way once."
            )
        size = self.block_size
        every = f"half of the {2 * size}" if self.halves else f"each of the {size}"
        for at, block in enumerate(self.blocks, 1):
            if len(block) not in (1, size) or len(set(block)) < len(block):
                raise wrong(
                    f"block {at} is neither one bed nor a bed for {every} ways",
                    'Such as blocks = [["1"], ["2", "3"]]: strips in bed 1, then two beds.',
                )
        if self.halves and len(self.blocks) % 2:
            raise wrong(
                f"{len(self.blocks)} blocks that each hold half of the combinations",
                "Give an even number: each two of them hold all.",
            )
        if self.laid is not None:
            self._is_laid(self.laid)

    def _is_without_blocks(self) -> None:
        if self.blocks:
            raise wrong("there are blocks, and beds without blocks too", "Give one of them.")
        if self.factors:
            raise wrong("factors need blocks", "Put beds that are alike together as blocks.")
        if len(set(self.beds)) < len(self.beds):
            raise wrong("a bed stands twice among the beds", "A whole bed is one plot.")
        if self.times is not None and self.laid is not None:
            raise wrong("there are times, and laid too", "Laid tells how often each way is there.")
        if self.laid is not None and (
            len(self.laid) != 1
            or len(self.laid[0]) != len(self.beds)
            or not set(self.laid[0]) <= set(self.ways)
        ):
            raise wrong(
                f"laid does not tell the way of each of the {len(self.beds)} beds",
                f"One list, in the order of the beds, of {', '.join(self.ways)}.",
            )
        times = self.times_each
        if len(times) != len(self.ways) or sum(times) != len(self.beds) or min(times) < 2:
            raise wrong(
                f"{len(self.beds)} beds do not go to {len(self.ways)} ways as often as is stated",
                "Say how many beds each way has, two or more, such as times = "
                f"{[2] * len(self.ways)} for {2 * len(self.ways)} beds.",
            )

    def _is_laid(self, laid: list[list[str]]) -> None:
        wanted = sorted(self.every_way)
        if self.halves:
            self._is_laid_in_halves(laid)
        elif len(laid) != len(self.blocks) or any(sorted(each) != wanted for each in laid):
            raise wrong(
                "laid does not have every way once in each block",
                f"One list for each of the {len(self.blocks)} blocks, each with "
                f"{', '.join(self.every_way)} in the order in which they lie.",
            )

    def _is_laid_in_halves(self, laid: list[list[str]]) -> None:
        halves = [sorted(half) for half in self.half_ways]
        held = [sorted(each) for each in laid]
        often = [held.count(half) for half in halves]
        if len(held) != len(self.blocks) or sum(often) < len(held) or often[0] != often[1]:
            raise wrong(
                "laid does not have one of the two halves in each block, both as often",
                "The halves: " + "; or ".join(", ".join(half) for half in self.half_ways) + ".",
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
    def every_way(self) -> list[str]:
        """The ways, or every combination of the factors: the last factor changes fastest."""
        return list(self.ways) or [_TOGETHER.join(each) for each in product(*self.factors)]

    @property
    def half_ways(self) -> tuple[list[str], list[str]]:
        """The two halves of the combinations: an even number of second levels, and an odd one."""
        found: tuple[list[str], list[str]] = ([], [])
        for levels in product((0, 1), repeat=len(self.factors)):
            names = [one[level] for one, level in zip(self.factors, levels, strict=True)]
            found[sum(levels) % 2].append(_TOGETHER.join(names))
        return found

    @property
    def block_size(self) -> int:
        """How many plots a block has."""
        return len(self.every_way) // (2 if self.halves else 1)

    @property
    def times_each(self) -> list[int]:
        """How many beds each way has, without blocks: as stated, as laid, or alike."""
        if self.times is not None:
            return list(self.times)
        if self.laid is not None:
            return [self.laid[0].count(way) for way in self.ways]
        return [len(self.beds) // len(self.ways)] * len(self.ways)

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
