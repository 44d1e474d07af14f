"""Why each bed got its crop, and why another could not stand there."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from bedwright.crops.growing import growing
from bedwright.planning.assignment.build import Question
from bedwright.planning.assignment.cautions import ground_told, yields_told
from bedwright.planning.assignment.dates_told import dates_told
from bedwright.planning.assignment.model import Option
from bedwright.planning.assignment.past import last_of
from bedwright.planning.assignment.result import Kind, Placement, Rest
from bedwright.planning.assignment.worth import days_taken, leaves_nitrogen, saleable_of
from bedwright.planning.findings import Finding, finding
from bedwright.planning.rotation.problem import BoolArray
from bedwright.working import Figure

_WEEK = 7  # days


def placements_of(asked: Question, chosen: BoolArray) -> tuple[Placement, ...]:
    """Every chosen option with its reasons, by unit and day."""
    found = []
    for unit in range(len(asked.setting.units)):
        options = _in_order(asked, chosen, unit)
        for option in options:
            found.append(_placement(asked, chosen, unit, option))
    return tuple(found)


def rests_of(asked: Question, chosen: BoolArray) -> tuple[Rest, ...]:
    """Every unit and year in which nothing is harvested and nothing else holds the bed."""
    found = []
    for unit, place in enumerate(asked.setting.units):
        options = [asked.setting.options[at] for at in _in_order(asked, chosen, unit)]
        for year in asked.horizon.years:
            if not any(each.year == year or _holds(asked, each, year) for each in options):
                barred = barred_on(asked, chosen, unit, year, ())
                reason = _rest_reason(asked, unit, year)
                found.append(Rest(place, year, (reason,), barred))
    return tuple(found)


def _rest_reason(asked: Question, unit: int, year: int) -> Finding:
    lasting = next((each for each in asked.bars if each.code == "perennial"), None)
    if lasting is not None and lasting.barred[unit].all() and asked.setting.options:
        return lasting.say(unit, 0)
    if any(free == (unit, year, None) for free in asked.claims.free):
        return finding("rotation_kept_free", "note", year=str(year))
    out = next(each for each in asked.bars if each.code == "out")
    if out.barred[unit].any():
        return out.say(unit, 0)
    years = np.array([each.year for each in asked.setting.options], dtype=np.int64)
    if not (asked.problem.allowed[unit] & (years == year)).any():
        return finding("rotation_rest_nothing_may", "note", year=str(year))
    return finding("rotation_rest_not_wished", "note", year=str(year))


def _holds(asked: Question, option: Option, year: int) -> bool:
    """Whether an option of another year holds the bed for most of a year."""
    start, end = asked.horizon.whole_year(year)
    held = (min(option.free_from, end) - max(option.start, start)).days
    return held * 2 > (end - start).days


def _in_order(asked: Question, chosen: BoolArray, unit: int) -> list[int]:
    options = [int(each) for each in np.flatnonzero(chosen[unit])]
    return sorted(options, key=lambda at: asked.setting.options[at].start)


def _placement(asked: Question, chosen: BoolArray, unit: int, at: int) -> Placement:
    setting = asked.setting
    option, crop = setting.options[at], setting.crop(at)
    place = setting.units[unit]
    left = float(asked.harvests.left[unit, option.candidate])
    income = float(asked.worth.income[unit, at])
    weeks = days_taken(option) / _WEEK
    return Placement(
        unit=place,
        crop=crop,
        year=option.year,
        turn=option.turn,
        start=option.start,
        free_from=option.free_from,
        on=option.on,
        first_harvest=option.first_harvest,
        last_harvest=option.last_harvest,
        settled=_settled(asked, unit, at),
        reasons=tuple(_reasons(asked, chosen, unit, at)),
        barred=barred_on(asked, _without(chosen, unit, at), unit, option.year, (option.candidate,)),
        expected=_expected(asked, unit, at),
        income=None if np.isnan(income) else income,
        income_a_week=None if np.isnan(income) else income / weeks,
        yield_left=None if np.isnan(left) else left,
        saleable=None if np.isnan(income) else saleable_of(setting, crop),
    )


def _without(chosen: BoolArray, unit: int, at: int) -> BoolArray:
    """The plan without one of its options."""
    others = chosen.copy()
    others[unit, at] = False
    return others


def _expected(asked: Question, unit: int, at: int) -> Figure | None:
    option, expected = asked.setting.options[at], asked.harvests.of(unit, at)
    if expected is None or not option.bearing(option.year):
        return None
    goal = expected.figure
    area = asked.setting.units[unit].area_m2
    made = Figure("harvest", goal.value * area, "kg", "computed", inputs=(goal,),
                  formula="yield x area")  # fmt: skip
    if goal.low is None and goal.high is None:
        return made
    return made.ranged(goal.least * area, goal.most * area)


def _settled(asked: Question, unit: int, at: int) -> Kind | None:
    return next(
        (each.kind for each in asked.asked
         if each.kind != "wish" and each.wish.amount[unit, at] > 0),
        None,
    )  # fmt: skip


def _reasons(asked: Question, chosen: BoolArray, unit: int, at: int) -> Iterable[Finding]:
    setting, crop = asked.setting, asked.setting.crop(at)
    settled = _settled(asked, unit, at)
    if settled is not None:
        yield finding("rotation_why_settled", "note", kind=settled)
    elif crop.life == "cover":
        yield finding("rotation_why_cover", "note")
    elif crop.life == "plastic":
        yield finding("rotation_why_plastic", "note")
    else:
        yield from _wish_served(asked, unit, at)
    if crop.family and crop.life != "cover":
        yield _family_free(asked, chosen, unit, at)
    yield from dates_told(setting, at)
    before = _before(asked, chosen, unit, at)
    if before is not None and _feeds_next(asked, unit, at, before):
        yield finding("rotation_why_after_giver", "note", before=before[1])
    yield from yields_told(asked, unit, at)
    yield from ground_told(asked, unit, at)
    if asked.worth.unchanged[unit, at] > 0:
        yield finding("rotation_why_standing", "note")


def _wish_served(asked: Question, unit: int, at: int) -> Iterable[Finding]:
    crop, year = asked.setting.crop(at).name.lower(), asked.setting.options[at].year
    for each in asked.asked:
        if each.kind == "wish" and each.wish.amount[unit, at] > 0:
            suits = ((each.wish.amount > 0) & asked.problem.allowed).any(axis=1)
            beds = {asked.setting.units[one].bed for one in np.flatnonzero(suits)}
            yield finding("rotation_why_wish", "note", crop=crop, year=str(year),
                          open=float(len(beds)),
                          beds=float(len(asked.setting.document.garden.bed)))  # fmt: skip
            return


def _family_free(asked: Question, chosen: BoolArray, unit: int, at: int) -> Finding:
    """The last crop of the family on the unit, before the plan or in it."""
    setting = asked.setting
    family, year = setting.crop(at).family, setting.options[at].year
    years = [p.year for p in setting.pasts if p.unit == unit and p.family == family]
    years += [
        setting.options[other].year
        for other in _in_order(asked, chosen, unit)
        if other != at and setting.crop(other).family == family
    ]
    earlier = [each for each in years if each < year]
    away = asked.intervals.families.get(family, 0)
    if not earlier:
        return finding("rotation_why_family_never", "note", family=family)
    return finding("rotation_why_family_since", "note", family=family, year=str(max(earlier)),
                   away=float(away))  # fmt: skip


def _before(asked: Question, chosen: BoolArray, unit: int, at: int) -> tuple[str, str] | None:
    """Key and name of what stood on the unit before."""
    order = _in_order(asked, chosen, unit)
    place = order.index(at)
    if place > 0:
        crop = asked.setting.crop(order[place - 1])
        return crop.key, crop.name.lower()
    last = last_of(asked.setting.pasts, unit)
    return None if last is None else (last.crop, last.name.lower())


def _feeds_next(asked: Question, unit: int, at: int, before: tuple[str, str]) -> bool:
    if asked.weights.feeders <= 0:
        return False
    crop = asked.setting.crop(at)
    if crop.life == "plastic" or not leaves_nitrogen(asked.setting, before[0]):
        return False
    return growing(asked.setting.library, crop.key).feeding == "heavy"


def barred_on(
    asked: Question, chosen: BoolArray, unit: int, year: int, without: tuple[int, ...]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The crops asked for in a year that could not stand on a unit, by the code of the rule.

    ``interval`` are those kept off by the crops that the plan itself puts there in other years; a
    cover would give way.
    """
    setting = asked.setting
    years = np.array([each.year for each in setting.options], dtype=np.int64)
    which = np.array([each.candidate for each in setting.options], dtype=np.int64)
    wanted = {each.candidate.id for each in asked.asked if each.year == year}
    taken = np.array(
        [at for at in _in_order(asked, chosen, unit) if setting.crop(at).life != "cover"],
        dtype=np.int64,
    )
    found: dict[str, list[str]] = {}
    for at, crop in enumerate(setting.candidates):
        options = np.flatnonzero((which == at) & (years == year))
        if at in without or crop.id not in wanted or not options.size:
            continue
        code = _rule(asked, unit, options, taken)
        if code is not None:
            found.setdefault(code, []).append(crop.name.lower())
    return tuple((code, tuple(crops)) for code, crops in found.items())


def _rule(asked: Question, unit: int, options: np.ndarray, taken: np.ndarray) -> str | None:
    """The rule that keeps all of some options from a unit; None where one of them could stand."""
    if not asked.problem.allowed[unit, options].any():
        for bar in asked.bars:
            if bar.code not in ("only", "unasked") and bar.barred[unit, options].any():
                return bar.code
        return None
    years = asked.problem.years
    for group in asked.problem.apart:
        away = int(group.years_away[unit])
        members = [int(each) for each in taken if group.members[each] and each not in options]
        if away < 0 or not members:
            continue
        free = asked.problem.allowed[unit, options]
        close = [
            group.members[each] and any(abs(int(years[each] - years[m])) <= away for m in members)
            for each in options
        ]
        if all(near for near, may in zip(close, free, strict=True) if may):
            return "interval"
    return None
