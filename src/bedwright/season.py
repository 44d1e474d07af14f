"""The season plan: a garden document and a day in, what each bed gets out."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

from bedwright import __version__
from bedwright.feeding.materials import material
from bedwright.garden import Document
from bedwright.planning.assessment import Assessment, assess
from bedwright.planning.assignment.ahead import years_ahead
from bedwright.planning.assignment.lit import light_of
from bedwright.planning.assignment.result import YearsAhead
from bedwright.planning.findings import Finding
from bedwright.planning.garden_blend import GardenBlend, Purchase, garden_blend
from bedwright.planning.habits import Habit, habits
from bedwright.planning.heap import CompostQuality, HeapPlan, compost_quality, heap_plan
from bedwright.planning.labels import LabelRate, label_rates, missing_tests
from bedwright.planning.layout.bed import bed_layouts
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.layout.plantings import grounds_of
from bedwright.planning.manure_dates import ManureDates, manure_dates, raw_manure_about
from bedwright.planning.mixes import MixResult, mixes
from bedwright.planning.own import library_of
from bedwright.planning.prescription import Prescription, prescription_of
from bedwright.planning.second_crops import BedWant, bed_wants, still_standing, turnover_days
from bedwright.planning.shed import kilograms
from bedwright.planning.supply import NitrogenCourse, rested_course
from bedwright.planning.timing import dated
from bedwright.planning.timing_model import GardenDates, WantDates
from bedwright.reference import Library
from bedwright.reference.tables import COLUMNS, shipped

PLAN_FORMAT = 1


@dataclass(frozen=True)
class BedPlan:
    """One bed's prescription with the rules of thumb beside it.

    ``labels`` and ``missing`` are filled for beds whose report lacks tests. ``nitrogen`` is the
    course of the bed's nitrogen by week; ``manure`` the dates of the raw-manure interval, None
    in a garden without raw manure. ``dates`` are those of planting, None where the document says
    nothing of the weather.
    """

    prescription: Prescription
    habits: tuple[Habit, ...]
    labels: tuple[LabelRate, ...]
    missing: tuple[tuple[str, str], ...]
    nitrogen: NitrogenCourse
    manure: ManureDates | None
    dates: WantDates | None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is to be said of the bed: of its prescription, nitrogen, manure and dates."""
        manure = self.manure.findings if self.manure is not None else ()
        dates = self.dates.findings if self.dates is not None else ()
        return (*self.prescription.findings, *self.nitrogen.findings, *manure, *dates)


@dataclass(frozen=True)
class ShedTotal:
    """What the whole garden takes of one material [kg], what is on hand, and what is bought.

    ``price_stated`` tells whether the document gives its price; the sum to pay leaves it out if
    not.
    """

    key: str
    name: str
    needed_kg: float
    on_hand_kg: float | None
    bought: tuple[Purchase, ...]
    price_stated: bool

    @property
    def cost(self) -> float:
        """The price of the packages to buy."""
        return sum(each.count * each.price for each in self.bought)


@dataclass(frozen=True)
class SeasonPlan:
    """The plan of a garden for a season, as of a day. The day is given, never taken from a clock.

    ``beds`` are those shown, each with its crop, the year's first where it bears two; ``second``
    are the second crops of these. ``shared`` is the blend of all of them. ``dates`` are those of
    every want, None where the document says nothing of the weather; ``layouts`` the rows of the
    shown beds' plantings. ``years`` is which crop goes where in the years ahead, None where the
    document doesn't ask for it, for one bed alone, or where it is worked apart. ``tables`` names
    the revision of each reference table that was used.
    """

    document: Document
    library: Library
    as_of: date
    beds: tuple[BedPlan, ...]
    unplanned: tuple[str, ...]
    mixes: tuple[MixResult, ...]
    heaps: tuple[HeapPlan, ...]
    composts: tuple[CompostQuality, ...]
    shared: GardenBlend
    dates: GardenDates | None
    totals: tuple[ShedTotal, ...]
    tables: dict[str, str]
    second: tuple[BedPlan, ...] = ()
    layouts: tuple[BedLayout, ...] = ()
    years: YearsAhead | None = None
    version: str = __version__

    @property
    def plantings(self) -> tuple[BedPlan, ...]:
        """First crops and second ones together."""
        return (*self.beds, *self.second)

    def layout_of(self, planting: BedPlan) -> BedLayout | None:
        """The layout of a planting's rows; None where none could be made."""
        prescribed = planting.prescription
        return next(
            (
                each
                for each in self.layouts
                if each.planting.bed.id == prescribed.bed.id
                and each.planting.crop.key == prescribed.crop.key
            ),
            None,
        )

    @property
    def complete(self) -> bool:
        """Whether every bed that is planned is also shown."""
        return len(self.plantings) == len(self.shared.by_planting)

    @property
    def prices_stated(self) -> bool:
        """Whether the gardener states any price, so that money means money."""
        return any(each.price is not None for each in self.document.garden.stock)


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
        assess(document, each.want, each.at, each.bed, own, as_of, first=first(each.first_at))
        for each in bed_wants(document)
    )
    return found, own


def season_plan(
    document: Document,
    library: Library,
    as_of: date,
    *,
    only: str | None = None,
    ahead: bool = True,
    progress: Callable[[str], None] | None = None,
) -> SeasonPlan:
    """Plan every bed that has a crop wanted; show all of them, or the one called ``only``.

    The shed is shared, so all beds are blended together even where one is shown. ``ahead`` plans
    the years ahead too, where the document has a ``[rotation]``. ``progress`` is told which step
    begins. Raises LookupError for an unknown bed, WeatherError for a weather
    file that can't be used.
    """
    ids = [bed.id for bed in document.garden.bed]
    if only is not None and only not in ids:
        raise LookupError(f"there is no bed {only!r}; beds: {', '.join(ids)}")
    tell = progress or (lambda _: None)
    tell("assessing the beds")
    stated = document
    document, dates = dated(stated, library, as_of)
    assessed, own = assessments(document, library, as_of)
    tell("blending for the whole garden")
    shared = garden_blend(document, assessed, own)
    prescriptions = [prescription_of(each, shared.by_planting[each.planting]) for each in assessed]
    tell("following the nitrogen")
    garden = document.garden
    manured = raw_manure_about(document, own)

    def bed_plan(wanted: BedWant, plan: Prescription) -> BedPlan:
        at, want = wanted.at, wanted.want
        if wanted.first_at is not None and dates is not None and dates.wants:
            standing = still_standing(
                dates.wants[wanted.first_at], plan.first or "", plan.season, turnover_days(garden)
            )
            plan = replace(plan, findings=(*standing, *plan.findings))
        return BedPlan(
            plan,
            habits(plan, own),
            label_rates(plan, own) if plan.evidence.report is None else (),
            missing_tests(plan),
            rested_course(plan, garden.climate, garden.watering, own),
            manure_dates(document, want, at, plan.bed.id, own) if manured else None,
            dates.wants[at] if dates is not None and dates.wants else None,
        )

    made = [
        bed_plan(wanted, plan)
        for wanted, plan in zip(bed_wants(document), prescriptions, strict=True)
        if only is None or plan.bed.id == only
    ]
    plans = tuple(each for each in made if each.prescription.first is None)
    tell("laying the rows")
    grounds = grounds_of(document, own, dates)
    shown = {each.prescription.bed.id for each in plans}
    layouts = tuple(each for bed in ids if bed in shown for each in bed_layouts(grounds, bed))
    years = None
    if ahead and only is None and garden.rotation is not None:
        tell("planning the years ahead")
        years = years_ahead(stated, library, as_of, light=light_of(stated, library))
    tell("writing the plan")
    planned = {plan.bed.id for plan in prescriptions}
    unplanned = tuple(bed for bed in ids if bed not in planned and (only is None or bed == only))
    return SeasonPlan(
        stated,
        own,
        as_of,
        plans,
        unplanned,
        mixes(document, own),
        tuple(heap_plan(heap, own) for heap in garden.heap),
        tuple(compost_quality(report, own) for report in garden.compost_report),
        shared,
        dates,
        _totals(prescriptions, shared, _on_hand(document, own)),
        revisions(),
        tuple(each for each in made if each.prescription.first is not None),
        layouts,
        years,
    )


def _on_hand(document: Document, library: Library) -> dict[str, float]:
    """What the stock list counts of each material [kg], over all its lines."""
    found: dict[str, float] = {}
    for at, stock in enumerate(document.garden.stock):
        item = material(library, document.key("stock", at, "material"))
        mass = kilograms(stock.on_hand, item, library)
        if mass is not None:
            found[item.key] = found.get(item.key, 0.0) + mass
    return found


def _totals(
    plans: list[Prescription], shared: GardenBlend, on_hand: dict[str, float]
) -> tuple[ShedTotal, ...]:
    needed: dict[str, float] = {}
    names: dict[str, str] = {}
    priced: dict[str, bool] = {}
    for plan in plans:
        for line in plan.lines:
            key = line.material.key
            needed[key] = needed.get(key, 0.0) + line.preplant.value + line.later.value
            names[key] = line.material.name
            priced[key] = line.offer.price_stated
    for purchase in shared.purchases:
        needed.setdefault(purchase.key, 0.0)
        names.setdefault(purchase.key, purchase.name)
    found = [
        ShedTotal(
            key,
            names[key],
            mass,
            on_hand.get(key),
            tuple(each for each in shared.purchases if each.key == key),
            priced.get(key, True),
        )
        for key, mass in needed.items()
    ]
    return tuple(sorted(found, key=lambda each: -each.needed_kg))


def revisions() -> dict[str, str]:
    """The revision of each reference table: the start of the SHA-256 of its text."""
    return {
        table: hashlib.sha256(shipped(table).encode("utf-8")).hexdigest()[:12]
        for table in sorted((*COLUMNS, "sources"))
    }
