"""The blend of the season: what all beds are given, the part of the plan that stands alone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from bedwright.garden import Document
from bedwright.planning.assessment import Assessment, assess
from bedwright.planning.garden_blend import GardenBlend, garden_blend
from bedwright.planning.own import library_of
from bedwright.planning.pinned_wants import with_pins
from bedwright.planning.prescription import Prescription, prescription_of
from bedwright.planning.second_crops import bed_wants
from bedwright.planning.timing import dated
from bedwright.planning.timing_model import GardenDates
from bedwright.reference import Library
from bedwright.season.totals import ShedTotal, on_hand, prices_stated, shed_totals
from bedwright.season.wished import settled


@dataclass(frozen=True)
class SeasonBlend:
    """What all beds are given, as of a day, with nothing else of their season worked.

    ``document`` has this season's pins as wants; ``dated`` is the same with the best day for each
    want that states none. ``dates`` are those of every want, None where the document says nothing
    of the weather or where none was needed. ``prescriptions`` are in the order of ``bed_wants``,
    ``totals`` what they take of each material.
    """

    document: Document
    dated: Document
    library: Library
    as_of: date
    dates: GardenDates | None
    prescriptions: tuple[Prescription, ...]
    shared: GardenBlend
    totals: tuple[ShedTotal, ...]

    @property
    def prices_stated(self) -> bool:
        """Whether the gardener states any price, so that money means money."""
        return prices_stated(self.document)


def assessments(
    document: Document, library: Library, as_of: date
) -> tuple[tuple[Assessment, ...], Library]:
    """Every bed with a crop wanted, assessed in the garden's order, and the garden's own tables.

    Where a bed bears two crops in the year, the second ones come after all first ones.
    A want without a day of setting out is taken at an early one; see
    :func:`bedwright.planning.timing.dated` for one by the weather.
    """
    own = library_of(document, library)

    def first(at: int | None) -> str | None:
        return None if at is None else own.crop(document.key("want", at, "crop"))["name"].lower()

    found = tuple(
        assess(
            document,
            each.want,
            each.at,
            each.bed,
            own,
            as_of,
            first=first(each.first_at),
            nth=each.nth,
            part=each.part,
            turn=each.turn,
        )
        for each in bed_wants(document)
    )
    return found, own


def season_blend(
    document: Document,
    library: Library,
    as_of: date,
    *,
    progress: Callable[[str], None] | None = None,
) -> SeasonBlend:
    """The blend of :func:`bedwright.season.season_plan` without the plan around it.

    ``progress`` is told which step begins. Raises WeatherError for a weather file that can't be
    used, where a day has to be found by the weather.
    """
    tell = progress or (lambda _: None)
    document, _, _ = settled(document, library, as_of, tell)
    found = blended(document, library, as_of, tell, all_dates=False)
    tell("writing the plan")
    return found


def blended(
    document: Document,
    library: Library,
    as_of: date,
    tell: Callable[[str], None],
    *,
    all_dates: bool = True,
) -> SeasonBlend:
    """The blend of a document whose wishes are settled.

    Without ``all_dates`` the dates are worked only where a want states no day. Raises WeatherError
    for a weather file that can't be used.
    """
    tell("assessing the beds")
    stated = with_pins(document, library_of(document, library), as_of)
    days, dates = stated, None
    if all_dates or any(want.set_out is None for want in stated.garden.want):
        days, dates = dated(stated, library, as_of)
    assessed, own = assessments(days, library, as_of)
    tell("blending for the whole garden")
    shared = garden_blend(days, assessed, own)
    prescriptions = tuple(prescription_of(x, shared.by_planting[x.planting]) for x in assessed)
    totals = shed_totals(prescriptions, shared, on_hand(days, own))
    return SeasonBlend(stated, days, own, as_of, dates, prescriptions, shared, totals)
