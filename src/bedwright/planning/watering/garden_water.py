"""The garden's watering: what runs on a day, the season of each planting, salt over years, use."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from bedwright.feeding.response import leached_share
from bedwright.garden import Document
from bedwright.garden.model_water import Readings
from bedwright.planning.evidence import evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.layout.plantings import grounds_of
from bedwright.planning.timing import garden_dates
from bedwright.planning.watering.ground import BedSoil, bed_soil, left_share
from bedwright.planning.watering.lines import BedLines, ZoneLines, zone_lines
from bedwright.planning.watering.salt_years import (
    Leaching,
    SaltCase,
    SaltYears,
    ZoneWater,
    leaching_of,
    salt_years,
    zone_water,
)
from bedwright.planning.watering.stand import Stand, stands_of
from bedwright.planning.watering.today import Standing, Today, today
from bedwright.planning.watering.weather_days import (
    WaterWeather,
    season_days,
    water_weather,
)
from bedwright.planning.watering.years import StandYears, stand_years
from bedwright.reference import Library
from bedwright.water.irrigation import gross_depth, run_minutes
from bedwright.water.season_runs import SeasonRuns, season_runs
from bedwright.water.watering import filling_depth, germination_depth, germination_runs_per_day
from bedwright.water.zones import Supply
from bedwright.working import Figure

_L_H = 3.6e6
_ALL_DAY = ((0.0, 24 * 60.0),)
_READ_LATELY = 14  # days for which a reading before planting tells how dry the bed is
_WEEK = 7
_MM = 1000.0
_NONE = Readings()


@dataclass(frozen=True, eq=False)
class StandWater:
    """One planting's watering over its season.

    ``weeks`` is the schedule, None where its lines' flow is not known. ``fill_m`` is the net depth
    that fills the soil before planting with ``left`` of its water there, ``fill_minutes`` of the
    lines. ``germination`` are runs a day and minutes of each until the seedlings show, for seed.
    ``gross_m3`` is the water of a season; ``nitrogen_kg_m2`` what the water brings, None where
    its nitrate is not known; ``week_leaches`` the share of the roots' nitrate that drains in a
    week [-].
    """

    stand: Stand
    soil: BedSoil
    lines: BedLines | None
    years: StandYears
    leaching: Leaching
    weeks: SeasonRuns | None
    fill_m: float
    left: Figure
    fill_minutes: float | None
    germination: tuple[int, float | None] | None
    gross_m3: float
    nitrogen_kg_m2: float | None
    week_leaches: float
    zone: str | None


@dataclass(frozen=True, eq=False)
class GardenWater:
    """The watering of a garden on a day.

    ``cost`` of a season's water is in the garden's money, None without a price.
    """

    on: date
    weather: WaterWeather | None
    zones: dict[str, ZoneLines]
    water: dict[str, ZoneWater]
    stands: tuple[StandWater, ...]
    today: Today | None
    salt: tuple[SaltYears, ...]
    gross_m3: float
    cost: float | None
    findings: tuple[Finding, ...]


def garden_water(
    document: Document,
    library: Library,
    as_of: date,
    on: date,
    readings: Readings = _NONE,
    bed: str | None = None,
) -> GardenWater:
    """What each zone runs on a day, and the season's watering of every planting.

    Parameters
    ----------
    document, library : the garden and the tables
    as_of : the day of planning
    on : the day to be watered
    readings : beside those of the document
    bed : shown alone; zones and salt are still those of the garden

    Raises WeatherError for a weather file that can't be used.
    """
    said: list[Finding] = []
    dates = garden_dates(document, library, as_of)
    place = document.garden.garden
    elevation = None if place.elevation is None else place.elevation.si
    weather = None
    if dates.weather is None:
        said.append(finding("water_no_weather", "act"))
    else:
        weather = water_weather(dates.weather.record, elevation, library)
        if weather is None:
            said.append(finding("water_no_latitude_or_rain", "act"))
    grounds = grounds_of(document, library, dates)
    apart = {
        key: plantings[0].crop.between_rows.value
        for key, plantings in grounds.plantings.items()
        if plantings
    }
    zones = zone_lines(document, library, apart)
    water = {zone: zone_water(document, zone) for zone in zones}
    for lines in zones.values():
        said += lines.findings
    said += _nitrate(water, library)
    if weather is None:
        return GardenWater(on, None, zones, water, (), None, (), 0.0, None, tuple(said))
    said += weather.findings
    stands, left_out = stands_of(document, dates, library)
    said += left_out
    drip, wetted = _wetted(document, library, said)
    beds = {each.id: each for each in document.garden.bed}
    soils: dict[str, BedSoil] = {}
    made = []
    for stand in stands:
        if stand.bed not in soils:
            soils[stand.bed] = bed_soil(evidence(document, beds[stand.bed], library), library)
        zone = beds[stand.bed].water_zone
        carried = water[zone] if zone is not None else zone_water(document, None)
        kept = document.garden.limits.yield_kept.si * 100
        leaching = leaching_of(stand.crop, carried, kept, library)
        years = stand_years(stand, soils[stand.bed], weather, wetted, leaching.share, drip=drip)
        made.append(
            _stand_water(document, stand, soils[stand.bed], zone, zones, carried, leaching, years,
                         readings, library)
        )  # fmt: skip
    now = _today(document, on, made, zones, weather, readings, library, said)
    said += _once(each for one in made for each in (*one.soil.findings, *one.leaching.findings))
    salt = _salt(made, water, document, weather, wetted, library, said, drip=drip)
    gross = sum(each.gross_m3 for each in made)
    price = None if document.garden.watering is None else document.garden.watering.price
    shown = tuple(each for each in made if bed is None or each.stand.bed == bed)
    if any(each.stand.prone for each in made):
        said.append(finding("water_gap_judgement", "note"))
    said += [finding("water_in_the_morning", "assumed"), finding("water_over_bed_top", "assumed")]
    return GardenWater(
        on, weather, zones, water, shown, now,
        tuple(each for each in salt if bed is None or each.bed == bed),
        gross, None if price is None else gross * price.si, tuple(said),
    )  # fmt: skip


def _stand_water(
    document: Document,
    stand: Stand,
    soil: BedSoil,
    zone: str | None,
    zones: dict[str, ZoneLines],
    carried: ZoneWater,
    leaching: Leaching,
    years: StandYears,
    readings: Readings,
    library: Library,
) -> StandWater:
    known = zones.get(zone) if zone is not None else None
    own = next((each for each in known.beds if each.bed == stand.bed), None) if known else None
    area = next(each.area_m2 for each in document.garden.bed if each.id == stand.bed)
    uniformity = library.parameter("drip_uniformity", "fraction").value
    if own is not None:
        uniformity = own.uniformity.value
    weeks = None
    if own is not None:
        starts = np.arange(0, stand.days, _WEEK)
        most = np.maximum(years.ready_m[starts][:, None], 1e-4)
        weeks = season_runs(years.need_m[:, None], most, stand.gap_days, area, own.flow.value,
                            uniformity, leaching.share)  # fmt: skip
    left = _left(document, stand, soil, readings, library)
    soil_m = library.parameter("water_planting_soil", "m").value
    deep = max(stand.water.root_depth_m[0] / 2, soil_m)
    held = soil.layers.available_m(soil.layers.roots_m(deep))
    fill = float(filling_depth(held, left.value))

    def minutes(net_m: float) -> float | None:
        if own is None:
            return None
        gross = gross_depth(net_m, uniformity, 0.0)
        return float(run_minutes(gross, area, own.flow.value))

    germination = None
    if stand.started == "sown" and stand.emergence > 0:
        usual = float(years.days.et0_m[: stand.emergence].mean())
        share = library.parameter("germination_dry_share", "-").value
        runs = int(germination_runs_per_day(usual, soil.readily_evaporable_m, share))
        germination = (runs, minutes(float(germination_depth(usual, runs))))
    nitrogen = None
    if carried.nitrate_n is not None:
        nitrogen = years.irrigation.mean * carried.nitrate_n.value / 1000  # m x mg/l = g/m2
    roots = float(soil.layers.roots_m(stand.water.root_depth_m[0]))
    held_mm = soil.field_capacity.value * roots * _MM
    drained_mm = years.drainage.mean / (stand.days / _WEEK) * _MM
    return StandWater(
        stand=stand,
        soil=soil,
        lines=own,
        years=years,
        leaching=leaching,
        weeks=weeks,
        fill_m=fill,
        left=left,
        fill_minutes=minutes(fill),
        germination=germination,
        gross_m3=years.irrigation.mean / uniformity * area,
        nitrogen_kg_m2=nitrogen,
        week_leaches=float(leached_share(drained_mm, held_mm)),
        zone=zone,
    )


def _left(
    document: Document, stand: Stand, soil: BedSoil, readings: Readings, library: Library
) -> Figure:
    """How much of its water the bed has before planting: as felt lately, else assumed."""
    found = [
        each
        for each in (*document.garden.soil_moisture, *readings.soil_moisture)
        if each.bed == stand.bed and 0 <= (stand.start - each.on).days <= _READ_LATELY
    ]
    if found:
        return left_share(max(found, key=lambda each: each.on), soil, library)
    return library.parameter("water_left_before_planting", "-").named("left_share")


def _today(
    document: Document,
    on: date,
    made: Sequence[StandWater],
    zones: dict[str, ZoneLines],
    weather: WaterWeather,
    readings: Readings,
    library: Library,
    said: list[Finding],
) -> Today | None:
    gauges = [*document.garden.gauge, *readings.gauge]
    moist = [*document.garden.soil_moisture, *readings.soil_moisture]
    standing: dict[str, list[Standing]] = {}
    for each in made:
        if not each.stand.stands_on(on):
            continue
        felt = sorted((one for one in moist if one.bed == each.stand.bed), key=lambda one: one.on)
        season = season_days(weather, each.stand.start, each.stand.days, gauges)
        standing.setdefault(each.zone or "", []).append(
            Standing(each.stand, each.soil, each.years, season, each.leaching.share, tuple(felt))
        )
    if not standing:
        said.append(finding("nothing_stands", "note", on=on.isoformat()))
        return None
    lately = [each for each in gauges if 0 <= (on - each.on).days <= _READ_LATELY]
    if not lately and not weather.real:
        said.append(finding("usual_days_taken", "doubt"))
    said.append(finding("runs_as_planned", "assumed"))
    wanted = [lines.flow_l_h for zone, lines in zones.items() if zone in standing]
    supply = _supply(document, max([*wanted, 1.0]), said)
    return today(on, standing, zones, supply, weather, library)


def _supply(document: Document, most_l_h: float, said: list[Finding]) -> Supply:
    stated = document.garden.watering
    flow = None if stated is None or stated.flow is None else stated.flow.si * _L_H
    if flow is None:
        said.append(finding("tap_flow_not_stated", "assumed"))
    hours = None if stated is None else stated.hours
    if hours is None:
        said.append(finding("hours_not_stated", "assumed"))
    spells = _ALL_DAY if hours is None else tuple(hours)
    return Supply(most_l_h if flow is None else flow, spells)


def _wetted(document: Document, library: Library, said: list[Finding]) -> tuple[bool, float]:
    """Whether drip waters the beds, and the share of a bed that it wets."""
    stated = document.garden.watering
    if stated is None:
        said.append(finding("water_method_assumed", "assumed"))
    if stated is not None and stated.method == "overhead":
        return False, 1.0
    if stated is not None and stated.wetted_share is not None:
        return True, stated.wetted_share.si
    share = library.parameter("drip_wetted_share", "-")
    said.append(finding("water_wetted_share", "assumed", share=share.named("share"),
                        sources=share.sources))  # fmt: skip
    return True, share.value


def _salt(
    made: Sequence[StandWater],
    water: dict[str, ZoneWater],
    document: Document,
    weather: WaterWeather,
    wetted: float,
    library: Library,
    said: list[Finding],
    *,
    drip: bool,
) -> list[SaltYears]:
    nothing = zone_water(document, None)
    each = [
        SaltCase(one.stand, one.soil, one.leaching, water.get(one.zone or "", nothing),
                 one.years.gap_days)
        for one in made
    ]  # fmt: skip
    if not any(one.water.ec is not None for one in each):
        said.append(finding("water_salt_not_known", "assumed"))
        return []
    try:
        return salt_years(each, weather, wetted, library, drip=drip)
    except ValueError:
        said.append(finding("salt_years_too_few", "doubt"))
        return []


def _nitrate(water: dict[str, ZoneWater], library: Library) -> list[Finding]:
    """Nitrate above the drinking limit, once for all zones of one water."""
    limit = next(
        (
            Figure("drinking_limit", row.number("lower") or row.number("upper") or 0.0, "mg/l",
                   "table", sources=(row.source,))
            for row in library.rows("water_classes")
            if row["analyte"] == "nitrate_n" and "drinking" in row["scheme"]
        ),
        None,
    )  # fmt: skip
    found = [each.nitrate_n for each in water.values() if each.nitrate_n is not None]
    if limit is None or not found:
        return []
    worst = max(found, key=lambda each: each.value)
    if worst.value <= limit.value:
        return []
    return [finding("water_nitrate_above_drinking", "caution", nitrate_n=worst, limit=limit,
                    sources=limit.sources)]  # fmt: skip


def _once(found) -> list[Finding]:  # type: ignore[no-untyped-def]
    """Findings without those that say the same again."""
    seen: dict[tuple[str, str], Finding] = {}
    for each in found:
        seen.setdefault((each.code, repr(sorted(each.values.items(), key=str))), each)
    return list(seen.values())


def planting_soon(water: GardenWater, within: int = 21) -> list[StandWater]:
    """Plantings that are due within so many days, for the filling before them."""
    last = water.on + timedelta(days=within)
    return [each for each in water.stands if water.on <= each.stand.start <= last]
