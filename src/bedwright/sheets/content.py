"""What a bed's sheet says, in finished words: no sizes, no places on the paper."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from bedwright.drawings import bed_drawing
from bedwright.garden import Bed
from bedwright.language import named
from bedwright.planning.findings import Finding
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.prescription import Line
from bedwright.planning.watering.stand_water import StandWater
from bedwright.reports.bed_why import decided_lines, why_lines
from bedwright.reports.days_said import day_words, day_year_words
from bedwright.reports.fill import sentence
from bedwright.reports.spreading_text import (
    amount_words,
    into_words,
    near_stems,
    worked_in,
)
from bedwright.reports.turnover_said import sheet_words
from bedwright.reports.water_schedule import (
    bed_water_lines,
    before_told,
    months_told,
    rules_told,
)
from bedwright.reports.words_dates import DATES
from bedwright.reports.words_water import WATER_PLAN
from bedwright.season import BedPlan, SeasonPlan
from bedwright.sheets.back import Back, sheet_back
from bedwright.sheets.bed_layout import drawn_rows, rows_told
from bedwright.sheets.days import Day, dressing_days, sheet_days, spread_day
from bedwright.units import UnitSystem, show

Words = Mapping[str, str]

# What is to be known when the side-dressing is due, not before anything is spread.
_OF_LATER = frozenset(
    "keep_back nitrogen_may_run_short nitrogen_runs_short side_dress_more".split()
)
_URGENT = frozenset({"act", "caution"})
# What concerns the plan and the shed, not the hand in the bed: told among the reasons.
_OF_THE_PLAN = frozenset(
    "compost_wish_refused demands_clash no_source_in_shed own_rate_above_most"
    " own_rate_against_advice own_rate_refused salt_costs_yield".split()
)
_DRAWING_PX, _DRAWING_TALL_PX = 590.0, (350.0, 280.0, 205.0)


@dataclass(frozen=True)
class Task:
    """One material to spread; ``cautions`` and ``into`` are empty where there is none to tell."""

    cautions: str
    amount: str
    material: str
    measure: str
    into: str


@dataclass(frozen=True)
class Spreading:
    """One round of spreading.

    ``times`` has the words of each time that it is done: a tick box and room for the actual
    amount stand by each; one empty text where it is done once and its day is in the heading.
    """

    heading: str
    lead: str
    tasks: tuple[Task, ...]
    times: tuple[str, ...] = ("",)
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class SheetWater:
    """A planting's drip by month: ``months`` over the columns; each of ``rows`` has its word and a
    cell for each month. ``short`` is the same in one line; ``rules`` hold in heat and after rain,
    ``before`` is what is done before planting and until seed is up.
    """

    heading: str
    months: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    short: str
    rules: tuple[str, ...]
    before: tuple[str, ...]


@dataclass(frozen=True)
class SheetContent:
    """All words of one bed's sheet.

    ``first`` is read before anything is spread; ``rows`` tells how the rows lie and what they
    take, ``rows_caution`` what to mind when posts are driven; ``why`` are the reasons,
    ``why_short`` those that remain where the page is full. ``drawings`` are one drawing in SVG
    text, the largest first: of a long bed all alike. ``labels`` are the fixed words. ``water`` is
    None where the weather or the dates do not tell it; ``back`` None where none is asked for.
    """

    bed: str
    crop: str
    title: str
    about: str
    plan_of: str
    note: str
    first: tuple[str, ...]
    spreading: tuple[Spreading, ...]
    days: tuple[Day, ...]
    rows: tuple[str, ...]
    rows_caution: str
    not_to_add: tuple[str, ...]
    why: tuple[str, ...]
    why_short: tuple[str, ...]
    drawings: tuple[str, ...]
    drawing_told: str
    labels: Words
    water: SheetWater | None = None
    back: Back | None = None


def sheet_content(
    plan: SeasonPlan,
    bed_id: str,
    words: Words,
    system: UnitSystem,
    *,
    back: bool = False,
) -> SheetContent:
    """The sheet of a planned bed, with ``back`` its back too.

    ``words`` are :data:`bedwright.reports.words_spreading.SHEET_WORDS` and those of the drawings
    together, or their translation. Raises LookupError for a bed that the plan does not show.
    """
    shown = {each.prescription.bed.id: each for each in plan.beds}
    if bed_id not in shown:
        raise LookupError(f"no crop is wanted for bed {bed_id!r}")
    bed_plan = shown[bed_id]
    prescribed = bed_plan.prescription
    bed, place = prescribed.bed, plan.document.garden.garden
    crop = named(prescribed.crop.name).lower()
    about = words["about"].format(
        area=show(prescribed.evidence.area.value, "area", system),
        kind=words["raised" if bed.kind == "raised" else "in_ground"],
        texture=named(prescribed.evidence.texture.replace("_", " ")),
    )
    of_the_plan = _urgent(bed_plan, system, of_the_plan=True)
    layout = plan.layout_of(bed_plan)
    planted = plan.planting_days_of(bed_plan)
    rows, rows_caution = ((), "") if layout is None else rows_told(layout, system)
    return SheetContent(
        bed=bed.id,
        crop=crop,
        title=words["bed"].format(bed=bed.id),
        about=about,
        plan_of=words["as_of"].format(garden=place.name, as_of=day_year_words(plan.as_of)),
        note=place.note or "",
        first=_urgent(bed_plan, system, of_the_plan=False),
        spreading=_spreading(bed_plan, words, system, layout),
        days=(*_coming_out(plan, bed_plan, words), *sheet_days(bed_plan, words, layout, planted)),
        rows=rows,
        rows_caution=rows_caution,
        not_to_add=_not_to_add(bed_plan, system),
        why=(*of_the_plan, *why_lines(prescribed, system)),
        why_short=(*of_the_plan, *decided_lines(prescribed, system, prices=False)),
        drawings=_drawings(plan, bed, crop, words, system, layout),
        drawing_told=words["drawing"].format(bed=bed.id, about=about),
        labels=words,
        water=_water(plan.water_of(bed_plan), system),
        back=sheet_back(plan, bed.id) if back else None,
    )


def _coming_out(plan: SeasonPlan, bed_plan: BedPlan, words: Words) -> Iterator[Day]:
    """What stands in the bed now, with the day by which it is out and where it goes."""
    for each in plan.turnover_of(bed_plan):
        clear = each.next.clear
        when = "" if clear is None else words["by"].format(day=day_words(clear))
        if clear is not None:
            when = DATES["day_year"].format(day=when, year=clear.year)
        yield Day(when, *sheet_words(each))


def _water(stand: StandWater | None, system: UnitSystem) -> SheetWater | None:
    """The drip of a planting; None where no month needs any."""
    months = () if stand is None else months_told(stand, system)
    if stand is None or not months:
        return None
    each = "sheet_minutes" if stand.lines is not None else "sheet_depth"
    rows = [(WATER_PLAN[each], *(f"{one.runs} x {one.each}" for one in months))]
    before = list(before_told(stand, system))
    if any(one.zone for one in months):
        rows.append((WATER_PLAN["sheet_of_zone"], *(one.zone for one in months)))
        before.append(WATER_PLAN["sheet_zone"])
    told, *_ = bed_water_lines(stand, system)
    return SheetWater(
        WATER_PLAN["title"],
        tuple(one.month for one in months),
        tuple(rows),
        told,
        rules_told(stand, system),
        tuple(before),
    )


def _drawings(
    plan: SeasonPlan,
    bed: Bed,
    crop: str,
    words: Words,
    system: UnitSystem,
    layout: BedLayout | None,
) -> tuple[str, ...]:
    found = (
        bed_drawing(
            bed,
            crop=crop,
            last_crop=_last_crop(plan, bed.id, words),
            system=system,
            words=words,
            rows=() if layout is None else drawn_rows(layout),
            width_px=_DRAWING_PX,
            height_px=tall,
        )
        for tall in _DRAWING_TALL_PX
    )
    return tuple(dict.fromkeys(found))


def _last_crop(plan: SeasonPlan, bed: str, words: Words) -> str | None:
    """The crop of the last season that the history tells of, with its year."""
    told = [
        (each.year, each.crop)
        for each in plan.document.garden.history
        if each.bed == bed and each.crop is not None
    ]
    if not told:
        return None
    year, crop = max(told, key=lambda each: each[0])
    return words["last_crop"].format(crop=named(crop), year=year)


def _urgent(plan: BedPlan, system: UnitSystem, *, of_the_plan: bool) -> tuple[str, ...]:
    """Acts and cautions: those that the hand in the bed must know, or those of the plan."""
    found = (
        each
        for each in plan.findings
        if each.weight in _URGENT
        and each.code not in _OF_LATER
        and (each.code in _OF_THE_PLAN) == of_the_plan
    )
    return tuple(dict.fromkeys(sentence(each, system) for each in found))


def _spreading(
    plan: BedPlan, words: Words, system: UnitSystem, layout: BedLayout | None
) -> tuple[Spreading, ...]:
    lines = plan.prescription.lines
    notes = _sentences(plan.nitrogen.findings, _OF_LATER, system)
    if not lines:
        return (Spreading(words["nothing"], words["nothing_told"], (), (), notes),)
    found = [_before(plan, words, system)]
    later = [each for each in lines if each.later.value > 0]
    if later:
        found.append(_later(plan, later, words, system, layout, notes))
    elif notes:
        found[-1] = replace(found[-1], notes=notes)
    return tuple(found)


def _before(plan: BedPlan, words: Words, system: UnitSystem) -> Spreading:
    before = [each for each in plan.prescription.lines if each.preplant.value > 0]
    if not before:
        return Spreading(words["before"], words["nothing_before"], (), ())
    # What goes deep first: it would bury what is only raked in.
    before.sort(key=lambda each: not worked_in(each))
    by = spread_day(plan)
    tasks = (
        _task(each, each.preplant.value, system, into_words(each, plan.prescription, system))
        for each in before
    )
    heading = words["before"] if by is None else words["before_by"].format(day=day_words(by))
    if len(before) > 1:
        heading = words["in_order"].format(heading=heading)
    return Spreading(heading, "", tuple(tasks))


def _later(
    plan: BedPlan,
    later: list[Line],
    words: Words,
    system: UnitSystem,
    layout: BedLayout | None,
    notes: tuple[str, ...],
) -> Spreading:
    count = max(plan.prescription.nitrogen.side_dressings, 1)
    near = near_stems(system, layout)
    near = near[:1].upper() + near[1:]
    return Spreading(
        words["later_one"] if count == 1 else words["later_many"].format(count=count),
        words["one_time" if count == 1 else "each_time"].format(near=near),
        tuple(_task(each, each.later.value / count, system, "") for each in later),
        tuple(words["on_or_about"].format(day=day_words(each)) for each in dressing_days(plan))
        or (words["undated"],) * count,
        notes,
    )


def _task(line: Line, mass_kg: float, system: UnitSystem, into: str) -> Task:
    said = amount_words(line, mass_kg, system, into)
    return Task(said.cautions, said.mass, said.material, said.measure, said.into)


def _sentences(
    found: tuple[Finding, ...], codes: frozenset[str], system: UnitSystem
) -> tuple[str, ...]:
    return tuple(sentence(each, system) for each in found if each.code in codes)


def _not_to_add(plan: BedPlan, system: UnitSystem) -> tuple[str, ...]:
    """The materials' names alone, then what holds for raw manure; the reasons are in the plan."""
    names = ", ".join(named(each.material.name).lower() for each in plan.prescription.strikes)
    lines = [f"{names[:1].upper()}{names[1:]}."] if names else []
    for each in plan.manure.findings if plan.manure is not None else ():
        if each.weight == "note":
            lines.append(sentence(each, system))
    return tuple(lines)
