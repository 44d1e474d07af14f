"""Shade cloth over a planting: what trials found, what light it leaves, from when to when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np

from bedwright.climate.record import FloatArray
from bedwright.crops.fruit_set import SetResponse, set_score
from bedwright.garden.model_structure import Structure
from bedwright.light.needs import LightFit, LightNeed, light_fit
from bedwright.planning.layout.frame import BedFrame
from bedwright.planning.light_map import ground_points
from bedwright.planning.summer.heat_days import (
    HeatLimit,
    Stages,
    overlap,
    usual_heat,
)
from bedwright.planning.summer.model import Cloth, Hung, Shade, Trial
from bedwright.planning.timing_model import Spread
from bedwright.planning.weather import GardenWeather
from bedwright.reference import Library, Row
from bedwright.reference.library import figure_of
from bedwright.working import Figure

_YEAR = 365
_CLOTH = "shade_cloth"


@dataclass(frozen=True, eq=False)
class Ground:
    """What a cloth is judged by: the crop's heat, light and set, and when it stands.

    ``light_mol_m2_d`` (12,) is that of the row with the least, without any cloth, January first;
    ``offset`` the planting's day from the season's ``start``.
    """

    crop: str
    relief: bool
    limits: tuple[HeatLimit, ...]
    need: Figure | None
    light_mol_m2_d: FloatArray | None
    responses: Sequence[SetResponse]
    stages: Stages
    offset: int
    start: date


def cloth_for(ground: Ground, weather: GardenWeather, library: Library) -> Cloth:
    """Shade cloth for a planting: per cent and days, or none, and why.

    Parameters
    ----------
    ground : of the planting
    weather : the garden's
    library : the tables

    The thickest cloth is taken at which a trial still gained, none lost, and that leaves the crop
    the light that it wants in the darkest month of its time.
    """
    trials = trials_of(ground.crop, library)
    trigger = _trigger(ground.limits)
    share, period = usual_heat(trigger, weather, library)
    none = Cloth("none", "no_heat", years_share=share, trigger=trigger.limit, need=ground.need,
                 trials=trials)  # fmt: skip
    span = ground.stages.spans["standing"]
    kept = None if period is None else _within(period, span, ground.offset)
    if kept is None:
        return none
    heat = (ground.start + timedelta(days=kept[0]), ground.start + timedelta(days=kept[1]))
    none = replace(none, heat=heat)
    if kept[1] - kept[0] + 1 < measure(library, "least_days", "", "d").value:
        return replace(none, why="short")
    if ground.light_mol_m2_d is None or ground.need is None:
        return replace(none, verdict="unknown", why="no_light_known")
    offered = measure(library, "offered", "", "fraction")
    shades = shades_of(
        (0.0, offered.least, offered.value, offered.most),
        float(ground.light_mol_m2_d[_months(heat)].min()),
        LightNeed(ground.need.least, ground.need.value),
    )
    none = replace(none, shades=shades)
    most, why = _most_shade(trials, relief=ground.relief, lightest=offered.least)
    if most is None:
        return replace(none, why=why)
    fit = [e for e in shades if 0 < e.percent <= most and e.fit == LightFit.ENOUGH.value]
    if not fit:
        return replace(none, why="light")
    percent = max(each.percent for each in fit)
    gain = _gain(ground, kept, weather, library)
    return replace(none, verdict="hang", why=why, percent=percent, gain_days=gain)


def shades_of(
    percents: Sequence[float], open_mol_m2_d: float, need: LightNeed
) -> tuple[Shade, ...]:
    """The light left under cloths of so much shade [-] where the open has so much [mol/m2/d].

    A cloth over all of a row takes its share of beam and sky alike. Raises ValueError for shade
    outside 0 to 1.
    """
    if any(not 0 <= each <= 1 for each in percents):
        raise ValueError(f"shade is {list(percents)}; it must lie between 0 and 1")
    left = [open_mol_m2_d * (1 - each) for each in percents]
    return tuple(
        Shade(each, light, str(fit))
        for each, light, fit in zip(percents, left, light_fit(np.array(left), need), strict=True)
    )


def trials_of(crop: str, library: Library) -> tuple[Trial, ...]:
    """The trials of shade cloth over a crop, those in use first."""
    found = [
        Trial(
            row["trial"],
            row["outcome"],
            row["effect"],  # type: ignore[arg-type]
            figure_of("shade", row, "fraction"),
            row.used,
            row.source,
        )
        for row in library.rows("shade_cloth")
        if crop in row["applies_to"].split()
    ]
    return tuple(sorted(found, key=lambda each: not each.used))


def measure(library: Library, property_: str, condition: str, unit: str) -> Figure:
    """A figure of ``summer_measures.csv`` on shade cloth. Raises LookupError if absent."""
    return figure_of(property_, measure_row(library, _CLOTH, property_, condition), unit)


def measure_row(library: Library, name: str, property_: str, condition: str = "") -> Row:
    """The row of ``summer_measures.csv`` in use, else the one there is; LookupError if none."""
    wanted = (name, property_, condition)
    rows = [
        row
        for row in library.rows("summer_measures")
        if (row["measure"], row["property"], row["condition"]) == wanted
    ]
    for row in sorted(rows, key=lambda each: not each.used):
        return row
    raise LookupError(f"summer_measures.csv holds no {' '.join(wanted).strip()}")


def hung_over(frame: BedFrame, structures: Sequence[Structure]) -> tuple[Hung, ...]:
    """The shade cloths of the document that hang over more than half of a bed."""
    if not frame.placed:
        return ()
    points = ground_points(frame)
    found = []
    for each in structures:
        if each.kind != "shade cloth" or each.outline is None:
            continue
        corners = [(x.si, y.si) for x, y in each.outline]
        if _inside(points, corners).mean() > 0.5:
            found.append(Hung(each.id, 1 - each.openness.si, each.from_day, each.to_day))
    return tuple(found)


def _inside(points: FloatArray, corners: Sequence[tuple[float, float]]) -> FloatArray:
    """Whether points lie within an outline, by the sides crossed on the way east (points,)."""
    crossed = np.zeros(len(points), dtype=np.int64)
    for (x1, y1), (x2, y2) in pairwise([*corners, corners[0]]):
        between = (points[:, 1] < y1) != (points[:, 1] < y2)
        slope = (x2 - x1) / (y2 - y1) if y2 != y1 else 0.0
        crossed += between & (points[:, 0] < x1 + slope * (points[:, 1] - y1))
    return np.asarray(crossed % 2, dtype=np.float64)


def _trigger(limits: Sequence[HeatLimit]) -> HeatLimit:
    """The lowest of a crop's limits that a cloth can act on: by the day's high, else its mean.

    The color of ripening fruit is left out: it asks for earlier picking, not for shade.
    """
    own = [e for e in limits if e.driver in ("max", "mean") and e.stage != "picking"]
    return min(own, key=lambda each: (each.driver != "max", each.limit.value))


def _within(period: tuple[int, int], span: tuple[int, int], offset: int) -> tuple[int, int] | None:
    """The heat that falls into a crop's time, as first and last day after planting."""
    for years in (0, 1):
        first, last = (each + years * _YEAR - offset for each in period)
        begin, end = max(first, span[0]), min(last, span[1] - 1)
        if begin <= end:
            return begin, end
    return None


def _months(heat: tuple[date, date]) -> list[int]:
    """The months that a period touches, 0 to 11, as long as it is not more than a year."""
    days = range((heat[1] - heat[0]).days + 1)
    return sorted({(heat[0] + timedelta(days=each)).month - 1 for each in days})


def _most_shade(
    trials: Sequence[Trial], *, relief: bool, lightest: float
) -> tuple[float | None, str]:
    """The most shade at which trials gained and none lost [-], with the code of the reason."""
    used = [each for each in trials if each.used and each.outcome != "cracking"]
    gains = [each.shade.value for each in used if each.effect == "gain"]
    losses = [each.shade.value for each in used if each.effect == "loss"]
    below = [each for each in gains if each < min(losses, default=2.0)]
    if below:
        return max(below), "trial"
    if relief and not losses:
        return lightest, "habit"
    return None, "trial_loss" if losses else "no_trial"


def _gain(
    ground: Ground, hung: tuple[int, int], weather: GardenWeather, library: Library
) -> Spread | None:
    """Days of good set more by the cooling of the air alone, while the cloth hangs and flowers
    set: typical, and over the cooling's range.
    """
    flowering = ground.stages.spans.get("flowering")
    if not ground.responses or flowering is None:
        return None
    span = overlap(flowering, (hung[0], hung[1] + 1))
    if span is None:
        return None
    cooling = measure(library, "cooling", "net", "K")
    days = weather.days
    begin, end = (weather.firsts + ground.offset + each for each in span)
    whole = (begin >= 0) & (end <= days.t_max_c.size)
    at = begin[whole][:, None] + np.arange(span[1] - span[0])
    high, low = days.t_max_c[at], days.t_min_c[at]
    mean = days.mean_c[at]

    def score(cooler: float) -> float:
        found = set_score(
            ground.responses, np.maximum(high - cooler, low), low, t_mean_c=mean - cooler / 2
        )
        return float(np.nanmean(np.nansum(found, axis=1)))

    open_ = score(0.0)
    gains = [score(each) - open_ for each in (cooling.value, cooling.least, cooling.most)]
    return Spread(gains[0], min(gains[1:]), max(gains[1:]))
