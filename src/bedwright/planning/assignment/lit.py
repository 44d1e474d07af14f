"""The light on the garden's beds, as the rotation asks for it."""

from __future__ import annotations

from collections.abc import Sequence

from bedwright.garden import Document
from bedwright.planning.assignment.bars import Light
from bedwright.planning.light_map import bed_light
from bedwright.planning.own import library_of
from bedwright.reference import Library


def light_of(document: Document, library: Library) -> Light | None:
    """The mean light of each bed by month [mol/m2/d], what stands in the garden counted in; None
    where the document does not state its latitude.

    Raises WeatherError for a weather file that can't be used.
    """
    beds = bed_light(document, library_of(document, library))

    def of(bed: str) -> Sequence[float] | None:
        return beds[bed].light_mol_m2_d.tolist() if bed in beds else None

    return of if beds else None
