"""A drawing in the making: curves, bands, hatching, thresholds and words become layers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from bedwright.charts import theme
from bedwright.charts.measure import MONTHS, Words, nice_step, rounded
from bedwright.charts.placing import LINE_HEIGHT, Box, Ground, Spot, extent, stacked
from bedwright.charts.sizes import DASHES, PLAIN, SMALL, TEXT, THIN
from bedwright.charts.theme import INK, Spec
from bedwright.face import wrapped

Array = NDArray[np.float64]
X = date | float
_HATCH_GAP = 7.0  # px between the lines of hatching


@dataclass(frozen=True)
class Curve:
    """A named curve of a sheet: points from left to right; steps hold until the next point."""

    name: str
    xs: tuple[X, ...]
    ys: tuple[float, ...]
    step: bool = False


@dataclass(frozen=True)
class Upright:
    """An upright line with words over it."""

    x: X
    words: str
    dash: str = ""
    weight: float = THIN
    color: str = INK


class Sheet:
    """One drawing over dates or numbers; ``name`` stands before the names of its data."""

    def __init__(self, name: str, width: int, height: int, x: tuple[X, X],
                 y: tuple[float, float]) -> None:  # fmt: skip
        self.name, self.width, self.height = name, width, height
        self._temporal = isinstance(x[0], date)
        self._x = (_number(x[0]), _number(x[1]))
        self._y = y
        self.ground = Ground(width, height)
        self.datasets: dict[str, list[dict[str, Any]]] = {}
        self._layers: list[Spec] = []
        self._words: list[dict[str, Any]] = []
        self._axes: tuple[Spec, Spec] = ({}, {})
        self._scaled: set[str] = set()

    @property
    def x_end(self) -> float:
        """The right end of the drawing, as a number."""
        return self._x[1]

    # Axes ---------------------------------------------------------------------------------------

    def months(self, words: Words) -> None:
        """Months in words along the foot; January with its year."""
        first, last = (date.fromordinal(round(each)) for each in self._x)
        starts = [date(year, month, 1) for year in range(first.year, last.year + 1)
                  for month in range(1, 13)]  # fmt: skip
        starts = [each for each in starts if first <= each <= last]
        room = self.width / max(1.0, (self._x[1] - self._x[0]) / 30.5)
        first_month = starts[0] if starts else last
        if (first_month - first).days / 30.5 * room > room / 2 or not starts:
            starts.insert(0, first)
        names = [words[key] for key in MONTHS]
        if max(extent([name], SMALL)[0] for name in names) + 8 > room:
            names = [words[key.replace("_", "_short_")] for key in MONTHS]
            starts = _thinned(starts, names, room)
        listed = ", ".join(repr(name) for name in names)
        year = "(utcmonth(datum.value) == 0 ? ' ' + utcyear(datum.value) : '')"
        axis = {
            "values": [_day(each.toordinal()) for each in starts],
            "labelExpr": f"[{listed}][utcmonth(datum.value)] + {year}",
            "labelAlign": "left",
            "labelOffset": 3,
            "labelBound": False,
            "tickSize": 14,
            "labelPadding": -9,
            "labelOverlap": False,
        }
        self._axes = ({"title": None, **axis}, self._axes[1])

    def numbers(self, title: str = "", step: float | None = None, form: str = "") -> None:
        """Numbers along the foot, with words under them."""
        step = step or nice_step(self._x[1] - self._x[0], max(2, self.width // 90))
        axis = {"values": _ticks(self._x, step), "labelOverlap": False}
        more = {"format": form} if form else {}
        self._axes = ({"title": title or None, **axis, **more}, self._axes[1])

    def heights(self, steps: int = 5) -> None:
        """Numbers up the side."""
        step = nice_step(self._y[1] - self._y[0], steps)
        axis = {
            "title": None,
            "values": _ticks(self._y, step),
            "format": f",.{_decimals(step)}f",
            "labelExpr": "datum.value == 0 ? '0' : datum.label",
        }
        self._axes = (self._axes[0], axis)

    # Marks --------------------------------------------------------------------------------------

    def line(self, curve: Curve, *, weight: float = PLAIN, dash: str = "",
             color: str = INK) -> None:  # fmt: skip
        """A curve as a line."""
        self.datasets[self._called(curve.name)] = [
            {"x": self._out(x), "y": rounded(y)} for x, y in zip(curve.xs, curve.ys, strict=True)
        ]
        mark: Spec = {"type": "line", "strokeWidth": weight, "color": color,
                      "interpolate": "step-after" if curve.step else "linear"}  # fmt: skip
        if DASHES[dash]:
            mark["strokeDash"] = DASHES[dash]
        self._layer(curve.name, mark, {"x": self._ex("x"), "y": self._ey("y")})
        self.ground.add_curve(self.pixels(curve))

    def band(self, name: str, low: Curve, high: Curve, color: str = theme.BAND) -> None:
        """The area between two curves over the same points."""
        self.datasets[self._called(name)] = [
            {"x": self._out(x), "low": rounded(a), "high": rounded(b)}
            for x, a, b in zip(low.xs, low.ys, high.ys, strict=True)
        ]
        mark = {"type": "area", "color": color, "line": False,
                "interpolate": "step-after" if low.step else "linear"}  # fmt: skip
        encoding = {"x": self._ex("x"), "y": self._ey("low"), "y2": {"field": "high"}}
        self._layer(name, mark, encoding)
        self.ground.add_band(self.pixels(high), self.pixels(low))

    def hatching(self, name: str, low: Curve, high: Curve, *, lean: Literal[1, -1] = 1,
                 weight: float = THIN, color: str = theme.QUIET,
                 gap: float = _HATCH_GAP) -> bool:  # fmt: skip
        """Slanting lines between two curves; False where the area is too small for one."""
        tops, bottoms = self.pixels(high), self.pixels(low)
        rows = [
            {"x": self._at(x1), "y": self._height(y1), "x2": self._at(x2), "y2": self._height(y2)}
            for x1, y1, x2, y2 in _slants(tops, bottoms, lean, gap)
        ]
        if not rows:
            return False
        self.datasets[self._called(name)] = rows
        mark = {"type": "rule", "strokeWidth": weight, "color": color}
        encoding = {"x": self._ex("x"), "y": self._ey("y"), "x2": {"field": "x2"},
                    "y2": {"field": "y2"}}  # fmt: skip
        self._layer(name, mark, encoding)
        self.ground.add_hatching(tops, bottoms)
        return True

    def points(self, name: str, xs: Sequence[X], ys: Sequence[float], *, size: int = 90,
               hollow: bool = False, color: str = INK) -> None:  # fmt: skip
        """Dots: full for what was measured, hollow for what is reckoned."""
        self.datasets[self._called(name)] = [
            {"x": self._out(x), "y": rounded(y)} for x, y in zip(xs, ys, strict=True)
        ]
        mark: Spec = {"type": "point", "shape": "circle", "size": size, "opacity": 1,
                      "fill": theme.PAPER if hollow else color, "stroke": color,
                      "strokeWidth": PLAIN}  # fmt: skip
        self._layer(name, mark, {"x": self._ex("x"), "y": self._ey("y")})
        half = size**0.5 / 2 - 1
        for x, y in zip(xs, ys, strict=True):
            px, py = self._px(_number(x)), self._py(y)
            self.ground.words.append(Box(px - half, py - half, px + half, py + half))

    def sticks(self, name: str, xs: Sequence[X], ys: Sequence[float], *, weight: float = PLAIN,
               color: str = INK) -> None:  # fmt: skip
        """Upright sticks from the foot: what comes on single days."""
        self.datasets[self._called(name)] = [
            {"x": self._out(x), "y": rounded(y), "y2": rounded(self._y[0])}
            for x, y in zip(xs, ys, strict=True)
        ]
        mark: Spec = {"type": "rule", "strokeWidth": weight, "color": color}
        encoding = {"x": self._ex("x"), "y": self._ey("y"), "y2": {"field": "y2"}}
        self._layer(name, mark, encoding)
        for x, y in zip(xs, ys, strict=True):
            px = self._px(_number(x))
            self.ground.words.append(Box(px - 1, self._py(y), px + 1, float(self.height)))

    def threshold(self, name: str, y: float, *, dash: str = "long", color: str = INK) -> Curve:
        """A level line; its words are for ``label``."""
        ends = Curve(name, self._ends(), (y, y))
        self.line(ends, weight=THIN, dash=dash, color=color)
        return ends

    def uprights(self, name: str, marks: Sequence[Upright]) -> None:
        """Upright lines, each with its words in the strip over the drawing."""
        if not marks:
            return
        xs = [self._px(_number(each.x)) for each in marks]
        tried = [
            [wrapped(each.words, max(70.0, self.width * share), TEXT) for each in marks]
            for share in (0.75, 0.45, 0.3)
        ]
        stacks = [stacked(list(zip(xs, lines, strict=True)), self.width, TEXT) for lines in tried]
        at_best = min(range(len(stacks)), key=lambda at: stacks[at][0])
        lines, boxes = tried[at_best], stacks[at_best][1]
        for at, (mark, box) in enumerate(zip(marks, boxes, strict=True)):
            data = f"{name}_{at + 1}"
            self.datasets[self._called(data)] = [{"x": self._out(mark.x)}]
            drawn: Spec = {"type": "rule", "strokeWidth": mark.weight, "color": mark.color}
            if DASHES[mark.dash]:
                drawn["strokeDash"] = DASHES[mark.dash]
            encoding = {"x": self._ex("x"), "y": {"value": round(box.top + 3, 1)},
                        "y2": {"value": self.height}}  # fmt: skip
            self._layer(data, drawn, encoding)
            self.ground.add_upright(xs[at])
            self._write(lines[at], Spot((), box.left, box.top + TEXT, box, 0.0),
                        TEXT, mark.color, "normal")  # fmt: skip

    # Words --------------------------------------------------------------------------------------

    def label(self, curve: Curve, words: str, *, color: str = INK, bold: bool = False,
              over: bool = True, under: bool = True, wish: float = 0.5, longest: float = 0.45,
              size: float = TEXT) -> Spot:  # fmt: skip
        """Words beside a curve, where they cover nothing. Returns where they stand."""
        heights = self.pixels(curve)
        tried = [wrapped(words, max(120.0, self.width * each), size, bold=bold)
                 for each in (0.95, longest)]  # fmt: skip
        spot = min((self.ground.beside(heights, lines, size, bold=bold, over=over, under=under,
                                       wish=wish) for lines in tried),
                   key=lambda each: each.cost)  # fmt: skip
        self.ground.words.append(spot.box)
        self._write(spot.lines, spot, size, color, "bold" if bold else "normal")
        return spot

    def note(self, x: X, y: float, words: str, *, color: str = INK, size: float = TEXT,
             longest: float = 0.45) -> Spot:  # fmt: skip
        """Words around a point, where they cover least."""
        place = self._px(_number(x)), self._py(y)
        tried = [wrapped(words, max(90.0, self.width * each), size) for each in (longest, 0.2)]
        spot = min((self.ground.around(*place, lines, size) for lines in tried),
                   key=lambda each: each.cost)  # fmt: skip
        self.ground.words.append(spot.box)
        self._write(spot.lines, spot, size, color, "normal")
        return spot

    def _write(self, lines: Sequence[str], spot: Spot, size: float, color: str,
               weight: str) -> None:  # fmt: skip
        self._words.append({"lines": list(lines), "spot": spot, "size": size, "color": color,
                            "weight": weight})  # fmt: skip

    # The whole ----------------------------------------------------------------------------------

    def spec(self) -> Spec:
        """The drawing as layers, without its data (see ``datasets``)."""
        layers = list(self._layers)
        for at, each in enumerate(self._words):
            name = f"words_{at + 1}"
            spot: Spot = each["spot"]
            self.datasets[self._called(name)] = [{"words": "\n".join(each["lines"])}]
            mark = {
                "type": "text", "align": "left", "baseline": "alphabetic", "lineBreak": "\n",
                "fontSize": each["size"], "lineHeight": each["size"] * LINE_HEIGHT,
                "color": each["color"], "fontWeight": each["weight"],
            }  # fmt: skip
            encoding = {"x": {"value": round(spot.x, 1)}, "y": {"value": round(spot.y, 1)},
                        "text": {"field": "words", "type": "nominal"}}  # fmt: skip
            layers.append({"name": self._called(name), "data": {"name": self._called(name)},
                           "mark": mark, "encoding": encoding})  # fmt: skip
        return {"width": self.width, "height": self.height, "layer": layers}

    def pixels(self, curve: Curve) -> Array:
        """A curve's height at each px from the left, NaN beyond its ends."""
        at = np.arange(self.width + 1, dtype=np.float64)
        xs = np.array([self._px(_number(x)) for x in curve.xs])
        ys = np.array([self._py(y) for y in curve.ys])
        if curve.step:
            place = np.clip(np.searchsorted(xs, at + 1e-9, side="right") - 1, 0, len(xs) - 1)
            found = ys[place]
        else:
            found = np.interp(at, xs, ys)
        return np.where((at >= xs[0] - 0.5) & (at <= xs[-1] + 0.5), found, np.nan)

    def _layer(self, name: str, mark: Spec, encoding: Spec) -> None:
        self._layers.append({"name": self._called(name), "data": {"name": self._called(name)},
                             "mark": mark, "encoding": encoding})  # fmt: skip

    def _called(self, name: str) -> str:
        return f"{self.name}_{name}" if self.name else name

    def _ex(self, field: str) -> Spec:
        kind = "temporal" if self._temporal else "quantitative"
        found: Spec = {"field": field, "type": kind, "axis": self._axes[0]}
        if "x" not in self._scaled:  # said once: layers share it
            domain = [_day(each) for each in self._x] if self._temporal else [*self._x]
            kind_of = {"type": "utc"} if self._temporal else {"zero": False}
            found["scale"] = {"domain": domain, "nice": False, **kind_of}
            self._scaled.add("x")
        return found

    def _ey(self, field: str) -> Spec:
        found: Spec = {"field": field, "type": "quantitative", "axis": self._axes[1]}
        if "y" not in self._scaled:
            found["scale"] = {"domain": list(self._y), "nice": False, "zero": False}
            self._scaled.add("y")
        return found

    def _ends(self) -> tuple[X, X]:
        if self._temporal:
            return date.fromordinal(round(self._x[0])), date.fromordinal(round(self._x[1]))
        return self._x

    def _px(self, x: float) -> float:
        return (x - self._x[0]) / (self._x[1] - self._x[0]) * self.width

    def _py(self, y: float) -> float:
        return (self._y[1] - y) / (self._y[1] - self._y[0]) * self.height

    def _at(self, px: float) -> str | float | None:
        return self._out(self._x[0] + px / self.width * (self._x[1] - self._x[0]))

    def _height(self, py: float) -> float | None:
        return rounded(self._y[1] - py / self.height * (self._y[1] - self._y[0]))

    def _out(self, x: X) -> str | float | None:
        if not self._temporal:
            return rounded(_number(x), 6)
        if isinstance(x, date):
            return x.isoformat()
        moment = datetime.fromordinal(int(x)) + timedelta(minutes=round((x % 1) * 1440))
        return moment.strftime("%Y-%m-%dT%H:%M:00Z")


def _thinned(starts: list[date], names: list[str], room: float) -> list[date]:
    """The months whose names have room: all of them, or every second, third, fourth or sixth from
    January on."""
    if max(extent([name], SMALL)[0] for name in names) + 4 <= room:
        return starts
    wide = extent([f"{names[0]} 2000"], SMALL)[0] + 6  # January stands with its year
    every = next((each for each in (2, 3, 4, 6) if each * room >= wide), 12)
    return [each for each in starts if each.day == 1 and (each.month - 1) % every == 0] or starts


def _number(x: X) -> float:
    return float(x.toordinal()) if isinstance(x, date) else float(x)


def _day(ordinal: float) -> dict[str, Any]:
    """A day as Vega-Lite writes it: milliseconds alone fail where expressions are interpreted."""
    on = date.fromordinal(round(ordinal))
    return {"year": on.year, "month": on.month, "date": on.day, "utc": True}


def _decimals(step: float) -> int:
    """Digits behind the point that multiples of a round step need."""
    return next((each for each in range(9) if abs(step - round(step, each)) < 1e-9 * step), 9)


def _ticks(ends: tuple[float, float], step: float) -> list[float]:
    first = int(np.ceil(ends[0] / step - 1e-9))
    last = int(np.floor(ends[1] / step + 1e-9))
    return [float(f"{at * step:.10g}") for at in range(first, last + 1)]


def _slants(
    tops: Array, bottoms: Array, lean: int, gap: float
) -> list[tuple[float, float, float, float]]:
    """Slanting lines inside an area given by its upper and lower edge at each px."""
    at = np.arange(len(tops), dtype=np.float64)
    inside = ~np.isnan(tops) & ~np.isnan(bottoms) & (bottoms - tops > 0.75)
    if not inside.any():
        return []
    feet = bottoms[inside] + lean * at[inside]
    heads = tops[inside] + lean * at[inside]
    found = []
    start = np.floor(min(feet.min(), heads.min()) / gap) * gap
    for offset in np.arange(start, max(feet.max(), heads.max()) + gap, gap):
        y = offset - lean * at
        held = inside & (y >= np.where(inside, tops, 0)) & (y <= np.where(inside, bottoms, -1))
        edges = np.flatnonzero(np.diff(np.concatenate([[0], held.astype(int), [0]])))
        for first, last in zip(edges[::2], edges[1::2] - 1, strict=True):
            if last > first:
                found.append((float(first), float(y[first]), float(last), float(y[last])))
    return found
