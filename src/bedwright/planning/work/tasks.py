"""Every act of the season as a task, from the parts of the plan."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from bedwright.garden import Document
from bedwright.garden.model_water import Mulch
from bedwright.garden.model_work import Work as Stated
from bedwright.planning.findings import Finding, finding
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.second_crops import bed_wants
from bedwright.planning.shed import kilograms
from bedwright.planning.work.bed_days import Grown, bed_days
from bedwright.planning.work.before_planting import prepare
from bedwright.planning.work.making import Maker, never_cold
from bedwright.planning.work.model import Task
from bedwright.planning.work.planting import plant
from bedwright.planning.work.rates import Rates
from bedwright.planning.work.tending import grow
from bedwright.planning.work.whole_garden import garden_tasks
from bedwright.reference import Library

_STARTS = frozenset({"set_out", "sow", "plant"})


def tasks_of(
    document: Document,
    library: Library,
    plantings: Sequence[Grown],
    shade_from: Mapping[str, date] | None = None,
    cold: Callable[[date], bool] = never_cold,
) -> tuple[tuple[Task, ...], tuple[Finding, ...]]:
    """The tasks of all plantings and of the whole garden, and what is to be said of them.

    Parameters
    ----------
    document, library : the garden, and the tables under its own facts
    plantings : first crops and second ones, with their prescriptions, dates and layouts
    shade_from : by planting as ``bed/crop``, the day from which it wants shade
    cold : whether a week, by its Monday, is too cold for anything to grow

    A planting without a day has no tasks; that is said. Raises LookupError where a table lacks a
    time or rule.
    """
    garden = document.garden
    stated = garden.work or Stated()
    rates = Rates(library, tuple(garden.labor_time))
    tables = timing_tables(library)
    drips = garden.watering is None or garden.watering.method != "overhead"
    packages = _packages(document, library)
    found: list[Finding] = []
    makers: list[Maker] = []
    for grown in plantings:
        days = bed_days(grown, tables, library)
        if days is None:
            name = grown.prescription.crop.name.lower()
            found.append(finding("work_not_dated", "doubt", bed=grown.bed, crop=name))
            continue
        maker = Maker(
            grown, days, rates, stated, library, garden.garden,
            fork_found=_fork_found(document, grown.bed), packages=packages,
            shade_from=(shade_from or {}).get(f"{grown.bed}/{grown.crop}"),
            cold=cold, mulch=_mulch(document, grown),
        )  # fmt: skip
        prepare(maker)
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


def _mulch(document: Document, grown: Grown) -> Mulch | None:
    """What is stated to cover a planting: of its want, else of its bed, else of all beds."""
    wants = [each for each in bed_wants(document) if each.bed.id == grown.bed]
    second = grown.prescription.first is not None
    want = next((each.want for each in wants if (each.first_at is not None) == second), None)
    if want is not None and want.mulch is not None:
        return want.mulch
    bed, watering = grown.prescription.bed, document.garden.watering
    return bed.mulch or (None if watering is None else watering.mulch)


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
