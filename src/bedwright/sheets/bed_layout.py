"""A bed's layout drawn: rows with their plants, the trellis, and the light along the bed."""

from __future__ import annotations

import numpy as np

from bedwright.drawings import LightStrip, Row, bed_drawing
from bedwright.garden import Document
from bedwright.language import Words, named
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.layout.rows import PlantRow
from bedwright.planning.layout.trellis import posts_along
from bedwright.reports.layout_text import counted, crop_names, drip_line, side_word, trellis_lines
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.reports.words_layout import ROW_WORDS, SHEET_ROWS
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain
from bedwright.units.tape import tape


def layout_drawing(
    layout: BedLayout,
    document: Document,
    system: UnitSystem,
    *,
    width_px: float = 720.0,
    height_px: float = 440.0,
    id_prefix: str = "bed",
) -> str:
    """The bed to scale with its rows and the light along them, as SVG text."""
    planting = layout.planting
    names = crop_names(layout)
    told = [
        (each.year, each.crop)
        for each in document.garden.history
        if each.bed == planting.bed.id and each.crop is not None
    ]
    words = Words(DRAWING_WORDS, ROW_WORDS)
    last = max(told, key=lambda each: each[0]) if told else None
    return bed_drawing(
        planting.bed,
        crop=", ".join(names.values()),
        last_crop=None
        if last is None
        else words["last_crop"].format(crop=named(last[1]), year=last[0]),
        system=system,
        words=words,
        rows=drawn_rows(layout),
        strips=light_strips(layout),
        width_px=width_px,
        height_px=height_px,
        id_prefix=id_prefix,
    )


def drawn_rows(layout: BedLayout) -> tuple[Row, ...]:
    """The rows as the drawing takes them."""
    names = crop_names(layout)
    return tuple(
        Row(row.offset_m, names[row.crop], row.places, _posts(layout, row)) for row in layout.rows
    )


def _posts(layout: BedLayout, row: PlantRow) -> tuple[float, ...]:
    parts = next((each for each in layout.trellises if each.crop == row.crop), None)
    if parts is None:
        return ()
    found: list[float] = []
    for start, end in row.spans:
        count = posts_along(end - start, parts.post_apart_m * (1 + 1e-6))
        found += [start + (end - start) * at / (count - 1) for at in range(count)]
    return tuple(found)


def light_strips(layout: BedLayout, most: int = 3) -> tuple[LightStrip, ...]:
    """The light along each crop's rows in the month that is shown, low crops first."""
    lights = layout.lights
    if lights is None:
        return ()
    names = crop_names(layout)
    month = lights.month
    low = {row.crop for row in layout.rows if not row.tall}
    found = []
    for key in sorted(names, key=lambda each: each not in low):
        rows = [at for at, row in enumerate(layout.rows) if row.crop == key]
        longest = max(rows, key=lambda at: layout.rows[at].length_m)
        alike = [
            at for at in rows if layout.rows[at].spans == layout.rows[longest].spans
        ]  # rows of other lengths lie beside other parts of the bed
        light = np.mean([lights.rows[at].light_mol_m2_d[:, month] for at in alike], axis=0)
        spans = layout.rows[longest].spans
        open_light = float(lights.open_mol_m2_d[month])
        title = ROW_WORDS["light_strip"].format(
            crop=names[key],
            month=CHART_WORDS[f"month_{month + 1}"],
            open=f"{open_light:.0f}",
        )
        found.append(
            LightStrip(
                title[:1].upper() + title[1:],
                tuple(float(each) for each in light),
                open_light,
                spans[0][0],
                spans[-1][1],
            )
        )
    return tuple(found[:most])


def rows_told(layout: BedLayout, system: UnitSystem) -> tuple[tuple[str, ...], str]:
    """How the rows lie, in as few lines as a printed sheet has room for; and what to mind where
    posts are driven, "" where there are none."""
    planting, names = layout.planting, crop_names(layout)
    side = side_word(planting.frame.bearing_across(left=True))
    crops = {each.key: each for each in (planting.crop, planting.companion) if each is not None}
    lines = []
    for count in layout.counts:
        offsets = [row.offset_m for row in layout.rows if row.crop == count.crop]
        if not offsets:
            continue
        crop, name = crops[count.crop], names[count.crop]
        line = SHEET_ROWS["row" if len(offsets) == 1 else "rows"].format(
            crop=name[:1].upper() + name[1:],
            rows=len(offsets),
            first=tape(offsets[0], system),
            side=side,
            apart=tape((offsets[-1] - offsets[0]) / max(len(offsets) - 1, 1), system),
            spacing=tape(crop.in_row.value, system),
            plants=counted("place", count.plants.value),
        )
        if crop is planting.companion and crop.start == "set_out" and count.to_raise is not None:
            # what stands on the plan's own pages of the first crop is said of the second here
            raised = plain(count.to_raise.value, 6)
            line = SHEET_ROWS["raise"].format(line=line, count=raised)
            if count.seeds is not None:
                line = f"{line}; {counted('seed', count.seeds.value)}"
        if crop.start != "set_out" and count.seed_mass is not None:
            mass = show(count.seed_mass.value, "mass", system, digits=2)
            drilled = crop.start == "sown" and count.seeds is None
            line = SHEET_ROWS["seed_drilled" if drilled else "seed"].format(line=line, mass=mass)
        lines.append(f"{line}.")
    for parts in layout.trellises:
        lines.append(" ".join(trellis_lines(parts, system)))
    lines.append(drip_line(layout, system))
    return tuple(lines), SHEET_ROWS["posts"] if layout.trellises else ""
