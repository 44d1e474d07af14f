"""The garden drawn to scale, with each bed's state and its seasons; numbers of the whole garden."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import path

from bedwright.garden.failed import open_wants
from bedwright.language import named
from bedwright.season import BedPlan, SeasonPlan
from bedwright.web.bed_states import bed_states, last_season, standing_crops, state_words
from bedwright.web.beds.form import BedForm
from bedwright.web.drawn.garden import WIDTHS, garden_drawn
from bedwright.web.figures import garden_figures
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, plan_or_work, with_standing, years_or_work
from bedwright.web.views.parts import urls_of
from bedwright.web.views.working import show_working
from bedwright.web.years_told import UnitSeasons, seasons_told


@dataclass(frozen=True)
class BedLine:
    """One bed in the list under the drawing."""

    id: str
    state: str
    crop: str
    planted: date | None
    last: tuple[str, int] | None
    seasons: Sequence[UnitSeasons] = ()


@with_standing
def garden(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's first page."""
    plan, _ = plan_or_work(standing)
    document = standing.document
    states = bed_states(document, plan, standing.as_of)
    stands = standing_crops(document, plan, standing.as_of)
    planned = {each.prescription.bed.id: each for each in plan.beds} if plan is not None else {}
    wants = document.garden.want
    wanted = {bed: wants[places[-1]].crop for bed, places in open_wants(document.garden).items()}
    blocks: dict[str, list[BedLine]] = {}
    names = {each.id: each.name for each in document.garden.block}
    years, job = years_or_work(standing, ask=False)
    told = seasons_told(years, document, standing.library) if years is not None else {}
    for bed in document.garden.bed:
        shown = planned.get(bed.id)
        crop = shown.prescription.crop.name if shown else wanted.get(bed.id, "")
        block = names.get(bed.block or "", "") or ""
        blocks.setdefault(block, []).append(
            BedLine(
                bed.id,
                state_words(states[bed.id], stands.get(bed.id)),
                named(crop.replace("_", " ")).lower() if shown else named(crop.replace("_", " ")),
                _planted(plan, shown) if plan is not None and shown else None,
                last_season(document, bed.id),
                told.get(bed.id, ()),
            )
        )
    drawings = {name: garden_drawn(standing, states, stands, name) for name in WIDTHS}
    return page(request, "garden.html", standing, drawings=drawings, blocks=blocks.items(),
                years=years, job=job)  # fmt: skip


def _planted(plan: SeasonPlan, bed: BedPlan) -> date | None:
    """The day on which a bed is to be planted; None where it is not known."""
    return next((each.day for each in plan.planting_days_of(bed)), None)


@with_standing
def working(request: HttpRequest, standing: Standing, key: str) -> HttpResponse:
    """The working of one number of the whole garden."""
    plan, _ = plan_or_work(standing)
    figure = garden_figures(plan).get(key) if plan is not None else None
    if plan is None or figure is None:
        raise Http404
    return show_working(request, figure, plan, standing.system)


URLS = [
    path("garden/", garden, name="garden"),
    path("garden/working/<str:key>/", working, name="garden-working"),
    *urls_of(BedForm(), "garden/bed/"),
]
