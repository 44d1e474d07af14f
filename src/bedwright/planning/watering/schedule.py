"""The season's schedule: runs a week and minutes a run, month by month, of each zone and bed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from bedwright.planning.watering.lines import BedLines, bed_minutes
from bedwright.planning.watering.stand import Stand
from bedwright.planning.watering.stand_water import BedMonth, StandWater
from bedwright.planning.watering.weather_days import WaterWeather, warmth_ratio
from bedwright.planning.watering.years import StandYears
from bedwright.water.irrigation import runs_per_week

WAVE_C = 40.0  # the day that the rule for a heat wave is told for
_WEEK = 7
_MOST_RUNS = 7  # a week: zones run once a day at most


@dataclass(frozen=True)
class ZoneMonth:
    """A zone's runs in a month: ``runs`` a week, ``minutes`` of each as its longest bed needs,
    ``hot_minutes`` of the one run a day in a heat wave. None where the lines' flow is not known.
    """

    zone: str
    first: date
    runs: int
    minutes: float | None
    hot_minutes: float | None


@dataclass(frozen=True, eq=False)
class _Part:
    """A planting's days in a month, and what it needs in a usual week of them [m]."""

    of: StandWater
    first: date
    last: date
    need_m: float
    own_runs: int
    use_m: float
    ready_m: float
    hot_minutes: float | None


def scheduled(
    stands: Sequence[StandWater], weather: WaterWeather
) -> tuple[list[StandWater], tuple[ZoneMonth, ...]]:
    """The plantings with their months, and the months of their zones.

    Parameters
    ----------
    stands : all plantings of the garden
    weather : of the garden

    One valve waters all beds of a zone: it runs as often as the one that needs it most often, and
    each bed's minutes are those that bring its week's need in so many runs.
    """
    parts: dict[tuple[str, date], list[_Part]] = {}
    for each in stands:
        for part in _parts(each, weather):
            # a bed of no zone has a rhythm of its own
            zone = each.zone if each.zone is not None else f"\0{each.stand.bed}"
            parts.setdefault((zone, part.first.replace(day=1)), []).append(part)
    months: dict[tuple[str, int], list[BedMonth]] = {}
    zones = []
    for (zone, first), found in sorted(parts.items()):
        runs = min(max(each.own_runs for each in found), _MOST_RUNS)
        nets = [each.need_m / runs if runs else 0.0 for each in found]
        minutes = [_minutes(net, each.of) for net, each in zip(nets, found, strict=True)]
        longest, hot = _most(minutes), _most([each.hot_minutes for each in found])
        if not zone.startswith("\0"):
            zones.append(ZoneMonth(zone, first, runs, longest, hot))
        for net, own, one in zip(nets, minutes, found, strict=True):
            month = BedMonth(one.first, one.last, runs, net, own, longest, one.hot_minutes, hot,
                             one.use_m, one.ready_m)  # fmt: skip
            key = (one.of.stand.bed, one.of.stand.want)
            months.setdefault(key, []).append(month)
    made = [
        replace(each, months=tuple(sorted(months.get((each.stand.bed, each.stand.want), []),
                                          key=lambda month: month.first)))
        for each in stands
    ]  # fmt: skip
    return made, tuple(zones)


def hot_minutes(
    stand: Stand,
    years: StandYears,
    day: int,
    weather: WaterWeather,
    lines: BedLines | None,
    leaching_share: float,
) -> float | None:
    """Minutes of a bed's lines on a day of a heat wave, for that day's use alone.

    Parameters
    ----------
    stand, years : the planting
    day : of its season, from 0
    weather : of the garden
    lines : of the bed, None where not known
    leaching_share : of the water applied that is to drain [-]
    """
    if lines is None:
        return None
    record, places = weather.record, years.places[day]
    usual = float(record.t_max_c[places].mean()), float(record.t_min_c[places].mean())
    on = stand.start + timedelta(days=day)
    ratio = warmth_ratio(weather, on, (max(WAVE_C, usual[0]), usual[1]), usual)
    return bed_minutes(float(years.use_m[day]) * ratio, lines, leaching_share).value


def _parts(each: StandWater, weather: WaterWeather) -> list[_Part]:
    stand, years = each.stand, each.years
    found = []
    day = 0
    while day < stand.days:
        first = stand.start + timedelta(days=day)
        turn = (first.replace(day=1) + timedelta(days=32)).replace(day=1)
        end = min(stand.days, (turn - stand.start).days)
        part = slice(day, end)
        need = float(years.need_m[part].mean()) * _WEEK
        runs = runs_per_week(need, float(years.ready_m[part].min()),
                             float(years.gap_days[part].min()))  # fmt: skip
        peak = day + int(years.use_m[part].argmax())
        hot = hot_minutes(stand, years, peak, weather, each.lines, each.leaching.share)
        found.append(_Part(each, first, stand.start + timedelta(days=end - 1), need, int(runs),
                           float(years.use_m[part].mean()), float(years.ready_m[part].min()),
                           hot))  # fmt: skip
        day = end
    return found


def _minutes(net_m: float, each: StandWater) -> float | None:
    if each.lines is None:
        return None
    return bed_minutes(net_m, each.lines, each.leaching.share).value


def _most(values: Sequence[float | None]) -> float | None:
    return max((each for each in values if each is not None), default=None)
