"""Days of harm by heat in the time of a crop, year by year of the record."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.climate.heat_odds import heat_days as heat_of_seasons
from bedwright.climate.record import FloatArray
from bedwright.crops.stages import running_total, sum_between
from bedwright.planning.summer.model import HeatDays
from bedwright.planning.timing_model import DateOutlook, Spread
from bedwright.planning.weather import GardenWeather
from bedwright.reference import Library, Row
from bedwright.units import to_si
from bedwright.working import Figure

ANY_CROP = "any_crop"
_SAME_C = 1e-6  # K: below this two temperatures are one, whatever unit they came in
_LOW, _HIGH = 0.1, 0.9  # one year in ten on either side
_ZERO_C = to_si(0.0, "degC", "temperature")
_MISSING = 5  # days without a record where the heat may have hidden leave a season out: judgement


@dataclass(frozen=True)
class Stages:
    """Parts of a crop's time as days after planting, each from and to (the day after it)."""

    spans: dict[str, tuple[int, int]]

    @staticmethod
    def of(planned: DateOutlook, fruit_days: float) -> Stages:
        """The stages of a planting by its usual dates; those that it lacks are left out."""
        first = None if planned.first_harvest is None else round(planned.first_harvest.mean)
        last = None if planned.last_harvest is None else round(planned.last_harvest.mean)
        flower = None if planned.first_flower is None else round(planned.first_flower.mean)
        spans = {}
        if last is not None:
            spans["standing"] = (0, last + 1)
            if first is not None:
                spans["picking"] = (first, last + 1)
                spans["heading"] = (first // 2, last + 1)
            if flower is not None:
                spans["fruiting"] = (flower, last + 1)
                set_ends = max(last - round(fruit_days), flower)
                spans["flowering"] = (flower, set_ends + 1)
        return Stages(spans)


@dataclass(frozen=True)
class HeatLimit:
    """A limit of ``crop_heat.csv`` in degrees Celsius."""

    harm: str
    stage: str
    driver: str
    limit: Figure


def limits_of(crop: str, library: Library) -> tuple[HeatLimit, ...]:
    """The limits of heat in use for a crop.

    That of any crop is added where it has none by the day's high or mean, which a cloth acts on.
    """
    rows = [row for row in library.rows("crop_heat") if row.used]
    own = [row for row in rows if row["crop"] == crop]
    if not any(row["driver"] in ("max", "mean") and row["stage"] != "picking" for row in own):
        own += [row for row in rows if row["crop"] == ANY_CROP]
    return tuple(HeatLimit(row["harm"], row["stage"], row["driver"], _limit(row)) for row in own)


def _limit(row: Row) -> Figure:
    """A limit [C] with its range; of a range without a typical figure the low end counts."""
    ends = [
        None if (value := row.number(each)) is None else to_si(value, row["unit"], "temperature")
        for each in ("low", "typical", "high")
    ]
    low, typical, high = (None if each is None else each - _ZERO_C for each in ends)
    value = typical if typical is not None else low if low is not None else high
    assert value is not None
    return Figure(row["harm"], value, "degC", "table", low=low, high=high, sources=(row.source,))


def is_hot(
    limit: HeatLimit, weather: GardenWeather, skin_k: float, cooler_k: float = 0.0
) -> NDArray[np.bool_]:
    """Whether each day of the record is above a limit, (days,); a missing day is not.

    Parameters
    ----------
    limit : with its driver
    weather : the garden's
    skin_k : of sunlit skin over the air [K]
    cooler_k : by which a cloth lowers the day's high [K]; a mean goes down by half of it
    """
    days = weather.days
    high = days.t_max_c - cooler_k
    series = {
        "max": high,
        "min": days.t_min_c,
        "mean": days.mean_c - cooler_k / 2,
        "skin": high + skin_k,
    }
    with np.errstate(invalid="ignore"):
        return np.asarray(series[limit.driver] > limit.limit.value + _SAME_C)


def days_in(
    hot: NDArray[np.bool_], span: tuple[int, int], offset: int, weather: GardenWeather
) -> FloatArray:
    """Days of a kind within a span of a planting, by year of the record (years,).

    Parameters
    ----------
    hot : whether each day of the record is of the kind
    span : days after planting, from and to
    offset : the planting [days from a season's start]
    weather : the garden's

    Years that the record does not hold whole are left out.
    """
    begin, end = (weather.firsts + offset + each for each in span)
    known = np.isfinite(weather.days.t_max_c) & np.isfinite(weather.days.t_min_c)
    whole = (begin >= 0) & (end <= hot.size)
    gaps = sum_between(running_total(~known), np.where(whole, begin, 0), np.where(whole, end, 0))
    kept = whole & (gaps == 0)
    if not kept.any():
        return np.empty(0)
    return np.asarray(sum_between(running_total(hot), begin[kept], end[kept]), dtype=np.float64)


def counted(
    limits: Sequence[HeatLimit],
    stages: Stages,
    offset: int,
    weather: GardenWeather,
    skin_k: float,
    cloth: tuple[float, tuple[int, int]] | None,
) -> tuple[HeatDays, ...]:
    """The heat days of a planting by each limit of its crop.

    Parameters
    ----------
    limits : of the crop
    stages : of the planting
    offset : the planting [days from a season's start]
    weather : the garden's
    skin_k : of sunlit skin over the air [K]
    cloth : what it takes off the day's high [K], and the days after planting for which it hangs,
        from and to; None where none is advised
    """
    found = []
    for each in limits:
        span = stages.spans.get(each.stage)
        if span is None:
            continue
        hot = is_hot(each, weather, skin_k)
        days = days_in(hot, span, offset, weather)
        if not days.size:
            continue
        hung = None if cloth is None else overlap(span, cloth[1])
        under = None
        if cloth is not None and hung is not None and each.driver in ("max", "mean"):
            shaded = is_hot(each, weather, skin_k, cloth[0])
            saved = days_in(hot, hung, offset, weather) - days_in(shaded, hung, offset, weather)
            under = float(days.mean() - saved.mean())
        low, high = np.quantile(days, [_LOW, _HIGH])
        found.append(
            HeatDays(
                each.harm, each.stage, each.driver, each.limit,
                Spread(float(days.mean()), float(low), float(high)),
                span[1] - span[0], int(days.size), under,
            )
        )  # fmt: skip
    return tuple(found)


def overlap(one: tuple[int, int], other: tuple[int, int]) -> tuple[int, int] | None:
    """The days, from and to, that lie in both spans; None where there are none."""
    begin, end = max(one[0], other[0]), min(one[1], other[1])
    return (begin, end) if begin < end else None


def usual_heat(
    limit: HeatLimit, weather: GardenWeather, library: Library
) -> tuple[float, tuple[int, int] | None]:
    """The share of years in which lasting heat comes, and its usual first and last day.

    Parameters
    ----------
    limit : by the day's maximum or mean
    weather : the garden's
    library : the tables, for how many days make lasting heat

    The days are medians from a season's start; None where heat comes in less than half of the
    years.
    """
    days = weather.days
    table = weather.by_season(days.mean_c if limit.driver == "mean" else days.t_max_c)
    table = table[np.isfinite(table).any(axis=1)]
    if not len(table):
        return 0.0, None
    hot, window = (
        round(library.parameter(f"heat_entry_{each}", "day").value) for each in ("days", "window")
    )
    found = heat_of_seasons(
        table, limit.limit.value, days=hot, window=window, missing_allowed=_MISSING
    )
    known = found.first_known & found.last_known
    if not known.any():
        return 0.0, None
    first, last = found.first[known], found.last[known]
    share = float(np.isfinite(first).mean())
    if share < 0.5:
        return share, None
    return share, (round(float(np.nanmedian(first))), round(float(np.nanmedian(last))))
