"""What a comparison holds once it is laid out and read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from bedwright.garden.model_compare import Comparison
from bedwright.planning.findings import Finding
from bedwright.trials.blocks import BlockComparison
from bedwright.trials.paired import PairedComparison
from bedwright.trials.permuted import Randomised


@dataclass(frozen=True)
class Plot:
    """One plot: its block from 1, its place in the block from 1, its bed, and its way.

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
    """What a plot gave on a day, in the comparison's unit; None where it was not weighed."""

    block: int
    way: str
    on: date
    value: float


@dataclass(frozen=True)
class Power:
    """What a number of pairs or blocks can show: ``difference`` is the least true one, as a share
    of the mean [-], that is seen in 4 of 5 trials; ``least_p`` the least that drawing can give."""

    blocks: int
    difference: float | None
    least_p: float


@dataclass(frozen=True)
class Shown:
    """The analysis of the blocks that are whole.

    ``values`` by block and way in the unit of the comparison; ``means`` by way. ``paired`` for
    two ways, ``in_blocks`` for more; None with them where there is no spread to judge by.
    """

    blocks: tuple[int, ...]
    values: tuple[tuple[float, ...], ...]
    means: tuple[float, ...]
    paired: PairedComparison | None
    in_blocks: BlockComparison | None
    randomised: Randomised | None


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
    def level(self) -> float:
        """The two-sided level of its tests [-]."""
        return float(round(1 - self.stated.confidence.si, 9))

    @property
    def clear(self) -> bool:
        """Whether what was seen is told apart from chance by both tests, its order drawn here."""
        found = self.shown
        if found is None or found.randomised is None or self.stated.laid is not None:
            return False
        made = found.paired or found.in_blocks
        return made is not None and made.p < self.level and found.randomised.p <= self.level
