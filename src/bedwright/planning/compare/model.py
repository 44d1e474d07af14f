"""What a comparison holds once it is laid out and read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from bedwright.garden.model_compare import Comparison
from bedwright.planning.findings import Finding
from bedwright.trials.blocks import BlockComparison
from bedwright.trials.factorial import FactorialComparison
from bedwright.trials.paired import PairedComparison
from bedwright.trials.permuted import Randomised
from bedwright.trials.unblocked import GroupComparison


@dataclass(frozen=True)
class Plot:
    """One plot: its block from 1, its place in the block from 1, its bed, and its way.

    Without blocks each bed counts as a block does, from 1, and its place is 1.

    ``strip`` of ``strips`` counts along the bed from the end that its corner is measured from, or
    from the north or west end; None for a whole bed. ``area_m2`` is the plot's.
    """

    block: int
    place: int
    bed: str
    strip: int | None
    strips: int
    way: str
    area_m2: float


@dataclass(frozen=True)
class Reading:
    """What a plot gave on a day, in the comparison's unit; ``block`` and ``way`` of its plot."""

    block: int
    way: str
    on: date
    value: float


@dataclass(frozen=True)
class Power:
    """What a number of pairs or blocks can show: ``difference`` is the least true one, as a share
    of the mean [-], that is seen in 4 of 5 trials; ``least_p`` the least that drawing can give.

    Without blocks ``blocks`` is how many beds the way with the fewest has. None is a difference
    where nothing is left to judge by.
    """

    blocks: int
    difference: float | None
    least_p: float


@dataclass(frozen=True)
class Shown:
    """The analysis of the blocks that are whole; without blocks of the beds that were measured.

    ``blocks`` are theirs. ``values`` by block and way in the unit of the comparison, ``by_way``
    the same by way; ``means`` by way, none where blocks hold half: blocks would be mixed up in
    them. ``paired`` for two ways, ``in_blocks`` for more, without blocks ``in_beds``, of factors
    ``of_factors``; None with them where there is no spread to judge by, or too little is left.
    """

    blocks: tuple[int, ...]
    values: tuple[tuple[float, ...], ...]
    means: tuple[float, ...]
    paired: PairedComparison | None
    in_blocks: BlockComparison | None
    randomised: Randomised | None
    by_way: tuple[tuple[float, ...], ...] = ()
    in_beds: GroupComparison | None = None
    of_factors: FactorialComparison | None = None


@dataclass(frozen=True)
class Compared:
    """One comparison: as stated, laid out, what it can show, what was read, what that says.

    ``spread`` is the stated one, else the usual [-]. ``plain`` tells that the values of plots
    with unlike areas were brought to one size.
    """

    stated: Comparison
    crop: str
    plots: tuple[Plot, ...]
    spread: float
    spread_stated: bool
    power: tuple[Power, ...]
    readings: tuple[Reading, ...]
    sums: Mapping[tuple[int, str], float]
    evened: bool
    shown: Shown | None
    findings: tuple[Finding, ...]

    @property
    def groups(self) -> tuple[tuple[int | None, tuple[Plot, ...]], ...]:
        """The plots by block, as they lie; without blocks all of them under None."""
        if self.stated.beds:
            return ((None, self.plots),)
        return tuple(
            (block, tuple(plot for plot in self.plots if plot.block == block))
            for block in range(1, len(self.stated.blocks) + 1)
        )

    def named(self, plot: Plot) -> dict[str, int | str]:
        """How a result in the document names a plot: by block and way, or by its bed."""
        if self.stated.beds:
            return {"bed": plot.bed}
        return {"block": plot.block, "way": plot.way}

    @property
    def level(self) -> float:
        """The two-sided level of its tests [-]."""
        return float(round(1 - self.stated.confidence.si, 9))

    @property
    def clear(self) -> bool:
        """Whether what was seen is told apart from chance by both tests, its order drawn here."""
        found = self.shown
        if found is None or self.stated.laid is not None:
            return False
        if found.of_factors is not None:
            effects = found.of_factors.effects
            return any(e.p < self.level and e.p_drawn <= self.level for e in effects)
        if found.randomised is None:
            return False
        made = found.paired or found.in_blocks or found.in_beds
        return made is not None and made.p < self.level and found.randomised.p <= self.level
