"""What the season plan holds: a plain structure that shells show."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from bedwright import __version__
from bedwright.garden import Document
from bedwright.planning.assignment.result import YearsAhead
from bedwright.planning.failed import failed_said
from bedwright.planning.findings import Finding, finding
from bedwright.planning.garden_blend import GardenBlend
from bedwright.planning.habits import Habit
from bedwright.planning.harvest.expected import expected_harvest
from bedwright.planning.harvest.model import HarvestPlan
from bedwright.planning.heap import CompostQuality, HeapPlan
from bedwright.planning.labels import LabelRate
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.manure_dates import ManureDates
from bedwright.planning.mixes import MixResult
from bedwright.planning.prescription import Prescription
from bedwright.planning.purchases.model import Purchases
from bedwright.planning.purchases.season_purchases import purchases
from bedwright.planning.summer.model import PlantingSummer, Summer
from bedwright.planning.supply import NitrogenCourse
from bedwright.planning.timing_model import GardenDates, WantDates
from bedwright.planning.turnover import Turnover, turnovers
from bedwright.planning.watering.garden_water import GardenWater
from bedwright.planning.watering.stand_water import StandWater
from bedwright.planning.work.bed_days import Grown, told_apart
from bedwright.planning.work.garden_work import work_of
from bedwright.planning.work.model import Act, Work
from bedwright.planning.work.planting_days import PlantingDay, planting_days
from bedwright.reference import Library
from bedwright.season.totals import ShedTotal, prices_stated

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
class SeasonPlan:
    """The plan of a garden for a season, as of a day. The day is given, never taken from a clock.

    ``beds`` are those shown, each with its crop, the year's first where it bears two; ``second``
    are further plantings of their beds: second and third crops, crops of parts. ``shared`` is the
    blend of all of them. ``dates`` are those of every want, None where the document says nothing
    of the weather; ``layouts`` the rows of the shown beds' plantings. ``water`` is the watering of
    the shown beds, as of the same day, None where the document's weather does not tell it;
    ``summer`` their heat, likewise. ``years`` is which crop goes where in the years ahead, None
    where the document doesn't ask for it, for one bed alone, or where it is worked apart. ``acts``
    is what the journal tells of done work. ``tables`` names the revision of each reference table
    that was used.
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
    assumed: tuple[Finding, ...] = ()
    quick: bool = False
    version: str = __version__

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is to be said of the season as a whole: what it takes for granted, and what was
        lost in it."""
        lost = failed_said(self.document, self.library)
        return (*(self._not_worked() if self.quick else ()), *self.assumed, *lost)

    def _not_worked(self) -> tuple[Finding, ...]:
        """What a quick plan leaves out."""
        ahead = self.document.garden.rotation is not None and self.years is None
        said = (finding("plan_quick", "note"),)
        return (*said, finding("plan_quick_years", "note")) if ahead else said

    @property
    def plantings(self) -> tuple[BedPlan, ...]:
        """First crops and second ones together."""
        return (*self.beds, *self.second)

    def layout_of(self, planting: BedPlan) -> BedLayout | None:
        """The layout of a planting's rows; None where none could be made."""
        wanted = (planting.prescription.bed.id, planting.prescription.at)
        return next((e for e in self.layouts if (e.planting.bed.id, e.planting.at) == wanted), None)

    def water_of(self, planting: BedPlan) -> StandWater | None:
        """The watering of a planting; None where it could not be worked."""
        prescribed = planting.prescription
        if self.water is None:
            return None
        wanted = (prescribed.bed.id, prescribed.at)
        return next((e for e in self.water.stands if (e.stand.bed, e.stand.want) == wanted), None)

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
            self.document, self.library, self.as_of, self.grown, weather, self.acts, hung,
            self.harvest, self.turnover, quick=self.quick,
        )  # fmt: skip

    @cached_property
    def planting_days(self) -> tuple[PlantingDay, ...]:
        """The day of every planting whose day is known: the schedule's where it is laid, so that
        all outputs tell one day; of a plan of one bed alone, which has no schedule, the planned."""
        told = bool(self.acts or self.document.garden.labor_done)
        tables = timing_tables(self.library)
        return planting_days(self.grown, self.library, tables, self.work, told=told)

    def planting_days_of(self, planting: BedPlan) -> tuple[PlantingDay, ...]:
        """Those of one planting, its companion's last; empty where its day is not known."""
        plan = planting.prescription
        wanted = (plan.bed.id, told_apart(plan.crop.key, plan.nth))
        return tuple(each for each in self.planting_days if (each.bed, each.crop) == wanted)

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
            self.document, self.library, self.as_of, self.grown, self.shared, self.summer,
            self.work,
        )  # fmt: skip

    @cached_property
    def turnover(self) -> tuple[Turnover, ...]:
        """The standing crops in the shown beds that are needed, worked when first asked for."""
        return turnovers(self.document, self.library, self.as_of, self.grown)

    def turnover_of(self, planting: BedPlan) -> tuple[Turnover, ...]:
        """What must come out of its bed for a planting."""
        bed, nth = planting.prescription.bed.id, planting.prescription.nth
        return tuple(e for e in self.turnover if e.bed == bed and e.next.nth == nth)

    def work_out(self, progress: Callable[[str], None]) -> None:
        """Work what is worked when first asked for, telling which step begins."""
        for step, part in (
            ("counting the harvest", "harvest"),
            ("laying the work into the weeks", "work"),
            ("listing what to buy", "purchases"),
            ("writing the plan", "turnover"),
        ):
            progress(step)
            getattr(self, part)

    @property
    def complete(self) -> bool:
        """Whether every bed that is planned is also shown."""
        return len(self.plantings) == len(self.shared.by_planting)

    @property
    def prices_stated(self) -> bool:
        """Whether the gardener states any price, so that money means money."""
        return prices_stated(self.document)
