"""The season plan made: a garden document and a day in, what each bed gets out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date

from bedwright.garden import Document
from bedwright.planning.assignment.ahead import years_ahead
from bedwright.planning.assignment.lit import light_of
from bedwright.planning.drained import Drained
from bedwright.planning.habits import habits
from bedwright.planning.heap import compost_quality, heap_plan
from bedwright.planning.labels import label_rates, missing_tests
from bedwright.planning.layout.bed import bed_layouts
from bedwright.planning.layout.plantings import grounds_of
from bedwright.planning.manure_dates import manure_dates, raw_manure_about
from bedwright.planning.mixes import mixes
from bedwright.planning.prescription import Prescription
from bedwright.planning.second_crops import BedWant, bed_wants, turnover_days
from bedwright.planning.shared_ground import ground_held, still_standing
from bedwright.planning.summer.ahead import summer_ahead
from bedwright.planning.supply import rested_course
from bedwright.planning.watering.garden_water import GardenWater, garden_water
from bedwright.planning.work.model import Act
from bedwright.reference import Library
from bedwright.season.blend import blended
from bedwright.season.model import BedPlan, SeasonPlan
from bedwright.season.totals import revisions
from bedwright.season.wished import settled


def season_plan(
    document: Document,
    library: Library,
    as_of: date,
    *,
    only: str | None = None,
    ahead: bool = True,
    quick: bool = False,
    progress: Callable[[str], None] | None = None,
    acts: Sequence[Act] = (),
) -> SeasonPlan:
    """Plan every bed that has a crop wanted; show all of them, or the one called ``only``.

    The shed is shared, so all beds are blended together even where one is shown. ``ahead`` plans
    the years ahead too, where the document has a ``[rotation]``. ``progress`` is told which step
    begins; ``acts`` is what the journal tells of done work. A ``quick`` plan leaves out the years
    ahead, and takes the first good schedule of the work: it says so. Raises LookupError for an
    unknown bed, WeatherError for a weather file that can't be used.
    """
    ids = [bed.id for bed in document.garden.bed]
    if only is not None and only not in ids:
        raise LookupError(f"there is no bed {only!r}; beds: {', '.join(ids)}")
    tell = progress or (lambda _: None)
    document, years, assumed = settled(document, library, as_of, tell)
    if not ahead or quick or only is not None:
        years = None
    asked, blend = document, blended(document, library, as_of, tell)
    document, own, dates = blend.dated, blend.library, blend.dates
    garden = document.garden
    grounds = grounds_of(document, own, dates)
    water = None
    if dates is not None and dates.weather is not None:
        tell("working out the water")
        water = garden_water(document, own, as_of, as_of, bed=only, dates=dates, grounds=grounds)
    tell("following the nitrogen")
    manured = raw_manure_about(document, own)

    def bed_plan(wanted: BedWant, plan: Prescription) -> BedPlan:
        at, want = wanted.at, wanted.want
        return BedPlan(
            plan,
            habits(plan, own),
            label_rates(plan, own) if plan.evidence.report is None else (),
            missing_tests(plan),
            rested_course(plan, garden.climate, garden.watering, own, _drained(water, plan)),
            manure_dates(document, want, at, plan.bed.id, own) if manured else None,
            dates.wants[at] if dates is not None and dates.wants else None,
        )

    made = [
        bed_plan(wanted, plan)
        for wanted, plan in zip(bed_wants(document), blend.prescriptions, strict=True)
        if only is None or plan.bed.id == only
    ]
    made = _told_apart(made, turnover_days(garden))
    plans = tuple(each for each in made if each.prescription.nth == 0)
    tell("laying the rows")
    shown = {each.prescription.bed.id for each in plans}
    layouts = tuple(each for bed in ids if bed in shown for each in bed_layouts(grounds, bed))
    tell("looking at the summer")
    summer = summer_ahead(document, own, dates, as_of, layouts, bed=only, sun=grounds.sun)
    if ahead and not quick and only is None and garden.rotation is not None and years is None:
        tell("planning the years ahead")
        known = None if dates is None else dates.weather
        light = light_of(asked, library)
        years = years_ahead(asked, library, as_of, light=light, weather=known)
    tell("writing the plan")
    planned = {plan.bed.id for plan in blend.prescriptions}
    unplanned = tuple(bed for bed in ids if bed not in planned and (only is None or bed == only))
    return SeasonPlan(
        blend.document,
        own,
        as_of,
        plans,
        unplanned,
        mixes(document, own),
        tuple(heap_plan(heap, own) for heap in garden.heap),
        tuple(compost_quality(report, own) for report in garden.compost_report),
        blend.shared,
        dates,
        blend.totals,
        revisions(),
        tuple(each for each in made if each.prescription.nth > 0),
        layouts,
        years,
        water,
        summer,
        tuple(acts),
        assumed=assumed,
        quick=quick,
    )


def _told_apart(made: Sequence[BedPlan], turnover: int) -> list[BedPlan]:
    """The plantings, each told what still stands on its ground when it is to start."""
    held = [ground_held(each.prescription, each.nitrogen, each.dates, turnover) for each in made]
    return [
        replace(
            each,
            prescription=replace(each.prescription, findings=(*said, *each.prescription.findings)),
        )
        if said
        else each
        for each, said in zip(made, still_standing(held), strict=True)
    ]


def _drained(water: GardenWater | None, plan: Prescription) -> Drained | None:
    """What the bed's water balance tells its nitrogen."""
    found = None if water is None else water.stand_of(plan.bed.id, plan.crop.key)
    return None if found is None else found.drained
