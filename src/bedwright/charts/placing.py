"""Where words can stand in a drawing without lying on a line or on each other; all in px."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.face import text_width

Array = NDArray[np.float64]
LINE_HEIGHT = 1.25  # of the size of the words
_MOST_TURNED = 8  # lines over a drawing whose words are tried on both sides
_CLEAR = 4.0  # px kept free around words
_ON_WORDS, _OUTSIDE = 500.0, 500.0  # costs of a place, by what it hides
_ON_LINE, _ON_HATCHING, _ON_EDGE = 80.0, 40.0, 15.0


@dataclass(frozen=True)
class Box:
    """A rectangle of words; y grows downward, as on the screen."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box) -> bool:
        """Whether both cover a common place."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


@dataclass(frozen=True)
class Spot:
    """Words with their place: the left end of the first line's foot, and what they cover."""

    lines: tuple[str, ...]
    x: float
    y: float
    box: Box
    cost: float


def extent(lines: list[str], size: float, *, bold: bool = False) -> tuple[float, float]:
    """Width and height of a few lines of words."""
    wide = max(text_width(each, size, bold=bold) for each in lines)
    return wide, len(lines) * size * LINE_HEIGHT


class Ground:
    """What a drawing holds so far: curves as heights for each px, hatching, words."""

    def __init__(self, width: int, height: float) -> None:
        self.width, self.height = width, height
        self.words: list[Box] = []
        self._curves: list[Array] = []
        self._hatched: list[tuple[Array, Array]] = []
        self._edges: list[Array] = []
        self._uprights: list[float] = []

    def add_curve(self, heights: Array) -> None:
        """A curve: its height at each px from the left, NaN where it is not."""
        self._curves.append(heights)

    def add_hatching(self, tops: Array, bottoms: Array) -> None:
        """A hatched area between two curves."""
        self._hatched.append((tops, bottoms))

    def add_band(self, tops: Array, bottoms: Array) -> None:
        """A gray area: its edges are better not crossed by words."""
        self._edges += [tops, bottoms]

    def add_upright(self, x: float) -> None:
        """A line from top to bottom."""
        self._uprights.append(x)

    def beside(self, curve: Array, lines: list[str], size: float, *, bold: bool = False,
               over: bool = True, under: bool = True, wish: float = 0.5) -> Spot:  # fmt: skip
        """The best place for words over or under a curve; the place is not yet taken.

        ``wish`` is where along the curve they are wanted, 0 at its left end and 1 at its right.
        """
        wide, high = extent(lines, size, bold=bold)
        known = np.flatnonzero(~np.isnan(curve))
        first, last = (float(known[0]), float(known[-1])) if known.size else (0.0, 0.0)
        best: Spot | None = None
        lefts = np.arange(5.0, max(6.0, self.width - wide), 6.0)
        for left in lefts:
            part = curve[int(left) : int(left + wide) + 1]
            part = part[~np.isnan(part)]
            if part.size < wide * 0.3:
                continue
            for above in [each for each, may in ((True, over), (False, under)) if may]:
                top = part.min() - _CLEAR - high if above else part.max() + _CLEAR
                box = Box(left, top, left + wide, top + high)
                wished = first + wish * (last - first)
                cost = abs(left + wide / 2 - wished) * 0.03
                cost += 0.25 * float(part.max() - part.min()) + 20 * (1 - part.size / (wide + 1))
                if best is not None and cost >= best.cost:
                    continue
                cost += self._cost(box)
                if best is None or cost < best.cost:
                    best = _spot(lines, box, size, cost)
        if best is None:
            box = Box(0.0, 0.0, wide, high)
            best = _spot(lines, box, size, self._cost(box) + _OUTSIDE)
        return best

    def around(self, x: float, y: float, lines: list[str], size: float) -> Spot:
        """The best place for words near a point; the place is not yet taken."""
        wide, high = extent(lines, size)
        best: Spot | None = None
        lefts = np.arange(5.0, max(6.0, self.width - wide), 6.0)
        tops = np.arange(2.0, max(3.0, self.height - high - 4), 6.0)
        left, top = (each.ravel() for each in np.meshgrid(lefts, tops, indexing="ij"))
        aside = np.maximum(np.maximum(left - x, x - (left + wide)), 0.0)
        apart = np.maximum(np.maximum(top - y, y - (top + high)), 0.0)
        off = 0.25 * np.hypot(aside, apart)
        taken = -1
        for at in np.argsort(off, kind="stable"):  # the near ones first: most others are cut off
            if best is not None and off[at] > best.cost:
                break
            box = Box(left[at], top[at], left[at] + wide, top[at] + high)
            cost = float(off[at]) + self._cost(box)
            if best is None or (cost, at) < (best.cost, taken):
                best, taken = _spot(lines, box, size, cost), at
        if best is None:
            raise ValueError("the words are larger than the drawing")
        return best

    def _cost(self, box: Box) -> float:
        wider = Box(box.left - _CLEAR, box.top - 1, box.right + _CLEAR, box.bottom + 1)
        cost = _ON_WORDS * sum(wider.overlaps(each) for each in self.words)
        outside = [-box.left, box.right - self.width, -box.top, box.bottom - self.height]
        cost += _OUTSIDE * sum(each > 1 for each in outside)
        cost += _ON_LINE * sum(wider.left < x < wider.right for x in self._uprights)
        span = slice(max(0, int(wider.left)), int(wider.right) + 1)
        for curve in self._curves:
            part = curve[span]
            if np.any((part > box.top) & (part < box.bottom)) or _leaps(part, box):
                cost += _ON_LINE
        for curve in self._edges:
            part = curve[span]
            cost += _ON_EDGE * int(np.any((part > box.top) & (part < box.bottom)))
        for tops, bottoms in self._hatched:
            over = np.minimum(bottoms[span], box.bottom) - np.maximum(tops[span], box.top)
            if np.any(over > 1):
                cost += _ON_HATCHING
        return cost


def _leaps(part: Array, box: Box) -> bool:
    """Whether a curve of steps leaps across a box from one px to the next."""
    before, after = part[:-1], part[1:]
    return bool(np.any((np.minimum(before, after) < box.top)
                       & (np.maximum(before, after) > box.bottom)))  # fmt: skip


def _spot(lines: list[str], box: Box, size: float, cost: float) -> Spot:
    return Spot(tuple(lines), box.left, box.top + size, box, cost)


def stacked(
    marks: list[tuple[float, list[str]]], width: float, size: float
) -> tuple[float, list[Box]]:
    """Places for the words of upright lines, in the strip over the drawing.

    Words stand to the right or the left of their line, lifted over every line that they would
    cross; of all ways to turn them the lowest is taken, and its cost returned. More than eight
    are all turned to the right.
    """
    best: tuple[float, list[Box]] | None = None
    sides = (False, True) if len(marks) <= _MOST_TURNED else (False,)
    for turned in itertools.product(sides, repeat=len(marks)):
        boxes = _stack(marks, turned, size)
        if boxes is None:
            continue
        cost = -min(box.top for box in boxes) + 0.5 * sum(turned)
        cost += sum(_OUTSIDE * (max(0.0, -b.left) + max(0.0, b.right - width)) for b in boxes)
        if best is None or cost < best[0]:
            best = cost, boxes
    if best is None:
        raise ValueError("these lines stand so close that their words cannot be placed")
    return best


def _stack(
    marks: list[tuple[float, list[str]]], turned: tuple[bool, ...], size: float
) -> list[Box] | None:
    """Boxes for one way to turn the words, or None where two would have to lie over each other."""
    flat = []
    for (x, lines), to_left in zip(marks, turned, strict=True):
        wide, high = extent(lines, size)
        start = x - _CLEAR - wide if to_left else x + _CLEAR
        flat.append((start, start + wide, high))
    over = {
        at: {
            other
            for other, (x, _) in enumerate(marks)
            if other != at and flat[at][0] - _CLEAR < x < flat[at][1] + _CLEAR
        }
        for at in range(len(marks))
    }
    placed: dict[int, Box] = {}
    while len(placed) < len(marks):
        free = [at for at in over if at not in placed and over[at] <= placed.keys()]
        if not free:
            return None
        at = max(free, key=lambda each: marks[each][0])
        left, right, high = flat[at]
        floor = min([-2.0, *(placed[other].top - 2 for other in over[at])])
        box = Box(left, floor - high, right, floor)
        for other in sorted(placed.values(), key=lambda each: -each.bottom):
            if Box(left - 2 * _CLEAR, box.top, right + 2 * _CLEAR, box.bottom).overlaps(other):
                box = Box(left, other.top - 2 - high, right, other.top - 2)
        placed[at] = box
    return [placed[at] for at in range(len(marks))]
