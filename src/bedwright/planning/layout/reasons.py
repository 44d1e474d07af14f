"""Why a bed is laid as it is, and what to know of it, as findings."""

from __future__ import annotations

import calendar
import math

import numpy as np

from bedwright.planning.findings import Finding, Value, finding
from bedwright.planning.layout.crop_facts import LayoutCrop
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.layout.plantings import Grounds
from bedwright.planning.layout.rows import row_count
from bedwright.planning.layout.seeds import layout_rule
from bedwright.planning.layout.sides import Choice, Judged
from bedwright.planning.layout.stays import months_of
from bedwright.planning.layout.surroundings import light_need
from bedwright.working import Figure

COMPASS = (
    "north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest",
)  # fmt: skip
_TROPIC_DEG = 23.5  # within it the noon sun stands on either side through the year
_FACING = 0.34  # cosine from which a side faces a bearing, as in sides.py
_FLOWERS_DAYS = 7  # sown within these, corn sheds pollen while its neighbor has silk: judgement
_LOST = 0.1  # share of the open light from which a shortage is laid to shade: judgement


def layout_findings(
    layout: BedLayout,
    grounds: Grounds,
    tall: LayoutCrop | None,
    low: LayoutCrop | None,
    *,
    crowded: bool,
) -> tuple[Finding, ...]:
    """Everything to say of a layout; cautions about posts stand with the trellis parts.

    ``tall`` and ``low`` are the crops that stand over and under; ``crowded`` tells that the
    companion found no room.
    """
    planting, found = layout.planting, list[Finding]()
    if crowded and planting.companion is not None:
        found.append(
            finding(
                "companion_no_room",
                "caution",
                second=planting.companion.name.lower(),
                first=planting.crop.name.lower(),
            )
        )
    if layout.side is not None and tall is not None:
        found += side_findings(layout, layout.side, grounds, tall, low)
    elif tall is not None:
        found.append(finding("layout_no_latitude", "doubt", tall=tall.name.lower()))
    found += _light(layout, grounds)
    found += _room(layout, grounds)
    found += _block(layout, grounds)
    found += planting.findings
    sun = grounds.sun
    if sun is not None:
        found += sun.findings
        if not planting.frame.placed and grounds.document.garden.structure:
            found.append(finding("layout_unplaced", "doubt"))
    return tuple(found)


def side_findings(
    layout: BedLayout,
    side: Choice,
    grounds: Grounds,
    tall: LayoutCrop,
    low: LayoutCrop | None,
) -> list[Finding]:
    """Why the tall rows stand on their side, in one sentence or two."""
    assert grounds.sun is not None
    name = tall.name.lower()
    position = side.taken.arrangement.position
    if side.why == "only" and low is None:
        return [finding("side_only", "note", tall=name)]
    light = _shown(side.taken)
    others = [_shown(each) for each in side.judged[1:]] or [light]
    values: dict[str, Value] = {
        "tall": name,
        "light": light,
        "other": min(others),
        "month": month_name(layout.lights.month) if layout.lights is not None else "",
    }
    if position == "middle":
        code = "side_middle_alike" if side.why in ("alike", "only") else "side_middle"
        return [finding(code, "note", **values)]  # type: ignore[arg-type]
    frame = layout.planting.frame
    bearing = frame.bearing_across(left=position == "left")
    values["side"] = compass(bearing)
    if side.why == "relief" and low is not None:
        hot = _hot_months(layout, grounds, low)
        need = light_need(low)
        return [
            finding(
                "side_for_relief" if len(hot) > 1 else "side_for_relief_month",
                "note",
                low=low.name.lower(),
                start=month_name(hot[0]),
                end=month_name(hot[-1]),
                need=0.0 if need is None else round(need.wanted_mol_m2, 1),
                **values,  # type: ignore[arg-type]
            )
        ]
    if side.why == "alike":
        pole = 0.0 if grounds.sun.latitude_deg >= 0 else math.pi
        values["pole"] = compass(pole)
        code = "side_alike_poleward" if math.cos(bearing - pole) > _FACING else "side_alike"
        return [finding(code, "note", **values)]  # type: ignore[arg-type]
    said = []
    if side.why == "beside":
        said.append(finding("side_for_beds_beside", "note", **values))  # type: ignore[arg-type]
    else:
        said.append(_by_light(layout, grounds, bearing, low, values))
    if low is not None and _hot_months(layout, grounds, low):
        said.append(finding("relief_not_from_trellis", "note", low=low.name.lower()))
    return said


def _by_light(
    layout: BedLayout,
    grounds: Grounds,
    bearing: float,
    low: LayoutCrop | None,
    values: dict[str, Value],
) -> Finding:
    assert grounds.sun is not None
    north = grounds.sun.latitude_deg
    pole = 0.0 if north >= 0 else math.pi
    poleward = abs(north) > _TROPIC_DEG and math.cos(bearing - pole) > _FACING
    if low is not None:
        values["low"] = low.name.lower()
    if not poleward:
        code = "side_by_light" if low is not None else "side_by_light_alone"
        return finding(code, "note", **values)  # type: ignore[arg-type]
    values["sun"] = compass(pole + math.pi)
    values["shadow"] = compass(pole)
    code = "side_by_shadow" if low is not None else "side_by_shadow_alone"
    return finding(code, "note", **values)  # type: ignore[arg-type]


def compass(bearing_rad: float) -> str:
    """The nearest of eight bearings in words."""
    return COMPASS[round(math.degrees(bearing_rad) / 45) % 8]


def month_name(month: int) -> str:
    """A month's English name; 0 is January."""
    return calendar.month_name[month + 1]


def _shown(judged: Judged) -> float:
    light = judged.ground_mol if math.isnan(judged.low_mol) else judged.low_mol
    return round(light, 1)


def _hot_months(layout: BedLayout, grounds: Grounds, low: LayoutCrop) -> tuple[int, ...]:
    sun, lights = grounds.sun, layout.lights
    if low.facts.light != "shade_in_heat" or sun is None or sun.t_max_c is None or lights is None:
        return ()
    from_c = layout_rule(grounds.library, "relief_from_high", "degC").value
    return tuple(month for month in lights.months if sun.t_max_c[month] >= from_c)


def _light(layout: BedLayout, grounds: Grounds) -> list[Finding]:
    """Crops whose rows fall short of their light by shade, in their darkest month."""
    planting, lights, sun = layout.planting, layout.lights, grounds.sun
    if lights is None or sun is None:
        return []
    found = []
    stays = [(planting.crop, planting.stay)]
    if planting.companion is not None and planting.companion_stay is not None:
        stays.append((planting.companion, planting.companion_stay))
    for crop, stay in stays:
        need = light_need(crop)
        rows = [
            light.light_mol_m2_d.mean(axis=0)
            for row, light in zip(layout.rows, lights.rows, strict=True)
            if row.crop == crop.key
        ]
        if need is None or not rows:
            continue
        mean = np.array(rows).mean(axis=0)
        months = [
            month
            for month in months_of(stay, sun.latitude_deg)
            if mean[month] < need.wanted_mol_m2
            and mean[month] < (1 - _LOST) * lights.open_mol_m2_d[month]
        ]
        if not months:
            continue
        worst = min(months, key=lambda month: float(mean[month]))
        dark = bool(mean[worst] < need.least_mol_m2)
        found.append(
            finding(
                "rows_dark" if dark else "rows_thin",
                "caution",
                crop=crop.name.lower(),
                month=month_name(worst),
                light=round(float(mean[worst]), 1),
                need=round(need.wanted_mol_m2, 1),
                open=round(float(lights.open_mol_m2_d[worst]), 1),
            )
        )
    return found


def _room(layout: BedLayout, grounds: Grounds) -> list[Finding]:
    planting, found = layout.planting, list[Finding]()
    crop, frame = planting.crop, planting.frame
    wide = Figure("width", frame.width_m, "m", "stated")
    if not crop.trellised and crop.between_rows.value > frame.width_m * 1.25:
        found.append(
            finding(
                "vines_over_paths",
                "note",
                crop=crop.name.lower(),
                apart=crop.between_rows,
                wide=wide,
            )
        )
    if crop.facts.trellis == "optional" and "trellis" not in crop.stated:
        code = "trellis_taken" if crop.trellised else "trellis_not_taken"
        found.append(finding(code, "assumed", crop=crop.name.lower()))
    least = layout_rule(grounds.library, "path_width", "m").least
    for path in layout.paths:
        if path.width_m < least - 1e-6:
            width = Figure("width", path.width_m, "m", "computed")
            found.append(finding("path_narrow", "note", bed=path.beside, width=width))
    return found


def _block(layout: BedLayout, grounds: Grounds) -> list[Finding]:
    """Crops that wind pollinates, in fewer rows side by side than fill their ears.

    Rows in the nearest beds to the left and right count where the crop starts there within the
    same days, for pollen and silk must be out together.
    """
    found = []
    library, planting = grounds.library, layout.planting
    rule = layout_rule(library, "wind_block_rows", "1")
    for count in layout.counts:
        habits = library.habits(count.crop)
        if not any(row["property"] == "pollination" and row["word"] == "wind" for row in habits):
            continue
        crop = next(e for e in (planting.crop, planting.companion) if e and e.key == count.crop)
        start = planting.stay.start
        rows = count.rows
        for path in layout.paths:
            for other in grounds.plantings.get(path.beside, ()):
                if other.crop.key != count.crop or None in (start, other.stay.start):
                    continue
                assert start is not None and other.stay.start is not None
                if abs((other.stay.start - start).days) <= _FLOWERS_DAYS:
                    rows += row_count(other.frame.width_m, other.crop.between_rows.least)
        if rows < rule.least:
            found.append(
                finding(
                    "rows_too_few_for_wind",
                    "caution",
                    crop=crop.name.lower(),
                    least=rule.least,
                    better=rule.value,
                    sources=rule.sources,
                )
            )
    return found
