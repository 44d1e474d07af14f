"""The picking of crops that stand in the beds already, week by week until they are cleared."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.crops.timing_tables import TimingTables
from bedwright.garden import Document
from bedwright.garden.ground import meet
from bedwright.garden.model_standing import Standing
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.findings import Finding, finding
from bedwright.planning.turnover.left import left_of, over_on
from bedwright.planning.turnover.model import Left, Turnover
from bedwright.planning.work.bed_days import BedDays, Grown
from bedwright.planning.work.making import WEEK, labor_method, monday
from bedwright.planning.work.model import Bring, Task
from bedwright.planning.work.rates import Rates
from bedwright.reference import Library
from bedwright.working import Figure

_FIRST_MONDAY = date(2000, 1, 3)  # weeks are numbered from here: a later plan numbers them alike
_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Bearing:
    """A standing crop from which something may still be picked. ``at`` is its place in the
    document's list; ``first`` the first day on which it may be picked."""

    at: int
    bed: str
    part: int | None
    crop: str
    name: str
    left: Left
    first: date

    def ripe(self, by: date) -> Figure | None:
        """What is picked as the bed is cleared by a day [kg]: the whole of what is picked at once,
        the last week's worth of what is picked again and again; None where nothing is."""
        over = over_on(self.left)
        if over is not None and over < by:
            return None
        if self.left.at_once is not None:
            return self.left.at_once if self.left.at_once.value > 0 else None
        end = by if self.left.last is None else min(by, self.left.last)
        days = (end - max(self.first, by - WEEK)).days
        return None if days <= 0 else self._in_days(days)

    def weeks(self, clear: tuple[date, date] | None) -> Iterator[tuple[date, date, Figure]]:
        """First and last day of each picking before the clearing, with its mass [kg].

        ``clear`` are the first and last day of the clearing, None where nothing clears the bed.
        """
        at_clearing = None if clear is None else self.ripe(clear[1])
        if self.left.at_once is not None:
            last = over_on(self.left)
            if at_clearing is None and last is not None and self.left.at_once.value > 0:
                begin = min(max(self.first, self.left.first or self.first), last)
                yield begin, last, self.left.at_once
            return
        end = self._end(clear, at_clearing)
        begin = self.first
        while end is not None and begin <= end:
            last = min(monday(begin) + WEEK - _DAY, end)
            picked = self._in_days((last - begin).days + 1)
            if picked is not None:
                yield begin, last, picked
            begin = last + _DAY

    def _end(self, clear: tuple[date, date] | None, at_clearing: Figure | None) -> date | None:
        """The last day of weekly picking: what ripens in the last week is picked in clearing."""
        ends = [] if self.left.last is None else [self.left.last - _DAY]
        if clear is not None:
            ends.append(clear[1] - (WEEK if at_clearing is not None else timedelta(0)) - _DAY)
        return min(ends, default=None)

    def _in_days(self, days: int) -> Figure | None:
        rate = self.left.per_week
        if rate is None or rate.value <= 0:
            return None
        share = Figure("weeks", days / WEEK.days, "week", "computed")
        return Figure("mass", rate.value * share.value, "kg", "computed", rate.least * share.value,
                      rate.most * share.value, formula="a week's picking x weeks",
                      inputs=(rate, share))  # fmt: skip


def bearing_of(
    document: Document,
    library: Library,
    as_of: date,
    turnover: Sequence[Turnover],
    planted: Sequence[tuple[Grown, BedDays | None]],
    tables: TimingTables,
) -> tuple[Bearing, ...]:
    """The standing crops from which something may be picked, in the document's order.

    Left out is what the plan itself has planted and picks, what is over, a cover, and what a
    spray's label, or its silence, keeps from being picked.
    """
    needed = {each.at: each for each in turnover}
    beds = {each.id: each for each in document.garden.bed}
    found = []
    for at, stated in enumerate(document.garden.standing):
        crop = candidate_at(document, library, "standing", at)
        if crop.resting or any(_is_planted(stated, crop.key, *each, as_of) for each in planted):
            continue
        if at in needed:
            left, name = needed[at].left, needed[at].name
        else:
            share = 1 if stated.part is None else beds[stated.bed].parts
            area = Figure("area", beds[stated.bed].area_m2 / share, "m2", "stated")
            left = left_of(stated, crop.key, area, None, as_of, library, tables)
            name = crop.name
        first = _first(stated, left, as_of)
        if first is not None and (left.per_week is not None or left.at_once is not None):
            found.append(Bearing(at, stated.bed, stated.part, crop.key, name, left, first))
    return tuple(found)


def _is_planted(
    stated: Standing, crop: str, grown: Grown, days: BedDays | None, as_of: date
) -> bool:
    plan = grown.prescription
    same = (grown.bed, plan.crop.key) == (stated.bed, crop) and meet(plan.part, stated.part)
    return same and days is not None and days.start <= as_of


def _first(stated: Standing, left: Left, as_of: date) -> date | None:
    """The first day on which it may be picked; None where it may not be or is over.

    A gardener's own picking a week is of now, whatever the tables say of the crop's days.
    """
    first = as_of
    if stated.pick_per_week is None and left.first is not None:
        first = max(first, left.first)
    if stated.sprayed is not None:
        if stated.label_harvest_days is None:
            return None
        first = max(first, stated.sprayed + timedelta(days=stated.label_harvest_days))
    over = over_on(left)
    return None if over is not None and over < first else first


def standing_tasks(
    bearing: Sequence[Bearing], cleared: dict[int, Task], rates: Rates, library: Library
) -> tuple[tuple[Task, ...], tuple[Finding, ...]]:
    """Pick, wash and pack what stands, each week until its bed is cleared or it is over.

    Parameters
    ----------
    bearing : the crops that are picked
    cleared : by their places, the clearing of those whose beds are needed; what is ripe then is
        picked with it, and washed and packed after it
    rates, library : the labor, and the tables

    What nothing clears and nothing ends is in no week; that is said.
    """
    tasks: list[Task] = []
    said: list[Finding] = []
    for each in bearing:
        clear = cleared.get(each.at)
        days = None if clear is None else (clear.earliest, clear.latest)
        weeks = list(each.weeks(days))
        for begin, last, mass in weeks:
            tasks += _picked(each, begin, last, mass, rates, library)
        if clear is not None and (ripe := each.ripe(clear.latest)) is not None:
            tasks += _picked(each, clear.earliest, clear.latest, ripe, rates, library, clear)
        elif clear is None and not weeks:
            name = each.name.lower()
            said.append(finding("work_standing_no_end", "note", bed=each.bed, crop=name))
    return tuple(tasks), tuple(said)


def _picked(
    each: Bearing,
    begin: date,
    last: date,
    mass: Figure,
    rates: Rates,
    library: Library,
    clear: Task | None = None,
) -> Iterator[Task]:
    """The tasks of one picking; of one that a clearing brings, washing and packing alone."""
    number = (monday(last) - _FIRST_MONDAY).days // WEEK.days + 1
    part = "" if each.part is None else f".{each.part}"
    before = None if clear is None else clear.id
    for kind in ("pick", "wash", "pack"):
        method = labor_method(library, rates, kind, each.crop)
        if method is None or (kind == "pick" and clear is not None):
            continue
        tools = tuple(Bring("tool", thing) for thing in rates.tools(kind))
        made = Task(
            id=f"{each.bed}/{each.crop}.standing{part}/{kind}/{number}",
            kind=kind,
            bed=each.bed,
            crop=each.crop,
            earliest=begin,
            latest=last,
            hours=rates.time(kind, "kg", mass.value, method).named("hours"),
            after=() if before is None else ((before, 0),),
            bring=((Bring("part", "picked", mass),) if kind == "pick" else ()) + tools,
            priority=rates.rule(kind, "weight"),
            late=rates.rule("any", "late_cost"),
            workload=rates.workload(kind),
            repeated=True,
            standing=True,
        )
        yield made
        before = made.id
