"""Release against uptake: the nitrogen within a crop's reach, week by week, and what it wants."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bedwright.charts import theme
from bedwright.charts.measure import Words, day_words, nice_top, rounded, unit_of
from bedwright.charts.sheet import Curve, Sheet, Upright
from bedwright.charts.sizes import HEAVY, TEXT, TITLE
from bedwright.charts.theme import OCHRE, Spec
from bedwright.face import wrapped
from bedwright.planning.nitrogen_run import CASES
from bedwright.planning.side_dressing import Dressing, Shortage
from bedwright.planning.supply import NitrogenCourse
from bedwright.units import UnitSystem, show

Array = NDArray[np.float64]
_LOW, _TYPICAL, _HIGH = (CASES.index(each) for each in ("low", "typical", "high"))
_NOTHING = 1e-9  # kg/m2
_WEEK = timedelta(days=7)


def release_chart(
    course: NitrogenCourse,
    crop: str,
    materials: Mapping[str, str],
    system: UnitSystem,
    words: Words,
    *,
    width: int = 640,
    height: int = 320,
) -> Spec | None:
    """The nitrogen that a bed's crop finds in each week beside what it would take up.

    Within reach in a week is what the soil still held and what the week freed, before the crop
    takes its part: where that lies under the crop's wish, the crop goes short by just so much.

    Parameters
    ----------
    course : of the bed
    crop, materials : the crop's name, and each material's by its key, as they stand in sentences
    system : the reader's units
    words : the chart's labels (``reports.words_charts.CHART_WORDS``)
    width, height : of the drawing without its words [px]

    None where the course has no weeks, as no soil temperature is stated.
    """
    if course.season is None or not course.starts:
        return None
    per_unit, unit = unit_of("mass_per_area", system)
    reach = course.within_reach / per_unit
    wanted = course.uptake / per_unit
    wanted_ends = course.uptake_range / per_unit
    missing = course.short / per_unit
    end = course.starts[-1] + _WEEK
    top = nice_top(1.12 * max(float(reach.max()), float(wanted_ends.max())))
    sheet = Sheet("", width, height, (course.spread, max(end, course.last_harvest)), (0.0, top))
    sheet.months(words)
    sheet.heights()

    def curve(name: str, ys: Array) -> Curve:
        held = (*(float(y) for y in ys), float(ys[-1]))
        return Curve(name, (*course.starts, end), held, step=True)

    low, typical, high = (curve(f"reach_{CASES[at]}", reach[at]) for at in (_LOW, _TYPICAL, _HIGH))
    wish = curve("wanted", wanted)
    sheet.band("reach_range", low, high)
    least, most = (curve(f"wanted_{at}", wanted_ends[at]) for at in (0, 1))
    ranged = sheet.hatching("wanted_range", least, most)
    short = next((each for each in course.shortages if each.case == "typical"), None)
    worst = short or next((each for each in course.shortages if each.case == "low"), None)
    if worst is not None:
        case = CASES.index(worst.case)
        sheet.hatching("short", curve("found", reach[case]),
                       curve("wish", np.where(missing[case] > _NOTHING / per_unit, wanted,
                                              reach[case])),
                       lean=-1, weight=2.2, color=OCHRE, gap=6.0)  # fmt: skip
    sheet.line(typical, weight=HEAVY)
    sheet.line(wish, dash="dash")
    sheet.uprights("day", _days(course, materials, system, words))
    _say(sheet, typical, wish, worst, words, system, course)
    verdict = _verdict(course, worst, words)
    title = words["release_title"].format(bed=course.bed, crop=crop, verdict=verdict)
    ranges = [words["release_range"], *([words["release_wanted_range"]] if ranged else [])]
    below = [
        *wrapped(words["release_below"].format(unit=unit), width, TEXT),
        *wrapped(" ".join(ranges), width, TEXT),
    ]
    columns, rows = release_table(course, system, words)
    body = sheet.spec()
    body["datasets"] = {"table": rows, **sheet.datasets}
    body["usermeta"] = {"columns": columns}
    return theme.themed(
        body,
        wrapped(title, width, TITLE, bold=True),
        _alt(course, title, reach, wanted, unit, words),
        below=below,
        gap=14,
    )


def _days(
    course: NitrogenCourse, materials: Mapping[str, str], system: UnitSystem, words: Words
) -> list[Upright]:
    """The days on which something is done, in words."""
    marks = [Upright(course.set_out, words["set_out"].format(on=day_words(course.set_out, words)))]
    if course.spread < course.set_out:
        spread = words["spread"].format(on=day_words(course.spread, words))
        marks.insert(0, Upright(course.spread, spread))
    for each in course.dressings:
        marks.append(Upright(each.on, _dressing(each, "side_dress", materials, system, words),
                             weight=2.2))  # fmt: skip
    if course.extra is not None:
        marks.append(Upright(course.extra.on,
                             _dressing(course.extra, "side_dress_more", materials, system, words),
                             dash="dash", weight=2.2, color=OCHRE))  # fmt: skip
    harvest = words["last_harvest"].format(on=day_words(course.last_harvest, words))
    return [*marks, Upright(course.last_harvest, harvest)]


def _dressing(each: Dressing, key: str, materials: Mapping[str, str], system: UnitSystem,
              words: Words) -> str:  # fmt: skip
    what = words["and"].join(
        words["mass_of"].format(mass=show(mass, "mass", system, digits=2),
                                material=materials.get(name, name))
        for name, mass in each.materials
    )  # fmt: skip
    return words[key].format(on=day_words(each.on, words), what=what)


def _say(sheet: Sheet, typical: Curve, wish: Curve, worst: Shortage | None, words: Words,
         system: UnitSystem, course: NitrogenCourse) -> None:  # fmt: skip
    """Words beside the curves."""
    sheet.label(typical, words["within_reach"], bold=True, wish=0.45, under=False)
    sheet.label(wish, words["wanted"], wish=0.5)
    if worst is not None:
        missing = show(worst.total, "mass_per_area", system, digits=2)
        key = "short_here" if worst.case == "typical" else "may_be_short_here"
        said = words[key].format(on=day_words(worst.on, words), missing=missing)
        middle = _middle(course, worst)
        sheet.note(middle, max(wish.ys), said, color=OCHRE, longest=0.3)


def _middle(course: NitrogenCourse, worst: Shortage) -> date:
    weeks = np.flatnonzero(course.short[CASES.index(worst.case)] > _NOTHING)
    first, last = course.starts[int(weeks[0])], course.starts[int(weeks[-1])] + _WEEK
    return first + (last - first) / 2


def _verdict(course: NitrogenCourse, worst: Shortage | None, words: Words) -> str:
    if worst is None:
        return words["lasts"].format(on=day_words(course.last_harvest, words))
    key = "runs_short" if worst.case == "typical" else "may_run_short"
    return words[key].format(on=day_words(worst.on, words), week=worst.week)


def release_table(
    course: NitrogenCourse, system: UnitSystem, words: Words
) -> tuple[list[dict[str, str]], list[dict[str, Any]]]:
    """What the chart shows, week by week, for those who read figures: its columns and rows."""
    per_unit, unit = unit_of("mass_per_area", system)
    reach, wanted, missing = (
        each / per_unit for each in (course.within_reach, course.uptake, course.short)
    )
    mass = ("reach_low", "reach_typical", "reach_high", "freed", "wanted", "short_low",
            "short_typical")  # fmt: skip
    columns = [
        {"field": "week_from", "heading": words["column_week"]},
        *({"field": each, "heading": f"{words[f'column_{each}']}, {unit}"} for each in mass),
        {"field": "done", "heading": words["column_done"]},
    ]
    freed = course.available[_TYPICAL] / per_unit
    rows = []
    for at, start in enumerate(course.starts):
        values = (*reach[:, at], freed[at], wanted[at], missing[_LOW, at], missing[_TYPICAL, at])
        rows.append(
            {
                "week_from": start.isoformat(),
                **{name: rounded(float(each)) for name, each in zip(mass, values, strict=True)},
                "done": words["and"].join(_done(course, start, words)),
            }
        )
    return columns, rows


def _done(course: NitrogenCourse, start: date, words: Words) -> Sequence[str]:
    days = [(course.set_out, "done_set_out"), (course.spread, "done_spread")]
    days += [(each.on, "done_side_dress") for each in course.dressings]
    if course.extra is not None:
        days.append((course.extra.on, "done_side_dress_more"))
    found = [words[key] for on, key in days if start <= on < start + _WEEK]
    return list(dict.fromkeys(found))


def _alt(course: NitrogenCourse, title: str, reach: Array, wanted: Array, unit: str,
         words: Words) -> str:  # fmt: skip
    """The drawing in sentences."""
    peak = int(np.argmax(wanted))
    lowest = int(np.argmin(reach[_TYPICAL] - wanted))

    def amount(value: float) -> str:
        return f"{rounded(float(value), 2):g} {unit}"

    return words["release_alt"].format(
        title=title,
        first=day_words(course.starts[0], words),
        last=day_words(course.last_harvest, words),
        most=amount(reach[_TYPICAL].max()),
        peak=amount(wanted[peak]),
        peak_on=day_words(course.starts[peak], words),
        tightest_on=day_words(course.starts[lowest], words),
        tightest=amount(reach[_TYPICAL, lowest]),
    )
