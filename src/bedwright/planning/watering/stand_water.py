"""One planting's watering: weeks, the filling before it, germination, what the water carries."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from bedwright.feeding.response import leached_share
from bedwright.garden import Document
from bedwright.garden.model_water import Readings
from bedwright.planning.drained import Drained
from bedwright.planning.watering.ground import BedSoil, left_share
from bedwright.planning.watering.lines import BedLines, ZoneLines, bed_minutes
from bedwright.planning.watering.salt_years import Leaching, ZoneWater
from bedwright.planning.watering.stand import Stand
from bedwright.planning.watering.years import StandYears
from bedwright.reference import Library
from bedwright.water.irrigation import gross_depth, run_minutes
from bedwright.water.salt import reclamation_depth
from bedwright.water.season_runs import SeasonRuns, season_runs
from bedwright.water.watering import filling_depth, germination_depth, germination_runs_per_day
from bedwright.working import Figure

_READ_LATELY = 14  # days for which a reading before planting tells how dry the bed is
_WEEK = 7
_MM = 1000.0
_NONE = Readings()


@dataclass(frozen=True)
class BedMonth:
    """A planting's runs in the days of a month that it stands, ``first`` to ``last``.

    ``runs`` a week are those of its zone; ``net_m`` a run brings [m]. ``minutes`` of a run are
    what the bed needs of them, ``zone_minutes`` how long its zone runs for its longest bed; so
    ``hot_minutes`` and ``zone_hot_minutes`` of the one run a day in a heat wave. None where the
    lines' flow is not known. ``use_m`` is a usual day's use, ``ready_m`` what the roots hold that
    costs nothing.
    """

    first: date
    last: date
    runs: int
    net_m: float
    minutes: float | None
    zone_minutes: float | None
    hot_minutes: float | None
    zone_hot_minutes: float | None
    use_m: float
    ready_m: float


@dataclass(frozen=True, eq=False)
class StandWater:
    """One planting's watering over its season.

    ``months`` is the schedule by its zone's rhythm; ``weeks`` what the bed alone would need, None
    where its lines' flow is not known. ``fill_m`` is the net depth
    that fills the soil before planting with ``left`` of its water there, ``fill_minutes`` of the
    lines. ``leach_first_m`` is what must drain in one go beyond that, where the soil is saltier at
    first than the crop bears, else 0. ``germination`` are runs a day and minutes of each until the
    seedlings show, for seed.
    ``gross_m3`` is the water of a season; ``nitrogen_kg_m2`` what the water brings, None where
    its nitrate is not known; ``week_leaches`` the share of the roots' nitrate that drains in a
    week [-]. ``held_m`` is the water that the grown roots' soil holds at field capacity [m],
    ``wetted`` the share of the bed that its lines wet.
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
    leach_first_m: float
    leach_first_minutes: float | None
    germination: tuple[int, float | None] | None
    gross_m3: float
    nitrogen_kg_m2: float | None
    week_leaches: float
    zone: str | None
    held_m: float
    wetted: Figure
    months: tuple[BedMonth, ...] = ()

    @property
    def drained(self) -> Drained:
        """What the balance tells of the bed's nitrogen."""
        return Drained(self.stand.start, self.years.drained_m, self.held_m, self.wetted)


def stand_water(
    document: Document,
    stand: Stand,
    soil: BedSoil,
    zone: str | None,
    zones: dict[str, ZoneLines],
    carried: ZoneWater,
    leaching: Leaching,
    years: StandYears,
    readings: Readings,
    wetted: Figure,
    library: Library,
) -> StandWater:
    """The season's watering of one planting.

    Parameters
    ----------
    document : the garden's
    stand, soil : the planting and its bed's soil
    zone, zones : the bed's zone, None without, and the lines of all zones
    carried : what the zone's water carries
    leaching : what the crop's tolerance asks of it
    years : its balance through the years
    readings : beside those of the document
    wetted : share of the bed that its lines wet
    library : the tables
    """
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
    left, fill = _filling(document, stand, soil, readings, library)

    def minutes(net_m: float) -> float | None:
        if own is None:
            return None
        gross = gross_depth(net_m, uniformity, 0.0)
        return float(run_minutes(gross, area, own.flow.value))

    roots = float(soil.layers.roots_m(stand.water.root_depth_m[0]))
    leach = 0.0
    if soil.ec_e is not None and leaching.limit is not None and leaching.limit.value > 0:
        coefficient = library.parameter("reclamation_drip", "-").value
        leach = float(reclamation_depth(soil.ec_e.value, leaching.limit.value, roots, coefficient))
    germination = None
    if stand.started == "sown" and stand.emergence > 0:
        usual = float(years.et0_m[: stand.emergence].mean())
        share = library.parameter("germination_dry_share", "-").value
        runs = int(germination_runs_per_day(usual, soil.readily_evaporable_m, share))
        germination = (runs, minutes(float(germination_depth(usual, runs))))
    nitrogen = None
    if carried.nitrate_n is not None:
        nitrogen = years.irrigation.mean * carried.nitrate_n.value / 1000  # m x mg/l = g/m2
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
        leach_first_m=leach,
        leach_first_minutes=minutes(leach),
        germination=germination,
        gross_m3=years.irrigation.mean / uniformity * area * stand.share,
        nitrogen_kg_m2=nitrogen,
        week_leaches=float(leached_share(drained_mm, held_mm)),
        zone=zone,
        held_m=held_mm / _MM,
        wetted=wetted,
    )


def refilled(
    made: StandWater, document: Document, library: Library, readings: Readings = _NONE
) -> StandWater:
    """The same planting with the filling before it by the readings of a document.

    Parameters
    ----------
    made : worked by earlier readings
    document, readings : the garden, and readings beside those that it states
    library : the tables
    """
    left, fill = _filling(document, made.stand, made.soil, readings, library)
    minutes = None if made.lines is None else bed_minutes(fill, made.lines, 0.0).value
    return replace(made, left=left, fill_m=fill, fill_minutes=minutes)


def _filling(
    document: Document, stand: Stand, soil: BedSoil, readings: Readings, library: Library
) -> tuple[Figure, float]:
    """The share of its water that a bed has before planting, and the net depth that fills it."""
    left = _left(document, stand, soil, readings, library)
    soil_m = library.parameter("water_planting_soil", "m").value
    deep = max(stand.water.root_depth_m[0] / 2, soil_m)
    held = soil.layers.available_m(soil.layers.roots_m(deep))
    return left, float(filling_depth(held, left.value))


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
