"""What lies beside a bed: paths, beds whose crops must keep their light, and tall rows."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bedwright.garden.ground_plan import Point
from bedwright.light.needs import LightNeed
from bedwright.planning.layout.arrange import arrangements
from bedwright.planning.layout.crop_facts import LayoutCrop
from bedwright.planning.layout.frame import BedFrame, bed_frame
from bedwright.planning.layout.plantings import Grounds, Planting
from bedwright.planning.layout.seeds import layout_rule
from bedwright.planning.layout.sides import Beside, tall_rows
from bedwright.planning.layout.stays import heights_by_month, months_of
from bedwright.planning.light_map import TallRow

_FAR_M = 8.0  # a bed farther off neither shades nor is shaded through the season: judgement
_NEAR_M = 4.0  # beds so near must keep their light: judgement, twice a trellis


@dataclass(frozen=True)
class Path:
    """The free ground between a bed and the next one on its left or right [m]."""

    beside: str
    left: bool
    width_m: float


def light_need(crop: LayoutCrop) -> LightNeed | None:
    """What light a crop asks for; None where no table says."""
    need = crop.facts.daily_light_need
    return None if need is None else LightNeed(need.least, need.value)


def paths_beside(grounds: Grounds, bed: str) -> tuple[Path, ...]:
    """The paths to the nearest beds on both sides; none for a bed whose corner is not stated."""
    frames = {each.id: bed_frame(each) for each in grounds.document.garden.bed}
    frame = frames[bed]
    if not frame.placed:
        return ()
    nearest: dict[bool, Path] = {}
    for name, other in frames.items():
        if name == bed or not other.placed:
            continue
        along, across = _seen(frame, _middle(other))
        if not -other.length_m / 2 < along < frame.length_m + other.length_m / 2:
            continue
        if 0 <= across <= frame.width_m:
            continue
        left = across < 0
        width = _apart(_outline(frame), _outline(other))
        if left not in nearest or width < nearest[left].width_m:
            nearest[left] = Path(name, left, width)
    return tuple(
        each
        for left in (True, False)
        if (each := nearest.get(left)) is not None and each.width_m <= _FAR_M
    )


def beds_beside(grounds: Grounds, planting: Planting) -> tuple[Beside, ...]:
    """The plantings of near beds that stand by themselves low, with the light that they need."""
    found = []
    for other in _near(grounds, planting, _NEAR_M):
        if other.crop.trellised:
            continue
        months = months_of(other.stay, _latitude(grounds))
        found.append(Beside(other.bed.id, other.frame, months, light_need(other.crop)))
    return tuple(found)


def rows_beside(grounds: Grounds, planting: Planting, transmission: float) -> tuple[TallRow, ...]:
    """The tall rows of near beds, taken to stand in the middle of their beds."""
    found: list[TallRow] = []
    least = layout_rule(grounds.library, "tall_from", "m").value
    for other in _near(grounds, planting, _FAR_M):
        height = other.crop.height
        if height is None or height.value < least:
            continue
        ways = arrangements(other.frame, other.crop, None, 0.0)
        way = next((each for each in ways if each.position in ("middle", "even")), ways[0])
        rows = [
            each if each.tall else type(each)(each.crop, each.offset_m, each.spans, (), True)
            for each in way.rows
        ]
        tops = heights_by_month(other.stay, height.value, _latitude(grounds))
        for each in tall_rows(other.frame, rows, tops, transmission):
            found.append(TallRow(each.start, each.end, each.tops_m, each.transmission))
    return tuple(found)


def _latitude(grounds: Grounds) -> float:
    sun = grounds.sun
    return 0.0 if sun is None else sun.latitude_deg


def _near(grounds: Grounds, planting: Planting, reach_m: float) -> Iterator[Planting]:
    if not planting.frame.placed:
        return
    outline = _outline(planting.frame)
    for bed, plantings in grounds.plantings.items():
        if bed == planting.bed.id or not plantings[0].frame.placed:
            continue
        if _apart(outline, _outline(plantings[0].frame)) <= reach_m:
            yield from plantings


def _outline(frame: BedFrame) -> tuple[Point, ...]:
    return tuple(frame.ground(along, across) for along, across in frame.corners)


def _middle(frame: BedFrame) -> Point:
    return frame.ground(frame.length_m / 2, frame.width_m / 2)


def _seen(frame: BedFrame, place: Point) -> Point:
    """Along and across of a place, east and north, in a bed's frame."""
    east, north = place[0] - frame.origin[0], place[1] - frame.origin[1]
    s, c = math.sin(frame.bearing_rad), math.cos(frame.bearing_rad)
    return east * s + north * c, east * c - north * s


def _apart(one: Sequence[Point], other: Sequence[Point]) -> float:
    """Least distance between two outlines [m]: a corner of one to a side of the other."""
    return min(
        _to_side(corner, a, b)
        for these, those in ((one, other), (other, one))
        for corner in these
        for a, b in zip(those, (*those[1:], those[0]), strict=True)
    )


def _to_side(place: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = 0.0 if square == 0 else ((place[0] - a[0]) * dx + (place[1] - a[1]) * dy) / square
    share = min(max(share, 0.0), 1.0)
    return math.dist(place, (a[0] + share * dx, a[1] + share * dy))
