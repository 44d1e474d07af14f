"""The layout of a bed: its rows laid, counted, lit and explained."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np

from bedwright.planning.findings import Finding
from bedwright.planning.layout.arrange import Arrangement, arrangements, tall_and_low
from bedwright.planning.layout.crop_facts import LayoutCrop
from bedwright.planning.layout.drip import Drip, drip_of
from bedwright.planning.layout.model import BedLayout, RowLight, RowLights
from bedwright.planning.layout.pairs import Pair, PairLight, pair
from bedwright.planning.layout.plantings import Grounds, Planting
from bedwright.planning.layout.reasons import layout_findings
from bedwright.planning.layout.rows import PlantRow, triangular
from bedwright.planning.layout.seeds import crop_count, layout_rule
from bedwright.planning.layout.sides import (
    Asked,
    choose,
    row_points,
    row_tag,
    stations,
    tall_rows,
)
from bedwright.planning.layout.stays import Stay, heights_by_month, months_of
from bedwright.planning.layout.surroundings import (
    beds_beside,
    light_need,
    paths_beside,
    rows_beside,
)
from bedwright.planning.layout.trellis import trellis_parts
from bedwright.planning.light_map import light_on, month_scenes
from bedwright.planning.sunlight import MONTHS

_SUFFERS = "shade_in_heat"
_MID_MONTH = 15


def bed_layouts(grounds: Grounds, bed: str) -> tuple[BedLayout, ...]:
    """The layouts of a bed: one for each crop of its year, in the order of the year.

    Empty where no crop is wanted, or none whose spacing is known. Raises LookupError for a bed
    that is not there, WeatherError for a weather file that can't be used.
    """
    ids = [each.id for each in grounds.document.garden.bed]
    if bed not in ids:
        raise LookupError(f"there is no bed {bed!r}; beds: {', '.join(ids)}")
    return tuple(_layout(grounds, each) for each in grounds.plantings.get(bed, ()))


def _layout(grounds: Grounds, planting: Planting) -> BedLayout:
    library, frame = grounds.library, planting.frame
    crop, companion = planting.crop, planting.companion
    from_side = layout_rule(library, "row_from_side", "m").value
    ways = arrangements(frame, crop, companion, from_side)
    crowded = not ways
    if crowded:  # the companion finds no room beside the tall rows
        ways = arrangements(frame, crop, None, from_side)
        companion = None
    tall, low = tall_and_low(crop, companion)
    lit = _Lit.of(grounds, planting, tall, low)
    side = None
    taken = ways[0]
    if tall is not None and lit is not None:
        side = choose(ways, lit.asked)
        taken = side.taken.arrangement
    elif tall is not None:
        taken = next((each for each in ways if each.position == "middle"), ways[0])
    lights = None if lit is None else lit.lights(taken)
    crops = [each for each in (crop, companion) if each is not None]
    counts = tuple(
        crop_count(each, [row for row in taken.rows if row.crop == each.key], library)
        for each in crops
    )
    trellises = tuple(
        made
        for each in crops
        if (made := trellis_parts(each, [r for r in taken.rows if r.crop == each.key], library))
    )
    alone = companion is None and tall is None and not crop.hills
    layout = BedLayout(
        planting=planting,
        rows=taken.rows,
        counts=counts,
        trellises=trellises,
        side=side,
        pair=_pair(grounds, planting, tall, low, taken, lights) if companion is not None else None,
        lights=lights,
        drip=_drip(grounds, planting, taken.rows),
        paths=paths_beside(grounds, planting.bed.id),
        grid=sum(len(row.places) for row in triangular(frame, crop.key, crop.grid_spacing.value))
        if alone
        else None,
        findings=(),
    )
    said: tuple[Finding, ...] = layout_findings(layout, grounds, tall, low, crowded=crowded)
    return replace(layout, findings=said)


class _Lit:
    """The light of one planting: what the choice of a side asks, and that along the rows."""

    def __init__(self, asked: Asked, months: tuple[int, ...], low: LayoutCrop | None) -> None:
        self.asked, self.months, self.low = asked, months, low

    @classmethod
    def of(
        cls, grounds: Grounds, planting: Planting, tall: LayoutCrop | None, low: LayoutCrop | None
    ) -> _Lit | None:
        sun = grounds.sun
        if sun is None:
            return None
        north = sun.latitude_deg
        stays = {planting.crop.key: planting.stay}
        if planting.companion is not None and planting.companion_stay is not None:
            stays[planting.companion.key] = planting.companion_stay
        shade = layout_rule(grounds.library, "trellis_transmission", "1").value
        tops = (0.0,) * MONTHS
        if tall is not None and tall.height is not None:
            tops = heights_by_month(stays[tall.key], tall.height.value, north)
        elif tall is None:
            tops = _own_tops(grounds, planting, north)
        standing = months_of(stays[planting.crop.key], north)
        together = tuple(month for month in range(MONTHS) if tops[month] > 0)
        if low is not None:
            both = [month for month in months_of(stays[low.key], north) if tops[month] > 0]
            together = tuple(both) or months_of(stays[low.key], north)
        asked = Asked(
            document=grounds.document,
            sun=sun,
            frame=planting.frame,
            tops_m=tops,
            months=together or standing,
            need=None if low is None else light_need(low),
            relief=() if low is None else _hot(grounds, low, together),
            transmission=shade,
            others=rows_beside(grounds, planting, shade),
            beside=beds_beside(grounds, planting),
            alike_mol=layout_rule(grounds.library, "light_alike", "mol/m2/d").value,
        )
        return cls(asked, together or standing, low)

    def lights(self, taken: Arrangement) -> RowLights:
        """The light along every row of an arrangement."""
        asked, frame = self.asked, self.asked.frame
        shading = tall_rows(frame, taken.rows, asked.tops_m, asked.transmission)
        middle = frame.ground(frame.length_m / 2, frame.width_m / 2)
        reach = frame.length_m + 2 * frame.width_m
        scenes = month_scenes(asked.document, (*asked.others, *shading), (middle, reach))
        parts = [row_points(frame, row) for row in taken.rows]
        own = [row_tag(row) for row, part in zip(taken.rows, parts, strict=True) for _ in part]
        found = light_on(np.concatenate(parts), scenes, asked.sun, own)
        ends = np.cumsum([0, *(len(each) for each in parts)])
        rows = tuple(
            RowLight(
                stations(row),
                found.light_mol_m2_d[ends[at] : ends[at + 1]],
                found.sun_h_d[ends[at] : ends[at + 1]],
            )
            for at, row in enumerate(taken.rows)
        )
        shown = [at for at, row in enumerate(taken.rows) if not row.tall] or range(len(rows))
        light = np.array([rows[at].light_mol_m2_d.mean(axis=0) for at in shown]).mean(axis=0)
        share = light / np.maximum(found.open_mol_m2_d, 1e-9)
        # among months of the same share the one with the highest sun
        month = min(
            self.months, key=lambda each: (round(share[each], 2), -found.open_mol_m2_d[each])
        )
        return RowLights(rows, found.open_mol_m2_d, found.open_sun_h_d, month, self.months)


def _own_tops(grounds: Grounds, planting: Planting, north: float) -> tuple[float, ...]:
    """Heights of a crop that stands by itself; they matter where its rows are tall."""
    height = planting.crop.height
    return (
        (0.0,) * MONTHS if height is None else heights_by_month(planting.stay, height.value, north)
    )


def _hot(grounds: Grounds, low: LayoutCrop, together: Sequence[int]) -> tuple[int, ...]:
    """The months in which a crop that suffers from heat stands, and days are hot."""
    sun = grounds.sun
    if low.facts.light != _SUFFERS or sun is None or sun.t_max_c is None:
        return ()
    from_c = layout_rule(grounds.library, "relief_from_high", "degC").value
    return tuple(month for month in together if sun.t_max_c[month] >= from_c)


def _pair(
    grounds: Grounds,
    planting: Planting,
    tall: LayoutCrop | None,
    low: LayoutCrop | None,
    taken: Arrangement,
    lights: RowLights | None,
) -> Pair | None:
    assert planting.companion is not None and planting.companion_stay is not None
    words = (planting.companion_word, planting.want.crop, planting.companion.name)
    light = None
    if low is not None and lights is not None:
        stay = planting.companion_stay if low is planting.companion else planting.stay
        light = _pair_light(grounds, low, stay, taken, lights)
    return pair(planting.crop, planting.companion, words, low, light, grounds.library)


def _pair_light(
    grounds: Grounds, low: LayoutCrop, stay: Stay, taken: Arrangement, lights: RowLights
) -> PairLight:
    rows = [
        light.light_mol_m2_d.mean(axis=0)
        for row, light in zip(taken.rows, lights.rows, strict=True)
        if not row.tall
    ]
    mean = np.array(rows).mean(axis=0)
    need = low.facts.daily_light_need
    marked = layout_rule(grounds.library, "shade_marked", "1").value
    loss = 1 - mean / np.maximum(lights.open_mol_m2_d, 1e-9)
    least = min(float(mean[month]) for month in lights.months)
    return PairLight(
        least, None if need is None else need.value, _shaded_from(stay, loss, marked), stay.end
    )


def _shaded_from(stay: Stay, loss: np.ndarray, marked: float) -> date | None:
    """The day on which the loss first passes the mark, read between the middles of months."""
    if stay.start is None:
        return None
    before = 0.0
    for step in range(MONTHS):
        month = (stay.start.month - 1 + step) % MONTHS
        year = stay.start.year + (stay.start.month - 1 + step) // MONTHS
        middle = date(year, month + 1, _MID_MONTH)
        now = float(loss[month])
        if now >= marked and middle >= stay.start:
            share = 0.0 if now <= before else (now - marked) / (now - before)
            return middle - timedelta(days=round(30 * min(max(share, 0.0), 1.0)))
        before = now
    return None


def _drip(grounds: Grounds, planting: Planting, rows: Sequence[PlantRow]) -> Drip:
    named = planting.bed.water_zone
    zones = {each.id: each for each in grounds.document.garden.water_zone}
    offsets = sorted(row.offset_m for row in rows)
    apart = min((b - a for a, b in pairwise(offsets)), default=None)
    return drip_of(planting.frame, zones.get(named or ""), offsets, apart, grounds.library)
