"""What became of the wishes, year by year."""

from __future__ import annotations

import numpy as np

from bedwright.planning.assignment.build import Question
from bedwright.planning.assignment.result import WishMet
from bedwright.planning.assignment.wishes import Asked
from bedwright.planning.rotation.problem import BoolArray

_SHORT = 1e-6


def wishes_met(asked: Question, chosen: BoolArray) -> tuple[WishMet, ...]:
    """Each wish in each of its years; the stall's weeks taken together."""
    groups: dict[tuple[int, int], list[Asked]] = {}
    for each in asked.asked:
        if each.kind == "wish":
            groups.setdefault((each.at, each.year), []).append(each)
    return tuple(_met(asked, chosen, group) for group in groups.values())


def _met(asked: Question, chosen: BoolArray, group: list[Asked]) -> WishMet:
    first = group[0]
    given = [float((each.wish.amount * chosen).sum()) for each in group]
    lacking = [max(each.wish.wanted - gives, 0.0) for each, gives in zip(group, given, strict=True)]
    weeks_short = [
        each.week
        for each, lacks in zip(group, lacking, strict=True)
        if each.week is not None and lacks > _SHORT
    ]
    stated = asked.setting.document.garden.wish[first.at]
    suits = np.logical_or.reduce([(each.wish.amount > 0).any(axis=0) for each in group])
    open_units = (asked.problem.allowed & suits[None, :]).any(axis=1)
    units = asked.setting.units
    return WishMet(
        at=first.at,
        crop=first.candidate,
        year=first.year,
        measure=first.measure,
        must=stated.must,
        wanted=sum(each.wish.wanted for each in group),
        given=sum(min(gives, each.wish.wanted) for each, gives in zip(group, given, strict=True)),
        short=sum(lacking),
        short_beds=sum(lacks / each.a_bed for each, lacks in zip(group, lacking, strict=True)),
        weeks=sum(each.weeks for each in group),
        weeks_short=tuple(weeks_short),
        weeks_out=tuple(x.week for x in group if x.week is not None and not x.wish.amount.any()),
        open_beds=tuple(dict.fromkeys(units[at].bed for at in np.flatnonzero(open_units))),
        barred=_barred(asked, suits, open_units),
    )


def _barred(
    asked: Question, suits: BoolArray, open_units: BoolArray
) -> tuple[tuple[str, int], ...]:
    """How many beds each rule keeps from a crop: the first of the rules that bars all its dates."""
    counts: dict[str, set[str]] = {}
    for unit in np.flatnonzero(~open_units):
        for bar in asked.bars:
            if (
                bar.code not in ("only", "unasked")
                and suits.any()
                and bar.barred[unit, suits].any()
            ):
                counts.setdefault(bar.code, set()).add(asked.setting.units[unit].bed)
                break
    return tuple((code, len(beds)) for code, beds in counts.items())
