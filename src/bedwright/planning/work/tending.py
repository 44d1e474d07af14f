"""The work on what grows, week by week: dress, mulch, weed, thin, tie, look, pick, wash, pack."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from bedwright.planning.findings import finding
from bedwright.planning.harvest.model import Picking
from bedwright.planning.harvest.pickings import pickings_of, shares_in
from bedwright.planning.work.before_planting import spread_parts
from bedwright.planning.work.cautions import lead_cautions, spread_cautions
from bedwright.planning.work.making import WEEK, Maker, monday
from bedwright.planning.work.model import Bring, Task
from bedwright.working import Figure

_HOE_M = 0.25  # between rows: room for a wheel hoe, judgement
_ONCE = timedelta(days=14)  # a harvest no longer than this is one work: judgement


def grow(maker: Maker, start: str) -> None:
    """Add the tasks on the growing crop; ``start`` is the id of its planting."""
    _side_dress(maker, start)
    _shade(maker, start)
    if maker.grown.covers_ground:
        return
    mulched = _mulch(maker, start)
    _thin(maker, start)
    _weed(maker, start, mulched)
    _tie(maker, start)
    for number, week in enumerate(_weeks(maker, "look"), 1):
        maker.add(
            "look", week, [maker.rates.time("look", "m2", maker.area_m2)],
            late=week + timedelta(days=6), number=number, after=((start, 0),), repeated=True,
        )  # fmt: skip
    _harvest(maker, start)


def _weeks(maker: Maker, kind: str) -> Iterator[date]:
    """The first days of a repeated task's weeks, from its start until the crop is done.

    Weeks too cold for anything to grow are left out.
    """
    rates, days = maker.rates, maker.days
    every = timedelta(days=round(rates.rule(kind, "every")))
    on = days.start + timedelta(days=round(rates.rule(kind, "starts")))
    week = monday(on) + (WEEK if on.weekday() > 3 else timedelta(0))
    while week <= days.end:
        if not maker.cold(week):
            yield max(week, days.start)
        week += every


def _side_dress(maker: Maker, start: str) -> None:
    lines = tuple(each for each in maker.grown.prescription.lines if each.later.value > 0)
    dates = maker.days.dressings
    if lines and not dates:
        maker.said.append(finding("work_dressing_not_dated", "doubt", bed=maker.grown.bed))
    for number, on in enumerate(dates, 1):
        hours, bring = spread_parts(maker, lines, share=1 / len(dates), later=True)
        maker.add(
            "side_dress", on, hours, number=number, bring=bring, after=((start, 0),),
            cautions=spread_cautions(maker, lines, later=True),
        )  # fmt: skip


def _shade(maker: Maker, start: str) -> None:
    if maker.shade_from is None or not maker.days.start <= maker.shade_from <= maker.days.end:
        return
    cloth = maker.grown.prescription.evidence.area
    maker.add(
        "shade", maker.shade_from, [maker.rates.time("shade", "m2", maker.area_m2)],
        after=((start, 0),), bring=(Bring("part", "shade_cloth", cloth),),
    )  # fmt: skip


def _mulch(maker: Maker, start: str) -> bool:
    """Lay the mulch that the document states for the bed; whether there is one."""
    mulch = maker.mulch
    if mulch is None:
        return False
    share = 1.0 if mulch.cover is None else mulch.cover.si
    area = maker.area_m2 * share
    if mulch.of == "plastic":
        amount = Figure("area", area, "m2", "computed", formula="area x share under it")
        hours = maker.rates.time("cover", "m2", area)
    else:
        volume = area * maker.rates.length_m("mulch", "depth")
        amount = Figure("volume", volume, "m3", "computed", formula="area under it x depth")
        hours = maker.rates.time("mulch", "m3", volume)
    day = maker.days.start if mulch.laid is None else mulch.laid
    maker.add(
        "mulch", day, [hours], bring=(Bring("part", mulch.of.replace(" ", "_"), amount),),
        after=((start, 0),) if day >= maker.days.start else (),
    )  # fmt: skip
    return True


def _thin(maker: Maker, start: str) -> None:
    layout = maker.grown.layout
    if layout is None or start.split("/")[2] != "sow":
        return
    for each in layout.counts:
        if each.crop != maker.grown.prescription.crop.key or each.row_length_m <= 0:
            continue
        if each.seeds is not None and each.seeds.value <= each.plants.value:
            continue
        wait = round(maker.rates.rule("thin", "starts"))
        maker.add(
            "thin", maker.days.start + timedelta(days=wait),
            [maker.rates.time("thin", "m", each.row_length_m)], after=((start, wait - 7),),
        )  # fmt: skip


def _weed(maker: Maker, start: str, mulched: bool) -> None:
    layout = maker.grown.layout
    apart = None if layout is None else layout.least_apart_m
    way = "hand"
    if mulched:
        way = "mulched"
    elif "wheel hoe" in maker.stated.tools and (apart is None or apart >= _HOE_M):
        way = "wheel_hoe"
    for number, week in enumerate(_weeks(maker, "weed"), 1):
        maker.add(
            "weed", week, [maker.rates.time("weed", "m2", maker.area_m2, way)],
            late=week + timedelta(days=6), number=number, methods=(way,), after=((start, 0),),
            cautions=lead_cautions(maker), repeated=True,
        )  # fmt: skip


def _tie(maker: Maker, start: str) -> None:
    layout = maker.grown.layout
    if layout is None or not layout.trellises:
        return
    tied = {each.crop for each in layout.trellises}
    plants = sum(each.places for each in layout.counts if each.crop in tied)
    for number, week in enumerate(_weeks(maker, "tie"), 1):
        maker.add(
            "tie", week, [maker.rates.time("tie", "plant", plants)],
            late=week + timedelta(days=6), number=number, after=((start, 0),), repeated=True,
        )  # fmt: skip


def _harvest(maker: Maker, start: str) -> None:
    """Pick, wash and pack the bed's own crop, and the one that shares the bed."""
    days, crop = maker.days, maker.grown.prescription.crop
    own = maker.harvest
    if own is not None and own.bears is not None:
        return  # a perennial that is not picked yet
    pickings = pickings_of(days, maker.grown.dates)
    if not pickings:
        maker.said.append(
            finding("work_pick_not_dated", "doubt", bed=maker.grown.bed, crop=crop.name.lower())
        )
    area = maker.grown.prescription.evidence.area
    whole = Figure("mass", crop.goal.value * maker.area_m2, "kg", "computed",
                   formula="yield hoped for x area", inputs=(crop.goal, area))  # fmt: skip
    if own is not None and own.mass is not None:
        whole = own.mass
    _picked(maker, whole, pickings, start, None)
    other = maker.companion_harvest
    layout = maker.grown.layout
    if other is None or other.mass is None or layout is None or layout.planting.companion is None:
        return
    key = layout.planting.companion.key
    planted = next((each.id for each in maker.tasks if each.crop == key and _plants(each)), None)
    if planted is not None:
        _picked(maker, other.mass, other.pickings, planted, key)


def _plants(task: Task) -> bool:
    return task.kind in ("set_out", "sow", "plant")


def _picked(
    maker: Maker, whole: Figure, pickings: Sequence[Picking], start: str, crop: str | None
) -> None:
    """Pick a harvest, spread evenly over its days: each week's share of it is one task; one that
    is over within two weeks is one task as a whole."""
    if not pickings:
        return
    first, last = pickings[0].first, max(each.last for each in pickings)
    windows = [(first, max(last, first + timedelta(days=6)), 1.0)]
    if last - first > _ONCE:
        windows = []
        week = monday(first)
        while week <= last:
            _, share, _ = shares_in(pickings, week)
            if share > 0:
                windows.append((max(week, first), week + timedelta(days=6), share))
            week += WEEK
    repeated = len(windows) > 1
    for number, (begin, end, share) in enumerate(windows, 1):
        mass = Figure("mass", whole.value * share, "kg", "computed", low=whole.least * share,
                      high=whole.most * share, formula="harvest x share of the week",
                      inputs=(whole,))  # fmt: skip
        before: tuple[tuple[str, int], ...] = ((start, 0),)
        for kind in ("pick", "wash", "pack"):
            method = maker.method_of(kind, crop)
            if method is None:
                continue
            maker.add(
                kind, begin, [maker.rates.time(kind, "kg", mass.value, method)], late=end,
                number=number, after=before, repeated=repeated, crop=crop,
                bring=(Bring("part", "picked", mass),) if kind == "pick" else (),
            )  # fmt: skip
            before = ((maker.id_of(kind, number, crop), 0),)
