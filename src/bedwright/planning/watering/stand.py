"""A crop as the water balance knows it: when it stands, its stages, roots and coefficients."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from bedwright.climate.record import FloatArray
from bedwright.garden import Document
from bedwright.planning.findings import Finding, finding
from bedwright.planning.layout.plantings import Grounds
from bedwright.planning.second_crops import bed_wants
from bedwright.planning.timing_model import DateOutlook, GardenDates
from bedwright.planning.watering.ground import BedSoil
from bedwright.planning.watering.mulch import Cover, mulch_of, mulched_phases
from bedwright.planning.watering.phases import Phase
from bedwright.planning.watering.shared_bed import (
    Companion,
    CropDays,
    companion_of,
    height_by_day,
    shared_days,
)
from bedwright.reference import Library
from bedwright.water.beds import BedDays
from bedwright.water.coefficients import Stages, climate_adjusted, end_adjusted
from bedwright.water.crop_water import (
    CropWater,
    SeasonWeather,
    crop_days,
    crop_water,
    plants_of,
)

_PRONE = frozenset({"Solanaceae", "Cucurbitaceae"})  # fruit that rots at the end or cracks
_USUAL_SHARES = (0.2, 0.5, 0.8)  # of a season without tabled stages: judgement
_LEAST_DAYS = 14
_OFTEN_DAYS = 2


@dataclass(frozen=True, eq=False)
class Stand:
    """One crop on one bed: from ``start`` for ``days``, the last picking included.

    ``stages`` count days from the start; ``emergence`` is the days until seedlings show, 0 where
    set out; ``gap_days`` the longest between runs that the crop should see; ``prone`` tells fruit
    prone to blossom-end rot or cracking; ``ceiling_base`` the base of Kc max, less where the
    ground is wetted every day or two (fao_56 p. 144). A ``companion`` stands between its rows, and
    with it until the later of the two is out; a ``mulch`` lies over part of its days. ``share`` is
    the part of the bed that it has [-].
    """

    bed: str
    want: int
    crop: str
    name: str
    start: date
    days: int
    started: str
    emergence: int
    stages: Stages
    water: CropWater
    gap_days: float
    prone: bool
    ceiling_base: float
    companion: Companion | None = None
    mulch: Cover | None = None
    share: float = 1.0

    @property
    def depletion_share(self) -> float:
        """Share of their water that the roots may lack at no cost to any crop of the bed [-]."""
        own = self.water.depletion_share
        return own if self.companion is None else min(own, self.companion.water.depletion_share)

    @property
    def end(self) -> date:
        """The first day on which it no longer stands."""
        return self.start + timedelta(days=self.days)

    def stands_on(self, day: date) -> bool:
        """Whether it stands on a day."""
        return self.start <= day < self.end

    def bed_days(
        self,
        soil: BedSoil,
        et0_m: FloatArray,
        rain_m: FloatArray,
        wind_m_s: float,
        humidity_min_percent: float,
    ) -> BedDays:
        """The days of a balance from the start on, (days, years) as the weather is.

        Parameters
        ----------
        soil : of the bed
        et0_m, rain_m : of the days [m], (days, years)
        wind_m_s, humidity_min_percent : means of the season
        """
        weather = SeasonWeather(et0_m, rain_m, wind_m_s, humidity_min_percent)
        found = self._alone(self.water, self.stages, soil, weather)
        if self.companion is not None:
            second = self.companion
            count = len(et0_m)
            other = self._alone(second.water, second.stages, soil, weather)
            found = shared_days(
                CropDays(found, height_by_day(self.stages, self.water, count),
                         round(float(np.max(self.stages.late_end)))),
                CropDays(other, height_by_day(second.stages, second.water, count), second.days),
                second.share,
            )  # fmt: skip
        if self.mulch is not None:
            lies = self.mulch.on_days(len(et0_m))[:, np.newaxis]
            left = 1 - (1 - self.mulch.basal.value) * lies
            found = replace(found, basal=found.basal * left)
        return found

    def _alone(
        self, crop: CropWater, stages: Stages, soil: BedSoil, weather: SeasonWeather
    ) -> BedDays:
        middle, end = (
            float(adjust(kcb, weather.wind_m_s, weather.humidity_min_percent, crop.height_m))
            for adjust, kcb in ((climate_adjusted, crop.kcb[1]), (end_adjusted, crop.kcb[2]))
        )
        numbers = np.arange(len(weather.et0_m), dtype=np.float64)
        plants = replace(plants_of(crop, middle, end), ceiling_base=self.ceiling_base)
        return crop_days(numbers, stages, plants, soil.layers, weather)

    def phases(self, soil: BedSoil, wetted_share: float, *, drip: bool) -> tuple[Phase, ...]:
        """The ground through the season, with its mulch where one lies.

        Parameters
        ----------
        soil : of the bed
        wetted_share : of the bed by its lines [-]
        drip : whether lines lie under the plants
        """
        bare = soil.ground(self.depletion_share, wetted_share, drip=drip)
        return tuple(mulched_phases(bare, self.mulch, self.days))


def stands_of(
    document: Document, dates: GardenDates, library: Library, grounds: Grounds
) -> tuple[list[Stand], list[Finding]]:
    """Every planting of the garden that has a date and coefficients, and what is left out.

    Parameters
    ----------
    document : with its wants
    dates : of the wants
    library : the tables
    grounds : the garden as its layouts see it, for crops that share a bed
    """
    said: list[Finding] = []
    found = []
    laid = {(bed, each.at): each for bed, plantings in grounds.plantings.items()
            for each in plantings}  # fmt: skip
    by_want = {each.want: each for each in dates.wants}
    areas = {bed.id: bed.area_m2 for bed in document.garden.bed}
    for each in bed_wants(document):
        key = document.key("want", each.at, "crop")
        name = library.crop(key)["name"]
        planned = None if each.at not in by_want else by_want[each.at].taken
        if planned is None or planned.last_harvest is None:
            said.append(finding("stand_not_dated", "doubt", bed=each.bed.id, crop=name.lower()))
            continue
        trellised = "trellised" if _trellised(document, each.at) else ""
        try:
            water = crop_water(library.rows("crop_water"), key, trellised)
        except LookupError:
            said.append(finding("crop_without_water", "doubt", bed=each.bed.id, crop=name.lower()))
            continue
        if water.stage_shares is None:
            said.append(finding("stages_by_judgement", "assumed", crop=name.lower()))
            water = replace(water, stage_shares=_USUAL_SHARES)
        row = library.crop(key)
        prone = row["kind"] == "fruiting" and row["family"] in _PRONE
        start = each.want.set_out or planned.on
        days = max(round(planned.last_harvest.mean) + 1, _LEAST_DAYS)
        stages = _stages(planned, days, water)
        second, about = companion_of(laid.get((each.bed.id, each.at)), start, library)
        said += about
        if second is not None:
            other = library.crop(second.crop)
            prone = prone or (other["kind"] == "fruiting" and other["family"] in _PRONE)
            days = max(days, second.days)
        mulch = mulch_of(document, each.bed, each.want, start, days, library)
        said += () if mulch is None else mulch.findings
        gap = library.parameter(f"run_gap_{'prone' if prone else 'other'}_crop", "day").value
        often = "_often_wetted" if gap <= _OFTEN_DAYS else ""
        emergence = 0 if planned.emergence is None else round(planned.emergence.mean)
        found.append(
            Stand(
                bed=each.bed.id,
                want=each.at,
                crop=key,
                name=name,
                start=start,
                days=days,
                started=by_want[each.at].start,
                emergence=emergence,
                stages=stages,
                water=water,
                gap_days=gap,
                prone=prone,
                ceiling_base=library.parameter(f"kc_max_base{often}", "-").value,
                companion=second,
                mulch=mulch,
                share=each.bed.area_m2 / areas[each.bed.id],
            )
        )
    return found, said


def _trellised(document: Document, at: int) -> bool:
    own = document.cultivar("want", at, "crop")
    return own is not None and own.trellis in ("trellis", "stake")


def _stages(planned: DateOutlook, days: int, water: CropWater) -> Stages:
    """Stages by the crop's own dates: full cover with the first flower where it flowers for
    fruit (fao_56 p. 96), else by the table's share of its season; the other stages in proportion.
    """
    assert water.stage_shares is not None
    first, full, turn = water.stage_shares
    cover = full * days
    if planned.first_flower is not None:
        cover = min(planned.first_flower.mean, turn * days)
    return Stages(first / full * cover, cover, max(turn * days, cover), float(days))
