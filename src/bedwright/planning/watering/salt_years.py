"""Salt at the roots over years of the same crop and water, with and without leaching."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from bedwright.climate.record import FloatArray, IntArray
from bedwright.garden import Document, ReadResult
from bedwright.planning.findings import Finding, finding
from bedwright.planning.watering.ground import BedSoil
from bedwright.planning.watering.stand import Stand
from bedwright.planning.watering.weather_days import WaterWeather
from bedwright.reference import Library
from bedwright.soil import salinity
from bedwright.water.balance import daily_balance
from bedwright.water.beds import BedDays, Ground, Refill, Start
from bedwright.water.salt import root_zone_salt
from bedwright.working import Figure, work

YEARS = 10
_YEAR, _WEEK = 365, 7
_BARE_CEILING = 1.2  # fao_56 equation 72: of ground without a crop
_RESTING_RATIO = 1.5  # fao_29: ECe over ECw at a leaching fraction of 0.15 to 0.2


@dataclass(frozen=True)
class ZoneWater:
    """What the water of a zone carries: salt [dS/m] and nitrate nitrogen [mg/l], None unknown."""

    ec: Figure | None
    nitrate_n: Figure | None


@dataclass(frozen=True)
class Leaching:
    """What a crop's tolerance asks of the water: ``share`` to drain [-], 0 where none is due.

    ``limit`` is what is held at the roots [dS/m], None where the water's salt is not known.
    ``assumed`` tells that the crop's tolerance is not rated and was taken to be moderate.
    """

    share: float
    limit: Figure | None
    working: Figure | None
    findings: tuple[Finding, ...]
    assumed: bool = False


@dataclass(frozen=True, eq=False)
class SaltCase:
    """A bed and its crop, with its water and the days of its season that run, (days,)."""

    stand: Stand
    soil: BedSoil
    leaching: Leaching
    water: ZoneWater
    on: NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class SaltYears:
    """ECe over the crop's days of each year, (years,) [dS/m], with and without leaching.

    ``start`` is the bed's at first; ``yield_with`` and ``yield_without`` what the last year leaves
    of the yield [%], None where the tolerance is not known. ``water_more_m`` is what leaching
    takes in a season [m].
    """

    bed: str
    want: int
    start: Figure
    with_leaching: FloatArray
    without: FloatArray
    yield_with: float | None
    yield_without: float | None
    water_more_m: float


def zone_water(document: Document, zone: str | None) -> ZoneWater:
    """The newest report on the water of a zone."""
    reports = [
        each
        for each in document.garden.water_report
        if each.water_zones is None or zone in each.water_zones
    ]
    read: dict[str, ReadResult] = {}
    for report in sorted(reports, key=lambda each: each.sampled):
        read |= {each.analyte: each for each in document.water[report.id]}

    def figure(name: str, unit: str) -> Figure | None:
        found = read.get(name)
        if found is None:
            return None
        return Figure(name, found.value, unit, "measured", note=found.text)

    return ZoneWater(figure("ec", "dS/m"), figure("nitrate_n", "mg/l"))


def leaching_of(
    crop: str, name: str, water: ZoneWater, kept_percent: float, library: Library
) -> Leaching:
    """The share of the water that is to drain, by the crop's tolerance.

    Parameters
    ----------
    crop, name : its key, and what it is called
    water : of its zone
    kept_percent : yield that is to be kept [%]
    library : the tables

    A crop that no list rates is taken to be moderately sensitive, with a finding.
    """
    if water.ec is None:
        return Leaching(0.0, None, None, ())
    said: list[Finding] = []
    threshold = library.fact("crop_facts", crop, "ec_e_threshold", "dS/m")
    slope = library.fact("crop_facts", crop, "ec_e_slope", "%/(dS/m)")
    assumed = threshold is None or slope is None
    if threshold is None or slope is None:
        threshold = library.parameter("salt_unknown_threshold", "dS/m").named("threshold")
        slope = library.parameter("salt_unknown_slope", "%/(dS/m)").named("slope")
        said.append(finding("water_tolerance_assumed", "assumed", crop=name.lower(),
                            threshold=threshold, sources=threshold.sources))  # fmt: skip
    kept = Figure("yield_kept", kept_percent, "%", "stated")
    limit = work(
        salinity.ec_e_at_yield, "ec_e_limit", yield_kept=kept, threshold=threshold, slope=slope
    )
    try:
        share = work(salinity.leaching_requirement, "share", ec_water=water.ec, ec_e=limit)
    except ValueError:
        said.append(finding("water_salt_beyond_crop", "act", ec_water=water.ec, threshold=limit))
        return Leaching(0.0, limit, None, tuple(said), assumed)
    return Leaching(share.value, limit, share, tuple(said), assumed)


def salt_years(
    stands: Sequence[SaltCase],
    weather: WaterWeather,
    wetted_share: float,
    library: Library,
    *,
    drip: bool,
) -> list[SaltYears]:
    """Salt of beds that bear the same crop for ten years of the record; all beds in one run.

    Parameters
    ----------
    stands : beds with their crops; those whose water's salt is not known are left out
    weather : of the garden; ten years of its record without a gap
    wetted_share : of the beds by their lines [-]
    library : the tables
    drip : whether lines lie under the plants

    Rain of the resting months leaches too. Raises ValueError where the record has not ten whole
    years in a row.
    """
    known = [each for each in stands if each.water.ec is not None]
    if not known:
        return []
    first = _first_whole(weather)
    span = slice(first, first + YEARS * _YEAR)
    et0, rain = weather.et0_m[span, None], weather.rain_m[span, None]
    dates = weather.record.dates()[span]
    of_year = (dates - dates.astype("datetime64[Y]").astype("datetime64[D]")).astype(np.int64)
    columns: list[list[FloatArray]] = []
    for each in known:
        stand = each.stand
        begun = (date(2001, stand.start.month, min(stand.start.day, 28)) - date(2001, 1, 1)).days
        place = (of_year - begun) % _YEAR
        columns.append(_columns(each, weather, span, place))
    basal, ceiling, cover, on, in_season = (
        np.stack([each[k] for each in columns], axis=1) for k in range(5)
    )
    roots = [each.soil.layers.roots_m(each.stand.water.root_depth_m[0]) for each in known]
    held = np.array([each.soil.field_capacity.value * float(deep)
                     for each, deep in zip(known, roots, strict=True)])  # fmt: skip
    available = np.array([float(each.soil.layers.available_m(deep))
                          for each, deep in zip(known, roots, strict=True)])  # fmt: skip
    leach = np.array([each.leaching.share for each in known])
    days = BedDays(et0, rain, _twice(basal), _twice(ceiling), _twice(cover),
                   np.tile(available, 2)[None, :])  # fmt: skip
    ground = Ground(
        np.tile([each.soil.total_evaporable_m for each in known], 2),
        np.tile([each.soil.readily_evaporable_m for each in known], 2),
        np.tile([each.stand.depletion_share for each in known], 2),
        wetted_share,
        1.0 if drip else 0.0,
        np.tile([_mulch(each.stand, "open_share") for each in known], 2),
        np.tile([_mulch(each.stand, "factor") for each in known], 2),
    )
    rule = Refill(_twice(on) > 0, 0.0,
                  leaching_share=np.concatenate([leach, np.zeros(len(known))]))  # fmt: skip
    found = daily_balance(days, ground, Start(0.0, 0.0), rule, timing="early")
    weeks = np.arange(0, YEARS * _YEAR, _WEEK)
    irrigation, drained = (
        np.add.reduceat(each, weeks, axis=0) for each in (found.irrigation_m, found.drainage_m)
    )
    arriving = irrigation + np.add.reduceat(rain, weeks, axis=0)
    ec = np.tile([each.water.ec.value for each in known if each.water.ec is not None], 2)
    salty = np.divide(irrigation * ec, arriving, out=np.zeros_like(arriving), where=arriving > 0)
    starts = [_start(each.soil, each.water) for each in known]
    quarters = [library.parameter(f"water_uptake_quarter_{k}", "fraction").value
                for k in (1, 2, 3, 4)]  # fmt: skip
    salt = root_zone_salt(np.tile([each.value for each in starts], 2), arriving, drained, salty,
                          np.tile(held, 2), quarters)  # fmt: skip
    weight = np.add.reduceat(in_season, weeks, axis=0)
    year = np.minimum(weeks // _YEAR, YEARS - 1)
    made = []
    for at, case in enumerate(known):
        stand = case.stand
        both = [
            np.array([
                np.average(salt.ec_e_ds_m[year == k, lane], weights=weight[year == k, at])
                for k in range(YEARS)
            ])
            for lane in (at, at + len(known))
        ]  # fmt: skip
        more = (found.irrigation_m[:, at] - found.irrigation_m[:, at + len(known)]).sum() / YEARS
        left = [_yield(stand.crop, float(each[-1]), library) for each in both]
        made.append(
            SaltYears(stand.bed, stand.want, starts[at], both[0], both[1], left[0], left[1],
                      float(more))
        )  # fmt: skip
    return made


def _mulch(stand: Stand, name: str) -> float:
    """What a mulch changes, all year: it lies on most of the days that are watered, or not."""
    cover = stand.mulch
    if cover is None or cover.end - cover.first < stand.days / 2:
        return 1.0
    figure: Figure = getattr(cover, name)
    return figure.value


def _first_whole(weather: WaterWeather) -> int:
    need = YEARS * _YEAR
    whole = np.isfinite(weather.et0_m) & np.isfinite(weather.rain_m)
    gaps = np.concatenate([[-1], np.flatnonzero(~whole), [len(whole)]])
    for before, after in pairwise(gaps):
        if after - before - 1 >= need:
            return int(before) + 1
    raise ValueError(f"the record has no {YEARS} years in a row without a gap")


def _twice(values: FloatArray) -> FloatArray:
    return np.concatenate([values, values], axis=1)


def _columns(
    case: SaltCase, weather: WaterWeather, span: slice, place: IntArray
) -> list[FloatArray]:
    """Of one bed, through the years: basal, ceiling, cover, whether a run falls due, in season."""
    stand, soil = case.stand, case.soil
    ones = np.zeros((stand.days, 1))
    days = stand.bed_days(
        soil, ones, ones, float(np.nanmean(weather.wind_m_s[span])),
        float(np.nanmean(weather.humidity_min_percent[span])),
    )  # fmt: skip
    stands = place < stand.days
    at = np.where(stands, place, 0)
    return [
        np.where(stands, days.basal[at, 0], 0.0),
        np.where(stands, days.ceiling[at, 0], _BARE_CEILING),
        np.where(stands, days.cover[at, 0], 0.0),
        (stands & case.on[at]).astype(float),
        stands.astype(float),
    ]


def _start(soil: BedSoil, water: ZoneWater) -> Figure:
    if soil.ec_e is not None:
        return soil.ec_e
    assert water.ec is not None
    return Figure("ec_e", _RESTING_RATIO * water.ec.value, "dS/m", "assumed",
                  note="1.5 x the water's, where the soil was not tested")  # fmt: skip


def _yield(crop: str, ec_e: float, library: Library) -> float | None:
    threshold = library.fact("crop_facts", crop, "ec_e_threshold", "dS/m")
    slope = library.fact("crop_facts", crop, "ec_e_slope", "%/(dS/m)")
    if threshold is None or slope is None:
        return None
    left = salinity.relative_yield(ec_e, threshold.value, slope.value)
    return float(getattr(left, "value", left))
