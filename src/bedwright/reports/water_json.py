"""Watering as plain data, in SI units."""

from __future__ import annotations

from typing import Any

from bedwright.planning.watering.garden_water import GardenWater
from bedwright.planning.watering.schedule import ZoneMonth
from bedwright.planning.watering.stand_water import StandWater
from bedwright.planning.watering.today import Today
from bedwright.planning.watering.years import Spread
from bedwright.reports.figures_json import (
    figure_dict,
    figure_or_null,
    finding_dict,
    number_or_null,
    rounded,
)


def water_dict(water: GardenWater) -> dict[str, Any]:
    """The day's water, the season of each planting and the salt over years; keys name units."""
    return {
        "on": water.on.isoformat(),
        "today": None if water.today is None else _today(water.today),
        "zones": [
            {"zone": zone, "months": [_month(each) for each in water.schedule if each.zone == zone]}
            for zone in sorted({each.zone for each in water.schedule})
        ],
        "plantings": [_stand(each) for each in water.stands],
        "salt": [
            {
                "bed": each.bed,
                "want": each.want,
                "start": figure_dict(each.start),
                "with_leaching_ds_m": [rounded(float(one)) for one in each.with_leaching],
                "without_leaching_ds_m": [rounded(float(one)) for one in each.without],
                "yield_with_percent": number_or_null(each.yield_with),
                "yield_without_percent": number_or_null(each.yield_without),
                "water_more_m": rounded(each.water_more_m),
            }
            for each in water.salt
        ],
        "gross_m3": rounded(water.gross_m3),
        "cost": number_or_null(water.cost),
        "findings": [finding_dict(each) for each in water.findings],
    }


def _month(each: ZoneMonth) -> dict[str, Any]:
    return {
        "month": each.first.isoformat()[:7],
        "runs_a_week": each.runs,
        "minutes": number_or_null(each.minutes),
        "hot_day_minutes": number_or_null(each.hot_minutes),
    }


def _today(today: Today) -> dict[str, Any]:
    return {
        "t_max_c": rounded(today.t_max_c),
        "hot": today.hot,
        "zones": [
            {
                "zone": zone.zone,
                "minutes": number_or_null(zone.minutes),
                "why": zone.why,
                "next_run_days": zone.next_run,
                "runs_a_week": zone.runs,
                "run_minutes": number_or_null(zone.run_minutes),
                "weekdays": list(zone.days),
                "beds": [
                    {
                        "bed": bed.bed,
                        "crop": bed.crop,
                        "lack_m": rounded(bed.lack_m),
                        "ready_m": rounded(bed.ready_m),
                        "et0_m": rounded(bed.et0_m),
                        "rain_m": rounded(bed.rain_m),
                        "net_m": rounded(bed.net_m),
                        "minutes": figure_or_null(bed.minutes),
                        "days_off": bed.days_off,
                        "felt_on": None if bed.felt is None else bed.felt.on.isoformat(),
                        "hot_day_minutes": number_or_null(bed.hot_day_minutes),
                    }
                    for bed in zone.beds
                ],
            }
            for zone in today.zones
        ],
        "runs": [
            {"zone": run.zone, "weekday": run.day, "start_min": rounded(run.start_min),
             "end_min": rounded(run.end_min)}
            for run in today.runs
        ],
        "today": [
            {"zone": run.zone, "start_min": rounded(run.start_min), "end_min": rounded(run.end_min)}
            for run in today.today
        ],
        "short": [
            {"zone": each.zone, "flow_l_h": rounded(each.flow_l_h),
             "minutes": rounded(each.minutes), "run_minutes": rounded(each.run_minutes)}
            for each in today.short
        ],
    }  # fmt: skip


def _stand(each: StandWater) -> dict[str, Any]:
    years = each.years
    weeks = None
    if each.weeks is not None:
        weeks = [
            {"net_m": rounded(float(net)), "runs": int(runs), "minutes": rounded(float(minutes))}
            for net, runs, minutes in zip(
                each.weeks.net_m[:, 0], each.weeks.runs[:, 0], each.weeks.minutes[:, 0], strict=True
            )
        ]
    return {
        "bed": each.stand.bed,
        "want": each.stand.want,
        "crop": each.stand.crop,
        "companion": None if each.stand.companion is None else each.stand.companion.crop,
        "mulch": None if each.stand.mulch is None else each.stand.mulch.of,
        "zone": each.zone,
        "lines": None if each.lines is None else each.lines.count,
        "start": each.stand.start.isoformat(),
        "days": each.stand.days,
        "longest_gap_days": int(years.gap_days.max()),
        "leaching_share": rounded(each.leaching.share),
        "leaching_limit": figure_or_null(each.leaching.limit),
        "irrigation_m": _spread(years.irrigation),
        "rain_m": _spread(years.rain),
        "transpiration_m": _spread(years.transpiration),
        "evaporation_m": _spread(years.evaporation),
        "drainage_m": _spread(years.drainage),
        "drained_by_week_m": [rounded(float(one)) for one in years.drained_m[1]],
        "stressed_days": rounded(years.stressed_days),
        "gross_m3": rounded(each.gross_m3),
        "nitrogen_kg_m2": number_or_null(each.nitrogen_kg_m2),
        "week_leaches": rounded(each.week_leaches),
        "fill_m": rounded(each.fill_m),
        "fill_minutes": number_or_null(each.fill_minutes),
        "leach_first_m": rounded(each.leach_first_m),
        "leach_first_minutes": number_or_null(each.leach_first_minutes),
        "germination": None if each.germination is None else {
            "runs_a_day": each.germination[0], "minutes": number_or_null(each.germination[1]),
            "days": each.stand.emergence,
        },
        "months": [
            {"from": month.first.isoformat(), "to": month.last.isoformat(),
             "runs_a_week": month.runs, "net_m": rounded(month.net_m),
             "minutes": number_or_null(month.minutes),
             "zone_minutes": number_or_null(month.zone_minutes),
             "hot_day_minutes": number_or_null(month.hot_minutes),
             "zone_hot_day_minutes": number_or_null(month.zone_hot_minutes),
             "use_m": rounded(month.use_m), "ready_m": rounded(month.ready_m)}
            for month in each.months
        ],
        "weeks": weeks,
    }  # fmt: skip


def _spread(each: Spread) -> dict[str, float]:
    return {"mean": rounded(each.mean), "low": rounded(each.low), "high": rounded(each.high)}
