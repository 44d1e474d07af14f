"""The work of planting: drip, trellis, raising, hardening, planting, cover, later sowings."""

from __future__ import annotations

import math
from datetime import date, timedelta

from bedwright.crops.growing import growing
from bedwright.planning.findings import Finding, finding
from bedwright.planning.layout.seeds import CropCount
from bedwright.planning.layout.trellis import TrellisParts
from bedwright.planning.work.cautions import sources_of
from bedwright.planning.work.making import Maker
from bedwright.planning.work.model import Bring
from bedwright.working import Figure

KINDS = {"set_out": "set_out", "pieces": "plant", "sown": "sow"}
_COVERS = frozenset({"none", ""})
_READY = ("work_in", "loosen", "fork_test", "clear")


def plant(maker: Maker, *, drip: bool) -> None:
    """Add the tasks of planting, each after what must go before it."""
    days = maker.days
    if drip:
        _drip(maker)
    _trellis(maker)
    kind = KINDS.get(days.start_word, "sow")
    _raise(maker, kind)
    _start(maker, kind)
    _companion(maker, maker.id_of(kind))
    cover = maker.grown.dates.cover if maker.grown.dates is not None else None
    if cover is not None and cover not in _COVERS:
        _cover(maker, kind)
    for number, on in enumerate(days.again, 2):
        _start_again(maker, kind, number, on)


def _drip(maker: Maker) -> None:
    layout = maker.grown.layout
    rates = maker.rates
    hours = [rates.time("drip", "bed", 1, "connect")]
    bring: tuple[Bring, ...] = ()
    if layout is not None:
        length = layout.drip.length_m
        hours.append(rates.time("drip", "m", length, "line"))
        bring = (Bring("part", "drip_line", Figure("length", length, "m", "computed")),)
    maker.add(
        "drip", maker.days.drip, hours, late=maker.days.drip, bring=bring,
        after=maker.last_of(*_READY),
    )  # fmt: skip


def _trellis(maker: Maker) -> None:
    layout = maker.grown.layout
    for number, parts in enumerate(layout.trellises if layout is not None else (), 1):
        panel = parts.kind == "panel"
        way = "post" if panel else "stake"
        hours = [maker.rates.time("trellis", "post", parts.posts, way)]
        bring = [Bring("part", "post" if panel else "stake", _count("posts", parts.posts))]
        if panel:
            hours.append(maker.rates.time("trellis", "panel", parts.panels, "panel"))
            bring.append(Bring("part", "panel", _count("panels", parts.panels)))
        bring.append(Bring("part", "twine", parts.line))
        maker.add(
            "trellis", maker.days.start, hours, number=number, methods=(parts.kind,),
            after=maker.last_of("clear"), bring=tuple(bring), people=2 if panel else 1,
            cautions=_post_cautions(maker, parts),
        )  # fmt: skip


def _post_cautions(maker: Maker, parts: TrellisParts) -> tuple[Finding, ...]:
    """Those of the layout: lines in the ground, the driver, weight; and two hands for a panel."""
    found = [each for each in parts.findings if each.weight == "caution"]
    if parts.kind == "panel":
        found.append(finding("work_two_people", "caution", sources=sources_of(maker, "two_people")))
    return tuple(found)


def _count(name: str, value: float) -> Figure:
    return Figure(name, float(value), "-", "computed")


def _raise(maker: Maker, kind: str) -> None:
    """Sow in trays and harden, where the crop is raised and set out: for each setting out."""
    days, count = maker.days, _own_count(maker)
    if kind != "set_out" or days.sow_under_cover is None or count is None:
        return
    starts = (days.start, *days.again)
    ahead = days.start - days.sow_under_cover
    hardening = None if days.harden is None else days.start - days.harden
    for number, on in enumerate(starts, 1):
        harden = None if hardening is None else on - hardening
        _trays(maker, count, number, 1 / len(starts), on - ahead, harden)


def _trays(
    maker: Maker,
    count: CropCount,
    number: int,
    share: float,
    sow: date,
    harden: date | None,
    crop: str | None = None,
) -> None:
    """The trays of one setting out: as many as its plants take that are raised from seed."""
    rates = maker.rates
    share *= maker.raised.get(count.crop, 1.0)
    plants = (count.to_raise or count.plants).value * share
    if plants <= 0:
        return
    cells = maker.stated.tray_cells or round(rates.rule("sow_trays", "cells"))
    trays = math.ceil(plants / cells - 1e-9)
    seed = count.seed_mass or count.seeds
    maker.add(
        "sow_trays", sow, [rates.time("sow_trays", "tray", trays)], number=number, crop=crop,
        bring=(
            *((Bring("seed", count.crop, _share(seed, share)),) if seed is not None else ()),
            Bring("part", "tray", _count("trays", trays)),
        ),
        trays=trays, frees_bench=maker.id_of("set_out", number, crop),
    )  # fmt: skip
    if harden is not None:
        wait = max((harden - sow).days - 6, 0)
        maker.add(
            "harden", harden, [rates.time("harden", "tray", trays)], number=number, crop=crop,
            after=((maker.id_of("sow_trays", number, crop), wait),),
        )  # fmt: skip


def _raised(maker: Maker, number: int) -> list[tuple[str, int]]:
    """What one setting out waits for of its own trays."""
    made = {each.id for each in maker.tasks}
    waits = {"sow_trays": maker.days.least_raising, "harden": maker.days.least_hardening}
    return [
        (maker.id_of(kind, number), wait)
        for kind, wait in waits.items()
        if maker.id_of(kind, number) in made
    ]


def _own_count(maker: Maker) -> CropCount | None:
    layout, key = maker.grown.layout, maker.grown.prescription.crop.key
    counts = layout.counts if layout is not None else ()
    return next((each for each in counts if each.crop == key), None)


def _start(maker: Maker, kind: str) -> None:
    """The planting itself."""
    days = maker.days
    after = _ready(maker)
    if kind == "set_out":
        after += _raised(maker, 1)
    hours, bring = _planted(maker, kind, 1 / (1 + len(days.again)))
    maker.add(kind, days.start, hours, late=days.start_late, after=tuple(after), bring=bring)


def _ready(maker: Maker) -> list[tuple[str, int]]:
    """What makes the bed ready for a planting, with the days to wait."""
    after: list[tuple[str, int]] = []
    for before, wait in maker.last_of(*_READY):
        rests = before.split("/")[2] == "work_in"
        after.append((before, maker.days.rest if rests else wait))
    if maker.rots:
        after += [(before, maker.rots) for before, _ in maker.last_of("clear")]
    return [*after, *maker.last_of("drip")]


def _companion(maker: Maker, start: str) -> None:
    """The planting of the crop that shares the bed, on its own day; where that is not known, on
    that of the bed's own crop."""
    layout = maker.grown.layout
    if layout is None or layout.planting.companion is None:
        return
    key, word = layout.planting.companion.key, layout.planting.companion.start
    count = next((each for each in layout.counts if each.crop == key), None)
    if count is None or key == maker.grown.prescription.crop.key:
        return
    kind, own = KINDS.get(word, "sow"), layout.companion_days
    after = _ready(maker)
    on = maker.days.start if own is None else own.start
    if kind == "set_out" and own is not None and own.sow_under_cover is not None:
        _trays(maker, count, 1, 1.0, own.sow_under_cover, None, key)
        sown = maker.id_of("sow_trays", 1, key)
        if any(each.id == sown for each in maker.tasks):
            after.append((sown, (on - own.sow_under_cover).days - 6))
    if on >= maker.days.start:
        after.append((start, 0))
    maker.add(
        kind, on, [_time(maker, kind, count, 1.0)], crop=key, after=tuple(after),
        bring=(_brought(kind, count, 1.0),),
    )  # fmt: skip


def _planted(maker: Maker, kind: str, share: float) -> tuple[list[Figure], tuple[Bring, ...]]:
    count = _own_count(maker)
    if count is None:
        hours = [maker.rates.time("sow", "m2", maker.area_m2 * share, "broadcast")]
        return hours, _broadcast(maker, share)
    return [_time(maker, kind, count, share)], (_brought(kind, count, share),)


def _broadcast(maker: Maker, share: float) -> tuple[Bring, ...]:
    """The seed of a crop without rows, such as a cover, where its rate is known."""
    key = maker.grown.prescription.crop.key
    rate = growing(maker.library, key).seed_rate
    if rate is None:
        return ()
    area = maker.grown.prescription.evidence.area
    mass = Figure("mass", rate.value * area.value * share, "kg", "computed",
                  formula="seed by area x area", inputs=(rate, area))  # fmt: skip
    return (Bring("seed", key, mass),)


def _time(maker: Maker, kind: str, count: CropCount, share: float) -> Figure:
    rates = maker.rates
    if kind == "set_out":
        return rates.time("set_out", "plant", count.places * share)
    if kind == "plant":
        return rates.time("plant", "piece", count.places * share)
    if count.row_length_m > 0:
        return rates.time("sow", "m", count.row_length_m * share, "rows")
    return rates.time("sow", "m2", maker.area_m2 * share, "broadcast")


def _brought(kind: str, count: CropCount, share: float) -> Bring:
    if kind == "set_out":
        return Bring("plants", count.crop, _share(count.to_raise or count.plants, share))
    if kind == "plant" and count.seed_mass is None:
        return Bring("plants", count.crop, _share(count.to_raise or count.plants, share))
    seed = count.seed_mass or count.seeds
    return Bring("seed", count.crop, None if seed is None else _share(seed, share))


def _share(whole: Figure, share: float) -> Figure:
    if share == 1:
        return whole
    return Figure(
        whole.name, whole.value * share, whole.unit, "computed",
        low=whole.least * share, high=whole.most * share,
        formula="whole x share of the sowing", inputs=(whole,),
    )  # fmt: skip


def _start_again(maker: Maker, kind: str, number: int, on: date) -> None:
    """A sowing that follows: its share of the bed."""
    hours, bring = _planted(maker, kind, 1 / (1 + len(maker.days.again)))
    after = [(maker.id_of(kind, number - 1), 0)]
    if kind == "set_out":
        after += _raised(maker, number)
    maker.add(kind, on, hours, number=number, bring=bring, after=tuple(after))


def _cover(maker: Maker, kind: str) -> None:
    days = maker.days
    on = maker.add(
        "cover", days.start, [maker.rates.time("cover", "m2", maker.area_m2)],
        late=days.start_late + timedelta(days=3), after=((maker.id_of(kind), 0),),
    )  # fmt: skip
    if days.cover_off is not None and days.cover_off > days.start:
        maker.add(
            "uncover", days.cover_off, [maker.rates.time("uncover", "m2", maker.area_m2)],
            after=((on.id, 0),),
        )  # fmt: skip
