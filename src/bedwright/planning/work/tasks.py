"""Every act of the season as a task, from the parts of the plan."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from bedwright.garden import Document
from bedwright.garden.model_work import Work as Stated
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.failed import failed_said
from bedwright.planning.findings import Finding, finding
from bedwright.planning.harvest.model import HarvestPlan, PlantingHarvest
from bedwright.planning.harvest.wants import companion_at, want_at
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.purchases.needs import raised_shares
from bedwright.planning.shed import kilograms
from bedwright.planning.turnover.model import Turnover
from bedwright.planning.watering.mulch import stated_mulch
from bedwright.planning.work.bed_days import Grown, bed_days
from bedwright.planning.work.before_planting import prepare
from bedwright.planning.work.failed import failed_tasks
from bedwright.planning.work.making import Maker, never_cold
from bedwright.planning.work.model import Task
from bedwright.planning.work.planting import plant
from bedwright.planning.work.rates import Rates
from bedwright.planning.work.standing_picks import Bearing, bearing_of, standing_tasks
from bedwright.planning.work.tending import grow
from bedwright.planning.work.undated import fork_test_of, wants_fork_test
from bedwright.planning.work.whole_garden import garden_tasks
from bedwright.reference import Library
from bedwright.working import Figure

_STARTS = frozenset({"set_out", "sow", "plant"})


def tasks_of(
    document: Document,
    library: Library,
    plantings: Sequence[Grown],
    shade_from: Mapping[str, date] | None = None,
    cold: Callable[[date], bool] = never_cold,
    harvest: HarvestPlan | None = None,
    turnover: Sequence[Turnover] = (),
    as_of: date = date.min,
) -> tuple[tuple[Task, ...], tuple[Finding, ...]]:
    """The tasks of all plantings and of the whole garden, and what is to be said of them.

    Parameters
    ----------
    document, library : the garden, and the tables under its own facts
    plantings : first crops and second ones, with their prescriptions, dates and layouts
    shade_from : by planting as ``bed/crop``, the day from which it wants shade
    cold : whether a week, by its Monday, is too cold for anything to grow
    harvest : what the plantings are expected to give; None: each its goal
    turnover : what stands in the beds and must come out
    as_of : the day of planning

    A planting without a day has no tasks; that is said. Raises LookupError where a table lacks a
    time or rule.
    """
    garden = document.garden
    stated = garden.work or Stated()
    rates = Rates(library, tuple(garden.labor_time))
    tables = timing_tables(library)
    drips = garden.watering is None or garden.watering.method != "overhead"
    packages = _packages(document, library)
    found: list[Finding] = [*failed_said(document, library)]
    makers: list[Maker] = []
    undated: list[Task] = []
    dated = [(each, bed_days(each, tables, library)) for each in plantings]
    raised = raised_shares(document, library, dated)
    own = _Harvests(harvest)
    bearing = bearing_of(document, library, as_of, turnover, dated, tables)
    clearing: dict[int, Task] = {}
    for grown, days in dated:
        at = want_at(document, grown)
        mine = own.taken(grown.bed, candidate_at(document, library, "want", at).id)
        beside = own.of_companion(document, library, grown, at)
        if days is None:
            name = grown.prescription.crop.name.lower()
            found.append(finding("work_not_dated", "doubt", bed=grown.bed, crop=name))
            if wants_fork_test(grown, _fork_found(document, grown.bed)):
                undated.append(fork_test_of(grown, rates, as_of))
            continue
        maker = Maker(
            grown, days, rates, stated, library, garden.garden,
            fork_found=_fork_found(document, grown.bed), packages=packages,
            shade_from=(shade_from or {}).get(f"{grown.bed}/{grown.prescription.crop.key}"),
            cold=cold, harvest=mine, companion_harvest=beside, as_of=as_of,
            mulch=stated_mulch(document, grown.prescription.bed, document.garden.want[at]),
            stands=tuple(
                each for each in turnover
                if each.bed == grown.bed
                and each.next.nth == grown.prescription.nth
            ),
            ripe=_ripe_of(bearing),
            raised={
                crop: share for (bed, planting, crop), share in raised.items()
                if (bed, planting) == (grown.bed, grown.crop)
            },
        )  # fmt: skip
        prepare(maker)
        clearing |= {each.at: maker.tasks[0] for each in maker.stands}
        plant(maker, drip=drips)
        start = next(each.id for each in maker.tasks if each.kind in _STARTS)
        grow(maker, start)
        makers.append(maker)
        found += maker.said
    if makers and stated.market_hours is None:
        found.append(finding("work_market_not_stated", "assumed"))
    if garden.labor_time:
        found.append(finding("work_own_times", "note", count=float(len(garden.labor_time))))
    tasks = tuple(each for maker in makers for each in maker.tasks)
    picked, said = standing_tasks(bearing, clearing, rates, library)
    found += said
    tasks += (*undated, *failed_tasks(document, rates), *picked)
    return (*tasks, *garden_tasks(makers, rates, stated)), _by_bed_together(found)


def _by_bed_together(found: Sequence[Finding]) -> tuple[Finding, ...]:
    """Findings that differ by their bed alone as one, with all beds."""
    kept: dict[object, list[Finding]] = {}
    for each in found:
        alone = set(each.values) == {"bed"}
        kept.setdefault((each.code, each.weight) if alone else id(each), []).append(each)
    return tuple(
        group[0]
        if len(group) == 1
        else Finding(
            group[0].code,
            group[0].weight,
            {"bed": ", ".join(str(each.values["bed"]) for each in group)},
            group[0].sources,
        )
        for group in kept.values()
    )


def _ripe_of(bearing: Sequence[Bearing]) -> Callable[[int, date], Figure | None]:
    by_place = {each.at: each for each in bearing}

    def ripe(at: int, by: date) -> Figure | None:
        return by_place[at].ripe(by) if at in by_place else None

    return ripe


class _Harvests:
    """The expected harvests of the plantings, each given out once, in the plantings' order."""

    def __init__(self, plan: HarvestPlan | None) -> None:
        self.left = [] if plan is None else [each for crop in plan.crops for each in crop.plantings]

    def taken(self, bed: str, crop: str) -> PlantingHarvest | None:
        """The next harvest of a crop on a bed; None where none is worked."""
        found = next((each for each in self.left if (each.bed, each.crop) == (bed, crop)), None)
        if found is not None:
            self.left.remove(found)
        return found

    def of_companion(
        self, document: Document, library: Library, grown: Grown, at: int
    ) -> PlantingHarvest | None:
        """That of the crop that is laid beside a planting."""
        layout = grown.layout
        if layout is None or layout.planting.companion is None:
            return None
        return self.taken(grown.bed, companion_at(document, library, at).id)


def _fork_found(document: Document, bed: str) -> str | None:
    """What the latest fork test of a bed found."""
    tests = [each for each in document.garden.fork_test if each.bed == bed]
    return max(tests, key=lambda each: each.on).found if tests else None


def _packages(document: Document, library: Library) -> dict[str, float]:
    """The mass of one package of each material of the shed [kg], where it is told."""
    from bedwright.feeding.materials import material

    found: dict[str, float] = {}
    for at, stock in enumerate(document.garden.stock):
        if stock.package is None:
            continue
        item = material(library, document.key("stock", at, "material"))
        mass = kilograms(stock.package, item, library)
        if mass is not None:
            found[item.key] = max(found.get(item.key, 0.0), mass)
    return found
