"""A comparison drawn: each block's difference, their mean and its interval; or each way's plots."""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree.ElementTree import Element

import numpy as np

from bedwright.drawings.ink import FAINT, HEAVY, INK, PAPER, PLAIN, SMALL, THIN
from bedwright.drawings.svg import add, finish, sheet
from bedwright.planning.compare.model import Compared, Shown
from bedwright.planning.compare.told_factors import effect_name
from bedwright.trials.factorial import FactorialComparison
from bedwright.units.show import plain

_WIDTH = 340.0  # px: a telephone's
_MARGIN, _ROW, _DOT, _SQUARE = 18.0, 30.0, 4.5, 9.0
_TICKS = 5


def compared_drawing(each: Compared, title: str, description: str, id_prefix: str) -> str:
    """A comparison's chart as SVG; "" where nothing is analysed. It needs no color.

    Two ways: a ring for each block's difference, first less second, a square at their mean and a
    bar over its interval, with a line at 0. More: a ring for each plot in the row of its way, and
    a heavy line at the mean; so too without blocks, of two ways as of more. Factors: a square and
    a bar over the interval of each effect, with a line at 0.
    """
    found = each.shown
    if found is None:
        return ""
    if each.stated.factors:
        made = found.of_factors
        return "" if made is None else _effects(each, made, title, description, id_prefix)
    if each.stated.beds:
        return _rows(found, each.stated.ways, title, description, id_prefix)
    if len(each.stated.ways) == 2:
        return "" if found.paired is None else _pairs(found, title, description, id_prefix)
    return _rows(found, each.stated.ways, title, description, id_prefix)


def _pairs(found: Shown, title: str, description: str, id_prefix: str) -> str:
    assert found.paired is not None
    root = sheet(title, description, id_prefix, linked=False)
    differences = [row[0] - row[1] for row in found.values]
    low, high = found.paired.interval
    scale = _Scale([0.0, low, high, *differences])
    bottom = 3 * _ROW
    zero = scale.at(0.0)
    add(root, "line", x1=zero, x2=zero, y1=6.0, y2=bottom, stroke=INK, stroke_width=THIN)
    for value in differences:
        _ring(root, scale.at(value), _ROW)
    _interval(root, scale, found.paired.mean, (low, high), 2.2 * _ROW)
    return finish(root, _WIDTH, scale.axis(root, bottom))


def _effects(
    each: Compared, made: FactorialComparison, title: str, description: str, id_prefix: str
) -> str:
    root = sheet(title, description, id_prefix, linked=False)
    scale = _Scale([0.0, *(end for one in made.effects for end in one.interval)])
    bottom = len(made.effects) * (_ROW + 6) + 14
    zero = scale.at(0.0)
    y = 0.0
    for one in made.effects:
        y += _ROW
        name = effect_name(each.stated, one.factors)
        add(root, "text", name, x=_MARGIN, y=y - 12, font_size=SMALL)
        # in pieces, so that it crosses no name
        add(root, "line", x1=zero, x2=zero, y1=y - 9, y2=y + 9, stroke=INK, stroke_width=THIN)
        _interval(root, scale, one.effect, one.interval, y)
        y += 6
    return finish(root, _WIDTH, scale.axis(root, bottom))


def _interval(
    root: Element, scale: _Scale, middle: float, ends: tuple[float, float], y: float
) -> None:
    low, high = (scale.at(end) for end in ends)
    add(root, "line", x1=low, x2=high, y1=y, y2=y, stroke=INK, stroke_width=HEAVY)
    for x in (low, high):
        add(root, "line", x1=x, x2=x, y1=y - 6, y2=y + 6, stroke=INK, stroke_width=HEAVY)
    half = _SQUARE / 2
    add(root, "rect", x=scale.at(middle) - half, y=y - half, width=_SQUARE, height=_SQUARE,
        fill=INK)  # fmt: skip


def _rows(found: Shown, ways: Sequence[str], title: str, description: str, id_prefix: str) -> str:
    root = sheet(title, description, id_prefix, linked=False)
    scale = _Scale([value for row in found.by_way for value in row])
    y = 0.0
    for way, mean, values in zip(ways, found.means, found.by_way, strict=True):
        y += _ROW
        add(root, "text", way, x=_MARGIN, y=y - 12, font_size=SMALL)
        add(root, "line", x1=_MARGIN, x2=_WIDTH - _MARGIN, y1=y, y2=y, stroke=FAINT,
            stroke_width=THIN)  # fmt: skip
        for value in values:
            _ring(root, scale.at(value), y)
        x = scale.at(mean)
        add(root, "line", x1=x, x2=x, y1=y - 9, y2=y + 9, stroke=INK, stroke_width=HEAVY)
        y += 6
    return finish(root, _WIDTH, scale.axis(root, y + 14))


def _ring(root: Element, x: float, y: float) -> None:
    add(root, "circle", cx=x, cy=y, r=_DOT, fill=PAPER, stroke=INK, stroke_width=PLAIN)


class _Scale:
    """From values to places across the drawing, with round ticks."""

    def __init__(self, values: Sequence[float]) -> None:
        low, high = min(values), max(values)
        room = (high - low) or max(abs(high), 1.0)
        self._low, self._high = low - 0.06 * room, high + 0.06 * room

    def at(self, value: float) -> float:
        share = (value - self._low) / (self._high - self._low)
        return _MARGIN + share * (_WIDTH - 2 * _MARGIN)

    def axis(self, root: Element, y: float) -> float:
        """Draw the axis below the marks; the height of the drawing."""
        add(root, "line", x1=_MARGIN, x2=_WIDTH - _MARGIN, y1=y, y2=y, stroke=INK,
            stroke_width=THIN)  # fmt: skip
        for value in self._ticks():
            x = self.at(value)
            add(root, "line", x1=x, x2=x, y1=y, y2=y + 5, stroke=INK, stroke_width=THIN)
            add(root, "text", plain(value, 4), x=x, y=y + 18, font_size=SMALL,
                text_anchor="middle")  # fmt: skip
        return y + 26

    def _ticks(self) -> list[float]:
        room = self._high - self._low
        power = 10.0 ** np.floor(np.log10(room / _TICKS))
        step = next(
            float(power * each) for each in (1, 2, 5, 10) if room / (power * each) <= _TICKS
        )
        first, last = np.ceil(self._low / step), np.floor(self._high / step)
        return [round(float(each * step), 12) for each in np.arange(first, last + 1)]
