"""A crop as the water balance knows it: when it stands, its stages, roots and coefficients."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from bedwright.climate.record import FloatArray
from bedwright.garden import Document
from bedwright.planning.findings import Finding, finding
from bedwright.planning.second_crops import bed_wants
from bedwright.planning.timing_model import DateOutlook, GardenDates, WantDates
from bedwright.planning.watering.ground import BedSoil
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
    ground is wetted every day or two (fao_56 p. 144).
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
        crop = self.water
        middle, end = (
            float(adjust(kcb, wind_m_s, humidity_min_percent, crop.height_m))
            for adjust, kcb in ((climate_adjusted, crop.kcb[1]), (end_adjusted, crop.kcb[2]))
        )
        weather = SeasonWeather(et0_m, rain_m, wind_m_s, humidity_min_percent)
        numbers = np.arange(len(et0_m), dtype=np.float64)
        plants = replace(plants_of(crop, middle, end), ceiling_base=self.ceiling_base)
        return crop_days(numbers, self.stages, plants, soil.layers, weather)


def stands_of(
    document: Document, dates: GardenDates, library: Library
) -> tuple[list[Stand], list[Finding]]:
    """Every planting of the garden that has a date and coefficients, and what is left out.

    Parameters
    ----------
    document : with its wants
    dates : of the wants
    library : the tables
    """
    said: list[Finding] = []
    found = []
    by_want = {each.want: each for each in dates.wants}
    for each in bed_wants(document):
        key = document.key("want", each.at, "crop")
        name = library.crop(key)["name"]
        planned = None if each.at not in by_want else _chosen(by_want[each.at])
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
        gap = library.parameter(f"run_gap_{'prone' if prone else 'other'}_crop", "day").value
        often = "_often_wetted" if gap <= _OFTEN_DAYS else ""
        start = each.want.set_out or planned.on
        days = max(round(planned.last_harvest.mean) + 1, _LEAST_DAYS)
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
                stages=_stages(planned, days, water),
                water=water,
                gap_days=gap,
                prone=prone,
                ceiling_base=library.parameter(f"kc_max_base{often}", "-").value,
            )
        )
    return found, said


def _chosen(dates: WantDates) -> DateOutlook | None:
    """The planting that the plan goes by: the gardener's own date, else the best one."""
    if dates.stated is not None:
        return dates.stated.chosen
    turns = [each for each in dates.turns if dates.asked in (None, each.turn)]
    return next((each.best.chosen for each in turns if each.best is not None), None)


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
