"""What became of the wishes, year by year."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from bedwright.planning.assignment.build import Question
from bedwright.planning.assignment.result import WishMet
from bedwright.planning.assignment.wishes import Asked
from bedwright.planning.findings import Finding, finding
from bedwright.planning.rotation.problem import BoolArray
from bedwright.working import Figure

_SHORT = 1e-6
_NOTABLY = 1.1  # times what a week asks for: what is less is within the error of any yield


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
    over = {
        each.week: gives - each.wish.wanted
        for each, gives in zip(group, given, strict=True)
        if each.week is not None and gives > each.wish.wanted * _NOTABLY
    }
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
        over=sum(over.values()),
        weeks_over=tuple(over),
        weeks_short=tuple(weeks_short),
        weeks_out=tuple(x.week for x in group if x.week is not None and not x.wish.amount.any()),
        open_beds=tuple(dict.fromkeys(units[at].bed for at in np.flatnonzero(open_units))),
        barred=_barred(asked, suits, open_units),
    )


def more_than_weekly(wishes: Sequence[WishMet]) -> list[Finding]:
    """Crops of which more is ripe in the stall's weeks than these ask for, each told once."""
    found = []
    for at in dict.fromkeys(each.at for each in wishes if each.weeks_over):
        own = [each for each in wishes if each.at == at]
        mass = Figure("surplus", sum(each.over for each in own), "kg", "computed",
                      formula="what is ripe beyond the weekly amount")  # fmt: skip
        found.append(
            finding("rotation_more_than_weekly", "caution", crop=own[0].crop.name.lower(),
                    mass=mass, weeks=float(sum(len(each.weeks_over) for each in own)),
                    asked=float(sum(each.weeks for each in own)))
        )  # fmt: skip
    return found


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
