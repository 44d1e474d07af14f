"""One standing crop with all that its ways out hang on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from bedwright.garden.model_standing import Standing
from bedwright.planning.findings import Finding, finding
from bedwright.planning.turnover.model import Left, Next, Residue
from bedwright.reference import Library
from bedwright.working import Figure


@dataclass(frozen=True)
class Case:
    """``wait`` [day] is from digging in to the next crop, ``life`` and ``cover`` are of the
    standing crop, ``sown`` tells whether the next is sown. ``stock`` are the animals kept.
    """

    standing: Standing
    crop: str
    name: str
    life: str
    cover: bool
    left: Left
    residue: Residue | None
    wait: Figure
    next: Next
    sown: bool
    stock: tuple[str, ...]
    as_of: date
    library: Library

    @property
    def healthy(self) -> bool:
        """Whether the document calls it healthy."""
        return self.standing.health == "healthy"

    def after_spray(self, use: Literal["grazing", "harvest"]) -> tuple[date | None, Finding | None]:
        """From which day on a label allows a use, and what bars it altogether.

        A spray whose label interval is not stated bars it; so does an interval that outlasts the
        time until the bed is needed.
        """
        sprayed = self.standing.sprayed
        if sprayed is None:
            return None, None
        grazing = use == "grazing"
        stated = self.standing
        days = stated.label_grazing_days if grazing else stated.label_harvest_days
        on = sprayed.isoformat()
        if days is None:
            unknown = (
                finding("turnover_label_grazing_unknown", "caution", spray=on)
                if grazing
                else finding("turnover_label_harvest_unknown", "caution", spray=on)
            )
            return None, unknown
        start = sprayed + timedelta(days=days)
        clear, ends = self.next.clear, start.isoformat()
        barred = None
        if clear is not None and start > max(clear, self.as_of):
            barred = (
                finding("turnover_label_grazing", "caution", spray=on, ends=ends)
                if grazing
                else finding("turnover_label_harvest", "caution", spray=on, ends=ends)
            )
        return (None if start <= self.as_of else start), barred
