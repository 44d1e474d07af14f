"""The layout of a bed as plain text: rows, counts, trellis, drip, why so, what to mind."""

from __future__ import annotations

import calendar
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from bedwright.language import named
from bedwright.light.scene import FloatArray
from bedwright.planning.findings import Finding, Value
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.layout.pairs import Pair
from bedwright.planning.layout.reasons import compass
from bedwright.planning.layout.seeds import CropCount
from bedwright.planning.layout.trellis import TrellisParts
from bedwright.reference import Library
from bedwright.reports.days_said import day_words
from bedwright.reports.fill import sentence
from bedwright.reports.layout import wrapped
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_layout import LAYOUT, LAYOUT_TERMS, PAIR_EVIDENCE, PAIR_VERDICTS
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain
from bedwright.units.tape import tape

_MONTHS = {calendar.month_name[at]: at for at in range(1, 13)}
_BEFORE_ALL = frozenset({"act", "caution"})
_FEW_KG = 0.007  # a quarter of an ounce
_ROUND_UP = {UnitSystem.US: 0.1524, UnitSystem.METRIC: 0.1}  # posts come by half feet, by 10 cm


def layout_text(layout: BedLayout, library: Library, garden: str, system: UnitSystem) -> str:
    """One planting's layout, as a page."""
    planting = layout.planting
    names = crop_names(layout)
    title = names[planting.crop.key]
    if planting.companion is not None and planting.companion.key in names:
        title = LAYOUT["with"].format(first=title, second=names[planting.companion.key])
    head = LAYOUT["head"].format(bed=planting.bed.id, garden=garden, crop=title)
    lines = [head, "=" * len(head)]
    lines += wrapped(
        LAYOUT["bed_is"].format(
            size=LAYOUT["size"].format(
                length=tape(planting.frame.length_m, system),
                width=tape(planting.frame.width_m, system),
            ),
            bearing=side_word(planting.frame.bearing_rad),
            kind=LAYOUT["raised" if planting.bed.kind == "raised" else "in_ground"],
        )
    )
    lines += ["", LAYOUT["rows"]]
    for line in row_lines(layout, system):
        lines += wrapped(line, "  ", "      ")
    for line in count_lines(layout, system):
        lines += wrapped(line, "  ", "      ")
    lines += wrapped(drip_line(layout, system), "  ", "      ")
    for path in layout.paths:
        side = side_word(planting.frame.bearing_across(left=path.left))
        said = LAYOUT["path"].format(bed=path.beside, side=side, width=tape(path.width_m, system))
        lines += wrapped(said, "  ", "      ")
    for parts in layout.trellises:
        lines += ["", LAYOUT["trellis"]]
        for line in (*caution_lines(parts, system), *trellis_lines(parts, system)):
            lines += wrapped(line, "  ", "      ")
        for each in parts.findings:
            if each.weight not in _BEFORE_ALL:
                lines += wrapped(layout_sentence(each, system), "  ", "      ")
    if layout.pair is not None:
        lines += ["", LAYOUT["pair"], *_pair_lines(layout.pair, names, library, system)]
    for heading, urgent in (("mind", True), ("why", False)):
        found = [each for each in layout.findings if (each.weight in _BEFORE_ALL) == urgent]
        if found:
            lines += ["", LAYOUT[heading]]
            for each in found:
                lines += wrapped(layout_sentence(each, system), "  ", "      ")
    lines += ["", *_light_lines(layout, names)]
    return "\n".join(lines) + "\n"


def crop_names(layout: BedLayout) -> dict[str, str]:
    """The names of the crops that are laid, in lower case, in the reader's language."""
    planting = layout.planting
    laid = {row.crop for row in layout.rows}
    crops = [each for each in (planting.crop, planting.companion) if each is not None]
    return {each.key: named(each.name).lower() for each in crops if each.key in laid}


def side_word(bearing_rad: float) -> str:
    """One of eight bearings in the reader's language."""
    return LAYOUT_TERMS[compass(bearing_rad)]


def layout_sentence(found: Finding, system: UnitSystem) -> str:
    """A finding of a layout as a sentence, bearings and months in the reader's language."""
    values = {key: _said(each) for key, each in found.values.items()}
    return sentence(replace(found, values=MappingProxyType(values)), system)


def _said(value: Value) -> Value:
    if isinstance(value, str) and value in LAYOUT_TERMS:
        return LAYOUT_TERMS[value]
    if isinstance(value, str) and value in _MONTHS:
        return CHART_WORDS[f"month_{_MONTHS[value]}"]
    return value


def row_lines(layout: BedLayout, system: UnitSystem) -> list[str]:
    """Each row with its place, its plants and its light."""
    names, planting = crop_names(layout), layout.planting
    crops = {each.key: each for each in (planting.crop, planting.companion) if each is not None}
    side = side_word(planting.frame.bearing_across(left=True))
    found = []
    for at, row in enumerate(layout.rows):
        crop = crops[row.crop]
        words = counted("hill" if crop.hills else "place", len(row.places))
        line = LAYOUT["row_at"].format(
            offset=tape(row.offset_m, system),
            side=side,
            crop=names[row.crop],
            places=words,
            spacing=tape(crop.in_row.value, system),
        )
        if crop.trellised:
            line += ", " + LAYOUT["on_trellis" if crop.trellis == "trellis" else "on_stakes"]
        if layout.lights is not None:
            lights = layout.lights
            month = lights.month
            line += "; " + LAYOUT["row_light"].format(
                light=plain(
                    _within(lights.rows[at].light_mol_m2_d, lights.open_mol_m2_d, month), 3
                ),
                sun=f"{float(lights.rows[at].sun_h[:, month].mean()):.1f}",
                month=CHART_WORDS[f"month_{month + 1}"],
                open=plain(float(lights.open_mol_m2_d[month]), 3),
                open_sun=f"{float(lights.open_sun_h[month]):.1f}",
            )
        found.append(f"{line}.")
    return found


def _within(light: FloatArray, most: FloatArray, month: int) -> float:
    """A row's mean in a month, rounding held to what open ground has."""
    return min(float(light[:, month].mean()), float(most[month]))


def count_lines(layout: BedLayout, system: UnitSystem) -> list[str]:
    """What each crop's rows take: plants, and what to raise or sow."""
    names = crop_names(layout)
    found = [_count_line(each, names, layout, system) for each in layout.counts if each.rows]
    if layout.grid:
        spacing = tape(layout.planting.crop.grid_spacing.value, system)
        found.append(LAYOUT["grid"].format(spacing=spacing, count=layout.grid))
    if said := _companion_line(layout):
        found.append(said)
    return found


def _count_line(
    count: CropCount, names: Mapping[str, str], layout: BedLayout, system: UnitSystem
) -> str:
    """One crop's plants and seed in one line."""
    words = LAYOUT["in_all_one" if count.rows == 1 else "in_all"]
    name = names[count.crop]
    plants = counted("place", count.plants.value)
    parts = [
        words.format(
            crop=name[:1].upper() + name[1:],
            rows=count.rows,
            length=tape(count.row_length_m, system),
            plants=plants,
        )
    ]
    crops = (layout.planting.crop, layout.planting.companion)
    crop = next(each for each in crops if each is not None and each.key == count.crop)
    if count.to_raise is not None:
        pieces = crop.start == "pieces"
        number = count.to_raise.value
        raised = LAYOUT["to_raise"].format(count=plain(number, 6))
        parts.append(counted("piece", number) if pieces else raised)
    if count.seeds is not None:
        parts.append(counted("seed", count.seeds.value))
    if count.seed_mass is not None:
        few = count.seed_mass.value < _FEW_KG  # a letter scale shows grams, no ounces
        shown = UnitSystem.METRIC if few else system
        mass = show(count.seed_mass.value, "mass", shown, digits=2)
        drilled = crop.start == "sown" and count.seeds is None
        parts.append(LAYOUT["seed_drilled" if drilled else "seed_mass"].format(mass=mass))
    if count.seeds is not None and crop.start == "set_out" and crop.facts.germination is not None:
        share = f"{crop.facts.germination.value * 100:.0f} %"
        own = crop.facts.germination.origin in ("computed", "measured")
        parts.append(LAYOUT["germination_own" if own else "germination"].format(share=share))
    return "; ".join(parts) + "."


def counted(thing: str, count: float) -> str:
    """So many of a thing of :data:`LAYOUT`, in the singular or the plural: 1 plant, 2 plants."""
    return LAYOUT[thing if count == 1 else f"{thing}s"].format(count=plain(count, 6))


def _companion_line(layout: BedLayout) -> str:
    """The days of the crop that shares the bed; "" where there is none or they are not known."""
    days, crop = layout.companion_days, layout.planting.companion
    if days is None or crop is None:
        return ""
    parts = []
    if days.sow_under_cover is not None:
        parts.append(LAYOUT["sow_under_cover"].format(day=day_words(days.sow_under_cover)))
    parts.append(LAYOUT[f"companion_{crop.start or 'sown'}"].format(day=day_words(days.start)))
    once = days.first_pick == days.end
    parts.append(
        LAYOUT["companion_once" if once else "companion_picked"].format(
            day=day_words(days.first_pick), end=day_words(days.end)
        )
    )
    name = crop_names(layout)[crop.key]
    name = f"{name[:1].upper()}{name[1:]}"
    return LAYOUT["companion_days"].format(crop=name, days="; ".join(parts)) + "."


def drip_line(layout: BedLayout, system: UnitSystem) -> str:
    """How many drip lines the bed takes."""
    drip = layout.drip
    key = "drip_each" if drip.each_row else "drip_even"
    if drip.lines == 1:
        key = "drip_one"
    return LAYOUT[key].format(count=drip.lines, length=tape(drip.length_m, system))


def trellis_lines(parts: TrellisParts, system: UnitSystem) -> list[str]:
    """The parts of a trellis, posts first."""
    step = _ROUND_UP[system]
    whole = float(np.ceil(parts.post_length.value / step - 1e-6)) * step
    found = [
        LAYOUT["posts" if parts.kind == "panel" else "stakes"].format(
            count=parts.posts,
            length=tape(whole, system),
            depth=tape(parts.post_depth.value, system),
            apart=tape(parts.post_apart_m, system),
        )
    ]
    if parts.panel_length is not None and parts.panel_height is not None:
        assert parts.clearance is not None
        found.append(
            LAYOUT["panel" if parts.panels == 1 else "panels"].format(
                count=parts.panels,
                length=tape(parts.panel_length.value, system),
                height=tape(parts.panel_height.value, system),
                clearance=tape(parts.clearance.value, system),
                top=tape(parts.top.value, system),
            )
        )
    found.append(LAYOUT["line"].format(length=tape(parts.line.value, system)))
    return [f"{each[:1].upper()}{each[1:]}." for each in found]


def caution_lines(parts: TrellisParts, system: UnitSystem) -> list[str]:
    """What can hurt, to be read before the parts."""
    return [layout_sentence(each, system) for each in parts.findings if each.weight == "caution"]


def _pair_lines(
    pair: Pair, names: Mapping[str, str], library: Library, system: UnitSystem
) -> list[str]:
    first, second = (
        names.get(each, named(library.crop(each)["name"]).lower())
        for each in (pair.first, pair.second)
    )
    verdict = PAIR_VERDICTS[pair.verdict].format(first=first, second=second)
    lines = wrapped(verdict[:1].upper() + verdict[1:], "  ", "      ")
    for each in pair.findings:
        lines += wrapped(layout_sentence(each, system), "  ", "      ")
    for row in pair.evidence:
        # the row says which of the two is which
        one, other = (second, first) if row["crop_a"] == pair.second else (first, second)
        found = PAIR_EVIDENCE[row["finding"]].format(
            first=one,
            second=other,
            lower=plain(row.number("lower") or 0.0, 4),
            upper=plain(row.number("upper") or 0.0, 4),
        )
        source = library.sources[row.source.source_id].cite()
        lines += wrapped(LAYOUT["evidence"].format(found=found, source=source), "  ", "      ")
    return [*lines, *wrapped(LAYOUT["ratio"], "  ", "      ")]


def _light_lines(layout: BedLayout, names: Mapping[str, str]) -> list[str]:
    """The light of each crop's rows month by month, beside that of open ground."""
    lights = layout.lights
    if lights is None:
        return [LAYOUT["no_latitude"]]
    months = range(12)
    wide = max(12, *(len(each) for each in names.values()), len(LAYOUT["open"])) + 2

    def line(word: str, cells: list[str]) -> str:
        return f"  {word:<{wide}}" + "".join(f"{each:>5}" for each in cells)

    found = [LAYOUT["light"]]
    found.append(line("", [CHART_WORDS[f"month_{at + 1}"][:3] for at in months]))
    for key, name in names.items():
        rows = [
            light.light_mol_m2_d.mean(axis=0)
            for row, light in zip(layout.rows, lights.rows, strict=True)
            if row.crop == key
        ]
        mean = np.array(rows).mean(axis=0)
        found.append(line(name, [f"{each:.0f}" for each in mean]))
    found.append(line(LAYOUT["open"], [f"{each:.0f}" for each in lights.open_mol_m2_d]))
    return found
