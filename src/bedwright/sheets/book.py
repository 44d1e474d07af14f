"""The season book: cover, garden, calendar, harvest, bed sheets, purchases, hours, appendix."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import Any

from bedwright.drawings import garden_drawing
from bedwright.drawings.hatching import BedState
from bedwright.language import Words, named
from bedwright.planning.work.model import Task
from bedwright.reports.cited import sources_in
from bedwright.reports.days_said import day_year_words
from bedwright.reports.harvest_text import week_words
from bedwright.reports.purchases_text import item_words, lots_words, when_words
from bedwright.reports.words_book import BOOK
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.reports.words_purchases import BUY
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.reports.words_work import TASKS, WEEK
from bedwright.reports.work_said import bring_words, hours_words, place_words, work_sentence
from bedwright.reports.work_text import choice_words, in_order, left_words
from bedwright.season import SeasonPlan
from bedwright.sheets.content import SheetContent, sheet_content
from bedwright.sheets.paper import book_printed

_NONE: tuple[str, ...] = ()
_FEW = 3  # tasks of a kind in a week whose crops are told


@dataclass(frozen=True)
class _Table:
    """``columns`` are shares of the width, "auto" where the words tell it; a number in a row is a
    bar, 1 the longest."""

    columns: tuple[float | str, ...]
    head: tuple[str, ...]
    rows: tuple[tuple[str | float, ...], ...]


def book_pdf(plan: SeasonPlan, *, paper: str, lang: str = "en") -> bytes:
    """The season book as PDF; same plan, same bytes.

    Parameters
    ----------
    plan : of the whole garden
    paper : a key of :data:`bedwright.sheets.paper.PAPERS`
    lang : the language in which words are said

    Raises SheetError where it can't be set, LookupError for a plan of one bed alone.
    """
    if not plan.complete:
        raise LookupError("a plan of one bed alone makes no book")
    words = Words(DRAWING_WORDS, SHEET_WORDS)
    place = plan.document.garden.garden
    sheets = [
        sheet_content(plan, each.prescription.bed.id, words, place.units, back=True)
        for each in plan.beds
    ]
    title = BOOK["title"].format(garden=place.name)
    book = {
        "title": title,
        "season": BOOK["season"].format(year=_year(plan)),
        "day": BOOK["as_of"].format(day=day_year_words(plan.as_of)),
        "note": place.note or "",
        "contents": BOOK["contents"],
        "before": [_garden(plan), _calendar(plan), _harvest(plan)],
        "after": [_purchases(plan), _hours(plan), _working(sheets), _sources(plan)],
    }
    return book_printed(
        sheets, book, labels=words, paper=paper, as_of=plan.as_of, title=title, lang=lang
    )


def _year(plan: SeasonPlan) -> int:
    years = [each.nitrogen.set_out.year for each in plan.plantings]
    return min(years, default=plan.as_of.year)


def _section(mark: str, parts: Sequence[dict[str, Any]]) -> dict[str, Any]:
    return {"title": BOOK[mark], "mark": mark.replace("_", "-"), "parts": list(parts)}


def _part(
    title: str = "",
    lines: Sequence[str] = _NONE,
    table: _Table | None = None,
    drawing: str = "",
) -> dict[str, Any]:
    laid = None
    if table is not None and table.rows:
        laid = {
            "columns": list(table.columns),
            "head": list(table.head),
            "rows": [list(row) for row in table.rows],
        }
    return {
        "title": title,
        "lines": list(lines),
        "table": laid,
        "drawing": drawing,
        "drawing_told": BOOK["drawing"],
    }


def _garden(plan: SeasonPlan) -> dict[str, Any]:
    garden = plan.document.garden
    wanted = {each.prescription.bed.id for each in plan.plantings}
    states = {
        each.id: BedState.PLANNED if each.id in wanted else BedState.EMPTY for each in garden.bed
    }
    drawn = garden_drawing(
        plan.document, states=states, system=garden.garden.units, words=DRAWING_WORDS
    )
    return _section("garden", [_part(drawing=drawn)])


def _calendar(plan: SeasonPlan) -> dict[str, Any]:
    work = plan.work
    if work is None or not work.assigned:
        return _section("calendar", [_part(lines=[BOOK["no_work"]])])
    parts = [_part(lines=[BOOK["calendar_lead"]])]
    for week in work.weeks:
        here = [e for e in work.assigned if e.week == week.monday and not e.done]
        if not here:
            continue
        key = "week_of" if week.available is None else "week_of_available"
        title = BOOK[key].format(
            day=day_year_words(week.monday),
            hours=hours_words(week.hours),
            available=hours_words(week.available or 0.0),
        )
        # The same work at several beds stands on one line; its tools are told once.
        kinds: dict[str, list[Task]] = {}
        for _, task in in_order(work, here):
            kinds.setdefault(task.kind, []).append(task)
        rows: list[tuple[str, ...]] = []
        for kind, tasks in kinds.items():
            tools = dict.fromkeys(
                bring_words(each, plan.library, plan.document.garden.garden.units)
                for task in tasks
                for each in task.bring
                if each.amount is None or len(tasks) == 1
            )
            hours = sum(each.hours.value for each in tasks)
            rows.append(
                (
                    TASKS[kind].capitalize(),
                    _places(plan, tasks),
                    hours_words(hours) if hours > 0 else "",
                    ", ".join(tools),
                )
            )
        head = tuple(BOOK[each] for each in ("task", "place", "hours", "bring"))
        system = plan.document.garden.garden.units
        cautions = [
            f"{TASKS[kind].capitalize()}: {' '.join(dict.fromkeys(said))}"
            for kind, tasks in kinds.items()
            if (said := [
                work_sentence(each, system)
                for task in tasks for each in task.cautions if each.weight == "caution"
            ])
        ]  # fmt: skip
        table = _Table((3, 5, "auto", 5), head, tuple(rows))
        parts.append(_part(title, cautions, table))
    if work.left_out:
        by_id = {each.id: each for each in work.tasks}
        told = [left_words(plan, each, by_id) for each in work.left_out]
        parts.append(_part(BOOK["left_out"], tuple(dict.fromkeys(told))))
        if work.choices:
            parts.append(_part(WEEK["choices"], [choice_words(each) for each in work.choices]))
    return _section("calendar", parts)


def _places(plan: SeasonPlan, tasks: Sequence[Task]) -> str:
    """Where tasks are done: beds with their crops, of many the beds alone."""
    if len(tasks) > _FEW:
        told = [place_words(replace(each, crop=None), plan.library) for each in tasks]
    else:
        told = [place_words(each, plan.library) for each in tasks]
    return ", ".join(dict.fromkeys(told))


def _harvest(plan: SeasonPlan) -> dict[str, Any]:
    system = plan.document.garden.garden.units
    crops = plan.harvest.crops if plan.harvest is not None else ()
    parts = []
    for crop in crops:
        rows = tuple((day_year_words(e.monday), week_words(e, system)) for e in crop.weeks)
        if rows:
            head = (BOOK["week"], BOOK["fit_to_sell"])
            parts.append(_part(named(crop.name), table=_Table((2, 5), head, rows)))
    return _section("harvest", parts or [_part(lines=[BOOK["no_harvest"]])])


def _purchases(plan: SeasonPlan) -> dict[str, Any]:
    found, place = plan.purchases, plan.document.garden.garden
    if found is None or not found.steps:
        return _section("purchases", [_part(lines=[BUY["nothing"]])])
    rows = tuple(
        (
            when_words(found, step),
            item_words(buy.item),
            lots_words(buy.item, step.lots, place.units),
            BUY["price_not_stated"] if step.cost is None else f"{step.cost:.2f} {place.currency}",
        )
        for buy, step in found.steps
    )
    head = tuple(BOOK[each] for each in ("when", "item", "amount", "cost"))
    return _section("purchases", [_part(table=_Table((4, 4, 4, 3), head, rows))])


def _hours(plan: SeasonPlan) -> dict[str, Any]:
    weeks = [] if plan.work is None else [each for each in plan.work.weeks if each.hours > 0]
    if not weeks:
        return _section("hours_by_week", [_part(lines=[BOOK["no_work"]])])
    most = max(each.hours for each in weeks)
    rows = tuple(
        (day_year_words(each.monday), hours_words(each.hours), each.hours / most) for each in weeks
    )
    lead = BOOK["hours_lead"].format(most=hours_words(most))
    table = _Table((3, "auto", 5), (BOOK["week"], BOOK["hours"], ""), rows)
    return _section("hours_by_week", [_part(lines=[lead], table=table)])


def _working(sheets: Sequence[SheetContent]) -> dict[str, Any]:
    if not sheets:
        return _section("working", [_part(lines=[BOOK["no_working"]])])
    beds = [_part(f"{each.title}, {each.crop}", each.why) for each in sheets if each.why]
    return _section("working", [_part(lines=[BOOK["working_lead"]]), *beds])


def _sources(plan: SeasonPlan) -> dict[str, Any]:
    roots = (
        plan.beds, plan.second, plan.layouts, plan.harvest, plan.work, plan.purchases, plan.water,
        plan.summer, plan.turnover, plan.dates, plan.shared, plan.heaps, plan.composts,
    )  # fmt: skip
    used = {each.source_id for each in sources_in(roots)} & set(plan.library.sources)
    entries = sorted((plan.library.sources[e] for e in used), key=lambda e: (e.title, e.source_id))
    head = tuple(BOOK[each] for each in ("source", "publisher", "year"))
    told = tuple(
        (f"{e.authors}. {e.title}" if e.authors else e.title, e.publisher, e.year) for e in entries
    )
    pairs = sorted(plan.tables.items())
    half = (len(pairs) + 1) // 2
    rows = tuple(
        (*left, *right)
        for left, right in zip_longest(pairs[:half], pairs[half:], fillvalue=("", ""))
    )
    revisions = _Table((3, 2, 3, 2), (BOOK["table"], BOOK["revision"]) * 2, rows)
    return _section(
        "sources",
        [
            _part(lines=[BOOK["sources_lead"]], table=_Table((8, 5, "auto"), head, told)),
            _part(BOOK["tables"], [BOOK["tables_lead"]], revisions),
        ],
    )
