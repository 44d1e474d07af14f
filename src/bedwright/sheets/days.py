"""The days of a bed's sheet: from clearing the bed to the last harvest, as far as known."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.language import named
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.timing_model import Judged, WantDates
from bedwright.planning.work.planting_days import PlantingDay
from bedwright.reports.dates_counts import around_words
from bedwright.reports.dates_text import planting, turn_told, window_line
from bedwright.reports.days_said import day_words
from bedwright.reports.spreading_text import LIME_AHEAD, in_turns
from bedwright.reports.words_dates import COVERS, DATES, STARTS
from bedwright.season import BedPlan

_STAND_IN = "set_out_not_stated"

Words = Mapping[str, str]


@dataclass(frozen=True)
class Day:
    """One row: when, what is done, and what is to be known of it (or nothing)."""

    when: str
    what: str
    note: str = ""


def spread_day(plan: BedPlan) -> date | None:
    """By when is spread: by the bed's nitrogen, else by the rule of the planting dates."""
    if plan.nitrogen.season is not None and plan.nitrogen.rest is not None:
        return plan.nitrogen.spread
    return next(iter(_of_work(plan, "spread_by")), None)


def planting_day(plan: BedPlan) -> date | None:
    """The day of planting that is stated or found by the weather, None where neither is known.

    The plan then counts its years from a stand-in, which must not be read as advice.
    """
    if any(each.code == _STAND_IN for each in plan.findings):
        return None
    return plan.nitrogen.set_out


def dressing_days(plan: BedPlan) -> tuple[date, ...]:
    """The days of the side-dressings, as :func:`spread_day`; empty where not all are known."""
    count = max(plan.prescription.nitrogen.side_dressings, 1)
    for days in (
        tuple(each.on for each in plan.nitrogen.dressings),
        _of_work(plan, "side_dress"),
    ):
        if len(days) == count:
            return days
    return ()


def sheet_days(
    plan: BedPlan,
    words: Words,
    layout: BedLayout | None = None,
    planted: Sequence[PlantingDay] = (),
) -> tuple[Day, ...]:
    """The days of work in and on the bed, in the calendar's order; with ``layout`` those of the
    crop that shares the bed among them, with ``planted`` each planting on its day by the schedule.
    """
    found_rows = [*_rows(plan, words, planted), *_of_companion(layout, words, planted)]
    rows = sorted(found_rows, key=lambda row: row[0])
    found = []
    year = None
    for on, day in rows:
        when = day.when
        if on.year != year:
            when = DATES["day_year"].format(day=when, year=on.year)
        year = on.year
        found.append(Day(when, day.what, day.note))
    if planting_day(plan) is None:
        found.append(Day("", words["no_planting_day"]))
    if plan.dates is None or not plan.dates.turns:
        found.append(Day("", words["no_dates"]))
    return tuple(found)


def _rows(
    plan: BedPlan, words: Words, planted: Sequence[PlantingDay]
) -> Iterable[tuple[date, Day]]:
    laid = _laid(planted, 1)
    set_out = plan.nitrogen.set_out if laid is None else laid.day
    lines = plan.prescription.lines

    def row(on: date, key: str, when: str = "about_day") -> tuple[date, Day]:
        return on, Day(words[when].format(day=day_words(on)), words[key])

    spread = spread_day(plan)
    if not any(each.preplant.value > 0 for each in lines):
        spread = None
    turns = in_turns([each for each in lines if each.preplant.value > 0], plan.prescription)
    limed = spread - LIME_AHEAD if spread is not None and len(turns) > 1 else None
    for on in _of_work(plan, "clear_by"):
        # A rest longer than the rule's brings the spreading forward, and the clearing with it.
        yield row(min(on, limed or spread or on), "clear_by", "by")
    if limed is not None:
        yield row(limed, "spread_lime", "by")
    if spread is not None:
        yield row(spread, "spread_by", "by")
        if spread < set_out:
            yield spread, Day(words["until"].format(day=day_words(set_out)), words["rest"])
    for on in _of_work(plan, "lay_drip_by"):
        yield row(on, "lay_drip_by", "by")
    if planting_day(plan) is not None:
        yield set_out, _planting(plan, set_out, words, laid)
    if any(each.later.value > 0 for each in lines):
        for on in dressing_days(plan):
            yield row(on, "side_dress")
    yield from _after(plan, words, planted)


def _laid(
    planted: Sequence[PlantingDay], number: int, *, companion: bool = False
) -> PlantingDay | None:
    """The day of one sowing, of the bed's own crop or of the one that shares it."""
    return next(
        (each for each in planted if (each.number, each.companion) == (number, companion)), None
    )


def _put_off(laid: PlantingDay | None, words: Words) -> tuple[str, ...]:
    """That the hours put a planting off, where they do."""
    if laid is None or laid.state != "laid" or laid.day <= laid.planned:
        return ()
    return (words["put_off"].format(day=day_words(laid.planned)),)


def _planting(plan: BedPlan, set_out: date, words: Words, laid: PlantingDay | None) -> Day:
    want = plan.dates
    verb = STARTS["set_out" if want is None else want.start][0].lower()
    turn = None if want is None else turn_told(want)
    notes = [*_put_off(laid, words)]
    if want is not None and turn is not None and turn.window is not None:
        notes.append(words["window"].format(when=window_line(want, turn)))
    return Day(day_words(set_out), verb, "; ".join(notes))


def _after(
    plan: BedPlan, words: Words, planted: Sequence[PlantingDay]
) -> Iterable[tuple[date, Day]]:
    """Cover off, sowings that follow, first and last harvest."""
    want, judged = plan.dates, _judged(plan)
    if want is None or judged is None:
        return
    chosen = judged.chosen
    if want.cover in COVERS and chosen.cover_off is not None:
        on = chosen.on + timedelta(days=round(chosen.cover_off.mean))
        yield on, Day(words["about_day"].format(day=day_words(on)), words["cover_off"])
    for number, usual in enumerate(judged.sowings[1:], 2):
        laid = _laid(planted, number)
        on, note = usual if laid is None else laid.day, "; ".join(_put_off(laid, words))
        said = words["again"].format(start=STARTS[want.start][0].lower())
        yield on, Day(day_words(on), said, note)
    first = _of_work(plan, "first_picking")
    for on in first:
        around = around_words(chosen.on, chosen.first_harvest) if chosen.first_harvest else ""
        yield (
            on,
            Day(words["about_day"].format(day=around or day_words(on)), words["first_picking"]),
        )
    for on in _of_work(plan, "last_picking"):
        if on not in first:
            yield on, Day(words["about_day"].format(day=day_words(on)), words["last_picking"])


def _judged(plan: BedPlan) -> Judged | None:
    """The planting that is dated, where it is the one that the bed is planned for."""
    want: WantDates | None = plan.dates
    judged = planting(want) if want is not None and want.turns else None
    return judged if judged is not None and judged.chosen.on == plan.nitrogen.set_out else None


def _of_work(plan: BedPlan, code: str) -> tuple[date, ...]:
    judged = _judged(plan)
    return () if judged is None else tuple(on for each, on in judged.work if each == code)


def _of_companion(
    layout: BedLayout | None, words: Words, planted: Sequence[PlantingDay]
) -> Iterable[tuple[date, Day]]:
    """Sowing, planting and picking of the crop that shares the bed, by the tables' days."""
    days = None if layout is None else layout.companion_days
    if layout is None or days is None:
        return
    crop = layout.planting.companion
    assert crop is not None
    start = STARTS[crop.start or "sown"][0].lower()

    def row(on: date, what: str, when: str = "about_day") -> tuple[date, Day]:
        said = words["of_companion"].format(crop=named(crop.name).lower(), what=what)
        return on, Day(words[when].format(day=day_words(on)), said)

    if days.sow_under_cover is not None:
        yield row(days.sow_under_cover, words["sow_under_cover"])
    said = words["of_companion"].format(crop=named(crop.name).lower(), what=start)
    laid = _laid(planted, 1, companion=True)
    on = days.start if laid is None else laid.day
    yield on, Day(day_words(on), said, "; ".join(_put_off(laid, words)))
    yield row(days.first_pick, words["first_picking"])
    if days.end > days.first_pick:
        yield row(days.end, words["last_picking"])
