"""The summer ahead of a garden: what the heat does to each planting, and what can be done."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from bedwright.climate.record import FloatArray
from bedwright.crops.timing_tables import TimingTables
from bedwright.garden import Document
from bedwright.garden.model_structure import stands_on
from bedwright.light.needs import LightFit, LightNeed
from bedwright.planning.findings import Finding, finding
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.layout.frame import bed_frame
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.light_map import bed_light
from bedwright.planning.second_crops import BedWant, bed_wants
from bedwright.planning.summer.cloth import Ground, cloth_for, hung_over, measure, shades_of
from bedwright.planning.summer.heat_days import (
    ANY_CROP,
    Stages,
    counted,
    days_in,
    is_hot,
    limits_of,
)
from bedwright.planning.summer.measures import misting, mulch, skin_over_air, wind
from bedwright.planning.summer.model import Hung, PlantingSummer, Summer
from bedwright.planning.summer.people import drinking, months_of_work
from bedwright.planning.sunlight import Sunlight
from bedwright.planning.timing_model import DateOutlook, GardenDates
from bedwright.planning.weather import GardenWeather
from bedwright.reference import Library

_RELIEF = "shade_in_heat"
_CLOTH = "shade cloth"
_IN_HEAT = 1.0  # days of heat in a picking from which it is told how to pick: judgement
_PICKED = {"fruit": "fruit", "leaf": "leaf", "stem": "leaf", "flower": "head"}


@dataclass(frozen=True, eq=False)
class _Garden:
    """What all plantings share; ``light`` (12,) by bed is that without any shade cloth."""

    document: Document
    library: Library
    weather: GardenWeather
    tables: TimingTables
    light: Mapping[str, FloatArray]
    rows: Mapping[tuple[str, str], FloatArray]
    skin_k: float
    cooling_k: float


def summer_ahead(
    document: Document,
    library: Library,
    dates: GardenDates | None,
    as_of: date,
    layouts: Sequence[BedLayout] = (),
    *,
    bed: str | None = None,
    sun: Sunlight | None = None,
) -> Summer | None:
    """The summer of every planting that has dates, and of the people who work.

    Parameters
    ----------
    document, library : the garden and the tables
    dates : of its wants; without weather there is no summer to tell of
    as_of : the day of planning
    layouts : of the beds, whose rows' light is used where there are any
    bed : told of alone; work, mulch and wind are still those of the garden
    sun : over the garden, which saves working it again

    None where the document says nothing of the weather. Raises WeatherError for a weather file
    that can't be used.
    """
    if dates is None or dates.weather is None:
        return None
    weather = dates.weather
    garden = _Garden(
        document,
        library,
        weather,
        timing_tables(library),
        _open_light(document, library, sun),
        _rows_light(layouts),
        skin_over_air(library).value,
        measure(library, "cooling", "net", "K").value,
    )
    by_want = {each.want: each for each in dates.wants}
    said: list[Finding] = []
    plantings = []
    for each in bed_wants(document):
        if bed is not None and each.bed.id != bed:
            continue
        planned = None if each.at not in by_want else by_want[each.at].taken
        if planned is None or planned.last_harvest is None:
            key = document.key("want", each.at, "crop")
            name = library.crop(key)["name"].lower()
            said.append(finding("summer_not_dated", "doubt", bed=each.bed.id, crop=name))
            continue
        plantings.append(_planting(garden, each, planned))
    place = document.garden.garden
    elevation = None if place.elevation is None else place.elevation.si
    record = weather.record
    work = months_of_work(record, elevation, library)
    return Summer(
        plantings=tuple(plantings),
        work=work,
        drinking=drinking(library),
        mulch=mulch(document, weather, as_of, library),
        wind=wind(record, library),
        misting=misting(library),
        findings=(*said, *_findings(garden, plantings, worked=bool(work))),
    )


def _planting(garden: _Garden, wanted: BedWant, planned: DateOutlook) -> PlantingSummer:
    library, weather = garden.library, garden.weather
    key = garden.document.key("want", wanted.at, "crop")
    start = wanted.want.set_out or planned.on
    fruit_days = garden.tables.days(key, "fruit_days")
    stages = Stages.of(planned, 0.0 if np.isnan(fruit_days) else fruit_days)
    offset = (start - weather.season_of(start)).days
    habits = {row["property"]: row["word"] for row in library.habits(key)}
    limits = limits_of(key, library)
    hung = hung_over(bed_frame(wanted.bed), garden.document.garden.structure)
    light = garden.light.get(wanted.bed.id)
    if not hung:
        light = garden.rows.get((wanted.bed.id, key), light)
    ground = Ground(
        crop=key,
        relief=habits.get("light") == _RELIEF,
        limits=limits,
        need=library.fact("crop_growing", key, "daily_light_need", "mol/m2/d"),
        light_mol_m2_d=light,
        responses=garden.tables.responses(key),
        stages=stages,
        offset=offset,
        start=start,
    )
    cloth = cloth_for(ground, weather, library)
    hangs = None
    if cloth.verdict == "hang" and cloth.heat is not None:
        first, last = ((each - start).days for each in cloth.heat)
        hangs = (garden.cooling_k, (first, last + 1))
    heat = counted(limits, stages, offset, weather, garden.skin_k, hangs)
    return PlantingSummer(
        bed=wanted.bed.id,
        want=wanted.at,
        crop=key,
        name=library.crop(key)["name"],
        start=start,
        end=start + timedelta(days=stages.spans["standing"][1] - 1),
        relief=ground.relief,
        heat=heat,
        cloth=cloth,
        hung=hung,
        pick=_pick(garden, ground, habits.get("part", "")),
        findings=tuple(_of_hung(ground, hung)),
    )


def _open_light(
    document: Document, library: Library, sun: Sunlight | None
) -> dict[str, FloatArray]:
    """The light on each bed's darkest point by month, what stands counted in but no cloth."""
    kept = [each for each in document.garden.structure if each.kind != _CLOTH]
    bare = document.garden.model_copy(update={"structure": kept})
    found = bed_light(replace(document, garden=bare), library, sun)
    return {bed: each.least_mol_m2_d for bed, each in found.items()}


def _rows_light(layouts: Sequence[BedLayout]) -> dict[tuple[str, str], FloatArray]:
    """The light of the row with the least of it, by bed and crop and month (12,)."""
    found: dict[tuple[str, str], FloatArray] = {}
    for each in layouts:
        if each.lights is None:
            continue
        for row, lit in zip(each.rows, each.lights.rows, strict=True):
            key = (each.planting.bed.id, row.crop)
            mean = lit.light_mol_m2_d.mean(axis=0)
            found[key] = mean if key not in found else np.minimum(found[key], mean)
    return found


def _pick(garden: _Garden, ground: Ground, part: str) -> str:
    """How to pick in heat, where it comes into the days of picking: color, leaf, head, fruit."""
    span = ground.stages.spans.get("picking")
    if span is None or part not in _PICKED:
        return ""
    (limit,) = limits_of(ANY_CROP, garden.library)
    days = days_in(is_hot(limit, garden.weather, 0.0), span, ground.offset, garden.weather)
    if not days.size or days.mean() < _IN_HEAT:
        return ""
    colored = any(each.stage == "picking" for each in ground.limits)
    return "color" if colored else _PICKED[part]


def _of_hung(ground: Ground, hung: Sequence[Hung]) -> list[Finding]:
    """What is to be said of cloths that hang over the bed already."""
    said = []
    last = ground.start + timedelta(days=ground.stages.spans["standing"][1] - 1)
    for each in hung:
        share = f"{round(100 * each.percent)} %"
        said.append(finding("cloth_hangs", "note", structure=each.structure, share=share))
        months = sorted(
            {
                day.month - 1
                for at in range((last - ground.start).days + 1)
                if stands_on(day := ground.start + timedelta(days=at), each.from_day, each.to_day)
            }
        )
        if not months or ground.light_mol_m2_d is None or ground.need is None:
            continue
        (left,) = shades_of(
            (each.percent,),
            float(ground.light_mol_m2_d[months].min()),
            LightNeed(ground.need.least, ground.need.value),
        )
        if left.fit != LightFit.ENOUGH.value:
            said.append(
                finding(
                    "cloth_hangs_dark",
                    "caution",
                    structure=each.structure,
                    light=left.light_mol_m2_d,
                    need=ground.need,
                )
            )
    return said


def _findings(
    garden: _Garden, plantings: Sequence[PlantingSummer], *, worked: bool
) -> list[Finding]:
    """What rests on assumptions, once for the garden."""
    record = garden.weather.record
    said = []
    if not garden.light:
        said.append(finding("summer_no_latitude", "doubt"))
    if any(each.cloth.verdict == "hang" for each in plantings):
        said.append(finding("cloth_open_sides", "caution"))
        said.append(finding("cloth_few_trials", "doubt"))
    if any(day.driver == "skin" for each in plantings for day in each.heat):
        said.append(finding("fruit_bared", "caution"))
    if record.wind_m_s is None:
        said.append(finding("wind_not_recorded", "caution"))
    if worked:
        said.append(finding("work_schedule_for", "caution"))
        said.append(finding("work_heat_index", "note"))
        if record.humidity_min_percent is None:
            said.append(finding("work_humidity_guessed", "assumed"))
        if record.wind_m_s is None:
            said.append(finding("work_wind_guessed", "assumed"))
    return said
