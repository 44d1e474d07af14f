"""The summer as plain data, in SI units and degrees Celsius, with the schema it satisfies."""

from __future__ import annotations

from typing import Any

from bedwright.planning.summer.model import Cloth, HeatDays, Hung, PlantingSummer, Summer
from bedwright.planning.summer.people import CLASSES, WorkDay
from bedwright.planning.timing_model import Spread
from bedwright.reports.figures_json import (
    day_or_null,
    figure_dict,
    figure_or_null,
    finding_dict,
    number_or_null,
    rounded,
)
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

_FINDINGS = listed({"$ref": "#/$defs/finding"})


def summer_dict(summer: Summer) -> dict[str, Any]:
    """The summer of every planting, the people's work by month, mulch, wind, findings."""
    mulch, wind, water = summer.mulch, summer.wind, summer.drinking
    return {
        "plantings": [_planting(each) for each in summer.plantings],
        "work": [
            {"month": each.month, "usual": _day(each.usual), "hot": _day(each.hot)}
            for each in summer.work
        ],
        "drinking": {
            "cup": figure_dict(water.cup),
            "every_min": figure_dict(water.every_min),
            "most_an_hour": figure_dict(water.most_an_hour),
            "most_a_day": figure_dict(water.most_a_day),
            "new_worker_shares": [rounded(each) for each in water.new_worker],
            "returning_shares": [rounded(each) for each in water.returning],
        },
        "mulch": {
            "from": day_or_null(mulch.from_day),
            "thickness": figure_dict(mulch.thickness),
            "evaporation_saved": [figure_dict(each) for each in mulch.evaporation_saved],
        },
        "wind": {
            "set_out": figure_dict(wind.set_out),
            "hang": figure_dict(wind.hang),
            "take_down": figure_dict(wind.take_down),
            "windy_days": None
            if wind.windy_days is None
            else [rounded(each) for each in wind.windy_days],
        },
        "findings": [finding_dict(each) for each in summer.findings],
    }


def summer_schema() -> dict[str, Any]:
    """The schema of :func:`summer_dict` within that of the plan."""
    spread = table(mean=NUMBER, low=NUMBER, high=NUMBER)
    hour = table(
        sun_hour={"type": "integer"}, air_c=NUMBER, wbgt_c=NUMBER, adjusted_c=NUMBER_OR_NULL,
        minutes=_by_class(), new_minutes=_by_class(),
    )  # fmt: skip
    day = table(t_max_c=NUMBER, t_min_c=NUMBER, humidity_percent=NUMBER_OR_NULL, wind_m_s=NUMBER,
                heat_index_c=NUMBER_OR_NULL, hours=listed(hour))  # fmt: skip
    heat = table(harm=TEXT, stage=TEXT, driver=TEXT, limit_c=FIGURE, days=spread,
                 span_days={"type": "integer"}, years={"type": "integer"},
                 under_cloth=NUMBER_OR_NULL)  # fmt: skip
    cloth = table(
        verdict={"enum": ["hang", "none", "unknown"]}, why=TEXT, shade=NUMBER,
        heat_from=TEXT_OR_NULL, heat_to=TEXT_OR_NULL, years_share=NUMBER,
        trigger_c=or_null(FIGURE), light_need=or_null(FIGURE), gain_days=or_null(spread),
        shades=listed(table(shade=NUMBER, light_mol_m2_d=NUMBER,
                            fit={"enum": ["enough", "thin", "dark"]})),
        trials=listed(table(trial=TEXT, outcome=TEXT, effect={"enum": ["gain", "same", "loss"]},
                            shade=FIGURE, used={"type": "boolean"})),
    )  # fmt: skip
    hung = table(structure=TEXT, shade=NUMBER, from_day=TEXT_OR_NULL, to_day=TEXT_OR_NULL)
    planting = table(
        bed=TEXT, want={"type": "integer"}, crop=TEXT, start=TEXT, end=TEXT,
        relief={"type": "boolean"}, heat=listed(heat), cloth=cloth, hung=listed(hung), pick=TEXT,
        findings=_FINDINGS,
    )  # fmt: skip
    return table(
        plantings=listed(planting),
        work=listed(table(month={"type": "integer"}, usual=day, hot=day)),
        drinking=table(cup=FIGURE, every_min=FIGURE, most_an_hour=FIGURE, most_a_day=FIGURE,
                       new_worker_shares=listed(NUMBER), returning_shares=listed(NUMBER)),
        mulch=table(**{"from": TEXT_OR_NULL, "thickness": FIGURE,
                       "evaporation_saved": listed(FIGURE)}),
        wind=table(set_out=FIGURE, hang=FIGURE, take_down=FIGURE,
                   windy_days=or_null(listed(NUMBER))),
        findings=_FINDINGS,
    )  # fmt: skip


def _by_class() -> dict[str, Any]:
    return table(**dict.fromkeys(CLASSES, NUMBER))


def _planting(each: PlantingSummer) -> dict[str, Any]:
    return {
        "bed": each.bed,
        "want": each.want,
        "crop": each.crop,
        "start": each.start.isoformat(),
        "end": each.end.isoformat(),
        "relief": each.relief,
        "heat": [_heat(one) for one in each.heat],
        "cloth": _cloth(each.cloth),
        "hung": [_hung(one) for one in each.hung],
        "pick": each.pick,
        "findings": [finding_dict(one) for one in each.findings],
    }


def _heat(each: HeatDays) -> dict[str, Any]:
    return {
        "harm": each.harm,
        "stage": each.stage,
        "driver": each.driver,
        "limit_c": figure_dict(each.limit),
        "days": _spread(each.days),
        "span_days": each.span_days,
        "years": each.years,
        "under_cloth": number_or_null(each.under_cloth),
    }


def _cloth(each: Cloth) -> dict[str, Any]:
    first, last = (None, None) if each.heat is None else each.heat
    return {
        "verdict": each.verdict,
        "why": each.why,
        "shade": rounded(each.percent),
        "heat_from": day_or_null(first),
        "heat_to": day_or_null(last),
        "years_share": rounded(each.years_share),
        "trigger_c": figure_or_null(each.trigger),
        "light_need": figure_or_null(each.need),
        "gain_days": None if each.gain_days is None else _spread(each.gain_days),
        "shades": [
            {"shade": rounded(one.percent), "light_mol_m2_d": rounded(one.light_mol_m2_d),
             "fit": one.fit}
            for one in each.shades
        ],
        "trials": [
            {"trial": one.trial, "outcome": one.outcome, "effect": one.effect,
             "shade": figure_dict(one.shade), "used": one.used}
            for one in each.trials
        ],
    }  # fmt: skip


def _hung(each: Hung) -> dict[str, Any]:
    days = (None if d is None else f"{d[0]:02d}-{d[1]:02d}" for d in (each.from_day, each.to_day))
    first, last = days
    return {"structure": each.structure, "shade": rounded(each.percent), "from_day": first,
            "to_day": last}  # fmt: skip


def _day(day: WorkDay) -> dict[str, Any]:
    return {
        "t_max_c": rounded(day.t_max_c),
        "t_min_c": rounded(day.t_min_c),
        "humidity_percent": number_or_null(day.humidity_percent),
        "wind_m_s": rounded(day.wind_m_s),
        "heat_index_c": number_or_null(day.index_c),
        "hours": [
            {
                "sun_hour": each.hour,
                "air_c": rounded(each.air_c),
                "wbgt_c": rounded(each.wbgt_c),
                "adjusted_c": number_or_null(each.adjusted_c),
                "minutes": dict(zip(CLASSES, each.minutes, strict=True)),
                "new_minutes": dict(zip(CLASSES, each.new_minutes, strict=True)),
            }
            for each in day.hours
        ],
    }


def _spread(each: Spread) -> dict[str, float]:
    return {"mean": rounded(each.mean), "low": rounded(each.low), "high": rounded(each.high)}
