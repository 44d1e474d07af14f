"""Curves with their bands and thresholds: odds by date, good days by date, growth of a program."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Literal

from bedwright.charts import theme
from bedwright.charts.measure import Words, nice_top, rounded
from bedwright.charts.sheet import Curve, Sheet, Upright, X
from bedwright.charts.sizes import HEAVY, PLAIN, TEXT, TITLE
from bedwright.charts.theme import Spec
from bedwright.face import wrapped

Tint = Literal["ink", "ochre", "water"]
_COLORS: dict[Tint, str] = {"ink": theme.INK, "ochre": theme.OCHRE, "water": theme.WATER}
_LOOKS = (("", HEAVY), ("dash", PLAIN), ("dot", HEAVY), ("long", PLAIN))  # dash, weight


@dataclass(frozen=True)
class Series:
    """A curve with its name in words; ``low`` and ``high`` are the ends of its band, 10 to 90 %.

    The name stands somewhere along the curve, or about the point ``named_at``.
    """

    name: str
    xs: tuple[X, ...]
    ys: tuple[float, ...]
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()
    tint: Tint = "ink"
    dots: bool = False
    named_at: tuple[X, float] | None = None


@dataclass(frozen=True)
class Threshold:
    """A level line with its words."""

    y: float
    words: str
    tint: Tint = "ink"


@dataclass(frozen=True)
class Saying:
    """What a chart says: its title as a sentence, the line under it, the headings of its table.

    ``foot`` stands under numbers along the foot; dates need none. ``alt`` is the text for those
    who don't see the drawing, the title where it is empty.
    """

    title: str
    below: str
    heading_x: str
    heading_y: str
    foot: str = ""
    alt: str = ""


def curve_chart(
    series: Sequence[Series],
    saying: Saying,
    words: Words,
    *,
    thresholds: Sequence[Threshold] = (),
    uprights: Sequence[Upright] = (),
    top: float | None = None,
    bottom: float = 0.0,
    width: int = 640,
    height: int = 320,
) -> Spec:
    """Curves over days or numbers, each with its band and its name beside it.

    Parameters
    ----------
    series : one to four curves, in the reader's units, all over days or all over numbers
    saying : the chart's sentences
    words : names of months, and of the ends of a band (``reports.words_charts.CHART_WORDS``)
    thresholds, uprights : level and upright lines with words on them
    top, bottom : ends of the numbers up the side; a round number over all of them, and 0

    Raises ValueError for no curve, more than four, or one of fewer than two points.
    """
    if not 1 <= len(series) <= len(_LOOKS):
        raise ValueError(f"a chart holds 1 to {len(_LOOKS)} curves, not {len(series)}")
    thin = [each.name for each in series if len(each.xs) < 2]
    if thin:
        raise ValueError(f"{', '.join(thin)}: a curve needs two points at least")
    values = [y for each in series for y in (*each.ys, *each.low, *each.high)]
    values += [each.y for each in thresholds]
    highest = top if top is not None else nice_top(max(values) * 1.1)
    xs = [x for each in series for x in each.xs]
    sheet = Sheet("", width, height, (min(xs), max(xs)), (bottom, highest))
    if isinstance(xs[0], date):
        sheet.months(words)
    else:
        sheet.numbers(saying.foot)
    sheet.heights()
    curves = [Curve(f"curve_{at + 1}", each.xs, each.ys) for at, each in enumerate(series)]
    for each, curve in zip(series, curves, strict=True):
        if each.low:
            sheet.band(f"{curve.name}_range", Curve("low", each.xs, each.low),
                       Curve("high", each.xs, each.high))  # fmt: skip
    for each, curve, (dash, weight) in zip(series, curves, _LOOKS, strict=False):
        sheet.line(curve, weight=weight, dash=dash, color=_COLORS[each.tint])
        if each.dots:
            sheet.points(f"{curve.name}_dots", each.xs, each.ys, size=40, color=_COLORS[each.tint])
    levels = [
        sheet.threshold(f"level_{at + 1}", each.y, color=_COLORS[each.tint])
        for at, each in enumerate(thresholds)
    ]
    sheet.uprights("day", uprights)
    for threshold, level in zip(thresholds, levels, strict=True):
        sheet.label(level, threshold.words, color=_COLORS[threshold.tint], wish=0.2, longest=0.25)
    for each, curve in zip(series, curves, strict=True):
        if each.name and each.named_at is not None:
            sheet.note(*each.named_at, each.name, color=_COLORS[each.tint])
        elif each.name:
            sheet.label(curve, each.name, color=_COLORS[each.tint], bold=len(series) > 1, wish=0.7)
    body = sheet.spec()
    columns, rows = _table(series, saying, words)
    body["datasets"] = {"table": rows, **sheet.datasets}
    body["usermeta"] = {"columns": columns}
    return theme.themed(
        body,
        wrapped(saying.title, width, TITLE, bold=True),
        saying.alt or f"{saying.title} {saying.below}".strip(),
        below=wrapped(saying.below, width, TEXT),
        gap=14,
    )


def growth_chart(
    rows: Sequence[Mapping[str, str]],
    x: str,
    y: str,
    words: Words,
    *,
    series: str | None = None,
    width: int = 640,
    height: int = 320,
) -> Spec:
    """How a figure grows with the size of the work: a benchmark's rows as curves with dots.

    Parameters
    ----------
    rows : of a CSV file, as read
    x, y : the columns of the size and of the figure
    words : ``title``, ``below``, ``x`` and ``y`` of this chart, and the month names
    series : a column that tells curves apart; its entries stand beside them

    Raises KeyError for a column that is not there, ValueError where a number is none or where
    fewer than two rows state both.
    """
    missing = [each for each in (x, y, series) if each and rows and each not in rows[0]]
    if missing:
        raise KeyError(f"no column {', '.join(missing)}; there are: {', '.join(rows[0])}")
    found: dict[str, list[tuple[float, float]]] = {}
    for row in rows:
        if row[x] and row[y]:
            name = row[series] if series else ""
            found.setdefault(name, []).append((float(row[x]), float(row[y])))
    if not found:
        raise ValueError(f"no row states both {x} and {y}")
    curves = []
    for name, points in found.items():
        points.sort()
        xs, ys = zip(*points, strict=True)
        curves.append(Series(name, xs, ys, dots=True))
    saying = Saying(words["title"], words["below"], words["x"], words["y"], foot=words["x"])
    return curve_chart(curves, saying, words, width=width, height=height)


def _table(
    series: Sequence[Series], saying: Saying, words: Words
) -> tuple[list[dict[str, str]], list[dict[str, Any]]]:
    """One row a place along the foot; a band's ends beside its curve."""
    columns = [{"field": "at", "heading": saying.heading_x}]
    rows: dict[X, dict[str, Any]] = {}
    for at, each in enumerate(series):
        parts: list[tuple[str, tuple[float, ...]]] = [("typical", each.ys)]
        if each.low:
            parts = [("low", each.low), parts[0], ("high", each.high)]
        for part, ys in parts:
            field = f"curve_{at + 1}_{part}"
            name = each.name or saying.heading_y
            heading = name if part == "typical" else f"{name}, {words[f'column_{part}']}"
            columns.append({"field": field, "heading": heading})
            for x, y in zip(each.xs, ys, strict=True):
                shown = x.isoformat() if isinstance(x, date) else rounded(float(x), 6)
                rows.setdefault(x, {"at": shown})[field] = rounded(y)
    return columns, [rows[x] for x in sorted(rows)]
