"""A bed's ledger drawn: one small drawing a nutrient, past seasons and where the habit leads."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bedwright.charts import theme
from bedwright.charts.ledger_paths import Path, ledger_paths
from bedwright.charts.measure import Words, nice_step, rounded, unit_of
from bedwright.charts.sheet import Curve, Sheet
from bedwright.charts.sizes import HEAVY, PLAIN, SMALL, TEXT, THIN, TITLE
from bedwright.charts.theme import OCHRE, Spec
from bedwright.face import wrapped
from bedwright.planning.bed_ledger import BedLedger
from bedwright.planning.ledger_outlook import Level
from bedwright.units import UnitSystem
from bedwright.units.show import plain

Array = NDArray[np.float64]
_ENDS = ("low", "typical", "high")
_ABOVE = 1.3  # a ceiling further over the drawing than this is told, not drawn
_GAP = 28  # px between drawings
_AXIS = 46  # px that the numbers up the side take


@dataclass(frozen=True)
class _Scale:
    """Engine units in one of the reader's, the reader's unit, and where the drawing is."""

    per_unit: float
    unit: str

    def __call__(self, value: float, digits: int = 2) -> str:
        return f"{plain(value / self.per_unit, digits)} {self.unit}"


def ledger_chart(
    ledger: BedLedger,
    bed: str,
    system: UnitSystem,
    words: Words,
    *,
    width: int = 640,
    height: int = 170,
) -> Spec | None:
    """What a bed held and where its habit leads.

    Parameters
    ----------
    ledger, bed : the ledger of all beds, and the bed to draw
    system : the reader's units
    words : the chart's labels (``reports.words_charts.CHART_WORDS``)
    width : of the whole [px]; under 560 the drawings stand one under the other
    height : of each drawing without its words [px]

    None where the document tells of no season of the bed. Raises LookupError for a bed that is
    not there.
    """
    paths = ledger_paths(ledger, bed)
    if not paths:
        return None
    columns = 2 if width >= 560 else 1
    each_width = (width - _GAP * (columns - 1)) // columns - _AXIS
    crop = _tender_crop(ledger, bed)
    years = _years(paths)
    drawings: list[Spec] = []
    datasets: dict[str, list[dict[str, Any]]] = {}
    rows: list[dict[str, Any]] = []
    said: list[str] = []
    for path in paths:
        scale = _scale(path, system)
        sentence = _sentence(path, scale, words)
        said.append(sentence)
        drawing, data = _draw(path, scale, words, crop, years, (each_width, height))
        drawing["title"] = {
            "text": wrapped(sentence, each_width, TEXT, bold=True),
            "fontSize": TEXT, "lineHeight": TEXT * 1.25, "offset": 10
        }  # fmt: skip
        drawings.append(drawing)
        datasets |= data
        rows += _rows(path, scale, words)
    title = words["ledger_title"].format(bed=bed)
    body: Spec = {
        "datasets": {"table": rows, **datasets},
        "usermeta": {"columns": [
            {"field": each, "heading": words[f"column_{each}"]}
            for each in ("what", "year", "kind", "low", "typical", "high", "unit")
        ]},
        "columns": columns,
        "concat": drawings,
        "align": "each",
        "bounds": "full",
    }  # fmt: skip
    return theme.themed(
        body,
        wrapped(title, width - _AXIS, TITLE, bold=True),
        ". ".join([title, *said]) + ".",
        below=wrapped(words["ledger_below"], width - _AXIS, TEXT),
        gap=18,
    )


def _tender_crop(ledger: BedLedger, bed: str) -> str:
    """The crop whose salt limit is drawn, as its finding names it."""
    for each in ledger.findings.get(bed, ()):
        if each.code.startswith("ledger_level_") and each.code.endswith("_salt"):
            return str(each.values.get("crop", ""))
    return ""


def _years(paths: tuple[Path, ...]) -> tuple[float, float]:
    known = [year for path in paths for year, _ in path.past]
    known += [float(year) for path in paths for year in path.years]
    known += [path.tested[0] for path in paths if path.tested is not None]
    return min(known), max(known)


def _scale(path: Path, system: UnitSystem) -> _Scale:
    if path.unit == "kg/m2":
        return _Scale(*unit_of("mass_per_area", system))
    return _Scale(1.0, {"mg/kg": "ppm"}.get(path.unit, path.unit))


def _draw(
    path: Path, scale: _Scale, words: Words, crop: str, years: tuple[float, float],
    size: tuple[int, int],
) -> tuple[Spec, dict[str, list[dict[str, Any]]]]:  # fmt: skip
    ahead = path.ahead / scale.per_unit
    past = [(year, stock / scale.per_unit) for year, stock in path.past]
    values = [stock for _, stock in past] + [float(each) for each in ahead.ravel()]
    values += [path.tested[1] / scale.per_unit] if path.tested is not None else []
    levels = _drawn(path, max(values))
    values += [each.level for each in levels]
    sheet = Sheet(path.nutrient, *size, x=years, y=_span(values, path.counted == "change"))
    sheet.numbers(step=max(1.0, nice_step(years[1] - years[0], size[0] // 60)), form="d")
    sheet.heights(4)
    at = tuple(float(year) for year in path.years)
    if ahead.size:
        parts = [Curve("ahead", at, tuple(map(float, part))) for part in ahead]
        low, typical, high = (replace(c, name=n) for c, n in zip(parts, _ENDS, strict=True))
        sheet.band("range", low, high)
        sheet.line(typical, weight=HEAVY)
    if len(past) > 1:
        sheet.line(Curve("past", tuple(x for x, _ in past), tuple(y for _, y in past)),
                   weight=PLAIN if path.counted == "change" else THIN,
                   dash="" if path.counted == "change" else "dash")  # fmt: skip
    if path.tested is not None:
        now = path.tested[0], path.tested[1] / scale.per_unit
        sheet.points("tested", [now[0]], [now[1]])
    for level in levels:
        said = words[f"level_{level.name}"].format(level=scale(level.level, 2), crop=crop)
        ceiling = sheet.threshold(level.name, level.level / scale.per_unit, color=OCHRE)
        _mark_years(sheet, level, scale, words)
        sheet.label(ceiling, said, color=OCHRE, wish=0.3)
    if path.tested is not None:
        sheet.note(now[0], now[1], words["tested"].format(value=plain(now[1], 3)),
                   size=SMALL)  # fmt: skip
    spec = sheet.spec()
    return spec, sheet.datasets


def _mark_years(sheet: Sheet, level: Level, scale: _Scale, words: Words) -> None:
    """When a ceiling is reached: a heavy piece of its line, and the likeliest year in words."""
    first, middle, last = level.reach.earliest, level.reach.typical, level.reach.latest
    if not np.isfinite(first):
        return
    end = sheet.x_end
    y = level.level / scale.per_unit
    start, stop = level.start_year + first, min(level.start_year + last, end)
    if start >= end:
        return
    sheet.line(Curve(f"{level.name}_years", (start, max(stop, start + 0.2)), (y, y)),
               weight=4.5, color=OCHRE)  # fmt: skip
    year = level.years[1] if level.start_year + middle <= end else level.years[0]
    key = "year_likely" if level.start_year + middle <= end else "year_earliest"
    if year is not None:
        x = level.start_year + (middle if key == "year_likely" else first)
        sheet.points(f"{level.name}_year", [x], [y], size=70, hollow=True, color=OCHRE)
        sheet.note(x, y, words[key].format(year=year), color=OCHRE, size=SMALL)


def _drawn(path: Path, top: float) -> list[Level]:
    """The ceilings to draw: the highest that is passed already, those in reach, the next one."""
    now = path.tested[1] if path.tested is not None else 0.0
    levels = sorted(path.levels, key=lambda each: each.level)
    passed = [each for each in levels if each.level < now][-1:]
    ahead = [each for each in levels if each.level >= now]
    return passed + [each for at, each in enumerate(ahead) if each.level <= top * _ABOVE or at == 0]


def _span(values: list[float], from_zero: bool) -> tuple[float, float]:
    low, high = min([0.0, *values]), max([0.0, *values])
    room = (high - low) * 0.12 or 1.0
    return (low - room if low < 0 else 0.0), high + room


def _sentence(path: Path, scale: _Scale, words: Words) -> str:
    """What a drawing shows, as its title."""
    name = words[path.nutrient]
    level = _next(path)
    if level is not None and path.tested is not None:
        first, middle, last = level.years
        way = "falls" if path.tested[1] > level.level else "passes"
        sure = "_maybe" if middle is None else "_late" if last is None else ""
        return words[f"title_{way}{sure}"].format(
            what=name, level=scale(level.level), first=first, middle=middle, last=last
        )
    passed = [each for each in path.levels
              if path.tested is not None and each.level < path.tested[1]]  # fmt: skip
    if passed and path.yearly is not None and path.yearly[0] > 0:
        highest = max(passed, key=lambda each: each.level)
        low, middle_value, high = (each / scale.per_unit for each in path.yearly)
        return words["title_above"].format(
            what=name, level=scale(highest.level),
            change=_range(low, middle_value, high, scale.unit, words))  # fmt: skip
    if path.settles is not None:
        ends = [plain(each, 2) for each in path.settles]
        return words["title_settles"].format(
            what=name, low=ends[0], value=ends[1], high=ends[2], unit=scale.unit
        )
    if path.yearly is not None:
        low, middle_value, high = (each / scale.per_unit for each in path.yearly)
        up, down = ("gains", "loses") if path.counted == "change" else ("rises", "drops")
        key = f"title_{up if middle_value >= 0 else down}"
        return words[key].format(
            what=name, change=_range(low, middle_value, high, scale.unit, words)
        )
    if path.ahead.size:
        now, then = float(path.ahead[1, 0]), path.ahead[:, -1] / scale.per_unit
        low_then, high_then = plain(float(then[0]), 2), plain(float(then[2]), 2)
        return words["title_moves"].format(
            what=name,
            now=scale(now),
            year=f"{path.years[-1]:.0f}",
            then=f"{words['range'].format(low=low_then, high=high_then)} {scale.unit}",
        )
    return words["title_only_past"].format(what=name)


def _range(low: float, value: float, high: float, unit: str, words: Words) -> str:
    if value < 0:
        low, value, high = -high, -value, -low
    parts = [plain(each, 2) for each in (low, value, high)]
    if parts[0] == parts[2]:
        return f"{parts[1]} {unit}"
    inner = words["range"].format(low=parts[0], high=parts[2])
    return f"{parts[1]} ({inner}) {unit}"


def _next(path: Path) -> Level | None:
    """The ceiling that is reached first, of those with a year."""
    known = [each for each in path.levels if each.years[0] is not None and each.reach.earliest > 0]
    return min(known, key=lambda each: each.reach.earliest) if known else None


def _rows(path: Path, scale: _Scale, words: Words) -> list[dict[str, Any]]:
    """The figures behind a drawing."""
    what, unit = words[path.nutrient], scale.unit

    def row(year: float, kind: str, low: float | None, typical: float, high: float | None) -> Any:
        return {"what": what, "year": rounded(year, 6), "kind": words[kind],
                "low": rounded(low), "typical": rounded(typical), "high": rounded(high),
                "unit": unit}  # fmt: skip

    found = [row(year, f"kind_past_{path.counted}", None, stock / scale.per_unit, None)
             for year, stock in path.past]  # fmt: skip
    if path.tested is not None:
        found.append(row(path.tested[0], "kind_tested", None, path.tested[1], None))
    ahead = path.ahead / scale.per_unit
    found += [row(float(year), "kind_ahead", *map(float, ends))
              for year, ends in zip(path.years, ahead.T, strict=True)]  # fmt: skip
    return found
