"""The season plan: a garden document and a day in, what each bed gets out."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from bedwright import __version__
from bedwright.feeding.materials import material
from bedwright.garden import Document
from bedwright.planning.assessment import Assessment, assess
from bedwright.planning.assignment.ahead import years_ahead
from bedwright.planning.assignment.lit import light_of
from bedwright.planning.assignment.result import YearsAhead
from bedwright.planning.drained import Drained
from bedwright.planning.findings import Finding
from bedwright.planning.garden_blend import GardenBlend, Purchase, garden_blend
from bedwright.planning.habits import Habit, habits
from bedwright.planning.harvest.expected import expected_harvest
from bedwright.planning.harvest.model import HarvestPlan
from bedwright.planning.heap import CompostQuality, HeapPlan, compost_quality, heap_plan
from bedwright.planning.labels import LabelRate, label_rates, missing_tests
from bedwright.planning.layout.bed import bed_layouts
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.layout.plantings import grounds_of
from bedwright.planning.manure_dates import ManureDates, manure_dates, raw_manure_about
from bedwright.planning.mixes import MixResult, mixes
from bedwright.planning.own import library_of
from bedwright.planning.prescription import Prescription, prescription_of
from bedwright.planning.purchases.model import Purchases
from bedwright.planning.purchases.season_purchases import purchases
from bedwright.planning.second_crops import BedWant, bed_wants, still_standing, turnover_days
from bedwright.planning.shed import kilograms
from bedwright.planning.summer.ahead import summer_ahead
from bedwright.planning.summer.model import PlantingSummer, Summer
from bedwright.planning.supply import NitrogenCourse, rested_course
from bedwright.planning.timing import dated
from bedwright.planning.timing_model import GardenDates, WantDates
from bedwright.planning.turnover import Turnover, turnovers
from bedwright.planning.watering.garden_water import GardenWater, garden_water
from bedwright.planning.watering.stand_water import StandWater
from bedwright.planning.work.bed_days import Grown
from bedwright.planning.work.garden_work import work_of
from bedwright.planning.work.model import Act, Work
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
    shown beds' plantings. ``water`` is the watering of the shown beds, as of the same day, None
    where the document's weather does not tell it; ``summer`` their heat, likewise. ``years`` is
    which crop goes where in the years ahead, None where the document doesn't ask for it, for one
    bed alone, or where it is worked apart. ``acts`` is what the journal tells of done work.
    ``tables`` names the revision of each reference table that was used.
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
    water: GardenWater | None = None
    summer: Summer | None = None
    acts: tuple[Act, ...] = ()
    version: str = __version__

    @property
    def plantings(self) -> tuple[BedPlan, ...]:
        """First crops and second ones together."""
        return (*self.beds, *self.second)

    def layout_of(self, planting: BedPlan) -> BedLayout | None:
        """The layout of a planting's rows; None where none could be made."""
        wanted = (planting.prescription.bed.id, planting.prescription.crop.key)
        found = ((each, each.planting) for each in self.layouts)
        return next((each for each, laid in found if (laid.bed.id, laid.crop.key) == wanted), None)

    def water_of(self, planting: BedPlan) -> StandWater | None:
        """The watering of a planting; None where it could not be worked."""
        prescribed = planting.prescription
        if self.water is None:
            return None
        return self.water.stand_of(prescribed.bed.id, prescribed.crop.key)

    def summer_of(self, planting: BedPlan) -> PlantingSummer | None:
        """The summer of a planting; None where its dates are not known."""
        prescribed = planting.prescription
        if self.summer is None:
            return None
        return self.summer.of(prescribed.bed.id, prescribed.crop.key)

    @cached_property
    def grown(self) -> tuple[Grown, ...]:
        """Every planting with all that is known of it, as work, harvest and purchases need it."""
        return tuple(
            Grown(
                each.prescription, each.nitrogen, each.manure, each.dates, self.layout_of(each),
                each.findings,
            )
            for each in self.plantings
        )  # fmt: skip

    @cached_property
    def work(self) -> Work | None:
        """The tasks of all plantings within the hours there are, worked when first asked for.

        None for a plan of one bed alone.
        """
        if not self.complete:
            return None
        hung = {
            f"{each.bed}/{each.crop}": each.cloth.heat[0]
            for each in (self.summer.plantings if self.summer is not None else ())
            if each.cloth.verdict == "hang" and each.cloth.heat is not None
        }
        weather = None if self.dates is None else self.dates.weather
        return work_of(
            self.document, self.library, self.as_of, self.grown, weather, self.acts, hung
        )

    @cached_property
    def harvest(self) -> HarvestPlan | None:
        """What the plantings are expected to give, worked when first asked for.

        None for a plan of one bed alone.
        """
        if not self.complete:
            return None
        return expected_harvest(self.document, self.library, self.grown)

    @cached_property
    def purchases(self) -> Purchases | None:
        """What the season takes, net of what is on hand, worked when first asked for.

        None for a plan of one bed alone.
        """
        if not self.complete:
            return None
        return purchases(
            self.document, self.library, self.as_of, self.grown, self.shared, self.summer
        )

    @cached_property
    def turnover(self) -> tuple[Turnover, ...]:
        """The standing crops in the shown beds that are needed, worked when first asked for."""
        return turnovers(self.document, self.library, self.as_of, self.grown)

    def turnover_of(self, planting: BedPlan) -> tuple[Turnover, ...]:
        """What must come out of its bed for a planting."""
        bed, second = planting.prescription.bed.id, planting.prescription.first is not None
        return tuple(e for e in self.turnover if e.bed == bed and e.next.second == second)

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
    acts: Sequence[Act] = (),
) -> SeasonPlan:
    """Plan every bed that has a crop wanted; show all of them, or the one called ``only``.

    The shed is shared, so all beds are blended together even where one is shown. ``ahead`` plans
    the years ahead too, where the document has a ``[rotation]``. ``progress`` is told which step
    begins; ``acts`` is what the journal tells of done work. Raises LookupError for an unknown
    bed, WeatherError for a weather file that can't be used.
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
            rested_course(plan, garden.climate, garden.watering, own, _drained(water, plan)),
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
    shown = {each.prescription.bed.id for each in plans}
    layouts = tuple(each for bed in ids if bed in shown for each in bed_layouts(grounds, bed))
    tell("looking at the summer")
    summer = summer_ahead(document, own, dates, as_of, layouts, bed=only, sun=grounds.sun)
    years = None
    if ahead and only is None and garden.rotation is not None:
        tell("planning the years ahead")
        known = None if dates is None else dates.weather
        light = light_of(stated, library)
        years = years_ahead(stated, library, as_of, light=light, weather=known)
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
        water,
        summer,
        tuple(acts),
    )


def _drained(water: GardenWater | None, plan: Prescription) -> Drained | None:
    """What the bed's water balance tells its nitrogen."""
    found = None if water is None else water.stand_of(plan.bed.id, plan.crop.key)
    return None if found is None else found.drained


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
