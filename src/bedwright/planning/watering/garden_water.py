"""The garden's watering: what runs on a day, the season of each planting, salt over years, use."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bedwright.garden import Document
from bedwright.garden.model_water import Readings
from bedwright.planning.evidence import evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.layout.plantings import Grounds, grounds_of
from bedwright.planning.timing import garden_dates
from bedwright.planning.timing_model import GardenDates
from bedwright.planning.watering.ground import BedSoil, bed_soil
from bedwright.planning.watering.lines import ZoneLines, zone_lines
from bedwright.planning.watering.salt_years import (
    Leaching,
    SaltCase,
    SaltYears,
    ZoneWater,
    leaching_of,
    salt_years,
    zone_water,
)
from bedwright.planning.watering.schedule import ZoneMonth, scheduled
from bedwright.planning.watering.stand import Stand, stands_of
from bedwright.planning.watering.stand_water import StandWater, refilled, stand_water
from bedwright.planning.watering.today import Standing, Today, today
from bedwright.planning.watering.weather_days import (
    WaterWeather,
    season_days,
    water_weather,
)
from bedwright.planning.watering.years import stand_years
from bedwright.reference import Library
from bedwright.water.zones import Supply
from bedwright.working import Figure

_L_H = 3.6e6
_ALL_DAY = ((0.0, 24 * 60.0),)
_READ_LATELY = 14  # days after which a gauge no longer tells of today
_NONE = Readings()
_OF_A_DAY = frozenset({"nothing_stands", "usual_days_taken", "runs_as_planned",
                       "tap_flow_not_stated", "hours_not_stated"})  # fmt: skip


@dataclass(frozen=True, eq=False)
class GardenWater:
    """The watering of a garden on a day.

    ``schedule`` is the zones' months, for all beds; ``cost`` of a season's water is in the
    garden's money, None without a price.
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
    schedule: tuple[ZoneMonth, ...] = ()

    def stand_of(self, bed: str, crop: str) -> StandWater | None:
        """The watering of a bed's planting, by the crop's key; None where it has none."""
        return next(
            (each for each in self.stands if (each.stand.bed, each.stand.crop) == (bed, crop)), None
        )


def garden_water(
    document: Document,
    library: Library,
    as_of: date,
    on: date,
    readings: Readings = _NONE,
    bed: str | None = None,
    dates: GardenDates | None = None,
    grounds: Grounds | None = None,
) -> GardenWater:
    """What each zone runs on a day, and the season's watering of every planting.

    Parameters
    ----------
    document, library : the garden and the tables
    as_of : the day of planning
    on : the day to be watered
    readings : beside those of the document
    bed : shown alone; zones and salt are still those of the garden
    dates, grounds : of the garden's wants as of that day; worked here where not given

    Raises WeatherError for a weather file that can't be used.
    """
    said: list[Finding] = []
    dates = dates or garden_dates(document, library, as_of)
    place = document.garden.garden
    elevation = None if place.elevation is None else place.elevation.si
    weather = None
    if dates.weather is None:
        said.append(finding("water_no_weather", "act"))
    else:
        weather = water_weather(dates.weather.record, elevation, library)
        if weather is None:
            said.append(finding("water_no_latitude_or_rain", "act"))
    grounds = grounds or grounds_of(document, library, dates)
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
    stands, left_out = stands_of(document, dates, library, grounds)
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
        leaching = _leaching(stand, carried, kept, library)
        years = stand_years(stand, soils[stand.bed], weather, wetted.value, leaching.share,
                            drip=drip)  # fmt: skip
        made.append(
            stand_water(document, stand, soils[stand.bed], zone, zones, carried, leaching, years,
                         readings, wetted, library)
        )  # fmt: skip
    made, schedule = scheduled(made, weather)
    now = _today(document, on, made, zones, weather, readings, library, said)
    said += _once(each for one in made for each in (*one.soil.findings, *one.leaching.findings))
    salt = _salt(made, water, document, weather, wetted.value, library, said, drip=drip)
    gross = sum(each.gross_m3 for each in made)
    price = None if document.garden.watering is None else document.garden.watering.price
    shown = tuple(each for each in made if bed is None or each.stand.bed == bed)
    most = library.parameter("oasis_area", "m2").value
    if weather.dry and sum(each.area_m2 for each in document.garden.bed) < most:
        limit = library.parameter("oasis_kc_most", "-")
        said.append(finding("water_small_and_dry", "doubt", limit=limit, sources=limit.sources))
    if any(each.stand.prone for each in made):
        said.append(finding("water_gap_judgement", "note"))
    said += [finding("water_in_the_morning", "assumed"), finding("water_over_bed_top", "assumed")]
    return GardenWater(
        on, weather, zones, water, shown, _of_bed(now, bed),
        tuple(each for each in salt if bed is None or each.bed == bed),
        gross, None if price is None else gross * price.si, tuple(said), schedule,
    )  # fmt: skip


def water_on(
    water: GardenWater, document: Document, on: date, library: Library, readings: Readings = _NONE
) -> GardenWater:
    """The garden's watering on another day or by other readings; the seasons stay as worked.

    Parameters
    ----------
    water : of all beds, worked for the same garden; its gauges and soil readings may differ
    document : the garden, with the readings that count
    on : the day to be watered
    library : the tables
    readings : beside those of the document
    """
    if water.weather is None:
        return replace(water, on=on, today=None)
    stands = tuple(refilled(each, document, library, readings) for each in water.stands)
    said: list[Finding] = []
    now = _today(document, on, stands, water.zones, water.weather, readings, library, said)
    kept = tuple(each for each in water.findings if each.code not in _OF_A_DAY)
    return replace(water, on=on, stands=stands, today=now, findings=(*kept, *said))


def _leaching(stand: Stand, carried: ZoneWater, kept: float, library: Library) -> Leaching:
    """What the crop asks to drain, or the more sensitive of two that share the bed."""
    crops = [(stand.crop, stand.name)]
    if stand.companion is not None:
        crops.append((stand.companion.crop, stand.companion.name))
    found = [leaching_of(crop, name, carried, kept, library) for crop, name in crops]
    return max(found, key=lambda each: each.share)


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


def _wetted(document: Document, library: Library, said: list[Finding]) -> tuple[bool, Figure]:
    """Whether drip waters the beds, and the share of a bed that it wets."""
    stated = document.garden.watering
    if stated is None:
        said.append(finding("water_method_assumed", "assumed"))
    if stated is not None and stated.method == "overhead":
        return False, Figure("wetted_share", 1.0, "-", "assumed", note="watered all over")
    if stated is not None and stated.wetted_share is not None:
        share = stated.wetted_share
        return True, Figure("wetted_share", share.si, "-", "stated", note=share.text)
    share = library.parameter("drip_wetted_share", "-")
    said.append(finding("water_wetted_share", "assumed", share=share.named("share"),
                        sources=share.sources))  # fmt: skip
    return True, share


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
                 one.years.on[:, 0])
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


def _once(found: Iterable[Finding]) -> list[Finding]:
    """Each finding once; those that differ by the bed alone, or of crops that no list rates by
    the crop alone, as one of all these.
    """
    named: dict[tuple[str, str], list[str]] = {}
    first: dict[tuple[str, str], Finding] = {}
    for each in found:
        by = "crop" if each.code == "water_tolerance_assumed" else "bed"
        rest = {key: value for key, value in each.values.items() if key != by}
        key = (each.code, repr(sorted(rest.items(), key=str)))
        first.setdefault(key, each)
        if by in each.values:
            names = named.setdefault(key, [])
            if each.values[by] not in names:
                names.append(str(each.values[by]))
    return [
        replace(each, values={
            **each.values,
            "crop" if each.code == "water_tolerance_assumed" else "bed": ", ".join(named[key]),
        })
        if key in named else each
        for key, each in first.items()
    ]  # fmt: skip


def _of_bed(now: Today | None, bed: str | None) -> Today | None:
    """The day with one bed alone; its zone's minutes and the week stay."""
    if now is None or bed is None:
        return now
    zones = [
        replace(zone, beds=tuple(each for each in zone.beds if each.bed == bed))
        for zone in now.zones
    ]
    kept = tuple(each for each in zones if each.beds)
    return replace(now, zones=kept) if kept else None


def planting_soon(water: GardenWater, within: int = 21) -> list[StandWater]:
    """Plantings that are due within so many days, for the filling before them."""
    return [each for each in water.stands if 0 <= (each.stand.start - water.on).days <= within]
