"""Wishes that can't all be had, as they were asked for: how many beds, and which are free."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from bedwright.planning.assignment.build import Question
from bedwright.planning.assignment.result import ClashMember, ClashTold
from bedwright.planning.assignment.solving import Clashing
from bedwright.planning.assignment.wishes import Asked
from bedwright.planning.findings import Finding
from bedwright.planning.rotation.problem import RotationProblem
from bedwright.planning.shared_ground import GroundHeld, still_standing

_SHORT = 1e-6
_PAIR = 2


@dataclass(frozen=True, eq=False)
class _One:
    asked: Asked
    possible: float
    worth: float | None


def told(asked: Question, found: Clashing, *, must: bool) -> ClashTold:
    """A set of clashing wishes, the weeks and years of one entry taken together.

    Parameters
    ----------
    asked : the question
    found : the places of what clashes among what was asked for, and what giving up each gains
    must : whether they were required
    """
    groups: dict[tuple[str, int], list[_One]] = {}
    for at, possible, worth in zip(found.members, found.possible, found.worth, strict=True):
        each = asked.asked[at]
        groups.setdefault((each.kind, each.at), []).append(_One(each, possible, worth))
    members = tuple(_member(asked, group) for group in groups.values())
    families = {each.crop.family for each in members}
    years = tuple(sorted({year for each in members for year in each.years}))
    family = families.pop() if len(families) == 1 else None
    wanted = sum(_beds_of([each.asked for each in group]) for group in groups.values())
    ground = _same_ground(asked, [each.asked for group in groups.values() for each in group])
    if not family:
        return ClashTold(members, None, years, wanted, (), 0, must, ground)
    free, away = free_of(asked, family, years), asked.intervals.families[family]
    return ClashTold(members, family, years, wanted, free, away, must, ground)


def _same_ground(asked: Question, clashing: Sequence[Asked]) -> Finding | None:
    """Of two crops settled with their days for one bed or part of it: that they overlap there."""
    if len(clashing) != _PAIR or len({each.units for each in clashing}) != 1:
        return None
    units = clashing[0].units
    if len(units) != 1:
        return None
    may = asked.problem.allowed[units[0]]
    options = [np.flatnonzero((each.wish.amount[units[0]] > 0) & may) for each in clashing]
    if any(each.size != 1 for each in options):
        return None
    place = asked.setting.units[units[0]]
    held = []
    for one, (at,) in zip(clashing, options, strict=True):
        option = asked.setting.options[at]
        if option.on is None:
            return None
        name, stays = one.candidate.name.lower(), one.candidate.life == "perennial"
        free = None if stays else option.free_from
        last = None if stays else option.last_harvest or free
        held.append(GroundHeld(place.bed, place.part, name, option.start, last, free, stays))
    return next((each for said in still_standing(held) for each in said), None)


def _member(asked: Question, group: list[_One]) -> ClashMember:
    first = group[0].asked
    units = dict.fromkeys(unit for each in group for unit in each.asked.units)
    years = tuple(sorted({each.asked.year for each in group}))
    worths = [each.worth for each in group if each.worth is not None]
    beds = {asked.setting.units[unit].bed for unit in units}
    of_bed = [each.part for each in asked.setting.units if each.bed in beds]
    parts = [part for unit in units if (part := asked.setting.units[unit].part) is not None]
    return ClashMember(
        first.kind,
        first.at,
        first.candidate,
        years,
        _beds_of([each.asked for each in group]) / len(years),
        tuple(dict.fromkeys(asked.setting.units[unit].bed for unit in units)),
        sum(each.possible / each.asked.a_bed for each in group) / len(years),
        max(worths) if worths else None,
        tuple(parts) if len(beds) == 1 and len(parts) < len(of_bed) else (),
    )


def _beds_of(asked: Sequence[Asked]) -> float:
    """How many usual beds some amounts come to."""
    return sum(each.wish.wanted / each.a_bed for each in asked)


def free_of(asked: Question, family: str, years: Sequence[int]) -> tuple[str, ...]:
    """Beds that history leaves to a family in one of some years, in the garden's order."""
    setting = asked.setting
    history = next(each for each in asked.bars if each.code == "family")
    suits = np.array(
        [
            setting.crop(at).family == family and option.year in years and option.only is None
            for at, option in enumerate(setting.options)
        ]
    )
    if not suits.any():
        return ()
    open_units = np.atleast_1d((~history.barred[:, suits]).any(axis=1))
    pairs = zip(setting.units, open_units, strict=True)
    return tuple(dict.fromkeys(unit.bed for unit, free in pairs if free))


def too_many(asked: Question, short: Sequence[float]) -> tuple[tuple[int, ...], ...]:
    """Groups of wishes of one family that history can't bear in a year, where some are short."""
    found: list[tuple[int, ...]] = []
    for year in asked.horizon.years:
        for family in asked.intervals.families:
            own = [
                at
                for at, each in enumerate(asked.asked)
                if each.candidate.family == family and each.year == year
            ]
            if not any(short[at] > _SHORT for at in own if asked.asked[at].kind == "wish"):
                continue
            amounts = [asked.asked[at] for at in own]
            if _beds_of(amounts) > len(free_of(asked, family, (year,))) + _SHORT:
                found.append(tuple(own))
    return tuple(found)


def required(problem: RotationProblem, members: Sequence[int]) -> RotationProblem:
    """The problem with some wishes required as well, and no others but what is settled."""
    chosen = set(members)
    wishes = tuple(
        replace(each, required=each.required or at in chosen, weight=0.0)
        for at, each in enumerate(problem.wishes)
    )
    return replace(problem, wishes=wishes)


def relaxed(problem: RotationProblem, members: Sequence[int], weight: float) -> RotationProblem:
    """The problem with some required wishes turned into weighty ones, so that a plan exists."""
    chosen = set(members)
    wishes = tuple(
        replace(each, required=False, weight=weight / max(each.wanted, _SHORT))
        if at in chosen
        else each
        for at, each in enumerate(problem.wishes)
    )
    return replace(problem, wishes=wishes)
