"""The days of a planting that its work hangs on: the same as its sheet tells."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.crops.timing_tables import TimingTables
from bedwright.planning.findings import Finding
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.manure_dates import ManureDates
from bedwright.planning.prescription import Line, Prescription
from bedwright.planning.supply import NitrogenCourse
from bedwright.planning.timing_model import Judged, TurnDates, WantDates
from bedwright.reference import Library

_STAND_IN = "set_out_not_stated"
_LIME_AHEAD = timedelta(days=14)  # common practice, as the caution of lime says
_LONGEST_LATE = timedelta(days=20)  # of a window of good dates: a later planting is another plan


def told_apart(key: str, nth: int) -> str:
    """A crop's key, told apart from those of ``nth`` earlier plantings of its bed in the year."""
    return key if nth == 0 else f"{key}.{nth + 1}"


@dataclass(frozen=True, eq=False)
class Grown:
    """One planting with all that is known of it. ``findings`` are those of the bed's plan."""

    prescription: Prescription
    nitrogen: NitrogenCourse
    manure: ManureDates | None
    dates: WantDates | None
    layout: BedLayout | None
    findings: tuple[Finding, ...]

    @property
    def bed(self) -> str:
        """The bed's id."""
        return self.prescription.bed.id

    @property
    def crop(self) -> str:
        """The crop's key, told apart from the bed's earlier plantings of the year."""
        return told_apart(self.prescription.crop.key, self.prescription.nth)

    def beside(self, key: str) -> str:
        """The key of the crop that shares the bed with it, told apart as :attr:`crop` is."""
        return told_apart(key, self.prescription.nth)

    @property
    def covers_ground(self) -> bool:
        """Whether it is a cover crop, which is neither weeded nor picked."""
        return self.prescription.crop.kind == "cover"


@dataclass(frozen=True)
class BedDays:
    """Days of work on one planting; None or empty where there is no such work.

    ``start`` is the planting itself, ``start_late`` the last good day for it. ``turns`` are the
    rounds of spreading before it, each by a day with its lines. ``rest`` is how long the bed must
    lie between the last working in and the planting [days].
    """

    start: date
    start_late: date
    start_word: str
    clear: date
    turns: tuple[tuple[date, tuple[Line, ...]], ...]
    rest: int
    drip: date
    sow_under_cover: date | None
    least_raising: int
    harden: date | None
    least_hardening: int
    cover_off: date | None
    again: tuple[date, ...]
    dressings: tuple[date, ...]
    first_pick: date | None
    last_pick: date | None
    end: date


def bed_days(grown: Grown, tables: TimingTables, library: Library) -> BedDays | None:
    """The days of a planting; None where its own day is not known."""
    if any(each.code == _STAND_IN for each in grown.findings):
        return None
    plan, course = grown.prescription, grown.nitrogen
    judged = _judged(grown)
    start = course.set_out
    work = () if judged is None else judged.work

    def by(code: str) -> date | None:
        return next((on for each, on in work if each == code), None)

    spread = course.spread
    if course.season is None or course.rest is None:
        spread = by("spread_by") or course.spread
    before = tuple(each for each in plan.lines if each.preplant.value > 0)
    turns = _turns(before, plan, spread)
    usual = spread - timedelta(days=_days(library, "clearing_ahead"))
    clear = by("clear_by") or usual
    if turns:
        clear = min(clear, turns[0][0])
    raised = _word(tables, plan.crop.key) == "set_out" if judged is None else True
    first, last = _picks(grown, judged)
    sow = by("sow_under_cover")
    harden = by("harden_from")
    ahead = tables.days(plan.crop.key, "sow_ahead")
    if judged is None and raised and not math.isnan(ahead):
        sow = start - timedelta(days=round(ahead))
        harden = start - timedelta(days=round(tables.days(plan.crop.key, "hardening_days")))
    off = None
    if judged is not None and judged.chosen.cover_off is not None:
        off = judged.chosen.on + timedelta(days=round(judged.chosen.cover_off.mean))
    return BedDays(
        start=start,
        start_late=_latest(grown, start),
        start_word=_word(tables, plan.crop.key) if grown.dates is None else grown.dates.start,
        clear=clear,
        turns=turns,
        rest=_rest(grown, start - spread if turns else timedelta(0)),
        drip=by("lay_drip_by") or start - timedelta(days=_days(library, "drip_ahead")),
        sow_under_cover=sow,
        least_raising=_least(tables, plan.crop.key, "sow_ahead", start, sow),
        harden=harden,
        least_hardening=_least(tables, plan.crop.key, "hardening_days", start, harden),
        cover_off=off,
        again=() if judged is None else judged.sowings[1:],
        dressings=_dressings(grown, work),
        first_pick=first,
        last_pick=last,
        end=last or course.last_harvest,
    )


def _days(library: Library, key: str) -> int:
    return round(library.parameter(key, "day").value)


def _word(tables: TimingTables, crop: str) -> str:
    row = tables.words.get((crop, "start"))
    return "sown" if row is None else row["word"]


def _turn(want: WantDates) -> TurnDates | None:
    """The turn asked for, else the first that has a date."""
    asked = [each for each in want.turns if each.turn == want.asked]
    dated = [each for each in want.turns if each.best is not None]
    return next(iter(asked or dated or want.turns), None)


def _judged(grown: Grown) -> Judged | None:
    """What the weather says of the planting, where it is the one that the bed is planned for."""
    want = grown.dates
    if want is None or not want.turns:
        return None
    turn = _turn(want)
    judged = want.stated or (turn.best if turn is not None else None)
    return judged if judged is not None and judged.chosen.on == grown.nitrogen.set_out else None


def _latest(grown: Grown, start: date) -> date:
    turn = None if grown.dates is None else _turn(grown.dates)
    end = start + timedelta(days=6)
    if turn is not None and turn.window is not None and turn.window[0] <= start:
        end = max(end, min(turn.window[1], start + _LONGEST_LATE))
    return end


def _turns(
    before: tuple[Line, ...], plan: Prescription, spread: date
) -> tuple[tuple[date, tuple[Line, ...]], ...]:
    """One round of spreading, or two where lime must lie two weeks ahead of the rest."""
    if not before:
        return ()
    lime = tuple(each for each in before if each.material.kind == "liming")
    rest = tuple(each for each in before if each.material.kind != "liming")
    apart = any(each.code == "lime_and_ammonium_apart" for each in plan.findings)
    if apart and lime and rest:
        return ((spread - _LIME_AHEAD, lime), (spread, rest))
    return ((spread, before),)


def _rest(grown: Grown, planned: timedelta) -> int:
    """The days that the bed must lie: what its nitrogen needs, never more than is planned."""
    rest = grown.nitrogen.rest
    if rest is None:
        return planned.days
    return min(planned.days, math.ceil(rest.needed))


def _least(
    tables: TimingTables, crop: str, property_: str, start: date, planned: date | None
) -> int:
    """The fewest days that raising or hardening takes, never more than is planned."""
    if planned is None:
        return 0
    low = tables.days(crop, property_, "low")
    days = (start - planned).days
    return days if math.isnan(low) else min(days, round(low))


def _dressings(grown: Grown, work: tuple[tuple[str, date], ...]) -> tuple[date, ...]:
    if not any(each.later.value > 0 for each in grown.prescription.lines):
        return ()
    count = max(grown.prescription.nitrogen.side_dressings, 1)
    known = tuple(each.on for each in grown.nitrogen.dressings)
    by_weather = tuple(on for code, on in work if code == "side_dress")
    return next((days for days in (known, by_weather) if len(days) == count), ())


def _picks(grown: Grown, judged: Judged | None) -> tuple[date | None, date | None]:
    if grown.covers_ground:
        return None, None
    if judged is not None:
        found = {code: on for code, on in judged.work if code.endswith("_picking")}
        if "first_picking" in found:
            first = found["first_picking"]
            return first, max(found.get("last_picking", first), first)
    if grown.layout is not None:
        stay = grown.layout.planting.stay
        return stay.first_pick, stay.end
    return None, None
