"""A planting's water through its season in few words: for the plan and for the bed's sheet."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.language import named
from bedwright.planning.watering.garden_water import GardenWater
from bedwright.planning.watering.salt_years import Leaching
from bedwright.planning.watering.schedule import WAVE_C, ZoneMonth
from bedwright.planning.watering.stand_water import BedMonth, StandWater
from bedwright.reports.water_said import (
    count_days,
    count_runs,
    depth_words,
    minutes_words,
    share_words,
    volume_words,
)
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_water import WATER, WATER_PLAN
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_ZERO_CELSIUS_K = 273.15
_RAIN_M = {UnitSystem.US: 0.0127, UnitSystem.METRIC: 0.012}  # the rule after rain is for this
_ALIKE = 0.1  # share by which a zone's minutes may exceed a bed's before both are told
_WEEK = 7


@dataclass(frozen=True)
class MonthTold:
    """One month's line: ``each`` is the minutes of a run, or its depth where no flow is known;
    ``zone`` the minutes of the whole zone, empty where they are never more; ``longer`` tells that
    they are in this month.
    """

    month: str
    runs: str
    each: str
    zone: str
    longer: bool


def leaching_words(leaching: Leaching) -> str | None:
    """What share of the water is to drain, and what that keeps; None where none is."""
    limit = leaching.limit
    if leaching.share <= 0 or limit is None:
        return None
    kept = next(each for each in limit.inputs if each.name == "yield_kept")
    return WATER["leaching"].format(
        share=share_words(leaching.share), limit=f"{plain(limit.value, 2)} dS/m",
        kept=share_words(kept.value / 100),
    )  # fmt: skip


def months_told(stand: StandWater, system: UnitSystem) -> tuple[MonthTold, ...]:
    """The months of a planting that need any run, whole minutes as a timer is set."""
    apart = any(_longer(each) for each in stand.months)
    return tuple(
        MonthTold(
            CHART_WORDS[f"month_{each.first.month}"],
            str(each.runs),
            depth_words(each.net_m, system) if each.minutes is None else _whole(each.minutes),
            _whole(each.zone_minutes) if apart and each.zone_minutes is not None else "",
            _longer(each),
        )
        for each in stand.months
        if each.runs > 0
    )


def _whole(minutes: float) -> str:
    return str(max(1, round(minutes)))


def _longer(each: BedMonth) -> bool:
    """Whether the zone runs longer than the bed needs, by more than is worth a line."""
    own, zone = each.minutes, each.zone_minutes
    return own is not None and zone is not None and own < (1 - _ALIKE) * zone


def rules_told(stand: StandWater, system: UnitSystem) -> tuple[str, ...]:
    """What holds on hot days and after rain."""
    told = []
    hot = [each.zone_hot_minutes for each in stand.months if each.zone_hot_minutes is not None]
    if hot:
        wave = show(WAVE_C + _ZERO_CELSIUS_K, "temperature", system)
        told.append(WATER_PLAN["heat"].format(wave=wave, minutes=minutes_words(max(hot))))
    rain = _RAIN_M[system]
    off = [int(min(rain, each.ready_m) / each.use_m) for each in stand.months if each.use_m > 0]
    off = [min(each, _WEEK) for each in off]
    if off and max(off) >= 1:
        told.append(WATER_PLAN["rain" if min(off) < max(off) else "rain_one"].format(
            rain=depth_words(rain, system), least=min(off), days=count_days(max(off)),
        ))  # fmt: skip
    return tuple(told)


def before_told(stand: StandWater, system: UnitSystem) -> tuple[str, ...]:
    """What is watered before planting, and until seed is up."""
    told = []
    minutes = ""
    if stand.fill_minutes is not None:
        minutes = WATER["fill_minutes"].format(minutes=minutes_words(stand.fill_minutes))
    told.append(WATER_PLAN["fill"].format(
        depth=depth_words(stand.fill_m, system), minutes=minutes,
        share=share_words(stand.left.value),
    ))  # fmt: skip
    if stand.leach_first_m > 0:
        took = ""
        if stand.leach_first_minutes is not None:
            took = WATER["fill_minutes"].format(minutes=minutes_words(stand.leach_first_minutes))
        told.append(WATER_PLAN["leach_first"].format(
            depth=depth_words(stand.leach_first_m, system), minutes=took,
        ))  # fmt: skip
    if stand.germination is not None:
        runs, length = stand.germination
        took = ""
        if length is not None:
            took = WATER["fill_minutes"].format(minutes=minutes_words(length))
        told.append(WATER_PLAN["germination"].format(
            days=count_days(stand.stand.emergence), runs=count_runs(runs), minutes=took,
        ))  # fmt: skip
    return tuple(told)


def bed_water_lines(stand: StandWater, system: UnitSystem) -> list[str]:
    """A planting's water for its part of the plan, as sentences."""
    months = months_told(stand, system)
    parts = [
        WATER_PLAN["month_of_zone" if each.longer else "month"].format(
            month=each.month, runs=each.runs, each=each.each, zone=each.zone
        )
        for each in months
    ]
    head = "runs_minutes" if stand.lines is not None else "runs_depth"
    told = WATER_PLAN[head].format(months="; ".join(parts))
    if stand.lines is not None:
        lines = WATER_PLAN["line" if stand.lines.count == 1 else "lines"]
        told = lines.format(count=stand.lines.count, zone=stand.lines.zone) + " " + told
    years = stand.years
    season = WATER_PLAN["season"].format(
        total=depth_words(years.irrigation.mean, system),
        low=depth_words(years.irrigation.low, system),
        high=depth_words(years.irrigation.high, system),
        volume=volume_words(stand.gross_m3, system),
    )  # fmt: skip
    if (drains := leaching_words(stand.leaching)) is not None:
        season += f" {drains}"
    found = [told, season, *rules_told(stand, system), *before_told(stand, system)]
    if stand.stand.companion is not None:
        found.insert(1, WATER_PLAN["shared"].format(crop=named(stand.stand.companion.name).lower()))
    if stand.stand.mulch is not None:
        found.insert(1, WATER_PLAN["mulched"].format(mulch=named(stand.stand.mulch.of)))
    return found


def zone_months(water: GardenWater) -> dict[str, list[ZoneMonth]]:
    """The months in which each zone runs, in the year that begins with the first planting.

    What a crop of two years asks of its second summer is left out: the other beds of that year
    are not known.
    """
    first = min((each.first for each in water.schedule), default=None)
    if first is None:
        return {}
    end = first.replace(year=first.year + 1)
    return {
        zone: [
            each
            for each in water.schedule
            if each.zone == zone and each.runs > 0 and each.first < end
        ]
        for zone in sorted({each.zone for each in water.schedule})
    }


def zone_lines_told(water: GardenWater) -> list[str]:
    """Each zone's minutes through the year, as its longest bed needs them."""
    found = []
    for zone, months in zone_months(water).items():
        parts = [
            WATER_PLAN["month"].format(
                month=CHART_WORDS[f"month_{each.first.month}"], runs=each.runs,
                each=_whole(each.minutes),
            )
            for each in months
            if each.minutes is not None
        ]  # fmt: skip
        if parts:
            found.append(WATER_PLAN["zone"].format(zone=zone, months="; ".join(parts)))
    return found
