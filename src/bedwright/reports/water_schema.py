"""The JSON Schema of watering: of its own page, and within the season plan."""

from __future__ import annotations

from typing import Any

from bedwright.reports.schema_parts import (
    FIGURE,
    NUMBER,
    NUMBER_OR_NULL,
    TEXT,
    TEXT_OR_NULL,
    listed,
    or_null,
    table,
)

_WHOLE: dict[str, Any] = {"type": "integer"}
_SPREAD = table(mean=NUMBER, low=NUMBER, high=NUMBER)


def water_schema() -> dict[str, Any]:
    """What :func:`bedwright.reports.water_json.water_dict` gives; its parts are the plan's."""
    return table(
        on=TEXT,
        today=or_null(_today()),
        zones=listed(table(zone=TEXT, months=listed(
            table(month=TEXT, runs_a_week=_WHOLE, minutes=NUMBER_OR_NULL,
                  hot_day_minutes=NUMBER_OR_NULL)))),
        plantings=listed(_stand()),
        salt=listed(table(
            bed=TEXT, want=_WHOLE, start=FIGURE, with_leaching_ds_m=listed(NUMBER),
            without_leaching_ds_m=listed(NUMBER), yield_with_percent=NUMBER_OR_NULL,
            yield_without_percent=NUMBER_OR_NULL, water_more_m=NUMBER)),
        gross_m3=NUMBER,
        cost=NUMBER_OR_NULL,
        findings=listed({"$ref": "#/$defs/finding"}),
    )  # fmt: skip


def _today() -> dict[str, Any]:
    bed = table(
        bed=TEXT, crop=TEXT, lack_m=NUMBER, ready_m=NUMBER, et0_m=NUMBER, rain_m=NUMBER,
        net_m=NUMBER, minutes=or_null(FIGURE), days_off=_WHOLE, felt_on=TEXT_OR_NULL,
        hot_day_minutes=NUMBER_OR_NULL,
    )  # fmt: skip
    return table(
        t_max_c=NUMBER, hot={"type": "boolean"},
        zones=listed(table(
            zone=TEXT, minutes=NUMBER_OR_NULL, why=TEXT,
            next_run_days={"type": ["integer", "null"]}, runs_a_week=_WHOLE,
            run_minutes=NUMBER_OR_NULL, weekdays=listed(_WHOLE), beds=listed(bed))),
        runs=listed(table(zone=TEXT, weekday=_WHOLE, start_min=NUMBER, end_min=NUMBER)),
        today=listed(table(zone=TEXT, start_min=NUMBER, end_min=NUMBER)),
        short=listed(table(zone=TEXT, flow_l_h=NUMBER, minutes=NUMBER, run_minutes=NUMBER)),
    )  # fmt: skip


def _stand() -> dict[str, Any]:
    month = table(**{
        "from": TEXT, "to": TEXT, "runs_a_week": _WHOLE, "net_m": NUMBER,
        "minutes": NUMBER_OR_NULL, "zone_minutes": NUMBER_OR_NULL,
        "hot_day_minutes": NUMBER_OR_NULL, "zone_hot_day_minutes": NUMBER_OR_NULL,
        "use_m": NUMBER, "ready_m": NUMBER,
    })  # fmt: skip
    germination = table(runs_a_day=_WHOLE, minutes=NUMBER_OR_NULL, days=_WHOLE)
    return table(
        bed=TEXT, want=_WHOLE, crop=TEXT, companion=TEXT_OR_NULL, mulch=TEXT_OR_NULL,
        zone=TEXT_OR_NULL, lines=NUMBER_OR_NULL, start=TEXT, days=_WHOLE,
        longest_gap_days=_WHOLE, leaching_share=NUMBER, leaching_limit=or_null(FIGURE),
        irrigation_m=_SPREAD, rain_m=_SPREAD, transpiration_m=_SPREAD, evaporation_m=_SPREAD,
        drainage_m=_SPREAD, drained_by_week_m=listed(NUMBER), stressed_days=NUMBER,
        gross_m3=NUMBER, nitrogen_kg_m2=NUMBER_OR_NULL, week_leaches=NUMBER, fill_m=NUMBER,
        fill_minutes=NUMBER_OR_NULL, leach_first_m=NUMBER, leach_first_minutes=NUMBER_OR_NULL,
        germination=or_null(germination), months=listed(month),
        weeks=or_null(listed(table(net_m=NUMBER, runs=_WHOLE, minutes=NUMBER))),
    )  # fmt: skip
