"""Where the rows of one crop, or of two that share a bed, may lie."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bedwright.planning.layout.crop_facts import LayoutCrop
from bedwright.planning.layout.frame import BedFrame
from bedwright.planning.layout.rows import PlantRow, row_at, row_count, spread

_ALMOST = 1e-6
_LITTLE_M = 0.15  # less room than this to shift a row is none: judgement
_TALLER_M = 0.3  # a crop this much taller than the other is the tall one: judgement


@dataclass(frozen=True)
class Arrangement:
    """One way to lay the rows. ``position`` of the tall ones: left, middle, right, or ``even``
    where no row stands out."""

    position: str
    rows: tuple[PlantRow, ...]


def tall_and_low(
    crop: LayoutCrop, companion: LayoutCrop | None
) -> tuple[LayoutCrop | None, LayoutCrop | None]:
    """Which of a bed's crops stands over the other; (None, None) where neither does.

    A trellised crop stands over one that is not; else the clearly taller one. A crop alone is
    tall where it is trellised.
    """
    if companion is None:
        return (crop, None) if crop.trellised else (None, None)
    if crop.trellised != companion.trellised:
        return (crop, companion) if crop.trellised else (companion, crop)
    one, other = crop.height, companion.height
    if one is None or other is None or abs(one.value - other.value) < _TALLER_M:
        return None, None
    return (crop, companion) if one.value > other.value else (companion, crop)


def arrangements(
    frame: BedFrame, crop: LayoutCrop, companion: LayoutCrop | None, from_side_m: float
) -> tuple[Arrangement, ...]:
    """The ways to lay a bed's rows; more than one where tall rows may stand on either side.

    ``from_side_m`` is how far within the side a tall row stands.
    """
    tall, low = tall_and_low(crop, companion)
    if tall is not None:
        return _with_tall(frame, tall, low, from_side_m)
    if companion is not None:
        return (Arrangement("even", _alternate(frame, crop, companion)),)
    return (Arrangement("even", _filled(frame, crop)),)


def _filled(frame: BedFrame, crop: LayoutCrop) -> tuple[PlantRow, ...]:
    # Paths lie outside the bed: of a range of distances, which are those of rows with walking room
    # between them, the near end.
    apart = crop.between_rows
    count = row_count(frame.width_m, apart.least)
    offsets = spread(0.0, frame.width_m, count, apart.most)
    return tuple(row_at(frame, crop.key, each, crop.in_row.value) for each in offsets)


def _alternate(frame: BedFrame, one: LayoutCrop, other: LayoutCrop) -> tuple[PlantRow, ...]:
    """Rows by turns, the first crop's first; each half its distance from the next."""
    apart = (one.between_rows.value + other.between_rows.value) / 2
    count = max(2, row_count(frame.width_m, apart))
    offsets = spread(0.0, frame.width_m, count, apart)
    return tuple(
        row_at(frame, each.key, offset, each.in_row.value)
        for at, offset in enumerate(offsets)
        for each in ((one, other)[at % 2],)
    )


def _with_tall(
    frame: BedFrame, tall: LayoutCrop, low: LayoutCrop | None, from_side_m: float
) -> tuple[Arrangement, ...]:
    start, end = frame.long_strip()
    apart = tall.between_rows.value
    count = row_count(end - start, apart) if low is None else 1
    block = (count - 1) * apart
    inset = min(from_side_m, (end - start - block) / 2)
    middle = (start + end - block) / 2
    firsts = {"left": start + inset, "middle": middle, "right": end - inset - block}
    if middle - firsts["left"] < _LITTLE_M:
        firsts = {"middle": middle}
    found = []
    for position, first in firsts.items():
        high = [
            row_at(frame, tall.key, first + at * apart, tall.in_row.value, tall=True)
            for at in range(count)
        ]
        below = [] if low is None else _beside(frame, tall, low, high)
        if low is None or below:
            rows = sorted((*high, *below), key=lambda row: row.offset_m)
            found.append(Arrangement(position, tuple(rows)))
    return tuple(found)


def _beside(
    frame: BedFrame, tall: LayoutCrop, low: LayoutCrop, high: list[PlantRow]
) -> list[PlantRow]:
    """Rows of the low crop on both sides of the tall ones, as many as find room.

    Each plant keeps half its own spacing to itself: so far the low rows stay off the tall, and
    off the bed's side. Room that is left goes to the side until a row has half its distance
    there too, and then to the tall rows, which shade and draw on what stands near.
    """
    off = (tall.equidistant.value + low.equidistant.value) / 2
    apart = low.between_rows.value
    edge = min(apart, low.equidistant.value) / 2
    found = []
    for side, near, inward in (
        (0.0, high[0].offset_m - off, 1.0),
        (frame.width_m, high[-1].offset_m + off, -1.0),
    ):
        room = abs(near - side) - edge if (near - side) * inward > 0 else -edge
        if room < -_ALMOST:
            continue
        count = math.floor(max(room, 0.0) / apart + _ALMOST) + 1
        spare = max(room, 0.0) - (count - 1) * apart
        first = edge + min(max(spare, 0.0), apart / 2 - edge)
        for at in range(count):
            offset = side + inward * (first + at * apart)
            found.append(row_at(frame, low.key, offset, low.in_row.value))
    return found
