"""Clearing a bed: its hours and its day by what stands there and where that goes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.planning.findings import Finding, finding
from bedwright.planning.turnover.model import Turnover, Way
from bedwright.planning.work.making import Maker
from bedwright.planning.work.model import Bring
from bedwright.working import Figure

_PICKED = frozenset({"sell", "house"})
_STILL_GIVES = 7  # days early at most: what still gives is not pulled weeks ahead, judgement


@dataclass(frozen=True)
class Cleared:
    """How a bed is cleared. ``by`` is its last day, ``early`` how many days before it may be done,
    None as the rules have it; ``rots`` how many days lie between it and the planting at least."""

    hours: list[Figure]
    methods: tuple[str, ...]
    bring: tuple[Bring, ...]
    cautions: tuple[Finding, ...]
    by: date
    early: int | None
    rots: int


def cleared(maker: Maker) -> Cleared:
    """How a planting's bed is cleared for it.

    Of each standing crop that the document tells of: what is ripe is picked, then its plants go
    the first way that is open to them. What is not told to stand takes the table's usual time.
    """
    rates, by = maker.rates, maker.days.clear
    hours: list[Figure] = []
    methods: list[str] = []
    bring: list[Bring] = []
    said: list[Finding] = []
    early: int | None = None
    rots, rest = 0, maker.area_m2
    ways = [_way(each) for each in maker.stands]
    for way in ways:
        by = by if way is None or way.by is None else min(by, way.by)
    if maker.stands:  # it stands today, whatever should have been by now
        by = max(by, maker.as_of)
    for each, way in zip(maker.stands, ways, strict=True):
        area = min(maker.area_m2 / (1 if each.part is None else _parts(maker)), rest)
        rest -= area
        method = way.kind if way is not None and rates.known("clear", way.kind, "m2") else ""
        hours.append(rates.time("clear", "m2", area, method))
        methods += [method] if method else []
        if way is not None:
            said.append(
                finding("work_clear_way", "note", crop=each.name, way=way.kind, stock=way.stock)
            )
            rots = max(rots, _rots(each, way))
        ripe = maker.ripe(each.at, by)
        if ripe is not None:
            early = _STILL_GIVES
            picking = maker.method_of("pick", each.crop)
            if picking is not None:
                hours.append(rates.time("pick", "kg", ripe.value, picking))
            bring.append(Bring("part", "picked", ripe))
            said.append(finding("work_clear_pick", "note", crop=each.name))
    if rest > 1e-9:
        hours.append(rates.time("clear", "m2", rest))
    return Cleared(hours, tuple(dict.fromkeys(methods)), tuple(bring), tuple(said), by, early, rots)


def _parts(maker: Maker) -> int:
    return max(maker.grown.prescription.bed.parts, 1)


def _way(each: Turnover) -> Way | None:
    """The first way that is open to its plants."""
    return next((one for one in each.ways if one.kind not in _PICKED), None)


def _rots(each: Turnover, way: Way) -> int:
    """The days that what is left on the bed needs before the next crop, never more than there
    are: 0 where all of it is carried off."""
    if way.kind not in ("dig_in", "leave_on_top") or way.by is None or each.next.start is None:
        return 0
    planned = (each.next.start - way.by).days
    if way.kind == "dig_in" and each.residue is not None:
        return min(planned, round(each.residue.wait.value))
    return planned
