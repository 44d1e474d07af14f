"""One bed drawn to scale for its page and its printed sheet, its long side level."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from xml.etree.ElementTree import Element

from bedwright.drawings.bed_shape import draw_shape, rooms
from bedwright.drawings.beds_said import size_words
from bedwright.drawings.geometry import Point, Polygon, bounds, sides, signed_area
from bedwright.drawings.ink import FAINT, PAPER, SMALL, THIN
from bedwright.drawings.interior import level_spans
from bedwright.drawings.labels import BedWords, Room, Words, fitted, write
from bedwright.drawings.lengths import round_step, tape
from bedwright.drawings.light_strip import LightStrip, draw_strips, strips_height
from bedwright.drawings.marks import dimension, north_arrow, scale_bar
from bedwright.drawings.rows import Row, draw_rows
from bedwright.drawings.svg import add, finish, sheet
from bedwright.face import text_width, wrapped
from bedwright.garden import Bed
from bedwright.garden.ground_plan import ground_plan
from bedwright.units import UnitSystem, unit_factor

_EDGE, _SIDE, _TOP = 10.0, 44.0, 26.0  # px kept free at the edge, beside the bed, above it
_OFF = 22.0  # px from the bed to its dimension lines
_FOOT = 50.0  # px for scale bar and north arrow
_NOTE = SMALL * 1.35
_MOST_SCALE = 160.0  # px per meter
_LEAST_WIDTH, _LEAST_HEIGHT = 240.0, 200.0
_RULING = {UnitSystem.US: ("in", (6.0, 12.0, 24.0)), UnitSystem.METRIC: ("cm", (15.0, 30.0, 60.0))}
_RULING_APART = 8.0  # px, the closest that ruling is drawn


def bed_drawing(
    bed: Bed,
    *,
    crop: str | None,
    last_crop: str | None,
    system: UnitSystem,
    words: Mapping[str, str],
    rows: Sequence[Row] = (),
    strips: Sequence[LightStrip] = (),
    id_prefix: str = "bed",
    width_px: float = 720.0,
    height_px: float = 400.0,
) -> str:
    """One bed to scale as SVG text, its long axis level, with dimension lines and a north arrow.

    The bed is the garden's plan turned by less than a half turn, so that the bearing of its long
    axis (0 to below 180 degrees) points to the right; it is never mirrored. ``last_crop`` is
    written as it is given, small, at the bed's foot. ``rows`` are drawn with their names along
    them; without them the bed is ruled in gray; ``strips`` stand below it, level with it. The
    drawing is ``width_px`` wide (240 or more) and
    at most about ``height_px`` high (200 or more), its words 14 and 12.5 px; it scales to the room
    it is given. ``id_prefix`` begins every id. Raises ValueError for a row outside the bed, a size
    too small and a prefix that cannot begin an id.
    """
    if not (width_px >= _LEAST_WIDTH and height_px >= _LEAST_HEIGHT):
        raise ValueError(f"a drawing of {width_px} by {height_px} px is too small to be read")
    north = _north(bed)
    # The ground plan lays a bed without a direction from south to north.
    plan = _turned(ground_plan(bed), 90.0 if north is None else north)
    left, top, right, bottom = bounds(plan)
    for row in rows:
        if not 0 <= row.offset_m <= bottom - top:
            raise ValueError(f"the row {row.name!r} lies {row.offset_m} m off, outside the bed")
    over = _TOP + (_OFF if bed.outline is not None else 0.0)
    side = _side(bed, system)
    below = over + _OFF + 14 + _FOOT + 3 * _NOTE + strips_height(strips)
    scale = min(
        (width_px - 2 * side) / (right - left), (height_px - below) / (bottom - top), _MOST_SCALE
    )
    start = max(side, (width_px - (right - left) * scale) / 2)
    corners = tuple(((x - left) * scale + start, (y - top) * scale + over) for x, y in plan)

    notes = _notes(bed, system, words, north)
    root = sheet(
        words["bed_title_crop" if crop else "bed_title"].format(bed=bed.id, crop=crop),
        words["bed_described"].format(size=size_words(bed, system, words)),
        id_prefix,
        linked=False,
    )
    root.set("data-px-per-m", f"{scale:.9g}")
    group = add(root, "g", class_="bed", data_bed=bed.id)
    draw_shape(group, bed, corners, PAPER)
    if rows:
        if not draw_rows(group, corners, rows, scale):
            listed = ", ".join(row.name for row in sorted(rows, key=lambda row: row.offset_m))
            notes.append(words["bed_rows"].format(rows=listed))
    elif step := _ruling(group, corners, scale, system):
        notes.append(words["bed_ruling"].format(step=step))
    said = BedWords(bed.id, crop or "", "", last_crop or "")
    notes += _say(group, bed, corners, said, north, words, width_px, within=not rows)
    _dimensions(root, bed, corners, system, scale)
    y = max(y for _, y in corners) + _OFF + 14
    if strips:
        y = draw_strips(root, strips, start, y - 6, scale, right=width_px - _EDGE)
    bar = round_step((width_px - 2 * _SIDE) / scale, 5, system)
    unit = words["unit_us" if system is UnitSystem.US else "unit_metric"]
    scale_bar(root, (_EDGE + 10, y + 28), bar, unit, scale)
    if north is not None:
        north_arrow(root, (width_px - _EDGE - 34, y + 30), north, words["north"])
    y += _FOOT
    for note in notes:
        for line in wrapped(note, width_px - 2 * _EDGE, SMALL):
            y += _NOTE
            add(root, "text", line, x=_EDGE, y=y, font_size=SMALL)
    return finish(root, width_px, y + _EDGE)


def _north(bed: Bed) -> float | None:
    """Where north points on the drawing, clockwise from its top [degrees]; None if not known."""
    if bed.long_axis is not None:
        return 90.0 - math.degrees(bed.long_axis.si)
    return 0.0 if bed.outline is not None else None


def _turned(plan: Sequence[Point], degrees: float) -> Polygon:
    """A plan, east and north, laid on the page and turned clockwise on it."""
    turn = math.radians(degrees)
    c, s = math.cos(turn), math.sin(turn)
    return tuple((east * c + north * s, east * s - north * c) for east, north in plan)


def _side(bed: Bed, system: UnitSystem) -> float:
    """Room beside the bed for its width on a dimension line [px], be the line ever so short."""
    longest = (
        [tape(min(bed.length.si, bed.width.si), system)]
        if bed.length is not None and bed.width is not None
        else [tape(math.dist(a, b), system) for a, b in sides(ground_plan(bed))]
    )
    return max(_SIDE, _OFF + 12 + max(text_width(each, SMALL) for each in longest))


def _notes(
    bed: Bed, system: UnitSystem, words: Mapping[str, str], north: float | None
) -> list[str]:
    found = []
    if bed.kind == "raised" and bed.fill_depth is not None:
        found.append(words["bed_fill"].format(depth=tape(bed.fill_depth.si, system)))
    if north is None:
        found.append(words["bed_no_direction"])
    return found


def _ruling(parent: Element, corners: Polygon, scale: float, system: UnitSystem) -> str:
    """Gray lines for the rows to come, as close as they can be told apart; how far apart in
    words, or nothing where none find room."""
    unit, choices = _RULING[system]
    unit_m = unit_factor(unit)[0]
    _, top, _, bottom = bounds(corners)
    for step in choices:
        apart = step * unit_m * scale
        if apart < _RULING_APART:
            continue
        count = math.ceil((bottom - top) / apart - 1e-6) - 1
        lines = add(parent, "g", class_="ruling", stroke=FAINT, stroke_width=THIN)
        for at in range(1, count + 1):
            y = top + at * apart
            for x1, x2 in level_spans(corners, y):
                if x2 - x1 > 12:
                    add(lines, "line", x1=x1 + 5, y1=y, x2=x2 - 5, y2=y, stroke_dasharray="1 4")
        return tape(step * unit_m, system) if count > 0 else ""
    return ""


def _say(
    parent: Element,
    bed: Bed,
    corners: Polygon,
    said: BedWords,
    north: float | None,
    words: Mapping[str, str],
    width_px: float,
    *,
    within: bool,
) -> list[str]:
    """Write name, crop and last season's crop into the bed, or above it what finds no room there;
    what finds none there either comes back for the notes."""
    head_at_end = north is not None and north > 45 and bed.outline is None
    room = replace(min(rooms(bed, corners), key=_tilt), degrees=0.0, head_at_end=head_at_end)
    found = fitted([room], said) if within else None
    if found is not None:
        write(parent, *found, plate=True)
    written = {each.text for each in found[1]} if found is not None else set()
    left, top, right, _ = bounds(corners)
    middle_x = (left + right) / 2
    y = top - 12 - (_OFF if bed.outline is not None else 0.0)
    whole = Room((middle_x, y), 2 * (min(middle_x, width_px - middle_x) - _EDGE), 20.0)
    above = replace(whole, along=right - left, head_at_end=head_at_end)
    missing = BedWords(
        said.name if said.name not in written else "",
        said.crop if said.crop not in written else "",
        "",
        said.last if said.last not in written else "",
    )
    return _above(parent, [above, replace(whole, head_at_end=head_at_end)], missing, words)


def _tilt(room: Room) -> float:
    return abs(room.degrees)


def _above(
    parent: Element, places: Sequence[Room], missing: BedWords, words: Mapping[str, str]
) -> list[str]:
    if not (missing.name or missing.crop or missing.last):
        return []
    head = [Words(missing.name, bold=True)] if missing.name else []
    head += [Words(missing.crop)] if missing.crop else []
    foot = [Words(missing.last, SMALL, italic=True)] if missing.last else []
    notes: list[str] = []
    while True:
        needed = sum(each.width + 10 for each in (*head, *foot)) - 10
        place = next((each for each in places if each.along >= needed), None)
        if place is not None:
            break
        if foot:
            notes.append(words["bed_last_note"].format(crop=foot.pop().text))
        else:
            notes.append(head.pop().text)
    if place.head_at_end:
        placed = _row_of(head, place.along / 2, -1) + _row_of(foot, -place.along / 2, 1)
    else:
        placed = _row_of(head, -place.along / 2, 1) + _row_of(foot, place.along / 2, -1)
    write(parent, place, placed, plate=False)
    return notes


def _row_of(words: Sequence[Words], edge: float, way: int) -> list[Words]:
    """Words side by side from an edge of their room, to the right (1) or to the left (-1)."""
    found = []
    for each in words if way > 0 else reversed(words):
        found.append(replace(each, u=edge + way * each.width / 2))
        edge += way * (each.width + 10)
    return found


def _dimensions(
    root: Element, bed: Bed, corners: Polygon, system: UnitSystem, scale: float
) -> None:
    """Length below and width at the left of a rectangle; every side of an outline."""
    if bed.outline is None:
        left, top, right, bottom = bounds(corners)
        assert bed.length is not None and bed.width is not None
        long, short = max(bed.length.si, bed.width.si), min(bed.length.si, bed.width.si)
        dimension(root, (right, bottom), (left, bottom), tape(long, system), off=_OFF)
        dimension(root, (left, bottom), (left, top), tape(short, system), off=_OFF)
        return
    around = corners if signed_area(corners) > 0 else corners[::-1]
    for start, end in sides(around):
        dimension(root, start, end, tape(math.dist(start, end) / scale, system), off=_OFF * 0.7)
