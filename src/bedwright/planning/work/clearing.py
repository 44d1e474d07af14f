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
    for each in maker.stands:
        area = min(maker.area_m2 / (1 if each.part is None else _parts(maker)), rest)
        rest -= area
        way = next((one for one in each.ways if one.kind not in _PICKED), None)
        method = way.kind if way is not None and rates.known("clear", way.kind, "m2") else ""
        hours.append(rates.time("clear", "m2", area, method))
        methods += [method] if method else []
        if way is not None:
            said.append(
                finding("work_clear_way", "note", crop=each.name, way=way.kind, stock=way.stock)
            )
            by = by if way.by is None else min(by, way.by)
            rots = max(rots, _rots(each, way))
        ripe = _ripe(each)
        if ripe is not None:
            early = _STILL_GIVES
            picking = maker.method_of("pick", each.crop)
            if picking is not None:
                hours.append(rates.time("pick", "kg", ripe.value, picking))
            bring.append(Bring("part", "picked", ripe))
            said.append(finding("work_clear_pick", "note", crop=each.name))
    if maker.stands:  # it stands today, whatever should have been by now
        by = max(by, maker.as_of)
    if rest > 1e-9:
        hours.append(rates.time("clear", "m2", rest))
    return Cleared(hours, tuple(dict.fromkeys(methods)), tuple(bring), tuple(said), by, early, rots)


def _parts(maker: Maker) -> int:
    return max(maker.grown.prescription.bed.parts, 1)


def _ripe(each: Turnover) -> Figure | None:
    """What is picked on the day of clearing [kg]: the whole of what is picked at once, a week's
    worth of what is picked again and again; None where nothing is, or may be, picked."""
    if not any(way.kind in _PICKED for way in each.ways):
        return None
    left = each.left
    ripe = left.at_once or left.per_week
    if ripe is None or ripe.value <= 0 or (left.total is not None and left.total.value <= 0):
        return None
    return ripe


def _rots(each: Turnover, way: Way) -> int:
    """The days that what is left on the bed needs before the next crop, never more than there
    are: 0 where all of it is carried off."""
    if way.kind not in ("dig_in", "leave_on_top") or way.by is None or each.next.start is None:
        return 0
    planned = (each.next.start - way.by).days
    if way.kind == "dig_in" and each.residue is not None:
        return min(planned, round(each.residue.wait.value))
    return planned
